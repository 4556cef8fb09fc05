use super::*;
use crate::check::{Options, Unwatched, check};
use crate::read::Input;
use crate::rules::{Key, Scope};

fn checked(weights: &[Weight]) -> Checked {
    let music = b"<score-partwise><work><work-title>A Solo</work-title></work><part-list><score-part id=\"P1\">\
        <part-name>Flute</part-name></score-part></part-list><part id=\"P1\"><measure number=\"1\"><attributes>\
        <divisions>1</divisions></attributes><note><rest/><duration>4</duration></note></measure></part>\
        </score-partwise>";
    let mut checked = check(&[Input { name: "solo.xml", bytes: music }], &Options::default(), &mut Unwatched).unwrap();
    checked.findings = weights.iter().zip(0..).map(|(weight, nth)| finding(*weight, nth)).collect();
    checked
}

fn finding(weight: Weight, nth: u16) -> Finding {
    let key = Key { rule: "staff-too-small", scope: Scope::Work, staff: String::new(), anchor: None, nth };
    Finding {
        key,
        rule: "staff-too-small",
        weight,
        places: Vec::new(),
        worst: 0,
        found: "3 mm".to_owned(),
        limit: "4 mm".to_owned(),
        source: "common practice".to_owned(),
        message: format!("Fault {nth}."),
        remedy: format!("Mend {nth}."),
    }
}

fn words(look: Look, extent: Extent, weights: &[Weight]) -> String {
    let summary = Summary { look, extent, written: vec!["solo-check.pdf".to_owned()] };
    summary.words(&checked(weights))
}

#[test]
fn what_is_only_worth_a_look_is_counted_not_listed() {
    let weights = [Weight::Stop, Weight::Mend, Weight::Look];
    let short = words(Look::Plain, Extent::Short, &weights);
    assert!(
        short.contains("  1 \u{25A0} ") && short.contains("  2 \u{25B2} ") && !short.contains("Fault 2."),
        "{short}"
    );
    assert!(short.contains("      -> Mend 0.\n") && short.contains("1 is worth a look"), "{short}");
    let full = words(Look::Plain, Extent::Full, &weights);
    assert!(full.contains("  3 \u{25CB} ") && full.contains("Fault 2."), "{full}");
}

#[test]
fn only_the_first_ten_are_listed_and_the_rest_counted() {
    let short = words(Look::Plain, Extent::Short, &[Weight::Mend; 12]);
    assert!(short.contains("Fault 9.") && !short.contains("Fault 10.") && short.contains("2 more to mend."), "{short}");
}

#[test]
fn a_styled_summary_says_the_same_as_a_plain_one() {
    let weights = [Weight::Stop, Weight::Look];
    let styled = words(Look::Styled, Extent::Full, &weights);
    assert!(styled.contains('\u{1b}'), "{styled}");
    let bare = styled.replace("\u{1b}[1m", "").replace("\u{1b}[0m", "");
    assert_eq!(bare, words(Look::Plain, Extent::Full, &weights));
}

#[test]
fn rule_names_stand_in_the_last_line_alone() {
    let short = words(Look::Plain, Extent::Short, &[Weight::Stop, Weight::Mend]);
    let naming: Vec<usize> =
        short.lines().enumerate().filter(|(_, line)| line.contains("staff-too-small")).map(|(at, _)| at).collect();
    assert_eq!(naming, [short.lines().count() - 1], "{short}");
}

#[test]
fn a_place_is_said_once() {
    let mut checked = checked(&[Weight::Mend, Weight::Mend]);
    if let [first, second] = checked.findings.as_mut_slice() {
        first.message = "Page 1: two systems stand too close.".to_owned();
        second.places = vec![crate::place::Place { page: Some(crate::place::PageIdx(0)), ..Default::default() }];
    }
    let summary = Summary::default().words(&checked);
    assert!(summary.contains("1 \u{25B2} Page 1: two") && summary.contains("2 \u{25B2} Fault 1."), "{summary}");
}

#[test]
fn a_length_without_a_stated_tempo_is_called_a_guess() {
    let mut checked = checked(&[]);
    checked.score.tempo_assumed = true;
    checked.score.bars.iter_mut().for_each(|bar| bar.seconds = Some(crate::units::Seconds(2.4)));
    let summary = Summary::default().words(&checked);
    assert!(summary.contains("1.0.0.0; about 2 s (a guess: no tempo is stated); about 1 page."), "{summary}");
}

#[test]
fn the_number_of_pages_of_a_forecast_says_how_far_it_may_be_off() {
    let mut checked = checked(&[]);
    let page = checked.layout.pages[0].clone();
    checked.layout.pages = vec![page; 40];
    if let Some(expected) = &mut checked.expected {
        (expected.pages.median, expected.pages.nine_in_ten) = (5.0, 12.5);
    }
    let summary = Summary::default().words(&checked).replace('\n', " ");
    assert!(summary.contains("about 40 pages, give or take 2."), "{summary}");
    assert!(summary.contains("Half of such estimates came within 2 pages, nine in ten within 5."), "{summary}");
    checked.expected = None;
    let summary = Summary::default().words(&checked).replace('\n', " ");
    assert!(
        summary.contains(" 40 pages.") && !summary.contains("about 40") && !summary.contains("estimates came"),
        "{summary}"
    );
}

#[test]
fn a_forecast_on_the_files_paper_is_not_called_recorded() {
    let mut checked = checked(&[]);
    for page in &mut checked.layout.pages {
        (page.size.origin, page.margins.origin) = (crate::layout::Origin::Recorded, crate::layout::Origin::Recorded);
    }
    let basis = verdict::basis(&checked);
    let estimated = "breaks, widths of bars and distances between staves are a rough estimate";
    assert_eq!(basis, format!("These pages are a forecast: {estimated}."));
}
