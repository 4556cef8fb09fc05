//! The second draft of the first movement held against README.md's tables of it, with nothing that compares drafts.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use rastrum::check::{Options, PartsOptions, Unwatched, check, parts};
use rastrum::limits::Limits;
use rastrum::place::{BarIdx, StaffId};
use rastrum::read::{Input, read};
use rastrum::score::{Cell, MarkKind, Pitch, Score, SystemMarkKind};

use crate::facts;

mod table;

use table::{CELLS, Pair, README, pairs};

const FIRST: &[u8] = include_bytes!("../../../src/demo/lantern-ferry-1.mxl");
const SECOND: &[u8] = include_bytes!("../../../src/demo/lantern-ferry-1-second.mxl");
/// The added line.
const BELL: &str = "Perc. 3";

static SCORES: LazyLock<[Score; 2]> = LazyLock::new(|| {
    [FIRST, SECOND].map(|bytes| read(&[Input { name: "draft", bytes }], &Limits::default()).expect("a score").score)
});

/// Each staff by its part's short name and its place within the part.
fn staves(score: &Score) -> BTreeMap<(&str, usize), StaffId> {
    let mut named = BTreeMap::new();
    for at in 0..score.staves.len() {
        let staff = StaffId(at as u16);
        let part = score.part_of(staff).expect("every staff has a part");
        let first = score.staves_of(score.staves[at].part).next().expect("a staff");
        named.insert((part.abbreviation.as_str(), at - first.at()), staff);
    }
    named
}

fn cell(score: &Score, bar: usize, staff: StaffId) -> &Cell {
    score.cell(BarIdx(bar as u32 - 1), staff).expect("a cell")
}

/// Both cells of a staff, by its part's short name, in a bar of the second draft.
fn cells(short: &str, bar: usize) -> (&'static Cell, &'static Cell) {
    let [first, second] = &*SCORES;
    let old = pairs().iter().find(|pair| pair.new == Some(bar)).and_then(|pair| pair.old).expect("a bar of both");
    (cell(first, old, staves(first)[&(short, 0)]), cell(second, bar, staves(second)[&(short, 0)]))
}

#[test]
fn the_readme_states_the_pages_of_the_second_draft() {
    assert!(README.contains(&facts::second_draft_table()), "put the output of --facts into README.md");
}

#[test]
fn every_bar_of_both_drafts_stands_in_the_table_once() {
    let [first, second] = &*SCORES;
    let count = |of: fn(&Pair) -> Option<usize>| pairs().iter().filter_map(of).collect::<BTreeSet<_>>();
    assert!(count(|pair| pair.old).into_iter().eq(1..=first.bars.len()));
    assert!(count(|pair| pair.new).into_iter().eq(1..=second.bars.len()));
    assert_eq!((first.bars.len(), second.bars.len()), (84, 77));
    let those = |word: &str| pairs().iter().filter(|pair| pair.what.contains(word)).count();
    assert_eq!((those("cut"), those("moved")), (7, 12));
    let in_place = pairs().iter().filter(|pair| pair.what.contains("edited") && !pair.what.contains("moved")).count();
    assert_eq!(in_place, 6);
}

#[test]
fn what_is_moved_crosses_what_is_not() {
    let in_order = |word: bool| {
        let kept = pairs().iter().filter(|pair| pair.what.contains("moved") == word);
        kept.filter_map(|pair| pair.old.filter(|_| pair.new.is_some())).collect::<Vec<_>>()
    };
    assert!(in_order(false).is_sorted() && in_order(true).is_sorted());
    let block: Vec<usize> =
        pairs().iter().filter(|pair| pair.what.contains("moved")).filter_map(|pair| pair.new).collect();
    assert_eq!(block, (42..=53).collect::<Vec<_>>());
}

#[test]
fn cells_are_equal_but_where_the_table_has_them_edited() {
    let [first, second] = &*SCORES;
    let (ours, theirs) = (staves(first), staves(second));
    let mut edited = BTreeSet::new();
    for (old, new) in pairs().iter().filter_map(|pair| pair.old.zip(pair.new)) {
        for (name, staff) in &ours {
            if cell(first, old, *staff) != cell(second, new, theirs[name]) {
                edited.insert((new, name.0));
            }
        }
    }
    assert_eq!(edited, CELLS.iter().copied().collect());
    for (bar, short) in CELLS {
        let rows = README.lines().filter(|line| line.starts_with(&format!("| {bar} | ")));
        assert!(rows.clone().any(|row| row.contains(&format!("{short}:"))), "bar {bar}, {short}");
    }
}

#[test]
fn the_bell_is_the_one_line_more() {
    let [first, second] = &*SCORES;
    let (ours, theirs) = (staves(first), staves(second));
    let more: Vec<_> = theirs.keys().filter(|name| !ours.contains_key(*name)).collect();
    assert_eq!(more, [&(BELL, 0)]);
    let sounding: Vec<usize> = (1..=77).filter(|bar| cell(second, *bar, theirs[&(BELL, 0)]).sounds()).collect();
    assert_eq!(sounding, [42, 46, 50, 53, 70]);
    assert!(README.contains("bars 42, 46, 50, 53 and 70"));
}

#[test]
fn three_edits_are_one_sign_each() {
    let dynamics = |cell: &Cell| {
        let own = cell.marks.iter().filter_map(|mark| match &mark.kind {
            MarkKind::Dynamic(name) => Some(name.clone()),
            _ => None,
        });
        own.collect::<Vec<_>>()
    };
    let (old, new) = cells("E. hn.", 13);
    assert!(old.events == new.events && old.marks.len() == new.marks.len());
    assert_eq!((dynamics(old), dynamics(new)), (vec!["mf".to_owned()], vec!["mp".to_owned()]));

    let (old, new) = cells("Vln. I", 25);
    assert_eq!(old.marks, new.marks);
    let other: Vec<_> = old.events.iter().zip(&new.events).filter(|(old, new)| old != new).collect();
    let [(before, after)] = other.as_slice() else { panic!("one event has an accent") };
    assert!(before.onset.is_zero() && before.kind == after.kind && before.slurs == after.slurs);
    assert_eq!((before.articulations, after.articulations), (0, 1));

    let (old, new) = cells("Fl. 1", 74);
    assert_eq!((old.events.len(), new.events.len(), &old.marks), (1, 1, &new.marks));
    let pitch = |cell: &Cell| pitches(cell).next();
    assert_eq!([pitch(old), pitch(new)], [(5, 5), (5, 3)].map(|(octave, step)| Some(Pitch { octave, step, alter: 0 })));
}

fn pitches(cell: &Cell) -> impl Iterator<Item = Pitch> {
    let chords = cell.events.iter().filter_map(|event| match &event.kind {
        rastrum::score::EventKind::Chord(notes) => Some(notes.iter().map(|note| note.pitch)),
        rastrum::score::EventKind::Rest { .. } => None,
    });
    chords.flatten()
}

/// Letters and tempos by bar.
fn over(score: &Score) -> BTreeSet<(usize, String)> {
    let told = |kind: &SystemMarkKind| match kind {
        SystemMarkKind::Rehearsal(letter) => Some(letter.clone()),
        SystemMarkKind::Tempo { words, .. } => Some(words.clone()),
        _ => None,
    };
    score.marks.iter().filter_map(|mark| Some((mark.bar.at() + 1, told(&mark.kind)?))).collect()
}

#[test]
fn letters_and_tempos_keep_their_bars_but_at_the_night() {
    let [first, second] = &*SCORES;
    let came = |(bar, told): (usize, String)| {
        let new = pairs().iter().find(|pair| pair.old == Some(bar)).and_then(|pair| pair.new)?;
        Some((new, told))
    };
    let ours: BTreeSet<_> = over(first).into_iter().filter_map(came).collect();
    let theirs = over(second);
    let told = |set: Vec<&(usize, String)>| set.iter().map(|(bar, told)| format!("{bar} {told}")).collect::<Vec<_>>();
    assert_eq!(told(ours.difference(&theirs).collect()), ["42 G", "48 H"]);
    assert_eq!(told(theirs.difference(&ours).collect()), ["42 D", "70 G", "70 Tempo I"]);
}

#[test]
fn eleven_of_thirty_players_have_other_notes() {
    let players = [FIRST, SECOND].map(|bytes| {
        let inputs = [Input { name: "draft", bytes }];
        let drawn = parts(&inputs, &PartsOptions::default(), &mut Unwatched).expect("parts");
        drawn.parts.into_iter().map(|part| (part.player.name, part.player.music)).collect::<BTreeMap<String, Score>>()
    });
    let [old, new] = &players;
    let own = |score: &Score, bar: usize| -> Vec<Cell> {
        (0..score.staves.len()).map(|staff| cell(score, bar, StaffId(staff as u16)).clone()).collect()
    };
    let sounds = |cells: &[Cell]| cells.iter().any(Cell::sounds);
    let is_other = |name: &String, music: &Score| {
        let Some(before) = old.get(name) else { return true };
        pairs().iter().any(|pair| match (pair.old, pair.new) {
            (Some(old), None) => sounds(&own(before, old)),
            (Some(old), Some(new)) => {
                let (one, other) = (own(before, old), own(music, new));
                one != other || pair.what.contains("moved") && sounds(&other)
            }
            _ => false,
        })
    };
    let other: Vec<&str> =
        new.iter().filter(|(name, music)| is_other(name, music)).map(|(name, _)| name.as_str()).collect();
    assert_eq!((new.len(), old.len(), other.len()), (30, 29, 11));
    assert!(old.keys().all(|name| new.contains_key(name)));
    let sentence = README.lines().find(|line| line.starts_with("Other notes:")).expect("a sentence");
    for name in &other {
        assert!(sentence.contains(&name.replace('\u{266d}', " flat")), "{name}");
    }
    assert_eq!(sentence.matches(',').count() + 2, other.len());
}

#[test]
fn three_places_are_mended_and_one_is_crowded() {
    let found = [FIRST, SECOND].map(|bytes| {
        let checked = check(&[Input { name: "draft", bytes }], &Options::default(), &mut Unwatched).expect("a report");
        let told = checked.findings.iter().map(|finding| {
            let pages = finding.places.iter().filter_map(|place| place.page);
            let mut labels: Vec<&str> = pages.map(|page| checked.layout.pages[page.at()].label.as_str()).collect();
            labels.dedup();
            format!("{} on {}", finding.rule, labels.join(", "))
        });
        told.collect::<BTreeSet<String>>()
    });
    let first = [
        "room-for-second-system on 6, 7",
        "staves-too-close on 5",
        "system-divider-missing on 14",
        "systems-too-close on 14",
    ];
    let second = ["risky-conductor-turn on 8", "staves-too-close on 6"];
    assert!(found[0].iter().eq(first.iter()), "{:?}", found[0]);
    assert!(found[1].iter().eq(second.iter()), "{:?}", found[1]);
}

#[test]
fn the_conductor_turns_less_and_mutes_want_time() {
    let found = [FIRST, SECOND].map(|bytes| {
        let inputs = [Input { name: "draft", bytes }];
        let pages = check(&inputs, &Options::default(), &mut Unwatched).expect("a report").layout.pages.len();
        let drawn = parts(&inputs, &PartsOptions::default(), &mut Unwatched).expect("parts").parts;
        assert!(drawn.iter().all(|part| part.proposed.turns.is_empty()), "no player turns");
        let players = drawn.iter().filter(|part| !part.findings.is_empty());
        let told = players.map(|part| {
            assert!(part.findings.iter().all(|finding| finding.rule == "change-too-quick"));
            part.player.name.clone()
        });
        // From each right-hand page to the left-hand one overleaf.
        (pages / 2, told.collect::<Vec<_>>())
    });
    let [(turns, mutes), (fewer, late)] = found;
    assert_eq!((turns, fewer), (7, 5));
    assert!(mutes.is_empty());
    assert_eq!(late, ["Horn in F 1", "Horn in F 2", "Violins I", "Violins II"]);
}
