//! A plan set on paper: lines shared out over the height, barlines where the springs put them.

use super::pieces::{Piece, Pieces, STAFF};
use super::search::{PagePlan, Plan, Problem, Trial};
use super::{PartBasis, PartPages, sheet};
use crate::casting_off::House;
use crate::geometry::Rect;
use crate::layout::{Known, Layout, Origin, Page, PageKind, PrintedBar, PrintedStaff, Side, StaffRole, System};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::players::blocks::{Block, BlockKind};
use crate::units::{Mm, Spaces};

/// Lines move apart by no more than this to fill their page; what is left then stays at its foot.
const LOOSEST: Spaces = Spaces(5.0);

/// The pages of a plan.
pub(super) fn pages(basis: &PartBasis, pieces: &Pieces, problem: &Problem, plan: &Plan) -> PartPages {
    let setter = Setter { basis, pieces, problem };
    let binding = basis.stand.binding;
    let starts = plan.pages.first().map_or(Side::Recto, |page| sheet::side(binding, page.phase));
    // Left-hand pages bear even numbers.
    let mut number = if starts == Side::Recto { 1 } else { 2 };
    let mut out = PartPages {
        layout: Layout::default(),
        starts,
        blocks: Vec::new(),
        turns: Vec::new(),
        blank: Vec::new(),
        fold_outs: Vec::new(),
    };
    let mut new_page = |out: &mut PartPages, side: Side| {
        out.layout.pages.push(setter.empty(side, number));
        number += 1;
    };
    for (at, plan) in plan.pages.iter().enumerate() {
        if plan.phase == sheet::FOLDED && problem.at_once < 3 {
            out.fold_outs.push(PageIdx(out.layout.pages.len() as u32));
        }
        new_page(&mut out, sheet::side(binding, plan.phase));
        if let Some(page) = out.layout.pages.last_mut() {
            setter.set(page, plan, at == 0, &mut out.blocks);
        }
        if plan.end.leaves_blank() {
            out.blank.push(PageIdx(out.layout.pages.len() as u32));
            // Opposite to the page that it takes the place of.
            let side = if plan.phase == 0 { Side::Recto } else { Side::Verso };
            new_page(&mut out, side);
            if let Some(page) = out.layout.pages.last_mut() {
                page.kind = PageKind::Blank;
            }
        }
    }
    let bar = |place: usize| pieces.all.get(place.checked_sub(1)?).map(|piece| piece.bars.last);
    let turns = plan.turns(problem).into_iter();
    out.turns = turns.filter_map(|(place, page)| Some((bar(place)?, PageIdx(page as u32)))).collect();
    out
}

struct Setter<'a, 'b> {
    basis: &'a PartBasis<'b>,
    pieces: &'a Pieces<'b>,
    problem: &'a Problem,
}

/// What one line prints as one: a bar, or as much of a multi-bar rest as stands on it.
struct Printed<'a> {
    bars: BarSpan,
    piece: &'a Piece,
}

impl Setter<'_, '_> {
    fn mm(&self, length: Spaces) -> Mm {
        length.on_staff(self.basis.stand.staff_height)
    }

    fn empty(&self, side: Side, number: u32) -> Page {
        let stand = self.basis.stand;
        Page {
            size: Known::estimated(stand.paper),
            margins: Known::estimated(stand.margins),
            side,
            label: number.to_string(),
            kind: PageKind::Music,
            breaks: Origin::Estimated,
            systems: Vec::new(),
            texts: Vec::new(),
            seen: None,
        }
    }

    fn set(&self, page: &mut Page, plan: &PagePlan, is_first: bool, blocks: &mut Vec<Block>) {
        let lines: Vec<&Trial> = plan.lines.iter().filter_map(|line| self.problem.trials.get(*line)).collect();
        let title = if is_first { self.problem.title } else { 0 };
        let used: u32 = title + lines.iter().map(|line| line.height).sum::<u32>();
        let left = Spaces(f64::from(self.problem.room.saturating_sub(used)) / 2.0);
        let gaps = lines.len().saturating_sub(1).max(1) as f64;
        let apart = (left / gaps).min(LOOSEST);
        // The air above the first line lies in the margin.
        let mut top = Spaces(f64::from(title) / 2.0) - self.pieces.half_clear;
        for line in lines {
            let system = self.system(line, top, blocks);
            page.systems.extend(system);
            top += Spaces(f64::from(line.height) / 2.0) + apart;
        }
    }

    fn system(&self, line: &Trial, top: Spaces, blocks: &mut Vec<Block>) -> Option<System> {
        let margins = self.basis.stand.margins;
        let staves = self.staves(line, margins.top + self.mm(top));
        let bars = self.bars(line, blocks);
        let (left, right) = (bars.first()?.left, bars.last()?.right);
        let rect = Rect::new(left, staves.first()?.top, right, staves.last()?.bottom());
        Some(System {
            rect: rect.rounded(),
            staves,
            bars,
            divider_above: None,
            breaks: Origin::Estimated,
            stretch: Some(libm::exp(line.tension)),
        })
    }

    fn staves(&self, line: &Trial, top: Mm) -> Vec<PrintedStaff> {
        let own = self.pieces.all.get(line.first..line.end).unwrap_or_default();
        let plays = own.iter().fold(0, |all, piece| all | piece.plays);
        let mut reach = vec![(0.0_f32, 0.0_f32); self.pieces.staves];
        for at in line.first..line.end {
            let own = self.pieces.reaches.get(at * self.pieces.staves..).unwrap_or_default();
            reach.iter_mut().zip(own).for_each(|(most, own)| *most = (most.0.max(own.0), most.1.max(own.1)));
        }
        let heading = own.first().is_some_and(|piece| piece.heading);
        let usual = House::default();
        let (_, first) = self.pieces.heights(plays, &reach, heading);
        let mut y = first;
        let mut below = None;
        let mut staves = Vec::new();
        for staff in self.pieces.shown(plays) {
            let (up, down) = reach.get(staff).copied().unwrap_or_default();
            if let Some(below) = below {
                y += usual.staff_gap.max(below + Spaces(f64::from(up)) + usual.clearance);
            }
            staves.push(PrintedStaff {
                staff: Some(StaffId(staff as u16)),
                lines: 5,
                top: (top + self.mm(y)).rounded(),
                height: self.basis.stand.staff_height.rounded(),
                role: StaffRole::Normal,
                placed: Origin::Estimated,
                sized: Origin::Estimated,
            });
            y += STAFF;
            below = Some(Spaces(f64::from(down)));
        }
        staves
    }

    fn bars(&self, line: &Trial, blocks: &mut Vec<Block>) -> Vec<PrintedBar> {
        let printed = self.printed(line);
        blocks.extend(printed.iter().filter_map(|printed| self.block(printed)));
        let by = libm::exp(line.tension);
        let mut widths: Vec<Spaces> =
            printed.iter().map(|printed| self.pieces.whole_width_at(printed.piece, by)).collect();
        if let Some((first, piece)) = widths.first_mut().zip(self.pieces.all.get(line.first)) {
            *first += self.pieces.start(piece);
        }
        let next = self.pieces.all.get(line.end).filter(|next| !next.continues);
        if let Some((last, next)) = widths.last_mut().zip(next) {
            *last += self.pieces.spacing.bar(next.bars.first).announced;
        }
        let all: Spaces = widths.iter().copied().sum();
        let ends = line.end.checked_sub(1).and_then(|at| self.pieces.all.get(at));
        let is_tacet = ends.is_some_and(|piece| self.pieces.is_tacet(piece));
        let is_short = ends.is_some_and(|piece| piece.ends_line) && line.tension >= 0.0 && !is_tacet;
        // What cannot be set at all is squeezed.
        let fills = all > Spaces::ZERO && !(is_short && all <= self.pieces.width);
        let by = if fills { self.pieces.width / all } else { 1.0 };
        let mut x = self.basis.stand.margins.left;
        let mut bars = Vec::with_capacity(widths.len());
        for (printed, width) in printed.iter().zip(widths) {
            let next = x + self.mm(width) * by;
            let bar = PrintedBar {
                left: x.rounded(),
                right: next.rounded(),
                bars: Some(printed.bars),
                placed: Origin::Estimated,
            };
            bars.push(bar);
            x = next;
        }
        bars
    }

    /// Two shares of one multi-bar rest on one line are one.
    fn printed(&self, line: &Trial) -> Vec<Printed<'_>> {
        let mut printed: Vec<Printed> = Vec::new();
        for piece in self.pieces.all.get(line.first..line.end).unwrap_or_default() {
            match printed.last_mut().filter(|_| piece.continues) {
                Some(whole) => whole.bars.last = piece.bars.last,
                None => printed.push(Printed { bars: piece.bars, piece }),
            }
        }
        printed
    }

    fn block(&self, printed: &Printed) -> Option<Block> {
        let own = self.pieces.block(printed.piece)?;
        let BarSpan { first, last } = printed.bars;
        let kind = match &own.kind {
            BlockKind::Rest { divisible_after } => {
                let inside = |bar: &&BarIdx| first <= **bar && **bar < last;
                BlockKind::Rest { divisible_after: divisible_after.iter().filter(inside).copied().collect() }
            }
            kind => kind.clone(),
        };
        Some(Block { bars: printed.bars, kind })
    }
}
