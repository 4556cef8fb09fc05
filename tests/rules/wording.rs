//! What each rule says of its faulty score, word for word, and that it is silent on the good one.

use rastrum::rules::{Finding, RULES};

use super::fixtures::{guidelines, judged, text};

/// Rule and the sentence for its faulty score.
const SAYINGS: &[(&str, &str)] = &[
    ("bars-not-printed", "Bars 3-4 stand on no page: 2 bars are missing between page 1 and page 2."),
    ("font-not-embedded", "Helvetica is used on page 1 and not in the file."),
    ("page-number-missing", "Page 3 bears no number."),
    ("staff-lines-heavy", "Staff lines 0.26 mm thick on page 1."),
    ("text-too-small", "Page 1: \"espress\" stands in type of 9.9 pt; words below 10 pt on page 1."),
    ("parts-of-unequal-length", "Oboe ends 1 bar before the others; the first one missing is bar 3."),
    ("bar-overfull", "Oboe, bar 2: the notes last 5 quarters, and the metre gives 4."),
    ("bar-not-filled", "Notes and rests end before the bar does: Oboe in bar 2."),
    ("tie-to-nothing", "Ties that lead to no note: Oboe in bar 2."),
    ("hairpin-without-end", "Hairpins without an end: Oboe in bar 2."),
    ("slur-without-end", "Slurs with one end only: Oboe in bar 2."),
    ("bow-after-pizzicato", "Bow signs after \"pizz.\", and no \"arco\" between: Violin I in bar 3."),
    ("mutes-never-off", "Mutes go on, and nothing takes them off before the movement ends: Violin I in bar 2."),
    ("entry-without-dynamic", "First entries without a dynamic: Oboe in bar 2."),
    ("staves-named-alike", "More than one part is called Flute."),
    ("outside-the-range", "Notes below or above what the instrument has, as sounding: Oboe in bar 2."),
    ("staff-too-small", "All staves are 3.98 mm high; from the podium that looks like 2.3 mm at reading distance."),
    (
        "printed-smaller",
        "Printed on A4 the pages shrink to 71 %, their staves to 3.99 mm; from the podium that looks like 2.3 mm at reading distance.",
    ),
    ("names-missing", "1 staff bears no name on the first system."),
    ("bar-numbers-missing", "No bar (measure) numbers are printed."),
    ("rehearsal-marks-out-of-order", "At bar 5 the rehearsal mark D follows B."),
    ("first-system-incomplete", "The first system leaves out Oboe."),
    ("one-hand-hidden", "Page 1: one staff of Piano is shown without the other."),
    ("page-overfull", "Page 1: staves, notes and marks need 110 % of the height between the margins."),
    (
        "staves-too-close",
        "Page 1: Flute and Oboe stand 8.9 spaces apart, and at bar 2 their notes and marks need 11.0.",
    ),
    ("systems-too-close", "Page 1: two systems stand 9.9 mm apart, closer than staves inside them (10 mm)."),
    ("two-systems-though-cramped", "Page 1: its two systems need 110 % of the height between the margins."),
    ("system-divider-missing", "No divider marks between the systems on page 1."),
    (
        "music-in-margin",
        "Page 1: music of Violoncello reaches 1.1 mm into the margin at bar 1, 14 mm from the edge of the paper.",
    ),
    ("narrow-margin", "Margins of page 1: top 14.9 mm."),
    ("page-sizes-differ", "Page 2 is 297 x 421.1 mm, the other pages 297 x 420 mm."),
    ("crowded-page", "Page 1: 58 signs on every hundred staff spaces, most at bar 2."),
    ("crowded-bar", "Page 1: bar 2 is crowded in Flute, 91 signs on every hundred staff spaces."),
    ("too-many-on-a-staff", "Flute: 3 rhythms at once on one staff at bar 2."),
    ("risky-conductor-turn", "Unseen until the page is turned: fermata (page 2)."),
    ("conductor-turns-too-often", "The opening with pages 2 and 3 lasts 7.9 s."),
    ("rehearsal-marks-far-apart", "From the beginning on, 25 bars (1'40\") pass without a rehearsal mark."),
    (
        "rehearsal-marks-by-the-ruler",
        "5 of 5 rehearsal marks stand at multiples of 5, and 1 double bar or tempo change is without one.",
    ),
    (
        "tempo-mark-not-repeated",
        "The tempo mark at bar 2 stands at the top of the page alone, others above the strings too.",
    ),
    (
        "transposition-not-stated",
        "Clarinet transposes, and nothing says so: neither the names nor a line such as \"Transposed score\".",
    ),
    ("out-of-score-order", "Horn stands where a conductor looks for another family."),
    ("family-bracket-missing", "Families without a bracket: woodwind and strings."),
    ("barlines-not-grouped", "Barlines run through several families without a break."),
    (
        "families-not-separated",
        "On page 1 the gaps between families are hardly wider than those inside them (1.19 times as wide).",
    ),
    (
        "room-for-second-system",
        "Bars 5-12, now on pages 2 and 3, have room on one page: two systems of 3 staves each, 13.5 spaces apart.",
    ),
    ("staves-change-too-often", "After 3 of 4 page turns other staves are shown than before the turn."),
    ("staff-heights-uneven", "Flute is 4 mm high on some systems and 3.81 mm on others."),
    ("lone-bar-system", "Page 1: a system holds 1 bar only (bar 3), drawn out to the full line."),
    ("last-system-short", "Page 1: the last system fills 59 % of the line."),
    ("narrow-binding-margin", "On page 1 only 12.6 mm are left for the binding."),
    ("unusual-page-size", "Page 1 is 298.1 x 420 mm, a size of no paper sold."),
    ("landscape-page", "Page 1 is wider than high (420.1 x 420 mm)."),
    ("running-head-missing", "Page 2 bears no title."),
    ("page-number-misplaced", "The number of page 2 stands elsewhere than in the outer top corner."),
    ("front-page-incomplete", "The forces are not told on the front pages."),
    ("turn-without-time", "About 1 s to turn after bar 8 (page 1)."),
    ("turn-in-divisi", "No time to turn after bar 8 (page 1), where nobody at the desk has the same line."),
    ("two-players-on-one-part", "Two notes or more at once in 20 % of the bars of a wind part, first at bar 9."),
    ("too-many-systems", "13 systems on page 1."),
    ("change-too-quick", "About 6 s to change to piccolo (\"muta in Piccolo\") before bar 5."),
    ("multi-bar-rest-not-split", "The rest of 8 bars at bar 2 runs on through a rehearsal mark at bar 6."),
    ("tight-turn-unmarked", "About 2 s to turn after bar 8 (page 1), and no \"V.S.\" stands there."),
    ("rest-overleaf-unmarked", "3 bars of rest come overleaf, and nothing says so after bar 8 (page 1)."),
    ("audible-turn", "The turn after bar 8 (page 1) falls into a silence or a pause of all, and is heard."),
    (
        "rest-wasted-on-left-page",
        "A rest long enough to turn stands at the foot of a left-hand page, after bar 16; no time to turn after bar 24 (page 3).",
    ),
    (
        "hard-to-count",
        "24 bars of rest before bar 27 (46 s), without a cue: 4 changes of metre, a moving tempo and an entry off the \
         beat.",
    ),
    ("cue-ends-too-soon", "The cue in bar 3 ends two bars before the entry at bar 6."),
    ("cue-not-what-is-played", "The cue at bar 4 is not what anybody plays there."),
    ("cue-covers-entry", "A cue runs on over the player's own notes at bar 4."),
    ("cue-wrong-key-or-clef", "The cue in bar 4 stands in another clef than the player's notes."),
    (
        "divisi-left-open",
        "\"div.\" at bar 2 is not taken back where one line follows; whether the two notes at bar 4 are divided, nothing says.",
    ),
    ("staff-too-large", "Staves 8.51 mm high: fewer bars on a page than need be, and more turns."),
    ("cold-entry", "The entry at bar 32 comes after 1'00\" of silence: high and ff."),
    ("no-breath", "22 s under one slur or tie (bars 2-12)."),
];

/// The paper that pages are printed on, for the one rule that asks.
fn print_on(rule: &str) -> Option<&'static str> {
    (rule == "printed-smaller").then_some("A4")
}

#[test]
fn every_rule_finds_its_fault_once_and_says_so_in_these_words() {
    let guidelines = guidelines(&[]);
    assert_eq!(SAYINGS.len(), RULES.len());
    for (rule, saying) in SAYINGS {
        let (_, _, judged) = judged(&text(rule, "faulty"), &guidelines, print_on(rule));
        let said: Vec<&str> = messages(&judged.findings, rule);
        assert_eq!(said, [*saying], "{rule}");
    }
}

#[test]
fn every_rule_is_silent_just_within_its_limit() {
    let guidelines = guidelines(&[]);
    for entry in RULES {
        let (_, _, judged) = judged(&text(entry.name, "good"), &guidelines, print_on(entry.name));
        assert!(judged.ran.contains(&entry.name), "{} did not run: {:?}", entry.name, judged.could_not_run);
        assert_eq!(messages(&judged.findings, entry.name), [""; 0], "{}", entry.name);
    }
}

#[test]
fn every_finding_has_a_place_a_remedy_and_a_source() {
    let guidelines = guidelines(&[]);
    for entry in RULES {
        let (_, layout, judged) = judged(&text(entry.name, "faulty"), &guidelines, print_on(entry.name));
        for finding in &judged.findings {
            let told = [&finding.found, &finding.limit, &finding.source, &finding.remedy];
            assert!(told.iter().all(|text| !text.trim().is_empty()), "{finding:?}");
            assert!(!finding.places.is_empty(), "{finding:?}");
            for place in &finding.places {
                let page = place.page.and_then(|page| layout.pages.get(page.at())).unwrap();
                let rect = place.rect.unwrap();
                assert!(rect.left <= rect.right && rect.top <= rect.bottom, "{finding:?}");
                assert!(rect.right.0 <= page.size.value.0.0 + 0.001, "{finding:?}");
            }
        }
    }
}

#[test]
fn a_musician_reads_sentences_and_no_rule_names() {
    let guidelines = guidelines(&[]);
    for entry in RULES {
        let (_, _, judged) = judged(&text(entry.name, "faulty"), &guidelines, print_on(entry.name));
        for finding in &judged.findings {
            for text in [&finding.message, &finding.remedy] {
                assert!(text.trim_end().ends_with('.'), "{text}");
                assert!(text.chars().next().is_some_and(|first| !first.is_lowercase()), "{text}");
                assert!(RULES.iter().all(|rule| !text.contains(rule.name)), "{text}");
            }
        }
    }
}

#[test]
fn the_same_score_is_judged_the_same_again() {
    let guidelines = guidelines(&[]);
    for entry in RULES {
        let text = text(entry.name, "faulty");
        let once = judged(&text, &guidelines, print_on(entry.name)).2;
        assert_eq!(once, judged(&text, &guidelines, print_on(entry.name)).2);
    }
}

fn messages<'a>(findings: &'a [Finding], rule: &str) -> Vec<&'a str> {
    findings.iter().filter(|finding| finding.rule == rule).map(|finding| finding.message.as_str()).collect()
}
