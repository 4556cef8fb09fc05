use crate::metrics::Metrics;
use std::io::{Cursor, Read};

use super::*;
use crate::casting_off::{self, House};
use crate::read::{self, Reading};

fn reading(bytes: &[u8]) -> Reading {
    read::read(&[Input { name: "own", bytes }], &Limits::default()).unwrap()
}

/// The recorded pages of `bytes` but for their breaks, which stand at other bars.
fn moved(bytes: &[u8], breaks: &[(usize, Begins)]) -> (Score, Layout) {
    let Reading { score, mut record, .. } = reading(bytes);
    for (at, bar) in record.bars.iter_mut().enumerate() {
        let begins = breaks.iter().find(|(bar, _)| *bar == at).map_or(Begins::Nothing, |(_, begins)| *begins);
        bar.new_system = (begins == Begins::System).then_some(true);
        bar.new_page = (begins == Begins::Page).then_some(true);
    }
    let layout = casting_off::pages(&score, &Metrics::of(&score), &record, &House::default());
    (score, layout)
}

fn written(bytes: &[u8], breaks: &[(usize, Begins)], packing: Packing) -> Vec<u8> {
    let (score, layout) = moved(bytes, breaks);
    let mut copies =
        write_breaks(&[Input { name: "own", bytes }], &score, &layout, packing, &Limits::default()).unwrap();
    assert_eq!(copies.len(), 1);
    copies.remove(0)
}

const BAR: &str = "<note><rest/><duration>4</duration></note>";

fn partwise(bars: &[&str]) -> String {
    let bars: String = bars.iter().map(|bar| format!("<measure number=\"1\">{bar}{BAR}</measure>\n")).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- \u{e9} <print new-page=\"yes\"/> -->\n<score-partwise>\
         <part-list><score-part id=\"P1\"/></part-list><part id=\"P1\">\n{bars}</part></score-partwise>\n"
    )
}

const BREAKS: [(usize, Begins); 2] = [(2, Begins::System), (3, Begins::Page)];

#[test]
fn nothing_but_the_breaks_changes() {
    let old = partwise(&["<print new-page=\"yes\"/>", "<print new-system=\"yes\"/>", "", "<print a=\"1\"></print>"]);
    let new = partwise(&[
        "<print new-page=\"yes\"/>",
        "<print/>",
        "<print new-system=\"yes\"/>",
        "<print a=\"1\" new-page=\"yes\"></print>",
    ]);
    assert_eq!(String::from_utf8(written(old.as_bytes(), &BREAKS, Packing::Plain)).unwrap(), new);
    assert_eq!(written(new.as_bytes(), &BREAKS, Packing::Plain), new.as_bytes());
}

#[test]
fn every_encoding_stays_as_it_is() {
    let (old, new) =
        (partwise(&[""; 4]), partwise(&["", "", "<print new-system=\"yes\"/>", "<print new-page=\"yes\"/>"]));
    let utf_16 = |text: &str, order: fn(u16) -> [u8; 2], mark: &str| -> Vec<u8> {
        format!("{mark}{}", text.replace("UTF-8", "UTF-16")).encode_utf16().flat_map(order).collect()
    };
    let latin = |text: &str| -> Vec<u8> {
        text.replace("UTF-8", "ISO-8859-1").chars().map(|letter| u8::try_from(u32::from(letter)).unwrap()).collect()
    };
    for (old, new) in [
        (format!("\u{feff}{old}").into_bytes(), format!("\u{feff}{new}").into_bytes()),
        (utf_16(&old, u16::to_le_bytes, "\u{feff}"), utf_16(&new, u16::to_le_bytes, "\u{feff}")),
        (utf_16(&old, u16::to_be_bytes, "\u{feff}"), utf_16(&new, u16::to_be_bytes, "\u{feff}")),
        (utf_16(&old, u16::to_le_bytes, ""), utf_16(&new, u16::to_le_bytes, "")),
        (latin(&old), latin(&new)),
    ] {
        assert_eq!(written(&old, &BREAKS, Packing::Plain), new);
    }
}

#[test]
fn text_that_would_not_come_back_byte_for_byte_is_refused() {
    // In ISO-2022-JP a needless change of letters and back leaves no trace in the text.
    let old = partwise(&[""; 4]).replace("UTF-8", "ISO-2022-JP").replace('\u{e9}', "\u{1b}(B");
    let (score, layout) = moved(old.as_bytes(), &BREAKS);
    let input = Input { name: "own", bytes: old.as_bytes() };
    let errors = write_breaks(&[input], &score, &layout, Packing::Plain, &Limits::default()).unwrap_err();
    assert_eq!(errors, [WriteError::Encoding { file: "own".to_owned(), encoding: "ISO-2022-JP" }]);
}

#[test]
fn a_compressed_score_keeps_its_other_members() {
    let old = partwise(&[""; 4]);
    let packed = written(old.as_bytes(), &[], Packing::Compressed);
    let mut archive = zip::ZipWriter::new_append(Cursor::new(packed)).unwrap();
    archive.start_file("pictures/cover.png", zip::write::SimpleFileOptions::default()).unwrap();
    std::io::Write::write_all(&mut archive, b"not really").unwrap();
    let old = archive.finish().unwrap().into_inner();
    let new = written(&old, &BREAKS, Packing::Compressed);
    let members = |bytes: &[u8]| -> Vec<(String, Vec<u8>)> {
        let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        let all = 0..archive.len();
        all.map(|at| {
            let mut entry = archive.by_index(at).unwrap();
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).unwrap();
            (entry.name().unwrap().into_owned(), bytes)
        })
        .collect()
    };
    let (old_members, new_members) = (members(&old), members(&new));
    let differ: Vec<&str> =
        old_members.iter().zip(&new_members).filter(|(old, new)| old != new).map(|(old, _)| old.0.as_str()).collect();
    assert_eq!((old_members.len(), new_members.len(), differ), (4, 4, vec!["score.musicxml"]));
    assert_eq!(old_members[0], ("mimetype".to_owned(), b"application/vnd.recordare.musicxml".to_vec()));
    assert_eq!(written(&old, &BREAKS, Packing::Compressed), new);
    assert_eq!(written(&old, &BREAKS, Packing::Plain), new_members[2].1);
}

#[test]
fn breaks_stand_in_the_first_part_where_the_file_goes_bar_by_bar() {
    let bar = |print: &str| {
        format!("<measure number=\"1\"><part id=\"P1\">{print}{BAR}</part><part id=\"P2\">{BAR}</part></measure>")
    };
    let score = |prints: [&str; 3]| format!("<score-timewise>{}</score-timewise>", prints.map(bar).concat());
    let (old, new) = (score([""; 3]), score(["", "", "<print new-page=\"yes\"/>"]));
    assert_eq!(written(old.as_bytes(), &[(2, Begins::Page)], Packing::Plain), new.as_bytes());
}

#[test]
fn a_break_that_another_part_says_is_taken_from_it() {
    let score = |other: &str| {
        format!(
            "<score-partwise><part id=\"P1\"><measure/><measure/></part><part id=\"P2\"><measure/><measure>{other}{BAR}\
             </measure></part></score-partwise>"
        )
    };
    let (old, new) = (score("<print new-system=\"yes\"/>"), score("<print/>"));
    assert_eq!(written(old.as_bytes(), &[], Packing::Plain), new.as_bytes());
    assert_eq!(written(old.as_bytes(), &[(1, Begins::System)], Packing::Plain), old.as_bytes());
}

#[test]
fn a_bar_that_no_part_has_is_told() {
    let old = format!(
        "<score-timewise><measure><part id=\"P1\">{BAR}</part></measure><measure/><measure><part id=\"P1\">{BAR}</part>\
         </measure></score-timewise>"
    );
    let (score, layout) = moved(old.as_bytes(), &[(1, Begins::System)]);
    let input = Input { name: "own", bytes: old.as_bytes() };
    let errors = write_breaks(&[input], &score, &layout, Packing::Plain, &Limits::default()).unwrap_err();
    assert_eq!(errors[0].to_string(), "own: no part has music in bar 2, so no break can be set there");
}
