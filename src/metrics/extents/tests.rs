use super::*;
use crate::fixture::{self, QUARTET, put, put_dynamic, quarter};
use crate::place::PartId;
use crate::score::{MarkKind, Position, StaffMark, Stem, SystemMark, SystemMarkKind};
use crate::units::Fraction;

fn quartet(events: Vec<crate::score::Event>) -> Score {
    let mut score = fixture::score(&QUARTET, 2);
    put(&mut score, 0, 0, events);
    score
}

fn first(score: &Score) -> Extent {
    Extents::of(score).at(BarIdx(0), StaffId(0))
}

fn five_lines(staff: u16) -> StaffSize {
    StaffSize { staff: StaffId(staff), scale: 1.0, lines: 5 }
}

#[test]
fn a_rest_stays_inside_its_staff() {
    assert_eq!(first(&quartet(Vec::new())), Extent::default());
}

#[test]
fn a_low_note_hangs_below_by_its_ledger_lines_and_half_a_head() {
    // C4 is six steps below the middle line: 3 - 2 + 0.5 = 1.5; its stem of 3.5 ends half a space above that line.
    let extent = first(&quartet(vec![quarter("C4", 0)]));
    assert_eq!((extent.below, extent.above), (Spaces(1.5), Spaces::ZERO));
}

#[test]
fn a_stem_spans_an_octave_and_less_away_from_the_staff() {
    let up = |name| {
        let mut event = quarter(name, 0);
        event.stem = Stem::Up;
        first(&quartet(vec![event])).above
    };
    // G4 is two steps below the middle line: -1 - 2 + 3.5 = 0.5.
    assert_eq!(up("G4"), Spaces(0.5));
    // F5 is four steps above it, its stem points away from the staff and loses a quarter of 2: 2 - 2 + 3.
    assert_eq!(up("F5"), Spaces(3.0));
}

#[test]
fn stems_from_far_ledger_lines_reach_the_middle_line_and_no_further() {
    let mut event = quarter("C3", 0);
    event.stem = Stem::Up;
    assert_eq!(first(&quartet(vec![event])).above, Spaces::ZERO);
}

#[test]
fn a_dynamic_stands_outside_of_what_hangs_below_the_staff() {
    let mut score = quartet(vec![quarter("C4", 0)]);
    put_dynamic(&mut score, 0, 0, "p");
    // 1.5 of the note and 2.2 of the dynamic.
    assert!((first(&score).below.0 - 3.7).abs() < 1e-6);
}

#[test]
fn an_octave_line_brings_its_notes_down_and_stands_above_them() {
    let high = || vec![quarter("G6", 0)];
    // G6 is twelve steps above the middle line: 6 - 2 + 0.5 = 4.5.
    assert_eq!(first(&quartet(high())).above, Spaces(4.5));
    let mut score = quartet(high());
    let mark = StaffMark::new;
    let stop = Fraction::whole(1);
    score.cells[0].marks = vec![
        mark(Fraction::ZERO, MarkKind::OctaveLineStart { number: 1, octaves: 1 }),
        mark(stop, MarkKind::OctaveLineStop { number: 1 }),
    ];
    // Printed as G5: 2.5 - 2 + 0.5 = 1; the line takes 2.
    assert_eq!(first(&score).above, Spaces(3.0));
}

#[test]
fn contents_at_different_beats_do_not_meet() {
    let mut score = fixture::score(&QUARTET, 1);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    put(&mut score, 0, 1, vec![quarter("C7", 3)]);
    let needed = |score: &Score| Extents::of(score).needed(BarIdx(0), five_lines(0), five_lines(1));
    // 6.5 - 2 + 0.5 = 5 below alone, 7.5 - 2 + 0.5 = 6 above alone.
    assert_eq!(needed(&score), Spaces(6.0));
    put(&mut score, 0, 1, vec![quarter("C7", 0)]);
    assert_eq!(needed(&score), Spaces(11.0));
}

#[test]
fn a_small_staff_needs_its_share() {
    let mut score = fixture::score(&QUARTET, 1);
    put(&mut score, 0, 1, vec![quarter("C7", 0)]);
    let small = StaffSize { scale: 0.5, ..five_lines(1) };
    assert_eq!(Extents::of(&score).needed(BarIdx(0), five_lines(0), small), Spaces(3.0));
}

#[test]
fn a_single_line_is_the_lowest_of_five() {
    // E4 stands on the lowest line of a staff that is read in the treble clef, so on the only line.
    let mut score = fixture::score(&QUARTET, 1);
    let mut struck = quarter("E4", 0);
    struck.stem = Stem::Up;
    put(&mut score, 0, 1, vec![struck]);
    let single = StaffSize { lines: 1, ..five_lines(1) };
    let extents = Extents::of(&score);
    // The stem of 3.5 above, half a head below.
    assert_eq!(extents.above_in_parts(BarIdx(0), single)[0], Spaces(3.5));
    assert_eq!(extents.below_in_parts(BarIdx(0), single)[0], Spaces(0.5));
    assert_eq!(extents.above_in_parts(BarIdx(0), single)[1], Spaces::ZERO);
}

#[test]
fn dynamics_hairpins_and_words_share_a_row() {
    let mut score = quartet(Vec::new());
    put_dynamic(&mut score, 0, 0, "p");
    let alone = first(&score).below;
    let kind = MarkKind::Words("espress.".to_owned());
    score.cells[0].marks.push(StaffMark { above: Some(false), ..StaffMark::new(Fraction::ZERO, kind) });
    assert_eq!(first(&score).below, alone);
}

#[test]
fn a_rehearsal_mark_takes_room_over_the_staff_that_it_stands_on() {
    let mut score = quartet(Vec::new());
    let kind = SystemMarkKind::Rehearsal("A".to_owned());
    let (bar, onset, at) = (BarIdx(1), Fraction::ZERO, Position::default());
    score.marks.push(SystemMark { bar, onset, kind, over: vec![StaffId(0)], at });
    let extents = Extents::of(&score);
    assert_eq!(extents.at(BarIdx(1), StaffId(0)).above, Spaces(3.5));
    assert_eq!(extents.at(BarIdx(0), StaffId(0)).above, Spaces::ZERO);
    assert_eq!(extents.at(BarIdx(1), StaffId(1)).above, Spaces::ZERO);
}

#[test]
fn nothing_is_known_outside_the_score() {
    let score = quartet(Vec::new());
    let extents = Extents::of(&score);
    assert_eq!(extents.at(BarIdx(99), StaffId(0)), Extent::default());
    assert_eq!(extents.at(BarIdx(0), StaffId(99)), Extent::default());
    assert_eq!(score.staves_of(PartId(9)).count(), 0);
}
