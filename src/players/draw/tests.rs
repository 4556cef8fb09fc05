//! A staff of two flutes, bar by bar, with both players' lines written out by hand.

use super::*;
use crate::limits::Limits;
use crate::players::Undecided;
use crate::read::{Input, read};
use crate::score::EventKind;

/// A bar as MusicXML has it. Words first; then voices apart by "/"; notes are letters, "+" stacks a chord, "r" rests,
/// "^" and "v" turn the stem before; all notes of a voice share the bar.
fn bar(number: usize, text: &str) -> String {
    let (words, music) = text.split_once(':').unwrap_or(("", text));
    let mut xml = format!("<measure number=\"{number}\">");
    if number == 1 {
        xml +=
            "<attributes><divisions>12</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    }
    if !words.is_empty() {
        xml += &format!("<direction><direction-type><words>{words}</words></direction-type></direction>");
    }
    for (voice, notes) in (1..).zip(music.split('/')) {
        if voice > 1 {
            xml += "<backup><duration>48</duration></backup>";
        }
        let notes: Vec<&str> = notes.split_whitespace().collect();
        let length = 48 / notes.len();
        for note in &notes {
            let stem = match note.chars().next() {
                Some('^') => "<stem>up</stem>",
                Some('v') => "<stem>down</stem>",
                _ => "",
            };
            for (at, head) in note.trim_start_matches(['^', 'v']).split('+').enumerate() {
                let chord = if at > 0 { "<chord/>" } else { "" };
                let what = match head {
                    "r" => "<rest/>".to_owned(),
                    _ => format!("<pitch><step>{}</step><octave>{}</octave></pitch>", &head[..1], &head[1..]),
                };
                xml += &format!("<note>{chord}{what}<duration>{length}</duration><voice>{voice}</voice>{stem}</note>");
            }
        }
    }
    xml + "</measure>"
}

fn score_of(name: &str, bars: &[&str]) -> Score {
    let bars: String = (1..).zip(bars).map(|(number, text)| bar(number, text)).collect();
    let xml = format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>{name}</part-name></score-part>\
         </part-list><part id=\"P1\">{bars}</part></score-partwise>"
    );
    read(&[Input { name: "a.musicxml", bytes: xml.as_bytes() }], &Limits::default()).unwrap().score
}

/// What a player plays in each bar: "G4 A4", chords with "+"; "-" for a bar of rest.
fn played(player: &Player) -> Vec<String> {
    let name = |note: &crate::score::Note| {
        format!("{}{}", ["C", "D", "E", "F", "G", "A", "B"][usize::from(note.pitch.step)], note.pitch.octave)
    };
    let of_cell = |cell: &Cell| {
        let chords = cell.events.iter().filter_map(|event| match &event.kind {
            EventKind::Chord(notes) => Some(notes.iter().map(name).collect::<Vec<_>>().join("+")),
            EventKind::Rest { .. } => None,
        });
        let all: Vec<String> = chords.collect();
        if all.is_empty() { "-".to_owned() } else { all.join(" ") }
    };
    player.music.cells.iter().map(of_cell).collect()
}

/// Each bar, what flute 1 plays, and what flute 2 plays.
const FLUTES: [(&str, &str, &str); 24] = [
    ("a 2:G4 A4", "G4 A4", "G4 A4"),
    ("B4 C5", "B4 C5", "B4 C5"),
    ("1.:D5 E5", "D5 E5", "-"),
    ("F5 G5", "F5 G5", "-"),
    ("2.:D4 E4", "-", "D4 E4"),
    ("r", "-", "-"),
    ("F4", "-", "F4"),
    ("unis.:A4 B4", "A4 B4", "A4 B4"),
    ("G4+B4 A4+C5", "B4 C5", "G4 A4"),
    ("G4+B4 D5", "B4 D5", "G4 D5"),
    ("G5 A5/E4 F4", "G5 A5", "E4 F4"),
    ("G5/r", "G5", "-"),
    ("r/F4", "-", "F4"),
    ("^D5 ^E5", "D5 E5", "-"),
    ("vE4 vF4", "-", "E4 F4"),
    ("Solo:A5", "A5", "-"),
    ("B5", "B5", "-"),
    ("zu 2:C5", "C5", "C5"),
    ("div.:G4+D5", "D5", "G4"),
    // Nothing says who plays this and the next.
    ("E5 D5", "E5 D5", "E5 D5"),
    ("C5", "C5", "C5"),
    ("I.:B4", "B4", "-"),
    ("I. II.:A4", "A4", "A4"),
    ("r", "-", "-"),
];

#[test]
fn two_flutes_on_one_staff_are_told_apart_as_players_would() {
    let score = score_of("2 Flutes", &FLUTES.map(|(bar, ..)| bar));
    let players = draw(&score, None).players;
    assert_eq!(players.iter().map(|player| player.name.as_str()).collect::<Vec<_>>(), ["Flute 1", "Flute 2"]);
    for (number, (bar, first, second)) in (1..).zip(FLUTES) {
        let lines = players.iter().map(|player| played(player).swap_remove(number - 1)).collect::<Vec<_>>();
        assert_eq!(lines, [first, second], "bar {number}: {bar}");
    }
}

#[test]
fn what_the_staff_does_not_tell_is_listed_for_both() {
    let score = score_of("2 Flutes", &FLUTES.map(|(bar, ..)| bar));
    for player in draw(&score, None).players {
        let bars: Vec<(u32, u32)> =
            player.undecided.iter().map(|Undecided { bars, .. }| (bars.first.0 + 1, bars.last.0 + 1)).collect();
        assert_eq!(bars, [(20, 21)], "{}", player.name);
    }
}

#[test]
fn chords_end_what_words_said_of_one_player() {
    let score = score_of("2 Flutes", &["1.:D5", "r", "G4+B4", "a 2:A4"]);
    let lines: Vec<Vec<String>> = draw(&score, None).players.iter().map(played).collect();
    assert_eq!(lines, [["D5", "-", "B4", "A4"], ["-", "-", "G4", "A4"]]);
}

#[test]
fn three_players_need_three_notes() {
    let score = score_of("Trombones 1-3", &["C3+E3+G3", "a 3:C3", "C3+E3", "2.:D3"]);
    let players = draw(&score, None).players;
    let first: Vec<Vec<String>> = players.iter().map(played).collect();
    assert_eq!(first[0], ["G3", "C3", "C3+E3", "-"]);
    assert_eq!(first[1], ["E3", "C3", "C3+E3", "D3"]);
    assert_eq!(first[2], ["C3", "C3", "C3+E3", "-"]);
    assert_eq!(players[0].undecided.len(), 1);
}

#[test]
fn a_list_says_what_the_score_does_not() {
    let score = score_of("2 Flutes", &["a 2:G4", "1.:A4"]);
    let list = PartsList::parse(
        "[[part]]\nname = \"Flute II and Piccolo\"\nstaves = [\"2 Flutes\"]\nnumber = 2\ncopies = 3\n",
    );
    let drawn = draw(&score, Some(&list.unwrap()));
    let names: Vec<(&str, u16)> = drawn.players.iter().map(|player| (player.name.as_str(), player.copies)).collect();
    assert_eq!(names, [("Flute 1", 1), ("Flute II and Piccolo", 3)]);
    assert_eq!(played(&drawn.players[1]), ["G4", "-"]);
}

#[test]
fn a_list_that_names_unknown_staves_says_where_and_the_rest_goes_on() {
    let score = score_of("2 Flutes", &["a 2:G4"]);
    let list = PartsList::parse("[[part]]\nname = \"X\"\nstaves = [\"2 Fluts\"]\n").unwrap();
    let drawn = draw(&score, Some(&list));
    assert_eq!(drawn.players.len(), 2);
    let [error] = drawn.unknown.as_slice() else { panic!("{:?}", drawn.unknown) };
    assert_eq!(
        (error.line, error.what.as_str()),
        (3, "no staff of the score is called \"2 Fluts\"; did you mean \"2 Flutes\"?")
    );
    assert_eq!(PartsList::parse("[[part]]\nnome = 1\n").unwrap_err()[0].line, 2);
}

#[test]
fn divisions_of_a_section_are_one_part_and_two_sections_are_two() {
    use crate::fixture::score;
    use crate::score::Family::Strings;
    let parts = [("Violins I", Strings, 1), ("Violins I div. 2", Strings, 1), ("Violins II", Strings, 1)];
    let players = draw(&score(&parts, 2), None).players;
    let read: Vec<(&str, usize)> = players.iter().map(|player| (player.name.as_str(), player.staves.len())).collect();
    assert_eq!(read, [("Violins I", 2), ("Violins II", 1)]);
}

#[test]
fn two_parts_of_one_name_are_told_apart() {
    use crate::fixture::score;
    use crate::score::Family::{Brass, Strings};
    let parts = [("Tuba", Brass, 1), ("Violins", Strings, 1), ("Tuba", Brass, 1)];
    let players = draw(&score(&parts, 2), None).players;
    assert_eq!(players.iter().map(|player| player.name.as_str()).collect::<Vec<_>>(), ["Tuba", "Violins", "Tuba (2)"]);
}
