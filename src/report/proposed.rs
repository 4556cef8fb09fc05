//! What the proposed pages are worth, in a few lines for paper and terminal alike.

use std::cmp::Reverse;

use crate::casting_off::{Proposal, ProposalNote};
use crate::check::Checked;
use crate::words::{counted, in_words};

/// Lines that somebody reads.
const MOST: usize = 6;
/// How many of them tell of pages saved, where there are enough of both kinds.
const SAVED: usize = 3;

/// A saving below this share of the pages may be the estimate's own error.
const LEAST_SAVED: f64 = 0.1;

/// "By an estimate 24 pages would do instead of 34". `None` where not enough is saved.
#[must_use]
pub fn sentence(checked: &Checked) -> Option<String> {
    let proposal = worthwhile(checked)?;
    let pages = counted(proposal.layout.pages.len(), "page");
    Some(format!("By an estimate {pages} would do instead of {}", in_words(checked.layout.pages.len())))
}

/// What is proposed, the most worthwhile first, with what is given up for it; empty where not enough is saved.
#[must_use]
pub fn lines(checked: &Checked) -> Vec<String> {
    let Some(proposal) = worthwhile(checked) else { return Vec::new() };
    let of_kind = |kind: fn(&ProposalNote) -> bool| {
        let mut notes: Vec<&ProposalNote> = proposal.notes.iter().filter(|note| kind(note)).collect();
        // The sort is stable: among equals the earlier bars stay first.
        notes.sort_by_key(|note| Reverse(worth(note)));
        notes
    };
    let saved = of_kind(|note| matches!(note, ProposalNote::Saved(_)));
    let splits = of_kind(|note| matches!(note, ProposalNote::Split(_)));
    let first = SAVED.max(MOST.saturating_sub(splits.len()));
    let mut told: Vec<&ProposalNote> = saved.iter().take(first).copied().collect();
    told.extend(splits.iter().take(MOST - told.len().min(MOST)));
    let more = saved.len() + splits.len() - told.len();
    let mut lines: Vec<String> = told.iter().map(|note| note.words(&checked.score)).collect();
    if more > 0 {
        lines.push(format!("And {more} more of the kind."));
    }
    lines
}

fn worthwhile(checked: &Checked) -> Option<&Proposal> {
    let now = checked.layout.pages.len() as f64;
    checked.proposal.as_ref().filter(|proposal| proposal.layout.pages.len() as f64 <= now * (1.0 - LEAST_SAVED))
}

/// Pages saved, and per cent of a divided page's height that stay free.
fn worth(note: &ProposalNote) -> (u32, u32) {
    match note {
        ProposalNote::Saved(saved) => (saved.before.saturating_sub(saved.after), 0),
        ProposalNote::Split(split) => (0, ((1.0 - split.need.share()).clamp(0.0, 1.0) * 100.0).round() as u32),
        ProposalNote::Overfull { .. } => (0, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{Options, Unwatched, check};
    use crate::layout::Page;
    use crate::read::Input;

    fn demonstration() -> Checked {
        let files: [(&str, &[u8]); 2] = [
            ("1.mxl", include_bytes!("../demo/lantern-ferry-1.mxl")),
            ("2.mxl", include_bytes!("../demo/lantern-ferry-2.mxl")),
        ];
        let inputs = files.map(|(name, bytes)| Input { name, bytes });
        check(&inputs, &Options::default(), &mut Unwatched).unwrap()
    }

    #[test]
    fn a_few_lines_tell_the_most_worthwhile_first() {
        let checked = demonstration();
        assert!(sentence(&checked).is_some_and(|words| words.contains("24 pages would do instead of 34")));
        let lines = lines(&checked);
        assert_eq!(lines.len(), MOST + 1);
        assert!(lines[0].contains("instead of"), "{lines:?}");
        assert!(lines[SAVED].contains("two systems of"), "{lines:?}");
        assert!(lines.iter().all(|line| line.ends_with('.')), "{lines:?}");
    }

    #[test]
    fn what_may_be_the_estimates_own_error_is_not_told() {
        let mut checked = demonstration();
        let now = checked.layout.pages.len();
        if let Some(proposal) = &mut checked.proposal {
            let page: Page = proposal.layout.pages[0].clone();
            proposal.layout.pages.resize(now - now / 10, page);
        }
        assert!(sentence(&checked).is_none() && lines(&checked).is_empty());
    }

    #[test]
    fn without_a_proposal_nothing_is_told() {
        let checked = Checked { proposal: None, ..demonstration() };
        assert!(sentence(&checked).is_none() && lines(&checked).is_empty());
    }
}
