//! Checking scores.

use crate::music::duet;
use crate::program::Folder;

/// Far below every floor for conductor's scores.
const TINY: f64 = 2.0;

#[test]
fn a_check_writes_a_report_beside_the_score_and_says_so() {
    let folder = Folder::with("duet.musicxml", duet(8, TINY));
    let run = folder.run(&["check", "duet.musicxml"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.out.contains("Written: duet-check.pdf\n"), "{run:?}");
    assert!(folder.read("duet-check.pdf").starts_with(b"%PDF-"));
    assert_eq!(folder.names(), ["duet-check.pdf", "duet.musicxml"]);
}

#[test]
fn a_file_alone_is_checked() {
    let folder = Folder::with("duet.musicxml", duet(8, TINY));
    let alone = folder.run(&["duet.musicxml", "--json", "a.json"]);
    let asked = folder.run(&["check", "duet.musicxml", "--json", "b.json"]);
    assert_eq!((alone.code, folder.read("a.json")), (asked.code, folder.read("b.json")));
}

#[test]
fn standard_input_is_a_score_too() {
    let folder = Folder::new();
    let run = folder.run_with_input(&["-", "--json", "out.json"], duet(4, TINY).as_bytes());
    assert_eq!(run.code, 1, "{run:?}");
    assert_eq!(folder.json("out.json")["input"][0]["name"], "standard input");
}

#[test]
fn several_files_are_the_movements_of_one_work() {
    let folder = Folder::with("first.musicxml", duet(8, TINY));
    folder.write("second.musicxml", duet(5, TINY));
    let run = folder.run(&["first.musicxml", "second.musicxml", "--json", "both.json", "--report", "both.pdf"]);
    assert_eq!(run.code, 1, "{run:?}");
    let report = folder.json("both.json");
    assert_eq!(report["score"]["bar_count"], 13);
    assert_eq!(report["score"]["movements"].as_array().map(Vec::len), Some(2));
    assert_eq!(report["score"]["movements"][1]["first_bar_index"], 8);
    assert_eq!(report["input"][1]["name"], "second.musicxml");
}

#[test]
fn the_report_of_several_movements_is_named_after_the_first() {
    let folder = Folder::with("first.musicxml", duet(8, TINY));
    folder.write("second.musicxml", duet(5, TINY));
    folder.run(&["first.musicxml", "second.musicxml"]);
    assert!(folder.names().contains(&"first-check.pdf".to_owned()), "{:?}", folder.names());
}

#[test]
fn the_exit_code_follows_the_weight_that_was_asked_for() {
    let folder = Folder::with("duet.musicxml", duet(8, TINY));
    folder.run(&["duet.musicxml", "--json", "out.json"]);
    let counts = folder.json("out.json")["counts"].clone();
    for (weight, kinds) in [("stop", &["stop"][..]), ("mend", &["stop", "mend"]), ("look", &["stop", "mend", "look"])] {
        let found = kinds.iter().any(|kind| counts[kind].as_u64() > Some(0));
        let run = folder.run(&["duet.musicxml", "--json", "out.json", "--fail-on", weight]);
        assert_eq!(run.code, i32::from(found), "{weight}: {counts} {run:?}");
    }
    assert!(counts["mend"].as_u64() > Some(0) || counts["stop"].as_u64() > Some(0), "{counts}");
}

#[test]
fn a_changed_limit_changes_what_is_found() {
    let folder = Folder::with("duet.musicxml", duet(8, 4.2));
    let rules = |arguments: &[&str]| {
        folder.run(&[&["duet.musicxml", "--json", "out.json"], arguments].concat());
        folder.json("out.json")["findings"].to_string().contains("\"staff-too-small\"")
    };
    assert!(!rules(&[]));
    assert!(rules(&["--set", "staff-too-small.score-floor=5.0 mm"]));
}

#[test]
fn a_house_sheet_is_cited_with_its_line() {
    let folder = Folder::with("duet.musicxml", duet(8, 4.2));
    folder.write("house.toml", "[staff-too-small]\nscore-floor = \"5.0 mm\"\n");
    folder.run(&["duet.musicxml", "--json", "out.json", "--for", "house.toml"]);
    let findings = folder.json("out.json")["findings"].to_string();
    assert!(findings.contains("house.toml:2"), "{findings}");
}

#[test]
fn the_summary_fits_eighty_columns_and_bears_no_escape_codes_when_piped() {
    let folder = Folder::with("duet.musicxml", duet(40, TINY));
    let run = folder.run(&["duet.musicxml", "--full"]);
    assert!(run.out.lines().all(|line| line.chars().count() <= 80), "{}", run.out);
    assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'), "{run:?}");
}

#[test]
fn the_same_score_gives_the_same_bytes_twice() {
    let folder = Folder::with("duet.musicxml", duet(20, TINY));
    folder.run(&["duet.musicxml", "--report", "a.pdf", "--json", "a.json"]);
    folder.run(&["duet.musicxml", "--report", "b.pdf", "--json", "b.json"]);
    assert_eq!(folder.read("a.pdf"), folder.read("b.pdf"));
    assert_eq!(folder.read("a.json"), folder.read("b.json"));
}

#[test]
fn no_path_of_the_machine_stands_in_what_is_written() {
    let folder = Folder::with("duet.musicxml", duet(8, TINY));
    let score = folder.path().join("duet.musicxml");
    folder.run(&[&score.to_string_lossy(), "--report", "a.pdf", "--json", "a.json"]);
    let place = folder.path().to_string_lossy().into_owned();
    for name in ["a.pdf", "a.json"] {
        let bytes = folder.read(name);
        assert!(!bytes.windows(place.len()).any(|window| window == place.as_bytes()), "{name} tells {place}");
    }
}

#[test]
fn timings_are_json_on_standard_error() {
    let folder = Folder::with("duet.musicxml", duet(8, TINY));
    let run = folder.run(&["duet.musicxml", "--timings"]);
    let line = run.err.lines().find(|line| line.starts_with('{')).unwrap_or_default();
    let timings: serde_json::Value = serde_json::from_str(line).unwrap();
    for stage in ["read", "cast-off", "survey", "judge", "report", "total"] {
        assert!(timings[stage].is_number() || cfg!(not(unix)), "{stage} in {line}");
    }
}

#[test]
fn the_demonstration_is_written_checked_and_leaves_foreign_files_alone() {
    let folder = Folder::new();
    let run = folder.run(&["demo"]);
    assert_eq!(run.code, 0, "{run:?}");
    let first = folder.read("lantern-ferry/lantern-ferry-1.mxl");
    assert!(folder.read("lantern-ferry/lantern-ferry-1-check.pdf").starts_with(b"%PDF-"));
    assert_eq!(folder.run(&["demo"]).code, 0, "a second time");
    folder.write("lantern-ferry/lantern-ferry-1.mxl", "mine");
    folder.run(&["demo"]).refuses("lantern-ferry-1.mxl: stands there and was not written by rastrum");
    assert_eq!(folder.read("lantern-ferry/lantern-ferry-1.mxl"), b"mine");
    assert_ne!(first, b"mine");
}

#[test]
fn what_is_merely_not_read_is_left_to_the_report() {
    let music = duet(8, TINY).replacen("<note>", "<note><instrument id=\"P1-I1\"/>", 1);
    let folder = Folder::with("duet.musicxml", music);
    let run = folder.run(&["duet.musicxml", "--json", "out.json"]);
    assert!(!run.err.contains("is not read"), "{run:?}");
    assert!(folder.json("out.json")["notes"].to_string().contains("instrument"));
}
