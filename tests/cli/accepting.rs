//! Accepting findings, and what becomes of them.

use crate::music::{duet, duet_beginning_on};
use crate::program::Folder;

fn checked() -> Folder {
    let folder = Folder::with("duet.musicxml", duet(8, 2.0));
    folder.run(&["duet.musicxml", "--json", "r.json"]);
    folder
}

fn keys(folder: &Folder, list: &str) -> Vec<String> {
    let report = folder.json("r.json");
    report[list].as_array().unwrap().iter().map(|finding| finding["key"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn an_accepted_finding_does_not_come_back() {
    let folder = checked();
    let before = keys(&folder, "findings");
    let run = folder.run(&["accept", "r.json", "1", "--why", "A pocket score.", "--by", "M. K."]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert!(run.out.contains("accepted in duet-accepted.toml"), "{run:?}");
    folder.run(&["duet.musicxml", "--json", "r.json"]);
    assert_eq!(keys(&folder, "findings"), before[1..]);
    assert_eq!(keys(&folder, "accepted"), before[..1]);
    let accepted = &folder.json("r.json")["accepted"][0];
    assert_eq!((accepted["why"].as_str(), accepted["by"].as_str()), (Some("A pocket score."), Some("M. K.")));
    assert_eq!(folder.json("r.json")["counts"]["accepted"], 1);
}

#[test]
fn an_accepted_finding_comes_back_when_its_facts_change() {
    let folder = checked();
    let all = keys(&folder, "findings");
    let numbers: Vec<String> = (1..=all.len()).map(|number| number.to_string()).collect();
    let mut arguments = vec!["accept", "r.json", "--why", "As agreed.", "--by", "M. K."];
    arguments.extend(numbers.iter().map(String::as_str));
    assert_eq!(folder.run(&arguments).code, 0);
    folder.run(&["duet.musicxml", "--json", "r.json"]);
    assert_eq!(keys(&folder, "findings"), Vec::<String>::new());
    folder.write("duet.musicxml", duet_beginning_on(8, 1.9, "E"));
    folder.run(&["duet.musicxml", "--json", "r.json"]);
    assert!(!keys(&folder, "findings").is_empty());
    let notes = folder.json("r.json")["notes"].to_string();
    assert!(notes.contains("\"lapsed\""), "{notes}");
}

#[test]
fn what_was_accepted_earlier_stays_as_it_was_written() {
    let folder = checked();
    folder.run(&["accept", "r.json", "1", "--why", "One.", "--by", "M. K."]);
    let first = [folder.read("duet-accepted.toml"), b"# our remark\n".to_vec()].concat();
    folder.write("duet-accepted.toml", &first);
    folder.run(&["duet.musicxml", "--json", "r.json"]);
    let run = folder.run(&["accept", "r.json", "1", "--why", "Two.", "--by", "M. K."]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(folder.read("duet-accepted.toml").starts_with(&first));
}

#[test]
fn a_number_that_is_not_in_the_report_is_said() {
    let folder = checked();
    folder.run(&["accept", "r.json", "0", "999", "--why", "x", "--by", "y"]).refuses("no finding number 999");
    assert!(!folder.names().contains(&"duet-accepted.toml".to_owned()));
}

#[test]
fn whoever_accepts_gives_a_name_and_a_reason() {
    let folder = checked();
    let run = folder.run(&["accept", "r.json", "1", "--why", " "]);
    run.refuses("--why is empty");
    assert!(run.err.contains("--by"), "{run:?}");
}

#[test]
fn a_report_without_its_score_beside_it_says_what_to_name() {
    let folder = checked();
    std::fs::rename(folder.path().join("duet.musicxml"), folder.path().join("moved.musicxml")).unwrap();
    let arguments = ["accept", "r.json", "1", "--why", "x", "--by", "y"];
    folder.run(&arguments).refuses("duet.musicxml: is not there");
    let run = folder.run(&[&arguments[..], &["--score", "moved.musicxml"]].concat());
    assert_eq!(run.code, 0, "{run:?}");
    assert!(folder.names().contains(&"moved-accepted.toml".to_owned()), "{:?}", folder.names());
}

#[test]
fn what_is_not_a_report_is_refused() {
    let folder = checked();
    folder.write("other.json", "{\"schema\":\"other\",\"input\":[],\"findings\":[]}");
    for name in ["other.json", "duet.musicxml"] {
        folder.run(&["accept", name, "1", "--why", "x", "--by", "y"]).refuses("is not a report");
    }
}

/// A beat too many in the flute's first bar; `first` and `second` are that bar's and the next bar's note.
fn overfull(first: &str, second: &str) -> String {
    let note = "<duration>4</duration><type>whole</type></note>";
    let beat = "<note><rest/><duration>1</duration><type>quarter</type></note>";
    let music = duet_beginning_on(8, 4.5, first).replacen(note, &format!("{note}{beat}"), 1);
    music.replacen("<step>D</step>", &format!("<step>{second}</step>"), 1)
}

#[test]
fn a_fault_of_one_bar_comes_back_when_that_bar_changes_and_not_before() {
    let folder = Folder::with("duet.musicxml", overfull("C", "D"));
    let found = |list: &str| {
        folder.run(&["duet.musicxml", "--json", "r.json"]);
        keys(&folder, list).iter().position(|key| key.starts_with("bar-overfull"))
    };
    let number = (found("findings").expect("the fault is found") + 1).to_string();
    folder.run(&["accept", "r.json", &number, "--why", "A cadenza.", "--by", "M. K."]);
    assert_eq!((found("findings"), found("accepted")), (None, Some(0)));
    folder.write("duet.musicxml", overfull("C", "A"));
    assert_eq!((found("findings"), found("accepted")), (None, Some(0)), "another bar changed");
    folder.write("duet.musicxml", overfull("E", "D"));
    assert!(found("findings").is_some() && found("accepted").is_none(), "this bar changed");
}

#[test]
fn a_finding_of_a_part_is_accepted_from_the_report_of_parts() {
    let folder = Folder::new();
    folder.run(&["demo", "."]);
    let check = |report: &str| {
        let run = folder.run(&["parts", "lantern-ferry-3.mxl", "--json", report, "--staff", "8mm"]);
        assert!(run.code < 2, "{run:?}");
        (run, folder.json(report))
    };
    let all = |report: &serde_json::Value, list: &str| -> Vec<(String, String)> {
        let parts = report["parts"].as_array().unwrap().iter();
        let one = |part: &serde_json::Value, finding: &serde_json::Value| {
            (part["name"].as_str().unwrap().to_owned(), finding["key"].as_str().unwrap().to_owned())
        };
        parts
            .flat_map(|part| part[list].as_array().unwrap().iter().map(|found| one(part, found)).collect::<Vec<_>>())
            .collect()
    };
    let (_, before) = check("p.json");
    let found = all(&before, "findings");
    assert!(found.len() > 3, "{found:?}");
    let run = folder.run(&["accept", "p.json", "1", "3", "--why", "The player has two.", "--by", "M. K."]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert!(run.out.contains("2 findings are accepted in lantern-ferry-3-parts-accepted.toml"), "{run:?}");
    let (run, after) = check("q.json");
    assert_eq!(all(&after, "accepted"), [found[0].clone(), found[2].clone()]);
    assert_eq!(all(&after, "findings").len(), found.len() - 2);
    assert!(run.out.contains("2 findings accepted earlier"), "{run:?}");
    folder.run(&["accept", "p.json", "99", "--why", "No.", "--by", "M. K."]).refuses("has no finding number 99");
}
