use proptest::prelude::*;

use super::*;
use crate::fixture::{self, put, put_dynamic, quarter};
use crate::place::StaffId;
use crate::players::{Undecided, alone};
use crate::score::{
    Event, EventKind, Family, MarkKind, Note, Pitch, StaffMark, SystemMark, SystemMarkKind, Transposition,
};

const ONE: &[fixture::PartPlan<'static>] = &[("Oboe", Family::Woodwind, 1)];

/// Bars of four quarters, each bar other than all before: C4 to B4, then an octave higher, and so on.
fn line(bars: u32) -> Score {
    let mut score = fixture::score(ONE, bars);
    for bar in 0..bars {
        let name = |beat: u32| {
            let step = (bar + beat * 2) % 7;
            format!("{}{}", &"CDEFGAB"[step as usize..=step as usize], 3 + bar / 7 % 4)
        };
        put(&mut score, bar, 0, (0..4).map(|beat| quarter(&name(beat), i64::from(beat))).collect());
    }
    score
}

fn rest(score: &mut Score, bars: std::ops::Range<u32>) {
    bars.for_each(|bar| put(score, bar, 0, vec![fixture::rest()]));
}

/// A copy without some bars, numbers as they were.
fn without(score: &Score, gone: std::ops::Range<u32>) -> Score {
    let mut part = score.clone();
    let keep = |bar: u32| !gone.contains(&bar);
    let kept: Vec<u32> = (0..score.bars.len() as u32).filter(|bar| keep(*bar)).collect();
    part.bars = kept.iter().map(|bar| score.bars[*bar as usize].clone()).collect();
    part.cells = kept.iter().map(|bar| score.cells[*bar as usize].clone()).collect();
    part.marks = score
        .marks
        .iter()
        .filter_map(|mark| {
            let bar = kept.iter().position(|bar| *bar == mark.bar.0)?;
            Some(SystemMark { bar: BarIdx(bar as u32), ..mark.clone() })
        })
        .collect();
    part.movements[0].bars.last = BarIdx(kept.len() as u32 - 1);
    part
}

fn mark(score: &mut Score, bar: u32, kind: SystemMarkKind) {
    let at = crate::score::Position::default();
    score.marks.push(SystemMark { bar: BarIdx(bar), onset: Fraction::ZERO, kind, over: vec![StaffId(0)], at });
}

fn proofed(score: &Score, part: &Score) -> Proof {
    let player = alone(score.clone());
    proof(&Line { score, player: &player, bars: score.all_bars().unwrap() }, part)
}

/// "missing-bars 4-7: 4 bars | not there"; bars count from 0.
fn told(proof: &Proof) -> Vec<String> {
    let one = |own: &Difference| {
        let bars = if own.bars.first == own.bars.last {
            own.bars.first.0.to_string()
        } else {
            format!("{}-{}", own.bars.first.0, own.bars.last.0)
        };
        format!("{} {bars}: {} | {}", own.class.name(), own.score, own.part)
    };
    proof.differences.iter().map(one).collect()
}

fn heads(event: &mut Event) -> &mut Vec<Note> {
    let EventKind::Chord(notes) = &mut event.kind else { panic!("a rest") };
    notes
}

/// Every note of some bars by so many half tones, spelt by that many steps.
fn moved(score: &mut Score, bars: std::ops::Range<u32>, steps: i8, half_tones: i8) {
    let by = Transposition { diatonic: steps, chromatic: half_tones, octaves: 0 };
    for bar in bars {
        for event in &mut score.cells[bar as usize].events {
            if let EventKind::Chord(notes) = &mut event.kind {
                notes.iter_mut().for_each(|note| note.pitch = by.sounding(note.pitch));
            }
        }
    }
}

#[test]
fn a_copy_is_the_same_and_all_of_it_was_compared() {
    let score = line(12);
    let proof = proofed(&score, &score);
    assert_eq!(told(&proof), [""; 0]);
    assert_eq!((proof.bars, proof.notes, proof.playing), (12, 48, (12, 12)));
    assert!(proof.same.is_empty() && proof.cannot_tell.is_empty());
}

#[test]
fn missing_bars_are_one_line_and_so_are_bars_too_many() {
    let score = line(12);
    assert_eq!(told(&proofed(&score, &without(&score, 4..8))), ["missing-bars 4-7: 4 bars | not there"]);
    let part = without(&score, 4..6);
    assert_eq!(told(&proofed(&part, &score)), ["extra-bars 3: not there | 2 bars after bar 4"]);
}

#[test]
fn numbers_that_follow_from_missing_bars_are_not_told_again_and_others_are() {
    let score = line(12);
    let mut part = without(&score, 4..8);
    for (at, bar) in part.bars.iter_mut().enumerate() {
        bar.label = (at + 1).to_string();
    }
    assert_eq!(told(&proofed(&score, &part)), ["missing-bars 4-7: 4 bars | not there"]);
    let mut part = score.clone();
    part.bars.iter_mut().skip(5).for_each(|bar| bar.label = (bar.label.parse::<u32>().unwrap() - 1).to_string());
    assert_eq!(told(&proofed(&score, &part)), ["bar-numbers 5-11: numbers 6 to 12 | numbers 5 to 11"]);
}

#[test]
fn a_rest_is_counted_up_to_the_next_landmark() {
    let mut score = line(20);
    rest(&mut score, 2..18);
    mark(&mut score, 10, SystemMarkKind::Rehearsal("B".to_owned()));
    assert_eq!(told(&proofed(&score, &without(&score, 12..13))), ["rest-count 10-17: 8 bars of rest | 7 bars of rest"]);
    let mut part = score.clone();
    part.bars[2].multi_bar_rest = Some(16);
    assert_eq!(
        told(&proofed(&score, &part)),
        ["rest-across-landmark 2-17: rehearsal mark B at bar 11 | one rest of 16 bars"]
    );
    part.bars[2].multi_bar_rest = Some(8);
    part.bars[10].multi_bar_rest = Some(9);
    assert_eq!(
        told(&proofed(&score, &part)),
        ["rest-count 10-17: 8 bars of rest | a rest of 9 bars printed over them"]
    );
}

#[test]
fn a_landmark_a_bar_late_is_one_line() {
    let mut score = line(12);
    rest(&mut score, 3..9);
    let mut part = score.clone();
    mark(&mut score, 5, SystemMarkKind::Rehearsal("C".to_owned()));
    mark(&mut part, 6, SystemMarkKind::Rehearsal("C".to_owned()));
    assert_eq!(told(&proofed(&score, &part)), ["landmark 5: mark C at bar 6 | mark C at bar 7"]);
}

#[test]
fn a_passage_a_tone_low_is_one_line_even_with_rests_in_it() {
    let mut score = line(14);
    rest(&mut score, 6..8);
    let mut part = score.clone();
    moved(&mut part, 4..10, -1, -2);
    assert_eq!(told(&proofed(&score, &part)), ["passage 4-9: from G 3 | a tone lower throughout, from F 3"]);
}

#[test]
fn notes_are_named_in_the_parts_own_key_and_compared_at_sounding_pitch() {
    let score = line(8);
    // For a clarinet in B flat: everything a tone higher.
    let mut part = score.clone();
    moved(&mut part, 0..8, 1, 2);
    for cell in &mut part.cells {
        cell.transposition = Transposition { diatonic: -1, chromatic: -2, octaves: 0 };
        cell.key.fifths = 2;
    }
    assert_eq!(told(&proofed(&score, &part)), [""; 0]);
    heads(&mut part.cells[2].events[1])[0].pitch.alter -= 2;
    assert_eq!(told(&proofed(&score, &part)), ["pitch 2: A 3 | A flat 3"]);
}

#[test]
fn faults_of_single_notes_have_their_classes() {
    let score = line(8);
    let of = |change: &dyn Fn(&mut Vec<Event>)| {
        let mut part = score.clone();
        change(&mut part.cells[3].events);
        told(&proofed(&score, &part))
    };
    assert_eq!(
        of(&|events| drop(events.remove(2))),
        [format!("missing-note 3: {} on beat 3 | not there", pitch(&score, 3, 2))]
    );
    let half = |events: &mut Vec<Event>| {
        events[3].length = Fraction::new(1, 2).unwrap();
    };
    assert_eq!(of(&half), [format!("length 3: {}, quarter | {}, eighth", pitch(&score, 3, 3), pitch(&score, 3, 3))]);
    let late = |events: &mut Vec<Event>| {
        events.remove(2);
        events[2].onset = Fraction::whole(2);
    };
    let found = of(&late);
    assert!(found.iter().all(|line| line.starts_with("pitch 3") || line.starts_with("missing-note 3")), "{found:?}");
    let tied = |events: &mut Vec<Event>| heads(&mut events[0])[0].tie_starts = true;
    assert_eq!(of(&tied), [format!("tie 3: no tie | {} tied on", pitch(&score, 3, 0))]);
}

fn pitch(score: &Score, bar: usize, event: usize) -> String {
    let EventKind::Chord(notes) = &score.cells[bar].events[event].kind else { panic!("a rest") };
    notes[0].pitch.to_string()
}

#[test]
fn ties_and_signs_that_sound_the_same_are_the_same_to_the_player() {
    let mut score = line(6);
    let mut held = quarter("G4", 0);
    held.length = Fraction::whole(2);
    put(&mut score, 2, 0, vec![held]);
    let mut part = score.clone();
    let (mut one, mut two) = (quarter("G4", 0), quarter("G4", 1));
    heads(&mut one)[0].tie_starts = true;
    heads(&mut two)[0].tie_stops = true;
    put(&mut part, 2, 0, vec![one, two]);
    // Bar 4 as bar 3, by a sign.
    score.cells[4].events = score.cells[3].events.clone();
    part.cells[4].events = vec![fixture::rest()];
    part.cells[4].repeats_previous = true;
    let proof = proofed(&score, &part);
    assert_eq!(told(&proof), [""; 0]);
    assert_eq!(proof.same.len(), 1, "{:?}", proof.same);
}

#[test]
fn a_part_respelt_throughout_is_one_harmless_line() {
    let mut score = line(6);
    for cell in &mut score.cells {
        cell.events.iter_mut().for_each(|event| heads(event)[0].pitch = Pitch { octave: 4, step: 5, alter: 2 });
    }
    let mut part = score.clone();
    for cell in &mut part.cells {
        cell.events.iter_mut().for_each(|event| heads(event)[0].pitch = Pitch { octave: 4, step: 6, alter: -2 });
    }
    let proof = proofed(&score, &part);
    assert_eq!(told(&proof), [""; 0]);
    assert_eq!(
        proof.same,
        [Told {
            bars: BarSpan::new(BarIdx(0), BarIdx(5)),
            what: "all 24 notes spelt otherwise, the same in sound".to_owned()
        }]
    );
}

#[test]
fn a_dynamic_has_half_a_beat_and_under_a_rest_it_is_the_next_notes() {
    let mut score = line(6);
    put(&mut score, 3, 0, vec![quarter("C4", 2), quarter("D4", 3)]);
    put_dynamic(&mut score, 1, 0, "f");
    put_dynamic(&mut score, 3, 0, "p");
    let mut part = score.clone();
    part.cells[1].marks[0].onset = Fraction::new(1, 2).unwrap();
    part.cells[3].marks[0].onset = Fraction::whole(2);
    assert_eq!(told(&proofed(&score, &part)), [""; 0]);
    part.cells[1].marks[0].onset = Fraction::ONE;
    part.cells[3].marks[0].kind = MarkKind::Dynamic("pp".to_owned());
    assert_eq!(
        told(&proofed(&score, &part)),
        ["dynamic 1: f on beat 1 | f on beat 2", "dynamic 3: p on beat 3 | pp on beat 3"]
    );
}

#[test]
fn a_hairpin_may_end_a_note_earlier_or_later_and_no_more() {
    let hairpin = |ends: (usize, i64)| {
        let mut score = line(6);
        score.cells[1].marks.push(StaffMark::new(Fraction::ZERO, MarkKind::HairpinStart { number: 1, opens: true }));
        score.cells[ends.0].marks.push(StaffMark::new(Fraction::whole(ends.1), MarkKind::HairpinStop { number: 1 }));
        score
    };
    let score = hairpin((2, 1));
    assert_eq!(told(&proofed(&score, &hairpin((2, 2)))), [""; 0]);
    assert_eq!(told(&proofed(&score, &hairpin((2, 0)))), [""; 0]);
    assert_eq!(
        told(&proofed(&score, &hairpin((3, 2)))),
        ["hairpin 1: crescendo ends in bar 3, beat 2 | crescendo ends in bar 4, beat 3"]
    );
    assert_eq!(told(&proofed(&score, &line(6))), ["hairpin 1: crescendo from beat 1 to bar 3 | nothing"]);
}

#[test]
fn a_fermata_and_a_tempo_over_another_staff_are_expected_in_every_part() {
    let mut score = fixture::score(&[("Oboe", Family::Woodwind, 1), ("Violin", Family::Strings, 1)], 4);
    put(&mut score, 1, 0, vec![quarter("C4", 0)]);
    let mut held = quarter("G4", 0);
    held.fermata = true;
    put(&mut score, 2, 1, vec![held]);
    let words = "Presto".to_owned();
    let tempo = SystemMarkKind::Tempo { words, metronome: None, quarters_per_minute: None };
    score.marks.push(SystemMark {
        bar: BarIdx(1),
        onset: Fraction::ZERO,
        kind: tempo,
        over: vec![StaffId(1)],
        at: crate::score::Position::default(),
    });
    let players = crate::players::draw(&score, None).players;
    let mut part = players[0].music.clone();
    let of = |part: &Score| {
        told(&proof(&Line { score: &score, player: &players[0], bars: score.all_bars().unwrap() }, part))
    };
    assert_eq!(of(&part), [""; 0]);
    part.cells[2].events[0].fermata = false;
    part.marks.clear();
    let found = of(&part);
    assert!(found.contains(&"tempo 1: \"Presto\" | nothing".to_owned()), "{found:?}");
    assert!(found.iter().any(|line| line.starts_with("pause 2: ") && line.ends_with("| no fermata")), "{found:?}");
}

#[test]
fn a_shared_staff_that_does_not_tell_allows_what_stands_on_it() {
    let score = line(6);
    let mut player = alone(score.clone());
    let bars = BarSpan::new(BarIdx(2), BarIdx(3));
    player.undecided.push(Undecided { bars, staff: StaffId(0), why: "one line".to_owned() });
    let of = |part: &Score| proof(&Line { score: &score, player: &player, bars: score.all_bars().unwrap() }, part);
    let mut part = score.clone();
    rest(&mut part, 2..4);
    let proof = of(&part);
    assert_eq!(told(&proof), [""; 0]);
    assert_eq!(proof.cannot_tell, [Told { bars, what: "one line; the part rests".to_owned() }]);
    let mut other = score.clone();
    heads(&mut other.cells[2].events[0])[0].pitch.octave += 2;
    let found = told(&of(&other));
    assert!(found[0].starts_with("extra-note 2: no such note on the shared staff"), "{found:?}");
}

proptest! {
    #[test]
    fn a_part_with_one_note_changed_has_one_fault_in_that_bar(bar in 0u32..12, event in 0usize..4, up in 1i8..4) {
        let score = line(12);
        let mut part = score.clone();
        heads(&mut part.cells[bar as usize].events[event])[0].pitch.alter += 2 * up;
        let found = proofed(&score, &part);
        prop_assert_eq!(found.differences.len(), 1);
        prop_assert_eq!(found.differences[0].bars, BarSpan::one(BarIdx(bar)));
    }

    #[test]
    fn a_part_without_some_bars_lacks_exactly_these(first in 0u32..10, count in 1u32..6) {
        let score = line(16);
        let found = proofed(&score, &without(&score, first..first + count));
        let bars = BarSpan::new(BarIdx(first), BarIdx(first + count - 1));
        prop_assert_eq!(found.differences.len(), 1);
        prop_assert_eq!((found.differences[0].class, found.differences[0].bars), (Class::MissingBars, bars));
    }
}
