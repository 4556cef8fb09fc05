//! What is meant is no fault, and what a part needs is not what a score needs.

use rastrum::rules::Judged;

use super::fixtures::{guidelines, judged, text};

/// What a rule says of a score.
fn said(text: &str, rule: &str) -> Vec<String> {
    said_under(text, rule, &[])
}

fn said_under(text: &str, rule: &str, changes: &[&str]) -> Vec<String> {
    messages(judged(text, &guidelines(changes), None).2, rule)
}

fn messages(judged: Judged, rule: &str) -> Vec<String> {
    judged.findings.into_iter().filter(|finding| finding.rule == rule).map(|finding| finding.message).collect()
}

/// The same score with one thing put in the place of another, as often as it stands there.
fn with(text: &str, old: &str, new: &str) -> String {
    assert!(text.contains(old), "nothing to replace: {old}");
    text.replace(old, new)
}

/// The first part of a score alone.
fn first_part(text: &str) -> String {
    let second_listed = text.find("    <score-part id=\"P2\"").unwrap();
    let end_of_list = text.find("  </part-list>").unwrap();
    let second = text.find("  <part id=\"P2\"").unwrap();
    let end = text.find("</score-partwise>").unwrap();
    format!("{}{}{}", &text[..second_listed], &text[end_of_list..second], &text[end..])
}

#[test]
fn a_bar_that_all_parts_hold_too_long_is_a_cadenza() {
    let faulty = text("bar-overfull", "faulty");
    let longer = with(&faulty, "<rest measure=\"yes\"/><duration>4<", "<rest measure=\"yes\"/><duration>5<");
    assert_eq!(said(&longer, "bar-overfull"), [""; 0]);
}

#[test]
fn a_pick_up_is_not_counted() {
    let faulty =
        with(&text("bar-overfull", "faulty"), "<measure number=\"2\"", "<measure number=\"2\" implicit=\"yes\"");
    assert_eq!(said(&faulty, "bar-overfull"), [""; 0]);
}

#[test]
fn a_staff_that_is_small_throughout_is_meant_to_be() {
    let size = "<staff-details><staff-size>95.2</staff-size></staff-details>";
    let faulty = text("staff-heights-uneven", "faulty");
    let throughout = faulty.replacen("<divisions>1</divisions>", &format!("<divisions>1</divisions>{size}"), 1);
    assert_eq!(said(&faulty, "staff-heights-uneven").len(), 1);
    assert_eq!(said(&throughout, "staff-heights-uneven"), [""; 0]);
}

#[test]
fn printing_larger_makes_nothing_smaller() {
    let (_, _, judged) = judged(&text("printed-smaller", "faulty"), &guidelines(&[]), Some("11 x 17 in"));
    assert_eq!(messages(judged, "printed-smaller"), [""; 0]);
}

#[test]
fn where_every_bar_is_numbered_nobody_counts_from_marks() {
    let faulty = text("rehearsal-marks-far-apart", "faulty");
    assert_eq!(said_under(&faulty, "rehearsal-marks-far-apart", &["house.bar-numbers=each bar"]), [""; 0]);
}

#[test]
fn letters_taken_for_figures_may_be_passed_over_where_the_house_lets_them() {
    let marks = |one: &str, next: &str| {
        let good = text("rehearsal-marks-out-of-order", "good");
        let first = with(&good, "<rehearsal>A</rehearsal>", "<rehearsal>G</rehearsal>");
        let second = with(&first, "<rehearsal>B</rehearsal>", &format!("<rehearsal>{one}</rehearsal>"));
        with(&second, "<rehearsal>C</rehearsal>", &format!("<rehearsal>{next}</rehearsal>"))
    };
    let rule = "rehearsal-marks-out-of-order";
    assert_eq!(said(&marks("H", "J"), rule), [""; 0]);
    let strict = said_under(&marks("H", "J"), rule, &["rehearsal-marks-out-of-order.skipped-letters=none"]);
    assert_eq!(strict, ["At bar 5 the rehearsal mark J follows H."]);
    assert_eq!(said(&marks("H", "G"), rule), ["The rehearsal mark G stands at bar 1 and again at bar 5."]);
}

#[test]
fn a_part_is_held_to_what_players_need() {
    let part = with(&first_part(&text("staff-too-small", "good")), "<millimeters>4<", "<millimeters>6.9<");
    assert_eq!(
        said(&part, "staff-too-small"),
        ["All staves are 6.9 mm high; from the chair that looks like 3.5 mm at reading distance."]
    );
    let (_, _, judged) = judged(&part, &guidelines(&[]), None);
    assert!(judged.off.contains(&"family-bracket-missing"), "a rule for scores alone");
}

#[test]
fn a_study_score_is_read_as_a_book_is() {
    let guidelines = rastrum::guidelines::Guidelines::load(&rastrum::guidelines::Request {
        set: Some("study-score".to_owned()),
        ..Default::default()
    })
    .unwrap();
    let small = with(&text("staff-too-small", "good"), "<millimeters>4<", "<millimeters>2.5<");
    let (_, _, judged) = judged(&small, &guidelines, None);
    assert_eq!(messages(judged, "staff-too-small"), ["All staves are 2.5 mm high."]);
}

#[test]
fn few_staves_need_no_names_on_later_systems_unless_some_are_left_out() {
    let mut bare = text("first-system-incomplete", "good");
    for short in ["Fl.", "Ob.", "Vn. I", "Vc."] {
        bare = with(&bare, &format!("<part-abbreviation>{short}</part-abbreviation>"), "<part-abbreviation/>");
    }
    assert_eq!(said(&bare, "names-missing"), ["After the first system no staff bears a name."]);
    let full = with(&bare, "<staff-details print-object=\"no\"/>", "");
    assert_eq!(said(&full, "names-missing"), [""; 0]);
}

#[test]
fn a_gap_that_is_narrow_in_itself_is_held_to_the_handbook() {
    let faulty = text("staves-too-close", "faulty");
    let narrow = with(&faulty, "<staff-distance>89<", "<staff-distance>39<");
    let finding = |text: &str| {
        let (_, _, judged) = judged(text, &guidelines(&[]), None);
        judged.findings.into_iter().find(|finding| finding.rule == "staves-too-close").unwrap()
    };
    assert!(finding(&faulty).source.starts_with("derived"), "{}", finding(&faulty).source);
    assert!(finding(&narrow).source.contains("p. 488"), "{}", finding(&narrow).source);
}

#[test]
fn a_narrow_gap_with_nothing_in_it_is_left_alone() {
    let empty = with(&text("families-not-separated", "good"), "<staff-distance>80<", "<staff-distance>39<");
    assert_eq!(said(&empty, "staves-too-close"), [""; 0]);
}

#[test]
fn a_small_ensemble_turns_without_a_conductor() {
    let faulty = text("risky-conductor-turn", "faulty");
    assert_eq!(said(&faulty, "risky-conductor-turn").len(), 1);
    let start = faulty.find("    <score-part id=\"P2\"").unwrap();
    let end = faulty.find("    <score-part id=\"P3\"").unwrap();
    let first = faulty.find("  <part id=\"P2\"").unwrap();
    let next = faulty.find("  <part id=\"P3\"").unwrap();
    let six = format!("{}{}{}", &faulty[..start], &faulty[end..first], &faulty[next..]);
    assert_eq!(said(&six, "risky-conductor-turn"), [""; 0]);
}

#[test]
fn gaps_between_families_that_are_the_narrower_ones_are_called_so() {
    let narrower = with(&text("families-not-separated", "faulty"), "distance>95<", "distance>60<");
    assert_eq!(
        said(&narrower, "families-not-separated"),
        ["On page 1 the gaps between families are narrower than those inside them (0.75 times as wide)."]
    );
}

#[test]
fn a_family_that_stands_in_two_places_is_named_once() {
    let parts = ["P5", "P6"].map(|id| {
        let listed = format!("<score-part id=\"{id}\"><part-name>Clarinet</part-name></score-part>");
        let bars = "<measure number=\"1\"><note><rest/><duration>4</duration></note></measure>";
        (listed, format!("<part id=\"{id}\">{bars}{}</part>", bars.replace("\"1\"", "\"2\"")))
    });
    let [(fifth, its_bars), (sixth, other_bars)] = parts;
    let faulty = text("family-bracket-missing", "faulty");
    let listed = with(&faulty, "</part-list>", &format!("{fifth}{sixth}</part-list>"));
    let longer = with(&listed, "</score-partwise>", &format!("{its_bars}{other_bars}</score-partwise>"));
    assert_eq!(said(&longer, "family-bracket-missing"), ["Families without a bracket: woodwind and strings."]);
}

#[test]
fn a_house_that_keeps_silent_staves_is_not_asked_for_second_systems() {
    let faulty = text("room-for-second-system", "faulty");
    assert_eq!(said_under(&faulty, "room-for-second-system", &["house.silent-staves=left out"]).len(), 1);
    assert_eq!(said_under(&faulty, "room-for-second-system", &["house.silent-staves=kept"]), [""; 0]);
}

#[test]
fn where_no_page_leaves_staves_out_second_systems_are_not_asked_for() {
    let full = with(&text("room-for-second-system", "faulty"), "print-object=\"no\"", "print-object=\"yes\"");
    assert_eq!(said(&full, "room-for-second-system"), [""; 0]);
}

/// One note reaches 5.5 spaces below its staff: the page then needs 30.8 spaces and has 29.5, less than the estimate may
/// be wrong by. Where its gap is 3 spaces high the two staves meet all the same.
#[test]
fn a_page_that_lacks_a_little_is_overfull_only_where_notes_meet() {
    let roomier = with(&text("page-overfull", "good"), "<page-height>561.818<", "<page-height>595<");
    let low = roomier.replacen("<step>B</step><octave>4</octave>", "<step>B</step><octave>2</octave>", 1);
    assert_eq!(said(&low, "page-overfull"), [""; 0]);
    assert_eq!(
        said(&with(&low, "<staff-distance>55<", "<staff-distance>30<"), "page-overfull"),
        [
            "Page 1: staves, notes and marks need 104 % of the height between the margins; in one gap between staves they \
             run into each other."
        ]
    );
}
