//! Lays the layers over each other: rule sheets, a guideline set, house sheets, single changes.

use super::changes::{Change, read_change, read_sheet};
use super::error::{Fault, GuidelineError, GuidelineErrors};
use super::house::HouseChoices;
use super::lines::Lines;
use super::nearest::{did_you_mean, listed};
use super::sheet::{RuleSheet, Severity};
use super::stack::{Layer, Stacked, stack};
use super::value::{Value, Written};
use super::{Guidelines, Request, SetSummary, nearest, shipped};

pub(super) fn merge(request: &Request) -> Result<Guidelines, GuidelineErrors> {
    let mut errors = Vec::new();
    let (mut rules, house_sheet) = shipped_sheets(&mut errors);
    let Some(house_sheet) = house_sheet else { return Err(in_reading_order(errors)) };
    rules.push(house_sheet);

    let Stacked { set, layers } = stack(request, &mut errors);
    for (layer, sheet) in &layers {
        for change in &sheet.changes {
            apply(&mut rules, change, layer, &mut errors);
        }
    }
    for text in &request.changes {
        match read_change(text) {
            Ok(change) => apply(&mut rules, &change, &Layer::CommandLine, &mut errors),
            Err(error) => errors.push(error),
        }
    }
    rules.iter_mut().for_each(RuleSheet::weigh);
    let house_sheet = rules.pop();
    match house_sheet {
        Some(house_sheet) if errors.is_empty() => {
            let house = HouseChoices::read(&house_sheet).map_err(|mismatch| {
                let place = Lines::of("house.toml", "").place(0);
                GuidelineErrors(vec![GuidelineError { place, fault: Fault::Misfit(mismatch.to_string()), hint: None }])
            })?;
            Ok(Guidelines { set, rules, house_sheet, house })
        }
        _ => Err(in_reading_order(errors)),
    }
}

pub(super) fn set_summaries() -> Result<Vec<SetSummary>, GuidelineErrors> {
    let mut errors = Vec::new();
    let summary = |(name, text): &(&str, &str)| {
        let sheet = read_sheet(&format!("{name}.toml"), text, &mut errors);
        SetSummary { name: (*name).to_owned(), title: sheet.title, what: sheet.what }
    };
    let sets = shipped::SETS.iter().map(summary).collect();
    if errors.is_empty() { Ok(sets) } else { Err(GuidelineErrors(errors)) }
}

fn shipped_sheets(errors: &mut Vec<GuidelineError>) -> (Vec<RuleSheet>, Option<RuleSheet>) {
    let mut parse = |(name, text): &(&str, &str)| match RuleSheet::parse(name, text) {
        Ok(sheet) => Some(sheet),
        Err(error) => {
            errors.push(error);
            None
        }
    };
    (shipped::SHEETS.iter().filter_map(&mut parse).collect(), parse(&shipped::HOUSE))
}

fn in_reading_order(mut errors: Vec<GuidelineError>) -> GuidelineErrors {
    errors.sort_by(|one, other| one.place.order().cmp(&other.place.order()));
    GuidelineErrors(errors)
}

fn apply(rules: &mut [RuleSheet], change: &Change, layer: &Layer, errors: &mut Vec<GuidelineError>) {
    let Some(at) = rules.iter().position(|rule| rule.name == change.rule) else {
        let near = nearest(&change.rule, rules.iter().map(|rule| rule.name.as_str()));
        // One word for a whole section that nobody knows.
        if errors.last().is_none_or(|error| error.place != change.rule_place) {
            let fault = Fault::UnknownRule(change.rule.clone());
            errors.push(GuidelineError { place: change.rule_place.clone(), fault, hint: near.map(did_you_mean) });
        }
        return;
    };
    let Some(rule) = rules.get_mut(at) else { return };
    let applied = if change.key == "severity" && rule.name != shipped::HOUSE.0 {
        set_severity(rule, change, layer)
    } else {
        set_value(rule, change, layer)
    };
    errors.extend(applied.err());
}

fn set_severity(rule: &mut RuleSheet, change: &Change, layer: &Layer) -> Result<(), GuidelineError> {
    let word = match &change.written {
        Written::One(word) => word.as_str(),
        Written::List(_) => "a list",
    };
    let severity = Severity::from_word(word).ok_or_else(|| GuidelineError {
        place: change.value_place.clone(),
        fault: Fault::UnknownSeverity(word.to_owned()),
        hint: Some("write \"stop\", \"mend\", \"look\" or \"off\"".to_owned()),
    })?;
    rule.severity = severity.weight();
    rule.severity_set_in = layer.set_in(change);
    Ok(())
}

fn set_value(rule: &mut RuleSheet, change: &Change, layer: &Layer) -> Result<(), GuidelineError> {
    let Some(limit) = rule.values.iter_mut().find(|value| value.name == change.key) else {
        let known = rule.values.iter().map(|value| value.name.as_str()).chain(["severity"]);
        return Err(GuidelineError {
            place: change.key_place.clone(),
            fault: Fault::UnknownLimit { rule: rule.name.clone(), limit: change.key.clone() },
            hint: Some(nearest(&change.key, known.clone()).map_or_else(|| listed("it has", known), did_you_mean)),
        });
    };
    limit.value = Value::read(limit.value.kind(), &change.written, &limit.choices).map_err(|misfit| {
        GuidelineError { place: change.value_place.clone(), fault: Fault::Misfit(misfit.what), hint: Some(misfit.hint) }
    })?;
    limit.source = layer.source(change);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guidelines::{ForcesStyle, HouseSheet, Mismatch, SetIn, Standing, Weight};
    use crate::units::{Mm, Spaces};

    fn house(text: &str) -> Request {
        Request { sheets: vec![sheet("house.toml", text)], ..Request::default() }
    }

    fn sheet(name: &str, text: &str) -> HouseSheet {
        HouseSheet { name: name.to_owned(), text: text.to_owned() }
    }

    fn changed(changes: &[&str]) -> Request {
        Request { changes: changes.iter().map(|change| (*change).to_owned()).collect(), ..Request::default() }
    }

    fn load(request: &Request) -> Guidelines {
        Guidelines::load(request).unwrap_or_else(|errors| panic!("{errors}"))
    }

    fn troubles(request: &Request) -> String {
        Guidelines::load(request).map(|_| ()).unwrap_err().to_string()
    }

    fn part_floor(guidelines: &Guidelines) -> (String, String, Weight) {
        let value = guidelines.rule("staff-too-small").and_then(|rule| rule.value("part-floor")).unwrap();
        (value.value.to_string(), value.source.to_string(), value.weight)
    }

    #[test]
    fn each_layer_overrides_the_one_before_key_by_key_and_leaves_its_source() {
        let mut request = house("extends = \"concert-roomy\"\n\n[staff-too-small]\npart-floor = \"7.2 mm\"\n");
        let guidelines = load(&request);
        assert_eq!(guidelines.set(), "concert-roomy");
        let mend = Weight::Mend;
        assert_eq!(part_floor(&guidelines), ("7.2 mm".to_owned(), "set in house.toml:4".to_owned(), mend));
        let shared = guidelines.rule("staff-too-small").and_then(|rule| rule.value("shared-part-floor")).unwrap();
        assert_eq!(shared.value.to_string(), "8 mm");
        assert_eq!(shared.source.set_in, SetIn::Set("concert-roomy".to_owned()));

        request.changes = vec!["staff-too-small.part-floor = 0.3 in".to_owned()];
        let source = "set on the command line".to_owned();
        assert_eq!(part_floor(&load(&request)), ("7.62 mm".to_owned(), source, mend));
    }

    #[test]
    fn a_house_value_may_name_its_source() {
        let text = "[staff-too-small]\npart-floor = { value = \"7.2 mm\", source = \"our sheet, 2026\" }";
        assert_eq!(part_floor(&load(&house(text))).1, "our sheet, 2026 (set in house.toml:2)");
        let text = "[staff-too-small.part-floor]\nvalue = \"7.2 mm\"\nsource = \"our sheet, 2026\"";
        assert_eq!(part_floor(&load(&house(text))).1, "our sheet, 2026 (set in house.toml:1)");
    }

    #[test]
    fn a_set_asked_for_takes_the_place_of_the_one_a_house_sheet_stands_on() {
        let mut request = house("extends = \"school\"");
        assert_eq!(load(&request).house().forces_style.value, ForcesStyle::Named);
        request.set = Some("studio".to_owned());
        assert_eq!(load(&request).set(), "studio");
        assert_eq!(load(&request).house().forces_style.value, ForcesStyle::Dotted);
    }

    #[test]
    fn the_house_sheet_shown_in_the_rule_book_loads() {
        let rule_book = include_str!("../../page-rules/README.md");
        let example = rule_book.split("```toml").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
        let guidelines = load(&house(example));
        assert_eq!(part_floor(&guidelines).0, "7.2 mm");
        assert_eq!(guidelines.rule("staves-change-too-often").and_then(|rule| rule.severity), None);
    }

    #[test]
    fn a_rule_is_switched_off_and_on_by_any_layer() {
        let request = house("[narrow-margin]\nseverity = \"off\"");
        let guidelines = load(&request);
        let rule = guidelines.rule("narrow-margin").unwrap();
        assert_eq!(rule.severity, None);
        assert_eq!(rule.severity_set_in.to_string(), "set in house.toml:2");
        let on = Request { changes: vec!["narrow-margin.severity=look".to_owned()], ..request };
        assert_eq!(load(&on).rule("narrow-margin").unwrap().severity, Some(Weight::Look));
    }

    #[test]
    fn a_rules_severity_holds_its_limits_down_and_a_source_does_unless_the_house_spoke() {
        let weights = |request: &Request, rule: &str| -> Vec<Weight> {
            load(request).rule(rule).unwrap().values.iter().map(|value| value.weight).collect()
        };
        let default = weights(&Request::default(), "staff-too-small");
        assert_eq!(default, [Weight::Stop, Weight::Mend, Weight::Stop, Weight::Mend, Weight::Look]);
        let mended = weights(&changed(&["staff-too-small.severity=mend"]), "staff-too-small");
        assert_eq!(mended, [Weight::Mend, Weight::Mend, Weight::Mend, Weight::Mend, Weight::Look]);
        assert_eq!(weights(&Request::default(), "staff-heights-uneven"), [Weight::Look]);
        assert_eq!(weights(&changed(&["staff-heights-uneven.severity=stop"]), "staff-heights-uneven"), [Weight::Stop]);
    }

    #[test]
    fn a_sets_value_without_a_source_is_worth_a_look_at_most() {
        let school = load(&Request { set: Some("school".to_owned()), ..Request::default() });
        let floor = school.rule("staff-too-small").and_then(|rule| rule.value("part-floor")).unwrap();
        assert_eq!((floor.source.standing, floor.weight), (Standing::Unsourced, Weight::Look));
        assert_eq!(floor.source.to_string(), "common practice");
    }

    #[test]
    fn papers_and_ways_of_writing_are_the_houses_choice() {
        let text =
            "[house]\nscore-papers = [\"A3\", \"270 x 360 mm\"]\nprint-parts-on = \"A4\"\nforces-style = \"named\"";
        let guidelines = load(&house(text));
        let names: Vec<&str> = guidelines.house().score_papers.value.iter().map(|paper| paper.name.as_ref()).collect();
        assert_eq!(names, ["A3", "270 x 360 mm"]);
        assert_eq!(guidelines.house().print_parts_on.value.as_ref().map(|paper| paper.height), Some(Mm(297.0)));
        assert_eq!(guidelines.house().print_scores_on.value, None);
        assert_eq!(guidelines.house().forces_style.source.to_string(), "set in house.toml:4");
    }

    #[test]
    fn all_troubles_are_told_together_with_their_places_and_the_nearest_names() {
        let text = "extends = \"consert\"\n\
            papers = [\"A3\"]\n\
            [staff-to-small]\n\
            part-floor = \"7 mm\"\n\
            score-floor = \"4 mm\"\n\
            [staff-too-small]\n\
            part-flor = \"7 mm\"\n\
            score-floor = \"4 pt\"\n\
            severity = \"fatal\"\n";
        let mut request = house(text);
        request.changes = vec!["staff-too-small".to_owned(), "staves-too-close.least-gap=4 mm".to_owned()];
        let expected = "\
house.toml:1:11: \"consert\" is neither a guideline set nor a sheet at hand
hint: did you mean \"concert\"?
house.toml:2:1: \"papers\" stands outside any rule
hint: limits stand under the name of their rule: [staff-too-small]
house.toml:3:2: no rule is called \"staff-to-small\"
hint: did you mean \"staff-too-small\"?
house.toml:7:1: staff-too-small has no limit called \"part-flor\"
hint: did you mean \"part-floor\"?
house.toml:8:15: \"4 pt\" is not a length in mm
hint: write it in mm, cm, m or in: \"4 mm\", \"0.5 in\"
house.toml:9:12: \"fatal\" is no severity
hint: write \"stop\", \"mend\", \"look\" or \"off\"
--set staff-too-small: not a change of a limit
hint: write RULE.LIMIT=VALUE, such as \"staff-too-small.part-floor=7.2 mm\"
--set staves-too-close.least-gap=4 mm: \"4 mm\" is not a distance in staff spaces
hint: write it in spaces of the staff: \"5 spaces\"";
        assert_eq!(troubles(&request), expected);
    }

    #[test]
    fn broken_toml_is_told_with_its_line() {
        let told = troubles(&house("[staff-too-small]\npart-floor = \n"));
        assert!(told.starts_with("house.toml:2:"), "{told}");
        let twice = troubles(&house("[staff-too-small]\npart-floor = \"7 mm\"\npart-floor = \"8 mm\"\n"));
        assert!(twice.starts_with("house.toml:3:1: "), "{twice}");
    }

    #[test]
    fn odd_shapes_in_a_house_sheet_are_refused_one_by_one() {
        for (text, told) in [
            ("[staff-too-small]\npart-floor = {}", "house.toml:2:1: \"part-floor\" has no value"),
            ("[staff-too-small]\npart-floor = { valu = 1 }", "house.toml:2:16: \"valu\" is no key of a limit"),
            ("[staff-too-small]\npart-floor = 2026-01-01", "house.toml:2:14: \"2026-01-01\" is no value of a limit"),
            ("[staff-too-small]\npart-floor = [\"7 mm\"]", "house.toml:2:14: a list is not a length in mm"),
            ("[staff-too-small]\nseverity = [\"stop\"]", "house.toml:2:12: \"a list\" is no severity"),
            ("[house]\nseverity = \"stop\"", "house.toml:2:1: house has no limit called \"severity\""),
            ("[house]\nscore-papers = []", "house.toml:2:16: an empty list of papers"),
            ("[house]\nscore-paper = \"A44\"", "house.toml:2:15: \"A44\" is not a paper"),
            ("extends = 3", "house.toml:1:1: \"extends\" stands outside any rule"),
        ] {
            assert_eq!(troubles(&house(text)).lines().next(), Some(told), "{text}");
        }
    }

    #[test]
    fn a_sheet_may_stand_on_another_in_whatever_order_they_come() {
        let ours = sheet("ours.toml", "extends = \"theirs.toml\"\n[staff-too-small]\npart-floor = \"7.3 mm\"");
        let theirs = sheet("theirs.toml", "extends = \"school\"\n[staff-too-small]\npart-floor = \"7.1 mm\"");
        for sheets in [vec![ours.clone(), theirs.clone()], vec![theirs, ours]] {
            let guidelines = load(&Request { sheets, ..Request::default() });
            assert_eq!((guidelines.set(), part_floor(&guidelines).0.as_str()), ("school", "7.3 mm"));
        }
    }

    #[test]
    fn sheets_that_stand_on_each_other_are_refused() {
        let sheets = vec![sheet("a.toml", "extends = \"b.toml\""), sheet("b.toml", "extends = \"a.toml\"")];
        let told = troubles(&Request { sheets, ..Request::default() });
        assert_eq!(told, "b.toml:1:11: a sheet cannot stand on itself: a.toml extends b.toml extends a.toml");
        let alone = troubles(&house("extends = \"house.toml\""));
        assert_eq!(alone, "house.toml:1:11: a sheet cannot stand on itself: house.toml extends house.toml");
    }

    #[test]
    fn sheets_on_two_guideline_sets_are_refused_unless_one_is_asked_for() {
        let sheets = vec![sheet("a.toml", "extends = \"school\""), sheet("b.toml", "extends = \"studio\"")];
        let mut request = Request { sheets, ..Request::default() };
        assert_eq!(troubles(&request), "b.toml:1:11: the sheets stand on two guideline sets, school and studio");
        request.set = Some("tablet".to_owned());
        assert_eq!(load(&request).set(), "tablet");
    }

    #[test]
    fn an_unknown_set_is_answered_with_the_nearest_or_with_all() {
        let asked = |set: &str| troubles(&Request { set: Some(set.to_owned()), ..Request::default() });
        assert_eq!(asked("studo"), "--for: no guideline set is called \"studo\"\nhint: did you mean \"studio\"?");
        assert!(asked("opera house").contains("concert, concert-roomy, studio, school, tablet, study-score"));
    }

    #[test]
    fn a_rule_reads_all_its_limits_in_their_units_or_is_told_what_it_missed() {
        let guidelines = load(&Request::default());
        let read = guidelines.read("systems-too-close", |limits| limits.take::<Spaces>("part-clear").map(|_| ()));
        assert!(matches!(read, Err(Mismatch::OtherUnit { .. })));
        let read = guidelines.read("systems-too-close", |limits| limits.take::<Mm>("part-clear"));
        let left = vec!["system-gap".to_owned()];
        assert_eq!(read, Err(Mismatch::LeftOver { rule: "systems-too-close".to_owned(), limits: left }));
        let read = guidelines.read("systems-too-close", |limits| limits.take::<Mm>("gap"));
        assert!(matches!(read, Err(Mismatch::NoLimit { .. })));
        assert_eq!(guidelines.read("no-such-rule", |_| Ok(())), Err(Mismatch::NoSheet("no-such-rule".to_owned())));
    }

    #[test]
    fn a_large_house_sheet_of_mistakes_is_told_whole() {
        let text: String = (0..2_000).map(|nth| format!("[no-such-rule-{nth}]\nlimit = 1\n")).collect();
        let errors = Guidelines::load(&house(&text)).unwrap_err();
        assert_eq!(errors.0.len(), 2_000);
        let last = errors.0.last().map(|error| error.place.to_string());
        assert_eq!(last.as_deref(), Some("house.toml:3999:2"));
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]

        #[test]
        fn no_house_sheet_and_no_change_makes_it_panic(text in TOMLISH, change in ".{0,40}", set in ".{0,12}") {
            let request = Request { changes: vec![change], ..house(&text) };
            if let Err(errors) = Guidelines::load(&request) {
                proptest::prop_assert!(!errors.0.is_empty());
            }
            let asked = Request { set: Some(set), ..house(&text) };
            proptest::prop_assert!(Guidelines::load(&asked).is_err());
        }
    }

    /// Text made of the pieces that house sheets are made of, and of anything else.
    const TOMLISH: &str = "((\\[staff-too-small\\]|\\[house\\]|part-floor = |score-papers = |severity = |extends = \
        |\"7 mm\"|\"off\"|\"concert\"|\\[\"A3\"\\]|\\{ value = 1 \\}|=|\\[|\\]|\"|\n|.){0,4}\n){0,6}";
}
