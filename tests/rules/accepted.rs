//! Accepted findings stay accepted while the music at their place stays the same.

use rastrum::accepted::{Applied, Entry, HEADER, Lapse, apply, entry, parse};

use super::fixtures::{guidelines, judged, text};

/// The finding that the oboe's second bar is overfull, accepted.
fn accepted() -> Entry {
    let (score, _, judged) = judged(&text("bar-overfull", "faulty"), &guidelines(&[]), None);
    let finding = judged.findings.iter().find(|finding| finding.rule == "bar-overfull").unwrap();
    entry(finding, &score, "A. Reed", "2026-11-25", "a cadenza, free in time")
}

fn applied(text: &str, entries: &[Entry]) -> Applied {
    let (score, _, judged) = judged(text, &guidelines(&[]), None);
    apply(judged.findings, entries, &score)
}

fn is_accepted(applied: &Applied) -> bool {
    let kept = applied.kept.iter().all(|finding| finding.rule != "bar-overfull");
    kept && applied.accepted.len() == 1 && applied.lapsed.is_empty()
}

#[test]
fn an_accepted_finding_does_not_come_back() {
    assert!(is_accepted(&applied(&text("bar-overfull", "faulty"), &[accepted()])));
}

#[test]
fn moved_pages_leave_it_accepted() {
    let moved = text("bar-overfull", "faulty").replacen(
        "<measure number=\"2\" width=\"890\">",
        "<measure number=\"2\" width=\"890\"><print new-page=\"yes\"/>",
        1,
    );
    let (_, layout, _) = judged(&moved, &guidelines(&[]), None);
    assert_eq!(layout.pages.len(), 2);
    assert!(is_accepted(&applied(&moved, &[accepted()])));
}

#[test]
fn other_names_for_voices_leave_it_accepted() {
    let exported =
        text("bar-overfull", "faulty").replace("<type>quarter</type>", "<voice>5</voice><type>quarter</type>");
    assert!(is_accepted(&applied(&exported, &[accepted()])));
}

#[test]
fn bars_put_in_before_leave_it_accepted() {
    let text = text("bar-overfull", "faulty");
    let bar = "    <measure number=\"2\" width=\"890\">";
    let longer = text.replace(bar, &format!("    <measure number=\"1a\" width=\"890\"><note><rest measure=\"yes\"/><duration>4</duration></note></measure>\n{bar}"));
    assert_ne!(longer, text);
    assert!(is_accepted(&applied(&longer, &[accepted()])));
}

#[test]
fn it_lapses_when_a_note_at_its_place_changes() {
    let changed = text("bar-overfull", "faulty").replacen("<step>C</step>", "<step>D</step>", 1);
    let applied = applied(&changed, &[accepted()]);
    assert_eq!(applied.lapsed, [(accepted(), Lapse::Changed)]);
    assert!(applied.kept.iter().any(|finding| finding.rule == "bar-overfull") && applied.accepted.is_empty());
}

#[test]
fn it_lapses_when_the_fault_is_mended() {
    let applied = applied(&text("bar-overfull", "good"), &[accepted()]);
    assert_eq!(applied.lapsed, [(accepted(), Lapse::Gone)]);
}

#[test]
fn a_fact_about_the_whole_work_lapses_when_the_fact_changes() {
    let (score, _, judged) = judged(&text("staff-too-small", "faulty"), &guidelines(&[]), None);
    let finding = judged.findings.iter().find(|finding| finding.rule == "staff-too-small").unwrap();
    let small = [entry(finding, &score, "A. Reed", "2026-11-25", "a study score")];
    let lapses = |text: &str| applied(text, &small).lapsed.into_iter().map(|(_, lapse)| lapse).collect::<Vec<_>>();
    let faulty = text("staff-too-small", "faulty");
    assert!(lapses(&faulty).is_empty());
    assert_eq!(lapses(&faulty.replace("<millimeters>3.98</", "<millimeters>3.5</")), [Lapse::Changed]);
}

/// One page without dividers was accepted; a second one that loses them later must not hide behind it.
#[test]
fn it_lapses_when_the_fault_spreads_to_more_places() {
    let (score, _, judged) = judged(&text("system-divider-missing", "faulty"), &guidelines(&[]), None);
    let one = judged.findings.into_iter().find(|finding| finding.rule == "system-divider-missing").unwrap();
    let accepted = entry(&one, &score, "A. Reed", "2026-11-25", "drawn in by hand");
    let mut two = one.clone();
    two.places.extend(one.places.clone());
    let applied = apply(vec![two.clone()], std::slice::from_ref(&accepted), &score);
    assert_eq!((applied.kept.len(), applied.lapsed), (1, vec![(accepted.clone(), Lapse::Spread)]));
    let both = entry(&two, &score, "A. Reed", "2026-11-25", "drawn in by hand");
    assert_eq!(parse(&both.to_string()), Ok(vec![both.clone()]), "the number of places is kept");
    let applied = apply(vec![one], &[both], &score);
    assert_eq!((applied.accepted.len(), applied.kept.len()), (1, 0), "fewer places are no news");
}

#[test]
fn what_is_written_is_read_again() {
    let mut odd = accepted();
    odd.why = "\"free\",\nsays the composer \\ \u{7}".to_owned();
    let file = format!("{HEADER}{}{odd}", accepted());
    assert_eq!(parse(&file), Ok(vec![accepted(), odd]));
    insta::assert_snapshot!(accepted().to_string().trim(), @r#"
    [[accepted]]
    rule = "bar-overfull"
    scope = "bar"
    staff = "Oboe, staff 1"
    movement = 1
    bar = "2"
    bar-of-movement = 2
    music = "00e52b318e9392b8"
    who = "A. Reed"
    when = "2026-11-25"
    why = "a cadenza, free in time"
    "#);
}

#[test]
fn everything_that_is_wrong_is_told_with_its_line() {
    let file = format!("{HEADER}{}", accepted());
    let wrong = file.replace("scope = \"bar\"", "scope = \"bars\"").replace("who = \"A. Reed\"", "who = \" \"");
    let told: Vec<String> = parse(&wrong).unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "line 6: scope is one of work, page, system, bar",
            "line 12: who is empty: an accepted finding tells who, when and why"
        ]
    );
    let unknown = file.replace("why =", "because =");
    let told = parse(&unknown).unwrap_err();
    assert_eq!(told.iter().map(|error| error.line).collect::<Vec<_>>(), [14]);
    assert_eq!(parse("accepted = 3").unwrap_err().first().map(|error| error.line), Some(1));
}
