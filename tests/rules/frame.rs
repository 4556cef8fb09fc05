//! What the guidelines say of a rule, and in which order findings come.

use rastrum::rules::{RULES, Weight};

use super::fixtures::{guidelines, judged, text};

#[test]
fn a_rule_turned_off_is_neither_run_nor_missed() {
    let (_, _, judged) =
        judged(&text("staff-too-small", "faulty"), &guidelines(&["staff-too-small.severity=off"]), None);
    assert!(judged.findings.iter().all(|finding| finding.rule != "staff-too-small"));
    assert!(judged.off.contains(&"staff-too-small") && !judged.ran.contains(&"staff-too-small"));
    assert!(judged.could_not_run.iter().all(|(rule, _)| *rule != "staff-too-small"));
}

#[test]
fn the_house_decides_what_a_finding_weighs_and_is_named_as_its_source() {
    let changes = ["staff-too-small.severity=look", "staff-too-small.score-floor=4.2 mm"];
    let (_, _, judged) = judged(&text("staff-too-small", "good"), &guidelines(&changes), None);
    let finding = judged.findings.iter().find(|finding| finding.rule == "staff-too-small").unwrap();
    assert_eq!((finding.weight, finding.limit.as_str()), (Weight::Look, "4.2 mm"));
    assert!(finding.source.contains("command line"), "{}", finding.source);
}

#[test]
fn what_costs_the_rehearsal_most_comes_first() {
    for entry in RULES {
        let (_, _, judged) = judged(&text(entry.name, "faulty"), &guidelines(&[]), None);
        let weights: Vec<Weight> = judged.findings.iter().map(|finding| finding.weight).collect();
        assert!(weights.is_sorted_by(|one, next| one >= next), "{}: {weights:?}", entry.name);
    }
}

#[test]
fn every_rule_is_accounted_for_once() {
    let guidelines = guidelines(&[]);
    for entry in RULES {
        let (_, _, judged) = judged(&text(entry.name, "good"), &guidelines, None);
        let missed = judged.could_not_run.iter().map(|(rule, _)| *rule);
        let mut told: Vec<&str> = judged.ran.iter().chain(&judged.off).copied().chain(missed).collect();
        told.sort_unstable();
        let mut sheets: Vec<&str> = guidelines.rules().iter().map(|sheet| sheet.name.as_str()).collect();
        sheets.sort_unstable();
        assert_eq!(told, sheets);
    }
}

#[test]
fn what_other_documents_would_tell_is_named() {
    let (_, _, judged) = judged(&text("staff-too-small", "good"), &guidelines(&[]), None);
    let needs =
        |rule: &str| judged.could_not_run.iter().find(|(name, _)| *name == rule).map(|(_, needs)| needs.as_str());
    assert_eq!(needs("font-not-embedded"), Some("printed pages: the PDF behind --pages"));
    assert_eq!(needs("printed-smaller"), Some("the paper that it will be printed on"));
    assert_eq!(needs("bar-numbers-missing"), Some("bar numbers as printed"));
}

#[test]
fn estimated_pages_are_not_judged() {
    let bare = text("narrow-margin", "faulty");
    let (start, end) = (bare.find("  <defaults>").unwrap(), bare.find("  <part-list>").unwrap());
    let mut without = bare.clone();
    without.replace_range(start..end, "");
    let (_, layout, judged) = judged(&without, &guidelines(&[]), None);
    assert!(!layout.pages.is_empty());
    for rule in [
        "staff-too-small",
        "narrow-margin",
        "narrow-binding-margin",
        "unusual-page-size",
        "staff-heights-uneven",
        "page-overfull",
        "room-for-second-system",
        "two-systems-though-cramped",
    ] {
        assert!(judged.could_not_run.iter().any(|(name, _)| *name == rule), "{rule}");
        assert!(judged.findings.iter().all(|finding| finding.rule != rule), "{rule}");
    }
}
