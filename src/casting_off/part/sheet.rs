//! How pages lie on the stand: which of them face each other, where it is turned, and what mends a turn with paper.

use super::{Binding, Stand};
use crate::layout::Side;
use crate::players::Hands;

/// Place of a page in what the player sees at once: 0 is the leftmost page.
pub(super) type Phase = u8;

/// The page beyond a right-hand page, folded in.
pub(super) const FOLDED: Phase = 2;

/// What may be done with paper where music leaves no time to turn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Remedies {
    pub blank: bool,
    pub fold_out: bool,
}

impl Remedies {
    /// A fold-out is made for a single player; for all desks of a section it is too much handwork.
    pub fn of(hands: Hands) -> Remedies {
        Remedies { blank: true, fold_out: hands != Hands::Section }
    }
}

/// Pages that lie open beside each other.
pub(super) fn pages_at_once(binding: Binding) -> Phase {
    match binding {
        Binding::Booklet | Binding::Cover => 2,
        Binding::Loose | Binding::Taped => 3,
        Binding::Tablet => 1,
    }
}

/// Where in an opening the music may start, the usual way first.
pub(super) fn starts(stand: &Stand) -> Vec<Phase> {
    match (stand.binding, stand.starts) {
        (Binding::Cover, _) | (Binding::Booklet, Some(Side::Verso)) => vec![0],
        (Binding::Booklet, Some(Side::Recto)) => vec![1],
        (Binding::Booklet, None) => vec![1, 0],
        (Binding::Loose | Binding::Taped | Binding::Tablet, _) => vec![0],
    }
}

/// The side of a page: sheets that are no leaves of a booklet are printed on their front only.
pub(super) fn side(binding: Binding, phase: Phase) -> Side {
    match binding {
        Binding::Booklet | Binding::Cover if phase == 0 => Side::Verso,
        _ => Side::Recto,
    }
}
