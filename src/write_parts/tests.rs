use super::*;
use crate::casting_off::{self, House};
use crate::fixture;
use crate::layout::{Page, PageKind};
use crate::metrics::Metrics;
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::players::Hands;
use crate::players::blocks::BlockKind;
use crate::read::read;
use crate::score::{EventKind, Family, Staff, SystemMarkKind};
use crate::units::Mm;

const CLEF: &str = "<attributes><divisions>2</divisions><key><fifths>0</fifths></key>\
                    <time><beats>4</beats><beat-type>4</beat-type></time></attributes>";

/// Durations count in halves of a quarter.
fn note(pitch: &str, duration: u32, more: &str) -> String {
    let (step, octave) = pitch.split_at(1);
    format!(
        "<note>{}<pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>{duration}</duration>\
         <voice>1</voice>{more}</note>",
        if more.contains("<!--chord-->") { "<chord/>" } else { "" }
    )
}

fn rest() -> String {
    "<note><rest measure=\"yes\"/><duration>8</duration><voice>1</voice></note>".to_owned()
}

/// Two parts: a flute staff over all, and a staff that two horns share.
fn file(flute: &[String], horns: &[String]) -> String {
    let part = |id: &str, bars: &[String]| {
        let bars = bars.iter().enumerate();
        let bar = |(at, bar): (usize, &String)| {
            let head = if at == 0 { CLEF } else { "" };
            format!("<measure number=\"{}\" width=\"200\">{head}{bar}</measure>", at + 1)
        };
        format!("<part id=\"{id}\">{}</part>", bars.map(bar).collect::<String>())
    };
    format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"F\"><part-name>Flute</part-name></score-part>\
         <score-part id=\"H\"><part-name>Horns 1, 2</part-name></score-part></part-list>{}{}</score-partwise>",
        part("F", flute),
        part("H", horns)
    )
}

/// The player of the lower staff who reads the note elements that `is_own` names.
fn horn(score: &Score, number: u16, is_own: impl Fn(u32) -> bool) -> Player {
    let mut music = score.clone();
    music.parts = vec![score.parts[1].clone()];
    music.staves = vec![Staff { part: PartId(0), number: 1 }];
    music.cells = score.cells.iter().skip(1).step_by(2).cloned().collect();
    for cell in &mut music.cells {
        cell.events.retain_mut(|event| match &mut event.kind {
            EventKind::Chord(notes) => {
                notes.retain(|note| note.nth.is_some_and(&is_own));
                !notes.is_empty()
            }
            EventKind::Rest { .. } => event.nth.is_some_and(&is_own),
        });
    }
    Player {
        name: format!("Horn {number} & <F>"),
        family: Family::Brass,
        hands: Hands::Wind,
        number: Some(number),
        staves: vec![StaffId(1)],
        copies: 1,
        music,
        undecided: Vec::new(),
    }
}

fn written(text: &str, player: impl Fn(&Score) -> Player, pages: &Layout, blocks: &[Block]) -> (String, Score) {
    let input = Input { name: "own", bytes: text.as_bytes() };
    let score = read(&[input], &Limits::default()).unwrap().score;
    let player = player(&score);
    let part = WantedPart { player: &player, pages, blocks };
    let mut parts = write_parts(&[input], &score, &[part], &Limits::default()).unwrap();
    let bytes = parts.remove(0).files.remove(0).unwrap();
    let copy = read(&[Input { name: "part", bytes: &bytes }], &Limits::default()).unwrap().score;
    (String::from_utf8(bytes).unwrap(), copy)
}

/// Events of a bar: onset and length in quarters, and the octave of each note; rests have none.
fn events(score: &Score, bar: u32) -> Vec<(String, String, Vec<i8>)> {
    let events = &score.cell(BarIdx(bar), StaffId(0)).unwrap().events;
    let octaves = |kind: &EventKind| match kind {
        EventKind::Chord(notes) => notes.iter().map(|note| note.pitch.octave).collect(),
        EventKind::Rest { .. } => Vec::new(),
    };
    events.iter().map(|event| (event.onset.to_string(), event.length.to_string(), octaves(&event.kind))).collect()
}

fn shown(onset: &str, length: &str, octaves: &[i8]) -> (String, String, Vec<i8>) {
    (onset.to_owned(), length.to_owned(), octaves.to_vec())
}

#[test]
fn where_the_other_player_has_notes_a_rest_of_that_length_stands() {
    let bar = [note("C4", 2, ""), note("C5", 2, "<type>quarter</type>"), note("D4", 4, "")].concat();
    let text = file(&[rest()], &[bar]);
    let (_, first) = written(&text, |score| horn(score, 1, |nth| nth != 1), &Layout::default(), &[]);
    assert_eq!(events(&first, 0), [shown("0", "1", &[4]), shown("1", "1", &[]), shown("2", "2", &[4])]);
    let (_, second) = written(&text, |score| horn(score, 2, |nth| nth == 1), &Layout::default(), &[]);
    assert_eq!(events(&second, 0), [shown("0", "1", &[]), shown("1", "1", &[5]), shown("2", "2", &[])]);
    let (other, third) = written(&text, |score| horn(score, 3, |_| false), &Layout::default(), &[]);
    assert_eq!(events(&third, 0), [shown("0", "4", &[])]);
    assert!(other.contains("<rest measure=\"yes\"/>"), "{other}");
}

#[test]
fn the_second_of_a_chord_keeps_what_stood_at_the_first_and_frees_its_stem() {
    let first = note("C5", 8, "<stem>up</stem><notations><slur type=\"start\"/><tied type=\"start\"/></notations>");
    let second = note("C4", 8, "<!--chord--><stem>up</stem>").replace("<note>", "<note default-y='-1400'>");
    let text = file(&[rest()], &[first + &second]);
    let (part, copy) = written(&text, |score| horn(score, 2, |nth| nth == 1), &Layout::default(), &[]);
    assert_eq!(events(&copy, 0), [shown("0", "4", &[4])]);
    let event = &copy.cell(BarIdx(0), StaffId(0)).unwrap().events[0];
    assert_eq!(event.slurs.starts, 1);
    for gone in ["<chord/>", "<stem>", "<tied", "width=", "default-y"] {
        assert!(!part.contains(gone), "{gone} in {part}");
    }
}

#[test]
fn a_mark_for_all_over_another_staff_stands_in_the_part_and_one_for_that_staff_does_not() {
    let kind = |kind: &str| format!("<direction-type>{kind}</direction-type>");
    let marks = [kind("<rehearsal>A</rehearsal>"), kind("<dynamics><ff/></dynamics>")].concat();
    let flute = format!("{}<direction>{marks}</direction>{}", note("C5", 4, ""), note("D5", 4, ""));
    let line = "<barline location=\"right\"><bar-style>light-heavy</bar-style><fermata/></barline>";
    let horns = [note("C4", 8, ""), "<barline location=\"right\"><bar-style>light-heavy</bar-style></barline>".into()];
    let text = file(&[flute + line], &[horns.concat()]);
    let (part, copy) = written(&text, |score| horn(score, 1, |_| true), &Layout::default(), &[]);
    let found: Vec<_> = copy.marks.iter().map(|mark| (mark.onset.to_string(), mark.kind.clone())).collect();
    assert_eq!(found, [("2".to_owned(), SystemMarkKind::Rehearsal("A".to_owned()))]);
    assert_eq!(events(&copy, 0), [shown("0", "4", &[4])]);
    assert!(!part.contains("<ff/>"), "{part}");
    assert!(copy.bars[0].right.fermata && part.matches("<barline").count() == 1, "{part}");
}

#[test]
fn rests_are_gathered_and_the_part_bears_the_players_name() {
    let flute: Vec<String> = (0..4).map(|_| note("C5", 8, "")).collect();
    let horns = [rest(), rest(), rest(), note("C4", 8, "")];
    let text = file(&flute, &horns);
    let rests = BlockKind::Rest { divisible_after: Vec::new() };
    let blocks = [
        Block { bars: BarSpan::new(BarIdx(0), BarIdx(2)), kind: rests },
        Block { bars: BarSpan::one(BarIdx(3)), kind: BlockKind::Bar },
    ];
    let (part, copy) = written(&text, |score| horn(score, 1, |_| true), &Layout::default(), &blocks);
    let gathered: Vec<_> = copy.bars.iter().map(|bar| bar.multi_bar_rest).collect();
    assert_eq!(gathered, [Some(3), None, None, None]);
    assert!(part.contains("<part-name>Horn 1 &amp; &lt;F&gt;</part-name>"), "{part}");
    assert_eq!(copy.parts.len(), 1);
    assert_eq!(copy.parts[0].name, "Horn 1 & <F>");
}

#[test]
fn another_file_than_was_read_is_refused() {
    let (old, new) = (file(&[rest()], &[rest()]), file(&[rest(), rest()], &[rest(), rest()]));
    let score = read(&[Input { name: "own", bytes: old.as_bytes() }], &Limits::default()).unwrap().score;
    let player = horn(&score, 1, |_| true);
    let part = WantedPart { player: &player, pages: &Layout::default(), blocks: &[] };
    let input = Input { name: "own", bytes: new.as_bytes() };
    let errors = write_parts(&[input], &score, &[part], &Limits::default()).unwrap_err();
    assert_eq!(errors, [WriteError::OtherMusic { file: "own".to_owned(), found: 2, known: 1 }]);
}

#[test]
fn systems_and_pages_begin_where_the_parts_own_pages_have_them() {
    let four = |bar: String| -> Vec<String> { vec![bar; 4] };
    let old = "<print new-system=\"yes\"><staff-layout><staff-distance>90</staff-distance></staff-layout></print>";
    let text = file(&four(old.to_owned() + &rest()), &four(old.to_owned() + &note("C4", 8, "")));
    let score = read(&[Input { name: "own", bytes: text.as_bytes() }], &Limits::default()).unwrap().score;
    let music = horn(&score, 1, |_| true).music;
    let mut record = fixture::record(&music, Mm(6.5));
    record.bars[2].new_system = Some(true);
    record.bars[3].new_page = Some(true);
    let mut pages = casting_off::pages(&music, &Metrics::of(&music), &record, &House::default());
    let blank = Page { kind: PageKind::Blank, systems: Vec::new(), ..pages.pages[0].clone() };
    pages.pages.insert(1, blank);
    let (part, _) = written(&text, |score| horn(score, 1, |_| true), &pages, &[]);
    let prints: Vec<&str> = part.match_indices("<print").map(|(at, _)| part[at..].split('>').next().unwrap()).collect();
    assert_eq!(prints, ["<print new-system=\"yes\"/", "<print new-page=\"yes\" blank-page=\"1\"/"]);
    assert!(part.contains("<scaling><millimeters>6.500</millimeters><tenths>40</tenths></scaling>"), "{part}");
}

#[test]
fn a_file_that_goes_bar_by_bar_gives_the_same_part() {
    let bars = [note("C4", 8, ""), note("D4", 8, "")];
    let partwise = file(&[rest(), rest()], &bars);
    let head = partwise.split("<part id").next().unwrap().replace("partwise", "timewise");
    let bar = |(at, bar): (usize, &String)| {
        let head = if at == 0 { CLEF } else { "" };
        let flute = format!("<part id=\"F\">{head}{}</part>", rest());
        format!("<measure number=\"{}\" width=\"200\">{flute}<part id=\"H\">{head}{bar}</part></measure>", at + 1)
    };
    let timewise = format!("{head}{}</score-timewise>", bars.iter().enumerate().map(bar).collect::<String>());
    let part = |text: &str| written(text, |score| horn(score, 1, |_| true), &Layout::default(), &[]).0;
    assert_eq!(part(&timewise), part(&partwise));
}

#[test]
fn a_movement_without_the_players_staff_gives_no_file() {
    let both = file(&[rest()], &[note("C4", 8, "")]);
    let listed = "<score-part id=\"H\"><part-name>Horns 1, 2</part-name></score-part>";
    let from = both.find("<part id=\"H\">").unwrap();
    let flute_only = both[..from].replace(listed, "") + "</score-partwise>";
    let inputs = [Input { name: "I", bytes: both.as_bytes() }, Input { name: "II", bytes: flute_only.as_bytes() }];
    let score = read(&inputs, &Limits::default()).unwrap().score;
    let player = horn(&score, 1, |_| true);
    let part = WantedPart { player: &player, pages: &Layout::default(), blocks: &[] };
    let written = write_parts(&inputs, &score, &[part], &Limits::default()).unwrap().remove(0);
    let is_there: Vec<bool> = written.files.iter().map(Option::is_some).collect();
    assert_eq!(is_there, [true, false]);
}

#[test]
fn a_fermata_over_another_staff_stands_over_the_note_or_the_rest_of_that_time() {
    let held = "<notations><fermata/></notations>";
    let flute = [note("C5", 4, "") + &note("D5", 4, held), note("C5", 4, "") + &note("D5", 4, held)];
    let horns = [note("C4", 6, "") + &note("D4", 2, "<lyric><text>a</text></lyric>"), rest()];
    let (part, copy) = written(&file(&flute, &horns), |score| horn(score, 1, |_| true), &Layout::default(), &[]);
    let held = |bar: u32| -> Vec<(String, bool)> {
        let events = &copy.cell(BarIdx(bar), StaffId(0)).unwrap().events;
        events.iter().map(|event| (event.onset.to_string(), event.fermata)).collect()
    };
    assert_eq!(held(0), [("0".to_owned(), true), ("3".to_owned(), false)], "the note that sounds then");
    assert_eq!(held(1), [("0".to_owned(), true)], "the rest");
    assert_eq!(part.matches("<fermata").count(), 2, "{part}");
}
