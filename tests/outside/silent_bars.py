"""Bars in which a part has no note, by rastrum's parts and by music21, part for part.

usage: silent_bars.py RASTRUM SCORE...
"""
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import music21


def by_rastrum(rastrum, score, folder):
    out = Path(folder) / "parts.json"
    out.unlink(missing_ok=True)
    run = subprocess.run([rastrum, "parts", score, "--json", out], capture_output=True, text=True)
    if run.returncode > 1:
        sys.exit(f"{score}: {run.stderr}")
    parts = json.loads(out.read_text())["parts"]
    count = lambda rest: rest["last_bar_index"] - rest["first_bar_index"] + 1
    return [(part["name"], len(part["staves"]), sum(map(count, part["rests"]))) for part in parts]


def by_music21(score):
    def plays(measure):
        return any(True for _ in measure.recurse().notes)

    parsed = music21.converter.parse(score, forceSource=True)
    return [sum(not plays(measure) for measure in part.getElementsByClass("Measure")) for part in parsed.parts]


def main():
    rastrum, *scores = sys.argv[1:]
    compared = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for score in scores:
            ours, theirs = by_rastrum(rastrum, score, folder), by_music21(score)
            if any(staves != 1 for _, staves, _ in ours) or len(ours) != len(theirs):
                print(f"{score}: staves and parts are not one for one; left out")
                continue
            for (name, _, own), other in zip(ours, theirs):
                compared += 1
                if own != other:
                    wrong += 1
                    print(f"{score}: {name}: {own} silent bars, {other} by music21")
    print(f"silent bars agree in {compared - wrong} of {compared} parts")
    sys.exit(1 if wrong or not compared else 0)


main()
