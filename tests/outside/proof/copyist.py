"""Copies every part out of a score, as a careful copyist does, straight from the MusicXML.

Knows nothing of rastrum. Each part of the score becomes a file of its own: what stands over any staff for everybody
(tempo, rehearsal marks, jumps, fermatas, repeats, double bars) is copied in, rests are gathered into multi-bar rests
up to the next landmark, some parts are written for another transposition, cues lead to entries after long rests, and
systems begin elsewhere.

usage: copyist.py OUT_FOLDER SCORE.mxl...      writes OUT_FOLDER/<work>/<nn name>.musicxml
"""

import copy
import random
import re
import sys
import xml.etree.ElementTree as ET
import zipfile
from fractions import Fraction
from pathlib import Path

STEPS = "CDEFGAB"
NATURAL = [0, 2, 4, 5, 7, 9, 11]
# Words that concern the whole orchestra though the file gives them no playback tempo.
EVERYBODY = re.compile(
    r"^\(?(poco a poco |poco |molto |un poco |un peu |quasi )?"
    r"(rit\b|rit\.|ritard|ritenuto|riten\b|rall|accel|string|allarg|a tempo|in tempo|tempo (i\b|1|primo)|"
    r"più (animato|mosso|tranquillo|lento)|cédez|serrez|animez|1 er +mouv)",
    re.I,
)
JUMPS = re.compile(r"^((rondo|m\.) ?)?(d\. ?c\.|d\. ?s\.|da capo|fine\b|attacca|segue subito)", re.I)
PAUSE = re.compile(r"^(g\. ?p\.|general ?pause|generalpause)$", re.I)


def read(path):
    with zipfile.ZipFile(path) as packed:
        container = ET.fromstring(packed.read("META-INF/container.xml"))
        name = next(e.get("full-path") for e in container.iter() if e.tag.endswith("rootfile"))
        return ET.fromstring(packed.read(name))


def text(node, path, default=""):
    return (node.findtext(path) or default).strip()


class Timed:
    """Children of a measure with their onset in quarters."""

    def __init__(self, measure, divisions):
        self.items, self.divisions = [], divisions
        now, last = Fraction(0), Fraction(0)
        self.length = Fraction(0)
        for child in measure:
            if child.tag == "attributes" and child.find("divisions") is not None:
                self.divisions = int(text(child, "divisions"))
            length = Fraction(text(child, "duration", "0") or 0) / self.divisions if child.tag in ("note", "backup", "forward") else 0
            at = now
            if child.tag == "note":
                if child.find("chord") is not None:
                    at = last
                elif child.find("grace") is None:
                    last, now = now, now + length
            elif child.tag == "backup":
                now -= length
            elif child.tag == "forward":
                now += length
            elif child.tag == "direction" and child.find("offset") is not None:
                at = now + Fraction(text(child, "offset")) / self.divisions
            self.items.append((at, length, child))
            self.length = max(self.length, now)


def rank(child):
    """What a direction says to everybody, or None."""
    if child.tag != "direction":
        return None
    words = " ".join(e.text or "" for e in child.iter("words")).strip()
    rehearsal = [e.text for e in child.iter("rehearsal")]
    if rehearsal:
        return ("rehearsal", rehearsal[0])
    if child.find(".//segno") is not None or child.find(".//coda") is not None:
        return ("sign", "segno" if child.find(".//segno") is not None else "coda")
    metronome = child.find(".//metronome")
    if metronome is not None and metronome.get("print-object") != "no":
        return ("tempo", words, "".join(metronome.itertext()).split().__repr__())
    sound = child.find("sound")
    if words and (sound is not None and sound.get("tempo") or EVERYBODY.match(words)):
        return ("tempo", words, "")
    if words and (JUMPS.match(words) or PAUSE.match(words)):
        return ("jump", words)
    return None


def is_silent(measure):
    return all(n.find("rest") is not None or n.get("print-object") == "no" for n in measure.iter("note"))


def moved(pitch, steps, half_tones):
    """A pitch element up by an interval."""
    step, octave = STEPS.index(text(pitch, "step")), int(text(pitch, "octave"))
    alter = Fraction(text(pitch, "alter", "0"))
    height = octave * 12 + NATURAL[step] + alter + half_tones
    place = octave * 7 + step + steps
    alter = height - (place // 7 * 12 + NATURAL[place % 7])
    while abs(alter) > 2:
        place += 1 if alter > 0 else -1
        alter = height - (place // 7 * 12 + NATURAL[place % 7])
    pitch.find("step").text = STEPS[place % 7]
    pitch.find("octave").text = str(place // 7)
    old = pitch.find("alter")
    if old is not None:
        pitch.remove(old)
    if alter:
        node = ET.Element("alter")
        node.text = str(alter) if alter.denominator == 1 else str(float(alter))
        pitch.insert(1, node)


class Work:
    def __init__(self, path):
        self.root = read(path)
        self.parts = self.root.findall("part")
        self.heads = {e.get("id"): e for e in self.root.find("part-list").findall("score-part")}
        self.bars = [part.findall("measure") for part in self.parts]
        self.timed = []
        for measures in self.bars:
            divisions, own = 1, []
            for measure in measures:
                timed = Timed(measure, divisions)
                divisions = timed.divisions
                own.append(timed)
            self.timed.append(own)
        self.overhead = [self.of_bar(n) for n in range(len(self.bars[0]))]

    def of_bar(self, n):
        """What stands in bar n for everybody: directions with their onset, the last fermata, barlines."""
        marks, fermata, barlines = {}, None, {}
        for own in self.timed:
            for at, length, child in own[n].items:
                said = rank(child)
                if said and said not in marks:
                    marks[said] = (at, child)
                if child.tag == "note" and child.find("notations/fermata") is not None:
                    fermata = at if fermata is None else max(fermata, at)
                if child.tag == "barline" and child.get("location", "right") != "middle":
                    side = child.get("location", "right")
                    best = barlines.get(side)
                    if best is None or len(list(child.iter())) > len(list(best.iter())):
                        barlines[side] = child
        return marks, fermata, barlines

    def begins(self, n):
        """Whether a player counts anew in bar n."""
        if n == 0:
            return True
        marks, _, barlines = self.overhead[n]
        before = self.overhead[n - 1][2].get("right")
        double = lambda line: line is not None and (
            text(line, "bar-style") in ("light-light", "heavy-heavy", "light-heavy") or line.find("repeat") is not None
            or line.find("ending") is not None
        )
        changes = any(m.find("attributes/time") is not None for m in (own[n] for own in self.bars))
        return bool(marks) or double(barlines.get("left")) or double(before) or changes


class Copy:
    """One part, bar by bar."""

    def __init__(self, work, index, luck):
        self.work, self.index, self.luck = work, index, luck
        self.head = work.heads[work.parts[index].get("id")]
        self.bars = [copy.deepcopy(measure) for measure in work.bars[index]]
        self.divisions = [timed.divisions for timed in work.timed[index]]

    def make(self):
        for n, measure in enumerate(self.bars):
            for old in measure.findall("print"):
                measure.remove(old)
            measure.attrib.pop("width", None)
            for note in measure.iter("note"):
                for name in ("default-x", "default-y", "relative-x", "relative-y"):
                    note.attrib.pop(name, None)
            self.copy_marks(n, measure)
            self.copy_fermata(n, measure)
            self.copy_barlines(n, measure)
        self.rewrite()
        self.cue()
        self.gather()
        self.recast()
        return self

    def copy_marks(self, n, measure):
        own = {rank(child) for child in measure}
        place = next((i for i, child in enumerate(measure) if child.tag not in ("print", "attributes", "barline")), len(measure))
        for said, (at, mark) in self.work.overhead[n][0].items():
            if said in own:
                continue
            mark = copy.deepcopy(mark)
            for name in ("staff", "offset", "voice"):
                for old in mark.findall(name):
                    mark.remove(old)
            if at:
                offset = ET.Element("offset")
                offset.text = str(round(at * self.divisions[n]))
                after = max(i for i, child in enumerate(mark) if child.tag == "direction-type")
                mark.insert(after + 1, offset)
            measure.insert(place, mark)
            place += 1

    def copy_fermata(self, n, measure):
        at = self.work.overhead[n][1]
        if at is None or measure.find("note/notations/fermata") is not None:
            return
        best = None
        for onset, length, child in Timed(measure, self.divisions[n]).items:
            if child.tag == "note" and child.find("grace") is None and child.find("chord") is None and onset <= at:
                if best is None or onset >= best[0]:
                    best = (onset, child)
        if best is not None:
            note = best[1]
            notations = note.find("notations")
            if notations is None:
                notations = ET.Element("notations")
                after = [i for i, child in enumerate(note) if child.tag not in ("lyric", "play")]
                note.insert(after[-1] + 1, notations)
            ET.SubElement(notations, "fermata", {"type": "upright"})

    def copy_barlines(self, n, measure):
        for side, line in self.work.overhead[n][2].items():
            for old in measure.findall("barline"):
                if old.get("location", "right") == side:
                    measure.remove(old)
            if side == "left":
                after = [i for i, child in enumerate(measure) if child.tag in ("print", "attributes")]
                measure.insert(after[0] if after else 0, copy.deepcopy(line))
            else:
                measure.append(copy.deepcopy(line))

    def pitched(self):
        return any(True for measure in self.bars for _ in measure.iter("pitch"))

    def rewrite(self):
        """Every third part is written for an instrument in another key."""
        if self.index % 3 != 1 or not self.pitched():
            return
        transposes = [e for measure in self.bars for e in measure.iter("transpose")]
        if len({ET.tostring(e).strip() for e in transposes}) > 1:
            return
        if transposes:
            # To concert pitch.
            steps, half_tones = int(text(transposes[0], "diatonic", "0")), int(text(transposes[0], "chromatic", "0"))
            if text(transposes[0], "octave-change"):
                return
            for attributes in (e for measure in self.bars for e in measure.findall("attributes")):
                for old in attributes.findall("transpose"):
                    attributes.remove(old)
        else:
            # For an instrument in B flat: everything a tone higher.
            steps, half_tones = 1, 2
            first = self.bars[0].find("attributes")
            node = ET.Element("transpose")
            ET.SubElement(node, "diatonic").text = "-1"
            ET.SubElement(node, "chromatic").text = "-2"
            last = max(
                i for i, e in enumerate(first)
                if e.tag in ("divisions", "key", "time", "staves", "part-symbol", "instruments", "clef", "staff-details")
            )
            first.insert(last + 1, node)
        fifths = 7 * half_tones - 12 * steps
        for measure in self.bars:
            for pitch in measure.iter("pitch"):
                moved(pitch, steps, half_tones)
            for key in measure.iter("fifths"):
                key.text = str(int(key.text) + fifths)
            for note in measure.iter("note"):
                for old in note.findall("accidental"):
                    note.remove(old)

    def transposition(self):
        node = next((e for measure in self.bars for e in measure.iter("transpose")), None)
        if node is None:
            return 0, 0
        octaves = int(text(node, "octave-change", "0"))
        return int(text(node, "diatonic", "0")) + 7 * octaves, int(text(node, "chromatic", "0")) + 12 * octaves

    def cue(self):
        """Small notes of another part in the two bars before the entry, after eight bars' rest or more."""
        if self.head_is_percussion() or len({ET.tostring(e).strip() for m in self.bars for e in m.iter("transpose")}) > 1:
            return
        made = 0
        for n in range(10, len(self.bars)):
            silent = all(is_silent(self.bars[k]) for k in range(n - 10, n)) and not is_silent(self.bars[n])
            if not silent or made == 2 or self.bars[n].find(".//staves") is not None:
                continue
            source = self.source(n)
            paused = any(self.bars[k].find("note/notations/fermata") is not None for k in (n - 2, n - 1))
            if source is None or paused:
                continue
            for k in (n - 2, n - 1):
                self.copy_cue(source, k)
            made += 1

    def head_is_percussion(self):
        return not self.pitched() or any(m.find("attributes/staves") is not None for m in self.bars)

    def source(self, n):
        """A part with one voice on one staff and plain notes in both bars before n."""
        for other, bars in enumerate(self.work.bars):
            if other == self.index:
                continue
            transposes = {ET.tostring(e).strip() for m in bars for e in m.iter("transpose")}
            if len(transposes) > 1:
                continue
            def plain(measure):
                notes = measure.findall("note")
                return (
                    sum(1 for note in notes if note.find("pitch") is not None) >= 3
                    and all(note.find("grace") is None and note.find("chord") is None for note in notes)
                    and len({text(note, "voice", "1") for note in notes}) == 1
                    and measure.find("backup") is None and measure.find("forward") is None
                    and all(text(note, "staff", "1") == "1" for note in notes)
                )
            if plain(bars[n - 2]) and plain(bars[n - 1]):
                return other
        return None

    def copy_cue(self, other, n):
        theirs = self.work.bars[other]
        node = next((e for measure in theirs for e in measure.iter("transpose")), None)
        steps, half_tones = 0, 0
        if node is not None:
            octaves = int(text(node, "octave-change", "0"))
            steps, half_tones = int(text(node, "diatonic", "0")) + 7 * octaves, int(text(node, "chromatic", "0")) + 12 * octaves
        own = self.transposition()
        scale = Fraction(self.divisions[n], self.work.timed[other][n].divisions)
        small = []
        for note in theirs[n].findall("note"):
            if (Fraction(text(note, "duration")) * scale).denominator != 1:
                return
            new = ET.Element("note")
            if note.find("rest") is None:
                ET.SubElement(new, "cue")
                pitch = copy.deepcopy(note.find("pitch"))
                moved(pitch, steps - own[0], half_tones - own[1])
                new.append(pitch)
            else:
                ET.SubElement(new, "rest")
            ET.SubElement(new, "duration").text = str(Fraction(text(note, "duration")) * scale)
            ET.SubElement(new, "voice").text = "1"
            for name in ("type", "dot", "time-modification"):
                new.extend(copy.deepcopy(e) for e in note.findall(name))
            small.append(new)
        measure = self.bars[n]
        at = list(measure).index(measure.find("note"))
        for old in measure.findall("note") + measure.findall("backup") + measure.findall("forward"):
            measure.remove(old)
        for new in reversed(small):
            measure.insert(at, new)

    def gather(self):
        """Multi-bar rests."""
        n = 0
        while n < len(self.bars):
            end = n
            while end < len(self.bars) and self.rests(end) and (end == n or not (self.work.begins(end) or self.says(end))):
                end += 1
            if end - n > 1:
                attributes = self.bars[n].find("attributes")
                if attributes is None:
                    attributes = ET.Element("attributes")
                    first = 1 if len(self.bars[n]) and self.bars[n][0].tag == "barline" else 0
                    self.bars[n].insert(first, attributes)
                style = ET.SubElement(attributes, "measure-style")
                ET.SubElement(style, "multiple-rest").text = str(end - n)
            n = max(end, n + 1)

    def rests(self, n):
        measure = self.bars[n]
        return is_silent(measure) and measure.find("note/notations/fermata") is None

    def says(self, n):
        measure = self.bars[n]
        return (
            measure.find("direction") is not None
            or measure.find("attributes/key") is not None
            or measure.find("attributes/clef") is not None
            or measure.find("attributes/time") is not None
        )

    def recast(self):
        n = self.luck.randint(3, 6)
        while n < len(self.bars):
            new = {"new-page": "yes"} if self.luck.random() < 0.1 else {"new-system": "yes"}
            self.bars[n].insert(0, ET.Element("print", new))
            n += self.luck.randint(3, 7)

    def text(self):
        root = ET.Element("score-partwise", {"version": "4.0"})
        defaults = self.work.root.find("defaults")
        if defaults is not None:
            root.append(defaults)
        listed = ET.SubElement(root, "part-list")
        listed.append(self.head)
        part = ET.SubElement(root, "part", {"id": self.head.get("id")})
        part.extend(self.bars)
        return ET.tostring(root, encoding="unicode")

    def name(self):
        plain = re.sub(r"[^\w .-]+", " ", text(self.head, "part-name", "part")).strip() or "part"
        return f"{self.index + 1:02} {' '.join(plain.split())}.musicxml"


def main(out, scores):
    for path in map(Path, scores):
        work_name = path.stem if path.stem != "score" else path.parent.name
        work = Work(path)
        folder = Path(out) / work_name
        folder.mkdir(parents=True, exist_ok=True)
        for index in range(len(work.parts)):
            made = Copy(work, index, random.Random(f"{work_name} {index}")).make()
            (folder / made.name()).write_text(made.text(), encoding="utf-8")
        print(work_name, len(work.parts), "parts")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
