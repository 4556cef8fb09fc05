//! Files that cannot be read: one clear error each, with its place where it has one.

use rastrum::limits::Limits;
use rastrum::read::{Input, ReadErrorKind, read};

use crate::encodings::{archive, container};

fn errors_within(bytes: &[u8], limits: &Limits) -> Vec<String> {
    let errors = read(&[Input { name: "bad", bytes }], limits).unwrap_err();
    for error in &errors {
        assert!(error.kind.hint().is_some(), "no hint: {error}");
    }
    errors.iter().map(ToString::to_string).collect()
}

fn error(bytes: impl AsRef<[u8]>) -> String {
    let errors = errors_within(bytes.as_ref(), &Limits::default());
    assert_eq!(errors.len(), 1, "{errors:?}");
    errors.into_iter().next().unwrap()
}

/// One part with this in its only bar, which begins on line 3.
fn score(bar: &str) -> String {
    format!(
        "<score-partwise><part-list><score-part id='P1'><part-name>Oboe</part-name></score-part></part-list>\n\
         <part id='P1'><measure number='1'>\n{bar}</measure></part></score-partwise>"
    )
}

const NOTE: &str = "<note><rest/><duration>4</duration></note>";

#[test]
fn files_of_other_kinds_are_named() {
    assert_eq!(error(""), "bad: the file is empty");
    assert_eq!(error(" \n\t "), "bad: the file is empty");
    assert_eq!(error(b"MThd\0\0\0\x06\0\x01"), "bad: this is a MIDI file, not MusicXML");
    assert_eq!(error(b"%PDF-1.7"), "bad: this is a PDF, not MusicXML");
    assert_eq!(error(b"\x89PNG\r\n\x1a\n"), "bad: this is a PNG picture, not MusicXML");
    assert_eq!(error(b"\xff\xd8\xff\xe0"), "bad: this is a JPEG picture, not MusicXML");
    assert_eq!(error(b"II*\0"), "bad: this is a TIFF picture, not MusicXML");
    assert_eq!(error("Dear conductor,"), "bad: this is not XML: it does not begin with \"<\"");
}

#[test]
fn xml_of_other_kinds_is_named_by_its_root() {
    assert_eq!(error("<html><body/></html>"), "bad: this is XML but not MusicXML: the root element is \"html\"");
    let kind = ReadErrorKind::NotMusicXml { root: "container".to_owned() };
    assert_eq!(kind.hint(), Some("this is the table of contents of a compressed score: give the .mxl file itself"));
}

#[test]
fn broken_xml_is_placed_to_line_and_column() {
    assert_eq!(error(score("<note></nte>")), "bad:3:7: the XML is broken: </nte> stands where </note> must");
    assert_eq!(
        error("<score-partwise>\n<part-list></score-partwise>"),
        "bad:2:12: the XML is broken: </score-partwise> stands where </part-list> must"
    );
    assert_eq!(error(score("<note a='1' a='2'/>")), "bad:3:13: the XML is broken: attribute 'a' is already defined");
    assert_eq!(error(score("<note>&eacute;</note>")), "bad:3:7: the entity \"&eacute;\" is not known");
}

#[test]
fn files_that_break_off_say_so() {
    let whole = score(NOTE);
    assert_eq!(error(&whole[..whole.len() - 8]), "bad:3:69: the file breaks off: it ends before the music does");
    assert_eq!(error(&whole[..whole.len() - 40]), "bad:3:37: the file breaks off: it ends before the music does");
    assert_eq!(error("<score-partwise><part-list>\n"), "bad:1:28: the file breaks off: it ends before the music does");
}

#[test]
fn text_that_is_not_in_its_encoding_is_placed() {
    let bytes = [b"<score-partwise>\n<a>", b"\xff\xfe".as_slice(), b"</a></score-partwise>"].concat();
    assert_eq!(error(bytes), "bad:2:4: the text is not UTF-8");
    assert_eq!(error("<?xml version='1.0' encoding='martian'?><a/>"), "bad: the encoding \"martian\" is not known");
}

#[test]
fn entities_are_refused_before_they_can_expand() {
    let bomb = "<!DOCTYPE s [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;'>]><score-partwise>&b;</score-partwise>";
    assert_eq!(error(bomb), "bad:1:14: the document type declares entities of its own");
}

#[test]
fn archives_are_not_trusted() {
    assert_eq!(error(archive(&[("readme.txt", b"hello")])), "bad: there is no score in the archive");
    let missing = container("gone.xml");
    assert_eq!(
        error(archive(&[("META-INF/container.xml", missing.as_bytes())])),
        "bad: the archive names a score that it does not hold: \"gone.xml\""
    );
    assert_eq!(
        error(archive(&[("../evil.xml", b"<a/>")])),
        "bad: the archive names a file outside itself: \"../evil.xml\""
    );
    let outside = container("../../etc/passwd");
    assert_eq!(
        error(archive(&[("META-INF/container.xml", outside.as_bytes())])),
        "bad: the archive names a file outside itself: \"../../etc/passwd\""
    );
    let mut cut = archive(&[("score.xml", score(NOTE).as_bytes())]);
    cut.truncate(cut.len() / 2);
    assert!(error(cut).starts_with("bad: the archive cannot be read: "));
}

#[test]
fn a_bomb_is_stopped_at_the_limit() {
    let limits = Limits { inflated_bytes: 1 << 20, ..Limits::default() };
    let bytes = archive(&[("score.xml", &vec![b' '; 8 << 20])]);
    assert!(bytes.len() < 100_000);
    assert_eq!(errors_within(&bytes, &limits), ["bad: the music is larger than 1 MB when unpacked"]);
}

#[test]
fn a_small_archive_cannot_ask_for_all_that_is_allowed() {
    let bytes = archive(&[("score.xml", &vec![b' '; 80 << 20])]);
    assert!(bytes.len() < 100_000);
    assert_eq!(errors_within(&bytes, &Limits::default()), ["bad: the music is larger than 64 MB when unpacked"]);
}

#[test]
fn a_score_may_be_named_from_the_archive_itself() {
    let here = container("./score.xml");
    let bytes = archive(&[("META-INF/container.xml", here.as_bytes()), ("score.xml", score(NOTE).as_bytes())]);
    let input = Input { name: "here.mxl", bytes: &bytes };
    assert_eq!(read(&[input], &Limits::default()).unwrap().score.bars.len(), 1);
}

#[test]
fn a_size_that_lies_is_seen() {
    let mut bytes = archive(&[("score.xml", score(NOTE).as_bytes())]);
    let size = u32::try_from(score(NOTE).len()).unwrap().to_le_bytes();
    // Both records of the size, in the entry's head and in the directory.
    for at in 0..bytes.len() - 4 {
        if bytes[at..at + 4] == size {
            bytes[at..at + 4].copy_from_slice(&9_u32.to_le_bytes());
        }
    }
    assert!(error(&bytes).starts_with("bad: the archive cannot be read: "));
}

#[test]
fn no_element_may_have_attributes_or_nesting_without_bound() {
    let attributes: String = (0..50_000).map(|at| format!(" a{at}='x'")).collect();
    assert_eq!(error(score(&format!("<note{attributes}/>"))), "bad:3:1: an element has more than 256 attributes");
    let deep = format!("{}{}", "<a>".repeat(200_000), "</a>".repeat(200_000));
    assert_eq!(error(score(&deep)), "bad:3:760: elements are nested more than 256 deep");
}

#[test]
fn divisions_and_durations_must_be_numbers_that_music_can_have() {
    let divisions = |text: &str| score(&format!("<attributes><divisions>{text}</divisions></attributes>{NOTE}"));
    assert_eq!(error(divisions("0")), "bad:3:13: divisions must be a whole number above 0, not \"0\"");
    assert_eq!(error(divisions("-4")), "bad:3:13: divisions must be a whole number above 0, not \"-4\"");
    assert_eq!(error(divisions("many")), "bad:3:13: divisions must be a whole number above 0, not \"many\"");
    let duration = |text: &str| score(&format!("<note><rest/><duration>{text}</duration></note>"));
    assert_eq!(error(duration("-1")), "bad:3:14: a duration must be a number of 0 or more, not \"-1\"");
    assert_eq!(error(duration("")), "bad:3:14: a duration must be a number of 0 or more, not \"\"");
    let endless = format!("<note><rest/><duration>{}</duration></note>", i64::MAX).repeat(2);
    assert_eq!(error(score(&endless)), "bad:3:61: durations add up beyond all measure");
}

#[test]
fn scores_without_music_are_refused() {
    assert_eq!(error("<score-partwise/>"), "bad: the score has no parts");
    assert_eq!(
        error("<score-partwise><part-list><score-part id='P1'/></part-list><part id='P1'/></score-partwise>"),
        "bad: the score has no bars"
    );
}

#[test]
fn small_files_cannot_ask_for_boundless_memory() {
    let limits = Limits { bars: 10, cells: 40, parts: 3, ..Limits::default() };
    let bars = "<measure/>".repeat(11);
    let text = format!("<score-partwise><part id='P1'>{bars}</part></score-partwise>");
    assert_eq!(errors_within(text.as_bytes(), &limits).len(), 1);
    let staves = "<measure><attributes><staves>60</staves></attributes></measure>";
    let text = format!("<score-partwise><part id='P1'>{staves}</part></score-partwise>");
    assert!(errors_within(text.as_bytes(), &limits)[0].contains("more than 40 bars times staves"));
    let text = format!("<score-partwise>{}</score-partwise>", "<part><measure/></part>".repeat(4));
    assert!(errors_within(text.as_bytes(), &limits)[0].contains("more than 3 parts"));
    let few = Limits { items: 3, chord_notes: 2, ..Limits::default() };
    assert_eq!(errors_within(score(&NOTE.repeat(4)).as_bytes(), &few), ["bad:3:127: more than 3 notes and directions"]);
    let note = |more: &str| {
        format!("<note>{more}<pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>")
    };
    let chord = score(&(note("") + &note("<chord/>") + &note("<chord/>")));
    assert!(errors_within(chord.as_bytes(), &few)[0].ends_with("more than 2 notes in a chord"));
}

#[test]
fn troubles_in_several_parts_are_told_together() {
    let bad = "<part><measure><attributes><divisions>0</divisions></attributes></measure></part>";
    let text = format!("<score-partwise>\n{bad}\n{bad}\n</score-partwise>");
    let told = errors_within(text.as_bytes(), &Limits::default());
    assert_eq!(told.len(), 2);
    assert!(told[0].starts_with("bad:2:28: ") && told[1].starts_with("bad:3:28: "), "{told:?}");
}
