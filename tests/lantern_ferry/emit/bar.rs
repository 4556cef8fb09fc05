//! The bars of one part.

use rastrum::units::Spaces;

use super::note::{self, Voice};
use super::print::{self, Start, start_at};
use super::xml::{Xml, tenths};
use super::{barline, direction};
use crate::layout::PageLayout;
use crate::notation::transposition;
use crate::orchestra::{Clef, Family, Part};
use crate::pitch::{Pitch, Transposition};
use crate::score::{Movement, QUARTER};

pub fn write_all(xml: &mut Xml, movement: &Movement, pages: &[PageLayout], part: &Part) {
    let mut ties: Vec<Vec<Pitch>> = vec![Vec::new(); part.clefs.len() * 2];
    for bar in 1..=movement.bars() {
        let width = width_of(pages, bar);
        let (number, width_text) = (bar.to_string(), tenths(width));
        let attributes_of_bar = [("number", number.as_str()), ("width", width_text.as_str())];
        // Without pages bars have no width.
        xml.open("measure", if pages.is_empty() { &attributes_of_bar[..1] } else { &attributes_of_bar });
        let start = start_at(pages, bar);
        if let Some(start) = start {
            print::write(xml, part, start);
        }
        barline::left(xml, movement.head(bar));
        attributes(xml, movement, bar, part, start);
        direction::heading(xml, movement.head(bar), part);
        for index in 0..part.clefs.len() {
            staff(xml, movement, bar, width, part, index, &mut ties[2 * index..2 * index + 2]);
        }
        barline::right(xml, movement, bar);
        xml.close();
    }
}

fn width_of(pages: &[PageLayout], bar: usize) -> Spaces {
    let system =
        pages.iter().flat_map(|page| &page.systems).find(|system| (system.first_bar..=system.last_bar).contains(&bar));
    system.map_or(Spaces::ZERO, |system| system.widths[bar - system.first_bar])
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
    }
    let key_moves =
        transposes && !first && transposition(movement, bar - 1, part.first).key_change() != by.key_change();
    if first || key_moves {
        xml.open("key", &[]);
        xml.leaf("fifths", if part.unpitched.is_empty() { movement.key + by.key_change() } else { 0 });
        xml.close();
    }
    if metre_changes {
        xml.open("time", &[]);
        if head.free {
            xml.empty("senza-misura", &[]);
        } else {
            xml.leaf("beats", head.metre.0);
            xml.leaf("beat-type", head.metre.1);
        }
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

fn staff(
    xml: &mut Xml,
    movement: &Movement,
    bar: usize,
    width: Spaces,
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
                direction::placed(xml, &placed, onset, width, part, index);
            }
            voice.note(xml, place, item);
            onset += item.units;
        }
        if at == 0 {
            directions.by_ref().for_each(|placed| direction::placed(xml, &placed, onset, width, part, index));
        }
        ties[at] = voice.into_ties();
    }
}
