//! Eight bars on two pages, worked out by hand.

use super::*;
use crate::compare::music;
use crate::fixture;
use crate::geometry::{Margins, Rect};
use crate::layout::{Known, PageKind, PrintedBar, PrintedStaff, Side, StaffRole, System};
use crate::score::{Family, Score};
use crate::survey::{CellDensity, Density, Opening};

fn score(bars: &[u32]) -> Score {
    let mut score = fixture::score(&[("Oboe", Family::Woodwind, 1)], bars.len() as u32);
    for (at, bar) in (0..).zip(bars) {
        let name = ["C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5", "D5"][*bar as usize];
        fixture::put(&mut score, at, 0, vec![fixture::quarter(name, 0), fixture::quarter(name, 2)]);
    }
    score
}

/// Pages of so many bars; the first lies alone on the right.
fn layout(pages: &[u32], height: f64) -> Layout {
    let mut next = 0;
    let page = |(at, count): (usize, &u32)| {
        let first = next;
        next += count;
        let bar = |at: u32| PrintedBar {
            left: Mm(20.0),
            right: Mm(60.0),
            bars: Some(BarSpan::one(BarIdx(at))),
            placed: Origin::Recorded,
        };
        let staff = PrintedStaff {
            staff: Some(StaffId(0)),
            lines: 5,
            top: Mm(20.0),
            height: Mm(height),
            role: StaffRole::Normal,
            placed: Origin::Recorded,
            sized: Origin::Recorded,
        };
        Page {
            size: Known::recorded((Mm(210.0), Mm(297.0))),
            margins: Known::recorded(Margins::default()),
            side: if at.is_multiple_of(2) { Side::Recto } else { Side::Verso },
            label: (at + 1).to_string(),
            kind: PageKind::Music,
            breaks: Origin::Recorded,
            systems: vec![System {
                rect: Rect::new(Mm(20.0), Mm(20.0), Mm(190.0), Mm(20.0 + height)),
                staves: vec![staff],
                bars: (first..first + count).map(bar).collect(),
                divider_above: None,
                breaks: Origin::Recorded,
                stretch: Some(1.0),
            }],
            texts: Vec::new(),
            seen: None,
        }
    };
    Layout { pages: pages.iter().enumerate().map(page).collect(), ..Layout::default() }
}

fn survey(layout: &Layout, density: &[f32]) -> Survey {
    let cell = |own: &f32| CellDensity { symbols: 1.0, per_100_spaces: Some(*own), sounds: true };
    let opening = |at: u32| Opening { pages: vec![PageIdx(at)], bars: None, seconds: None, after_turn: Vec::new() };
    Survey {
        density: Density { staves: 1, cells: density.iter().map(cell).collect() },
        openings: (0..layout.pages.len() as u32).map(opening).collect(),
        ..Survey::default()
    }
}

const OLD: [u32; 8] = [0, 1, 2, 3, 4, 5, 6, 7];
const EVEN: [f32; 8] = [20.0; 8];

fn compared(new_bars: &[u32], new_pages: &[u32], density: &[f32]) -> Pages {
    let (old, new) = (score(&OLD), score(new_bars));
    let music = music(&old, &new);
    let matched = Matched::of(&music);
    let (before, after) = (layout(&[4, 4], 7.0), layout(new_pages, 7.5));
    let (one, other) = (survey(&before, &EVEN), survey(&after, density));
    let sides = (Leaves { layout: &before, survey: &one }, Leaves { layout: &after, survey: &other });
    pages(&sides.0, &sides.1, Some((&music, &matched)))
}

#[test]
fn a_bar_that_was_put_in_is_no_change_of_density() {
    let bars = [0, 1, 2, 8, 3, 4, 5, 6, 7];
    let dense = [20.0, 20.0, 20.0, 90.0, 20.0, 20.0, 20.0, 20.0, 20.0];
    assert_eq!(compared(&bars, &[5, 4], &dense).density, []);
}

#[test]
fn density_is_told_of_passages_and_beyond_the_noise() {
    // A twentieth is noise; one bar is no passage.
    let noise = [21.0, 21.0, 21.0, 21.0, 21.0, 21.0, 30.0, 21.0];
    assert_eq!(compared(&OLD, &[4, 4], &noise).density, []);
    let denser = [20.0, 24.0, 28.0, 20.0, 10.0, 10.0, 10.0, 20.0];
    let told = compared(&OLD, &[4, 4], &denser).density;
    let span = |first, last| BarSpan::new(BarIdx(first), BarIdx(last));
    let expected = [(span(1, 2), 20.0, 26.0), (span(4, 6), 20.0, 10.0)];
    assert_eq!(told.iter().map(|own| (own.bars, own.old, own.new)).collect::<Vec<_>>(), expected);
}

#[test]
fn pages_are_paired_by_the_music_on_them() {
    // Two bars out at the beginning: the second page has moved up.
    let found = compared(&[2, 3, 4, 5, 6, 7], &[2, 4], &EVEN[..6]);
    let pairs: Vec<(Option<u32>, Option<u32>, usize)> =
        found.pairs.iter().map(|pair| (pair.old.map(|at| at.0), pair.new.map(|at| at.0), pair.common)).collect();
    assert_eq!(pairs, [(Some(0), Some(0), 2), (Some(1), Some(1), 4)]);
    assert!(found.pairs[0].differs > found.pairs[1].differs);
    assert_eq!(found.other_opening, 0);
    // Bar 5 lies open with the first page now.
    assert_eq!(compared(&OLD, &[5, 3], &EVEN).other_opening, 1);
}

#[test]
fn figures_say_what_is_known() {
    let found = compared(&OLD, &[4, 4], &EVEN);
    assert_eq!((found.old.pages, found.old.split, found.old.systems), (2, 0, 2));
    assert_eq!(found.old.staff_height, Some((Mm(7.0), Mm(7.0))));
    assert_eq!(found.new.staff_height, Some((Mm(7.5), Mm(7.5))));
    assert_eq!((found.old.gaps, found.old.footing), ([None; 3], Some(Origin::Recorded)));
}
