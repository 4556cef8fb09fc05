//! Where findings stand, by printed page numbers, in as few words as tell it.

use std::collections::BTreeSet;

use super::verdict;
use crate::check::Checked;
use crate::layout::Layout;
use crate::place::PageIdx;
use crate::rules::Finding;

/// Stretches of pages named one by one; more are counted.
const MOST: usize = 8;

/// "p. 14, bar 103", "pp. 3, 5-7".
#[must_use]
pub fn whereabouts(checked: &Checked, finding: &Finding) -> String {
    if verdict::holds_throughout(finding) {
        return "throughout".to_owned();
    }
    let runs = Run::of(finding.places.iter().filter_map(|place| place.page));
    let bar = finding.places.first().and_then(|place| place.bars).map(|bars| checked.score.label(bars.first));
    let label = |run: &Run| run.label(&checked.layout, '-');
    match (runs.as_slice(), bar) {
        ([], None) => "the whole work".to_owned(),
        ([], Some(bar)) => format!("bar {bar}"),
        ([one], Some(bar)) if one.is_single() && finding.places.len() == 1 => format!("p. {}, bar {bar}", label(one)),
        ([one], _) if one.is_single() => format!("p. {}", label(one)),
        (all, _) => {
            let shown = if all.len() > MOST { MOST - 1 } else { all.len() };
            let labels: Vec<String> = all.iter().take(shown).map(label).collect();
            let more = all.len() - shown;
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            format!("pp. {}{more}", labels.join(", "))
        }
    }
}

/// Pages that follow one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    first: PageIdx,
    last: PageIdx,
}

impl Run {
    /// The stretches that some pages make, in order.
    #[must_use]
    pub fn of(pages: impl IntoIterator<Item = PageIdx>) -> Vec<Run> {
        let pages: BTreeSet<PageIdx> = pages.into_iter().collect();
        let mut runs: Vec<Run> = Vec::new();
        for page in pages {
            match runs.last_mut() {
                Some(run) if run.last.at() + 1 == page.at() => run.last = page,
                _ => runs.push(Run { first: page, last: page }),
            }
        }
        runs
    }

    /// "4" or, with the dash of the place it is told at, "4-17".
    #[must_use]
    pub fn label(&self, layout: &Layout, dash: char) -> String {
        let first = layout.page_label(self.first);
        if self.is_single() { first } else { format!("{first}{dash}{}", layout.page_label(self.last)) }
    }

    fn is_single(&self) -> bool {
        self.first == self.last
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbouring_pages_are_told_as_one() {
        let told = |pages: &[u32]| {
            let runs = Run::of(pages.iter().map(|page| PageIdx(*page)));
            runs.iter().map(|run| run.label(&Layout::default(), '-')).collect::<Vec<_>>().join(", ")
        };
        assert_eq!(told(&[]), "");
        assert_eq!(told(&[3]), "4");
        assert_eq!(told(&[7, 0, 6, 5, 7, 2]), "1, 3, 6-8");
    }
}
