//! Free time worked by hand. Bars of 4/4 last two seconds, a quarter half a second; at 120 quarters a minute the eye
//! leads by 0.7 s.

use super::*;
use crate::fixture::{put, quarter, score};
use crate::players::{Hands, alone, changes, draw};
use crate::score::{Event, MarkKind, Position, StaffMark, SystemMark, SystemMarkKind};
use crate::units::Fraction;

const LEAD: f64 = 0.7;

fn one(family: Family, name: &str, staves: u16, bars: u32) -> Score {
    score(&[(name, family, staves)], bars)
}

fn at(score: &Score, bar: usize) -> TurnPoint {
    let player = alone(score.clone());
    let changes = changes::changes(&player);
    points(&player, &Around::of(score), &changes).swap_remove(bar)
}

fn free(score: &Score, bar: usize) -> f64 {
    at(score, bar).free.unwrap().0
}

/// A note from a beat on, so many quarters long.
fn long(name: &str, beat: i64, quarters: i64) -> Event {
    Event { length: Fraction::whole(quarters), ..quarter(name, beat) }
}

fn words(score: &mut Score, bar: usize, text: &str) {
    let kind = MarkKind::Words(text.to_owned());
    score.cells[bar].marks.push(StaffMark::new(Fraction::ZERO, kind));
}

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-6, "{found} is not {wanted}");
}

/// A quarter at the bar's start (ends at 0.5 s), the next note two bars on, on beat 3: 1.5 s + 2 s + 1 s - 0.7 s.
#[test]
fn a_rest_counts_from_the_last_note_to_the_first_less_the_lead_of_the_eye() {
    let mut score = one(Family::Brass, "Tuba", 1, 4);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    put(&mut score, 2, 0, vec![quarter("C3", 2)]);
    close(free(&score, 0), 1.5 + 2.0 + 1.0 - LEAD);
    assert_eq!(at(&score, 0).frees, Frees::Rest);
}

/// Notes to the end of the bar and from the next one's start, tied: nothing.
#[test]
fn a_tie_over_the_barline_leaves_no_time() {
    let mut score = one(Family::Brass, "Tuba", 1, 2);
    put(&mut score, 0, 0, vec![long("C3", 0, 4)]);
    put(&mut score, 1, 0, vec![long("C3", 0, 4)]);
    close(free(&score, 0), 0.0);
    assert_eq!(at(&score, 0).class, Some(TurnClass::None));
}

/// A rolled whole note holds the hands to the barline: two seconds of rest after it, less the lead.
#[test]
fn a_roll_holds_the_hands() {
    let mut score = one(Family::Percussion, "Timpani", 1, 3);
    put(&mut score, 0, 0, vec![Event { tremolo: 3, ..long("C3", 0, 4) }]);
    put(&mut score, 2, 0, vec![quarter("C3", 0)]);
    close(free(&score, 0), 2.0 - LEAD);
}

/// Struck once it rings on: the hand is free half a second after the stroke, 1.5 s before the barline.
#[test]
fn what_rings_on_frees_the_hand() {
    let mut score = one(Family::Percussion, "Tam-tam", 1, 3);
    put(&mut score, 0, 0, vec![long("C4", 0, 4)]);
    put(&mut score, 2, 0, vec![quarter("C4", 0)]);
    close(free(&score, 0), 1.5 + 2.0 - LEAD);
    put(&mut score, 1, 0, vec![quarter("C4", 0)]);
    close(free(&score, 0), 1.5 - LEAD);
    assert_eq!(at(&score, 0).frees, Frees::RingsOn);
}

/// A plucked whole note frees after half a second, a bowed one not at all.
#[test]
fn pizzicato_frees_and_the_bow_does_not() {
    let mut score = one(Family::Strings, "Viola", 1, 3);
    put(&mut score, 0, 0, vec![long("C4", 0, 4)]);
    put(&mut score, 1, 0, vec![long("C4", 2, 2)]);
    close(free(&score, 0), 1.0 - LEAD);
    words(&mut score, 0, "pizz.");
    close(free(&score, 0), 1.5 + 1.0 - LEAD);
    words(&mut score, 1, "arco");
    put(&mut score, 2, 0, vec![quarter("C4", 1)]);
    close(free(&score, 1), 0.5 - LEAD.min(0.5));
}

/// The pause on the rest must be watched to its end at the barline: only what follows counts.
#[test]
fn a_pause_in_the_rest_is_watched_to_its_end() {
    let mut score = one(Family::Brass, "Tuba", 1, 4);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    let mut rest = crate::fixture::rest();
    rest.fermata = true;
    put(&mut score, 1, 0, vec![rest]);
    put(&mut score, 3, 0, vec![quarter("C3", 0)]);
    let point = at(&score, 1);
    close(point.free.unwrap().0, 2.0 - LEAD);
    assert_eq!((point.reads, point.audible), (Some(LastRead::Fermata), true));
    close(point.silent_before.unwrap().0, 1.5 + 2.0);
}

/// A general pause in bar 2: free for the hands, and heard.
#[test]
fn a_turn_in_a_general_pause_is_heard() {
    let mut score = one(Family::Brass, "Tuba", 1, 3);
    put(&mut score, 0, 0, vec![long("C3", 0, 4)]);
    put(&mut score, 2, 0, vec![quarter("C3", 0)]);
    let (bar, onset, at_) = (BarIdx(1), Fraction::ZERO, Position::default());
    score.marks.push(SystemMark { bar, onset, kind: SystemMarkKind::GeneralPause, over: Vec::new(), at: at_ });
    assert!(at(&score, 0).audible);
    close(free(&score, 0), 2.0 - LEAD);
}

/// Cue notes in bar 3 end on its last beat; a metre changes at bar 4's start. Turning after bar 4 counts from there:
/// bar 4 itself (2 s), less the lead.
#[test]
fn a_cue_and_a_change_of_metre_are_read_before_the_turn() {
    let mut score = one(Family::Brass, "Tuba", 1, 6);
    put(&mut score, 0, 0, vec![quarter("C3", 0)]);
    put(&mut score, 2, 0, vec![Event { cue: true, ..quarter("G4", 3) }]);
    put(&mut score, 4, 0, vec![quarter("C3", 0)]);
    let point = at(&score, 2);
    assert_eq!(point.reads, Some(LastRead::Cue));
    close(point.free.unwrap().0, 2.0 - LEAD);
    score.bars[3].metre_changes = true;
    let point = at(&score, 3);
    assert_eq!(point.reads, Some(LastRead::Metre));
    close(point.free.unwrap().0, 2.0 - LEAD);
}

/// The second bar of rest goes at half the tempo: four seconds instead of two; the entry is in slow music, whose eye
/// leads by 1.3 s.
#[test]
fn a_change_of_tempo_inside_the_rest_counts() {
    let mut score = one(Family::Brass, "Tuba", 1, 4);
    put(&mut score, 0, 0, vec![long("C3", 0, 4)]);
    put(&mut score, 3, 0, vec![quarter("C3", 0)]);
    for bar in [2, 3] {
        score.bars[bar].seconds = Some(Seconds(4.0));
    }
    close(free(&score, 0), 2.0 + 4.0 - LEAD);
    close(free(&score, 1), 2.0 + 4.0 - 1.3);
}

/// A pick-up overleaf on the last beat: three beats before it.
#[test]
fn a_pick_up_overleaf_ends_the_time() {
    let mut score = one(Family::Brass, "Tuba", 1, 2);
    put(&mut score, 0, 0, vec![long("C3", 0, 4)]);
    put(&mut score, 1, 0, vec![quarter("C3", 3)]);
    close(free(&score, 0), 1.5 - LEAD);
}

/// The left hand rests two bars while the right one plays on: 2 s + 2 s of one hand, less the lead.
#[test]
fn one_free_hand_turns_for_a_keyboard() {
    let mut score = one(Family::Keyboard, "Piano", 2, 4);
    for bar in 0..4 {
        put(&mut score, bar, 0, vec![long("C5", 0, 4)]);
    }
    put(&mut score, 0, 1, vec![long("C3", 0, 4)]);
    put(&mut score, 3, 1, vec![long("C3", 0, 4)]);
    let point = at(&score, 1);
    assert_eq!(point.frees, Frees::OneHand);
    close(point.free.unwrap().0, 2.0 + 2.0 - LEAD);
    assert_eq!(point.class, Some(TurnClass::Enough));
}

/// A rest inside a bar is no time at its barline; two beats at its end are a second.
#[test]
fn a_rest_inside_a_bar_counts_where_it_touches_the_barline() {
    let mut score = one(Family::Brass, "Tuba", 1, 2);
    put(&mut score, 1, 0, vec![quarter("C3", 0)]);
    put(&mut score, 0, 0, vec![quarter("C3", 0), quarter("C3", 3)]);
    close(free(&score, 0), 0.0);
    put(&mut score, 0, 0, vec![quarter("C3", 0), quarter("C3", 1)]);
    close(free(&score, 0), 1.0 - LEAD);
}

#[test]
fn another_instrument_in_the_same_rest_takes_its_own_time() {
    let mut score = one(Family::Woodwind, "Flute", 1, 6);
    put(&mut score, 0, 0, vec![long("C5", 0, 4)]);
    put(&mut score, 5, 0, vec![quarter("C5", 0)]);
    words(&mut score, 1, "muta in Piccolo");
    let point = at(&score, 2);
    assert_eq!(point.needed, Seconds(9.0));
    close(point.free.unwrap().0, 8.0 - LEAD);
    assert_eq!(point.class, Some(TurnClass::None));
}

#[test]
fn where_no_time_is_known_it_is_not_guessed() {
    let mut score = one(Family::Brass, "Tuba", 1, 3);
    put(&mut score, 0, 0, vec![long("C3", 0, 4)]);
    put(&mut score, 2, 0, vec![quarter("C3", 0)]);
    score.bars[1].seconds = None;
    let point = at(&score, 0);
    assert_eq!((point.free, point.class), (None, None));
}

#[test]
fn a_movement_that_ends_frees_the_player_unless_the_next_follows_at_once() {
    let mut score = one(Family::Brass, "Tuba", 1, 2);
    crate::fixture::add_movement(&mut score, 2);
    for bar in 0..4 {
        put(&mut score, bar, 0, vec![long("C3", 0, 4)]);
    }
    assert_eq!(at(&score, 1).frees, Frees::MovementEnds);
    let kind = SystemMarkKind::Jump("attacca".to_owned());
    score.marks.push(SystemMark {
        bar: BarIdx(1),
        onset: Fraction::ZERO,
        kind,
        over: Vec::new(),
        at: Position::default(),
    });
    assert_eq!(at(&score, 1).class, Some(TurnClass::None));
}

#[test]
fn a_section_is_not_alone_until_a_solo() {
    let mut score = score(&[("Violin I", Family::Strings, 1), ("Viola", Family::Strings, 1)], 2);
    let player = draw(&score, None).players.remove(0);
    assert_eq!(player.hands, Hands::Section);
    put(&mut score, 0, 0, vec![long("C5", 0, 4)]);
    put(&mut score, 1, 0, vec![long("C5", 0, 4)]);
    put(&mut score, 0, 1, vec![long("C4", 0, 4)]);
    put(&mut score, 1, 1, vec![long("C4", 0, 4)]);
    words(&mut score, 0, "Solo");
    let player = draw(&score, None).players.remove(0);
    let point = points(&player, &Around::of(&score), &[]).remove(0);
    assert!(point.alone);
    assert_eq!(point.others, [PartId(1)]);
}

#[test]
fn a_class_stands_on_its_limits() {
    let of = |seconds| TurnClass::of(Seconds(seconds), NEEDED);
    assert_eq!([4.0, 3.99, 3.0, 2.99, 1.5, 1.49].map(of).map(|class| class as u8), [3, 2, 2, 1, 1, 0]);
}
