//! The summary in the terminal: what to mend first on top, in a musician's words, 80 columns wide.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::check::Checked;
use crate::report::pages::Extent;
use crate::report::proposed;
use crate::report::verdict;
use crate::report::whereabouts::whereabouts;
use crate::rules::{Finding, Weight};

mod wrap;

pub use wrap::{Paragraph, wrapped};

/// How the summary is written.
#[derive(Clone, Debug, Default)]
pub struct Summary {
    pub look: Look,
    pub extent: Extent,
    /// Files that were written, as the user shall find them.
    pub written: Vec<String>,
}

/// Bold and grey where a person reads on a terminal, nothing but text elsewhere.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    #[default]
    Plain,
    Styled,
}

const LAPSED_ONE: &str = "finding was accepted earlier, but no longer holds.";
const LAPSED_MANY: &str = "findings were accepted earlier, but no longer hold.";

const NO_DIFFERENCE: &str = "The layout that you named is set no otherwise, as far as both tell.";

/// More than this nobody takes in at a glance; the report has the rest.
const MOST: usize = 10;

impl Summary {
    /// The summary, line by line.
    #[must_use]
    pub fn words(&self, checked: &Checked) -> String {
        let mut blocks = Vec::new();
        let verdict = self.bold(&wrapped(&Paragraph::flush(&verdict::sentence(checked))));
        blocks.push(format!("{verdict}\n{}\n", wrapped(&Paragraph::flush(&facts(checked)))));
        let shown = self.shown(checked);
        for (finding, number) in checked.findings.iter().take(shown).zip(1..) {
            blocks.push(self.finding(number, finding, checked));
        }
        blocks.extend(legend(checked.findings.iter().take(shown)));
        blocks.extend(like(checked));
        let rest: Vec<String> =
            self.rest(checked, shown).iter().map(|line| wrapped(&Paragraph::flush(line)) + "\n").collect();
        blocks.push(rest.concat());
        blocks.join("\n")
    }

    /// How many findings are shown; they stand in order of weight.
    fn shown(&self, checked: &Checked) -> usize {
        match self.extent {
            Extent::Full => checked.findings.len(),
            Extent::Short => verdict::to_mend(checked).min(MOST),
        }
    }

    fn finding(&self, number: usize, finding: &Finding, checked: &Checked) -> String {
        let said = if verdict::holds_throughout(finding) || names_its_page(&finding.message) {
            finding.message.clone()
        } else {
            format!("{}: {}", whereabouts(checked, finding), finding.message)
        };
        let lead = format!("{number:>3} {} ", shape(finding.weight));
        let said = wrapped(&Paragraph { lead: &lead, indent: 6, text: &said });
        let remedy = wrapped(&Paragraph { lead: "      -> ", indent: 9, text: &finding.remedy });
        match said.strip_prefix(&lead) {
            Some(said) => format!("{}{said}\n{remedy}\n", self.bold(&lead)),
            None => format!("{said}\n{remedy}\n"),
        }
    }

    /// What is not shown, and where to read on.
    fn rest(&self, checked: &Checked, shown: usize) -> Vec<String> {
        let more = count(verdict::to_mend(checked).saturating_sub(shown), "more to mend.", "more to mend.");
        let lesser = Some(verdict::lesser(checked)).filter(|lesser| !lesser.is_empty());
        let lapsed = count(checked.lapsed.len(), LAPSED_ONE, LAPSED_MANY);
        let counted: Vec<String> = more.into_iter().chain(lesser).chain(lapsed).collect();
        let counted = (!counted.is_empty()).then(|| counted.join(" "));
        let better = proposed::sentence(checked).map(|words| format!("{words}; the report's last sheets say how."));
        let written = self.written.iter().map(|name| format!("Written: {name}"));
        counted.into_iter().chain(better).chain(written).chain([self.hint(checked)]).collect()
    }

    fn hint(&self, checked: &Checked) -> String {
        match checked.findings.first() {
            Some(finding) if self.extent == Extent::Full || verdict::to_mend(checked) > 0 => {
                format!("Why number 1 matters, and its limits: rastrum rules {}", finding.rule)
            }
            Some(_) => "To read what is worth a look, add --full.".to_owned(),
            None => "What was looked for: rastrum rules".to_owned(),
        }
    }

    fn bold(&self, text: &str) -> String {
        match self.look {
            Look::Plain => text.to_owned(),
            Look::Styled => format!("\x1b[1m{text}\x1b[0m"),
        }
    }
}

/// Many sentences say themselves where they hold: "Page 14: ...", "On pages 3 and 4 ...".
fn names_its_page(message: &str) -> bool {
    let message = message.to_lowercase();
    message.contains("page ") || message.contains("pages ")
}

/// Who plays, how long, and what the pages rest on.
fn facts(checked: &Checked) -> String {
    let forces = Some(verdict::forces(checked)).filter(|line| !line.is_empty());
    let pages = count(checked.layout.pages.len(), "page", "pages");
    let facts: Vec<String> = forces.into_iter().chain(pages).collect();
    format!("{}. {}", facts.join("; "), verdict::basis(checked))
}

/// "1 page", "3 pages"; nothing of nothing.
fn count(number: usize, one: &str, many: &str) -> Option<String> {
    match number {
        0 => None,
        1 => Some(format!("1 {one}")),
        number => Some(format!("{number} {many}")),
    }
}

/// How the layout that was named is set otherwise, one line a difference.
fn like(checked: &Checked) -> Option<String> {
    let differences = checked.like.as_ref()?;
    if differences.is_empty() {
        return Some(format!("{NO_DIFFERENCE}\n"));
    }
    let line = |words: &str| wrapped(&Paragraph { lead: "  - ", indent: 4, text: words }) + "\n";
    let lines: String = differences.iter().map(|difference| line(&difference.words)).collect();
    Some(format!("Beside the layout that you named:\n{lines}"))
}

/// What the shapes mean, of those that are shown.
fn legend<'a>(shown: impl Iterator<Item = &'a Finding>) -> Option<String> {
    let weights: BTreeSet<Reverse<Weight>> = shown.map(|finding| Reverse(finding.weight)).collect();
    let words: Vec<String> =
        weights.iter().map(|Reverse(weight)| format!("{} {}", shape(*weight), weight.words())).collect();
    (!words.is_empty()).then(|| format!("{}\n", words.join("   ")))
}

fn shape(weight: Weight) -> char {
    match weight {
        Weight::Stop => '\u{25A0}',
        Weight::Mend => '\u{25B2}',
        Weight::Look => '\u{25CB}',
    }
}

#[cfg(test)]
mod tests;
