"""Reads MusicXML files with music21 and prints what it counted, one JSON line a file.

music21 is a general-purpose musicology library (PyPI). It knows nothing of rastrum; compare_reading.py holds
its counts against rastrum's.

Per file: parts, bars, for each part the note elements (notes, members of chords, rests, grace notes) that it
kept, and the length of each bar in quarters (the longest over all parts).
"""

import json
import multiprocessing
import sys
import warnings

import music21

warnings.simplefilter("ignore")


def forward(parser, element):
    """<forward> moves the place in the bar and is no note; for some files music21 would make hidden rests of it,
    or drop it from a last bar."""
    duration = element.findtext("duration")
    if duration and duration.strip():
        change = music21.common.opFrac(float(duration) / parser.divisions)
        parser.offsetMeasureNote = music21.common.opFrac(parser.offsetMeasureNote + change)
        reached = parser.stream.editorial.get("reached", 0)
        parser.stream.editorial["reached"] = max(reached, parser.offsetMeasureNote)


def parse(parser):
    """A measure without any note is filled with a rest that stands in no file."""
    plain_parse(parser)
    if parser.mxMeasure.find("note") is None:
        parser.stream.editorial["without_notes"] = True


plain_parse = music21.musicxml.xmlToM21.MeasureParser.parse
music21.musicxml.xmlToM21.MeasureParser.parse = parse
music21.musicxml.xmlToM21.MeasureParser.xmlForward = forward

def count(path):
    try:
        score = music21.converter.parse(path, forceSource=True, format="musicxml")
    except Exception as error:  # a file that music21 cannot read is a result, too
        return {"file": path, "error": f"{type(error).__name__}: {error}"}
    # Staves of one instrument (piano, harp) are PartStaff objects of one StaffGroup; rastrum counts the part.
    parts, of_group = [], {}
    for group in score.recurse().getElementsByClass(music21.layout.StaffGroup):
        members = [member for member in group.getSpannedElements()]
        if members and all(isinstance(member, music21.stream.PartStaff) for member in members):
            for member in members:
                of_group[id(member)] = id(group)
    seen = {}
    for part in score.parts:
        key = of_group.get(id(part), id(part))
        if key not in seen:
            seen[key] = len(parts)
            parts.append(0)
        parts[seen[key]] += sum(1 for _ in notes_of(part))
    bars = {}
    numbers = {}
    for part in score.parts:
        for at, measure in enumerate(part.getElementsByClass(music21.stream.Measure)):
            length = music21.common.opFrac(length_of(measure))
            bars[at] = max(bars.get(at, 0), length)
            numbers.setdefault(at, str(measure.measureNumberWithSuffix()))
    return {
        "file": path,
        "parts": len(parts),
        "bars": len(bars),
        "notes": parts,
        "quarters": [str(music21.common.numberTools.Fraction(bars[at]).limit_denominator(1 << 20)) for at in sorted(bars)],
        "numbers": [numbers[at] for at in sorted(numbers)],
    }


def notes_of(part):
    """Every note element that stood in the file: chords count their members, made-up rests do not count."""
    for element in part.recurse().notesAndRests:
        measure = element.getContextByClass(music21.stream.Measure)
        if isinstance(element, music21.harmony.Harmony) or measure.editorial.get("without_notes"):
            continue
        if isinstance(element, (music21.chord.ChordBase,)) and not isinstance(element, music21.note.Unpitched):
            yield from element.notes
        else:
            yield element


def length_of(measure):
    """How far the notes and moves of a measure reach, whatever its metre says."""
    reached = measure.editorial.get("reached", 0)
    if measure.editorial.get("without_notes"):
        return reached
    # Marks may stand beyond the last note.
    for element in measure.recurse().notesAndRests:
        if not isinstance(element, music21.harmony.Harmony):
            reached = max(reached, element.getOffsetInHierarchy(measure) + element.quarterLength)
    return reached


if __name__ == "__main__":
    files = [line.strip() for line in sys.stdin if line.strip()]
    with multiprocessing.Pool() as pool:
        for row in pool.imap(count, files, chunksize=1):
            print(json.dumps(row), flush=True)
