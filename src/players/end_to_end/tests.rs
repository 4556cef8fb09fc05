use super::*;
use crate::fixture::{add_movement, put, put_dynamic, quarter, score};
use crate::players::draw;
use crate::score::{Family, Score};

fn played(score: &Score, name: &str) -> EndToEnd {
    let everyone = Everyone::of(score);
    let player = draw(score, None).players.into_iter().find(|player| player.name == name).unwrap();
    end_to_end(&player, &everyone, Vec::new())
}

/// A tuba that is silent for 40 bars of two seconds, a horn that leads in from bar 37 on.
fn tuba_and_horn() -> Score {
    let mut score = score(&[("Horn", Family::Brass, 1), ("Tuba", Family::Brass, 1)], 44);
    for bar in 37..42 {
        put(&mut score, bar, 0, vec![quarter("G4", 0), quarter("A4", 1)]);
    }
    put(&mut score, 0, 1, vec![quarter("C2", 0)]);
    put(&mut score, 41, 1, vec![quarter("C3", 2)]);
    score
}

#[test]
fn a_silence_has_its_bars_and_its_seconds() {
    let whole = played(&tuba_and_horn(), "Tuba");
    assert_eq!(whole.rests[0].bars, BarSpan::new(BarIdx(1), BarIdx(40)));
    assert_eq!(whole.rests[0].seconds, Some(Seconds(80.0)));
    assert_eq!(whole.plays.len(), 2);
}

#[test]
fn a_long_rest_alone_is_not_flagged_but_one_with_changes_and_a_lone_entry_is() {
    let mut score = tuba_and_horn();
    assert_eq!(played(&score, "Tuba").rests[0].rank, None);
    for bar in [10, 20, 30] {
        score.bars[bar].metre_changes = true;
    }
    let rest = played(&score, "Tuba").rests.remove(0);
    assert_eq!(rest.rank, Some(1));
    assert!(rest.hard.contains(&HardToCount::MetreChanges(3)));
    assert!(rest.hard.contains(&HardToCount::EntersAlone));
    let cue = rest.cue.unwrap();
    assert_eq!((cue.name.as_str(), cue.bars), ("Horn", BarSpan::new(BarIdx(37), BarIdx(40))));
    assert_eq!(cue.sounding, Pitch { octave: 4, step: 4, alter: 0 });
}

#[test]
fn nobody_is_told_to_count_a_silence_that_nothing_follows() {
    let mut score = tuba_and_horn();
    add_movement(&mut score, 30);
    let last = played(&score, "Tuba").rests.pop().unwrap();
    assert!(last.hard.is_empty() && last.rank.is_none());
}

#[test]
fn an_entry_after_a_minute_is_told_when_it_is_loud_and_high() {
    let mut score = tuba_and_horn();
    assert!(played(&score, "Tuba").cold.iter().all(|entry| entry.high));
    put_dynamic(&mut score, 41, 1, "ff");
    let cold = played(&score, "Tuba").cold;
    assert_eq!((cold.len(), cold[0].bar, cold[0].loudness), (1, BarIdx(41), Some(2)));
    assert_eq!(cold[0].silent, Seconds(80.0));
}
