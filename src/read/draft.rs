//! One input as read, before inputs are joined to one work: parts and staves are still counted within the input.

use std::collections::BTreeMap;

use super::error::{ReadErrorKind, Trouble};
use super::oddities::{Oddities, Oddity};
use crate::layout::{BarRecord, StaffRecord};
use crate::limits::Limits;
use crate::score::{Bar, Cell, Credit, Group, Metre, Part, Position, SystemMarkKind};
use crate::units::{Fraction, Mm};

/// A staff by part and number, both counted from 0 within one input.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct LocalStaff {
    pub part: u16,
    pub number: u16,
}

/// A mark over the system as one part has it.
#[derive(Debug)]
pub(super) struct MarkDraft {
    pub bar: u32,
    pub onset: Fraction,
    pub kind: SystemMarkKind,
    /// `None` for playback only.
    pub staff: Option<LocalStaff>,
    pub at: Position,
}

/// A bar as the parts together tell it.
#[derive(Debug, Default)]
pub(super) struct BarDraft {
    pub bar: Bar,
    /// Said anew in this bar: a metre, or that there is none.
    pub metre: Option<Option<Metre>>,
    /// That metre is printed.
    pub metre_printed: bool,
    /// Total number of plays that a closing repeat asks for.
    pub plays: Option<u32>,
    pub ending_starts: Option<Vec<u32>>,
    pub ending_stops: bool,
    /// Number of parts that begin a multi-bar rest here, and its bars; 0 bars when they do not agree.
    pub multi_rests: (usize, u32),
    /// Without its staves.
    pub record: BarRecord,
    pub staves: Vec<(LocalStaff, StaffRecord)>,
}

/// A part with its music: one column of cells a staff.
#[derive(Debug, Default)]
pub(super) struct PartDraft {
    pub part: Part,
    pub columns: Vec<Vec<Cell>>,
    pub has_music: bool,
}

/// What stands before the music.
#[derive(Debug, Default)]
pub(super) struct Header {
    pub timewise: bool,
    pub version: Option<String>,
    pub work_title: Option<String>,
    pub movement_title: Option<String>,
    pub composer: Option<String>,
    pub concert_pitch: Option<bool>,
    /// Length of MusicXML's unit, a tenth of a staff space.
    pub tenth: Option<Mm>,
    pub staff_height: Option<Mm>,
    /// Without its staves.
    pub defaults: BarRecord,
    /// Distances above staves of a number (from 1) in any part, or above all.
    pub default_distances: BTreeMap<Option<u16>, Mm>,
    pub credits: Vec<Credit>,
    pub parts: Vec<PartDraft>,
    /// Parts counted within this input.
    pub groups: Vec<Group>,
}

/// The music of one input as it grows.
#[derive(Debug)]
pub(super) struct Music {
    pub limits: Limits,
    pub tenth: Option<Mm>,
    pub bars: Vec<BarDraft>,
    pub marks: Vec<MarkDraft>,
    pub oddities: Oddities,
    /// What to add to a place in the tree at hand to get the place in the text.
    pub shift: isize,
    cells: usize,
    items: usize,
}

impl Music {
    pub fn new(limits: &Limits, tenth: Option<Mm>) -> Music {
        let oddities = Oddities::default();
        Music { limits: *limits, tenth, bars: Vec::new(), marks: Vec::new(), oddities, shift: 0, cells: 0, items: 0 }
    }

    /// The place in the text of a node.
    pub fn place(&self, node: roxmltree::Node<'_, '_>) -> usize {
        node.range().start.saturating_add_signed(self.shift)
    }

    pub fn trouble(&self, node: roxmltree::Node<'_, '_>, kind: ReadErrorKind) -> Trouble {
        Trouble::at(self.place(node), kind)
    }

    pub fn odd(&mut self, oddity: Oddity, node: roxmltree::Node<'_, '_>, describe: impl FnOnce() -> String) {
        let at = self.place(node);
        self.oddities.add(oddity, Some(at), describe);
    }

    /// The bar at `index`, made when it is new.
    pub fn bar(&mut self, index: usize) -> Result<&mut BarDraft, ReadErrorKind> {
        if index >= self.limits.bars {
            return Err(ReadErrorKind::TooMany { what: "bars", limit: self.limits.bars });
        }
        if index >= self.bars.len() {
            self.bars.resize_with(index + 1, BarDraft::default);
        }
        let limit = self.limits.bars;
        self.bars.get_mut(index).ok_or(ReadErrorKind::TooMany { what: "bars", limit })
    }

    /// Counts a note, a direction or the like.
    pub fn count_item(&mut self, node: roxmltree::Node<'_, '_>) -> Result<(), Trouble> {
        self.items += 1;
        if self.items > self.limits.items {
            return Err(
                self.trouble(node, ReadErrorKind::TooMany { what: "notes and directions", limit: self.limits.items })
            );
        }
        Ok(())
    }

    /// Counts cells made, so that a small file cannot ask for boundless memory.
    pub fn count_cells(&mut self, made: usize) -> Result<(), ReadErrorKind> {
        self.cells = self.cells.saturating_add(made);
        if self.cells > self.limits.cells {
            return Err(ReadErrorKind::TooMany { what: "bars times staves", limit: self.limits.cells });
        }
        Ok(())
    }
}
