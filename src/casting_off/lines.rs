//! Which bars stand on which system: recorded breaks, or bars filled in at their natural widths.

use super::Source;
use crate::layout::{BarRecord, Origin};
use crate::place::{BarIdx, BarSpan};
use crate::units::Mm;

/// The bars of one system.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub bars: BarSpan,
    /// Whether the file begins a page here; `None` when it does not say.
    pub page_break: Option<bool>,
    pub dividers: Option<bool>,
    pub breaks: Origin,
}

/// The systems of one movement in order; together they hold each of its bars once.
pub(super) fn lines(source: &Source) -> Vec<Line> {
    let bars = source.movement.bars;
    if bars.last < bars.first || bars.last.at() >= source.score.bars.len() {
        return Vec::new();
    }
    let starts = bars.iter().filter(|bar| *bar == bars.first || begins_system(source.record(*bar)));
    let mut starts: Vec<BarIdx> = starts.collect();
    starts.push(BarIdx(bars.last.0 + 1));
    let recorded = recorded(source, starts.len() - 1);
    let mut lines = Vec::new();
    for pair in starts.windows(2) {
        let &[first, next] = pair else { continue };
        let span = BarSpan::new(first, BarIdx(next.0 - 1));
        fill(source, span, recorded, &mut lines);
    }
    lines
}

fn begins_system(record: &BarRecord) -> bool {
    record.new_system == Some(true) || record.new_page == Some(true)
}

/// Which breaks a movement's file records.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Recorded {
    /// None: it is one line of bars.
    Nothing,
    /// Those that a person forced: most lines are far too long.
    Forced,
    /// All of them. Where breaks were moved, the widths of bars are still those of the old systems, and some lines seem
    /// too long.
    All,
}

/// Told by the lines all together, which moved breaks make this much longer at most: nobody saves more than a third of
/// the systems.
const FORCED: f64 = 1.6;

fn recorded(source: &Source, systems: usize) -> Recorded {
    if systems < 2 {
        return Recorded::Nothing;
    }
    let known: Option<Mm> = source.movement.bars.iter().map(|bar| source.record(bar).width).sum();
    let forced = known.is_some_and(|known| known > line_width(source) * (systems as f64 * FORCED));
    if forced { Recorded::Forced } else { Recorded::All }
}

/// A passage far too long for one line is several lines.
///
/// Between forced breaks recorded widths must be half as long again as the line, since one family of files overstates
/// them in every second system; otherwise two and a half times, so that only the impossible is divided.
fn fill(source: &Source, span: BarSpan, recorded: Recorded, lines: &mut Vec<Line>) {
    let known: Option<Mm> = span.iter().map(|bar| source.record(bar).width).sum();
    let widths = |bar| match known {
        Some(_) => source.record(bar).width.unwrap_or(Mm::ZERO),
        None => source.natural_width(bar),
    };
    let start = if known.is_some() { Mm::ZERO } else { source.mm(source.metrics.spacing.ends(span)) };
    let room = (line_width(source) - start).max(Mm(1.0));
    let total = known.unwrap_or_else(|| span.iter().map(widths).sum());
    let most = match (recorded, known.is_some()) {
        (Recorded::Forced, true) => room * 1.5,
        (Recorded::Forced, false) | (Recorded::All, _) => room * 2.5,
        (Recorded::Nothing, true) => room * 1.02,
        (Recorded::Nothing, false) => Mm::ZERO,
    };
    if total <= most || (recorded != Recorded::Nothing && span.count() == 1) {
        lines.push(line(source, span, Origin::Recorded));
        return;
    }
    let mut first = span.first;
    let mut taken = Mm::ZERO;
    for bar in span.iter() {
        let width = widths(bar);
        if bar > first && taken + width > room {
            lines.push(line(source, BarSpan::new(first, BarIdx(bar.0 - 1)), Origin::Estimated));
            (first, taken) = (bar, Mm::ZERO);
        }
        taken += width;
    }
    lines.push(line(source, BarSpan::new(first, span.last), Origin::Estimated));
}

fn line(source: &Source, bars: BarSpan, breaks: Origin) -> Line {
    let record = source.record(bars.first);
    let dividers = record.system.dividers.or(source.defaults.system.dividers);
    Line { bars, page_break: record.new_page, dividers, breaks }
}

/// Between the margins of a right-hand page and the usual indents.
fn line_width(source: &Source) -> Mm {
    let defaults = source.defaults;
    let (width, _) = defaults.page.size.unwrap_or(source.house.paper);
    let margins = defaults.page.odd.or(defaults.page.even).unwrap_or(source.house.margins);
    let indents = defaults.system.left.unwrap_or(Mm::ZERO) + defaults.system.right.unwrap_or(Mm::ZERO);
    (width - margins.left - margins.right - indents).max(Mm(1.0))
}
