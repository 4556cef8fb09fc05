//! The rule sheets and guideline sets built into the program: one line for each file of `page-rules`.

/// The choices of a house that no single rule owns: papers, sizes aimed at, ways of writing.
pub(super) const HOUSE: (&str, &str) = ("house", include_str!("../../page-rules/house.toml"));

/// Rule sheets in the order a page is looked over: paper, staves, systems, words and marks, density, score
/// order, turns, the music itself, measured pages.
pub(super) const SHEETS: &[(&str, &str)] = &[
    ("unusual-page-size", include_str!("../../page-rules/unusual-page-size.toml")),
    ("page-sizes-differ", include_str!("../../page-rules/page-sizes-differ.toml")),
    ("landscape-page", include_str!("../../page-rules/landscape-page.toml")),
    ("printed-smaller", include_str!("../../page-rules/printed-smaller.toml")),
    ("narrow-margin", include_str!("../../page-rules/narrow-margin.toml")),
    ("narrow-binding-margin", include_str!("../../page-rules/narrow-binding-margin.toml")),
    ("music-in-margin", include_str!("../../page-rules/music-in-margin.toml")),
    ("staff-too-small", include_str!("../../page-rules/staff-too-small.toml")),
    ("staff-too-large", include_str!("../../page-rules/staff-too-large.toml")),
    ("staff-heights-uneven", include_str!("../../page-rules/staff-heights-uneven.toml")),
    ("staves-too-close", include_str!("../../page-rules/staves-too-close.toml")),
    ("families-not-separated", include_str!("../../page-rules/families-not-separated.toml")),
    ("page-overfull", include_str!("../../page-rules/page-overfull.toml")),
    ("systems-too-close", include_str!("../../page-rules/systems-too-close.toml")),
    ("too-many-systems", include_str!("../../page-rules/too-many-systems.toml")),
    ("system-divider-missing", include_str!("../../page-rules/system-divider-missing.toml")),
    ("room-for-second-system", include_str!("../../page-rules/room-for-second-system.toml")),
    ("two-systems-though-cramped", include_str!("../../page-rules/two-systems-though-cramped.toml")),
    ("lone-bar-system", include_str!("../../page-rules/lone-bar-system.toml")),
    ("last-system-short", include_str!("../../page-rules/last-system-short.toml")),
    ("staves-change-too-often", include_str!("../../page-rules/staves-change-too-often.toml")),
    ("first-system-incomplete", include_str!("../../page-rules/first-system-incomplete.toml")),
    ("one-hand-hidden", include_str!("../../page-rules/one-hand-hidden.toml")),
    ("running-head-missing", include_str!("../../page-rules/running-head-missing.toml")),
    ("page-number-misplaced", include_str!("../../page-rules/page-number-misplaced.toml")),
    ("front-page-incomplete", include_str!("../../page-rules/front-page-incomplete.toml")),
    ("transposition-not-stated", include_str!("../../page-rules/transposition-not-stated.toml")),
    ("names-missing", include_str!("../../page-rules/names-missing.toml")),
    ("bar-numbers-missing", include_str!("../../page-rules/bar-numbers-missing.toml")),
    ("tempo-mark-not-repeated", include_str!("../../page-rules/tempo-mark-not-repeated.toml")),
    ("rehearsal-marks-far-apart", include_str!("../../page-rules/rehearsal-marks-far-apart.toml")),
    ("rehearsal-marks-by-the-ruler", include_str!("../../page-rules/rehearsal-marks-by-the-ruler.toml")),
    ("rehearsal-marks-out-of-order", include_str!("../../page-rules/rehearsal-marks-out-of-order.toml")),
    ("crowded-page", include_str!("../../page-rules/crowded-page.toml")),
    ("crowded-bar", include_str!("../../page-rules/crowded-bar.toml")),
    ("out-of-score-order", include_str!("../../page-rules/out-of-score-order.toml")),
    ("family-bracket-missing", include_str!("../../page-rules/family-bracket-missing.toml")),
    ("barlines-not-grouped", include_str!("../../page-rules/barlines-not-grouped.toml")),
    ("too-many-on-a-staff", include_str!("../../page-rules/too-many-on-a-staff.toml")),
    ("two-players-on-one-part", include_str!("../../page-rules/two-players-on-one-part.toml")),
    ("divisi-left-open", include_str!("../../page-rules/divisi-left-open.toml")),
    ("conductor-turns-too-often", include_str!("../../page-rules/conductor-turns-too-often.toml")),
    ("risky-conductor-turn", include_str!("../../page-rules/risky-conductor-turn.toml")),
    ("turn-without-time", include_str!("../../page-rules/turn-without-time.toml")),
    ("turn-in-divisi", include_str!("../../page-rules/turn-in-divisi.toml")),
    ("tight-turn-unmarked", include_str!("../../page-rules/tight-turn-unmarked.toml")),
    ("rest-overleaf-unmarked", include_str!("../../page-rules/rest-overleaf-unmarked.toml")),
    ("audible-turn", include_str!("../../page-rules/audible-turn.toml")),
    ("rest-wasted-on-left-page", include_str!("../../page-rules/rest-wasted-on-left-page.toml")),
    ("multi-bar-rest-not-split", include_str!("../../page-rules/multi-bar-rest-not-split.toml")),
    ("hard-to-count", include_str!("../../page-rules/hard-to-count.toml")),
    ("cue-ends-too-soon", include_str!("../../page-rules/cue-ends-too-soon.toml")),
    ("cue-not-what-is-played", include_str!("../../page-rules/cue-not-what-is-played.toml")),
    ("cue-covers-entry", include_str!("../../page-rules/cue-covers-entry.toml")),
    ("cue-wrong-key-or-clef", include_str!("../../page-rules/cue-wrong-key-or-clef.toml")),
    ("change-too-quick", include_str!("../../page-rules/change-too-quick.toml")),
    ("cold-entry", include_str!("../../page-rules/cold-entry.toml")),
    ("no-breath", include_str!("../../page-rules/no-breath.toml")),
    ("parts-of-unequal-length", include_str!("../../page-rules/parts-of-unequal-length.toml")),
    ("bar-overfull", include_str!("../../page-rules/bar-overfull.toml")),
    ("bar-not-filled", include_str!("../../page-rules/bar-not-filled.toml")),
    ("tie-to-nothing", include_str!("../../page-rules/tie-to-nothing.toml")),
    ("hairpin-without-end", include_str!("../../page-rules/hairpin-without-end.toml")),
    ("slur-without-end", include_str!("../../page-rules/slur-without-end.toml")),
    ("bow-after-pizzicato", include_str!("../../page-rules/bow-after-pizzicato.toml")),
    ("mutes-never-off", include_str!("../../page-rules/mutes-never-off.toml")),
    ("entry-without-dynamic", include_str!("../../page-rules/entry-without-dynamic.toml")),
    ("staves-named-alike", include_str!("../../page-rules/staves-named-alike.toml")),
    ("outside-the-range", include_str!("../../page-rules/outside-the-range.toml")),
    ("bars-not-printed", include_str!("../../page-rules/bars-not-printed.toml")),
    ("page-number-missing", include_str!("../../page-rules/page-number-missing.toml")),
    ("text-too-small", include_str!("../../page-rules/text-too-small.toml")),
    ("staff-lines-heavy", include_str!("../../page-rules/staff-lines-heavy.toml")),
    ("font-not-embedded", include_str!("../../page-rules/font-not-embedded.toml")),
];

/// Guideline sets, the default first.
pub(super) const SETS: &[(&str, &str)] = &[
    ("concert", include_str!("../../page-rules/sets/concert.toml")),
    ("concert-roomy", include_str!("../../page-rules/sets/concert-roomy.toml")),
    ("studio", include_str!("../../page-rules/sets/studio.toml")),
    ("school", include_str!("../../page-rules/sets/school.toml")),
    ("tablet", include_str!("../../page-rules/sets/tablet.toml")),
    ("study-score", include_str!("../../page-rules/sets/study-score.toml")),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::fs;
    use std::path::Path;

    use super::*;
    use crate::guidelines::{
        Guidelines, Request, RuleSheet, Source, Standing, Value, Weight, limits_table, rules_table,
    };

    fn in_force(set: &str) -> Guidelines {
        let request = Request { set: Some(set.to_owned()), ..Request::default() };
        Guidelines::load(&request).unwrap_or_else(|errors| panic!("{errors}"))
    }

    fn all_sheets(guidelines: &Guidelines) -> impl Iterator<Item = &RuleSheet> {
        guidelines.rules().iter().chain([guidelines.house_sheet()])
    }

    fn names(sheets: &[(&str, &str)]) -> BTreeSet<String> {
        sheets.iter().map(|(name, _)| (*name).to_owned()).collect()
    }

    /// Names of the TOML files in a folder below the project's.
    fn files(folder: &str) -> BTreeSet<String> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let sheets = files.filter(|path| path.extension().is_some_and(|extension| extension == "toml"));
        sheets.map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned()).collect()
    }

    #[test]
    fn every_file_of_the_folder_is_built_in_once() {
        let mut listed = names(SHEETS);
        assert_eq!(listed.len(), SHEETS.len());
        listed.insert(HOUSE.0.to_owned());
        assert_eq!(listed, files("page-rules"));
        assert_eq!(names(SETS), files("page-rules/sets"));
    }

    #[test]
    fn every_set_loads_says_whom_it_serves_and_changes_only_what_there_is() {
        for summary in crate::guidelines::sets().unwrap() {
            assert!(!summary.title.is_empty() && !summary.what.is_empty(), "{}", summary.name);
            assert_eq!(in_force(&summary.name).set(), summary.name);
        }
    }

    #[test]
    fn a_set_holds_only_what_differs_from_the_sheets() {
        let concert = in_force("concert");
        for (set, _) in SETS {
            let other = in_force(set);
            for (sheet, changed) in all_sheets(&concert).zip(all_sheets(&other)) {
                for (value, new) in sheet.values.iter().zip(&changed.values) {
                    let restated = value.value == new.value && value.source != new.source;
                    assert!(!restated, "{set}: {}.{} restates the sheet", sheet.name, value.name);
                }
            }
        }
    }

    #[test]
    fn names_are_lower_case_words_joined_by_hyphens() {
        let plain =
            |name: &str| name.split('-').all(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase()));
        for sheet in all_sheets(&in_force("concert")) {
            assert!(plain(&sheet.name), "{}", sheet.name);
            assert!(sheet.values.iter().all(|value| plain(&value.name)), "{}", sheet.name);
        }
    }

    #[test]
    fn every_sheet_and_every_value_has_its_texts_and_its_source() {
        for (set, _) in SETS {
            for sheet in all_sheets(&in_force(set)) {
                for text in [&sheet.title, &sheet.what, &sheet.why, &sheet.remedy, &sheet.source.text] {
                    assert!(!text.trim().is_empty(), "{}", sheet.name);
                }
                assert!(!sheet.applies_to.is_empty(), "{}", sheet.name);
                for value in &sheet.values {
                    let told = !value.source.text.trim().is_empty() && !value.meaning.trim().is_empty();
                    assert!(told, "{}.{}", sheet.name, value.name);
                }
            }
        }
    }

    #[test]
    fn a_rule_that_nobody_published_does_not_weigh_more_than_its_source_allows() {
        for sheet in in_force("concert").rules() {
            // Faults that need no publication: the bars do not add up.
            if ["bar-overfull", "bar-not-filled", "parts-of-unequal-length"].contains(&sheet.name.as_str()) {
                continue;
            }
            let heaviest = sheet.source.standing.heaviest();
            assert!(sheet.severity.is_none_or(|severity| severity <= heaviest), "{}", sheet.name);
        }
    }

    #[test]
    fn a_limits_own_severity_is_lighter_than_its_rules_and_not_heavier_than_its_source_allows() {
        for sheet in in_force("concert").rules() {
            for value in &sheet.values {
                let name = format!("{}.{}", sheet.name, value.name);
                assert!(value.own_weight.is_none_or(|own| Some(own) < sheet.severity), "{name}");
                assert!(value.weight <= value.source.standing.heaviest(), "{name}");
                let said = value.own_weight.or(sheet.severity).unwrap_or(Weight::Look);
                assert_eq!(said, value.weight, "{name} claims more than its source allows");
            }
        }
    }

    #[test]
    fn every_value_reads_back_as_it_is_shown() {
        for (set, _) in SETS {
            for sheet in all_sheets(&in_force(set)) {
                for value in &sheet.values {
                    let shown = crate::guidelines::value::Written::One(value.value.to_string());
                    let read = Value::read(value.value.kind(), &shown, &value.choices);
                    assert_eq!(read.as_ref(), Ok(&value.value), "{}.{}", sheet.name, value.name);
                }
            }
        }
    }

    /// A limit as shown, and the beginning of its source.
    fn limit(set: &str, rule: &str, name: &str) -> (String, Source) {
        let guidelines = in_force(set);
        let value =
            all_sheets(&guidelines).find(|sheet| sheet.name == rule).and_then(|sheet| sheet.value(name)).unwrap();
        (value.value.to_string(), value.source.clone())
    }

    #[test]
    fn published_numbers_stand_as_their_publications_have_them() {
        let mola = "Major Orchestra Librarians' Association, Guidelines for Music Preparation (2017)";
        let gould = "Gould, Behind Bars (2011)";
        let criteria = "Kriterien f\u{fc}r Orchester-Notenmaterial";
        for (set, rule, name, value, publication) in [
            // MOLA 2017, p. 5: conductor's score not below 4.0 mm, parts not below 7.0 mm, 7.5 mm most readable.
            ("concert", "staff-too-small", "score-floor", "4 mm", mola),
            ("concert", "staff-too-small", "part-floor", "7 mm", mola),
            ("concert", "staff-too-small", "shared-part-floor", "7.5 mm", mola),
            ("concert", "house", "part-staff", "7.5 mm", mola),
            ("concert", "narrow-margin", "part-side", "20 mm", mola),
            // New Zealand School of Music (2019), p. 5: scores 4.5 to 5.0 mm.
            ("concert", "house", "score-staff", "4.5 mm", "New Zealand School of Music"),
            // Gould, p. 481: margins of 15 mm; p. 483: rastral size 8 is 3.7 mm; pp. 488, 517: staves at least
            // four spaces apart; p. 520: families 1.2 to 1.7 times as far.
            ("concert", "narrow-margin", "score-side", "15 mm", gould),
            ("concert", "staff-too-small", "score-unreadable", "3.7 mm", gould),
            ("concert", "staves-too-close", "least-gap", "4 spaces", gould),
            ("concert", "families-not-separated", "family-gap", "1.2 times", gould),
            // German criteria, 5: nothing below 7.5 mm, strings 8.0 to 8.5; 6: margins, 8 mm between systems.
            ("concert-roomy", "staff-too-small", "part-floor", "7.5 mm", criteria),
            ("concert-roomy", "staff-too-small", "shared-part-floor", "8 mm", criteria),
            ("concert-roomy", "narrow-margin", "part-top", "30 mm", criteria),
            ("concert-roomy", "systems-too-close", "part-clear", "8 mm", criteria),
            // Sydney Symphony Orchestra: A3 scores, sides 25, top 35, bottom 30 mm.
            ("concert-roomy", "narrow-margin", "score-top", "35 mm", "Sydney Symphony Orchestra"),
            // Metropole Orkest: parts of 8.0 mm on JIS B4.
            ("studio", "house", "part-staff", "8 mm", "Metropole Orkest"),
        ] {
            let (shown, source) = limit(set, rule, name);
            assert_eq!(shown, value, "{set}: {rule}.{name}");
            assert!(source.text.starts_with(publication), "{set}: {rule}.{name} from {source}");
        }
    }

    #[test]
    fn derived_staff_heights_are_the_arc_minutes_they_name() {
        // A staff space of so many arc minutes at a distance: staff = 4 spaces = 8 d tan(angle / 2).
        let staff = |arc_minutes: f64, distance: f64| {
            let half = (arc_minutes / 60.0 / 2.0).to_radians();
            format!("{:.1}", 8.0 * distance * libm::tan(half))
        };
        for (set, name, arc_minutes, distance) in [
            ("concert", "part-unreadable", 6.0, 800.0),
            ("tablet", "part-unreadable", 6.0, 600.0),
            ("study-score", "score-unreadable", 5.0, 400.0),
            ("study-score", "score-floor", 6.0, 400.0),
        ] {
            let (shown, source) = limit(set, "staff-too-small", name);
            assert_eq!(shown, format!("{} mm", staff(arc_minutes, distance)), "{set}: {name}");
            assert_eq!(source.standing, Standing::Derived);
        }
    }

    #[test]
    fn the_tables_have_a_line_for_every_rule_and_every_limit() {
        let guidelines = in_force("concert");
        let limits: usize = guidelines.rules().iter().map(|rule| rule.values.len()).sum();
        assert_eq!(rules_table(guidelines.rules()).lines().count(), SHEETS.len() + 2);
        let table = limits_table(guidelines.rules());
        assert_eq!(table.lines().count(), limits + 2);
        assert!(table.contains("| `staff-too-small.score-floor` | 4 mm | Major Orchestra Librarians' Association"));
        assert!(table.lines().filter(|line| line.starts_with("| ")).all(|line| line.matches(" | ").count() == 2));
    }

    #[test]
    fn a_rule_sheet_in_json_holds_values_as_a_house_sheet_would() {
        let guidelines = in_force("concert");
        let json = serde_json::to_value(guidelines.rule("rehearsal-marks-far-apart").unwrap()).unwrap();
        assert_eq!(json["severity"], "look");
        assert_eq!(json["values"][0]["value"], 24);
        assert_eq!(json["values"][1]["value"], "40 s");
        assert_eq!(json["values"][1]["source"]["standing"], "from-memory");
    }
}
