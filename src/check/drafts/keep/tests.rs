use super::*;
use crate::check::ReprintKind;
use crate::compare::{Sheet, SheetFate};
use crate::geometry::Margins;
use crate::layout::{Known, Origin, PageKind, Side};
use crate::units::Mm;

fn page(label: &str, side: Side) -> Page {
    let margins = Margins { left: Mm(15.0), right: Mm(15.0), top: Mm(15.0), bottom: Mm(15.0) };
    Page {
        size: Known::recorded((Mm(210.0), Mm(297.0))),
        margins: Known::recorded(margins),
        side,
        label: label.to_owned(),
        kind: PageKind::Music,
        breaks: Origin::Recorded,
        systems: Vec::new(),
        texts: Vec::new(),
        seen: None,
    }
}

/// Three leaves of two pages, the second one to be printed.
fn old() -> (Layout, Reprint) {
    let sides = [Side::Recto, Side::Verso].into_iter().cycle();
    let pages = (1..=6).zip(sides).map(|(label, side)| page(&label.to_string(), side)).collect();
    let sheet = |leaf: u32| SheetFate {
        sheet: Sheet { pages: vec![PageIdx(leaf * 2), PageIdx(leaf * 2 + 1)], bars: None },
        fate: if leaf == 1 { Fate::Print } else { Fate::Keep },
        why: Vec::new(),
        numbers: false,
    };
    let run = Run { first: 1, last: 1, new_bars: None };
    let sheets = Sheets { sheets: (0..3).map(sheet).collect(), runs: vec![run], ..Sheets::default() };
    let (reader, kind) = (Reader::Conductor, ReprintKind::Both);
    let own = Reprint { reader, kind, sheets, replacements: Vec::new(), new_sheets: None };
    (Layout { pages, ..Layout::default() }, own)
}

/// Numbers and sides of the pages that so many new ones come to: "3r 4v".
fn placed(count: usize) -> String {
    let (layout, own) = old();
    let replacement = Replacement { room: 2, pages: vec![page("", Side::Recto); count] };
    let pages = replaced(&layout, &own, &own.sheets.runs[0], &replacement);
    let word = |page: &Page| format!("{}{}", page.label, if page.side == Side::Recto { "r" } else { "v" });
    pages.iter().map(word).collect::<Vec<_>>().join(" ")
}

#[test]
fn pages_take_the_sides_and_numbers_of_those_whose_place_they_take() {
    assert_eq!(placed(2), "3r 4v");
    assert_eq!(placed(1), "3r 4v", "half a leaf stays blank");
    assert_eq!(placed(0), "", "a leaf that holds nothing goes");
}

#[test]
fn leaves_are_put_in_whole_behind() {
    assert_eq!(placed(4), "3r 4v 4ar 4bv");
    assert_eq!(placed(3), "3r 4v 4ar 4bv", "the next page stays on its side");
}
