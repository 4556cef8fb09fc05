//! What is wanted and what to do, said in full once a sheet.

use std::collections::BTreeSet;

use crate::rules::Finding;

/// What one sheet has said already.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Advice {
    told: BTreeSet<usize>,
    /// Remedies with the number they were first told at.
    given: Vec<(String, usize)>,
}

impl Advice {
    /// Whether the sheet tells of this finding for the first time.
    pub fn is_new(&mut self, number: usize) -> bool {
        self.told.insert(number)
    }

    /// "Wanted: 4 mm. Give these staves more room.", or "What to do: as at 7." when the remedy was told there.
    pub fn of(&mut self, finding: &Finding, number: usize) -> String {
        let remedy = self.remedy(finding, number);
        [wanted(finding), remedy].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// What to do, alone.
    pub fn remedy(&mut self, finding: &Finding, number: usize) -> String {
        match self.given.iter().find(|(remedy, _)| *remedy == finding.remedy) {
            _ if finding.remedy.is_empty() => String::new(),
            Some((_, first)) => format!("What to do: as at\u{a0}{first}."),
            None => {
                self.given.push((finding.remedy.clone(), number));
                finding.remedy.clone()
            }
        }
    }
}

/// Whether two findings would be told in the same words.
#[must_use]
pub fn is_same(one: &Finding, other: &Finding) -> bool {
    let words = |finding: &Finding| [finding.message.clone(), finding.remedy.clone(), finding.limit.clone()];
    one.rule == other.rule && words(one) == words(other)
}

/// What the guideline asks for, as far as it is more than nothing ("0 spaces" between things that touch).
#[must_use]
pub fn limit(finding: &Finding) -> Option<&str> {
    Some(finding.limit.as_str()).filter(|limit| !limit.is_empty() && !limit.starts_with("0 "))
}

/// "Wanted: 4 mm.", unless the sentence above it, which tells what was found, says so already.
fn wanted(finding: &Finding) -> String {
    let is_told = |limit: &str| finding.message.contains(limit);
    limit(finding).filter(|limit| !is_told(limit)).map_or(String::new(), |limit| format!("Wanted: {limit}."))
}
