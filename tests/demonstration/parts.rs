//! The players' parts of the third movement: every situation that its table names (tests/lantern_ferry/README.md), and
//! turns worked out by hand from the notes in `tests/lantern_ferry/music/watch.rs`.

use rastrum::check::{PartChecked, PartsChecked, PartsOptions, Unwatched, parts};
use rastrum::place::{BarIdx, BarSpan};
use rastrum::players::turning::{Frees, TurnClass, TurnPoint};
use rastrum::read::Input;
use rastrum::units::Mm;

const WATCH: &[u8] = include_bytes!("../../src/demo/lantern-ferry-3.mxl");

fn with(options: &PartsOptions) -> PartsChecked {
    parts(&[Input { name: "lantern-ferry-3.mxl", bytes: WATCH }], options, &mut Unwatched).unwrap()
}

fn part<'a>(checked: &'a PartsChecked, name: &str) -> &'a PartChecked {
    checked.parts.iter().find(|part| part.player.name == name).unwrap_or_else(|| panic!("no {name}"))
}

/// After a bar, counted from 1.
fn point<'a>(checked: &'a PartsChecked, name: &str, bar: usize) -> &'a TurnPoint {
    &part(checked, name).points[bar - 1]
}

#[track_caller]
fn assert_free(point: &TurnPoint, free: f64, needed: f64, class: TurnClass) {
    let found = point.free.expect("a known time").0;
    assert!((found - free).abs() < 0.005, "{found:.3} s free, not {free:.3}");
    assert!((point.needed.0 - needed).abs() < 1e-9, "{} s needed, not {needed}", point.needed.0);
    assert_eq!(point.class, Some(class));
}

/// Seconds of a bar of 4/4: Adagio and Tempo I 60, Fog 54, Largamente 66 quarters a minute; of 6/8 in the dance, 88
/// dotted quarters.
const ADAGIO: f64 = 4.0;
const FOG: f64 = 4.0 * 60.0 / 54.0;
const DANCE: f64 = 2.0 * 60.0 / 88.0;
/// The eye is ahead by so much in slow music, and in quick.
const SLOW: f64 = 1.3;
const QUICK: f64 = 0.7;
/// A turn takes so much, and a stroke on a drum.
const TURN: f64 = 3.0;
const STROKE: f64 = 0.5;

#[test]
fn good_turns_have_the_time_that_their_notes_give() {
    let checked = with(&PartsOptions::default());
    // Silent from bar 93 to 98, then at once tremolo.
    assert_free(point(&checked, "Violins II", 98), 6.0 * FOG - SLOW, TURN, TurnClass::Easy);
    // The same rest from its other end: eighths up to the last bar of the dance, six bars of nothing.
    assert_free(point(&checked, "Violins II", 92), 6.0 * FOG - SLOW, TURN, TurnClass::Easy);
    // Tremolo up to the general pause, which is a whole bar; all others hear the paper.
    let pause = point(&checked, "Violins I", 111);
    assert_free(pause, FOG - SLOW, TURN, TurnClass::Enough);
    assert!(pause.audible);
    // Eighths up to bar 24; then twenty bars of rest and another clarinet to take up, which needs six seconds.
    let change = point(&checked, "Clarinet in B\u{266d} 1", 24);
    let rest = (8.0 * 3.0 + 4.0 * 4.0 + 8.0 * 3.0) * 60.0 / 72.0;
    assert_free(change, rest - 1.0, TURN + 6.0, TurnClass::Easy);
    // The left hand plays on. The tempo at bar 45 is still to be read; the right hand is wanted in bar 57.
    let one_hand = point(&checked, "Harp", 53);
    assert_free(one_hand, 12.0 * DANCE - QUICK, TURN, TurnClass::Easy);
    assert_eq!(one_hand.frees, Frees::OneHand);
    // A stroke that rings on for the whole bar, and a beat of rest after the barline: by silence alone one second.
    let ringing = point(&checked, "Percussion 2", 150);
    assert_free(ringing, ADAGIO - STROKE + 1.0 - SLOW, TURN, TurnClass::Enough);
    assert!(ringing.silent_before.unwrap().0.abs() < 0.001);
}

#[test]
fn bad_turns_too() {
    let checked = with(&PartsOptions::default());
    // Eighths before and after the barline.
    assert_free(point(&checked, "Violins I", 23), 0.0, TURN, TurnClass::None);
    // Three beats to take the piccolo, which alone needs six seconds.
    assert_free(point(&checked, "Flute 2 (Piccolo)", 16), 3.0 - SLOW, TURN + 6.0, TurnClass::None);
    // Two beats to take the mute off, which alone needs three.
    assert_free(point(&checked, "Horn in F 3", 98), FOG / 2.0 - SLOW, TURN + 3.0, TurnClass::None);
    // The second half note of the bar rings on; the next stroke stands on the barline.
    assert_free(point(&checked, "Percussion 1", 144), ADAGIO / 2.0 - STROKE - SLOW, TURN, TurnClass::None);
    // Both hands of the harp play: a chord every half bar, which leaves less than the eye is ahead.
    assert_free(point(&checked, "Harp", 59), 0.0, TURN, TurnClass::None);
}

#[test]
fn the_bass_trombone_is_told_to_ask_for_a_cue_and_the_trombones_have_theirs() {
    let checked = with(&PartsOptions::default());
    let silence = &part(&checked, "Bass trombone").whole.rests[0];
    assert_eq!(silence.bars, BarSpan::new(BarIdx(4), BarIdx(115)));
    assert!((silence.seconds.unwrap().0 - 310.3).abs() < 0.1, "{:?}", silence.seconds);
    assert_eq!((silence.rank, silence.has_cue), (Some(1), false));
    assert!(silence.cue.is_some());
    let beside = &part(&checked, "Trombone 1").whole.rests;
    let long = beside.iter().max_by_key(|rest| rest.bars.count()).unwrap();
    assert_eq!((long.rank, long.has_cue), (None, true));
}

#[test]
fn one_place_of_the_oboes_cannot_be_told_and_nothing_else() {
    let checked = with(&PartsOptions::default());
    for part in &checked.parts {
        let bars: Vec<BarSpan> = part.player.undecided.iter().map(|open| open.bars).collect();
        let expected = BarSpan::new(BarIdx(94), BarIdx(96));
        let is_oboe = part.player.name.starts_with("Oboe");
        assert_eq!(bars, if is_oboe { vec![expected] } else { Vec::new() }, "{}", part.player.name);
    }
}

#[test]
fn pages_and_turns_are_as_the_table_says() {
    let checked = with(&PartsOptions::default());
    let of = |name: &str| {
        let pages = &part(&checked, name).proposed;
        let turns: Vec<u32> = pages.turns.iter().map(|turn| turn.point.after.0 + 1).collect();
        (pages.pages.layout.pages.len(), turns)
    };
    assert_eq!(of("Violins II"), (3, vec![98]));
    assert_eq!(of("Violins I"), (3, vec![111]));
    assert_eq!(of("Timpani"), (2, vec![]));
    let harp = part(&checked, "Harp");
    assert_eq!(harp.proposed.backward.len(), 1);
    // In large print the second horn turns in the general pause, where everybody hears it.
    let large =
        PartsOptions { only: vec!["Horn in F 2".to_owned()], staff_height: Some(Mm(8.5)), ..Default::default() };
    let large = with(&large);
    let turns: Vec<u32> = large.parts[0].proposed.turns.iter().map(|turn| turn.point.after.0 + 1).collect();
    assert_eq!(turns, [111]);
}

#[test]
fn what_is_found_in_the_parts_is_what_was_put_there() {
    let checked = with(&PartsOptions::default());
    let found: Vec<(&str, &str)> = checked
        .parts
        .iter()
        .flat_map(|part| part.findings.iter().map(move |finding| (part.player.name.as_str(), finding.rule)))
        .collect();
    let expected = [
        ("Flute 2 (Piccolo)", "change-too-quick"),
        ("English horn in F", "hard-to-count"),
        ("Horn in F 3", "change-too-quick"),
        ("Horn in F 4", "change-too-quick"),
        ("Bass trombone", "hard-to-count"),
        ("Percussion 1", "change-too-quick"),
        ("Harp", "turn-without-time"),
        ("Violins I", "audible-turn"),
    ];
    assert_eq!(found, expected);
}
