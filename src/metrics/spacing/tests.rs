//! Sums done by hand, the handbooks' table, and what holds for any music.

use proptest::prelude::*;

use super::*;
use crate::fixture::{QUARTET, add_movement, put, quarter, rest, score};
use crate::score::{Clef, ClefSign, Event, EventKind, Grace, Key, NoteValue, Syllable};
use crate::units::Fraction;

/// Twice as long takes twice the room: easy to add up.
const PLAIN: SpacingRules = SpacingRules {
    power: 1.0,
    head: Spaces(2.0),
    barline: Spaces(1.5),
    double_bar: Spaces(0.5),
    accidental: Spaces(1.5),
    accidental_after_barline: Spaces(0.5),
    grace: Spaces(1.0),
    arpeggio: Spaces(0.75),
    dot: Spaces(0.6),
    flag: Spaces(1.0),
    second: Spaces(1.25),
    ledgers: Spaces(0.4),
    syllable_size: Spaces(2.0),
    syllable_gap: Spaces(0.5),
    empty_bar: Spaces(6.0),
    multi_bar_rest: Spaces(12.0),
    clef_change: Spaces(2.5),
    metre_change: Spaces(2.0),
    key_change: Spaces(0.7),
    repeat: Spaces(1.8),
    start: Spaces(5.0),
    start_key: Spaces(1.0),
    start_metre: Spaces(3.0),
};

/// The bar that all examples look at: the second of three, which begins nothing.
const BAR: BarIdx = BarIdx(1);

fn close(found: Spaces, wanted: f64) {
    assert!((found.0 - wanted).abs() < 1e-9, "{found:?} instead of {wanted}");
}

/// A note `from` so many eighths on, `eighths` long.
fn note(name: &str, from: i64, eighths: i64) -> Event {
    let fraction = |eighths| Fraction::new(eighths, 2).unwrap();
    Event { onset: fraction(from), length: fraction(eighths), ..quarter(name, 0) }
}

fn with_accidental(mut event: Event) -> Event {
    if let EventKind::Chord(notes) = &mut event.kind {
        notes.iter_mut().for_each(|note| note.accidental = true);
    }
    event
}

/// Three bars of four staves; these staves play in the second, the others rest.
fn bar_of(staves: Vec<Vec<Event>>) -> Score {
    let mut score = score(&QUARTET, 3);
    for (staff, events) in staves.into_iter().enumerate() {
        put(&mut score, 1, staff, events);
    }
    score
}

/// The bar's width without barline where not even a rod gives way.
fn rods(score: &Score) -> Spaces {
    Spacing::by(score, &PLAIN).bar_at(BAR, 0.0) - PLAIN.barline
}

/// A half note, a quarter with an accidental, a quarter: springs 7, 3.5 and 3.5; the rod before the accidental is a
/// head and the accidental, 2 + 1.5 = 3.5; the others are heads, 2 each.
fn three_columns() -> Spacing {
    let line = vec![note("B4", 0, 4), with_accidental(note("B4", 4, 2)), note("B4", 6, 2)];
    Spacing::by(&bar_of(vec![line]), &PLAIN)
}

#[test]
fn three_columns_are_springs_with_rods_in_them() {
    let spacing = three_columns();
    let column = |spring, rod| Column { spring: Spaces(spring), rod: Spaces(rod) };
    assert_eq!(spacing.columns(BAR), [column(7.0, 3.5), column(3.5, 2.0), column(3.5, 2.0)]);
    // A barline of 1.5, then 7 + 3.5 + 3.5.
    close(spacing.bar_at(BAR, 1.0), 15.5);
    // Half as much would be 3.5, 1.75, 1.75: the heads hold the last two at 2.
    close(spacing.bar_at(BAR, 0.5), 1.5 + 3.5 + 2.0 + 2.0);
    // 0.55: 3.85 and, since 1.925 is less than a head, 2 + 2.
    close(spacing.bar_at(BAR, 0.55), 1.5 + 3.85 + 2.0 + 2.0);
    // Nothing is left but rods.
    close(spacing.bar_at(BAR, 0.0), 1.5 + 3.5 + 2.0 + 2.0);
}

#[test]
fn the_force_of_three_columns_is_solved_on_each_straight_piece() {
    let spacing = three_columns();
    let force = |width: f64| spacing.force_for(BarSpan::one(BAR), Spaces(width));
    // The start of a system takes 5 more. All stretch: 5 + 1.5 + 14 F = 27.5.
    assert!((force(27.5) - 1.5).abs() < 1e-12);
    // Only the half note stretches: 5 + 1.5 + 7 F + 4 = 14.35.
    assert!((force(14.35) - 0.55).abs() < 1e-12);
    // Shorter than the rods: 5 + 1.5 + 7.5 = 14 do not go in.
    assert_eq!(force(13.9), 0.0);
}

/// Gould, Behind Bars, p. 39: eighth 2.5, quarter 3.5, half 5, whole 7; Ross, p. 77: 2.5, 3.5, 4.75, 7.25 (both
/// second-hand). The two differ by up to a twentieth; so may the fitted law from the nearer one.
#[test]
fn note_values_take_what_the_handbooks_give_them() {
    for (eighths, gould, ross) in [(1, 2.5, 2.5), (2, 3.5, 3.5), (4, 5.0, 4.75), (8, 7.0, 7.25)] {
        let line = (0..8 / eighths).map(|nth| note("B4", nth * eighths, eighths)).collect();
        let spacing = Spacing::of(&bar_of(vec![line]));
        let (least, most) = (f64::min(gould, ross) * 0.95, f64::max(gould, ross) * 1.05);
        for column in spacing.columns(BAR) {
            let room = column.spring.0;
            assert!((least..=most).contains(&room), "{eighths} eighths: {room}");
        }
    }
}

/// Three against two: columns at 0, 4/3, 2 and 8/3 quarters. Each gap is its share of the triplet that sounds through
/// it, so the triplets stay as far apart as without the halves: three times 3.5 times the root of 4/3.
#[test]
fn cross_rhythms_take_no_more_room_than_their_shortest_notes() {
    let rules = SpacingRules { power: 0.5, ..PLAIN };
    let third = |nth: i64| Fraction::new(4 * nth, 3).unwrap();
    let triplets: Vec<Event> =
        (0..3).map(|nth| Event { onset: third(nth), length: third(1), ..quarter("B4", 0) }).collect();
    let halves = vec![note("B4", 0, 4), note("B4", 4, 4)];
    let springs = |staves| -> f64 {
        let spacing = Spacing::by(&bar_of(staves), &rules);
        spacing.columns(BAR).iter().map(|column| column.spring.0).sum()
    };
    let alone = springs(vec![triplets.clone()]);
    let against = springs(vec![triplets, halves]);
    assert!((alone - 10.5 * (4.0f64 / 3.0).sqrt()).abs() < 1e-9);
    assert!((alone - against).abs() < 1e-9);
}

#[test]
fn the_staff_that_needs_most_sets_the_rod() {
    let plain = || vec![note("B4", 0, 4), note("B4", 4, 4)];
    let sharp = || vec![note("B4", 0, 4), with_accidental(note("B4", 4, 4))];
    close(rods(&bar_of(vec![plain()])), 4.0);
    close(rods(&bar_of(vec![plain(), sharp()])), 5.5);
    close(rods(&bar_of(vec![sharp(), sharp(), sharp()])), 5.5);
}

/// A dot on one staff and an accidental on another stand in the same gap, not beside each other.
#[test]
fn what_stands_on_different_staves_is_not_added_up() {
    let mut dotted = note("B4", 0, 4);
    dotted.value.dots = 1;
    let dot = vec![dotted, note("B4", 4, 4)];
    let sharp = vec![note("B4", 0, 4), with_accidental(note("B4", 4, 4))];
    close(rods(&bar_of(vec![dot.clone()])), 4.6);
    close(rods(&bar_of(vec![dot, sharp])), 5.5);
}

#[test]
fn a_long_note_has_the_room_of_all_columns_that_pass() {
    let long = vec![note("B4", 0, 4), with_accidental(note("B4", 4, 4))];
    let quick = vec![note("B4", 0, 2), note("B4", 2, 2), note("B4", 4, 4)];
    // The accidental stands two columns on: three heads.
    close(rods(&bar_of(vec![long, quick])), 6.0);
}

#[test]
fn ledger_lines_flags_seconds_and_graces_push_their_neighbours_away() {
    let pair = |first: Event, second: Event| rods(&bar_of(vec![vec![first, second]])) - Spaces(4.0);
    close(pair(note("C4", 0, 4), note("C4", 4, 4)), 0.4);
    close(pair(note("C4", 0, 4), note("A5", 4, 4)), 0.0);
    let eighth = NoteValue { halvings: Some(3), dots: 0 };
    close(pair(Event { value: eighth, ..note("E4", 0, 4) }, note("E4", 4, 4)), 1.0);
    close(pair(Event { value: eighth, beams: 1, ..note("E4", 0, 4) }, note("E4", 4, 4)), 0.0);
    close(pair(note("B4", 0, 4), Event { arpeggio: true, ..note("B4", 4, 4) }), 0.75);
    let grace = Event { grace: Grace::Stroked, length: Fraction::ZERO, ..note("B4", 4, 0) };
    let graces = vec![note("B4", 0, 4), grace.clone(), grace, note("B4", 4, 4)];
    close(rods(&bar_of(vec![graces])), 4.0 + 2.0);
}

#[test]
fn graces_of_two_voices_stand_at_the_same_time() {
    let grace = || Event { grace: Grace::Plain, length: Fraction::ZERO, ..note("B4", 4, 0) };
    let voices = vec![note("B4", 0, 4), grace(), note("B4", 4, 4), grace(), Event { voice: 2, ..note("D4", 4, 4) }];
    close(rods(&bar_of(vec![voices])), 4.0 + 1.0);
}

#[test]
fn accidentals_after_a_barline_stand_in_its_air() {
    close(rods(&bar_of(vec![vec![with_accidental(note("B4", 0, 8))]])), 2.0 + 0.5);
}

#[test]
fn notes_that_the_file_hides_take_no_room() {
    let hidden = Event { printed: false, ..note("B4", 3, 1) };
    close(rods(&bar_of(vec![vec![note("B4", 0, 8), hidden]])), 2.0);
}

/// "la" and "lo": 258 + 561 and 258 + 605 thousandths of type 2 high, half of each: 1.682, and 0.5 between, of which
/// the notes' own rods already hold 2; then half of "lo" (0.863) and 0.5 are less than a head.
#[test]
fn syllables_keep_their_notes_apart() {
    let sung = |event: Event, text: &str| Event { lyrics: vec![Syllable { verse: 1, text: text.to_owned() }], ..event };
    close(rods(&bar_of(vec![vec![sung(note("B4", 0, 4), "la"), sung(note("B4", 4, 4), "lo")]])), 2.182 + 2.0);
    // Over two columns of equal springs each takes half of it.
    let between = vec![note("D4", 0, 2), note("D4", 2, 2), note("D4", 4, 4)];
    let words = vec![sung(note("B4", 0, 4), "lalalala"), sung(note("B4", 4, 4), "lalalala")];
    // 8 letters: 3.276 em, 6.552 spaces; with 0.5 between 7.052; the last one hangs over by 3.276 + 0.5.
    close(rods(&bar_of(vec![words, between])), 7.052 + 3.776);
}

#[test]
fn a_clef_stands_before_what_follows_it() {
    let bass = Clef { sign: ClefSign::F, line: 4, octave_change: 0 };
    let line = || bar_of(vec![vec![note("B4", 0, 4), note("B4", 4, 4)]]);
    let mut inside = line();
    inside.cells[4].clef_changes.push((Fraction::whole(2), bass));
    close(rods(&inside), 4.0 + 2.5);
    // One that holds from the next bar on is printed before the barline.
    let mut next = line();
    next.cells[8].clef_changes.push((Fraction::ZERO, bass));
    close(rods(&next), 4.0 + 2.5);
    let mut late = line();
    late.cells[4].clef_changes.push((Fraction::whole(4), bass));
    close(rods(&late), 4.0 + 2.5);
}

#[test]
fn a_clef_of_the_next_movement_is_not_announced() {
    let bass = Clef { sign: ClefSign::F, line: 4, octave_change: 0 };
    let mut score = score(&QUARTET, 2);
    add_movement(&mut score, 1);
    put(&mut score, 1, 0, vec![note("B4", 0, 8)]);
    score.cells[8].clef_changes.push((Fraction::ZERO, bass));
    close(rods(&score), 2.0);
}

#[test]
fn a_bar_without_events_is_spaced_as_one_note_of_its_length() {
    let spacing = Spacing::by(&score(&QUARTET, 3), &PLAIN);
    // A whole bar: 4 x 3.5.
    assert_eq!(spacing.columns(BAR), [Column { spring: Spaces(14.0), rod: Spaces(6.0) }]);
}

#[test]
fn signs_are_the_same_at_every_force() {
    let mut score = score(&QUARTET, 3);
    score.bars[1].metre_changes = true;
    score.bars[1].left.repeat = true;
    score.bars[1].right.is_double = true;
    for cell in &mut score.cells[4..12] {
        cell.key = Key { fifths: -3 };
    }
    score.cells[4].key_changes = true;
    let spacing = Spacing::by(&score, &PLAIN);
    // Barline 1.5, repeat 1.8, double bar 0.5, metre 2, three flats at 0.7.
    let own = spacing.bar(BAR);
    close(own.fixed, 1.5 + 1.8 + 0.5 + 2.0 + 2.1);
    // A system that begins here has the key once, in its own place: 5 + 3 - 2.1.
    close(own.start, 5.9);
    // A system that ends before it announces metre and key.
    close(own.announced, 4.1);
    close(spacing.ends(BarSpan::one(BarIdx(0))), 5.0 + 4.1);
    // The first bar of the movement has its metre; nothing announces it.
    close(spacing.bar(BarIdx(0)).fixed, 1.5 + 3.0);
    close(spacing.bar(BarIdx(0)).announced, 0.0);
    // Inside the key, the next bar has it only at a system's start.
    close(spacing.bar(BarIdx(2)).fixed, 1.5);
    close(spacing.bar(BarIdx(2)).start, 5.0 + 3.0);
}

#[test]
fn a_multi_bar_rest_takes_its_room_once() {
    let mut score = score(&QUARTET, 6);
    score.bars[1].multi_bar_rest = Some(4);
    let spacing = Spacing::by(&score, &PLAIN);
    close(spacing.bar_at(BAR, 1.0), 13.5);
    for bar in 2..5 {
        close(spacing.bar_at(BarIdx(bar), 1.0), 0.0);
    }
    close(spacing.bar_at(BarIdx(5), 1.0), 15.5);
}

#[test]
fn nothing_takes_no_room() {
    let spacing = Spacing::of(&Score::default());
    assert!(spacing.is_empty());
    let span = BarSpan::new(BarIdx(0), BarIdx(3));
    close(spacing.width_at(span, 1.0), 0.0);
    assert_eq!(spacing.force_for(span, Spaces(100.0)), 0.0);
    assert!(spacing.columns(BarIdx(0)).is_empty());
}

/// Forty staves that play the same take one list of columns, and nothing for neighbours that are alike.
#[test]
fn staves_that_play_the_same_are_held_once() {
    let line = || (0..8).map(|nth| with_accidental(note("B4", nth, 1))).collect::<Vec<_>>();
    let alone = Material::of(&bar_of(vec![line()]));
    let together = Material::of(&bar_of(vec![line(), line(), line(), line()]));
    assert_eq!(alone, together);
}

fn any_event() -> impl Strategy<Value = Event> {
    let value = (0i64..8, 1i64..9, 0..7usize, 3..6i32);
    let signs = (any::<[bool; 4]>(), 0u8..3, proptest::option::of("[a-z]{1,9}"));
    (value, signs).prop_map(|((from, eighths, step, octave), ([accidental, arpeggio, grace, silent], dots, text))| {
        let name = format!("{}{octave}", ["C", "D", "E", "F", "G", "A", "B"][step]);
        let event = note(&name, from, eighths);
        let mut event = if accidental { with_accidental(event) } else { event };
        event.arpeggio = arpeggio;
        event.value.dots = dots;
        event.lyrics = text.into_iter().map(|text| Syllable { verse: 1, text }).collect();
        if grace {
            event.grace = Grace::Plain;
        }
        if silent { rest() } else { event }
    })
}

fn any_score() -> impl Strategy<Value = Score> {
    let cell = proptest::collection::vec(any_event(), 0..6);
    proptest::collection::vec(cell, 12).prop_map(|cells| {
        let mut score = score(&QUARTET, 3);
        for (own, mut events) in score.cells.iter_mut().zip(cells) {
            events.sort_by_key(|event| event.onset);
            own.events = events;
        }
        score
    })
}

fn span() -> impl Strategy<Value = BarSpan> {
    (0u32..3, 0u32..3).prop_map(|(a, b)| BarSpan::new(BarIdx(a.min(b)), BarIdx(a.max(b))))
}

proptest! {
    #[test]
    fn more_force_never_makes_a_system_shorter(score in any_score(), span in span(), a in 0.0..4.0f64, b in 0.0..4.0f64) {
        let spacing = Spacing::of(&score);
        let (less, more) = (a.min(b), a.max(b));
        prop_assert!(spacing.width_at(span, less).0 <= spacing.width_at(span, more).0 + 1e-9);
    }

    #[test]
    fn the_force_for_a_width_gives_that_width(score in any_score(), span in span(), more in 0.01..200.0f64) {
        let spacing = Spacing::of(&score);
        let width = spacing.width_at(span, 0.0) + Spaces(more);
        let force = spacing.force_for(span, width);
        prop_assert!((spacing.width_at(span, force).0 - width.0).abs() < 1e-6, "{force}");
    }

    #[test]
    fn no_force_breaks_a_rod(score in any_score(), span in span(), force in 0.0..4.0f64) {
        let spacing = Spacing::of(&score);
        let columns: Vec<Column> = span.iter().flat_map(|bar| spacing.columns(bar).to_vec()).collect();
        let fixed: Spaces = span.iter().map(|bar| spacing.bar(bar).fixed).sum();
        let by_hand: f64 = columns.iter().map(|column| column.rod.0.max(column.spring.0 * force)).sum();
        let width = spacing.width_at(span, force) - spacing.ends(span) - fixed;
        prop_assert!((width.0 - by_hand).abs() < 1e-6);
        let rods: f64 = columns.iter().map(|column| column.rod.0).sum();
        prop_assert!(width.0 >= rods - 1e-6);
    }

    #[test]
    fn every_gap_holds_a_head_and_the_bar_is_as_long_as_its_gaps(score in any_score()) {
        let material = Material::of(&score);
        for bar in &material.bars {
            let Content::Moments(moments) = &bar.content else { continue };
            let gaps: f64 = material.moments[moments.clone()].iter().map(|moment| moment.gap).sum();
            prop_assert!(gaps <= 4.0 + 1e-9);
        }
        let spacing = Spacing::of(&score);
        let head = SpacingRules::default().head;
        prop_assert!((0..3).flat_map(|bar| spacing.columns(BarIdx(bar))).all(|column| column.rod >= head));
    }
}
