//! Checking an outline: a piece that is only planned.

use crate::program::Folder;

const PLAN: &str = include_str!("../fixtures/outlines/salt-road.toml");

#[test]
fn a_plan_gives_pages_and_a_report_and_says_how_rough_they_are() {
    let folder = Folder::with("plan.toml", PLAN);
    let run = folder.run(&["check", "plan.toml", "--json", "out.json", "--report", "plan.pdf"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(run.out.contains("about 12'00\""), "{run:?}");
    let words = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("This is an outline, not the notes"), "{run:?}");
    // The slow section, in which few play, has room for two systems on a page.
    assert!(words.contains("would hold two systems or more (after A)."), "{run:?}");
    assert!(folder.read("plan.pdf").starts_with(b"%PDF-"));
    let report = folder.json("out.json");
    assert_eq!(report["input"][0]["format"], "outline");
    assert_eq!(report["score"]["bar_count"], 298);
    let pages = report["layout"]["pages"].as_array().unwrap();
    assert!((20..60).contains(&pages.len()), "{}", pages.len());
    // What is not written has no density, least of all none.
    assert!(pages.iter().all(|page| page["density"].is_null()), "{pages:?}");
}

#[test]
fn rules_that_need_notes_say_so() {
    let folder = Folder::with("plan.toml", PLAN);
    folder.run(&["plan.toml", "--json", "out.json"]);
    let rules = folder.json("out.json")["rules"].clone();
    assert_eq!(rules["ran"], serde_json::json!(["rehearsal-marks-out-of-order", "out-of-score-order"]));
    let needs = |rule: &str| {
        let all = rules["could_not_run"].as_array().unwrap().iter();
        all.filter(|own| own["rule"] == rule).map(|own| own["needs"].clone()).next().unwrap()
    };
    for rule in ["crowded-page", "crowded-bar", "bar-overfull", "names-missing", "parts-of-unequal-length"] {
        assert_eq!(needs(rule), "the notes; this is an outline", "{rule}");
    }
}

#[test]
fn a_plan_with_troubles_writes_nothing() {
    let folder = Folder::with("plan.toml", "[[forces]]\nname = \"Obeo\"\n[[section]]\nmetre = \"4/4\"\ntempo = 0\n");
    let run = folder.run(&["check", "plan.toml"]);
    assert_eq!(run.code, 2, "{run:?}");
    let wanted = [
        "error: plan.toml:2:8: the instrument \"Obeo\" is not known: did you mean \"Oboe\"?",
        "error: plan.toml:3:1: the section has no bars",
        "error: plan.toml:5:9: 0 is no tempo",
    ];
    let lines: Vec<&str> = run.err.lines().filter(|line| line.starts_with("error")).collect();
    assert_eq!(lines, wanted, "{run:?}");
    assert_eq!(folder.names(), ["plan.toml"]);
}

#[test]
fn a_plan_has_no_notes_to_write_a_copy_of() {
    let folder = Folder::with("plan.toml", PLAN);
    let run = folder.run(&["check", "plan.toml", "--write-breaks", "copy.musicxml"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.contains("error: plan.toml: this is an outline: there are no notes to copy"), "{run:?}");
    assert!(!folder.names().contains(&"copy.musicxml".to_owned()));
}
