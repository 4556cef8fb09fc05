//! Several files as the movements of one work.

use rastrum::limits::Limits;
use rastrum::place::{BarIdx, BarSpan, PartId, StaffId};
use rastrum::read::{Input, Reading, read};

/// A movement of `bars` bars for these parts: id and name.
fn movement(parts: &[(&str, &str)], bars: usize) -> String {
    let list: String = parts
        .iter()
        .map(|(id, name)| format!("<score-part id=\"{id}\"><part-name>{name}</part-name></score-part>"))
        .collect();
    let bar = "<measure number=\"1\"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time>\
               </attributes><note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note></measure>";
    let music: String = parts.iter().map(|(id, _)| format!("<part id=\"{id}\">{}</part>", bar.repeat(bars))).collect();
    format!("<score-partwise><part-list>{list}</part-list>{music}</score-partwise>")
}

fn work(movements: &[String]) -> Reading {
    let inputs: Vec<Input<'_>> =
        movements.iter().map(|text| Input { name: "movement", bytes: text.as_bytes() }).collect();
    read(&inputs, &Limits::default()).unwrap()
}

fn names(reading: &Reading) -> Vec<&str> {
    reading.score.parts.iter().map(|part| part.name.as_str()).collect()
}

#[test]
fn bars_count_on_through_the_movements() {
    let reading = work(&[movement(&[("P1", "Flute")], 3), movement(&[("P1", "Flute")], 2)]);
    let spans: Vec<BarSpan> = reading.score.movements.iter().map(|movement| movement.bars).collect();
    assert_eq!(spans, [BarSpan::new(BarIdx(0), BarIdx(2)), BarSpan::new(BarIdx(3), BarIdx(4))]);
    assert_eq!(reading.record.bars.len(), 5);
    assert_eq!(reading.record.defaults.len(), 2);
    assert_eq!(reading.score.note_elements, 5);
    assert_eq!(reading.score.parts[0].note_elements, 5);
}

#[test]
fn parts_are_matched_by_name_however_it_is_written() {
    let first = movement(&[("P1", "Flute 1"), ("P2", "Violin II"), ("P3", "Viola")], 1);
    let second = movement(&[("P7", "VIOLA"), ("P8", "violin  2"), ("P9", "Flute I")], 1);
    assert_eq!(names(&work(&[first, second])), ["Flute 1", "Violin II", "Viola"]);
}

#[test]
fn a_clarinet_stays_itself_when_its_key_changes() {
    let first = movement(&[("P1", "B\u{266d} Clarinet 1"), ("P2", "E\u{266d} Clarinet")], 1);
    let second = movement(&[("P1", "A Clarinet 1"), ("P2", "E\u{266d} Clarinet")], 1);
    assert_eq!(names(&work(&[first, second])), ["B\u{266d} Clarinet 1", "E\u{266d} Clarinet"]);
}

#[test]
fn two_parts_of_one_name_keep_their_order() {
    let two = movement(&[("P1", "Violin"), ("P2", "Violin")], 1);
    assert_eq!(names(&work(&[two.clone(), two])), ["Violin", "Violin"]);
}

#[test]
fn a_part_that_joins_later_takes_its_place_in_the_score() {
    let first = movement(&[("P1", "Flute"), ("P2", "Violin")], 1);
    let second = movement(&[("P1", "Flute"), ("P2", "Oboe"), ("P3", "Trumpet"), ("P4", "Violin")], 1);
    let reading = work(&[first, second]);
    assert_eq!(names(&reading), ["Flute", "Oboe", "Trumpet", "Violin"]);
    let score = &reading.score;
    let sounds = |bar, staff| score.cell(BarIdx(bar), StaffId(staff)).unwrap().sounds();
    assert_eq!([0, 1, 2, 3].map(|staff| sounds(0, staff)), [true, false, false, true]);
    assert_eq!([0, 1, 2, 3].map(|staff| sounds(1, staff)), [true; 4]);
    assert_eq!(score.part_of(StaffId(3)).unwrap().name, "Violin");
    assert_eq!(score.staves_of(PartId(1)).collect::<Vec<_>>(), [StaffId(1)]);
}

#[test]
fn a_part_that_is_silent_in_a_movement_holds_empty_bars() {
    let first = movement(&[("P1", "Flute"), ("P2", "Trombone")], 1);
    let reading = work(&[first, movement(&[("P1", "Flute")], 2)]);
    let cell = reading.score.cell(BarIdx(2), StaffId(1)).unwrap();
    assert!(cell.events.is_empty() && cell.is_silent());
}

#[test]
fn troubles_of_all_files_are_told_together() {
    let inputs = [
        Input { name: "one.xml", bytes: b"<score-partwise><part id='P1'><measure></part></score-partwise>" },
        Input { name: "two.mid", bytes: b"MThd\0\0\0\x06" },
        Input { name: "three.xml", bytes: b"<score-partwise><part-list/></score-partwise>" },
    ];
    let errors = read(&inputs, &Limits::default()).unwrap_err();
    let told: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "one.xml:1:40: the XML is broken: </part> stands where </measure> must",
            "two.mid: this is a MIDI file, not MusicXML",
            "three.xml: the score has no parts",
        ]
    );
}
