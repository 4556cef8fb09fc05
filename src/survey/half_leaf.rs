//! A leaf cut across the middle, whose halves are turned one after the other: the upper one while the lower is played,
//! the lower one while the upper half overleaf is (common practice).

use crate::casting_off::part::{Binding, PartBasis};
use crate::layout::{Layout, Page, PageKind};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::players::turning::TurnClass;
use crate::units::Mm;

/// Where the halves of a leaf are turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HalfLeaf {
    /// After these bars.
    pub upper: BarIdx,
    pub lower: BarIdx,
}

/// The halves of the leaf that a page is the front of, turned as near to the page's end as hands are free; `None` where
/// they are not free for both, and for sheets that are no leaves.
pub(super) fn half_leaf(basis: &PartBasis<'_>, layout: &Layout, page: PageIdx) -> Option<HalfLeaf> {
    if !matches!(basis.stand.binding, Binding::Booklet | Binding::Cover) {
        return None;
    }
    let (front, back) = (layout.pages.get(page.at())?, layout.pages.get(page.at() + 1)?);
    if back.kind != PageKind::Music {
        return None;
    }
    let is_free = |bar: &BarIdx| {
        let class = basis.points.get(bar.at()).and_then(|point| point.class);
        matches!(class, Some(TurnClass::Enough | TurnClass::Easy))
    };
    let below = bars(front, |top, _, middle| top >= middle)?;
    let above = bars(back, |_, bottom, middle| bottom <= middle)?;
    let upper = below.iter().filter(|bar| *bar < below.last).filter(is_free).last()?;
    let lower = above.iter().find(is_free)?;
    Some(HalfLeaf { upper, lower })
}

/// Bars of the systems that lie in one half of a page; told by their top, bottom and the page's middle.
fn bars(page: &Page, is_in: impl Fn(Mm, Mm, Mm) -> bool) -> Option<BarSpan> {
    let middle = page.size.value.1 / 2.0;
    let mut spans = page
        .systems
        .iter()
        .filter(|system| is_in(system.rect.top, system.rect.bottom, middle))
        .filter_map(crate::layout::System::span);
    let first = spans.next()?;
    Some(spans.fold(first, |all, span| BarSpan::new(all.first.min(span.first), all.last.max(span.last))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::part::Stand;
    use crate::fixture;
    use crate::geometry::{Margins, Rect};
    use crate::layout::{Known, Origin, PrintedBar, Side, System};
    use crate::metrics::Metrics;
    use crate::players::turning::{self, Around};
    use crate::score::Family;
    use crate::units::Seconds;

    const PAPER: (Mm, Mm) = (Mm(257.0), Mm(364.0));

    /// Two pages of four systems, a bar in each.
    fn pages() -> Layout {
        let system = |bar: u32| {
            let top = PAPER.1 * (0.1 + 0.2 * f64::from(bar % 4));
            let rect = Rect::new(Mm(20.0), top, Mm(237.0), top + Mm(8.0));
            let bars = Some(BarSpan::one(BarIdx(bar)));
            let bars = vec![PrintedBar { left: rect.left, right: rect.right, bars, placed: Origin::Estimated }];
            System { rect, staves: Vec::new(), bars, divider_above: None, breaks: Origin::Estimated, stretch: None }
        };
        let page = |(at, side): (u32, Side)| Page {
            size: Known::recorded(PAPER),
            margins: Known::recorded(Margins::default()),
            side,
            label: String::new(),
            kind: PageKind::Music,
            breaks: Origin::Estimated,
            systems: (at * 4..at * 4 + 4).map(system).collect(),
            texts: Vec::new(),
            seen: None,
        };
        Layout { pages: [(0, Side::Recto), (1, Side::Verso)].map(page).to_vec(), ..Layout::default() }
    }

    /// Bars of six seconds, played but for some.
    fn halves(silent: &[u32]) -> Option<HalfLeaf> {
        let mut score = fixture::score(&[("Flute", Family::Woodwind, 1)], 8);
        for bar in (0..8).filter(|bar| !silent.contains(bar)) {
            fixture::put(&mut score, bar, 0, (0..4).map(|beat| fixture::quarter("G4", beat)).collect());
        }
        for bar in &mut score.bars {
            bar.seconds = Some(Seconds(6.0));
        }
        let player = crate::players::alone(score);
        let points = turning::points(&player, &Around::of(&player.music), &[]);
        let metrics = Metrics::of(&player.music);
        let stand = Stand {
            binding: Binding::Booklet,
            paper: PAPER,
            margins: Margins::default(),
            staff_height: Mm(8.0),
            natural_force: 1.0,
            starts: None,
            headed: true,
        };
        let basis = PartBasis { player: &player, metrics: &metrics, blocks: &[], points: &points, stand: &stand };
        half_leaf(&basis, &pages(), PageIdx(0))
    }

    #[test]
    fn both_halves_need_a_free_moment_of_their_own() {
        // Bars 2 and 3 stand on the lower half of the front, 4 and 5 on the upper half of the back.
        assert_eq!(halves(&[2, 5]), Some(HalfLeaf { upper: BarIdx(2), lower: BarIdx(4) }));
        assert_eq!(halves(&[2]), None);
        assert_eq!(halves(&[5]), None);
        assert_eq!(halves(&[1, 7]), None, "before the lower half, and after the upper one");
    }
}
