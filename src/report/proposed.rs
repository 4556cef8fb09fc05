//! What the proposed pages are worth, in a few lines for paper and terminal alike.

use std::cmp::Reverse;

use crate::casting_off::{Proposal, ProposalNote};
use crate::check::Checked;
use crate::words::{counted, in_words};

/// Lines that somebody reads.
const MOST: usize = 6;
/// How many of them tell of pages saved, where there are enough of both kinds.
const SAVED: usize = 3;

/// "By an estimate 26 pages would do instead of 34". `None` where no page is saved.
#[must_use]
pub fn sentence(checked: &Checked) -> Option<String> {
    let proposal = worthwhile(checked)?;
    let pages = counted(proposal.layout.pages.len(), "page");
    Some(format!("By an estimate {pages} would do instead of {}", in_words(checked.layout.pages.len())))
}

/// What is proposed, the most worthwhile first, with what is given up for it; empty where no page is saved.
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
    checked.proposal.as_ref().filter(|proposal| proposal.layout.pages.len() < checked.layout.pages.len())
}

/// Pages saved, and per cent of a divided page's height that stay free.
fn worth(note: &ProposalNote) -> (u32, u32) {
    match note {
        ProposalNote::Saved(saved) => (saved.before.saturating_sub(saved.after), 0),
        ProposalNote::Split(split) => (0, ((1.0 - split.need.share()).clamp(0.0, 1.0) * 100.0).round() as u32),
        ProposalNote::Overfull { .. } => (0, 0),
    }
}
