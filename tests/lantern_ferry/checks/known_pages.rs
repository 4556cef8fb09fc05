use crate::facts::{self, pages::foot, pages::needed};
use crate::layout::{PageLayout, lay_out};
use crate::music;
use crate::orchestra::STAVES;
use crate::paper;
use crate::seconds;

/// 11 x 17 inches, the next larger score paper, between the same margins, in tenths.
const LARGER_PAPER: f64 = 431.8 / 0.105 - 300.0;

fn all_pages() -> Vec<PageLayout> {
    music::movements().iter().flat_map(lay_out).collect()
}

fn usable() -> f64 {
    paper::page_height() - paper::MARGIN_TOP - paper::MARGIN_BOTTOM
}

fn collides(page: &PageLayout) -> bool {
    page.systems.iter().any(|system| system.gaps.iter().zip(&system.contents).any(|(gap, contents)| gap < contents))
}

fn staves(page: &PageLayout) -> usize {
    page.systems[0].staves.len()
}

#[test]
fn the_readme_states_the_facts() {
    assert!(include_str!("../README.md").contains(&facts::tables()), "put the output of --facts into README.md");
}

#[test]
fn the_piece_lasts_about_seven_minutes_fifty() {
    let movements = music::movements();
    let bars: usize = movements.iter().map(|movement| movement.bars()).sum();
    let seconds: f64 = movements.iter().map(seconds::total).sum();
    assert_eq!((bars, all_pages().len()), (184, 34));
    assert!((465.0..475.0).contains(&seconds), "{seconds}");
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
    for page in all_pages() {
        assert!(foot(&page) >= 10.0, "the staves of page {} stand inside its margins", page.number);
        assert_eq!(collides(&page), page.number == 32, "page {}", page.number);
        if page.number == 32 {
            assert!(needed(&page) > 1.1 * usable() && needed(&page) < 0.9 * LARGER_PAPER);
        } else {
            assert!(needed(&page) < 0.86 * usable(), "page {}", page.number);
        }
    }
}

#[test]
fn gaps_between_families_are_the_wider_ones_on_every_page() {
    for system in all_pages().iter().flat_map(|page| &page.systems) {
        let gaps = |between| {
            let chosen = move |(at, gap): (usize, &f64)| (system.is_between_families(at) == between).then_some(*gap);
            system.gaps.iter().enumerate().filter_map(chosen)
        };
        let (widest, narrowest) = (gaps(false).fold(0.0, f64::max), gaps(true).fold(f64::INFINITY, f64::min));
        assert!(narrowest >= 1.15 * widest, "bar {}", system.first_bar);
    }
}

#[test]
fn two_systems_stand_apart_on_page_13_and_too_close_on_page_14() {
    for page in all_pages() {
        let expected = if matches!(page.number, 13 | 14) { 2 } else { 1 };
        assert_eq!(page.systems.len(), expected);
        if let [upper, lower] = page.systems.as_slice() {
            let widest = upper.gaps.iter().chain(&lower.gaps).copied().fold(0.0, f64::max);
            let good = page.number == 13;
            assert_eq!(lower.distance > 1.5 * widest, good);
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
    let mut text = String::new();
    facts::marks::rehearsal(&mut text, &music::movements());
    let rows: Vec<Vec<&str>> = text.lines().skip(2).map(|row| row.split(" | ").collect()).collect();
    let letters: String = rows.iter().filter(|row| row.len() == 5).map(|row| row[0].trim_start_matches("| ")).collect();
    assert_eq!(letters, "ABCDEFGHIJKLMNOP");
    let bars: Vec<usize> = rows.iter().filter(|row| row.len() == 5).filter_map(|row| row[3].parse().ok()).collect();
    assert_eq!(bars.len(), 16);
    assert_eq!(bars.iter().filter(|&&bars| bars > 16).collect::<Vec<_>>(), [&28]);
    assert!(bars.iter().all(|&bars| bars >= 8));
}

#[test]
fn one_tempo_change_comes_right_after_the_conductor_turns() {
    let mut after_turns = Vec::new();
    let mut changes = 0;
    for movement in music::movements() {
        let pages = lay_out(&movement);
        let firsts: Vec<usize> =
            pages.iter().filter(|page| paper::is_left(page.number)).map(|page| page.systems[0].first_bar).collect();
        for bar in (2..=movement.bars()).filter(|&bar| movement.head(bar).tempo.is_some()) {
            changes += 1;
            if firsts.contains(&bar) {
                after_turns.push((movement.number, bar));
            }
        }
    }
    assert_eq!((changes, after_turns), (7, vec![(2, 25)]));
}

#[test]
fn marks_cross_the_margin_on_page_17_only() {
    let mut text = String::new();
    facts::marks::margins(&mut text, &music::movements());
    let beyond = |row: &str| -> Option<(usize, f64)> {
        let cells: Vec<&str> = row.trim_matches(['|', ' ']).split(" | ").collect();
        Some((cells.first()?.parse().ok()?, cells.last()?.parse().ok()?))
    };
    let rows: Vec<(usize, f64)> = text.lines().filter_map(beyond).collect();
    assert_eq!(rows.len(), 6);
    for (page, by) in rows {
        assert!(page == 16 && by < -1.0 || page == 17 && by > 1.0, "page {page}: {by}");
    }
}

#[test]
fn the_general_pause_is_silent() {
    let [_, crossing] = music::movements();
    assert!(crossing.head(92).general_pause);
    assert!((0..STAVES).all(|staff| crossing.cell(92, staff).voices.is_empty()));
}
