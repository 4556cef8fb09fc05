//! Runs the rules on one case and puts what they find in order.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Case, Entry, Finding, Key, Outcome, RULES};
use crate::guidelines::{Document, Guidelines, RuleSheet};

/// What all rules found on one document, and which of them had a say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Judged {
    /// What costs the rehearsal most first; among equals what stops the reading first, then in page order.
    pub findings: Vec<Finding>,
    /// Rules that ran, in the order of `RULES`.
    pub ran: Vec<&'static str>,
    /// Rules that the document gave too little for, with what they would need, in words.
    pub could_not_run: Vec<(&'static str, String)>,
    /// Rules that the guidelines turn off, or that are not for this kind of document.
    pub off: Vec<&'static str>,
}

/// Holds one document against the guidelines.
#[must_use]
pub fn judge(case: &Case<'_>, guidelines: &Guidelines) -> Judged {
    let document = case.document();
    judge_by(case, guidelines, |sheet| sheet.applies(document))
}

/// Holds a part that was drawn from its score against the rules for parts alone: what is wrong in the score is told of the
/// score, not of each of its parts.
#[must_use]
pub fn judge_drawn_part(case: &Case<'_>, guidelines: &Guidelines) -> Judged {
    judge_by(case, guidelines, |sheet| sheet.applies(Document::Part) && !sheet.applies(Document::Score))
}

/// Holds the notes of a score against the guidelines, whatever its pages.
#[must_use]
pub fn judge_music(case: &Case<'_>, guidelines: &Guidelines) -> Judged {
    judge_by(case, guidelines, |sheet| sheet.applies(Document::Music))
}

fn judge_by(case: &Case<'_>, guidelines: &Guidelines, applies: impl Fn(&RuleSheet) -> bool) -> Judged {
    let mut judged = Judged::default();
    for entry in RULES {
        match guidelines.rule(entry.name) {
            Some(sheet) if sheet.severity.is_some() && applies(sheet) => judged.hear(entry, case, guidelines, sheet),
            _ => judged.off.push(entry.name),
        }
    }
    judged.findings.sort_by_key(|finding| (Reverse(finding.weight), rank(finding.rule), start(finding)));
    judged
}

impl Judged {
    fn hear(&mut self, entry: &Entry, case: &Case<'_>, guidelines: &Guidelines, sheet: &RuleSheet) {
        match (entry.check)(case, guidelines) {
            Ok(Outcome::Ran(findings)) => {
                self.ran.push(entry.name);
                self.findings.extend(numbered(findings).into_iter().map(|finding| completed(finding, sheet)));
            }
            Ok(Outcome::CouldNotRun(needs)) => self.could_not_run.push((entry.name, needs)),
            Err(mismatch) => self.could_not_run.push((entry.name, mismatch.to_string())),
        }
    }
}

/// What the sheet says holds where the rule has nothing more particular to say.
fn completed(mut finding: Finding, sheet: &RuleSheet) -> Finding {
    if finding.source.is_empty() {
        finding.source = sheet.source.to_string();
    }
    if finding.remedy.is_empty() {
        finding.remedy.clone_from(&sheet.remedy);
    }
    finding
}

/// Tells findings apart that hang on the same place.
fn numbered(mut findings: Vec<Finding>) -> Vec<Finding> {
    let mut seen: BTreeMap<Key, u16> = BTreeMap::new();
    for finding in &mut findings {
        let next = seen.entry(finding.key.clone()).or_default();
        finding.key.nth = *next;
        *next = next.saturating_add(1);
    }
    findings
}

/// Rules are listed by how much they keep from being read.
fn rank(rule: &str) -> usize {
    RULES.iter().position(|entry| entry.name == rule).unwrap_or(RULES.len())
}

/// Page and bar of the first place; what has none comes first.
fn start(finding: &Finding) -> (u32, u32, Key) {
    let first = finding.places.first();
    let page = first.and_then(|place| place.page).map_or(0, |page| page.0);
    let bar = first.and_then(|place| place.bars).map_or(0, |bars| bars.first.0);
    (page, bar, finding.key.clone())
}
