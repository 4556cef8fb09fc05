//! The checker finds the demonstration score's faults where its table has them (tests/lantern_ferry/README.md), and is
//! silent on their good neighbours.

#[path = "demonstration/drafts.rs"]
mod drafts;
#[path = "demonstration/parts.rs"]
mod parts;
#[path = "demonstration/printed.rs"]
mod printed;
#[path = "demonstration/proof.rs"]
mod proof;

use rastrum::check::{Checked, Options, Unwatched, check};
use rastrum::read::Input;

const SCORES: [(&str, &[u8]); 2] = [
    ("lantern-ferry-1.mxl", include_bytes!("../src/demo/lantern-ferry-1.mxl")),
    ("lantern-ferry-2.mxl", include_bytes!("../src/demo/lantern-ferry-2.mxl")),
];

fn checked() -> Checked {
    let inputs = SCORES.map(|(name, bytes)| Input { name, bytes });
    check(&inputs, &Options::default(), &mut Unwatched).unwrap()
}

/// Printed numbers of the pages that a rule's findings mark, in order and once.
fn pages<'a>(checked: &'a Checked, rule: &str) -> Vec<&'a str> {
    let findings = checked.findings.iter().filter(|finding| finding.rule == rule);
    let places = findings.flat_map(|finding| &finding.places).filter_map(|place| place.page);
    let mut pages: Vec<&str> = places.map(|page| checked.layout.pages[page.at()].label.as_str()).collect();
    pages.dedup();
    pages
}

#[test]
fn each_fault_is_found_on_its_page_and_on_no_other() {
    let checked = checked();
    for (rule, on) in [
        ("page-overfull", vec!["32"]),
        ("staves-too-close", vec!["5", "32"]),
        ("systems-too-close", vec!["14"]),
        ("system-divider-missing", vec!["14"]),
        ("music-in-margin", vec!["17"]),
        ("risky-conductor-turn", vec!["20"]),
        ("room-for-second-system", vec!["6", "7", "16", "17", "26", "27"]),
    ] {
        assert_eq!(pages(&checked, rule), on, "{rule}");
    }
    let far = checked.findings.iter().find(|finding| finding.rule == "rehearsal-marks-far-apart").unwrap();
    assert!(far.message.contains("bar 57 of movement 2") && far.message.contains("28 bars"), "{}", far.message);
}

#[test]
fn nothing_else_is_said() {
    let checked = checked();
    let mut rules: Vec<&str> = checked.findings.iter().map(|finding| finding.rule).collect();
    rules.sort_unstable();
    let expected = [
        "music-in-margin",
        "page-overfull",
        "rehearsal-marks-far-apart",
        "risky-conductor-turn",
        "room-for-second-system",
        "staves-too-close",
        "system-divider-missing",
        "systems-too-close",
    ];
    assert_eq!(rules, expected);
}

#[test]
fn the_piece_is_as_long_and_as_large_as_its_table_says() {
    let checked = checked();
    let score = &checked.score;
    assert_eq!((score.bars.len(), score.staves.len(), score.movements.len()), (184, 26, 2));
    assert_eq!(checked.layout.pages.len(), 34);
    assert!((score.duration().unwrap().0 - 472.2).abs() < 0.05, "{:?}", score.duration());
    let forces = checked.forces(score.duration());
    assert_eq!(forces, "2(II=picc).2+ca.2.2+cbn - 4.2.3.1 - timp.2perc - hp - str; about 7'50\"");
}
