//! A second draft as what became of the first: the truth that the comparing is held against, and what the copy is made by.

use std::collections::BTreeMap;

use super::edits::pages::Pages;
use super::edits::pitch::Interval;
use super::text::Cut;

/// A bar of the copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NewBar {
    /// The bar of the old draft that it is; `None` where it was put in.
    pub is: Option<usize>,
    /// The old bar that its text is taken from.
    pub source: usize,
    /// Its notes stand so many steps higher: new music in old rhythm.
    pub shift: i32,
    pub moved: bool,
}

/// A part of the copy.
#[derive(Clone, Debug)]
pub struct NewPart {
    /// `None`: added.
    pub is: Option<usize>,
    /// The old part that its text is taken from.
    pub source: usize,
    pub shift: i32,
    /// Another name.
    pub name: Option<String>,
    /// Another id.
    pub id: Option<String>,
    /// From sounding to written pitch, where it is now written for another transposition.
    pub transposed: Option<Interval>,
}

/// What is changed in one bar of one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edit {
    Pitch,
    Dynamic,
    Words,
    Articulation,
    Split,
}

/// A changed cell.
#[derive(Clone, Debug)]
pub struct Edited {
    pub kind: Edit,
    /// Its bar as it is now.
    pub text: String,
}

/// What became of everything.
#[derive(Clone, Debug)]
pub struct Truth {
    pub bars: Vec<NewBar>,
    pub parts: Vec<NewPart>,
    /// By old bar and old part.
    pub edits: BTreeMap<(usize, usize), Edited>,
    /// Breaks and size of staves, where they are other ones.
    pub pages: Option<Pages>,
}

impl Truth {
    /// Nothing is changed.
    pub fn of(cut: &Cut) -> Truth {
        let bar = |at| NewBar { is: Some(at), source: at, shift: 0, moved: false };
        let part = |at| NewPart { is: Some(at), source: at, shift: 0, name: None, id: None, transposed: None };
        Truth {
            bars: (0..cut.bars()).map(bar).collect(),
            parts: (0..cut.parts.len()).map(part).collect(),
            edits: BTreeMap::new(),
            pages: None,
        }
    }

    /// Whether the bar at a place of the copy does not follow its neighbour's old bar: state has to be said again.
    pub fn is_seam(&self, at: usize) -> bool {
        let Some(bar) = self.bars.get(at) else { return false };
        at.checked_sub(1).map_or(bar.source != 0, |before| self.bars[before].source + 1 != bar.source)
    }

    /// Whether bars came, went or moved.
    pub fn has_other_bars(&self) -> bool {
        self.bars.iter().enumerate().any(|(at, bar)| bar.is != Some(at))
    }

    /// Whether something in a cell of a bar and a part that both drafts have was changed.
    pub fn is_edited(&self, old_bar: usize, old_part: usize) -> bool {
        self.edits.contains_key(&(old_bar, old_part))
    }

    /// Old bars that the copy has not, in order.
    pub fn deleted(&self, old_bars: usize) -> Vec<usize> {
        let mut kept = vec![false; old_bars];
        self.bars.iter().filter_map(|bar| bar.is).for_each(|bar| kept[bar] = true);
        (0..old_bars).filter(|bar| !kept[*bar]).collect()
    }
}
