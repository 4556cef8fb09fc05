//! What lines are put together from: bars and multi-bar rests, how wide and how high each is.
//!
//! Between two neighbouring pieces lies a place where a line may end. A multi-bar rest that may be divided is two pieces,
//! and the place between them serves for a turn only.

use super::{PartBasis, Stand};
use crate::casting_off::House;
use crate::metrics::Spacing;
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::players::Hands;
use crate::players::blocks::{Block, BlockKind};
use crate::units::{Mm, Spaces};

/// Forces over the natural one at which widths are known; between them the width runs straight.
pub(super) const FORCES: [f64; 13] =
    [0.75, 0.82, 0.91, 1.0, 1.1, 1.21, 1.331, 1.464_1, 1.610_51, 1.771_561, 1.948_717_1, 2.143_588_81, 2.5];
/// The natural one among them.
pub(super) const NATURAL: usize = 3;

/// Widths at each of [`FORCES`], in spaces.
pub(super) type Widths = [f64; FORCES.len()];

/// A multi-bar rest is this wide whatever its count: naturally, at the least, at the most (common practice, from memory).
const REST: (f64, f64, f64) = (12.0, 10.0, 14.0);
/// From the lowest note to the highest of the line below: 8 mm at the least (Gesellschaft der Orchesterbibliothekare,
/// second-hand). Half of it belongs to each line.
const CLEAR: Mm = Mm(8.0);
/// Half of what stands between the staves of two lines even where nothing sticks out of them: ten lines to a page of parts
/// are usual.
const PLAIN_HALF: Spaces = Spaces(4.75);
/// Name of the part and title of the work above the first line (common practice).
const TITLE: Mm = Mm(25.0);
/// The heading of a later movement, in spaces of the part's staff (common practice).
const HEADING: Spaces = Spaces(5.0);
/// Staves that one mask can name.
const MOST_STAVES: usize = 64;
/// A line so short holds no music.
const NO_LINE: Mm = Mm(1.0);

/// A bar, or a multi-bar rest or the share of one.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub bars: BarSpan,
    /// Among the blocks of the basis.
    pub block: usize,
    /// The rest that it goes on with began before it.
    pub continues: bool,
    /// Where lines must end: after a movement, before and after a tacet.
    pub ends_line: bool,
    /// The heading of a later movement stands over it.
    pub heading: bool,
    /// Staves with something to read, one bit each.
    pub plays: u64,
}

/// All pieces of a part, and the paper that they go on.
pub(super) struct Pieces<'a> {
    pub spacing: &'a Spacing,
    blocks: &'a [Block],
    pub natural_force: f64,
    pub all: Vec<Piece>,
    /// Piece by piece, staff by staff: how far it reaches above and below.
    pub reaches: Vec<(f32, f32)>,
    pub staves: usize,
    /// Of the line, in spaces.
    pub width: Spaces,
    /// Between the margins.
    pub room: Spaces,
    pub title: Spaces,
    /// Belongs to each line above and below its contents.
    pub half_clear: Spaces,
}

impl<'a> Pieces<'a> {
    /// `None` where there is nothing to put on paper, or no paper.
    pub fn of(basis: &PartBasis<'a>) -> Option<Pieces<'a>> {
        let stand = basis.stand;
        let staff = stand.staff_height;
        let (width, height) = stand.paper;
        let margins = stand.margins;
        let line = width - margins.left - margins.right;
        let room = height - margins.top - margins.bottom;
        let has_paper = staff > Mm::ZERO && line > NO_LINE && room > staff && stand.natural_force > 0.0;
        if !has_paper || basis.blocks.is_empty() {
            return None;
        }
        let staves = basis.player.music.staves.len().clamp(1, MOST_STAVES);
        let room = room.in_spaces(staff);
        let all = pieces(basis, staves);
        Some(Pieces {
            spacing: &basis.metrics.spacing,
            blocks: basis.blocks,
            natural_force: stand.natural_force,
            reaches: reaches(basis, &all, staves),
            all,
            staves,
            width: line.in_spaces(staff),
            room,
            title: if stand.headed { title(stand).min(room * 0.2) } else { Spaces::ZERO },
            half_clear: CLEAR.in_spaces(staff) / 2.0,
        })
    }

    /// The place after a bar, counted in pieces; `None` where no page may end there.
    pub fn ending_with(&self, bar: BarIdx) -> Option<usize> {
        self.all.iter().position(|piece| piece.bars.last == bar).map(|at| at + 1)
    }

    /// How wide a piece is inside a line at so much of the natural force.
    pub fn width_at(&self, piece: &Piece, by: f64) -> Spaces {
        if piece.continues { Spaces::ZERO } else { self.whole_width_at(piece, by) }
    }

    /// The same where it does not go on with what stands before it.
    pub fn whole_width_at(&self, piece: &Piece, by: f64) -> Spaces {
        let bars = self.block(piece).map_or(piece.bars, |block| block.bars);
        if self.is_bar(piece) || bars.count() == 1 {
            return self.spacing.bar_at(bars.first, by * self.natural_force);
        }
        let (usual, least, most) = REST;
        self.spacing.bar(bars.first).fixed + Spaces((usual * by).clamp(least, most))
    }

    pub fn block(&self, piece: &Piece) -> Option<&Block> {
        self.blocks.get(piece.block)
    }

    pub fn is_bar(&self, piece: &Piece) -> bool {
        self.block(piece).is_none_or(|block| block.kind == BlockKind::Bar)
    }

    pub fn is_tacet(&self, piece: &Piece) -> bool {
        self.block(piece).is_some_and(|block| block.kind == BlockKind::Tacet)
    }

    /// Clef and key at the start of a line.
    pub fn start(&self, piece: &Piece) -> Spaces {
        let first = self.block(piece).map_or(piece.bars.first, |block| block.bars.first);
        self.spacing.bar(first).start
    }

    /// Staves of a line that shows these, from the top; never none.
    pub fn shown(&self, plays: u64) -> impl Iterator<Item = usize> {
        let plays = if plays == 0 { 1 } else { plays };
        (0..self.staves).filter(move |staff| plays & (1 << staff) != 0)
    }

    /// Height of a line with its share of what is clear around it, and from its top to its first staff.
    pub fn heights(&self, plays: u64, reach: &[(f32, f32)], heading: bool) -> (Spaces, Spaces) {
        let usual = House::default();
        let part = |at: usize| reach.get(at).copied().unwrap_or_default();
        let own = |out: f32| (Spaces(f64::from(out)) + self.half_clear).max(PLAIN_HALF);
        let (mut lines, mut above, mut below) = (Spaces::ZERO, None, Spaces::ZERO);
        for staff in self.shown(plays) {
            let (up, down) = part(staff);
            match above {
                None => above = Some(own(up)),
                Some(_) => lines += usual.staff_gap.max(below + Spaces(f64::from(up)) + usual.clearance),
            }
            lines += STAFF;
            below = Spaces(f64::from(down));
        }
        let top = above.unwrap_or(PLAIN_HALF) + if heading { HEADING } else { Spaces::ZERO };
        (top + lines + own(below.0 as f32), top)
    }
}

/// From top to bottom line.
pub(super) const STAFF: Spaces = Spaces(4.0);

fn title(stand: &Stand) -> Spaces {
    TITLE.in_spaces(stand.staff_height)
}

fn pieces(basis: &PartBasis, staves: usize) -> Vec<Piece> {
    let music = &basis.player.music;
    let begins = |bar: BarIdx| music.movements.iter().skip(1).any(|movement| movement.bars.first == bar);
    let ends = |bar: BarIdx| music.movements.iter().any(|movement| movement.bars.last == bar);
    let is_tacet = |at: usize| basis.blocks.get(at).is_some_and(|block| block.kind == BlockKind::Tacet);
    let mut pieces = Vec::with_capacity(basis.blocks.len() * 5 / 4);
    for (at, block) in basis.blocks.iter().enumerate() {
        let ends_movement = ends(block.bars.last);
        let whole = Piece {
            bars: block.bars,
            block: at,
            continues: false,
            ends_line: ends_movement || is_tacet(at) || is_tacet(at + 1),
            heading: begins(block.bars.first),
            plays: plays(basis, block, staves),
        };
        match division(basis, block) {
            None => pieces.push(whole),
            Some(after) => {
                let first = BarSpan::new(block.bars.first, after);
                let second = BarSpan::new(BarIdx(after.0 + 1), block.bars.last);
                pieces.push(Piece { bars: first, ends_line: false, ..whole.clone() });
                pieces.push(Piece { bars: second, continues: true, heading: false, ..whole });
            }
        }
    }
    pieces
}

/// Where a multi-bar rest is best divided: the best class, then the larger share before the turn. One place is enough,
/// since a rest is as wide whatever its count.
fn division(basis: &PartBasis, block: &Block) -> Option<BarIdx> {
    let BlockKind::Rest { divisible_after } = &block.kind else { return None };
    let inside = divisible_after.iter().filter(|bar| block.bars.first <= **bar && **bar < block.bars.last);
    inside.copied().max_by_key(|bar| (basis.points.get(bar.at()).and_then(|point| point.class), *bar))
}

/// Both staves of a harp or keyboard stand together; elsewhere only those with something to read.
fn plays(basis: &PartBasis, block: &Block, staves: usize) -> u64 {
    if matches!(basis.player.hands, Hands::Harp | Hands::Keyboard) {
        return if staves >= MOST_STAVES { u64::MAX } else { (1 << staves) - 1 };
    }
    if block.kind != BlockKind::Bar || staves == 1 {
        return 0;
    }
    let own = |staff: &usize| {
        let cell = |bar| basis.player.music.cell(bar, StaffId(*staff as u16));
        block.bars.iter().filter_map(cell).any(|cell| !cell.is_silent())
    };
    (0..staves).filter(own).fold(0, |all, staff| all | 1 << staff)
}

fn reaches(basis: &PartBasis, pieces: &[Piece], staves: usize) -> Vec<(f32, f32)> {
    let mut reaches = Vec::with_capacity(pieces.len() * staves);
    for piece in pieces {
        for staff in 0..staves {
            let extents = piece.bars.iter().map(|bar| basis.metrics.extents.at(bar, StaffId(staff as u16)));
            let most = extents
                .fold((0.0_f32, 0.0_f32), |most, own| (most.0.max(own.above.0 as f32), most.1.max(own.below.0 as f32)));
            reaches.push(most);
        }
    }
    reaches
}
