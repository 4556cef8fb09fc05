//! Help, rules, schema, completions, manual.

use crate::program::Folder;

#[test]
fn without_arguments_the_help_is_shown() {
    let run = Folder::new().run(&[]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("Usage: rastrum") && run.err.contains("demo"), "{run:?}");
}

#[test]
fn help_names_every_command_and_the_exit_codes() {
    let run = Folder::new().run(&["--help"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    for word in ["demo", "check", "accept", "rules", "schema", "completions", "man", "Exit code 0"] {
        assert!(run.out.contains(word), "{word} in {}", run.out);
    }
}

#[test]
fn a_rule_is_shown_with_its_limits_and_their_sources() {
    let run = Folder::new().run(&["rules", "staff-too-small"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(run.out.contains("score-floor = ") && run.out.contains("Source: "), "{}", run.out);
    assert!(run.out.lines().all(|line| line.chars().count() <= 80), "{}", run.out);
}

#[test]
fn the_list_of_rules_names_the_guideline_sets_too() {
    let run = Folder::new().run(&["rules"]);
    assert!(run.out.contains("staff-too-small") && run.out.contains("concert"), "{run:?}");
    assert!(run.out.contains("Radio and recording sessions"), "what a set is for: {run:?}");
    assert!(run.out.lines().all(|line| line.chars().count() <= 80), "{}", run.out);
    assert_eq!(run.code, 0);
}

#[test]
fn the_rules_are_there_as_json() {
    let run = Folder::new().run(&["rules", "--json"]);
    let rules: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let names: Vec<&str> = rules.as_array().unwrap().iter().filter_map(|rule| rule["name"].as_str()).collect();
    assert!(names.contains(&"staff-too-small"), "{names:?}");
}

#[test]
fn a_misspelt_rule_is_answered_with_the_nearest_one() {
    let run = Folder::new().run(&["rules", "staff-to-small"]);
    run.refuses("no rule is called \"staff-to-small\"");
    assert!(run.err.contains("staff-too-small"), "{run:?}");
}

#[test]
fn completions_and_manual_are_printed() {
    let folder = Folder::new();
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let run = folder.run(&["completions", shell]);
        assert!(run.code == 0 && run.out.contains("rastrum"), "{shell}: {run:?}");
    }
    let run = folder.run(&["man"]);
    assert!(run.code == 0 && run.out.starts_with(".ie") && run.out.contains("rastrum"), "{run:?}");
}

#[test]
fn the_schema_of_the_report_changes_only_with_its_version() {
    let run = Folder::new().run(&["schema"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    insta::assert_snapshot!("report-schema", run.out);
}
