//! Outputs: whole or not at all, and never in place of what rastrum did not write.

use std::process::Stdio;

use crate::music::duet;
use crate::program::Folder;

fn folder() -> Folder {
    Folder::with("duet.musicxml", duet(4, 2.0))
}

#[test]
fn a_foreign_file_is_never_overwritten() {
    let folder = folder();
    folder.write("duet-check.pdf", "%PDF-1.4 the printer's");
    folder.run(&["duet.musicxml"]).refuses("duet-check.pdf: stands there and was not written by rastrum");
    assert_eq!(folder.read("duet-check.pdf"), b"%PDF-1.4 the printer's");
    folder.write("data.json", "{\"mine\":true}");
    folder.run(&["duet.musicxml", "--json", "data.json"]).refuses("data.json: stands there");
    assert_eq!(folder.read("data.json"), b"{\"mine\":true}");
    folder.run(&["duet.musicxml", "--json", "duet.musicxml"]).refuses("duet.musicxml: stands there");
}

#[test]
fn an_older_report_is_replaced() {
    let folder = folder();
    folder.run(&["duet.musicxml", "--report", "r.pdf", "--json", "r.json"]);
    let old = folder.read("r.json");
    folder.write("duet.musicxml", duet(5, 2.0));
    let run = folder.run(&["duet.musicxml", "--report", "r.pdf", "--json", "r.json"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert_ne!(folder.read("r.json"), old);
    assert_eq!(folder.names(), ["duet.musicxml", "r.json", "r.pdf"]);
}

#[test]
fn an_older_report_stays_whole_when_the_other_output_fails() {
    let folder = folder();
    folder.run(&["duet.musicxml", "--report", "r.pdf"]);
    let old = folder.read("r.pdf");
    folder.write("duet.musicxml", duet(30, 2.0));
    let run = folder.run(&["duet.musicxml", "--report", "r.pdf", "--json", "nowhere/r.json"]);
    run.refuses("nowhere/r.json: cannot be written");
    assert_eq!(folder.read("r.pdf"), old);
    assert_eq!(folder.names(), ["duet.musicxml", "r.pdf"]);
}

#[test]
fn a_folder_is_no_place_for_a_report() {
    folder().run(&["duet.musicxml", "--report", "."]).refuses(".: is a folder");
}

#[test]
fn two_outputs_need_two_places() {
    folder().run(&["duet.musicxml", "--report", "x", "--json", "./x"]).refuses("named for two outputs");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said() {
    let folder = folder();
    folder.run(&["duet.musicxml", "--json", "/dev/full"]).refuses("/dev/full: cannot be written: No space left");
    assert_eq!(folder.names(), ["duet.musicxml"]);
}

#[test]
fn json_on_standard_output_is_nothing_but_json() {
    let run = folder().run(&["duet.musicxml", "--json", "-"]);
    assert_eq!(run.code, 1, "{run:?}");
    let report: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(report["schema"], "rastrum-report-1");
    assert!(run.err.contains("A Duet for Tests") || run.err.contains("rastrum rules"), "{run:?}");
}

#[test]
fn a_closed_pipe_is_no_trouble() {
    let folder = folder();
    for arguments in [&["schema"][..], &["completions", "bash"], &["man"], &["rules"], &["--help"]] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = folder.command(arguments).stdout(writer).stderr(Stdio::piped()).output().unwrap();
        assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]), "{arguments:?}");
    }
}

#[test]
fn a_report_is_never_written_to_a_file_called_dash() {
    let folder = Folder::with("duet.musicxml", duet(2, 4.0));
    folder.run(&["duet.musicxml", "--report", "-"]).refuses("--report -: ");
    assert_eq!(folder.names(), ["duet.musicxml"]);
}
