//! Where a system's bars stand from left to right.

use super::{Source, lines::Line};
use crate::layout::{Origin, Page, PrintedBar};
use crate::place::{BarIdx, BarSpan};
use crate::units::Mm;

/// Recorded widths that miss the line's end by less than this share of it are taken as they are.
const TOLERANCE: f64 = 0.02;

/// Left and right end of a system's staves, as its margins and indents have them.
pub(super) fn ends(source: &Source, line: &Line, page: &Page) -> (Mm, Mm) {
    let record = &source.record(line.bars.first).system;
    let defaults = &source.defaults.system;
    let left = page.margins.value.left + record.left.or(defaults.left).unwrap_or(Mm::ZERO);
    let right = page.size.value.0 - page.margins.value.right - record.right.or(defaults.right).unwrap_or(Mm::ZERO);
    (left, right.max(left + Mm(1.0)))
}

/// The printed bars from left to right.
pub(super) fn barlines(source: &Source, line: &Line, page: &Page) -> Vec<PrintedBar> {
    let (left, right) = ends(source, line, page);
    let (widths, placed) = widths(source, line, right - left);
    let mut bars = Vec::with_capacity(widths.len());
    let mut x = left;
    for (span, width) in printed_bars(source, line.bars).into_iter().map(|span| (span, sum(&widths, line, span))) {
        bars.push(PrintedBar { left: x.rounded(), right: (x + width).rounded(), bars: Some(span), placed });
        x += width;
    }
    bars
}

/// Multi-bar rests are one printed bar; they end with their system at the latest.
pub(super) fn printed_bars(source: &Source, bars: BarSpan) -> Vec<BarSpan> {
    let mut spans = Vec::new();
    let mut next = bars.first;
    while next <= bars.last {
        let count = source.score.bar(next).and_then(|bar| bar.multi_bar_rest).unwrap_or(1).max(1);
        let last = BarIdx(next.0.saturating_add(count - 1).min(bars.last.0));
        spans.push(BarSpan::new(next, last));
        next = BarIdx(last.0 + 1);
    }
    spans
}

fn sum(widths: &[Mm], line: &Line, span: BarSpan) -> Mm {
    let at = |bar: BarIdx| (bar.0 - line.bars.first.0) as usize;
    widths.get(at(span.first)..=at(span.last)).unwrap_or_default().iter().copied().sum()
}

/// One width a bar. Where the file gives all of them and they end with the line they are its own; otherwise they
/// share the line in proportion: recorded ones among themselves, the others by their natural widths.
fn widths(source: &Source, line: &Line, room: Mm) -> (Vec<Mm>, Origin) {
    let recorded: Vec<Option<Mm>> = line.bars.iter().map(|bar| source.record(bar).width).collect();
    let known: Mm = recorded.iter().flatten().copied().sum();
    if let Some(all) = recorded.iter().copied().collect::<Option<Vec<Mm>>>() {
        let is_last = line.bars.last == source.movement.bars.last;
        let fills = known <= room * (1.0 + TOLERANCE) && (is_last || known >= room * (1.0 - TOLERANCE));
        if fills {
            return (all, Origin::Recorded);
        }
        let by = if known > Mm::ZERO { room / known } else { 0.0 };
        return (all.into_iter().map(|width| width * by).collect(), Origin::Estimated);
    }
    let natural: Vec<Mm> = line.bars.iter().map(|bar| source.natural_width(bar)).collect();
    let open: Mm = recorded.iter().zip(&natural).filter(|(width, _)| width.is_none()).map(|(_, own)| *own).sum();
    let rest = room - known;
    let widths = if rest >= open * 0.5 {
        // The last line of a movement is not pulled apart.
        let by = if open > Mm::ZERO { rest / open } else { 0.0 };
        let by = if line.bars.last == source.movement.bars.last { by.min(1.0) } else { by };
        recorded.iter().zip(&natural).map(|(width, own)| width.unwrap_or(*own * by)).collect()
    } else {
        let by = room / (known + open);
        recorded.iter().zip(&natural).map(|(width, own)| width.unwrap_or(*own) * by).collect()
    };
    (widths, Origin::Estimated)
}
