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

    /// In words, for whoever looks into a copy: old bars in their new order ("+" put in, ">" moved, "^" at other pitches),
    /// old parts in theirs, then what was changed in bars of parts. All count from 0.
    pub fn in_words(&self) -> String {
        let sign = |bar: &NewBar| match (bar.is.is_some(), bar.moved, bar.shift) {
            (true, false, _) => "",
            (true, true, _) => ">",
            (false, _, 0) => "+",
            (false, ..) => "+^",
        };
        let goes_on = |one: &NewBar, other: &NewBar| one.source + 1 == other.source && sign(one) == sign(other);
        let bars = self.bars.chunk_by(goes_on).filter_map(|run| {
            let (first, last) = (run.first()?, run.last()?);
            Some(format!("{}{}-{}", sign(first), first.source, last.source))
        });
        let parts = self.parts.iter().map(|part| {
            let added = if part.is.is_none() { "+" } else { "" };
            let name = part.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
            let by = part.transposed.map(|by| format!(" up {} half tones", by.half_tones)).unwrap_or_default();
            format!("{added}{}{name}{by}", part.source)
        });
        let edits = self.edits.iter().map(|((bar, part), edited)| format!("{bar}:{part} {:?}", edited.kind));
        let all = |own: Vec<String>| own.join(", ");
        format!("bars {}; parts {}; {}", all(bars.collect()), all(parts.collect()), all(edits.collect()))
    }
}
