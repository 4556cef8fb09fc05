use super::*;
use crate::fixture;
use crate::place::StaffId;
use crate::score::{Clef, ClefSign, Transposition};
use crate::units::Fraction;

/// A quartet of eight bars in which the first violin plays another note in every bar, the viola in the odd ones.
fn draft() -> Score {
    let mut score = fixture::score(&fixture::QUARTET, 8);
    for bar in 0..8 {
        let name = ["C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"][bar as usize];
        fixture::put(&mut score, bar, 0, vec![fixture::quarter(name, 0), fixture::quarter("G4", 2)]);
        if bar % 2 == 1 {
            fixture::put(&mut score, bar, 2, vec![fixture::quarter("C4", bar.into())]);
        }
    }
    score
}

/// The same with some bars of it, by their numbers from 0.
fn of_bars(score: &Score, bars: &[usize]) -> Score {
    let staves = score.staves.len();
    let mut own = score.clone();
    own.bars = bars.iter().map(|bar| score.bars[*bar].clone()).collect();
    own.cells = bars.iter().flat_map(|bar| score.cells[bar * staves..(bar + 1) * staves].to_vec()).collect();
    own.movements[0].bars.last = BarIdx(bars.len() as u32 - 1);
    own
}

/// "0=0 1-2 -3": bars together, changed, only in one; then what changed.
fn told(music: &Music) -> String {
    let number = |bar: Option<BarIdx>| bar.map_or(String::new(), |bar| bar.0.to_string());
    let bar = |bar: &BarPair| {
        let sign = match bar.status {
            Status::Equal => "=",
            Status::Edited => "~",
            Status::Inserted => "+",
            Status::Deleted => "x",
            Status::Moved => ">",
        };
        let over: Vec<&str> = bar.over.iter().map(|what| what.name()).collect();
        let cells = bar.cells.iter().map(|cell| {
            format!("{}:{}", cell.part, cell.what.iter().map(|what| what.name()).collect::<Vec<_>>().join("+"))
        });
        let what: Vec<String> = over.into_iter().map(str::to_owned).chain(cells).collect();
        let what = if what.is_empty() { String::new() } else { format!("({})", what.join(" ")) };
        format!("{}{sign}{}{what}", number(bar.old), number(bar.new))
    };
    music.bars.iter().map(bar).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_draft_against_itself_is_the_same() {
    let score = draft();
    let found = music(&score, &score);
    assert!(found.is_same());
    assert_eq!(found.share_matched(), 1.0);
}

#[test]
fn bars_out_in_and_moved_are_told() {
    let old = draft();
    assert_eq!(told(&music(&old, &of_bars(&old, &[0, 1, 4, 5, 6, 7]))), "0=0 1=1 2x 3x 4=2 5=3 6=4 7=5");
    assert_eq!(
        told(&music(&of_bars(&old, &[0, 1, 4, 5]), &of_bars(&old, &[0, 1, 2, 3, 4, 5]))),
        "0=0 1=1 +2 +3 2=4 3=5"
    );
    assert_eq!(told(&music(&old, &of_bars(&old, &[0, 1, 2, 6, 7, 3, 4, 5]))), "0=0 1=1 2=2 6>3 7>4 3=5 4=6 5=7");
}

#[test]
fn what_changed_is_told_of_the_part_that_it_changed_in() {
    let old = draft();
    let mut new = old.clone();
    fixture::put(&mut new, 3, 0, vec![fixture::quarter("F4", 0), fixture::quarter("A4", 2)]);
    fixture::put_dynamic(&mut new, 5, 2, "pp");
    fixture::put(&mut new, 6, 0, vec![fixture::quarter("B4", 1), fixture::quarter("G4", 2)]);
    new.bars[7].right.is_double = true;
    assert_eq!(
        told(&music(&old, &new)),
        "0=0 1=1 2=2 3~3(0:notes) 4=4 5~5(2:dynamics) 6~6(0:notes+rhythm) 7~7(barlines)"
    );
}

#[test]
fn parts_are_known_by_what_they_play() {
    let old = draft();
    let mut new = old.clone();
    // The viola is first and has another name; a trumpet of its own is new; the silent second violin is gone.
    let staves = old.staves.len();
    new.parts = [2, 0, 3].iter().map(|at| old.parts[*at].clone()).collect();
    new.parts[0].name = "Viola d'amore".to_owned();
    new.parts.push(crate::score::Part { name: "Trumpet".to_owned(), ..Default::default() });
    new.cells = old.cells.chunks(staves).flat_map(|bar| [2, 0, 3, 1].map(|at| bar[at].clone())).collect();
    for bar in 0..8 {
        fixture::put(&mut new, bar, 3, vec![fixture::quarter("E5", 3)]);
    }
    let found = music(&old, &new);
    let names: Vec<String> = found
        .parts
        .iter()
        .map(|pair| {
            let name =
                |score: &Score, id: Option<PartId>| id.map_or("-".to_owned(), |id| score.parts[id.at()].name.clone());
            let signs =
                [(pair.renamed, " renamed"), (pair.reordered, " elsewhere"), (pair.retransposed, " transposed")];
            let signs: String = signs.iter().filter(|(is, _)| *is).map(|(_, sign)| *sign).collect();
            format!("{} > {}{signs}", name(&old, pair.old), name(&new, pair.new))
        })
        .collect();
    assert_eq!(
        names,
        [
            "Violin II > -",
            "Viola > Viola d'amore renamed",
            "Violin I > Violin I elsewhere",
            "Violoncello > Violoncello",
            "- > Trumpet"
        ]
    );
    assert!(found.bars.iter().all(|bar| bar.status == Status::Equal));
}

#[test]
fn a_part_written_for_another_instrument_is_the_same_music() {
    let old = draft();
    let mut new = old.clone();
    for bar in 0..8 {
        let cell = &mut new.cells[bar * 4];
        cell.transposition = Transposition { diatonic: -7, chromatic: -12, octaves: 0 };
        for event in &mut cell.events {
            if let crate::score::EventKind::Chord(notes) = &mut event.kind {
                notes.iter_mut().for_each(|note| note.pitch.octave += 1);
            }
        }
    }
    let found = music(&old, &new);
    assert!(found.bars.iter().all(|bar| bar.status == Status::Equal), "{}", told(&found));
    assert!(found.parts[0].retransposed && !found.parts[2].retransposed);
    // Written an octave higher by mistake, it is other music.
    new.cells.iter_mut().for_each(|cell| cell.transposition = Transposition::default());
    assert_eq!(music(&old, &new).count(Status::Edited), 8);
}

#[test]
fn stems_alone_change_nothing_that_is_played() {
    let old = {
        let mut old = draft();
        old.cells.iter_mut().flat_map(|cell| &mut cell.events).for_each(|event| event.stem = crate::score::Stem::Up);
        old
    };
    let mut new = old.clone();
    new.cells[0].events[0].stem = crate::score::Stem::Down;
    let found = music(&old, &new);
    assert_eq!(told(&found).split(' ').next(), Some("0~0(0:layout)"));
    assert!(!found.bars[0].is_edited());
    // A file that tells no stems has not changed them.
    new.cells.iter_mut().flat_map(|cell| &mut cell.events).for_each(|event| event.stem = crate::score::Stem::Unknown);
    assert!(music(&old, &new).is_same());
}

#[test]
fn a_clef_is_what_notes_are_read_in() {
    let alto = Clef { sign: ClefSign::C, line: 3, octave_change: 0 };
    let mut old = draft();
    // Before the barline in the one draft, behind it in the other.
    old.cells[3 * 4].clef_changes = vec![(Fraction::whole(4), alto)];
    old.cells[4 * 4].clef = alto;
    let mut new = old.clone();
    new.cells[3 * 4].clef_changes.clear();
    new.cells[4 * 4].clef = old.cells[3 * 4].clef;
    new.cells[4 * 4].clef_changes = vec![(Fraction::ZERO, alto)];
    assert!(music(&old, &new).is_same());
    new.cells[4 * 4].clef_changes = vec![(Fraction::whole(1), alto)];
    assert_eq!(told(&music(&old, &new)).split(' ').nth(4), Some("4~4(0:clef)"));
}

#[test]
fn a_few_bars_for_another_instrument_are_other_notes_to_read() {
    let old = draft();
    let mut new = old.clone();
    let cell = &mut new.cells[5 * 4];
    cell.transposition = Transposition { diatonic: -7, chromatic: -12, octaves: 0 };
    for event in &mut cell.events {
        if let crate::score::EventKind::Chord(notes) = &mut event.kind {
            notes.iter_mut().for_each(|note| note.pitch.octave += 1);
        }
    }
    let found = music(&old, &new);
    assert_eq!((found.count(Status::Edited), found.parts[0].retransposed), (1, false));
    assert_eq!(told(&found).split(' ').nth(5), Some("5~5(0:notes)"));
}

#[test]
fn nothing_at_all_is_no_trouble() {
    let (empty, score) = (Score::default(), draft());
    assert!(music(&empty, &empty).is_same());
    assert_eq!(music(&score, &empty).count(Status::Deleted), 8);
    assert_eq!(music(&empty, &score).share_matched(), 0.0);
    assert!(score.cell(BarIdx(0), StaffId(0)).is_some());
}
