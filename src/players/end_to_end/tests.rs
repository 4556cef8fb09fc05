//! Lines from end to end: small ones with their sums by hand, open scores by part.

use std::path::PathBuf;

use super::*;
use crate::fixture::{self, put, put_dynamic, quarter, rest};
use crate::limits::Limits;
use crate::place::StaffId;
use crate::players::{Hands, Player};
use crate::read::{Input, read};
use crate::score::{Event, EventKind, Family, Key, MarkKind, Position, Score, Spanner, Staff, StaffMark};
use crate::score::{SystemMark, SystemMarkKind, Transposition};

const TROMBONE: u16 = 0;
const FLUTE: u16 = 1;
const VIOLIN: u16 = 2;

/// Bars of 4/4 and two seconds: a trombone that rests, a flute that rests, and violins that play a note in each bar.
fn trio(bars: u32) -> Score {
    let parts = [("Trombone", Family::Brass, 1), ("Flute", Family::Woodwind, 1), ("Violins", Family::Strings, 1)];
    let mut score = fixture::score(&parts, bars);
    for bar in 0..bars {
        put(&mut score, bar, 2, vec![quarter("G4", 0)]);
    }
    score
}

/// The only player of a part.
fn player(score: &Score, part: u16) -> Player {
    let listed = score.parts[usize::from(part)].clone();
    let staves: Vec<StaffId> = score.staves_of(PartId(part)).collect();
    let rows = score.cells.chunks(score.staves.len());
    let music = Score {
        bars: score.bars.clone(),
        movements: score.movements.clone(),
        staves: staves.iter().map(|staff| Staff { part: PartId(0), ..score.staves[staff.at()] }).collect(),
        cells: rows.flat_map(|row| staves.iter().map(|staff| row[staff.at()].clone())).collect(),
        parts: vec![listed.clone()],
        ..Score::default()
    };
    let hands = match listed.family {
        Family::Woodwind | Family::Brass => Hands::Wind,
        Family::Strings => Hands::Section,
        Family::Percussion => Hands::Percussion,
        _ => Hands::Unknown,
    };
    let (name, family) = (listed.name, listed.family);
    Player { name, family, hands, number: None, staves, copies: 1, music, undecided: Vec::new() }
}

fn whole(score: &Score, part: u16) -> EndToEnd {
    end_to_end(&player(score, part), &Everyone::new(score), Vec::new())
}

fn span(first: u32, last: u32) -> BarSpan {
    BarSpan::new(BarIdx(first), BarIdx(last))
}

fn half(quarters: i64) -> Fraction {
    Fraction::new(quarters, 2).unwrap()
}

fn starting_at(onset: Fraction, mut event: Event) -> Event {
    event.onset = onset;
    event
}

fn slurred(starts: u8, stops: u8, mut event: Event) -> Event {
    event.slurs = Spanner { starts, stops };
    event
}

fn tied(mut event: Event) -> Event {
    if let EventKind::Chord(notes) = &mut event.kind {
        notes[0].tie_starts = true;
    }
    event
}

fn words(text: &str) -> StaffMark {
    let kind = MarkKind::Words(text.to_owned());
    StaffMark::new(Fraction::ZERO, kind)
}

fn change_metre(score: &mut Score, from: u32, beats: i64) {
    for bar in &mut score.bars[from as usize..] {
        if let Some(metre) = &mut bar.metre {
            (metre.text, metre.length) = (format!("{beats}/4"), Fraction::whole(beats));
        }
    }
}

fn add_mark(score: &mut Score, bar: u32, kind: SystemMarkKind) {
    let mark =
        SystemMark { bar: BarIdx(bar), onset: Fraction::ZERO, kind, over: vec![StaffId(0)], at: Position::default() };
    score.marks.push(mark);
    score.marks.sort_by_key(|mark| mark.bar);
}

/// The trombone plays in bars 0 and 30, there alone and after the beat; the metre has changed twice meanwhile.
fn lost() -> Score {
    let mut score = trio(40);
    put(&mut score, 0, 0, vec![quarter("F3", 0)]);
    put(&mut score, 30, 0, vec![starting_at(half(1), quarter("A3", 0))]);
    change_metre(&mut score, 10, 3);
    change_metre(&mut score, 20, 4);
    score
}

#[test]
fn passages_bear_the_dynamic_in_force_and_the_range() {
    let mut score = trio(6);
    put(&mut score, 1, 0, vec![quarter("F3", 0), quarter("D3", 1), quarter("A3", 2)]);
    put(&mut score, 2, 0, vec![quarter("C3", 0)]);
    put(&mut score, 3, 0, vec![quarter("C3", 0)]);
    put(&mut score, 5, 0, vec![quarter("C3", 3)]);
    put_dynamic(&mut score, 1, 0, "ff");
    put_dynamic(&mut score, 2, 0, "sfz");
    put_dynamic(&mut score, 3, 0, "fp");
    let whole = whole(&score, TROMBONE);
    let [one, other] = &whole.plays[..] else { panic!("{:?}", whole.plays) };
    assert_eq!((one.bars, one.starts, one.seconds), (span(1, 3), Some(Seconds(2.0)), Some(Seconds(6.0))));
    assert_eq!(one.levels.iter().map(|level| level.loudness).collect::<Vec<_>>(), [Some(2), Some(2), Some(-1)]);
    let pitch = |step| Pitch { octave: 3, step, alter: 0 };
    assert_eq!(one.levels[0].range, Some((pitch(1), pitch(5))));
    assert_eq!((other.bars, other.levels[0].loudness), (span(5, 5), Some(-1)));
}

#[test]
fn nothing_is_loud_before_the_first_dynamic_of_a_movement() {
    let mut score = trio(2);
    fixture::add_movement(&mut score, 2);
    put(&mut score, 1, 0, vec![quarter("C3", 0)]);
    put(&mut score, 2, 0, vec![quarter("C3", 0)]);
    put_dynamic(&mut score, 1, 0, "f");
    let whole = whole(&score, TROMBONE);
    let levels: Vec<_> = whole.plays.iter().map(|passage| (passage.bars, passage.levels[0].loudness)).collect();
    assert_eq!(levels, [(span(1, 1), Some(1)), (span(2, 2), None)]);
}

#[test]
fn a_silence_lasts_from_the_last_sound_to_the_next() {
    let mut score = trio(5);
    put(&mut score, 0, 0, vec![quarter("F3", 0)]);
    put(&mut score, 3, 0, vec![quarter("F3", 2)]);
    let whole = whole(&score, TROMBONE);
    // Three beats of 0.5 s, two bars of 2 s, two beats; then a beat and a bar to the end.
    let silences: Vec<_> = whole.rests.iter().map(|silence| (silence.bars, silence.seconds)).collect();
    assert_eq!(silences, [(span(1, 2), Some(Seconds(6.5))), (span(4, 4), Some(Seconds(2.5)))]);
    assert!(whole.rests[1].hard.is_empty(), "nothing follows");
    score.bars[2].seconds = None;
    assert_eq!(self::whole(&score, TROMBONE).rests[0].seconds, None);
}

#[test]
fn a_player_who_is_silent_throughout_has_one_silence_and_no_flag() {
    let whole = whole(&trio(40), TROMBONE);
    assert_eq!(whole.rests.len(), 1);
    assert_eq!((whole.rests[0].bars, whole.rests[0].rank), (span(0, 39), None));
    assert_eq!((whole.plays.len(), whole.cold.len(), whole.breath), (0, 0, None));
}

#[test]
fn a_rest_through_changes_of_metre_with_an_entry_alone_after_the_beat_is_hard_to_count() {
    let silence = whole(&lost(), TROMBONE).rests.remove(0);
    assert_eq!((silence.bars, silence.rank), (span(1, 29), Some(1)));
    let hard = [HardToCount::Long, HardToCount::MetreChanges(2), HardToCount::OffTheBeat, HardToCount::EntersAlone];
    assert_eq!(silence.hard, hard);
}

#[test]
fn a_landmark_near_the_entry_picks_the_player_up() {
    let rank = |bar| {
        let mut score = lost();
        add_mark(&mut score, bar, SystemMarkKind::Rehearsal("B".to_owned()));
        whole(&score, TROMBONE).rests[0].rank
    };
    assert_eq!((rank(21), rank(22), rank(30)), (Some(1), None, None));
}

#[test]
fn a_landmark_just_after_the_entry_does_not() {
    let mut score = lost();
    add_mark(&mut score, 32, SystemMarkKind::Rehearsal("B".to_owned()));
    let silence = whole(&score, TROMBONE).rests.remove(0);
    assert!(silence.hard.contains(&HardToCount::LandmarkAfter));
    assert_eq!(silence.rank, Some(1));
}

#[test]
fn a_cue_that_stands_there_needs_no_other() {
    let mut score = lost();
    let mut cue = quarter("G4", 2);
    cue.cue = true;
    put(&mut score, 29, 0, vec![cue]);
    let silence = whole(&score, TROMBONE).rests.remove(0);
    assert!(silence.has_cue);
    assert_eq!((silence.bars, silence.rank, silence.cue), (span(1, 29), None, None));
}

#[test]
fn others_who_come_in_at_the_same_time_give_a_hold() {
    let mut score = lost();
    put(&mut score, 30, 1, vec![quarter("A5", 0)]);
    let silence = whole(&score, TROMBONE).rests.remove(0);
    assert!(!silence.hard.contains(&HardToCount::EntersAlone));
    assert_eq!(silence.rank, None);
}

#[test]
fn pauses_of_all_and_fermatas_upset_a_count() {
    let mut score = lost();
    put(&mut score, 15, 2, vec![rest()]);
    score.cells[16 * 3 + 2].events[0].fermata = true;
    add_mark(&mut score, 17, SystemMarkKind::TempoMoves("rit.".to_owned()));
    let hard = whole(&score, TROMBONE).rests.remove(0).hard;
    assert_eq!(hard[2..5], [HardToCount::Fermata, HardToCount::TempoMoves, HardToCount::GeneralPause]);
}

#[test]
fn a_cue_comes_from_whoever_moves_and_is_heard_and_is_written_for_its_reader() {
    let mut score = lost();
    // The flute has the tune in bars 27 to 29; the violins repeat one note, as loud.
    for bar in 27..30 {
        put(&mut score, bar, 1, vec![quarter("C5", 0), quarter("E5", 1), quarter("G5", 2)]);
    }
    put_dynamic(&mut score, 0, 2, "p");
    put_dynamic(&mut score, 27, 1, "p");
    // As if the trombone's part stood in F, with one flat.
    for cell in score.cells.iter_mut().step_by(3) {
        cell.transposition = Transposition { diatonic: -4, chromatic: -7, octaves: 0 };
        cell.key = Key { fifths: 1 };
    }
    let cue = whole(&score, TROMBONE).rests.remove(0).cue.unwrap();
    assert_eq!((cue.part, cue.name.as_str(), cue.bars), (PartId(FLUTE), "Flute", span(27, 29)));
    assert_eq!(cue.sounding, Pitch { octave: 5, step: 0, alter: 0 });
    assert_eq!(cue.written, Pitch { octave: 5, step: 4, alter: 0 });
    put_dynamic(&mut score, 26, 2, "f");
    assert_eq!(whole(&score, TROMBONE).rests[0].cue, None, "the flute is covered, and the violins stay on one note");
}

#[test]
fn a_high_loud_note_after_a_minute_is_a_cold_entry() {
    let mut score = trio(80);
    for bar in 0..20 {
        put(&mut score, bar, 0, vec![quarter("F3", 0), quarter("G3", 1)]);
    }
    // Bars 20 to 49 are 60 s, and the three beats before and the beat after are two more.
    put(&mut score, 50, 0, vec![quarter("A4", 1)]);
    put_dynamic(&mut score, 50, 0, "ff");
    let cold = whole(&score, TROMBONE).cold;
    let [entry] = &cold[..] else { panic!("{cold:?}") };
    assert_eq!((entry.bar, entry.onset, entry.silent), (BarIdx(50), Fraction::ONE, Seconds(61.5)));
    assert_eq!((entry.first, entry.loudness), (Some(Pitch { octave: 4, step: 5, alter: 0 }), Some(2)));
    assert!(entry.high && !entry.exposed, "a score of three parts tells nothing of exposure");
    put(&mut score, 50, 0, vec![quarter("F3", 1)]);
    assert_eq!(whole(&score, TROMBONE).cold, [], "loud alone is not enough");
}

#[test]
fn a_breath_reaches_over_slurs_and_ties_up_to_a_rest() {
    let mut score = trio(4);
    let beats = |names: [&str; 4]| [0, 1, 2, 3].map(|beat| quarter(names[beat as usize], beat));
    let [a, b, c, d] = beats(["A4", "B4", "C5", "D5"]);
    put(&mut score, 0, 1, vec![slurred(1, 0, a), slurred(0, 1, b), slurred(1, 0, c), tied(d)]);
    let [a, b, _, d] = beats(["D5", "E5", "C5", "D5"]);
    let pause = Event { kind: EventKind::Rest { whole_bar: false }, ..quarter("C5", 2) };
    put(&mut score, 1, 1, vec![a, slurred(0, 1, b), pause, slurred(1, 0, d)]);
    // From the third beat to the second of the next bar: four beats of half a second. The last slur never ends.
    let breath = whole(&score, FLUTE).breath.unwrap();
    assert_eq!(breath, Breath { bars: span(0, 1), seconds: Seconds(2.0), shared: false });
    for bar in 0..2 {
        score.cells[bar * 3 + 2].events = score.cells[bar * 3 + 1].events.clone();
    }
    assert!(whole(&score, FLUTE).breath.unwrap().shared, "the violins play the same");
    assert_eq!(whole(&score, VIOLIN).breath, None, "bows need no breath");
}

#[test]
fn two_on_one_staff_take_turns_to_breathe() {
    let mut score = trio(3);
    put(&mut score, 0, 1, vec![slurred(1, 0, quarter("A4", 0)), slurred(0, 1, quarter("B4", 1))]);
    let shared = |score: &Score| {
        let second = Player { number: Some(2), ..player(score, FLUTE) };
        end_to_end(&second, &Everyone::new(score), Vec::new()).breath.unwrap().shared
    };
    assert!(!shared(&score));
    score.cells[1].marks.push(words("a 2"));
    assert!(shared(&score));
    score.cells[1].marks.push(words("1."));
    assert!(!shared(&score));
}

#[test]
fn a_player_of_a_pair_enters_alone_only_where_the_staff_says_so() {
    let mut score = lost();
    let alone = |score: &Score| {
        let second = Player { number: Some(2), ..player(score, TROMBONE) };
        let whole = end_to_end(&second, &Everyone::new(score), Vec::new());
        whole.rests[0].hard.contains(&HardToCount::EntersAlone)
    };
    assert!(!alone(&score), "the other one may come in, too");
    score.cells[30 * 3].marks.push(words("2."));
    assert!(alone(&score));
}

#[test]
fn nobody_of_a_section_is_alone() {
    let mut score = lost();
    score.parts[0].family = Family::Strings;
    let silence = whole(&score, TROMBONE).rests.remove(0);
    assert!(!silence.hard.contains(&HardToCount::EntersAlone));
    assert_eq!(silence.rank, None);
}

#[test]
fn few_around_a_very_soft_entry_leave_it_exposed() {
    let strings = ("Violins", Family::Strings, 1);
    let mut score = fixture::score(&[("Trombone", Family::Brass, 1), strings, strings, strings], 40);
    put(&mut score, 35, 0, vec![quarter("F3", 0)]);
    put_dynamic(&mut score, 35, 0, "pp");
    for staff in 1..3 {
        put(&mut score, 35, staff, vec![quarter("G4", 0)]);
    }
    let cold = whole(&score, TROMBONE).cold;
    assert_eq!(cold.iter().map(|entry| (entry.silent, entry.exposed)).collect::<Vec<_>>(), [(Seconds(70.0), true)]);
    put(&mut score, 35, 3, vec![quarter("G4", 0)]);
    assert_eq!(whole(&score, TROMBONE).cold, []);
}

#[test]
fn a_sign_in_place_of_notes_is_played_from_the_bars_start_to_its_end() {
    let mut score = trio(4);
    put(&mut score, 0, 0, vec![quarter("F3", 0)]);
    score.cells[3].repeats_previous = true;
    let whole = whole(&score, TROMBONE);
    assert_eq!((whole.plays[0].bars, whole.plays[0].levels[1].range), (span(0, 1), None));
    assert_eq!(whole.rests[0].seconds, Some(Seconds(4.0)));
}

#[test]
fn a_score_without_bars_or_staves_has_nothing_to_show() {
    let empty = Score::default();
    let around = Everyone::new(&empty);
    let mut nobody = player(&trio(2), TROMBONE);
    nobody.staves = vec![StaffId(7)];
    assert_eq!(end_to_end(&nobody, &around, Vec::new()).plays, []);
    nobody.music = Score::default();
    assert_eq!(end_to_end(&nobody, &around, Vec::new()), EndToEnd::default());
}

/// The orchestral files, or nothing, said aloud.
fn open_scores() -> Vec<(String, Score)> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/data");
    let folder = std::env::var_os("RASTRUM_DATA").map_or_else(beside, PathBuf::from).join("orchestra");
    let Ok(files) = std::fs::read_dir(&folder) else {
        println!("skipped: no open data in {}", folder.display());
        return Vec::new();
    };
    let mut files: Vec<PathBuf> = files.map(|file| file.unwrap().path()).collect();
    files.sort();
    let music = files.iter().map(|file| {
        let (name, bytes) = (file.file_stem().unwrap().to_string_lossy().into_owned(), std::fs::read(file).unwrap());
        let score = read(&[Input { name: &name, bytes: &bytes }], &Limits::default()).unwrap().score;
        (name, score)
    });
    music.collect()
}

#[test]
fn open_scores_have_few_flags_and_no_bar_is_lost() {
    let (mut parts, mut long, mut flags, mut cold) = (0, 0, 0, 0);
    for (name, score) in open_scores() {
        let around = Everyone::new(&score);
        for part in (0..).take(score.parts.len()) {
            let whole = end_to_end(&player(&score, part), &around, Vec::new());
            let mut bars: Vec<BarIdx> = whole.plays.iter().flat_map(|passage| passage.bars.iter()).collect();
            bars.extend(whole.rests.iter().flat_map(|silence| silence.bars.iter()));
            bars.sort_unstable();
            assert!(bars.into_iter().eq(score.all_bars().unwrap().iter()), "{name}, part {part}");
            parts += 1;
            long += whole.rests.iter().filter(|silence| silence.hard.contains(&HardToCount::Long)).count();
            flags += whole.rests.iter().filter(|silence| silence.rank.is_some()).count();
            cold += whole.cold.len();
            let cues = whole.rests.iter().filter(|silence| silence.cue.is_some() && silence.rank.is_none());
            assert_eq!(cues.count(), 0, "{name}, part {part}");
        }
    }
    println!("{parts} parts: {long} long silences, {flags} hard to count, {cold} cold entries");
    assert!(flags <= parts, "more than one flag a part: {flags} in {parts}");
}
