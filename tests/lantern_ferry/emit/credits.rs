//! Words on the page outside the music: title, players, duration, running heads, page numbers.

use rastrum::units::Spaces;

use super::head::{COMPOSER, WORK};
use super::xml::{Xml, tenths};
use crate::layout::PageLayout;
use crate::paper::{self, is_left};
use crate::score::{Draft, Movement};

/// The players and the transpositions, a line each.
const FORCES: [&str; 4] = [
    "2 flutes (2nd also piccolo), 2 oboes, english horn, 2 clarinets in B\u{266d}, 2 bassoons, contrabassoon",
    "4 horns in F, 2 trumpets in B\u{266d}, 2 trombones, bass trombone, tuba \u{b7} timpani, \
     percussion (2 players) \u{b7} harp \u{b7} strings",
    "Percussion 1: tam-tam, suspended cymbal, triangle \u{b7} Percussion 2: bass drum, snare drum, clash cymbals",
    "Transposed score: piccolo sounds an octave higher, contrabassoon and double basses an octave lower than written",
];
const DURATION: &str = "Duration about 7'50\"";
/// With the second draft of the first movement.
const SECOND_DURATION: &str = "Duration about 7'35\"";

/// Height of the running head's line above the bottom edge of the page.
fn head_line(movement: &Movement) -> Spaces {
    paper::page_height(movement.staff_mm()) - Spaces(9.5)
}

pub fn write(xml: &mut Xml, movement: &Movement, pages: &[PageLayout]) {
    let width = paper::page_width(movement.staff_mm());
    let middle = width / 2.0;
    let top = paper::page_height(movement.staff_mm());
    for (at, page) in pages.iter().enumerate() {
        let sheet = at + 1;
        if at == 0 && movement.number == 1 {
            credit(xml, sheet, "title", WORK, (middle, top - Spaces(16.5)), ("center", "22"));
            for (line, text) in forces(movement).iter().enumerate() {
                credit(
                    xml,
                    sheet,
                    "forces",
                    text,
                    (middle, top - Spaces(26.2) - Spaces(2.8) * line as f64),
                    ("center", "7.5"),
                );
            }
            let duration = if movement.draft == Draft::First { DURATION } else { SECOND_DURATION };
            credit(xml, sheet, "subtitle", duration, (paper::left_margin(1), top - Spaces(39.5)), ("left", "10"));
            let right = width - paper::right_margin(1);
            credit(xml, sheet, "composer", COMPOSER, (right, top - Spaces(39.5)), ("right", "10"));
        }
        if at == 0 {
            let y = if movement.number == 1 { top - Spaces(39.5) } else { top - Spaces(22.0) };
            credit(xml, sheet, "subtitle", &heading(movement), (middle, y), ("center", "14"));
        }
        let outer = if is_left(page.number) { paper::MARGIN_OUTER } else { width - paper::MARGIN_OUTER };
        let side = if is_left(page.number) { "left" } else { "right" };
        credit(xml, sheet, "page number", &page.number.to_string(), (outer, head_line(movement)), (side, "11"));
        if page.number > 1 {
            let draft = if movement.draft == Draft::First { "" } else { ", second draft" };
            let running = format!("{WORK} \u{2013} {}{draft}", heading(movement));
            credit(xml, sheet, "running head", &running, (middle, head_line(movement)), ("center", "9"));
        }
    }
}

fn forces(movement: &Movement) -> [String; 4] {
    let [winds, others, percussion, pitch] = FORCES.map(str::to_owned);
    if !movement.has_bell() {
        return [winds, others, percussion, pitch];
    }
    let percussion = format!("{percussion} \u{b7} Percussion 3: ship's bell");
    [winds, others.replace("2 players", "3 players"), percussion, pitch]
}

fn heading(movement: &Movement) -> String {
    let numeral = if movement.number == 1 { "I" } else { "II" };
    format!("{numeral}. {}", movement.title)
}

fn credit(xml: &mut Xml, sheet: usize, kind: &str, text: &str, at: (Spaces, Spaces), (justify, size): (&str, &str)) {
    xml.open("credit", &[("page", &sheet.to_string())]);
    xml.leaf("credit-type", kind);
    let (x, y) = (tenths(at.0), tenths(at.1));
    let place = [
        ("default-x", x.as_str()),
        ("default-y", y.as_str()),
        ("font-size", size),
        ("justify", justify),
        ("valign", "top"),
    ];
    xml.leaf_with("credit-words", &place, text);
    xml.close();
}
