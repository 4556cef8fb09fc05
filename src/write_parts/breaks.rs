//! What is said before a bar's music: its system or page, and the multi-bar rest that it begins.

use crate::layout::{Layout, PageKind};
use crate::place::{BarIdx, BarSpan};
use crate::players::blocks::{Block, BlockKind};
use crate::score::Movement;

/// Where systems and pages begin, with the pages left empty before them.
pub(super) struct Breaks {
    /// In order of bars: what the `print` element says.
    at: Vec<(BarIdx, String)>,
}

impl Breaks {
    pub fn of(pages: &Layout) -> Breaks {
        let mut at = Vec::new();
        let mut blank = 0;
        for page in &pages.pages {
            if page.systems.is_empty() && page.kind == PageKind::Blank {
                blank += 1;
                continue;
            }
            for (number, system) in page.systems.iter().enumerate() {
                let Some(span) = system.span() else { continue };
                let says = match (number, blank) {
                    (0, 0) => "new-page=\"yes\"".to_owned(),
                    (0, blank) => format!("new-page=\"yes\" blank-page=\"{blank}\""),
                    _ => "new-system=\"yes\"".to_owned(),
                };
                at.push((span.first, says));
            }
            blank = 0;
        }
        at.sort_by_key(|(bar, _)| *bar);
        Breaks { at }
    }

    /// The first bar of a file says nothing: a page begins there anyway.
    pub fn print(&self, bar: BarIdx, movement: &Movement) -> Option<String> {
        let found = self.at.binary_search_by_key(&bar, |(at, _)| *at).ok();
        let (_, says) = found.filter(|_| bar != movement.bars.first).and_then(|found| self.at.get(found))?;
        Some(format!("<print {says}/>"))
    }

    /// The bars that are printed as one rest with this one: of a block that is nothing but rest those on the same
    /// system and in the same movement.
    pub fn rest_at(&self, bar: BarIdx, blocks: &[Block], movement: &Movement) -> Option<BarSpan> {
        let block = blocks.get(blocks.partition_point(|block| block.bars.last < bar))?;
        if !block.bars.contains(bar) || block.kind == BlockKind::Bar {
            return None;
        }
        let next = self.at.partition_point(|(begins, _)| *begins <= bar);
        let begins = next.checked_sub(1).and_then(|at| self.at.get(at)).map_or(BarIdx(0), |(begins, _)| *begins);
        let first = block.bars.first.max(movement.bars.first).max(begins);
        let before_next = self.at.get(next).map(|(begins, _)| BarIdx(begins.0.saturating_sub(1)));
        let last = block.bars.last.min(movement.bars.last);
        Some(BarSpan::new(first, before_next.map_or(last, |before| last.min(before))))
    }
}
