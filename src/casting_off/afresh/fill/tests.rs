use proptest::prelude::*;

use crate::casting_off::{Basis, House, Sheet, Wishes, forecast, on_sheet};
use crate::fixture::{QUARTET, put, quarter, record, score};
use crate::layout::Layout;
use crate::metrics::Metrics;
use crate::place::BarIdx;
use crate::score::{Family, Score};
use crate::units::Mm;

/// A quartet whose bars hold so many quarter notes in the staff: of different widths, of one height.
fn quartet(quarters: &[i64]) -> Score {
    let mut score = score(&QUARTET, quarters.len() as u32);
    for (bar, count) in (0..).zip(quarters) {
        put(&mut score, bar, 0, (0..*count).map(|beat| quarter("B4", beat)).collect());
    }
    score
}

fn sheet(width: f64, height: f64, staff_height: f64) -> Sheet {
    Sheet { paper: Some((Mm(width), Mm(height))), margins: Some(Mm(10.0)), staff_height: Some(Mm(staff_height)) }
}

fn forecast_on(score: &Score, sheet: &Sheet, wishes: &Wishes) -> Layout {
    let record = on_sheet(&record(score, Mm(7.0)), sheet, score);
    let (metrics, house, pages) = (Metrics::of(score), House::default(), Layout::default());
    let basis = Basis { score, metrics: &metrics, record: &record, pages: &pages, house: &house };
    forecast(&basis, wishes).unwrap_or_default()
}

/// The bars of all systems one after another.
fn bars(layout: &Layout) -> Vec<u32> {
    let spans = layout.systems().flat_map(|(_, _, system)| &system.bars).filter_map(|bar| bar.bars);
    spans.flat_map(|span| span.iter().map(|bar| bar.0)).collect()
}

fn system_starts(layout: &Layout) -> Vec<BarIdx> {
    layout.systems().filter_map(|(_, _, system)| Some(system.span()?.first)).collect()
}

fn page_starts(layout: &Layout) -> Vec<BarIdx> {
    layout.pages.iter().filter_map(|page| Some(page.span()?.first)).collect()
}

fn any_quarters() -> impl Strategy<Value = Vec<i64>> {
    prop::collection::vec(0..5i64, 1..80)
}

fn any_bars() -> impl Strategy<Value = Vec<u32>> {
    prop::collection::vec(0..80u32, 0..6)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_bar_is_placed_once_and_in_order(
        quarters in any_quarters(), width in 25.0..300.0f64, height in 25.0..420.0f64, staff in 1.0..20.0f64,
    ) {
        let layout = forecast_on(&quartet(&quarters), &sheet(width, height, staff), &Wishes::default());
        prop_assert_eq!(bars(&layout), (0..quarters.len() as u32).collect::<Vec<u32>>());
        prop_assert!(layout.pages.iter().all(|page| !page.systems.is_empty()));
    }

    #[test]
    fn forced_breaks_are_kept(quarters in any_quarters(), systems in any_bars(), pages in any_bars()) {
        let within = |bars: Vec<u32>| -> Vec<BarIdx> {
            bars.into_iter().filter(|bar| (*bar as usize) < quarters.len()).map(BarIdx).collect()
        };
        let (system_breaks, page_breaks) = (within(systems), within(pages));
        let wishes = Wishes {
            system_breaks: system_breaks.clone(), page_breaks: page_breaks.clone(), ..Wishes::default()
        };
        let layout = forecast_on(&quartet(&quarters), &sheet(210.0, 297.0, 7.0), &wishes);
        let (systems, pages) = (system_starts(&layout), page_starts(&layout));
        prop_assert!(system_breaks.iter().all(|bar| systems.contains(bar)), "{systems:?}");
        prop_assert!(page_breaks.iter().all(|bar| pages.contains(bar)), "{pages:?}");
    }

    // Bars without a note are left out: systems of nothing else show all staves, and which systems those are depends on
    // where the lines end, so that a larger staff may come out lower.
    #[test]
    fn a_larger_staff_never_needs_fewer_systems_or_pages(
        quarters in prop::collection::vec(1..5i64, 1..80), staff in 2.0..10.0f64, more in 0.0..6.0f64,
    ) {
        let score = quartet(&quarters);
        let small = forecast_on(&score, &sheet(210.0, 297.0, staff), &Wishes::default());
        let large = forecast_on(&score, &sheet(210.0, 297.0, staff + more), &Wishes::default());
        prop_assert!(small.systems().count() <= large.systems().count());
        prop_assert!(small.pages.len() <= large.pages.len());
    }

    #[test]
    fn the_same_music_gives_the_same_pages(quarters in any_quarters()) {
        let score = quartet(&quarters);
        let pages = || forecast_on(&score, &sheet(210.0, 297.0, 7.0), &Wishes::default());
        prop_assert_eq!(pages(), pages());
    }
}

#[test]
fn a_bar_wider_than_the_line_stands_alone() {
    let layout = forecast_on(&quartet(&[4, 4, 4]), &sheet(30.0, 297.0, 7.0), &Wishes::default());
    assert_eq!(system_starts(&layout), [BarIdx(0), BarIdx(1), BarIdx(2)]);
}

#[test]
fn one_bar_makes_one_system() {
    let layout = forecast_on(&quartet(&[1]), &sheet(210.0, 297.0, 7.0), &Wishes::default());
    assert_eq!((layout.pages.len(), bars(&layout)), (1, vec![0]));
}

#[test]
fn staves_higher_than_the_page_stand_one_system_a_page() {
    let many = vec![("Violin I", Family::Strings, 1); 60];
    let layout = forecast_on(&score(&many, 40), &sheet(210.0, 297.0, 7.0), &Wishes::default());
    assert_eq!(bars(&layout), (0..40).collect::<Vec<u32>>());
    assert!(layout.pages.len() > 1);
    assert!(layout.pages.iter().all(|page| page.systems.len() == 1));
}

#[test]
fn no_room_between_the_margins_gives_no_pages() {
    assert_eq!(forecast_on(&quartet(&[4, 4]), &sheet(210.0, 20.0, 7.0), &Wishes::default()), Layout::default());
}
