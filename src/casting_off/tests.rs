use proptest::prelude::*;

use super::*;
use crate::fixture::{self, QUARTET, distance, put, quarter};
use crate::layout::{Side, StaffRecord, SystemRecord};
use crate::place::{BarSpan, StaffId};
use crate::score::{Credit, Family};

fn mm(value: f64) -> Option<Mm> {
    Some(Mm(value))
}

fn margins(left: f64, right: f64, top: f64, bottom: f64) -> Option<Margins> {
    Some(Margins { left: Mm(left), right: Mm(right), top: Mm(top), bottom: Mm(bottom) })
}

/// A4 with margins of 15 mm, staves of 6 mm, a break before bar 2, and bars that fill the lines: 180 mm = 2 * 90 mm.
fn recorded_quartet() -> (Score, Record) {
    let score = fixture::score(&QUARTET, 4);
    let mut record = fixture::record(&score, Mm(6.0));
    let defaults = &mut record.defaults[0];
    defaults.page.size = Some((Mm(210.0), Mm(297.0)));
    (defaults.page.odd, defaults.page.even) = (margins(15.0, 15.0, 15.0, 20.0), margins(15.0, 15.0, 15.0, 20.0));
    defaults.system = SystemRecord { left: mm(0.0), right: mm(0.0), ..SystemRecord::default() };
    for bar in &mut record.bars {
        bar.width = mm(90.0);
    }
    let first = &mut record.bars[0];
    first.system.top_distance = mm(25.0);
    first.staves = vec![distance(1, 9.0), distance(2, 10.0), distance(3, 11.0)];
    let second = &mut record.bars[2];
    second.new_system = Some(true);
    second.system.distance = mm(14.0);
    second.staves = vec![distance(1, 8.0), distance(2, 8.0), distance(3, 8.0)];
    (score, record)
}

fn tops(system: &System) -> Vec<f64> {
    system.staves.iter().map(|staff| staff.top.0).collect()
}

#[test]
fn staff_tops_are_margin_distances_and_heights_added_up() {
    let (score, record) = recorded_quartet();
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    assert_eq!(layout.pages.len(), 1);
    let page = &layout.pages[0];
    // 15 margin + 25 top distance = 40; + 6 staff + 9 = 55; + 6 + 10 = 71; + 6 + 11 = 88, which ends at 94.
    assert_eq!(tops(&page.systems[0]), [40.0, 55.0, 71.0, 88.0]);
    assert_eq!(page.systems[0].rect.bottom, Mm(94.0));
    // 94 + 14 = 108; + 6 + 8 = 122; 136; 150.
    assert_eq!(tops(&page.systems[1]), [108.0, 122.0, 136.0, 150.0]);
    let all_recorded = |staff: &crate::layout::PrintedStaff| (staff.placed, staff.sized);
    let staves = page.systems.iter().flat_map(|system| &system.staves);
    assert!(staves.map(all_recorded).all(|found| found == (Origin::Recorded, Origin::Recorded)));
    assert_eq!((page.breaks, page.systems[1].breaks), (Origin::Recorded, Origin::Recorded));
}

#[test]
fn barlines_are_margin_and_widths_added_up() {
    let (score, record) = recorded_quartet();
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let bars = &layout.pages[0].systems[0].bars;
    let edges: Vec<(f64, f64)> = bars.iter().map(|bar| (bar.left.0, bar.right.0)).collect();
    assert_eq!(edges, [(15.0, 105.0), (105.0, 195.0)]);
    assert!(bars.iter().all(|bar| bar.placed == Origin::Recorded));
}

#[test]
fn a_hidden_staff_is_left_out_of_its_system_only() {
    let (score, mut record) = recorded_quartet();
    record.bars[0].staves = vec![distance(1, 9.0), distance(2, 10.0)];
    record.bars[0].staves.push((StaffId(3), StaffRecord { shown: Some(false), ..StaffRecord::default() }));
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let systems = &layout.pages[0].systems;
    assert_eq!(tops(&systems[0]), [40.0, 55.0, 71.0]);
    // The system ends at 77: 77 + 14 = 91, and the fourth staff is back.
    assert_eq!(tops(&systems[1]), [91.0, 105.0, 119.0, 133.0]);
}

#[test]
fn hiding_lasts_where_the_file_also_says_shown() {
    let (score, mut record) = recorded_quartet();
    let say = |staff: u16, shown: bool| (StaffId(staff), StaffRecord { shown: Some(shown), ..StaffRecord::default() });
    record.bars[0].staves.extend([say(2, false), say(3, false)]);
    record.bars[2].staves.push(say(3, true));
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let shown = |system: &System| system.staves.iter().filter_map(|staff| staff.staff).collect::<Vec<_>>();
    let systems = &layout.pages[0].systems;
    assert_eq!(shown(&systems[0]), [StaffId(0), StaffId(1)]);
    assert_eq!(shown(&systems[1]), [StaffId(0), StaffId(1), StaffId(3)]);
}

#[test]
fn a_small_staff_takes_its_share_of_the_height() {
    let (score, mut record) = recorded_quartet();
    record.bars[0].staves.push((StaffId(0), StaffRecord { scale: Some(0.7), ..StaffRecord::default() }));
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let systems = &layout.pages[0].systems;
    // 40 + 0.7 * 6 = 44.2; + 9 = 53.2; + 6 + 10 = 69.2; + 6 + 11 = 86.2.
    assert_eq!(tops(&systems[0]), [40.0, 53.2, 69.2, 86.2]);
    assert_eq!(systems[0].staves[0].height, Mm(4.2));
    assert_eq!(systems[1].staves[0].height, Mm(4.2), "a size lasts until it changes");
}

#[test]
fn a_single_line_has_no_height_of_its_own() {
    let (score, mut record) = recorded_quartet();
    record.bars[0].staves.push((StaffId(1), StaffRecord { lines: Some(1), ..StaffRecord::default() }));
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    // 55 + 0 + 10 = 65; + 6 + 11 = 82.
    assert_eq!(tops(&layout.pages[0].systems[0]), [40.0, 55.0, 65.0, 82.0]);
    assert_eq!(layout.pages[0].systems[0].staves[1].height, Mm(6.0));
}

#[test]
fn margins_and_sides_change_from_page_to_page() {
    let (score, mut record) = recorded_quartet();
    record.defaults[0].page.even = margins(25.0, 15.0, 15.0, 20.0);
    record.bars[2].new_page = Some(true);
    record.bars[2].system.top_distance = mm(5.0);
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let facts = |page: &Page| (page.side, page.label.clone(), page.systems[0].rect.left.0, page.systems[0].rect.top.0);
    assert_eq!(facts(&layout.pages[0]), (Side::Recto, "1".to_owned(), 15.0, 40.0));
    assert_eq!(facts(&layout.pages[1]), (Side::Verso, "2".to_owned(), 25.0, 20.0));
}

#[test]
fn a_page_layout_inside_the_music_holds_for_its_page_alone() {
    let (score, mut record) = recorded_quartet();
    record.bars[0].page.odd = margins(40.0, 15.0, 15.0, 20.0);
    record.bars[2].new_page = Some(true);
    record.bars[2].page_number = Some("7".to_owned());
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    assert_eq!(layout.pages[0].margins.value.left, Mm(40.0));
    assert_eq!(layout.pages[1].margins.value.left, Mm(15.0));
    assert_eq!((layout.pages[1].label.as_str(), layout.pages[1].side), ("7", Side::Recto));
}

#[test]
fn every_movement_has_its_own_scale_and_begins_a_page() {
    let (mut score, mut record) = recorded_quartet();
    fixture::add_movement(&mut score, 2);
    record.defaults.push(record.defaults[0].clone());
    record.staff_heights.push(mm(4.0));
    let mut bar = BarRecord { width: mm(90.0), ..BarRecord::default() };
    bar.system.top_distance = mm(10.0);
    bar.staves = vec![distance(1, 6.0), distance(2, 6.0), distance(3, 6.0)];
    record.bars.extend([bar.clone(), bar]);
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    assert_eq!(layout.pages.len(), 2);
    // 15 + 10 = 25; + 4 + 6 = 35 ...
    assert_eq!(tops(&layout.pages[1].systems[0]), [25.0, 35.0, 45.0, 55.0]);
    assert_eq!(layout.pages[1].label, "2");
}

#[test]
fn what_the_file_leaves_out_is_estimated_and_says_so() {
    let score = fixture::score(&QUARTET, 40);
    let layout = pages(&score, &Metrics::of(&score), &Record::default(), &House::default());
    let page = &layout.pages[0];
    let system = &page.systems[0];
    assert_eq!(page.size, Known::estimated((Mm(297.0), Mm(420.0))));
    assert_eq!(page.margins.origin, Origin::Estimated);
    assert_eq!((page.breaks, system.breaks), (Origin::Estimated, Origin::Estimated));
    assert_eq!(system.bars[0].placed, Origin::Estimated);
    assert_eq!((system.staves[1].placed, system.staves[1].sized), (Origin::Estimated, Origin::Estimated));
    assert_eq!(layout.told, crate::layout::Told { bar_numbers: None, names_on_later_systems: Some(false) });
    // Nothing but rests: 5.5 spaces of 4.5 / 4 mm between the staves.
    assert_eq!((system.staves[1].top - system.staves[0].bottom()).rounded(), Mm(5.5 * 4.5 / 4.0).rounded());
}

#[test]
fn estimated_gaps_make_room_for_low_and_high_notes() {
    let mut score = fixture::score(&QUARTET, 1);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    put(&mut score, 0, 1, vec![quarter("C7", 0)]);
    let layout = pages(&score, &Metrics::of(&score), &Record::default(), &House::default());
    let staves = &layout.pages[0].systems[0].staves;
    // C3 lies 13 steps below the middle line: 6.5 - 2 + 0.5 = 5 spaces below the staff; C7 lies 15 above it: 6 spaces.
    // With half a space of clearance: 11.5 spaces of 1.125 mm.
    assert!(((staves[1].top - staves[0].bottom()) / Mm(1.125) - 11.5).abs() < 0.002);
    assert!(((staves[2].top - staves[1].bottom()) / Mm(1.125) - 5.5).abs() < 0.002);
}

#[test]
fn families_stand_further_apart_than_their_members() {
    let parts = [("Flute", Family::Woodwind, 1), ("Oboe", Family::Woodwind, 1), ("Horn", Family::Brass, 1)];
    let score = fixture::score(&parts, 1);
    let layout = pages(&score, &Metrics::of(&score), &Record::default(), &House::default());
    let staves = &layout.pages[0].systems[0].staves;
    let inside = staves[1].top - staves[0].bottom();
    let between = staves[2].top - staves[1].bottom();
    assert!((between / inside - 1.2).abs() < 0.001, "{inside} {between}");
}

#[test]
fn a_multi_bar_rest_is_one_printed_bar() {
    let (mut score, record) = recorded_quartet();
    score.bars[0].multi_bar_rest = Some(2);
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let bars = &layout.pages[0].systems[0].bars;
    assert_eq!(bars.len(), 1);
    assert_eq!((bars[0].bars.map(BarSpan::count), bars[0].right), (Some(2), Mm(195.0)));
}

#[test]
fn titles_stand_on_their_page_in_an_estimated_box() {
    let (mut score, record) = recorded_quartet();
    score.credits.push(Credit {
        page: 1,
        text: "Suite".to_owned(),
        x: mm(105.0),
        y: mm(20.0),
        justify: Some("center".to_owned()),
        points: Some(24.0),
        ..Credit::default()
    });
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let text = &layout.pages[0].texts[0];
    let rect = text.rect.unwrap_or_default();
    // Five letters of half of 24 points (8.467 mm): 21.167 mm about the middle of the page.
    assert_eq!((rect.left, rect.right), (Mm(94.417), Mm(115.583)));
    assert_eq!(text.placed, Origin::Estimated);
}

#[test]
fn printed_page_numbers_tell_of_blank_pages_before_the_music() {
    let (mut score, mut record) = recorded_quartet();
    record.bars[0].page_number = Some("10".to_owned());
    record.bars[2].new_page = Some(true);
    let number = |page, text: &str| Credit {
        page,
        text: text.to_owned(),
        kind: Some("page number".to_owned()),
        ..Credit::default()
    };
    // The file counts a blank page before its first page of music.
    score.credits = vec![number(2, "10"), number(3, "11")];
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    let labels: Vec<&str> = layout.pages.iter().map(|page| page.label.as_str()).collect();
    assert_eq!(labels, ["10", "11"]);
    assert!(layout.pages.iter().all(|page| page.texts.len() == 1));
    assert_eq!(layout.pages[0].side, Side::Verso);
}

#[test]
fn dividers_are_known_only_where_the_file_tells() {
    let (score, mut record) = recorded_quartet();
    let divider = |record: &Record| {
        pages(&score, &Metrics::of(&score), record, &House::default()).pages[0].systems[1].divider_above
    };
    assert_eq!(divider(&record), None);
    record.defaults[0].system.dividers = Some(true);
    assert_eq!(divider(&record), Some(true));
}

#[test]
fn forced_breaks_alone_do_not_squeeze_a_movement_onto_two_lines() {
    let (score, mut record) = {
        let score = fixture::score(&QUARTET, 60);
        let record = fixture::record(&score, Mm(6.0));
        (score, record)
    };
    record.bars[30].new_system = Some(true);
    record.bars.iter_mut().for_each(|bar| bar.width = mm(40.0));
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    // 297 - 2 * 15 = 267 mm hold six bars of 40 mm: five lines of six for each thirty bars.
    let spans: Vec<u32> = layout.systems().filter_map(|(_, _, system)| system.span()).map(BarSpan::count).collect();
    assert_eq!(spans, [6; 10]);
    assert!(layout.systems().all(|(_, _, system)| system.breaks == Origin::Estimated));
}

proptest! {
    #[test]
    fn every_bar_is_placed_once_and_in_order(
        bars in proptest::collection::vec(fixture::any_bar(), 1..40),
        height in proptest::option::of(0.0..20.0f64),
    ) {
        let score = fixture::score(&QUARTET, bars.len() as u32);
        let record = Record { defaults: Vec::new(), bars, staff_heights: vec![height.map(Mm)] };
        let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
        let printed = layout.systems().flat_map(|(_, _, system)| &system.bars).filter_map(|bar| bar.bars);
        let placed: Vec<u32> = printed.flat_map(|span| span.iter()).map(|bar| bar.0).collect();
        prop_assert_eq!(placed, (0..score.bars.len() as u32).collect::<Vec<_>>());
    }

    #[test]
    fn boxes_are_ordered_down_the_page_and_along_the_line(bars in proptest::collection::vec(fixture::any_bar(), 1..40)) {
        let score = fixture::score(&QUARTET, bars.len() as u32);
        let record = Record { defaults: Vec::new(), bars, staff_heights: vec![mm(5.0)] };
        let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
        for page in &layout.pages {
            for pair in page.systems.windows(2) {
                prop_assert!(pair[0].rect.bottom <= pair[1].rect.top);
            }
            for system in &page.systems {
                prop_assert!(!system.staves.is_empty());
                prop_assert!(system.rect.left <= system.rect.right && system.rect.top <= system.rect.bottom);
                prop_assert!(system.staves.windows(2).all(|pair| pair[0].bottom() <= pair[1].top));
                prop_assert!(system.bars.windows(2).all(|pair| pair[0].right == pair[1].left));
                prop_assert!(system.bars.iter().all(|bar| bar.left <= bar.right));
            }
        }
    }
}
