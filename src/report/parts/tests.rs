use super::*;
use crate::check::{PartsOptions, Unwatched, parts};
use crate::read::Input;

/// A flute that plays throughout, and a tuba that is silent until the last bar.
fn checked() -> PartsChecked {
    let bar = |number: usize, plays: bool| {
        let attributes = if number == 1 {
            "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>\
             <direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>120</per-minute></metronome>\
             </direction-type></direction>"
        } else {
            ""
        };
        let note = if plays {
            "<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration></note>"
        } else {
            "<note><rest/><duration>4</duration></note>"
        };
        format!("<measure number=\"{number}\">{attributes}{note}</measure>")
    };
    let part = |id: &str, plays: &dyn Fn(usize) -> bool| {
        let bars: String = (1..=900).map(|number| bar(number, plays(number))).collect();
        format!("<part id=\"{id}\">{bars}</part>")
    };
    let text = format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"a\"><part-name>Flute</part-name></score-part>\
         <score-part id=\"b\"><part-name>Tuba</part-name></score-part><score-part id=\"c\"><part-name>Harp</part-name>\
         </score-part></part-list>{}{}{}</score-partwise>",
        part("a", &|_| true),
        part("b", &|number| number == 900),
        part("c", &|_| false)
    );
    parts(&[Input { name: "a.musicxml", bytes: text.as_bytes() }], &PartsOptions::default(), &mut Unwatched).unwrap()
}

#[test]
fn a_player_who_never_rests_is_named_and_a_silent_one_is_tacet() {
    let checked = checked();
    let text = terminal(&checked, Look::Plain, &[]);
    assert!(text.contains("Too little time to turn: Flute (after "), "{text}");
    assert!(text.lines().any(|line| line.contains("Harp") && line.contains("tacet")), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn the_sheets_are_one_for_the_summary_and_one_for_each_player() {
    let bytes = pdf(&checked()).unwrap();
    let pages = lopdf::Document::load_mem(&bytes).unwrap().get_pages().len();
    assert_eq!(pages, 4);
}

#[test]
fn the_json_reads_back_as_it_was_written() {
    let checked = checked();
    let report = model::PartsReport::of(&checked);
    let text = serde_json::to_string(&report).unwrap();
    assert_eq!(serde_json::from_str::<model::PartsReport>(&text).unwrap(), report);
    assert_eq!(report.parts.len(), 3);
}
