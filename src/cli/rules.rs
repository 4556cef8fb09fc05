//! `rastrum rules`: the rule book.

use serde::Serialize;

use rastrum::guidelines::{self, GuidelineErrors, Guidelines, Request, RuleSheet, SetSummary};
use rastrum::report::terminal::{Paragraph, wrapped};

use super::args::RulesArgs;
use super::exit::{Failure, Outcome, Trouble};
use super::terminal;

pub fn run(args: &RulesArgs) -> Result<Outcome, Failure> {
    let guidelines = Guidelines::load(&Request::default()).map_err(troubles)?;
    let text = match &args.name {
        None if args.json => json(&guidelines.rules().to_vec())?,
        None => list(&guidelines, &guidelines::sets().map_err(troubles)?),
        Some(name) => {
            let sheet = guidelines.rule(name).ok_or_else(|| unknown(name, &guidelines))?;
            if args.json { json(sheet)? } else { page(sheet) }
        }
    };
    terminal::say(&text)
}

fn list(guidelines: &Guidelines, sets: &[SetSummary]) -> String {
    let rules = guidelines.rules().iter().map(|rule| (rule.name.as_str(), title(rule)));
    let sets = sets.iter().map(|set| (set.name.as_str(), set.what.clone()));
    format!(
        "Rules (rastrum rules NAME shows one with its limits and their sources):\n{}\nGuideline sets (--for NAME):\n{}",
        columns(rules),
        columns(sets)
    )
}

fn title(rule: &RuleSheet) -> String {
    match rule.severity {
        Some(weight) => format!("{} ({})", rule.title, weight.words()),
        None => format!("{} (off)", rule.title),
    }
}

/// Names on the left, what they mean on the right.
fn columns<'a>(lines: impl Iterator<Item = (&'a str, String)>) -> String {
    let lines: Vec<(&str, String)> = lines.collect();
    let widest = lines.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let line = |(name, text): &(&str, String)| {
        wrapped(&Paragraph { lead: &format!("  {name:widest$}  "), indent: widest + 4, text }) + "\n"
    };
    lines.iter().map(line).collect()
}

/// One rule as a page of a rule book.
fn page(rule: &RuleSheet) -> String {
    let mut page = format!("{}\n\n", wrapped(&Paragraph::flush(&format!("{}: {}", rule.name, title(rule)))));
    for text in [&rule.what, &rule.why, &format!("What to do: {}", rule.remedy), &format!("Source: {}", rule.source)] {
        page.push_str(&format!("{}\n\n", wrapped(&Paragraph::flush(text))));
    }
    if !rule.values.is_empty() {
        page.push_str(&format!("Limits (--set {}.NAME=VALUE changes one):\n", rule.name));
    }
    for value in &rule.values {
        let lead = format!("  {} = {}", value.name, value.value);
        page.push_str(&format!("{lead}\n"));
        for text in [&value.meaning, &format!("Source: {}", value.source)] {
            page.push_str(&format!("{}\n", wrapped(&Paragraph { lead: "      ", indent: 6, text })));
        }
    }
    page
}

fn json(rules: &impl Serialize) -> Result<String, Trouble> {
    serde_json::to_string_pretty(rules)
        .map(|text| text + "\n")
        .map_err(|error| Trouble::new(format!("the rules cannot be written as JSON: {error}")))
}

fn unknown(name: &str, guidelines: &Guidelines) -> Trouble {
    let trouble = Trouble::new(format!("no rule is called \"{name}\""));
    match guidelines.nearest_rule(name) {
        Some(nearest) => trouble.hint(format!("did you mean {nearest}?")),
        None => trouble.hint("rastrum rules lists them"),
    }
}

fn troubles(errors: GuidelineErrors) -> Failure {
    let troubles = errors.0.into_iter().map(|error| {
        let trouble = Trouble::new(error.to_string());
        match error.hint {
            Some(hint) => trouble.hint(hint),
            None => trouble,
        }
    });
    troubles.collect::<Vec<_>>().into()
}
