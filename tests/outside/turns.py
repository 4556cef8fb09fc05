"""Silence before and after each proposed turn, by rastrum and by the notes as music21 reads them.

usage: turns.py RASTRUM SCORE...        Seconds of bars are rastrum's; what stands in them is music21's.
"""
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import music21

CLOSE = 0.02


def run(rastrum, command, score, out):
    out.unlink(missing_ok=True)
    done = subprocess.run([rastrum, command, score, "--json", out], capture_output=True, text=True)
    if done.returncode > 1:
        sys.exit(f"{score}: {done.stderr}")
    return json.loads(out.read_text())


def sounding(measure):
    """Onsets and ends of all notes, as shares of the bar."""
    length = measure.barDuration.quarterLength
    notes = [note for note in measure.recurse().notes if not note.duration.isGrace]
    spans = [(n.getOffsetInHierarchy(measure), n.getOffsetInHierarchy(measure) + n.quarterLength) for n in notes]
    return [(float(start / length), float(min(end, length) / length)) for start, end in spans]


def silence(measures, seconds, after):
    before = 0.0
    for bar in range(after, -1, -1):
        spans = sounding(measures[bar])
        if spans:
            before += (1 - max(end for _, end in spans)) * seconds[bar]
            break
        before += seconds[bar]
    behind = 0.0
    for bar in range(after + 1, len(measures)):
        spans = sounding(measures[bar])
        if spans:
            behind += min(start for start, _ in spans) * seconds[bar]
            break
        behind += seconds[bar]
    return before, behind


def main():
    rastrum, *scores = sys.argv[1:]
    compared = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for score in scores:
            parts = run(rastrum, "parts", score, Path(folder) / "p.json")["parts"]
            seconds = [bar["seconds"] for bar in run(rastrum, "check", score, Path(folder) / "c.json")["score"]["bars"]]
            parsed = music21.converter.parse(score, forceSource=True).parts
            if len(parsed) != len(parts):
                print(f"{score}: staves and parts are not one for one; left out")
                continue
            for part, theirs in zip(parts, parsed):
                measures = list(theirs.getElementsByClass("Measure"))
                for turn in part["turns"] + part["greedy"]["turns"]:
                    own = (turn["silent_before_s"], turn["silent_after_s"])
                    other = silence(measures, seconds, turn["after_bar_index"])
                    compared += 1
                    if any(abs(a - b) > CLOSE for a, b in zip(own, other)):
                        wrong += 1
                        print(f"{score}: {part['name']} after {turn['after_bar_label']}: {own}, by music21 {other}")
    print(f"silence agrees at {compared - wrong} of {compared} turns")
    sys.exit(1 if wrong or not compared else 0)


main()
