"""Damaged files: whatever expat (an XML parser that rastrum does not use) rejects must exit 2, and so must every file cut short.

usage: refused.py RASTRUM FILE.mxl...       Damage is made from a fixed seed; files that stay well-formed are not judged.
"""

import pathlib
import random
import subprocess
import sys
import tempfile
import zipfile
from concurrent.futures import ThreadPoolExecutor
from xml.parsers import expat

CUTS, CHANGES = 20, 40


def music(path):
    with zipfile.ZipFile(path) as archive:
        name = next(n for n in archive.namelist() if not n.startswith("META-INF") and n.endswith(("xml", "musicxml")))
        return archive.read(name)


def damaged(text, rng):
    for _ in range(CUTS):
        yield "cut", text[: rng.randrange(1, len(text.rstrip()))]
    for _ in range(CHANGES):
        at = rng.randrange(len(text))
        how = rng.randrange(3)
        piece = bytes([rng.choice(b'<>&"/\x00\xff= x')])
        yield "change", text[:at] + (b"" if how == 0 else piece) + text[at + (how != 2):]


def rejected(text):
    try:
        expat.ParserCreate().Parse(text, True)
        return False
    except expat.ExpatError:
        return True


def main():
    rastrum, *paths = sys.argv[1:]
    rng = random.Random(68)
    cases = [(path, kind, text) for path in paths for kind, text in damaged(music(path), rng)]
    cases = [case for case in cases if rejected(case[2])]

    with tempfile.TemporaryDirectory() as folder:

        def run(numbered):
            at, (path, kind, text) = numbered
            score = pathlib.Path(folder) / f"{at}.musicxml"
            score.write_bytes(text)
            out = score.with_suffix(".json")
            done = subprocess.run([rastrum, "check", score, "--json", out], capture_output=True, text=True)
            clean = done.returncode == 2 and "error:" in done.stderr and not out.exists()
            score.unlink()
            return None if clean else (path, kind, done.returncode, done.stderr[:200])

        with ThreadPoolExecutor(2) as pool:
            wrong = [result for result in pool.map(run, enumerate(cases)) if result]
    for row in wrong:
        print("NOT REFUSED", row)
    cut = sum(kind == "cut" for _, kind, _ in cases)
    print(f"{len(cases) - len(wrong)} of {len(cases)} damaged files refused, {cut} of them cut short")
    if wrong or cut < CUTS * len(paths):
        sys.exit(1)


if __name__ == "__main__":
    main()
