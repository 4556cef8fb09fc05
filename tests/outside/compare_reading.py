"""Holds what rastrum read against what music21 read, file by file.

usage: compare_reading.py RASTRUM REVIEWED.csv FOLDER... (each file below the folders ending in .mxl, .musicxml, .xml)

Compared: number of parts, bars, note elements of each part, the length of each bar and of the whole in quarters.
A disagreement must stand in REVIEWED.csv (file, bar or "-", what, reason), looked at by a person; one that does
not stand there, or a row there that no longer disagrees, fails. At most two files in a hundred may stand there.
"""

import csv
import json
import os
import pathlib
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction

HERE = pathlib.Path(__file__).parent
ENDINGS = {".mxl", ".musicxml", ".xml"}


def main():
    rastrum, reviewed_path, *folders = sys.argv[1:]
    files = {}
    for folder in map(pathlib.Path, folders):
        for path in sorted(folder.rglob("*")):
            if path.suffix in ENDINGS and "schema" not in path.parts and is_music(path):
                files[str(path)] = path.relative_to(folder).as_posix()
    reviewed = set()
    with open(reviewed_path, newline="") as rows:
        for row in csv.DictReader(rows):
            reviewed.add((row["file"], row["what"]))
    other = run_music21(list(files))
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        ours = dict(zip(files, pool.map(lambda path: read(rastrum, path), files)))
    found, notes = set(), 0
    for path, name in files.items():
        for what, detail in differences(ours[path], other[path]):
            found.add((name, what))
            if (name, what) not in reviewed:
                print(f"NOT REVIEWED {name}: {what}: {detail}")
        notes += (ours[path] or {}).get("score", {}).get("note_elements", 0)
    names = set(files.values())
    stale = {row for row in reviewed if row[0] in names and row not in found}
    for row in sorted(stale):
        print(f"NO LONGER SO {row}")
    differing = {name for name, _ in found}
    share = len(differing) / max(1, len(files))
    print(f"music21 agrees on {len(files) - len(differing)} of {len(files)} files, {notes} note elements; "
          f"{len(differing)} reviewed ({share:.1%})")
    if found - reviewed or stale or share > 0.02 or not files:
        sys.exit(1)


def is_music(path):
    """Plain XML that is not a score (catalogues, schemas) is left out; compressed files are all scores."""
    if path.suffix == ".mxl":
        return True
    head = path.read_bytes()[:4000]
    return b"score-partwise" in head or b"score-timewise" in head


def run_music21(files):
    answer = subprocess.run([sys.executable, HERE / "music21_reads.py"], input="\n".join(files), text=True,
                            stdout=subprocess.PIPE, check=True)
    rows = [json.loads(line) for line in answer.stdout.splitlines()]
    return {row["file"]: row for row in rows}


def read(rastrum, path):
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "r.json"
        done = subprocess.run([rastrum, "check", path, "--json", out], capture_output=True, text=True)
        if done.returncode == 2:
            return {"error": done.stderr.strip()}
        return json.loads(out.read_text())


def differences(ours, other):
    if "error" in ours or "error" in other:
        if "error" in ours and "error" in other:
            return
        yield ("refused by rastrum" if "error" in ours else "refused by music21"), ours.get("error") or other["error"]
        return
    score = ours["score"]
    counts = [part["note_elements"] for part in score["parts"]]
    if len(counts) != other["parts"]:
        yield "parts", f"{len(counts)} | {other['parts']}"
    elif counts != other["notes"]:
        yield "notes", [(at, a, b) for at, (a, b) in enumerate(zip(counts, other["notes"])) if a != b]
    if score["bar_count"] != other["bars"]:
        yield "bars", f"{score['bar_count']} | {other['bars']}"
        return
    lengths = [Fraction(bar["quarters"]) for bar in score["bars"]]
    theirs = [Fraction(quarters) for quarters in other["quarters"]]
    if lengths != theirs:
        wrong = [(at, str(a), str(b)) for at, (a, b) in enumerate(zip(lengths, theirs)) if a != b]
        yield "lengths", wrong[:8]


if __name__ == "__main__":
    main()
