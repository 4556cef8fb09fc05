//! A part of twenty-four bars on three leaves, four bars a page: what is touched, worked out by hand.

use super::*;
use crate::compare::{self, music};
use crate::fixture;
use crate::geometry::{Margins, Rect};
use crate::layout::{Known, Origin, PageKind, PrintedBar, System};
use crate::players::blocks::{Block, blocks};
use crate::score::{Event, Family, Score, SystemMark, SystemMarkKind};
use crate::units::Fraction;

const FLUTE: [fixture::PartPlan; 1] = [("Flute", Family::Woodwind, 1)];

fn note(bar: u32, beat: i64) -> Event {
    let name = ["C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5", "D5", "E5", "F5", "G5"][bar as usize % 12];
    fixture::quarter(name, beat)
}

/// Plays in all bars but 9 to 16, each its own.
fn draft() -> Score {
    let mut score = fixture::score(&FLUTE, 24);
    for bar in (0..8).chain(16..24) {
        fixture::put(&mut score, bar, 0, vec![note(bar, 0), note(bar / 2, 2)]);
    }
    score
}

fn of_bars(score: &Score, bars: impl IntoIterator<Item = usize>) -> Score {
    let bars: Vec<usize> = bars.into_iter().collect();
    let mut own = score.clone();
    own.bars = bars.iter().map(|bar| score.bars[*bar].clone()).collect();
    own.cells = bars.iter().map(|bar| score.cells[*bar].clone()).collect();
    own.movements[0].bars.last = BarIdx(bars.len() as u32 - 1);
    own
}

/// Pages 1 to 6, of four bars each, the first on the right.
fn layout() -> Layout {
    let bar = |at: u32| PrintedBar {
        left: Mm(20.0),
        right: Mm(40.0),
        bars: Some(BarSpan::one(BarIdx(at))),
        placed: Origin::Recorded,
    };
    let page = |nth: u32| Page {
        size: Known::recorded((Mm(210.0), Mm(297.0))),
        margins: Known::recorded(Margins::default()),
        side: if nth.is_multiple_of(2) { Side::Recto } else { Side::Verso },
        label: (nth + 1).to_string(),
        kind: PageKind::Music,
        breaks: Origin::Recorded,
        systems: vec![System {
            rect: Rect::new(Mm(20.0), Mm(20.0), Mm(190.0), Mm(27.0)),
            staves: Vec::new(),
            bars: (nth * 4..nth * 4 + 4).map(bar).collect(),
            divider_above: None,
            breaks: Origin::Recorded,
            stretch: None,
        }],
        texts: Vec::new(),
        seen: None,
    };
    Layout { pages: (0..6).map(page).collect(), ..Layout::default() }
}

fn found(old: &Score, new: &Score) -> (Sheets, Music) {
    let music = music(old, new);
    let edits = compare::line(&compare::OwnLine::of(old), &compare::OwnLine::of(new), &music);
    let (old_blocks, new_blocks): (Vec<Block>, Vec<Block>) = (blocks(old), blocks(new));
    let hand = Hand { old, new, old_blocks: &old_blocks, new_blocks: &new_blocks };
    let layout = layout();
    let printed = Printed { layout: &layout, binding: Binding::Booklet, edits: &edits, hand: &hand };
    (sheets(&printed, &music), music)
}

/// "keep", "hand" or "print" for each leaf; then the errata.
fn told(old: &Score, new: &Score) -> (Vec<&'static str>, Vec<String>) {
    let (found, _) = found(old, new);
    let fate = |sheet: &SheetFate| match sheet.fate {
        Fate::Keep => "keep",
        Fate::ByHand => "hand",
        Fate::Print => "print",
    };
    let errata = found.errata.iter().map(|own| format!("{}: {}", old.label(own.old_bar), own.text));
    (found.sheets.iter().map(fate).collect(), errata.collect())
}

#[test]
fn a_leaf_is_two_pages() {
    let pages: Vec<Vec<u32>> =
        leaves(&layout(), Binding::Booklet).iter().map(|leaf| leaf.pages.iter().map(|page| page.0).collect()).collect();
    assert_eq!(pages, [[0, 1], [2, 3], [4, 5]]);
    assert_eq!(leaves(&layout(), Binding::Tablet).len(), 6);
    let mut left = layout();
    left.pages.iter_mut().for_each(|page| page.side = page.side.other());
    let counts: Vec<usize> = leaves(&left, Binding::Booklet).iter().map(|leaf| leaf.pages.len()).collect();
    assert_eq!(counts, [1, 2, 2, 1]);
}

#[test]
fn nothing_changed_nothing_is_touched() {
    assert_eq!(told(&draft(), &draft()), (vec!["keep"; 3], vec![]));
}

#[test]
fn one_note_is_written_in_and_a_rewritten_bar_is_printed() {
    let old = draft();
    let mut new = old.clone();
    fixture::put(&mut new, 18, 0, vec![note(18, 0), fixture::quarter("B5", 2)]);
    assert_eq!(told(&old, &new), (vec!["keep", "keep", "hand"], vec!["19: beat 3: B 5 for E 5".to_owned()]));
    fixture::put(&mut new, 2, 0, vec![fixture::quarter("B5", 1), fixture::quarter("A5", 3)]);
    assert_eq!(told(&old, &new).0, ["print", "keep", "hand"]);
}

#[test]
fn bars_cut_where_the_player_rests_change_a_count() {
    let old = draft();
    // Bars 11 to 13 of the rest from 9 to 16.
    let new = of_bars(&old, (0..10).chain(13..24));
    let (fates, errata) = told(&old, &new);
    assert_eq!(fates, ["keep", "hand", "keep"]);
    assert_eq!(errata, ["9: a rest of 5 in place of 8"]);
    let (back, _) = told(&new, &old);
    assert_eq!(back, ["keep", "hand", "keep"]);
}

#[test]
fn bars_cut_where_the_player_plays_are_printed_again_and_nothing_after_them() {
    let old = draft();
    let new = of_bars(&old, (0..2).chain(4..24));
    let (found, music) = found(&old, &new);
    let fates: Vec<Fate> = found.sheets.iter().map(|sheet| sheet.fate).collect();
    assert_eq!(fates, [Fate::Print, Fate::Keep, Fate::Keep]);
    // What belongs on the first leaf now, and nothing else.
    assert_eq!(found.runs, [Run { first: 0, last: 0, new_bars: Some(BarSpan::new(BarIdx(0), BarIdx(5))) }]);
    assert_eq!(music.count(Status::Deleted), 2);
    assert!(found.sheets.iter().skip(1).all(|sheet| sheet.why.is_empty()));
}

#[test]
fn a_block_that_moved_touches_the_leaf_it_left_and_the_one_it_came_to() {
    let old = draft();
    let new = of_bars(&old, (0..18).filter(|bar| !(2..5).contains(bar)).chain(2..5).chain(18..24));
    let (fates, _) = told(&old, &new);
    assert_eq!(fates, ["print", "keep", "print"]);
}

#[test]
fn a_letter_that_is_new_touches_everybody_who_counts() {
    let old = draft();
    let mut new = old.clone();
    let kind = SystemMarkKind::Rehearsal("B".to_owned());
    let over = vec![crate::place::StaffId(0)];
    new.marks.push(SystemMark { bar: BarIdx(20), onset: Fraction::ZERO, kind, over, at: Default::default() });
    assert_eq!(told(&old, &new), (vec!["keep", "keep", "hand"], vec!["21: beat 1: add letter B".to_owned()]));
    // A part that says "tacet" has no letters.
    let silent = fixture::score(&FLUTE, 24);
    let mut marked = silent.clone();
    marked.marks = new.marks;
    assert_eq!(told(&silent, &marked).0, ["keep"; 3]);
}

#[test]
fn pages_of_the_new_draft_that_are_the_same_are_not_printed() {
    let old = draft();
    let new = of_bars(&old, (0..2).chain(4..24));
    let (mut found, _) = found(&old, &new);
    // The new draft fills the first leaf with what is left and goes on as before: later leaves stay.
    let mut kept = layout();
    for (nth, page) in kept.pages.iter_mut().enumerate() {
        let (first, count) = if nth == 0 { (0, 2) } else { (nth as u32 * 4 - 2, 4) };
        page.systems[0].bars.truncate(count);
        for (bar, at) in page.systems[0].bars.iter_mut().zip(first..) {
            bar.bars = Some(BarSpan::one(BarIdx(at)));
        }
    }
    let binding = Binding::Booklet;
    let print = to_print((&layout(), binding), (&kept, binding), &mut found);
    assert_eq!(print.iter().map(|sheet| sheet.pages.len()).collect::<Vec<_>>(), [2]);
    assert_eq!(found.sheets[1].fate, Fate::Keep);
    // Filled up from the front, every leaf is another one.
    let mut filled = kept.clone();
    for (page, nth) in filled.pages.iter_mut().zip(0..) {
        let bar = page.systems[0].bars[0].clone();
        page.systems[0].bars = (nth * 4..(nth * 4 + 4).min(22))
            .map(|at| PrintedBar { bars: Some(BarSpan::one(BarIdx(at))), ..bar.clone() })
            .collect();
    }
    assert_eq!(to_print((&layout(), binding), (&filled, binding), &mut found).len(), 3);
    assert_eq!(found.sheets[1].fate, Fate::Print);
}
