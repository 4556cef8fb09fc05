//! Each edit does to the score that is read what the truth says; on eight bars of five small parts.

use rastrum::layout::Record;
use rastrum::place::{BarIdx, StaffId};
use rastrum::score::{Cell, MarkKind, Transposition};

use super::content::{contents, staves};
use super::edits::pitch::{self, Interval};
use super::*;
use truth::Edit;

const BARS: usize = 8;
/// Across these barlines a tie and a slur go on.
const HELD: [usize; 2] = [3, 6];

/// One bar of quarters, with what it begins with.
fn bar(at: usize, begins: &str, steps: &str, octave: usize) -> String {
    let note = |nth: usize, step: char| {
        let tie = match (at, nth, octave) {
            (2, 3, 5) => "<tie type=\"start\"/>",
            (3, 0, 5) => "<tie type=\"stop\"/>",
            _ => "",
        };
        let slur = match (at, nth, octave) {
            (5, 3, 4) => "<notations><slur type=\"start\" number=\"1\"/></notations>",
            (6, 0, 4) => "<notations><slur type=\"stop\" number=\"1\"/></notations>",
            _ => "",
        };
        format!(
            "<note><pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>4</duration>{tie}<voice>1</voice>\
             <type>quarter</type>{slur}</note>"
        )
    };
    let notes: String = steps.chars().enumerate().map(|(nth, step)| note(nth, step)).collect();
    let rest = "<note><rest measure=\"yes\"/><duration>16</duration><voice>1</voice></note>";
    let notes = if steps.is_empty() { rest } else { &notes };
    format!("<measure number=\"{}\">{begins}{notes}</measure>\n", at + 1)
}

/// A flute, a clarinet in B flat, horns that rest but for a bar, a viola with another clef from the fifth bar on, a bass.
/// The fifth bar is in D.
fn score() -> String {
    let parts = [
        ("Flute", "<sign>G</sign><line>2</line>", 0, "", 5),
        ("Clarinet", "<sign>G</sign><line>2</line>", 2, "<diatonic>-1</diatonic><chromatic>-2</chromatic>", 4),
        ("Horn", "<sign>G</sign><line>2</line>", 0, "", 3),
        ("Viola", "<sign>C</sign><line>3</line>", 0, "", 4),
        ("Bass", "<sign>F</sign><line>4</line>", 0, "", 2),
    ];
    let (mut list, mut all) = (String::new(), String::new());
    for (nth, (name, clef, fifths, transpose, octave)) in parts.into_iter().enumerate() {
        list.push_str(&format!(
            "<score-part id=\"P{nth}\"><part-name>{name}</part-name><part-abbreviation>{name}.</part-abbreviation>\
             <score-instrument id=\"P{nth}-I1\"><instrument-name>{name}</instrument-name></score-instrument></score-part>"
        ));
        let key = |fifths: i32| format!("<key><fifths>{fifths}</fifths></key>");
        let transpose =
            if transpose.is_empty() { String::new() } else { format!("<transpose>{transpose}</transpose>") };
        let bars: String = (0..BARS)
            .map(|at| {
                let begins = match at {
                    0 => format!(
                        "<attributes><divisions>4</divisions>{}<time><beats>4</beats><beat-type>4</beat-type></time>\
                         <clef>{clef}</clef>{transpose}</attributes>",
                        key(fifths)
                    ),
                    4 if nth == 3 => {
                        format!("<attributes>{}<clef><sign>G</sign><line>2</line></clef></attributes>", key(fifths + 2))
                    }
                    4 => format!("<attributes>{}</attributes>", key(fifths + 2)),
                    _ => String::new(),
                };
                let turned: String = "CDEFGABC".chars().cycle().skip(at + nth).step_by(1 + at % 3).take(4).collect();
                let begins = if at == 3 { format!("<print new-page=\"yes\"/>{begins}") } else { begins };
                bar(at, &begins, if nth == 2 && at != 1 { "" } else { &turned }, octave)
            })
            .collect();
        all.push_str(&format!("<part id=\"P{nth}\">{bars}</part>"));
    }
    format!(
        "<score-partwise version=\"4.0\"><defaults><scaling><millimeters>7.0</millimeters><tenths>40</tenths></scaling>\
         </defaults><part-list><part-group type=\"start\" number=\"1\"/>{list}<part-group type=\"stop\" number=\"1\"/>\
         </part-list>{all}</score-partwise>"
    )
}

fn read(text: &str) -> (Score, Record) {
    let reading = read::read(&[Input { name: "score.musicxml", bytes: text.as_bytes() }], &Limits::default());
    let reading = reading.expect("a sound file");
    (reading.score, reading.record)
}

/// The small score before, and after one edit of a kind.
struct Case {
    old: Score,
    new: Score,
    record: Record,
    truth: Truth,
}

fn case(kind: usize, seed: u64) -> Option<Case> {
    let text = score();
    let cut = Cut::of(&text).expect("a partwise score");
    let mut truth = Truth::of(&cut);
    let made = edits::edit(kind, &cut, &Seams::of(&cut), &mut truth, &mut Seed::new(seed));
    let (new, record) = read(&copy::text(&cut, &States::of(&cut), &truth));
    made.then(|| Case { old: read(&text).0, new, record, truth })
}

fn cases(kind: usize) -> Vec<Case> {
    let all: Vec<Case> = (0..60).filter_map(|seed| case(kind, seed)).collect();
    assert!(all.len() > 30, "{} has a place", KINDS[kind]);
    all
}

fn cell(score: &Score, bar: usize, part: usize) -> &Cell {
    let staff = staves(score, part).next().expect("a staff");
    score.cell(BarIdx(bar as u32), StaffId(staff as u16)).expect("a cell")
}

impl Case {
    /// Every cell that nothing was done to is the old one, with the same in force.
    fn assert_others_are_kept(&self) {
        let Case { old, new, truth, .. } = self;
        assert_eq!((new.bars.len(), new.parts.len()), (truth.bars.len(), truth.parts.len()));
        for (at, bar) in truth.bars.iter().enumerate() {
            assert_eq!(new.bars[at].length, old.bars[bar.source].length);
            for (to, part) in truth.parts.iter().enumerate() {
                let (was, is) = (cell(old, bar.source, part.source), cell(new, at, to));
                assert_eq!(is.clef_at(Default::default()), was.clef_at(Default::default()), "bar {at} of part {to}");
                let touched = bar.shift + part.shift != 0
                    || bar.is.zip(part.is).is_some_and(|(bar, part)| truth.is_edited(bar, part));
                let same = contents(old, bar.source, part.source) == contents(new, at, to);
                assert_eq!(same, !touched || !was.sounds(), "bar {at} of part {to}");
                if part.transposed.is_none() {
                    assert_eq!((is.key, is.transposition), (was.key, was.transposition), "bar {at} of part {to}");
                }
            }
        }
    }
}

#[test]
fn a_score_is_cut_and_joined_without_a_change() {
    let text = score();
    let cut = Cut::of(&text).expect("a partwise score");
    let same = copy::text(&cut, &States::of(&cut), &Truth::of(&cut));
    assert_eq!(read(&same), read(&text));
}

#[test]
fn nothing_is_cut_across_a_tie_or_a_slur() {
    let text = score();
    let seams = Seams::of(&Cut::of(&text).expect("a partwise score"));
    let held: Vec<usize> = (0..=BARS).filter(|seam| !seams.is_clean(*seam)).collect();
    assert_eq!(held, HELD);
    let across: Vec<Case> = [0, 1, 2].into_iter().flat_map(cases).collect();
    for Case { truth, .. } in &across {
        for at in (1..truth.bars.len()).filter(|at| truth.is_seam(*at)) {
            assert!(!HELD.contains(&truth.bars[at].source) && !HELD.contains(&(truth.bars[at - 1].source + 1)));
        }
    }
}

#[test]
fn bars_are_put_in_with_what_is_in_force_where_they_come_from() {
    let all = cases(0);
    all.iter().for_each(Case::assert_others_are_kept);
    assert!(all.iter().any(|own| own.truth.bars.iter().any(|bar| bar.shift != 0)));
    for Case { truth, .. } in &all {
        assert!(truth.bars.len() > BARS && truth.deleted(BARS).is_empty());
        let kept: Vec<usize> = truth.bars.iter().filter_map(|bar| bar.is).collect();
        assert_eq!(kept, (0..BARS).collect::<Vec<_>>());
    }
}

#[test]
fn bars_are_taken_out() {
    for own in cases(1) {
        own.assert_others_are_kept();
        let out = own.truth.deleted(BARS);
        assert!(!out.is_empty() && own.new.bars.len() == BARS - out.len());
        assert!(out.windows(2).all(|two| two[0] + 1 == two[1]));
    }
}

#[test]
fn bars_are_moved_and_counted_anew() {
    for own in cases(2) {
        own.assert_others_are_kept();
        assert!(own.truth.deleted(BARS).is_empty() && own.new.bars.len() == BARS);
        assert!(!own.truth.bars.is_sorted_by_key(|bar| bar.is));
        let stay: Vec<_> = own.truth.bars.iter().filter(|bar| !bar.moved).map(|bar| bar.is).collect();
        assert!(stay.is_sorted() && stay.len() < BARS);
        let labels: Vec<&str> = own.new.bars.iter().map(|bar| bar.label.as_str()).collect();
        assert_eq!(labels, ["1", "2", "3", "4", "5", "6", "7", "8"]);
    }
}

#[test]
fn each_small_change_is_the_one_that_is_recorded() {
    let mut met = Vec::new();
    for own in cases(3) {
        own.assert_others_are_kept();
        for ((bar, part), edited) in &own.truth.edits {
            let (was, is) = (cell(&own.old, *bar, *part), cell(&own.new, *bar, *part));
            let marks =
                |cell: &Cell, fits: fn(&MarkKind) -> bool| cell.marks.iter().filter(|mark| fits(&mark.kind)).count();
            let dynamics = |cell| marks(cell, |kind| matches!(kind, MarkKind::Dynamic(_)));
            let words = |cell| marks(cell, |kind| matches!(kind, MarkKind::Words(_)));
            let signs = |cell: &Cell| cell.events.iter().flat_map(|event| event.signs.names()).count();
            let more = (
                is.events.len() - was.events.len(),
                dynamics(is) - dynamics(was),
                words(is) - words(was),
                signs(is) - signs(was),
            );
            let expected = match edited.kind {
                Edit::Pitch => (0, 0, 0, 0),
                Edit::Split => (1, 0, 0, 0),
                Edit::Dynamic => (0, 1, 0, 0),
                Edit::Words => (0, 0, 1, 0),
                Edit::Articulation => (0, 0, 0, 1),
            };
            assert_eq!(more, expected, "{:?} in bar {bar} of part {part}", edited.kind);
            met.push(edited.kind);
        }
    }
    for kind in [Edit::Pitch, Edit::Split, Edit::Dynamic, Edit::Words, Edit::Articulation] {
        assert!(met.contains(&kind), "{kind:?}");
    }
}

#[test]
fn parts_are_dropped_and_added() {
    for own in cases(4).into_iter().chain(cases(5)) {
        own.assert_others_are_kept();
        let kept: Vec<usize> = own.truth.parts.iter().filter_map(|part| part.is).collect();
        assert!(kept.is_sorted());
        for (at, part) in own.truth.parts.iter().enumerate() {
            let (was, is) = (&own.old.parts[part.source], &own.new.parts[at]);
            assert_eq!((was.name == is.name, was.id == is.id), (part.is.is_some(), part.is.is_some()));
        }
        let added = own.truth.parts.len() - kept.len();
        assert!((added, kept.len()) == (0, 4) || (added, kept.len()) == (1, 5));
    }
}

#[test]
fn parts_are_renamed_and_reordered() {
    for own in cases(6) {
        own.assert_others_are_kept();
        let other: Vec<usize> = (0..5).filter(|at| own.old.parts[*at].name != own.new.parts[*at].name).collect();
        let seeded: Vec<usize> = (0..5).filter(|at| own.truth.parts[*at].name.is_some()).collect();
        assert_eq!((other.len(), &other), (1, &seeded));
        assert_ne!(own.old.parts[other[0]].abbreviation, own.new.parts[other[0]].abbreviation);
    }
    for own in cases(7) {
        own.assert_others_are_kept();
        let names: Vec<&String> = own.new.parts.iter().map(|part| &part.name).collect();
        let seeded: Vec<&String> = own.truth.parts.iter().map(|part| &own.old.parts[part.source].name).collect();
        assert_eq!(names, seeded);
        assert!(!own.truth.parts.is_sorted_by_key(|part| part.is));
    }
}

#[test]
fn a_part_is_written_for_another_transposition_and_sounds_the_same() {
    for own in cases(8) {
        own.assert_others_are_kept();
        let at = own.truth.parts.iter().position(|part| part.transposed.is_some()).expect("one part");
        let by = own.truth.parts[at].transposed.expect("an interval");
        let wanted = Transposition { diatonic: -by.steps as i8, chromatic: -by.half_tones as i8, octaves: 0 };
        assert_ne!(at, 1, "the clarinet is not at pitch");
        for bar in 0..BARS {
            let (was, is) = (cell(&own.old, bar, at), cell(&own.new, bar, at));
            assert_eq!(is.transposition, wanted);
            assert_eq!(i32::from(is.key.fifths), i32::from(was.key.fifths) + by.fifths());
        }
    }
}

#[test]
fn pitches_keep_their_spelling_an_interval_higher() {
    let up = |step: &str, alter: &str, steps: i32, half_tones: i32| {
        let alter = if alter.is_empty() { String::new() } else { format!("<alter>{alter}</alter>") };
        let note = format!("<note><pitch><step>{step}</step>{alter}<octave>4</octave></pitch></note>");
        let new = pitch::transposed(&note, Interval { steps, half_tones });
        let of = |name| text::value(&new, name).unwrap_or_default().to_owned();
        format!("{}{} {}", of("step"), of("alter"), of("octave"))
    };
    assert_eq!(up("C", "", 1, 2), "D 4");
    assert_eq!(up("B", "-1", 1, 2), "C 5");
    assert_eq!(up("F", "1", 2, 3), "A 4");
    assert_eq!(up("E", "", 4, 7), "B 4");
    assert_eq!(up("B", "", 4, 7), "F1 5");
    assert_eq!(Interval { steps: 2, half_tones: 3 }.fifths(), -3);
}

#[test]
fn pages_are_cast_off_anew_and_the_music_stays() {
    for own in cases(9) {
        own.assert_others_are_kept();
        let pages = own.truth.pages.expect("other pages");
        let begins = |bar: &usize| {
            let record = &own.record.bars[*bar];
            record.new_system == Some(true) || record.new_page == Some(true)
        };
        let breaks: Vec<usize> = (0..BARS).filter(begins).collect();
        let wanted: Vec<usize> = (1..BARS).filter(|bar| bar.is_multiple_of(pages.bars_a_system)).collect();
        assert_eq!(breaks, wanted);
        let height = own.record.staff_heights[0].expect("a staff height").0;
        assert!((height - 7.0 * pages.size).abs() < 0.01, "{height}");
    }
}

#[test]
fn all_edits_at_once_are_told_as_seeded_cell_by_cell() {
    let text = score();
    let cut = Cut::of(&text).expect("a partwise score");
    for seed in 0..40 {
        let (mut truth, mut seed) = (Truth::of(&cut), Seed::new(seed));
        let seams = Seams::of(&cut);
        (0..KINDS.len()).for_each(|kind| {
            edits::edit(kind, &cut, &seams, &mut truth, &mut seed);
        });
        let (old, new) = (read(&text).0, read(&copy::text(&cut, &States::of(&cut), &truth)).0);
        Case { old, new, record: Record::default(), truth }.assert_others_are_kept();
    }
}

#[test]
fn a_wrong_telling_is_judged_wrong() {
    let own = case(1, 3).expect("bars out");
    let music = compare::music(&own.old, &own.new);
    let right = judge::judge(&own.old, &own.new, &own.truth, &music);
    assert!(right.parts && right.invented == 0 && right.right == right.cells, "{right:?}");
    let nothing = compare::music(&own.old, &own.old);
    let mut shifted = music.clone();
    shifted.bars.iter_mut().filter(|pair| pair.old.is_some()).for_each(|pair| pair.new = None);
    let wrong = judge::judge(&own.old, &own.new, &own.truth, &shifted);
    assert!(wrong.right < wrong.cells, "{wrong:?}");
    let untouched = judge::judge(&own.old, &own.old, &Truth::of(&Cut::of(&score()).expect("a score")), &nothing);
    assert_eq!(untouched.right, untouched.cells);
}
