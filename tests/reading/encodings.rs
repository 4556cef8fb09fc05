//! The same music in every encoding and packing that occurs.

use std::io::{Cursor, Write};

use rastrum::limits::Limits;
use rastrum::read::{Input, Reading, read};

const TEXT: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<score-partwise version=\"4.0\">\n<work><work-title>\u{c9}t\u{e9}</work-title></work>\n\
<part-list><score-part id=\"P1\"><part-name>Fl\u{f6}te</part-name></score-part></part-list>\n\
<part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions></attributes>\
<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration></note></measure></part></score-partwise>";

fn reading(bytes: &[u8]) -> Reading {
    read(&[Input { name: "summer", bytes }], &Limits::default()).unwrap()
}

fn utf_16(text: &str, order: fn(u16) -> [u8; 2], mark: bool) -> Vec<u8> {
    let mark = if mark { Some(0xfeff) } else { None };
    mark.into_iter().chain(text.encode_utf16()).flat_map(order).collect()
}

/// A zip archive of these files.
pub fn archive(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        archive.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

pub fn container(path: &str) -> String {
    format!("<?xml version=\"1.0\"?><container><rootfiles><rootfile full-path=\"{path}\"/></rootfiles></container>")
}

#[test]
fn every_encoding_gives_the_same_music() {
    let plain = reading(TEXT.as_bytes());
    assert_eq!(plain.score.title.as_deref(), Some("\u{c9}t\u{e9}"));
    let wide = TEXT.replace("UTF-8", "UTF-16");
    let narrow = TEXT.replace("UTF-8", "ISO-8859-1");
    let others = [
        [b"\xef\xbb\xbf", TEXT.as_bytes()].concat(),
        utf_16(&wide, u16::to_le_bytes, true),
        utf_16(&wide, u16::to_be_bytes, true),
        utf_16(&wide, u16::to_le_bytes, false),
        utf_16(&wide, u16::to_be_bytes, false),
        narrow.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect(),
        // Converted to UTF-8 by a tool that left the declaration alone.
        wide.clone().into_bytes(),
        TEXT.split_once('\n').unwrap().1.as_bytes().to_vec(),
    ];
    for (at, bytes) in others.iter().enumerate() {
        assert_eq!(reading(bytes).score, plain.score, "encoding {at}");
    }
}

#[test]
fn a_compressed_score_is_found_through_its_table_of_contents() {
    let contents = container("music/summer.musicxml");
    let bytes = archive(&[
        ("META-INF/container.xml", contents.as_bytes()),
        ("cover.xml", b"<cover/>"),
        ("music/summer.musicxml", TEXT.as_bytes()),
    ]);
    let packed = reading(&bytes);
    assert_eq!(packed.score, reading(TEXT.as_bytes()).score);
    assert_eq!(packed.sources[0].format, "MusicXML 4.0 partwise, compressed");
    assert_eq!(packed.sources[0].xml_bytes, TEXT.len() as u64);
    assert_eq!(packed.remarks, []);
}

#[test]
fn a_compressed_score_without_table_of_contents_is_read_with_a_remark() {
    let packed = reading(&archive(&[("summer.xml", TEXT.as_bytes())]));
    assert_eq!(packed.score, reading(TEXT.as_bytes()).score);
    assert_eq!(packed.remarks.len(), 1);
    assert_eq!(packed.remarks[0].message, "The archive has no META-INF/container.xml that names its score.");
}
