//! README.md's statements, one by one.

use rastrum::units::{Mm, Seconds, Spaces};

use crate::facts::{self, marks, pages};
use crate::layout::{PageLayout, lay_out};
use crate::music;
use crate::orchestra::STAVES;
use crate::paper;
use crate::seconds;

/// Height of 11 x 17 inches, the next larger score paper.
const LARGER_PAPER: Mm = Mm(431.8);

fn all_pages() -> Vec<PageLayout> {
    music::movements().iter().flat_map(lay_out).collect()
}

fn staves(page: &PageLayout) -> usize {
    page.systems[0].staves.len()
}

fn widest(gaps: impl Iterator<Item = Spaces>) -> Spaces {
    gaps.fold(Spaces::ZERO, Spaces::max)
}

#[test]
fn the_readme_states_the_facts() {
    assert!(include_str!("../README.md").contains(&facts::tables()), "put the output of --facts into README.md");
}

#[test]
fn the_piece_lasts_about_seven_minutes_fifty() {
    let movements = music::movements();
    let bars: usize = movements.iter().map(|movement| movement.bars()).sum();
    let seconds: Seconds = movements.iter().map(seconds::total).sum();
    assert_eq!((bars, all_pages().len()), (184, 34));
    assert!(Seconds(465.0) < seconds && seconds < Seconds(475.0), "{seconds}");
}

#[test]
fn pages_are_numbered_through_both_movements_and_hold_each_bar_once() {
    let numbers: Vec<usize> = all_pages().iter().map(|page| page.number).collect();
    assert_eq!(numbers, (1..=34).collect::<Vec<_>>());
    for movement in music::movements() {
        let systems = lay_out(&movement).into_iter().flat_map(|page| page.systems);
        let bars: Vec<usize> = systems.flat_map(|system| system.first_bar..=system.last_bar).collect();
        assert_eq!(bars, (1..=movement.bars()).collect::<Vec<_>>());
    }
}

#[test]
fn only_page_32_is_overfull_and_larger_paper_would_hold_it() {
    let larger = LARGER_PAPER.in_spaces(paper::STAFF_MM) - paper::MARGIN_TOP - paper::MARGIN_BOTTOM;
    for page in all_pages() {
        assert!(pages::foot(&page) >= Spaces(1.0), "the staves of page {} stand inside its margins", page.number);
        let collisions = page.systems.iter().flat_map(pages::collisions).count();
        let needed = pages::needed(&page);
        if page.number == 32 {
            assert_eq!((collisions, page.systems[0].gaps.len()), (14, 22));
            assert!(needed > page.height * 1.1 && needed < larger * 0.9);
        } else {
            assert_eq!(collisions, usize::from(page.number == 5), "page {}", page.number);
            assert!(needed < page.height * 0.86, "page {}", page.number);
        }
    }
}

#[test]
fn one_gap_of_page_5_is_too_small_for_what_stands_in_it() {
    let pages = all_pages();
    let system = &pages[4].systems[0];
    assert_eq!(pages::collisions(system), ["Vla. / Vc.: 3.5 < 6.0"]);
    assert!(system.gaps.iter().filter(|gap| **gap < Spaces(7.5)).count() == 1, "the others have room");
    assert!(pages[3].systems[0].gaps.iter().all(|gap| *gap > Spaces(7.5)));
}

#[test]
fn gaps_between_families_are_the_wider_ones_on_every_page() {
    for system in all_pages().iter().flat_map(|page| &page.systems) {
        let narrowest = pages::gaps(system, true).fold(Spaces(f64::INFINITY), Spaces::min);
        assert!(narrowest >= widest(pages::gaps(system, false)) * 1.15, "bar {}", system.first_bar);
    }
}

#[test]
fn two_systems_stand_apart_on_page_13_and_too_close_on_page_14() {
    for page in all_pages() {
        let expected = if matches!(page.number, 13 | 14) { 2 } else { 1 };
        assert_eq!(page.systems.len(), expected);
        if let [upper, lower] = page.systems.as_slice() {
            let widest = widest(upper.gaps.iter().chain(&lower.gaps).copied());
            let good = page.number == 13;
            assert_eq!(lower.distance > widest * 1.5, good);
            assert_eq!(lower.distance <= widest, !good);
            assert_eq!(lower.divider, good);
            assert!(lower.distance >= upper.under_foot + lower.over_top, "nothing collides all the same");
        }
    }
}

#[test]
fn the_set_of_staves_changes_inside_one_opening_only() {
    let pages = all_pages();
    let opening = |left: usize| (staves(&pages[left - 1]), staves(&pages[left]));
    let one_system = |left: &usize| pages[*left - 1..=*left].iter().all(|page| page.systems.len() == 1);
    let openings = (1..17).map(|at| 2 * at).filter(one_system);
    let changing: Vec<usize> = openings.filter(|&left| opening(left).0 != opening(left).1).collect();
    assert_eq!(changing, [6]);
    assert_eq!((opening(6), staves(&pages[7])), ((23, STAVES), 23));
    assert!([26, 28].map(opening).iter().all(|&pair| pair == (STAVES, STAVES)), "long divided, yet calm");
}

#[test]
fn one_way_between_rehearsal_marks_is_too_long() {
    let marks = marks::rehearsal_marks(&music::movements());
    assert_eq!(marks.iter().map(|mark| mark.letter).collect::<String>(), "ABCDEFGHIJKLMNOP");
    for mark in &marks {
        let too_long = mark.bars_before > 24 && mark.time_before > Seconds(40.0);
        assert_eq!(too_long, mark.letter == "O");
        assert!(too_long || (8..=16).contains(&mark.bars_before), "{}", mark.letter);
    }
}

#[test]
fn one_tempo_change_comes_right_after_the_conductor_turns() {
    let mut after_turns = Vec::new();
    let mut changes = 0;
    for movement in music::movements() {
        let pages = lay_out(&movement);
        let overleaf = |bar| pages.iter().any(|page| paper::is_left(page.number) && page.first_bar() == bar);
        for bar in (2..=movement.bars()).filter(|&bar| movement.head(bar).tempo.is_some()) {
            changes += 1;
            if overleaf(bar) {
                after_turns.push((movement.number, bar));
            }
        }
    }
    assert_eq!((changes, after_turns), (7, vec![(2, 25)]));
}

#[test]
fn marks_cross_the_margin_on_page_17_only() {
    let marks = marks::near_margins(&music::movements());
    assert_eq!(marks.len(), 6);
    for mark in marks {
        let (inside, beyond) = (mark.beyond < Spaces(-1.0), mark.beyond > Spaces(1.0));
        assert!(mark.page == 16 && inside || mark.page == 17 && beyond, "page {}, bar {}", mark.page, mark.bar);
    }
}

#[test]
fn the_general_pause_is_silent() {
    let [_, crossing] = music::movements();
    assert!(crossing.head(92).general_pause);
    assert!((0..STAVES).all(|staff| crossing.cell(92, staff).voices.is_empty()));
}
