use proptest::prelude::*;

use super::*;
use crate::casting_off::{House, pages};
use crate::fixture::{self, QUARTET, distance, put, put_dynamic, quarter};
use crate::layout::{Record, Side};
use crate::metrics::{Extents, Metrics};
use crate::place::PartId;
use crate::score::{Family, SystemMark, SystemMarkKind};
use crate::units::{Fraction, Mm, Seconds, Spaces};

/// Two bars a page, 90 mm each, staves of 4 mm and 8 mm apart.
fn two_bars_a_page(score: &Score) -> Record {
    let mut record = fixture::record(score, Mm(4.0));
    record.defaults[0].page.size = Some((Mm(210.0), Mm(297.0)));
    record.defaults[0].staves = (1..score.staves.len() as u16).map(|staff| distance(staff, 8.0)).collect();
    for (at, bar) in record.bars.iter_mut().enumerate() {
        bar.width = Some(Mm(90.0));
        bar.new_page = (at % 2 == 0).then_some(true);
    }
    record
}

fn measured(score: &Score) -> Survey {
    recorded(score, &two_bars_a_page(score))
}

fn recorded(score: &Score, record: &Record) -> Survey {
    let metrics = Metrics::of(score);
    survey(score, &pages(score, &metrics, record, &House::default()), &metrics.extents)
}

fn tempo(bar: u32, words: &str) -> SystemMark {
    SystemMark {
        bar: BarIdx(bar),
        onset: Fraction::ZERO,
        kind: SystemMarkKind::Tempo { words: words.to_owned(), metronome: None, quarters_per_minute: None },
        over: vec![StaffId(0)],
        at: crate::score::Position::default(),
    }
}

/// Everybody plays a note in every bar.
fn all_play(bars: u32) -> Score {
    let mut score = fixture::score(&QUARTET, bars);
    for bar in 0..bars {
        (0..4).for_each(|staff| put(&mut score, bar, staff, vec![quarter("B4", 0)]));
    }
    score
}

#[test]
fn the_first_right_hand_page_is_an_opening_of_its_own() {
    let survey = measured(&all_play(10));
    let openings: Vec<Vec<u32>> =
        survey.openings.iter().map(|opening| opening.pages.iter().map(|page| page.0).collect()).collect();
    assert_eq!(openings, [vec![0], vec![1, 2], vec![3, 4]]);
    let seconds: Vec<Option<Seconds>> = survey.openings.iter().map(|opening| opening.seconds).collect();
    // Bars of two seconds, two a page.
    assert_eq!(seconds, [Some(Seconds(4.0)), Some(Seconds(8.0)), Some(Seconds(8.0))]);
}

#[test]
fn a_score_that_begins_on_the_left_opens_with_two_pages() {
    let score = all_play(6);
    let mut record = two_bars_a_page(&score);
    record.bars[0].page_number = Some("2".to_owned());
    let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
    assert_eq!(layout.pages[0].side, Side::Verso);
    let openings = survey(&score, &layout, &Extents::of(&score)).openings;
    assert_eq!(openings.iter().map(|opening| opening.pages.len()).collect::<Vec<_>>(), [2, 1]);
}

#[test]
fn time_that_is_not_known_stays_unknown() {
    let mut score = all_play(4);
    score.bars[0].seconds = None;
    let survey = measured(&score);
    assert_eq!(survey.openings[0].seconds, None);
    assert_eq!(survey.pages[0].seconds, None);
    assert!(!survey.timeline.timed);
}

fn after_first_turn(score: &Score) -> Vec<(AfterTurnKind, u32, f64, String)> {
    let survey = measured(score);
    let found = survey.openings[1].after_turn.iter();
    found.map(|found| (found.kind, found.bar.0, found.seconds.0, found.what.clone())).collect()
}

#[test]
fn a_tempo_overleaf_is_met_when_it_begins_within_three_seconds() {
    let mut score = all_play(8);
    score.marks = vec![tempo(3, "Allegro"), tempo(4, "Presto")];
    // The turn comes before bar 2: bar 3 begins two seconds after it, bar 4 four.
    assert_eq!(after_first_turn(&score), [(AfterTurnKind::NewTempo, 3, 2.0, "Allegro".to_owned())]);
}

#[test]
fn metres_that_change_all_the_time_surprise_nobody() {
    let mut score = all_play(8);
    score.bars[2].metre_changes = true;
    assert_eq!(after_first_turn(&score), [(AfterTurnKind::NewMetre, 2, 0.0, "4/4".to_owned())]);
    for bar in 3..8 {
        score.bars[bar].metre_changes = true;
    }
    assert_eq!(after_first_turn(&score), []);
}

#[test]
fn a_fermata_and_a_silence_of_all_are_met() {
    let mut score = all_play(8);
    let mut held = quarter("B4", 2);
    held.fermata = true;
    put(&mut score, 2, 1, vec![held]);
    (0..4).for_each(|staff| put(&mut score, 3, staff, vec![fixture::rest()]));
    let expected = [
        // Half of a bar of two seconds.
        (AfterTurnKind::Fermata, 2, 1.0, "fermata".to_owned()),
        (AfterTurnKind::GeneralPause, 3, 2.0, "silence of all".to_owned()),
    ];
    assert_eq!(after_first_turn(&score), expected);
}

#[test]
fn an_entry_after_six_bars_of_silence_is_not_exposed() {
    let mut score = fixture::score(&QUARTET, 14);
    (0..6).for_each(|bar| put(&mut score, bar, 0, vec![quarter("B4", 0)]));
    put(&mut score, 6, 3, vec![quarter("D3", 1)]);
    let survey = measured(&score);
    // Pages 0 | 1 2 | 3 4 | 5 6: the third opening begins with bar 6.
    assert_eq!(survey.openings[2].bars.unwrap().first, BarIdx(6));
    assert_eq!(
        survey.openings[2].after_turn.iter().filter(|found| found.kind == AfterTurnKind::ExposedEntry).count(),
        0
    );
}

#[test]
fn an_exposed_entry_names_its_player() {
    let mut score = fixture::score(&QUARTET, 14);
    (0..10).for_each(|bar| put(&mut score, bar, 0, vec![quarter("B4", 0)]));
    put(&mut score, 10, 3, vec![quarter("D3", 1)]);
    let survey = measured(&score);
    // Pages 0 | 1 2 | 3 4 | 5 6: the last opening begins with bar 10.
    let found = &survey.openings[3].after_turn[0];
    assert_eq!((found.kind, found.bar), (AfterTurnKind::ExposedEntry, BarIdx(10)));
    // One beat of four in a bar of two seconds.
    assert_eq!((found.seconds, found.what.as_str()), (Seconds(0.5), "entry of Violoncello nearly alone"));
}

#[test]
fn a_sudden_fortissimo_is_met_unless_it_was_led_up_to() {
    let mut score = all_play(8);
    for staff in 0..4 {
        put_dynamic(&mut score, 0, staff, "p");
        put_dynamic(&mut score, 2, staff, "ff");
    }
    assert_eq!(after_first_turn(&score), [(AfterTurnKind::ExposedEntry, 2, 0.0, "suddenly ff".to_owned())]);
    for staff in 0..4 {
        let at = 4 + staff;
        let kind = crate::score::MarkKind::Words("cresc. molto".to_owned());
        let (onset, above, at_place) = (Fraction::ZERO, None, crate::score::Position::default());
        score.cells[at].marks.push(crate::score::StaffMark { onset, kind, above, at: at_place, nth: None });
    }
    assert_eq!(after_first_turn(&score), []);
}

#[test]
fn gaps_tell_their_kind_and_height() {
    let parts = [("Flute", Family::Woodwind, 1), ("Horn", Family::Brass, 1), ("Harp", Family::Keyboard, 2)];
    let score = fixture::score(&parts, 2);
    let survey = measured(&score);
    let gaps: Vec<(GapKind, Mm, Spaces)> = survey.gaps.iter().map(|gap| (gap.kind, gap.height, gap.spaces)).collect();
    let eight = |kind| (kind, Mm(8.0), Spaces(8.0));
    assert_eq!(gaps, [eight(GapKind::Families), eight(GapKind::Families), eight(GapKind::Part)]);
    assert!(survey.gaps.iter().all(|gap| gap.tightest.is_none()));
}

#[test]
fn the_tightest_bar_of_a_gap_is_where_contents_come_closest() {
    let mut score = fixture::score(&QUARTET, 2);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    put(&mut score, 1, 0, vec![quarter("C3", 0)]);
    put(&mut score, 1, 1, vec![quarter("C7", 0)]);
    let survey = measured(&score);
    // Spaces of 1 mm: 5 below in both bars, 6 above in the second: 8 - 11 = -3.
    let gap = &survey.gaps[0];
    assert_eq!(gap.tightest, Some(Tightest { bar: BarIdx(1), needed: Mm(11.0) }));
    assert_eq!(gap.clearance(), Mm(-3.0));
}

#[test]
fn systems_are_held_against_what_stands_over_the_same_paper() {
    let mut score = fixture::score(&QUARTET, 4);
    put(&mut score, 0, 3, vec![quarter("C2", 0)]);
    put(&mut score, 3, 0, vec![quarter("C7", 0)]);
    let mut record = two_bars_a_page(&score);
    record.bars[2].new_page = None;
    record.bars[2].new_system = Some(true);
    record.bars[2].system.distance = Some(Mm(12.0));
    let gap = |score: &Score, record: &Record| {
        let survey = recorded(score, record);
        survey.gaps.into_iter().find(|gap| gap.kind == GapKind::Systems).unwrap()
    };
    // Bar 0 stands over bar 2, bar 1 over bar 3: the low note is far from the high one, which needs 6.
    let apart = gap(&score, &record);
    assert_eq!(
        (apart.height, apart.tightest.unwrap().bar, apart.tightest.unwrap().needed),
        (Mm(12.0), BarIdx(2), Mm(8.5))
    );
    put(&mut score, 2, 0, vec![quarter("C7", 0)]);
    // C2 is 20 steps below the middle line: 10 - 2 + 0.5 = 8.5, and 6 above: 14.5.
    assert_eq!(gap(&score, &record).tightest, Some(Tightest { bar: BarIdx(2), needed: Mm(14.5) }));
}

#[test]
fn density_counts_symbols_on_the_width_that_they_stand_on() {
    let mut score = fixture::score(&QUARTET, 2);
    let mut sharp = quarter("F5", 1);
    let crate::score::EventKind::Chord(notes) = &mut sharp.kind else { unreachable!() };
    notes[0].accidental = true;
    put(&mut score, 0, 0, vec![quarter("G4", 0), sharp, quarter("A4", 2), quarter("A4", 3)]);
    put_dynamic(&mut score, 0, 0, "p");
    let survey = measured(&score);
    let cell = survey.density.cell(BarIdx(0), StaffId(0));
    // G, F, A and its repetition read as one: 3; accidental 1; dynamic 1; the first metre 1.
    assert_eq!(cell.symbols, 6.0);
    // 90 mm are 90 spaces of 1 mm: 6 / 90 * 100.
    assert!((cell.per_100_spaces.unwrap() - 6.667).abs() < 0.001);
    assert_eq!(survey.density.cell(BarIdx(0), StaffId(1)).per_100_spaces, None, "silent");
    assert!((survey.pages[0].density.unwrap() - 6.667).abs() < 0.001);
}

#[test]
fn a_page_is_as_full_as_its_staves_reach() {
    let survey = measured(&all_play(2));
    // Four staves of 4 mm and three gaps of 8 mm: 40 of 297 - 2 * 15 = 267 mm.
    assert!((survey.pages[0].fill - 40.0 / 267.0).abs() < 1e-6);
}

#[test]
fn landmarks_divide_the_music_into_stretches() {
    let mut score = all_play(8);
    score.marks = vec![tempo(0, "Andante"), tempo(4, "Allegro")];
    let rehearsal = SystemMark { kind: SystemMarkKind::Rehearsal("A".to_owned()), ..tempo(4, "") };
    score.marks.push(rehearsal);
    let timeline = measured(&score).timeline;
    let stretches: Vec<(u32, f64, f64)> =
        timeline.stretches.iter().map(|s| (s.bars.count(), s.starts.0, s.seconds.0)).collect();
    assert_eq!(stretches, [(4, 0.0, 8.0), (4, 8.0, 8.0)]);
    assert_eq!(timeline.landmarks[0].metre.as_deref(), Some("4/4"), "the metre that a movement begins in is told");
    assert_eq!(timeline.landmarks[1].metre, None);
    assert_eq!(timeline.landmarks[1].rehearsal.as_deref(), Some("A"));
    assert_eq!(timeline.landmarks[1].tempo.as_deref(), Some("Allegro"));
    assert!(timeline.timed);
}

#[test]
fn passages_are_joined_over_rests_shorter_than_a_bar() {
    let mut score = all_play(6);
    put(&mut score, 3, 0, vec![fixture::rest()]);
    let (part, spans) = &measured(&score).timeline.plays[0];
    assert_eq!(*part, PartId(0));
    assert_eq!(spans, &[BarSpan::new(BarIdx(0), BarIdx(2)), BarSpan::new(BarIdx(4), BarIdx(5))]);
}

#[test]
fn shown_staves_are_told_system_by_system() {
    let survey = measured(&all_play(4));
    assert_eq!(survey.shown.len(), 2);
    assert_eq!(survey.shown[1].bars, BarSpan::new(BarIdx(2), BarIdx(3)));
    assert_eq!(survey.shown[1].staves.len(), 4);
}

#[test]
fn an_empty_score_is_surveyed_without_a_word() {
    let survey = survey(&Score::default(), &crate::layout::Layout::default(), &Extents::default());
    assert!(survey.gaps.is_empty() && survey.openings.is_empty() && survey.timeline.stretches.is_empty());
}

proptest! {
    #[test]
    fn whatever_a_file_records_is_surveyed_page_by_page(
        bars in proptest::collection::vec(fixture::any_bar(), 1..40),
        height in proptest::option::of(0.0..20.0f64),
    ) {
        let score = all_play(bars.len() as u32);
        let record = Record { defaults: Vec::new(), bars, staff_heights: vec![height.map(Mm)] };
        let layout = pages(&score, &Metrics::of(&score), &record, &House::default());
        let survey = survey(&score, &layout, &Extents::of(&score));
        prop_assert_eq!(survey.pages.len(), layout.pages.len());
        prop_assert_eq!(survey.density.cells.len(), score.cells.len());
        // Every page lies in one opening.
        let opened: Vec<u32> = survey.openings.iter().flat_map(|opening| &opening.pages).map(|page| page.0).collect();
        prop_assert_eq!(opened, (0..layout.pages.len() as u32).collect::<Vec<_>>());
        // A gap between every two staves of a system and every two systems of a page.
        let inside: usize = layout.systems().map(|(_, _, system)| system.staves.len() - 1).sum();
        let between: usize = layout.pages.iter().map(|page| page.systems.len() - 1).sum();
        prop_assert_eq!(survey.gaps.len(), inside + between);
        // The stretches hold the whole time of the music.
        let stretched: f64 = survey.timeline.stretches.iter().map(|stretch| stretch.seconds.0).sum();
        prop_assert!((stretched - 2.0 * score.bars.len() as f64).abs() < 1e-6);
    }
}
