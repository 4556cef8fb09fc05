//! What stands beside the notes: tempo, rehearsal marks, words, dynamics, hairpins, octave lines.

use rastrum::units::Spaces;

use super::xml::{Xml, number, tenths};
use crate::orchestra::{FL1, Part, V1};
use crate::score::{BarHead, Direction, Placed, Tempo};

/// Rehearsal mark on the top staff; tempo there, with its sound, and again over the first violins.
pub fn heading(xml: &mut Xml, head: &BarHead, part: &Part) {
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

/// A direction before the note that begins at `onset`; `width` is that of its bar.
pub fn placed(xml: &mut Xml, placed: &Placed, onset: u32, width: Spaces, part: &Part, index: usize) {
    let above = matches!(placed.what, Direction::Words(_) | Direction::OctaveUp | Direction::OctaveStop);
    xml.open("direction", &[("placement", if above { "above" } else { "below" })]);
    xml.open("direction-type", &[]);
    let x = placed.place.past_bar_end.map(|past| tenths(width + past));
    let y = placed.place.y.map(tenths);
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
