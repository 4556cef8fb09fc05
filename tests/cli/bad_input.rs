//! What cannot be read or understood: said with its place and a hint, exit code 2, nothing written.

use crate::music::duet;
use crate::program::{Folder, Run};

#[track_caller]
fn refused(name: &str, contents: impl AsRef<[u8]>, what: &str) -> Run {
    let folder = Folder::with(name, contents);
    let run = folder.run(&["check", name]);
    run.refuses(what);
    assert!(run.err.starts_with(&format!("error: {name}:")), "{run:?}");
    assert_eq!(folder.names(), [name]);
    run
}

#[test]
fn a_text_is_not_a_score() {
    refused("letter.xml", "Dear librarian,\n", "not XML");
}

#[test]
fn an_empty_file_is_not_a_score() {
    refused("empty.musicxml", "", "empty");
}

#[test]
fn other_xml_is_not_a_score() {
    refused("page.xml", "<?xml version=\"1.0\"?>\n<html><body/></html>\n", "not MusicXML");
}

#[test]
fn broken_xml_is_said_with_line_and_column() {
    let score = duet(2, 4.0).replacen("</measure>", "</mesure>", 1);
    let run = refused("broken.musicxml", score, "broken.musicxml:");
    let place = run.err.split(':').skip(2).take(2).map(|number| number.trim().parse::<u32>());
    assert!(place.clone().count() == 2 && place.into_iter().all(|number| number.is_ok()), "{run:?}");
}

#[test]
fn a_score_that_breaks_off_is_not_checked_by_half() {
    let score = duet(9, 4.0);
    refused("half.musicxml", &score[..score.len() / 2], "half.musicxml");
}

#[test]
fn midi_is_not_a_score() {
    refused("song.mid", b"MThd\0\0\0\x06\0\x01\0\x02\x01\xe0MTrk", "MIDI");
}

#[test]
fn a_pdf_is_not_a_score() {
    refused("pages.pdf", b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n1 0 obj", "PDF");
}

#[test]
fn a_picture_is_not_a_score() {
    refused("scan.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "picture");
}

#[test]
fn an_archive_without_music_is_not_a_score() {
    // An empty ZIP archive: its end record alone (APPNOTE 4.3.16).
    let mut archive = b"PK\x05\x06".to_vec();
    archive.extend([0; 18]);
    refused("empty.mxl", archive, "archive");
}

#[test]
fn a_score_that_is_not_there_is_said() {
    let run = Folder::new().run(&["check", "nowhere.mxl"]);
    assert_eq!(run.code, 2);
    assert!(run.err.starts_with("error: nowhere.mxl: cannot be read: "), "{run:?}");
}

#[test]
fn every_trouble_is_said_not_only_the_first() {
    let folder = Folder::with("one.xml", "no");
    folder.write("two.xml", "no");
    let run = folder.run(&["one.xml", "two.xml", "--print-on", "foolscap", "--for", "nobody"]);
    for what in ["one.xml", "two.xml", "foolscap", "nobody"] {
        assert!(run.err.contains(what), "{what} in {run:?}");
    }
    assert_eq!(run.code, 2);
}

#[test]
fn an_unknown_paper_names_the_known_ones() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    let run = folder.run(&["duet.musicxml", "--print-on", "foolscap"]);
    run.refuses("no paper is called \"foolscap\"");
    assert!(run.err.contains("JIS B4"), "{run:?}");
}

#[test]
fn an_unknown_guideline_set_is_said() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    folder.run(&["duet.musicxml", "--for", "nobody"]).refuses("no guideline set is called \"nobody\"");
}

#[test]
fn a_bad_house_sheet_is_said_with_its_line() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    folder.write("house.toml", "\n[staff-to-small]\nscore-floor = \"5 mm\"\n");
    let run = folder.run(&["duet.musicxml", "--for", "house.toml"]);
    run.refuses("house.toml:2:");
    assert!(run.err.contains("staff-too-small"), "{run:?}");
}

#[test]
fn a_change_of_an_unknown_limit_is_said() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    folder.run(&["duet.musicxml", "--set", "staff-too-small.nothing=5 mm"]).refuses("nothing");
}

#[test]
fn a_bad_file_of_accepted_findings_is_said_with_its_line() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    folder.write("duet-accepted.toml", "# ours\n[[accepted]]\nrule = 3\n");
    folder.run(&["duet.musicxml"]).refuses("duet-accepted.toml:3:");
}

#[test]
fn what_is_not_there_is_answered_with_where_to_look() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    let missing = folder.run(&["duo.musicxml"]);
    missing.refuses("duo.musicxml: cannot be read: ");
    assert!(missing.err.contains("hint: look at its spelling"), "{missing:?}");
    folder.run(&["duet.musicxml", "--for", "house.toml"]).refuses("house.toml: cannot be read: ");
    let whole_folder = folder.run(&["."]);
    whole_folder.refuses(".: cannot be read: ");
    assert!(whole_folder.err.contains("hint: name the score in it"), "{whole_folder:?}");
}
