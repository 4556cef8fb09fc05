//! Rules, rule sheets, files and fixtures bear the same names.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rastrum::rules::RULES;

use super::fixtures::{NAMES, folder, guidelines, text};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Names of the entries of a folder without their endings.
fn stems(folder: &Path) -> BTreeSet<String> {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    entries.map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned()).collect()
}

fn rule_names() -> BTreeSet<String> {
    RULES.iter().map(|entry| entry.name.to_owned()).collect()
}

#[test]
fn no_two_rules_share_a_name() {
    assert_eq!(rule_names().len(), RULES.len());
}

#[test]
fn every_rule_has_a_file_of_its_name() {
    let families = [
        "counting",
        "forces",
        "orientation",
        "paper",
        "playing",
        "printed",
        "reading",
        "soundness",
        "staves",
        "systems",
        "turns",
    ];
    let files: BTreeSet<String> =
        families.iter().flat_map(|family| stems(&root().join("src/rules").join(family))).collect();
    for rule in rule_names() {
        assert!(files.contains(&rule.replace('-', "_")), "{rule}");
    }
}

#[test]
fn every_rule_sheet_is_a_rule_and_says_whether_pages_must_be_printed() {
    let guidelines = guidelines(&[]);
    let printed = stems(&root().join("src/rules/printed"));
    for sheet in guidelines.rules() {
        assert_eq!(sheet.needs.is_some(), printed.contains(&sheet.name.replace('-', "_")), "{}", sheet.name);
    }
    let sheets: BTreeSet<String> = guidelines.rules().iter().map(|sheet| sheet.name.clone()).collect();
    assert_eq!(rule_names(), sheets);
}

#[test]
fn every_limit_has_a_source() {
    for sheet in guidelines(&[]).rules() {
        assert!(!sheet.source.to_string().trim().is_empty(), "{}", sheet.name);
        for value in &sheet.values {
            assert!(!value.source.to_string().trim().is_empty(), "{}.{}", sheet.name, value.name);
        }
    }
}

#[test]
fn every_rule_has_a_faulty_score_and_one_that_differs_by_a_hair() {
    assert_eq!(stems(&folder()), rule_names());
    for rule in rule_names() {
        let [good, faulty] = NAMES.map(|name| text(&rule, name));
        // Where the objects of a PDF begin is no difference of what it shows.
        let is_place = |line: &&str| line.ends_with(" n ") || line.chars().all(|letter| letter.is_ascii_digit());
        let lines =
            |text: &str| text.lines().filter(|line| !is_place(line)).map(str::to_owned).collect::<BTreeSet<_>>();
        let differing = lines(&good).symmetric_difference(&lines(&faulty)).count();
        assert_ne!(good, faulty, "{rule}");
        assert!(differing <= 20, "{rule}: {differing} lines");
    }
}
