//! Proposed systems set on their pages: heights shared out, barlines where the springs put them.

use super::gaps::{Gap, Gauge, Heights, Stack};
use super::search::{Candidate, Step};
use super::systems::Systems;
use crate::casting_off::barlines;
use crate::casting_off::lines::Line;
use crate::casting_off::sheets::Sheets;
use crate::casting_off::stretch::spaced;
use crate::geometry::Rect;
use crate::layout::{Origin, Page, PrintedBar, PrintedStaff, System};
use crate::place::BarSpan;
use crate::units::{Mm, Spaces};

/// Gaps between staves grow to this many times what the house likes; gaps between systems further. What is left then
/// stays at the foot of the page: staves drawn further apart are not read as one system. With 1.5 a quarter of some
/// one-system pages stood empty that recorded pages fill.
const LOOSEST_STAVES: f64 = 2.0;
const LOOSEST_SYSTEMS: f64 = 2.5;
/// Halvings of the search for the pull that fills a page: far below a thousandth of a millimetre.
const HALVINGS: u32 = 50;

/// A page's gaps from the top; the first of a system that is not the page's first is the one between systems.
struct Room {
    least: Spaces,
    usual: Spaces,
    loosest: f64,
}

impl Room {
    /// Under a pull of 1 it is what the house likes; never less than its contents need.
    fn at(&self, pull: f64) -> Spaces {
        (self.usual * pull.min(self.loosest)).max(self.least)
    }
}

/// Sets a solution on pages.
pub(super) fn set(systems: &Systems, chosen: &[(Candidate, Step)], sheets: &mut Sheets, room: Spaces) -> Vec<Page> {
    let pages = chosen.chunk_by(|_, (_, next)| !next.begins_page);
    pages.map(|page| set_page(systems, page, sheets, room)).collect()
}

fn set_page(systems: &Systems, chosen: &[(Candidate, Step)], sheets: &mut Sheets, room: Spaces) -> Page {
    let source = systems.source;
    let line = |bars: BarSpan| Line { bars, page_break: Some(true), dividers: None, breaks: Origin::Estimated };
    let first = chosen.first().map_or(source.movement.bars, |(candidate, _)| candidate.bars);
    let mut page = sheets.turn(source, &line(first));
    page.breaks = Origin::Estimated;
    let stacks: Vec<(&Candidate, &Stack)> =
        chosen.iter().filter_map(|(own, _)| Some((own, systems.stacks.get(own.set)?))).collect();
    let top = chosen.first().map_or(Spaces::ZERO, |(own, _)| own.top);
    let foot = chosen.last().map_or(Spaces::ZERO, |(own, _)| own.heights.below);
    let gaps = gaps(&systems.gauge, &stacks);
    let staves: Spaces = stacks.iter().map(|(_, stack)| stack.lines()).sum();
    let pull = pull(&gaps, room - top - foot - staves);
    let mut y = page.margins.value.top + source.mm(top);
    let mut gaps = gaps.iter();
    for (at, (own, stack)) in stacks.iter().enumerate() {
        if at > 0 {
            y += source.mm(gaps.next().map_or(Spaces::ZERO, |gap| gap.at(pull)));
        }
        let mut staves = Vec::with_capacity(stack.staves.len());
        for (nth, state) in stack.staves.iter().enumerate() {
            if nth > 0 {
                y += source.mm(gaps.next().map_or(Spaces::ZERO, |gap| gap.at(pull)));
            }
            let staff = PrintedStaff {
                staff: Some(state.staff),
                lines: state.lines,
                top: y.rounded(),
                height: (source.staff_height.value * state.scale).rounded(),
                role: state.role,
                placed: Origin::Estimated,
                sized: source.staff_height.origin,
            };
            // Not from the rounded top: over thirty staves the errors would add up.
            y += source.staff_height.value * (state.scale * f64::from(state.lines.saturating_sub(1)) / 4.0);
            staves.push(staff);
        }
        let divider = (at > 0).then_some(stack.staves.len() >= source.house.dividers_from as usize);
        let bars = bars(systems, own, &page);
        let ends = bars.first().map_or(Mm::ZERO, |bar| bar.left)..bars.last().map_or(Mm::ZERO, |bar| bar.right);
        let top = staves.first().map_or(y, |staff| staff.top);
        let rect = Rect::new(ends.start, top, ends.end, y).rounded();
        page.systems.push(System {
            rect,
            staves,
            bars,
            divider_above: divider,
            breaks: Origin::Estimated,
            stretch: Some(libm::exp(own.tension)),
        });
    }
    page
}

fn gaps(gauge: &Gauge, stacks: &[(&Candidate, &Stack)]) -> Vec<Room> {
    let mut gaps = Vec::new();
    let mut above: Option<&Heights> = None;
    for (own, stack) in stacks {
        if let Some(above) = above {
            let least = gauge.between(above, &own.heights);
            let usual = above.apart.max(own.heights.apart);
            gaps.push(Room { least, usual, loosest: LOOSEST_SYSTEMS });
        }
        let room = |gap: Gap| Room { least: gap.least, usual: gap.usual, loosest: LOOSEST_STAVES };
        gaps.extend(gauge.gaps(stack, own.bars).map(room));
        above = Some(&own.heights);
    }
    gaps
}

/// The pull under which gaps fill the height, as far as their bounds let them.
fn pull(gaps: &[Room], height: Spaces) -> f64 {
    let taken = |pull: f64| gaps.iter().map(|gap| gap.at(pull)).sum::<Spaces>();
    let (mut least, mut most) = (0.0, LOOSEST_SYSTEMS);
    if taken(most) <= height {
        return most;
    }
    for _ in 0..HALVINGS {
        let middle = (least + most) / 2.0;
        if taken(middle) <= height { least = middle } else { most = middle }
    }
    least
}

/// The bars of a system at one force; a last system that is not full ends where its music ends.
fn bars(systems: &Systems, own: &Candidate, page: &Page) -> Vec<PrintedBar> {
    let source = systems.source;
    let line = Line { bars: own.bars, page_break: None, dividers: None, breaks: Origin::Estimated };
    let (left, right) = barlines::ends(source, &line, page);
    let force = source.house.natural_force * libm::exp(own.tension);
    let printed = barlines::printed_bars(source, own.bars);
    let widths = spaced(systems.spacing, &printed, force);
    let natural = source.mm(widths.iter().copied().sum());
    // The two sides of a leaf may differ by a little; what cannot be set at all is squeezed.
    let is_short = systems.is_short(own);
    let by = if natural > Mm::ZERO && !(is_short && natural <= right - left) { (right - left) / natural } else { 1.0 };
    let mut x = left;
    let mut bars = Vec::with_capacity(widths.len());
    for (span, width) in printed.into_iter().zip(widths) {
        let next = x + source.mm(width) * by;
        bars.push(PrintedBar { left: x.rounded(), right: next.rounded(), bars: Some(span), placed: Origin::Estimated });
        x = next;
    }
    bars
}
