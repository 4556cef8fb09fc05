use crate::casting_off::{Basis, House, Staves, Wishes, forecast, natural_spread, pages};
use crate::fixture::{QUARTET, put, quarter, record, score};
use crate::layout::{Layout, Record};
use crate::metrics::Metrics;
use crate::place::BarIdx;
use crate::score::Score;
use crate::units::Mm;

/// One bar a system, so many systems a page, eight pages on A4.
fn recorded(systems_a_page: u32) -> (Score, Record) {
    let bars = systems_a_page * 8;
    let mut score = score(&QUARTET, bars);
    for bar in 0..bars {
        put(&mut score, bar, 0, (0..4).map(|beat| quarter("B4", beat)).collect());
    }
    let mut record = record(&score, Mm(5.0));
    record.defaults[0].page.size = Some((Mm(210.0), Mm(297.0)));
    for bar in 1..bars {
        record.bars[bar as usize].new_system = Some(true);
        record.bars[bar as usize].new_page = Some(bar % systems_a_page == 0);
    }
    (score, record)
}

fn with_basis<T>(systems_a_page: u32, look: impl Fn(&Basis<'_>) -> T) -> T {
    let (score, record) = recorded(systems_a_page);
    let (metrics, house) = (Metrics::of(&score), House { staves: Staves::AsRecorded, ..House::default() });
    let pages = pages(&score, &metrics, &record, &house);
    look(&Basis { score: &score, metrics: &metrics, record: &record, pages: &pages, house: &house })
}

fn systems_on_pages(layout: &Layout) -> Vec<usize> {
    layout.pages.iter().map(|page| page.systems.len()).collect()
}

#[test]
fn pages_filled_with_learned_gaps_hold_what_the_recorded_ones_hold() {
    for systems_a_page in [2, 3, 4] {
        with_basis(systems_a_page, |basis| {
            let spread = natural_spread(basis, |_| true).unwrap_or(0.0);
            let house = basis.house.clone().spread(spread);
            let wishes = Wishes::keeping_systems(basis.pages);
            let filled = forecast(&Basis { house: &house, ..*basis }, &wishes).unwrap_or_default();
            assert_eq!(systems_on_pages(&filled), vec![systems_a_page as usize; 8]);
        });
    }
}

#[test]
fn fewer_systems_on_a_page_stand_further_apart() {
    let spread = |systems| with_basis(systems, |basis| natural_spread(basis, |_| true)).unwrap_or(0.0);
    assert!(spread(2) > spread(3) && spread(3) > spread(4));
}

#[test]
fn two_pages_and_pages_of_one_system_tell_nothing() {
    assert_eq!(with_basis(3, |basis| natural_spread(basis, |page| page < 2)), None);
    assert_eq!(with_basis(1, |basis| natural_spread(basis, |_| true)), None);
}

#[test]
fn a_bar_that_no_recorded_system_begins_with_is_no_matter() {
    with_basis(3, |basis| {
        let mut pages = basis.pages.clone();
        for system in pages.pages.iter_mut().flat_map(|page| &mut page.systems) {
            for bar in &mut system.bars {
                bar.bars = bar
                    .bars
                    .map(|span| crate::place::BarSpan::new(BarIdx(span.first.0 + 900), BarIdx(span.last.0 + 900)));
            }
        }
        assert_eq!(natural_spread(&Basis { pages: &pages, ..*basis }, |_| true), None);
    });
}
