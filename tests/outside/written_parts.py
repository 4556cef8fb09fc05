"""Holds parts that rastrum wrote against the score, both as music21 reads them.

usage: written_parts.py RASTRUM SCORE...

music21 is a general-purpose musicology library (PyPI). Compared for every player who reads one part of the score
alone: each note's bar, onset, length and sounding pitches. Players who share a staff have less than it and are left
out; so are sections drawn from several parts.
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import music21


def main():
    rastrum, *scores = sys.argv[1:]
    compared = wrong = notes = 0
    for score in scores:
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            run = [rastrum, "parts", score, "--json", out / "parts.json", "--write-breaks", out / "written"]
            if subprocess.run(run, stdout=subprocess.DEVNULL).returncode > 1:
                sys.exit(f"{score}: no parts")
            report = json.loads((out / "parts.json").read_text())
            whole = music21.converter.parse(score, forceSource=True)
            lines = [sounding([part]) for part in whole.parts]
            for part in report["parts"]:
                name = part["name"].translate({ord(c): "-" for c in '/\\:*?"<>|'})
                own = sounding(music21.converter.parse(out / "written" / f"{name}.musicxml", forceSource=True).parts)
                if part["player"] is not None or len(part["staves"]) > 1:
                    continue
                compared += 1
                notes += len(own)
                if own not in lines:
                    wrong += 1
                    print(f"DIFFERS {score}: {name}")
    print(f"music21 reads {compared - wrong} of {compared} written parts as in the score, {notes} notes and chords")
    if wrong or not compared:
        sys.exit(1)


def sounding(parts):
    """Bar, onset, length and sounding pitches of every note, sorted."""
    found = []
    for part in parts:
        part = part.toSoundingPitch()
        for at, bar in enumerate(part.getElementsByClass(music21.stream.Measure)):
            for note in bar.recurse().notes:
                if isinstance(note, music21.harmony.Harmony):
                    continue
                pitches = [pitch.ps for pitch in note.pitches]
                found.append((at, float(note.getOffsetInHierarchy(bar)), float(note.quarterLength), sorted(pitches)))
    return sorted(found)


if __name__ == "__main__":
    main()
