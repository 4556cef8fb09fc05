//! New pages in the place of printed ones: whether those after them can stay.

use crate::casting_off::part::{self as part_pages, PartBasis, Stand};
use crate::casting_off::{self, Basis, House, Wishes};
use crate::check::{Checked, PartChecked};
use crate::compare::{Fate, Matched, Run, Sheets};
use crate::layout::{Layout, Page, Record, Side};
use crate::metrics::Metrics;
use crate::place::{BarIdx, BarSpan};
use crate::players::Player;
use crate::players::blocks::blocks;
use crate::players::turning::TurnPoint;
use crate::score::Score;
use crate::units::Mm;

/// Whether new pages can take the place of old ones, leaf for leaf.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// Pages of the old sheets that they take the place of.
    pub room: usize,
    /// Those that the new music needs; bars are those of the new draft.
    pub pages: Vec<Page>,
}

impl Replacement {
    /// Whether everything after them can stay.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.pages.len() <= self.room
    }
}

/// Of a part, one for each run of sheets that have to be printed.
pub(super) fn of_part(old: &PartChecked, new: &PartChecked, sheets: &Sheets) -> Vec<Replacement> {
    sheets.runs.iter().map(|run| run_of_part(old, new, sheets, run)).collect()
}

/// Begun on the same side as the old ones.
fn run_of_part(old: &PartChecked, new: &PartChecked, sheets: &Sheets, run: &Run) -> Replacement {
    let old_pages = pages_of(old.layout(), sheets, run);
    let room = old_pages.len();
    let Some(bars) = run.new_bars else { return Replacement { room, pages: Vec::new() } };
    let player = Player { music: new.player.music.excerpt(bars), undecided: Vec::new(), ..new.player.clone() };
    let side = old_pages.first().map_or(Side::Recto, |page| page.side);
    let stand = Stand { starts: Some(side), headed: run.first == 0, ..new.stand.clone() };
    let blocks = blocks(&player.music);
    let metrics = Metrics::of(&player.music);
    let points = new.points.get(bars.first.at()..=bars.last.at()).unwrap_or_default();
    let points: Vec<TurnPoint> =
        points.iter().zip(0..).map(|(point, at)| TurnPoint { after: BarIdx(at), ..point.clone() }).collect();
    let basis = PartBasis { player: &player, metrics: &metrics, blocks: &blocks, points: &points, stand: &stand };
    // The best turns where they fit; else as close as they can be set.
    let best = part_pages::propose(&basis).filter(|pages| pages.layout.pages.len() <= room);
    let pages = best.or_else(|| part_pages::fill(&basis)).map(|pages| pages.layout.pages).unwrap_or_default();
    Replacement { room, pages: pages.into_iter().map(|page| later(page, bars.first)).collect() }
}

/// The pages that a run of sheets has.
pub(super) fn pages_of<'a>(layout: &'a Layout, sheets: &Sheets, run: &Run) -> Vec<&'a Page> {
    let own = sheets.sheets.get(run.first..=run.last).unwrap_or_default();
    own.iter().flat_map(|sheet| &sheet.sheet.pages).filter_map(|page| layout.pages.get(page.at())).collect()
}

/// The same page, so many bars later.
fn later(mut page: Page, by: BarIdx) -> Page {
    let after = |bar: BarIdx| BarIdx(bar.0.saturating_add(by.0));
    for bar in page.systems.iter_mut().flat_map(|system| &mut system.bars) {
        bar.bars = bar.bars.map(|span| BarSpan::new(after(span.first), after(span.last)));
    }
    page
}

/// Of the score, one for each run of sheets that have to be printed; none where no sheet stays, or where the staves are not
/// those of the old pages.
///
/// The whole score is cast off on the old paper, with a new page where each run begins and ends: if it can be, with the old
/// pages inside the runs as well.
pub(super) fn of_score(old: &Checked, new: &Checked, sheets: &Sheets, matched: &Matched) -> Vec<Replacement> {
    let stays = sheets.sheets.iter().any(|sheet| sheet.fate != Fate::Print);
    if !stays || sheets.runs.is_empty() || !has_same_staves(&old.score, &new.score) {
        return Vec::new();
    }
    let spans = || sheets.runs.iter().filter_map(|run| run.new_bars);
    let around: Vec<BarIdx> = spans().flat_map(|span| [span.first, BarIdx(span.last.0 + 1)]).collect();
    let within = sheets.runs.iter().filter_map(|run| Some((run, run.new_bars?)));
    let within = within.flat_map(|(run, span)| {
        let begins = pages_of(&old.layout, sheets, run).into_iter().filter_map(|page| begins_now(page, matched));
        begins.filter(move |bar| span.contains(*bar))
    });
    let as_before: Vec<BarIdx> = around.iter().copied().chain(within).collect();
    let (house, record, none) = (house_of(old), Record::default(), Layout::default());
    let basis = Basis { score: &new.score, metrics: &new.metrics, record: &record, pages: &none, house: &house };
    let of = |layout: Layout| -> Vec<Replacement> {
        let run = |run: &Run| Replacement {
            room: pages_of(&old.layout, sheets, run).len(),
            pages: layout.pages.iter().filter(|page| is_within(page, run.new_bars)).cloned().collect(),
        };
        sheets.runs.iter().map(run).collect()
    };
    let fits = |own: &Vec<Replacement>| own.iter().all(Replacement::fits);
    let proposed = |breaks: &[BarIdx]| {
        casting_off::propose(&basis, &with_pages(breaks, &new.score)).map(|own| of(own.layout)).filter(fits)
    };
    // Filled up where better pages would not fit.
    let filled = || casting_off::forecast(&basis, &with_pages(&around, &new.score)).map(of);
    proposed(&as_before).or_else(|| proposed(&around)).or_else(filled).unwrap_or_default()
}

/// The first bar of an old page that is still there, in the new draft.
fn begins_now(page: &Page, matched: &Matched) -> Option<BarIdx> {
    page.span()?.iter().find_map(|bar| matched.stays(bar))
}

fn with_pages(breaks: &[BarIdx], score: &Score) -> Wishes {
    let mut page_breaks: Vec<BarIdx> =
        breaks.iter().copied().filter(|bar| (1..score.bars.len()).contains(&bar.at())).collect();
    page_breaks.sort_unstable();
    page_breaks.dedup();
    Wishes { page_breaks, ..Wishes::default() }
}

fn has_same_staves(old: &Score, new: &Score) -> bool {
    old.staves.iter().map(|staff| staff.part).eq(new.staves.iter().map(|staff| staff.part))
}

fn is_within(page: &Page, bars: Option<BarSpan>) -> bool {
    page.span().zip(bars).is_some_and(|(own, bars)| bars.contains(own.first))
}

/// What the old pages are set by: their first page with music tells.
pub(super) fn house_of(old: &Checked) -> House {
    let house = old.house.clone();
    let Some(page) = old.layout.pages.iter().find(|page| !page.systems.is_empty()) else { return house };
    let heights = page.systems.iter().flat_map(|system| &system.staves).map(|staff| staff.height);
    let staff_height = heights.reduce(Mm::max).unwrap_or(house.staff_height);
    House { paper: page.size.value, margins: page.margins.value, staff_height, ..house }
}
