//! The bars of one part.

use super::note::{self, Voice};
use super::print::{self, Start, start_at};
use super::xml::{Xml, number};
use crate::layout::PageLayout;
use crate::notation::transposition;
use crate::orchestra::{Clef, FL1, Family, Part, V1};
use crate::pitch::{Pitch, Transposition};
use crate::score::{BarHead, Direction, Movement, Placed, QUARTER, Tempo};

pub fn write_all(xml: &mut Xml, movement: &Movement, pages: &[PageLayout], part: &Part) {
    let mut ties: Vec<Vec<Pitch>> = vec![Vec::new(); part.clefs.len() * 2];
    for bar in 1..=movement.bars() {
        let width = width_of(pages, bar);
        xml.open("measure", &[("number", &bar.to_string()), ("width", &number(width))]);
        let start = start_at(pages, bar);
        if let Some(start) = start {
            print::write(xml, part, start);
        }
        left_barline(xml, movement.head(bar));
        attributes(xml, movement, bar, part, start);
        heading(xml, movement.head(bar), part);
        for index in 0..part.clefs.len() {
            staff(xml, movement, bar, width, part, index, &mut ties[2 * index..2 * index + 2]);
        }
        right_barline(xml, movement, bar);
        xml.close();
    }
}

fn width_of(pages: &[PageLayout], bar: usize) -> f64 {
    let system =
        pages.iter().flat_map(|page| &page.systems).find(|system| (system.first_bar..=system.last_bar).contains(&bar));
    system.map_or(0.0, |system| system.widths[bar - system.first_bar])
}

fn attributes(xml: &mut Xml, movement: &Movement, bar: usize, part: &Part, start: Option<Start>) {
    let head = movement.head(bar);
    let by = transposition(movement, bar, part.first);
    let first = bar == 1;
    let metre_changes = first || movement.head(bar - 1).metre != head.metre;
    let transposes =
        if first { by != Transposition::default() } else { transposition(movement, bar - 1, part.first) != by };
    let hidden = start.map_or(Vec::new(), |start| print::hidden(part, start.system));
    if !(metre_changes || transposes || !hidden.is_empty()) {
        return;
    }
    xml.open("attributes", &[]);
    if first {
        xml.leaf("divisions", QUARTER);
        xml.open("key", &[]);
        xml.leaf("fifths", if part.unpitched.is_empty() { movement.key + by.key_change() } else { 0 });
        xml.close();
    }
    if metre_changes {
        xml.open("time", &[]);
        xml.leaf("beats", head.metre.0);
        xml.leaf("beat-type", head.metre.1);
        xml.close();
    }
    if first && part.clefs.len() > 1 {
        xml.leaf("staves", part.clefs.len());
        xml.leaf("part-symbol", if part.family == Family::Harp { "brace" } else { "line" });
    }
    if first {
        for (index, &clef) in part.clefs.iter().enumerate() {
            clef_element(xml, clef, index + 1, part.clefs.len());
        }
    }
    for number in hidden {
        xml.empty("staff-details", &[("number", &number.to_string()), ("print-object", "no")]);
    }
    if transposes {
        xml.open("transpose", &[]);
        xml.leaf("diatonic", by.steps);
        xml.leaf("chromatic", by.half_tones);
        if by.octaves != 0 {
            xml.leaf("octave-change", by.octaves);
        }
        xml.close();
    }
    xml.close();
}

fn clef_element(xml: &mut Xml, clef: Clef, number: usize, of: usize) {
    let number = number.to_string();
    let attribute = [("number", number.as_str())];
    xml.open("clef", if of > 1 { &attribute } else { &[] });
    let (sign, line) = match clef {
        Clef::Treble => ("G", Some(2)),
        Clef::Alto => ("C", Some(3)),
        Clef::Bass => ("F", Some(4)),
        Clef::Percussion => ("percussion", None),
    };
    xml.leaf("sign", sign);
    if let Some(line) = line {
        xml.leaf("line", line);
    }
    xml.close();
}

/// Rehearsal mark on the top staff; tempo there, with its sound, and again over the first violins.
fn heading(xml: &mut Xml, head: &BarHead, part: &Part) {
    if let Some(letter) = head.rehearsal.filter(|_| part.first == FL1) {
        xml.open("direction", &[("placement", "above")]);
        xml.open("direction-type", &[]);
        xml.leaf_with("rehearsal", &[("font-size", "14"), ("font-weight", "bold"), ("enclosure", "square")], letter);
        xml.close();
        xml.close();
    }
    if let Some(tempo) = head.tempo.as_ref().filter(|_| part.first == FL1 || part.first == V1) {
        tempo_mark(xml, tempo, part.first == FL1);
    }
    if head.general_pause {
        words(xml, "G.P.");
    }
}

fn tempo_mark(xml: &mut Xml, tempo: &Tempo, with_sound: bool) {
    xml.open("direction", &[("placement", "above")]);
    xml.open("direction-type", &[]);
    xml.leaf_with("words", &[("font-size", "12"), ("font-weight", "bold")], tempo.words);
    xml.close();
    xml.open("direction-type", &[]);
    xml.open("metronome", &[("parentheses", "no")]);
    xml.leaf("beat-unit", "quarter");
    if tempo.dotted {
        xml.empty("beat-unit-dot", &[]);
    }
    xml.leaf("per-minute", tempo.beats_a_minute);
    xml.close();
    xml.close();
    if with_sound {
        xml.empty("sound", &[("tempo", &number(tempo.quarters_a_minute()))]);
    }
    xml.close();
}

fn words(xml: &mut Xml, text: &str) {
    xml.open("direction", &[("placement", "above")]);
    xml.open("direction-type", &[]);
    xml.leaf("words", text);
    xml.close();
    xml.close();
}

fn staff(
    xml: &mut Xml,
    movement: &Movement,
    bar: usize,
    width: f64,
    part: &Part,
    index: usize,
    ties: &mut [Vec<Pitch>],
) {
    let (head, cell) = (movement.head(bar), movement.cell(bar, part.first + index));
    let silent = [note::silent_bar(head.units(), head.general_pause)];
    let voices: Vec<&[_]> = match cell.voices.len() {
        0 => vec![&silent],
        _ => cell.voices.iter().map(Vec::as_slice).collect(),
    };
    let mut directions = cell.directions.clone();
    directions.sort_by_key(|placed| placed.at);
    let mut directions = directions.into_iter().peekable();
    for (at, items) in voices.iter().enumerate() {
        if at > 0 || index > 0 {
            xml.open("backup", &[]);
            xml.leaf("duration", head.units());
            xml.close();
        }
        let mut voice =
            Voice::new(movement, bar, part, index, (at, voices.len()), std::mem::take(&mut ties[at]), items);
        let mut onset = 0;
        for (place, item) in items.iter().enumerate() {
            let end = (onset + item.units).max(onset + 1);
            while let Some(placed) = directions.next_if(|placed| at == 0 && placed.at < end) {
                direction(xml, &placed, onset, width, part, index);
            }
            voice.note(xml, place, item);
            onset += item.units;
        }
        if at == 0 {
            directions.by_ref().for_each(|placed| direction(xml, &placed, onset, width, part, index));
        }
        ties[at] = voice.into_ties();
    }
}

fn direction(xml: &mut Xml, placed: &Placed, onset: u32, width: f64, part: &Part, index: usize) {
    let above = matches!(placed.what, Direction::Words(_) | Direction::OctaveUp | Direction::OctaveStop);
    xml.open("direction", &[("placement", if above { "above" } else { "below" })]);
    xml.open("direction-type", &[]);
    let x = placed.place.past_bar_end.map(|past| number(width + past));
    let y = placed.place.y.map(number);
    let mut place: Vec<(&str, &str)> = Vec::new();
    place.extend(x.as_deref().map(|x| ("default-x", x)));
    place.extend(y.as_deref().map(|y| ("default-y", y)));
    let typed = |kind: &'static str| [&[("type", kind)], place.as_slice()].concat();
    match &placed.what {
        Direction::Dynamic(name) => {
            xml.open("dynamics", &place);
            xml.empty(name, &[]);
            xml.close();
        }
        Direction::Words(text) => xml.leaf_with("words", &[&place[..], &[("font-style", "italic")]].concat(), text),
        Direction::Crescendo => xml.empty("wedge", &typed("crescendo")),
        Direction::Diminuendo => xml.empty("wedge", &typed("diminuendo")),
        Direction::HairpinStop => xml.empty("wedge", &typed("stop")),
        Direction::OctaveUp => xml.empty("octave-shift", &[("type", "down"), ("size", "8")]),
        Direction::OctaveStop => xml.empty("octave-shift", &[("type", "stop"), ("size", "8")]),
    }
    xml.close();
    if placed.at > onset {
        xml.leaf("offset", placed.at - onset);
    }
    if part.clefs.len() > 1 {
        xml.leaf("staff", index + 1);
    }
    xml.close();
}

fn left_barline(xml: &mut Xml, head: &BarHead) {
    if head.repeat_starts || head.ending.is_some() {
        xml.open("barline", &[("location", "left")]);
        if head.repeat_starts {
            xml.leaf("bar-style", "heavy-light");
        }
        if let Some(ending) = head.ending {
            xml.empty("ending", &[("number", &ending.to_string()), ("type", "start")]);
        }
        if head.repeat_starts {
            xml.empty("repeat", &[("direction", "forward")]);
        }
        xml.close();
    }
}

fn right_barline(xml: &mut Xml, movement: &Movement, bar: usize) {
    let head = movement.head(bar);
    let last = bar == movement.bars();
    let style = if head.repeat_stops || (last && movement.number == 2) {
        Some("light-heavy")
    } else {
        (head.double_barline || last).then_some("light-light")
    };
    if style.is_none() && head.ending.is_none() {
        return;
    }
    xml.open("barline", &[("location", "right")]);
    if let Some(style) = style {
        xml.leaf("bar-style", style);
    }
    if let Some(ending) = head.ending {
        let kind = if head.repeat_stops { "stop" } else { "discontinue" };
        xml.empty("ending", &[("number", &ending.to_string()), ("type", kind)]);
    }
    if head.repeat_stops {
        xml.empty("repeat", &[("direction", "backward")]);
    }
    xml.close();
}
