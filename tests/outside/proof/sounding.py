"""Every note at the pitch that it sounds at, by rastrum and by music21, part for part.

usage: sounding.py SOUNDING_PROGRAM FILE...

music21 is a general-purpose musicology library (PyPI); what a transposition is comes from MusicXML's own definition.
"""

import json
import subprocess
import sys

import music21


def by_music21(path):
    parts = []
    for part in music21.converter.parse(path, forceSource=True).parts:
        part = part.toSoundingPitch()
        notes = []
        for at, bar in enumerate(part.getElementsByClass(music21.stream.Measure)):
            for note in bar.recurse().notes:
                if not isinstance(note, (music21.harmony.Harmony, music21.note.Unpitched, music21.percussion.PercussionChord)):
                    notes += [[at, pitch.ps] for pitch in note.pitches]
        parts.append(sorted(notes))
    return parts


def main():
    program, *files = sys.argv[1:]
    compared = wrong = notes = 0
    for path in files:
        lines = subprocess.run([program, path], capture_output=True, text=True, check=True).stdout.splitlines()
        ours, theirs = [json.loads(line) for line in lines], by_music21(path)
        if len(ours) != len(theirs):
            # A part of several staves is several parts there.
            ours, theirs = [sorted(sum(ours, []))], [sorted(sum(theirs, []))]
        for own, other in zip(ours, theirs):
            compared += 1
            notes += len(own)
            if own != other:
                wrong += 1
                first = next((pair for pair in zip(own, other) if pair[0] != pair[1]), (len(own), len(other)))
                print(f"DIFFERS {path}: {first}")
    print(f"sounding pitches agree in {compared - wrong} of {compared} parts, {notes} notes")
    sys.exit(1 if wrong or not compared else 0)


main()
