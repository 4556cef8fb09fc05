//! The guidelines as Markdown tables.

use super::limit::Weight;
use super::sheet::{Document, RuleSheet};

/// One line for each rule: its name, the fault, what it looks at, how much it weighs at most.
#[must_use]
pub fn rules_table(rules: &[RuleSheet]) -> String {
    let mut table = "| rule | the fault | in | weighs at most |\n|---|---|---|---|\n".to_owned();
    for rule in rules {
        let cells = [format!("`{}`", rule.name), cell(&rule.title), documents(rule), weight(rule.severity).to_owned()];
        table.push_str(&line(&cells));
    }
    table
}

/// One line for each limit: its rule, its name, its value, its source.
#[must_use]
pub fn limits_table(rules: &[RuleSheet]) -> String {
    let mut table = "| limit | value | source |\n|---|---|---|\n".to_owned();
    for rule in rules {
        for value in &rule.values {
            let name = format!("`{}.{}`", rule.name, value.name);
            table.push_str(&line(&[name, cell(&value.value.to_string()), cell(&value.source.to_string())]));
        }
    }
    table
}

fn documents(rule: &RuleSheet) -> String {
    let all = [(Document::Score, "scores"), (Document::Part, "parts"), (Document::Music, "the music alone")];
    let applies = all.iter().filter(|(document, _)| rule.applies(*document)).map(|(_, words)| *words);
    applies.collect::<Vec<_>>().join(", ")
}

fn weight(weight: Option<Weight>) -> &'static str {
    weight.map_or("off", Weight::words)
}

fn line(cells: &[String]) -> String {
    format!("| {} |\n", cells.join(" | "))
}

/// Text that neither ends the cell nor the line.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").split_whitespace().collect::<Vec<_>>().join(" ")
}
