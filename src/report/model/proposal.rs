//! Proposed pages in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::layout::Layout;
use crate::casting_off;
use crate::check::Checked;
use crate::place::{BarIdx, PageIdx};

/// Pages in the shape of `layout`, and what they are worth. An estimate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Proposal {
    #[serde(flatten)]
    pub layout: Layout,
    pub notes: Vec<ProposalNote>,
}

/// One thing that a proposal has better than the pages at hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct ProposalNote {
    pub kind: ProposalNoteKind,
    pub first_bar_index: Option<BarIdx>,
    pub last_bar_index: Option<BarIdx>,
    /// Index of the proposed page; null when it is about several.
    pub page: Option<PageIdx>,
    /// All of it as sentences, with what is given up.
    pub message: String,
}

/// What a note of a proposal is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ProposalNoteKind {
    /// Several systems on a page whose bars have pages of one system now.
    Split,
    /// Fewer pages for the same bars.
    Saved,
    /// A page that cannot hold even one system.
    Overfull,
}

impl Proposal {
    pub(super) fn of(proposal: &casting_off::Proposal, checked: &Checked) -> Proposal {
        let note = |note: &casting_off::ProposalNote| ProposalNote::of(note, checked);
        Proposal { layout: Layout::bare(&proposal.layout, checked), notes: proposal.notes.iter().map(note).collect() }
    }
}

impl ProposalNote {
    fn of(note: &casting_off::ProposalNote, checked: &Checked) -> ProposalNote {
        let (kind, page) = match note {
            casting_off::ProposalNote::Split(split) => (ProposalNoteKind::Split, Some(split.page)),
            casting_off::ProposalNote::Saved(_) => (ProposalNoteKind::Saved, None),
            casting_off::ProposalNote::Overfull { page, .. } => (ProposalNoteKind::Overfull, Some(*page)),
        };
        let bars = note.bars();
        ProposalNote {
            kind,
            first_bar_index: bars.map(|bars| bars.first),
            last_bar_index: bars.map(|bars| bars.last),
            page,
            message: note.words(&checked.score),
        }
    }
}
