"""Seeds faults into copied parts, one per copy, and writes them as edits.

Knows nothing of rastrum. Each line of the output is one fault: the part's file, what was done, the bars it was done in
(counted from 0), and the new text of each bar that changed (none: taken out).

usage: faults.py COPIES_FOLDER OUT.jsonl COUNT
"""

import copy
import json
import random
import re
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

STEPS = "CDEFGAB"
NATURAL = [0, 2, 4, 5, 7, 9, 11]
MEASURE = re.compile(r"<measure .*?</measure>", re.S)


class Bar:
    def __init__(self, text):
        self.text = text
        self.node = ET.fromstring(text)

    def notes(self):
        """Own printed notes with pitch, first of their chords, no grace notes."""
        return [
            n for n in self.node.findall("note")
            if n.find("pitch") is not None and n.find("cue") is None and n.find("grace") is None
            and n.find("chord") is None and n.get("print-object") != "no"
            and n.find("type") is not None and n.find("type").get("size") != "cue"
        ]

    def heads(self):
        return [n for n in self.node.findall("note") if n.find("rest") is None and n.get("print-object") != "no"]

    def own(self):
        return [n for n in self.heads() if n.find("cue") is None and (n.find("type") is None or n.find("type").get("size") != "cue")]

    def is_silent(self):
        return not self.heads()

    def is_plain(self):
        """One voice on one staff."""
        voices = {n.findtext("voice", "1") for n in self.node.findall("note")}
        return len(voices) == 1 and self.node.find("backup") is None and self.node.find("forward") is None

    def print_of(self):
        """What is played, for telling neighbours apart."""
        keep = []
        for n in self.own():
            keep.append((n.findtext("pitch/step"), n.findtext("pitch/octave"), n.findtext("pitch/alter"), n.findtext("duration"), n.find("unpitched/display-step") is not None))
        return keep

    def directions(self, path):
        return [d for d in self.node.findall("direction") if d.find(path) is not None]


class Part:
    def __init__(self, path):
        text = path.read_text(encoding="utf-8")
        self.bars = [Bar(m.group(0)) for m in MEASURE.finditer(text)]
        self.divisions, divisions = [], 1
        self.beats = []
        beat = 4
        for bar in self.bars:
            found = bar.node.findtext("attributes/divisions")
            divisions = int(found) if found else divisions
            beat = int(bar.node.findtext("attributes/time/beat-type") or beat)
            self.divisions.append(divisions)
            self.beats.append(beat)


class Fault:
    """What was done to a part."""

    def __init__(self, first, last=None, also=()):
        self.first, self.last = first, first if last is None else last
        self.edits = {}
        self.also = list(also)

    def put(self, n, node):
        self.edits[n] = ET.tostring(node, encoding="unicode")
        return self


def fresh(part, n):
    return Bar(part.bars[n].text)


def some(luck, items):
    items = list(items)
    return luck.choice(items) if items else None


def bars(part, test):
    return [n for n, bar in enumerate(part.bars) if test(bar)]


def raised(pitch, half_tones):
    step, octave = STEPS.index(pitch.findtext("step")), int(pitch.findtext("octave"))
    height = octave * 12 + NATURAL[step] + float(pitch.findtext("alter") or 0) + half_tones
    for place in range(octave * 7 + step - 8, octave * 7 + step + 9):
        alter = height - (place // 7 * 12 + NATURAL[place % 7])
        if abs(alter) <= 1:
            break
    pitch.find("step").text, pitch.find("octave").text = STEPS[place % 7], str(place // 7)
    for old in pitch.findall("alter"):
        pitch.remove(old)
    if alter:
        node = ET.Element("alter")
        node.text = f"{alter:g}"
        pitch.insert(1, node)


# Bars

def rest_runs(part):
    """Runs of silent bars that a player counts as one."""
    runs, n = [], 0
    while n < len(part.bars):
        count = part.bars[n].node.findtext("attributes/measure-style/multiple-rest")
        if count and int(count) >= 3:
            runs.append((n, n + int(count) - 1))
        n += int(count) if count else 1
    return runs


def take_played_bars(part, luck):
    def good(n, count):
        chosen = range(n, n + count)
        if n == 0 or n + count >= len(part.bars) or any(not part.bars[k].own() for k in chosen):
            return False
        around = [part.bars[k].print_of() for k in range(max(0, n - count - 1), min(len(part.bars), n + 2 * count + 1)) if k not in chosen]
        return all(part.bars[k].print_of() not in around for k in chosen) and not any(has_state(part.bars[k]) for k in chosen)
    count = luck.randint(1, 4)
    n = some(luck, [n for n in range(len(part.bars)) if all(k < len(part.bars) for k in range(n, n + count)) and good(n, count)])
    if n is None:
        return None
    fault = Fault(n, n + count - 1)
    for k in range(n, n + count):
        fault.edits[k] = None
    return fault


def has_state(bar):
    """Clef, key or divisions that later bars rest on."""
    return bar.node.find("attributes") is not None


def put_in_played_bars(part, luck):
    n = some(luck, [
        n for n in range(1, len(part.bars) - 1)
        if part.bars[n].own() and len({str(part.bars[k].print_of()) for k in (n - 1, n, n + 1)}) == 3 and not has_state(part.bars[n])
    ])
    if n is None:
        return None
    other = some(luck, [
        k for k in range(len(part.bars))
        if part.bars[k].own() and not has_state(part.bars[k]) and part.divisions[k] == part.divisions[n]
        and part.bars[k].node.find("direction/direction-type/wedge") is None
        and all(part.bars[k].print_of() != part.bars[j].print_of() for j in range(max(0, n - 3), min(len(part.bars), n + 4)))
    ])
    if other is None:
        return None
    strange = fresh(part, other).node
    for old in strange.findall("barline") + strange.findall("direction") + strange.findall("print"):
        strange.remove(old)
    fault = Fault(n, n)
    fault.edits[n] = part.bars[n].text + ET.tostring(strange, encoding="unicode")
    return fault


def count_fewer(part, luck):
    run = some(luck, [r for r in rest_runs(part) if r[1] - r[0] >= 3])
    if run is None:
        return None
    count = luck.randint(1, min(3, run[1] - run[0] - 1))
    inside = [k for k in range(run[0] + 1, run[1] + 1) if not has_state(part.bars[k]) and part.bars[k].node.find("barline") is None][:count]
    if not inside:
        return None
    fault = Fault(*run)
    bar = fresh(part, run[0])
    bar.node.find("attributes/measure-style/multiple-rest").text = str(run[1] - run[0] + 1 - len(inside))
    fault.put(run[0], bar.node)
    for k in inside:
        fault.edits[k] = None
    return fault


def count_more(part, luck):
    run = some(luck, rest_runs(part))
    if run is None:
        return None
    inside = some(luck, [k for k in range(run[0] + 1, run[1] + 1) if not has_state(part.bars[k]) and part.bars[k].node.find("barline") is None])
    if inside is None:
        return None
    fault = Fault(*run)
    bar = fresh(part, run[0])
    bar.node.find("attributes/measure-style/multiple-rest").text = str(run[1] - run[0] + 2)
    fault.put(run[0], bar.node)
    fault.edits[inside] = part.bars[inside].text + part.bars[inside].text
    return fault


def print_longer_rest(part, luck):
    run = some(luck, [r for r in rest_runs(part) if r[1] + 1 < len(part.bars) and part.bars[r[1] + 1].own()])
    if run is None:
        return None
    bar = fresh(part, run[0])
    bar.node.find("attributes/measure-style/multiple-rest").text = str(run[1] - run[0] + 2)
    return Fault(*run).put(run[0], bar.node)


def join_rests(part, luck):
    """Two rests with a landmark between them printed as one."""
    runs = []
    counted = {r[0]: r for r in rest_runs(part)}
    for first, last in counted.values():
        after = last + 1
        if after in counted:
            bar = part.bars[after]
            marks = bar.node.find("direction/direction-type/rehearsal") is not None or bar.node.find("attributes/time") is not None
            if marks and bar.node.find("attributes/key") is None:
                runs.append((first, counted[after][1], after))
    run = some(luck, runs)
    if run is None:
        return None
    fault = Fault(run[0], run[1])
    one, two = fresh(part, run[0]), fresh(part, run[2])
    one.node.find("attributes/measure-style/multiple-rest").text = str(run[1] - run[0] + 1)
    attributes = two.node.find("attributes")
    for style in attributes.findall("measure-style"):
        attributes.remove(style)
    return fault.put(run[0], one.node).put(run[2], two.node)


def number_off(part, luck):
    n = luck.randrange(2, max(3, len(part.bars) - 2))
    if len(part.bars) < 8:
        return None
    fault = Fault(n, len(part.bars) - 1)
    changed = 0
    for k in range(n, len(part.bars)):
        bar = fresh(part, k)
        label = bar.node.get("number", "")
        if label.isdigit():
            bar.node.set("number", str(int(label) - 1))
            changed += 1
            fault.put(k, bar.node)
    return fault if changed > 1 else None


# Landmarks

def mark_bars(part):
    return [n for n, bar in enumerate(part.bars) if bar.directions("direction-type/rehearsal")]


def lose_mark(part, luck):
    n = some(luck, mark_bars(part))
    if n is None:
        return None
    bar = fresh(part, n)
    bar.node.remove(bar.directions("direction-type/rehearsal")[0])
    return Fault(n).put(n, bar.node)


def move_mark(part, luck):
    n = some(luck, [n for n in mark_bars(part) if n + 1 < len(part.bars) and not part.bars[n + 1].directions("direction-type/rehearsal")])
    if n is None:
        return None
    bar, after = fresh(part, n), fresh(part, n + 1)
    mark = bar.directions("direction-type/rehearsal")[0]
    bar.node.remove(mark)
    place = next((i for i, c in enumerate(after.node) if c.tag not in ("print", "attributes", "barline")), len(after.node))
    after.node.insert(place, mark)
    return Fault(n, n + 1).put(n, bar.node).put(n + 1, after.node)


def rename_mark(part, luck):
    n = some(luck, mark_bars(part))
    if n is None:
        return None
    bar = fresh(part, n)
    bar.directions("direction-type/rehearsal")[0].find("direction-type/rehearsal").text = "QQ"
    return Fault(n).put(n, bar.node)


def tempo_bars(part):
    def says(bar):
        return [d for d in bar.node.findall("direction") if d.find("sound[@tempo]") is not None and " ".join(e.text or "" for e in d.iter("words")).strip() and d.find(".//metronome") is None and any(c.isalpha() for e in d.iter("words") for c in e.text or "")]
    return [(n, len(says(bar))) for n, bar in enumerate(part.bars) if says(bar)], says


def lose_tempo(part, luck):
    found, says = tempo_bars(part)
    n = some(luck, [n for n, count in found if count == 1])
    if n is None:
        return None
    bar = fresh(part, n)
    bar.node.remove(says(bar)[0])
    return Fault(n).put(n, bar.node)


def move_tempo(part, luck):
    found, says = tempo_bars(part)
    n = some(luck, [n for n, count in found if count == 1 and n + 1 < len(part.bars)])
    if n is None:
        return None
    bar, after = fresh(part, n), fresh(part, n + 1)
    mark = says(bar)[0]
    bar.node.remove(mark)
    place = next((i for i, c in enumerate(after.node) if c.tag not in ("print", "attributes", "barline")), len(after.node))
    after.node.insert(place, mark)
    return Fault(n, n + 1).put(n, bar.node).put(n + 1, after.node)


def change_tempo(part, luck):
    found, says = tempo_bars(part)
    n = some(luck, [n for n, count in found if count == 1])
    if n is None:
        return None
    bar = fresh(part, n)
    words = list(says(bar)[0].iter("words"))
    for extra in words[1:]:
        extra.text = ""
    words[0].text = "Larghetto" if "arghetto" not in (words[0].text or "") else "Vivace"
    return Fault(n).put(n, bar.node)


# Notes

def wrong_pitch(part, luck):
    n = some(luck, bars(part, lambda b: len(b.notes()) >= 2))
    if n is None:
        return None
    bar = fresh(part, n)
    raised(luck.choice(bar.notes()).find("pitch"), luck.choice([-12, -2, -1, 1, 2, 12]))
    return Fault(n).put(n, bar.node)


def passage_off(part, luck):
    count = luck.randint(3, 8)
    n = some(luck, [n for n in range(len(part.bars) - count) if sum(len(part.bars[k].notes()) for k in range(n, n + count)) >= 4 and part.bars[n].notes() and part.bars[n + count - 1].notes()
                    and all(len(part.bars[k].own()) == len([x for x in part.bars[k].own() if x.find("pitch") is not None]) for k in range(n, n + count))])
    if n is None:
        return None
    by = luck.choice([-2, 2, -3, 12, -12])
    fault = Fault(n, n + count - 1)
    for k in range(n, n + count):
        bar = fresh(part, k)
        for note in bar.own():
            if note.find("pitch") is not None:
                raised(note.find("pitch"), by)
        fault.put(k, bar.node)
    return fault


def rest_like(note, duration):
    rest = ET.Element("note")
    ET.SubElement(rest, "rest")
    ET.SubElement(rest, "duration").text = str(duration)
    ET.SubElement(rest, "voice").text = note.findtext("voice", "1")
    if note.find("staff") is not None:
        ET.SubElement(rest, "staff").text = note.findtext("staff")
    return rest


def is_bare(note, bar):
    """Nothing hangs on it, and no chord."""
    after = list(bar.node)
    at = after.index(note)
    chord = at + 1 < len(after) and after[at + 1].find("chord") is not None
    return not chord and note.find("notations") is None and note.find("tie") is None and note.find("lyric") is None


def shorter_note(part, luck):
    def able(bar):
        return [x for x in bar.notes() if is_bare(x, bar) and int(x.findtext("duration")) % 2 == 0] if bar.is_plain() else []
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice(able(bar))
    half = int(note.findtext("duration")) // 2
    note.find("duration").text = str(half)
    bar.node.insert(list(bar.node).index(note) + 1, rest_like(note, half))
    return Fault(n).put(n, bar.node)


def misplaced_note(part, luck):
    """A note and the rest after it change places."""
    def able(bar):
        if not bar.is_plain() or len(bar.notes()) < 3:
            return []
        children = list(bar.node)
        return [x for x in bar.notes() if is_bare(x, bar) and children.index(x) + 1 < len(children) and children[children.index(x) + 1].find("rest") is not None and children[children.index(x) + 1].find("notations") is None]
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice(able(bar))
    at = list(bar.node).index(note)
    bar.node.remove(note)
    bar.node.insert(at + 1, note)
    return Fault(n).put(n, bar.node)


def lose_note(part, luck):
    def able(bar):
        return [x for x in bar.notes() if is_bare(x, bar)] if len(bar.notes()) >= 3 else []
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice(able(bar))
    at = list(bar.node).index(note)
    bar.node.remove(note)
    bar.node.insert(at, rest_like(note, note.findtext("duration")))
    return Fault(n).put(n, bar.node)


def extra_note(part, luck):
    def able(bar):
        notes = bar.node.findall("note")
        rests = [x for x in notes if x.find("rest") is not None and x.find("notations") is None and x.find("cue") is None and x.find("duration") is not None and x.get("print-object") != "no"]
        return rests if len(bar.notes()) >= 3 else []
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    rest = luck.choice(able(bar))
    at = list(rest).index(rest.find("rest"))
    rest.remove(rest.find("rest"))
    rest.insert(at, copy.deepcopy(bar.notes()[0].find("pitch")))
    return Fault(n).put(n, bar.node)


def lose_tie(part, luck):
    def able(bar):
        return [x for x in bar.notes() if x.find("tie[@type='start']") is not None]
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice(able(bar))
    for tie in note.findall("tie[@type='start']"):
        note.remove(tie)
    for notations in note.findall("notations"):
        for tied in notations.findall("tied[@type='start']"):
            notations.remove(tied)
    return Fault(n).put(n, bar.node)


# Marks at the staff

def plain_dynamics(bar):
    return [d for d in bar.directions("direction-type/dynamics") if len(d.findall("direction-type")) == 1]


def lose_dynamic(part, luck):
    n = some(luck, bars(part, lambda b: len(plain_dynamics(b)) == 1 and b.own()))
    if n is None:
        return None
    bar = fresh(part, n)
    bar.node.remove(plain_dynamics(bar)[0])
    return Fault(n).put(n, bar.node)


def change_dynamic(part, luck):
    n = some(luck, bars(part, lambda b: plain_dynamics(b) and b.own()))
    if n is None:
        return None
    bar = fresh(part, n)
    dynamics = luck.choice(plain_dynamics(bar)).find("direction-type/dynamics")
    old = [c.tag for c in dynamics]
    for child in list(dynamics):
        dynamics.remove(child)
    ET.SubElement(dynamics, luck.choice([d for d in ("pp", "p", "mf", "f", "ff", "sfz") if d not in old]))
    return Fault(n).put(n, bar.node)


def direction(kind, name, **attributes):
    node = ET.Element("direction", {"placement": "below"})
    ET.SubElement(ET.SubElement(ET.SubElement(node, "direction-type"), kind), name) if name else ET.SubElement(ET.SubElement(node, "direction-type"), kind, attributes)
    return node


def extra_dynamic(part, luck):
    n = some(luck, bars(part, lambda b: b.notes() and not b.directions("direction-type/dynamics")))
    if n is None:
        return None
    bar = fresh(part, n)
    bar.node.insert(list(bar.node).index(bar.notes()[0]), direction("dynamics", luck.choice(["p", "f", "mf"])))
    return Fault(n).put(n, bar.node)


def move_dynamic(part, luck):
    """By a beat at least, onto another note of the bar."""
    def able(bar, n):
        own = [d for d in plain_dynamics(bar) if d.find("offset") is None]
        if len(own) != 1 or not bar.is_plain() or len(bar.directions("direction-type/dynamics")) != 1:
            return None
        children = list(bar.node)
        at, now, onset = children.index(own[0]), 0, None
        targets = []
        for k, c in enumerate(children):
            if k == at:
                onset = now
            if c.tag == "note" and c.find("chord") is None and c.find("grace") is None:
                if c.find("rest") is None and onset is not None and k > at:
                    targets.append((c, now))
                now += int(c.findtext("duration"))
        # It takes effect with the next note.
        first = targets[0][1] if targets else None
        beat = part.divisions[n] * 4 / part.beats[n]
        far = [c for c, when in targets if first is not None and when - max(onset, first if onset < first else onset) >= max(beat, part.divisions[n])]
        return (own[0], far) if far else None
    n = some(luck, [n for n, bar in enumerate(part.bars) if able(bar, n)])
    if n is None:
        return None
    bar = fresh(part, n)
    mark, targets = able(bar, n)
    target = luck.choice(targets)
    bar.node.remove(mark)
    bar.node.insert(list(bar.node).index(target), mark)
    return Fault(n).put(n, bar.node)


def hairpin_starts(bar):
    return [d for d in bar.directions("direction-type/wedge") if d.find("direction-type/wedge").get("type") in ("crescendo", "diminuendo") and len(d.findall("direction-type")) == 1]


def hairpin_end(part, n, mark):
    number = mark.find("direction-type/wedge").get("number", "1")
    started = False
    for k in range(n, min(n + 30, len(part.bars))):
        for d in part.bars[k].directions("direction-type/wedge"):
            wedge = d.find("direction-type/wedge")
            if k == n and not started:
                started = ET.tostring(d) == ET.tostring(mark)
                continue
            if wedge.get("number", "1") == number and wedge.get("type") == "stop":
                return k, ET.tostring(d)
    return None


def lose_hairpin(part, luck):
    able = []
    for n, bar in enumerate(part.bars):
        for mark in hairpin_starts(bar):
            same = [d for d in bar.directions("direction-type/wedge") if ET.tostring(d) == ET.tostring(mark)]
            end = hairpin_end(part, n, mark)
            if end and len(same) == 1:
                able.append((n, ET.tostring(mark), end))
    chosen = some(luck, able)
    if chosen is None:
        return None
    n, mark, (k, stop) = chosen
    fault = Fault(n)
    first = fresh(part, n)
    first.node.remove(next(d for d in first.node.findall("direction") if ET.tostring(d) == mark))
    last = first if k == n else fresh(part, k)
    found = [d for d in last.node.findall("direction") if ET.tostring(d) == stop]
    last.node.remove(found[0])
    fault.put(n, first.node)
    return fault if k == n else fault.put(k, last.node)


def longer_hairpin(part, luck):
    """Its end stands two bars later, with notes between."""
    able = []
    for n, bar in enumerate(part.bars):
        for mark in hairpin_starts(bar):
            end = hairpin_end(part, n, mark)
            if not end or end[0] + 3 >= len(part.bars):
                continue
            between = [part.bars[k] for k in range(n, end[0] + 4)]
            alone = sum(len(b.directions("direction-type/wedge")) for b in between) == 2
            if alone and len(part.bars[end[0] + 1].notes()) >= 3 and part.bars[end[0] + 2].notes():
                able.append((n, end))
    chosen = some(luck, able)
    if chosen is None:
        return None
    n, (k, stop) = chosen
    last, later = fresh(part, k), fresh(part, k + 2)
    mark = next(d for d in last.node.findall("direction") if ET.tostring(d) == stop)
    last.node.remove(mark)
    for offset in mark.findall("offset"):
        mark.remove(offset)
    later.node.insert(list(later.node).index(later.notes()[0]), mark)
    return Fault(n, k + 2).put(k, last.node).put(k + 2, later.node)


def turn_hairpin(part, luck):
    n = some(luck, bars(part, hairpin_starts))
    if n is None:
        return None
    bar = fresh(part, n)
    wedge = luck.choice(hairpin_starts(bar)).find("direction-type/wedge")
    wedge.set("type", "diminuendo" if wedge.get("type") == "crescendo" else "crescendo")
    return Fault(n).put(n, bar.node)


def extra_hairpin(part, luck):
    n = some(luck, bars(part, lambda b: len(b.notes()) >= 3 and b.is_plain() and not b.directions("direction-type/wedge")))
    if n is None:
        return None
    bar = fresh(part, n)
    notes = bar.notes()
    bar.node.insert(list(bar.node).index(notes[0]), direction("wedge", None, type="crescendo", number="6"))
    bar.node.insert(list(bar.node).index(notes[-1]), direction("wedge", None, type="stop", number="6"))
    return Fault(n).put(n, bar.node)


def staff_words(bar):
    def own(d):
        text = " ".join(e.text or "" for e in d.iter("words")).strip()
        return sum(c.isalpha() for c in text) >= 3 and d.find("sound[@tempo]") is None and d.find(".//metronome") is None and len(list(d.iter("words"))) == 1
    return [d for d in bar.directions("direction-type/words") if own(d) and re.match(r"(pizz|arco|con sord|senza|dolce|espr|cresc|dim|marc|div|legato|sotto|più|sempre|molto cresc|poco a poco cresc)", next(d.iter("words")).text.strip(), re.I)]


def lose_words(part, luck):
    n = some(luck, bars(part, lambda b: len(staff_words(b)) == 1))
    if n is None:
        return None
    bar = fresh(part, n)
    bar.node.remove(staff_words(bar)[0])
    return Fault(n).put(n, bar.node)


def move_words(part, luck):
    """To the bar after."""
    n = some(luck, [n for n, b in enumerate(part.bars[:-1]) if len(staff_words(b)) == 1 and part.bars[n + 1].notes() and not part.bars[n + 1].directions("direction-type/words")])
    if n is None:
        return None
    bar, after = fresh(part, n), fresh(part, n + 1)
    mark = staff_words(bar)[0]
    bar.node.remove(mark)
    after.node.insert(list(after.node).index(after.notes()[0]), mark)
    return Fault(n, n + 1).put(n, bar.node).put(n + 1, after.node)


def change_words(part, luck):
    n = some(luck, bars(part, staff_words))
    if n is None:
        return None
    bar = fresh(part, n)
    words = next(luck.choice(staff_words(bar)).iter("words"))
    words.text = "con sord." if "sord" not in words.text.lower() else "senza sord."
    return Fault(n).put(n, bar.node)


def extra_words(part, luck):
    n = some(luck, bars(part, lambda b: b.notes() and not b.directions("direction-type/words")))
    if n is None:
        return None
    bar = fresh(part, n)
    node = direction("words", None)
    node.find("direction-type/words").text = luck.choice(["pizz.", "con sord.", "div.", "dolce"])
    bar.node.insert(list(bar.node).index(bar.notes()[0]), node)
    return Fault(n).put(n, bar.node)


# Signs at notes

def drop(note, path, name):
    group = note.find(path)
    for child in group.findall(name):
        group.remove(child)


SIGNS = ["accent", "strong-accent", "staccato", "tenuto", "staccatissimo"]


def signed(bar):
    return [(x, c.tag) for x in bar.notes() for c in (x.find("notations/articulations") if x.find("notations/articulations") is not None else []) if c.tag in SIGNS]


def lose_sign(part, luck):
    n = some(luck, bars(part, signed))
    if n is None:
        return None
    bar = fresh(part, n)
    note, name = luck.choice(signed(bar))
    drop(note, "notations/articulations", name)
    return Fault(n).put(n, bar.node)


def change_sign(part, luck):
    n = some(luck, bars(part, signed))
    if n is None:
        return None
    bar = fresh(part, n)
    note, name = luck.choice(signed(bar))
    group = note.find("notations/articulations")
    have = [c.tag for c in group]
    group.find(name).tag = luck.choice([s for s in SIGNS if s not in have])
    return Fault(n).put(n, bar.node)


def notations(note):
    found = note.find("notations")
    if found is None:
        found = ET.Element("notations")
        after = [i for i, c in enumerate(note) if c.tag not in ("lyric", "play")]
        note.insert(after[-1] + 1, found)
    return found


def extra_sign(part, luck):
    n = some(luck, bars(part, lambda b: any(x.find("notations/articulations") is None for x in b.notes())))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice([x for x in bar.notes() if x.find("notations/articulations") is None])
    ET.SubElement(ET.SubElement(notations(note), "articulations"), luck.choice(SIGNS))
    return Fault(n).put(n, bar.node)


def move_sign(part, luck):
    """From its note to another one that has none."""
    def able(bar):
        free = [x for x in bar.notes() if x.find("notations/articulations") is None]
        return [(x, name) for x, name in signed(bar)] if free and len(bar.notes()) >= 3 else []
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note, name = luck.choice(able(bar))
    target = luck.choice([x for x in bar.notes() if x.find("notations/articulations") is None])
    drop(note, "notations/articulations", name)
    ET.SubElement(ET.SubElement(notations(target), "articulations"), name)
    return Fault(n).put(n, bar.node)


def lose_ornament(part, luck):
    def able(bar):
        return [(x, c.tag) for x in bar.notes() for c in (x.find("notations/ornaments") if x.find("notations/ornaments") is not None else []) if c.tag in ("trill-mark", "tremolo", "mordent", "inverted-mordent", "turn")]
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    note, name = luck.choice(able(bar))
    drop(note, "notations/ornaments", name)
    return Fault(n).put(n, bar.node)


def extra_ornament(part, luck):
    n = some(luck, bars(part, lambda b: any(x.find("notations/ornaments") is None for x in b.notes())))
    if n is None:
        return None
    bar = fresh(part, n)
    note = luck.choice([x for x in bar.notes() if x.find("notations/ornaments") is None])
    ET.SubElement(ET.SubElement(notations(note), "ornaments"), "trill-mark")
    return Fault(n).put(n, bar.node)


def lose_slur(part, luck):
    """Both ends, inside one bar."""
    def able(bar):
        found = []
        for x in bar.notes():
            for s in x.findall("notations/slur[@type='start']"):
                number = s.get("number", "1")
                later = [y for y in bar.notes() if y.find(f"notations/slur[@type='stop'][@number='{number}']") is not None]
                children = list(bar.node)
                later = [y for y in later if children.index(y) > children.index(x)]
                if later and bar.is_plain():
                    found.append((x, later[0], number))
        return found
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    x, y, number = luck.choice(able(bar))
    for note, kind in ((x, "start"), (y, "stop")):
        group = next(g for g in note.findall("notations") if g.find(f"slur[@type='{kind}'][@number='{number}']") is not None)
        group.remove(group.find(f"slur[@type='{kind}'][@number='{number}']"))
    return Fault(n).put(n, bar.node)


def move_slur(part, luck):
    """It begins a note later, inside one bar of three notes or more under it."""
    def able(bar):
        if not bar.is_plain():
            return []
        notes = bar.notes()
        found = []
        for k, x in enumerate(notes[:-2]):
            for s in x.findall("notations/slur[@type='start']"):
                number = s.get("number", "1")
                inside = notes[k + 1].find(f"notations/slur[@number='{number}']") is None
                ends = any(y.find(f"notations/slur[@type='stop'][@number='{number}']") is not None for y in notes[k + 2:])
                if inside and ends:
                    found.append((k, number))
        return found
    n = some(luck, bars(part, able))
    if n is None:
        return None
    bar = fresh(part, n)
    k, number = luck.choice(able(bar))
    notes = bar.notes()
    group = next(g for g in notes[k].findall("notations") if g.find(f"slur[@type='start'][@number='{number}']") is not None)
    slur = group.find(f"slur[@type='start'][@number='{number}']")
    group.remove(slur)
    notations(notes[k + 1]).append(slur)
    return Fault(n).put(n, bar.node)


def extra_slur(part, luck):
    n = some(luck, bars(part, lambda b: len(b.notes()) >= 2 and b.is_plain()))
    if n is None:
        return None
    bar = fresh(part, n)
    k = luck.randrange(len(bar.notes()) - 1)
    ET.SubElement(notations(bar.notes()[k]), "slur", {"type": "start", "number": "6"})
    ET.SubElement(notations(bar.notes()[k + 1]), "slur", {"type": "stop", "number": "6"})
    return Fault(n).put(n, bar.node)


def lose_fermata(part, luck):
    n = some(luck, bars(part, lambda b: b.node.find("note/notations/fermata") is not None and b.node.find("barline/fermata") is None))
    if n is None:
        return None
    bar = fresh(part, n)
    for note in bar.node.findall("note"):
        for group in note.findall("notations"):
            for old in group.findall("fermata"):
                group.remove(old)
    return Fault(n).put(n, bar.node)


def extra_fermata(part, luck):
    n = some(luck, bars(part, lambda b: b.notes() and b.node.find("note/notations/fermata") is None and b.node.find("barline/fermata") is None))
    if n is None:
        return None
    bar = fresh(part, n)
    ET.SubElement(notations(bar.notes()[-1]), "fermata", {"type": "upright"})
    return Fault(n).put(n, bar.node)


# What frames the notes

def wrong_key(part, luck):
    n = some(luck, [n for n, b in enumerate(part.bars) if b.node.find("attributes/key/fifths") is not None and any(x.find("pitch") is not None for k in part.bars[n:] for x in k.own())])
    if n is None:
        return None
    bar = fresh(part, n)
    for fifths in bar.node.iter("fifths"):
        fifths.text = str(int(fifths.text) + luck.choice([-1, 1, 3]))
    # Where none is left the part could be one of those that are written without a signature.
    if all(f.text == "0" for k in part.bars for f in (bar.node if k is part.bars[n] else k.node).iter("fifths")):
        return None
    return Fault(n, len(part.bars) - 1).put(n, bar.node)


def wrong_metre(part, luck):
    n = some(luck, [n for n, b in enumerate(part.bars) if b.node.find("attributes/time/beats") is not None])
    if n is None:
        return None
    bar = fresh(part, n)
    for time in bar.node.iter("time"):
        time.attrib.pop("symbol", None)
        time.find("beats").text = str(int(time.findtext("beats").split("+")[0]) + 1)
    end = next((k for k in range(n + 1, len(part.bars)) if part.bars[k].node.find("attributes/time") is not None), len(part.bars)) - 1
    return Fault(n, end).put(n, bar.node)


def lose_repeat(part, luck):
    n = some(luck, bars(part, lambda b: b.node.find("barline/repeat") is not None))
    if n is None:
        return None
    bar = fresh(part, n)
    line = next(l for l in bar.node.findall("barline") if l.find("repeat") is not None)
    line.remove(line.find("repeat"))
    return Fault(n).put(n, bar.node)


def lose_ending(part, luck):
    n = some(luck, bars(part, lambda b: b.node.find("barline/ending[@type='start']") is not None))
    if n is None:
        return None
    bar = fresh(part, n)
    for line in bar.node.findall("barline"):
        for ending in line.findall("ending"):
            line.remove(ending)
    return Fault(n).put(n, bar.node)


def extra_repeat(part, luck):
    n = some(luck, bars(part, lambda b: b.node.find("barline") is None and b.own()))
    if n is None or n + 1 >= len(part.bars):
        return None
    bar = fresh(part, n)
    line = ET.SubElement(bar.node, "barline", {"location": "right"})
    ET.SubElement(line, "bar-style").text = "light-heavy"
    ET.SubElement(line, "repeat", {"direction": "backward"})
    return Fault(n).put(n, bar.node)


def lose_double_bar(part, luck):
    n = some(luck, [n for n, b in enumerate(part.bars[:-1]) if any(l.findtext("bar-style") == "light-light" and l.find("repeat") is None and l.find("ending") is None for l in b.node.findall("barline")) and part.bars[n + 1].node.find("barline[@location='left']") is None])
    if n is None:
        return None
    bar = fresh(part, n)
    for line in bar.node.findall("barline"):
        if line.findtext("bar-style") == "light-light":
            bar.node.remove(line)
    return Fault(n).put(n, bar.node)


# Cues

def cue_runs(part):
    runs = []
    for n, bar in enumerate(part.bars):
        if bar.node.find("note/cue") is not None:
            if runs and runs[-1][1] == n - 1:
                runs[-1] = (runs[-1][0], n)
            else:
                runs.append((n, n))
    return [r for r in runs if r[1] > r[0] and all(not part.bars[k].own() for k in range(r[0], r[1] + 1))]


def cue_untransposed(part, luck):
    run = some(luck, cue_runs(part))
    if run is None:
        return None
    fault = Fault(*run)
    for k in range(run[0], run[1] + 1):
        bar = fresh(part, k)
        for note in bar.node.findall("note"):
            if note.find("cue") is not None:
                raised(note.find("pitch"), 2)
        fault.put(k, bar.node)
    return fault


def cue_wrong_note(part, luck):
    run = some(luck, cue_runs(part))
    if run is None:
        return None
    k = luck.randint(*run)
    bar = fresh(part, k)
    raised(luck.choice([x for x in bar.node.findall("note") if x.find("cue") is not None]).find("pitch"), 1)
    return Fault(*run).put(k, bar.node)


def cue_too_short(part, luck):
    run = some(luck, [r for r in cue_runs(part) if r[1] + 1 < len(part.bars) and part.bars[r[1] + 1].own()])
    if run is None:
        return None
    k = run[1]
    bar = fresh(part, k)
    for note in bar.node.findall("note"):
        if note.find("cue") is not None:
            note.remove(note.find("cue"))
            note.remove(note.find("pitch"))
            note.insert(0, ET.Element("rest"))
    return Fault(*run).put(k, bar.node)


FAULTS = {
    "bars taken out": take_played_bars,
    "bar put in": put_in_played_bars,
    "rest counted too short": count_fewer,
    "rest counted too long": count_more,
    "rest printed over a played bar": print_longer_rest,
    "rests joined across a landmark": join_rests,
    "bar numbers one too low": number_off,
    "rehearsal mark lost": lose_mark,
    "rehearsal mark a bar late": move_mark,
    "rehearsal mark renamed": rename_mark,
    "tempo lost": lose_tempo,
    "tempo a bar late": move_tempo,
    "tempo changed": change_tempo,
    "wrong pitch": wrong_pitch,
    "passage higher or lower": passage_off,
    "note too short": shorter_note,
    "note elsewhere in the bar": misplaced_note,
    "note lost": lose_note,
    "note too many": extra_note,
    "tie lost": lose_tie,
    "dynamic lost": lose_dynamic,
    "dynamic changed": change_dynamic,
    "dynamic too many": extra_dynamic,
    "dynamic elsewhere in the bar": move_dynamic,
    "hairpin lost": lose_hairpin,
    "hairpin the other way": turn_hairpin,
    "hairpin too many": extra_hairpin,
    "hairpin ends bars later": longer_hairpin,
    "words lost": lose_words,
    "words changed": change_words,
    "words too many": extra_words,
    "words a bar late": move_words,
    "articulation lost": lose_sign,
    "articulation changed": change_sign,
    "articulation too many": extra_sign,
    "articulation on another note": move_sign,
    "ornament lost": lose_ornament,
    "ornament too many": extra_ornament,
    "slur lost": lose_slur,
    "slur too many": extra_slur,
    "slur begins a note later": move_slur,
    "fermata lost": lose_fermata,
    "fermata too many": extra_fermata,
    "key changed": wrong_key,
    "metre changed": wrong_metre,
    "repeat lost": lose_repeat,
    "repeat too many": extra_repeat,
    "ending lost": lose_ending,
    "double bar lost": lose_double_bar,
    "cue in the wrong key": cue_untransposed,
    "cue with a wrong note": cue_wrong_note,
    "cue too short": cue_too_short,
}


def main(folder, out, count):
    luck = random.Random("faults")
    files = sorted(Path(folder).glob("*/*.musicxml"))
    made = {name: 0 for name in FAULTS}
    each = count // len(files) + 1
    with open(out, "w", encoding="utf-8") as lines:
        for path in files:
            part = Part(path)
            own = 0
            # The rarest kinds first, so that all are tried often enough.
            for name in sorted(FAULTS, key=lambda name: (made[name], luck.random())):
                if own == each:
                    break
                fault = FAULTS[name](part, luck)
                if fault is None:
                    continue
                own += 1
                made[name] += 1
                lines.write(json.dumps({
                    "file": str(path.relative_to(folder)),
                    "fault": name,
                    "first": fault.first,
                    "last": fault.last,
                    "edits": [[n, text] for n, text in sorted(fault.edits.items())],
                }) + "\n")
    print(sum(made.values()), "faults of", len(FAULTS), "kinds:", made)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
