//! Text that flows: blocks set one below the other, over as many pages as they need.

use super::document::{Document, PageId};
use super::structure::Elem;
use crate::geometry::Rect;
use crate::units::Mm;

mod drawing;
mod heading;
mod lines;
mod list;
mod paragraph;
mod table;
mod text;
mod wrap;

pub use drawing::Drawing;
pub use heading::{Heading, Level};
pub use list::{List, ListItem};
pub use paragraph::{Paragraph, ParagraphStyle};
pub use table::{Cell, Column, Kind, Row, Table, TableStyle, Width};
pub use text::Text;
pub use wrap::{Line, wrap};

/// A box on a page that text may fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Region {
    pub page: PageId,
    pub area: Rect,
}

/// What stands between two gaps in the flow.
#[derive(Debug)]
pub enum Block {
    /// Never left alone at the foot of a page: it goes where the block after it begins.
    Heading(Heading),
    Paragraph(Paragraph),
    List(List),
    Table(Table),
    Drawing(Drawing),
    /// Empty room, left out at the top of a page.
    Gap(Mm),
}

/// Sets blocks into a region, then into the regions that the page template gives.
pub struct Flow<'d> {
    doc: &'d mut Document,
    next_region: Box<dyn FnMut(&mut Document) -> Region + 'd>,
    region: Region,
    /// How far the region is filled, from the page's top.
    y: Mm,
    /// Room asked for below the last block.
    gap: Mm,
}

impl<'d> Flow<'d> {
    /// Begins at the top of `first`. `next_region` adds a page, with its running head and foot, and says where on it
    /// the flow goes on.
    pub fn new(
        doc: &'d mut Document,
        first: Region,
        next_region: impl FnMut(&mut Document) -> Region + 'd,
    ) -> Flow<'d> {
        Flow { doc, next_region: Box::new(next_region), region: first, y: first.area.top, gap: Mm::ZERO }
    }

    /// Sets the blocks below `parent`. A block too tall for any region goes over its edge rather than being lost.
    pub fn set(&mut self, parent: Elem, blocks: &[Block]) {
        for (index, block) in blocks.iter().enumerate() {
            self.begin(block.above(), needed(blocks.get(index..).unwrap_or_default(), self.width()));
            block.set(self, parent);
            self.gap = block.below();
        }
    }

    /// Goes on at the top of a new region.
    pub fn break_page(&mut self) {
        self.region = (self.next_region)(self.doc);
        self.y = self.region.area.top;
        self.gap = Mm::ZERO;
    }

    /// What is left of the present region.
    #[must_use]
    pub fn rest(&self) -> Region {
        let top = self.y.min(self.region.area.bottom);
        Region { page: self.region.page, area: Rect { top, ..self.region.area } }
    }

    /// The document, to add elements, anchors and marks of one's own.
    pub fn document(&mut self) -> &mut Document {
        self.doc
    }

    /// Takes a box of this height, all on one page, for marks of one's own.
    pub fn take(&mut self, height: Mm) -> Region {
        self.begin(Mm::ZERO, height);
        let taken = Region { page: self.region.page, area: Rect { bottom: self.y + height, ..self.rest().area } };
        self.y += height;
        taken
    }

    fn width(&self) -> Mm {
        self.region.area.width()
    }

    /// Leaves the gap before a block, or begins a page when less than `needed` is left after it.
    fn begin(&mut self, above: Mm, needed: Mm) {
        let gap = if self.is_at_top() { Mm::ZERO } else { above.max(self.gap) };
        if !self.is_at_top() && !self.has_room(gap + needed) {
            self.break_page();
        } else {
            self.y += gap;
        }
        self.gap = Mm::ZERO;
    }

    fn is_at_top(&self) -> bool {
        self.y <= self.region.area.top
    }

    fn has_room(&self, height: Mm) -> bool {
        (self.y + height).rounded() <= self.region.area.bottom.rounded()
    }

    /// Whole lines of this height that the region still has room for.
    fn lines_left(&self, line: Mm) -> usize {
        let left = (self.region.area.bottom - self.y + Mm(0.0005)) / line;
        if left.is_finite() { left.max(0.0) as usize } else { usize::MAX }
    }
}

/// The height that must stay together at the begin of these blocks.
fn needed(blocks: &[Block], width: Mm) -> Mm {
    let Some((first, rest)) = blocks.split_first() else { return Mm::ZERO };
    match first {
        Block::Heading(heading) => {
            let next = rest.first().map_or(Mm::ZERO, |next| first.below().max(next.above()) + needed(rest, width));
            heading.height(width) + next
        }
        Block::Paragraph(paragraph) => paragraph.needed(width),
        Block::List(list) => list.needed(width),
        Block::Table(table) => table.needed(width),
        Block::Drawing(drawing) => drawing.height,
        Block::Gap(gap) => *gap,
    }
}

impl Block {
    fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        match self {
            Block::Heading(heading) => heading.set(flow, parent),
            Block::Paragraph(paragraph) => paragraph.set(flow, parent),
            Block::List(list) => list.set(flow, parent),
            Block::Table(table) => table.set(flow, parent),
            Block::Drawing(drawing) => drawing.set(flow, parent),
            Block::Gap(gap) if flow.is_at_top() => {}
            Block::Gap(gap) => flow.y += *gap,
        }
    }

    fn above(&self) -> Mm {
        match self {
            Block::Heading(heading) => heading.style.above,
            Block::Paragraph(paragraph) => paragraph.style.above,
            Block::List(list) => list.style.above,
            Block::Table(table) => table.style.above,
            Block::Drawing(drawing) => drawing.above,
            Block::Gap(_) => Mm::ZERO,
        }
    }

    fn below(&self) -> Mm {
        match self {
            Block::Heading(heading) => heading.style.below,
            Block::Paragraph(paragraph) => paragraph.style.below,
            Block::List(list) => list.style.below,
            Block::Table(table) => table.style.below,
            Block::Drawing(drawing) => drawing.below,
            Block::Gap(_) => Mm::ZERO,
        }
    }
}
