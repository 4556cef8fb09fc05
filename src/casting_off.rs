//! Casting off: music laid out on pages.
//!
//! What the files record is taken at its word, value by value; what they leave out is estimated plainly and says so.

use crate::geometry::{Margins, Rect};
use crate::layout::{BarRecord, Known, Layout, Origin, Page, PageKind, Record, System};
use crate::metrics::Metrics;
use crate::place::BarIdx;
use crate::score::{Movement, Score};
use crate::units::{Mm, Spaces};

mod afresh;
mod barlines;
mod calibrate;
mod expected_errors;
mod heights;
mod lines;
pub mod part;
mod sheets;
mod staves;
mod stretch;
mod texts;
mod told;
mod vote;
mod what_if;

pub use afresh::{
    Basis, GivenUp, PageNeed, Proposal, ProposalNote, Saved, Sheet, Split, SplitSystem, Staves, Wishes, forecast,
    natural_spread, on_sheet, propose,
};
pub use calibrate::{natural_force, natural_force_of};
pub use expected_errors::{ExpectedError, ExpectedErrors};
pub use stretch::{fitted_widths, tell_stretch};
pub use what_if::{TooLarge, WhatIf, WhatIfCell, WhatIfFailure, WhatIfPaper, staves_that_fit, what_if};

use heights::Stack;
use lines::Line;
use sheets::Sheets;

/// How a house sets music where the file does not say.
#[derive(Clone, Debug, PartialEq)]
pub struct House {
    /// Width, height.
    pub paper: (Mm, Mm),
    pub margins: Margins,
    /// Of a five-line staff.
    pub staff_height: Mm,
    /// Between two staves of one family, from line to line.
    pub staff_gap: Spaces,
    /// The gap between two families over the gap inside one.
    pub family_factor: f64,
    /// Between two systems, from line to line.
    pub system_gap: Spaces,
    /// That gap times this stands between systems so low that no dividers are drawn.
    pub low_systems: f64,
    /// White left between the contents of two staves.
    pub clearance: Spaces,
    /// Between two staves of one family, from line to line, where room is short; wider between families.
    pub least_gap: Spaces,
    /// Systems of so many staves have divider marks between them.
    pub dividers_from: u32,
    /// The force of [`Spacing`](crate::metrics::Spacing) that this house calls natural.
    pub natural_force: f64,
    /// What becomes of silent staves where the breaks are not the file's.
    pub staves: Staves,
}

impl House {
    /// The same house with gaps between staves and systems so many times as wide.
    #[must_use]
    pub fn spread(self, by: f64) -> House {
        House { staff_gap: self.staff_gap * by, system_gap: self.system_gap * by, ..self }
    }
}

impl Default for House {
    /// A conductor's score.
    ///
    /// - A3 upright: Metropole Orkest library's score sheet (JIS B4 or A3); sides from ISO 216.
    /// - Margins of 15 mm: Gould, Behind Bars, p. 481 (second-hand).
    /// - Staves of 4.5 mm: New Zealand School of Music, Guide to Music Notation (2019), p. 5 (second-hand).
    /// - 5.5 spaces between staves: crowded plates of 23 staves measure 5.3 to 5.7 (Gould, p. 517, second-hand).
    /// - 1.2 times as much between families: Gould, p. 520 (second-hand).
    /// - 8 spaces between systems: plates measure about that (Gould, p. 489, second-hand).
    /// - Half a space of clearance: from memory.
    /// - 4 spaces between staves at the least: Gould, pp. 488 and 517 (second-hand).
    /// - Dividers from six staves on: common practice.
    fn default() -> Self {
        let side = Mm(15.0);
        House {
            paper: (Mm(297.0), Mm(420.0)),
            margins: Margins { left: side, right: side, top: side, bottom: side },
            staff_height: Mm(4.5),
            staff_gap: Spaces(5.5),
            family_factor: 1.2,
            system_gap: Spaces(8.0),
            low_systems: 1.0,
            clearance: Spaces(0.5),
            least_gap: Spaces(4.0),
            dividers_from: 6,
            natural_force: 1.0,
            staves: Staves::Playing,
        }
    }
}

/// The pages of a score: as the files record them, and estimated by the house's habits where they are silent.
#[must_use]
pub fn pages(score: &Score, metrics: &Metrics, record: &Record, house: &House) -> Layout {
    let spare = BarRecord::default();
    let mut sheets = Sheets::new(score);
    let mut pages = Vec::new();
    for source in sources(score, metrics, record, house, &spare) {
        add_movement(&source, &mut sheets, &mut pages);
    }
    texts::place(score, &sheets, &mut pages);
    Layout { told: told::told(score, record, &pages), pages, ..Layout::default() }
}

/// One source a movement; `spare` stands in for what records nothing.
fn sources<'a>(
    score: &'a Score,
    metrics: &'a Metrics,
    record: &'a Record,
    house: &'a House,
    spare: &'a BarRecord,
) -> impl Iterator<Item = Source<'a>> {
    score.movements.iter().enumerate().map(move |(at, movement)| Source {
        score,
        house,
        movement,
        records: &record.bars,
        defaults: record.defaults.get(at).unwrap_or(spare),
        spare,
        staff_height: staff_height(record, at, house),
        metrics,
    })
}

fn staff_height(record: &Record, movement: usize, house: &House) -> Known<Mm> {
    match record.staff_heights.get(movement).copied().flatten() {
        Some(height) if height > Mm::ZERO => Known::recorded(height),
        _ => Known::estimated(house.staff_height),
    }
}

/// Sets one movement's systems on new pages, or on the last page where its file goes on there.
fn add_movement(source: &Source, sheets: &mut Sheets, pages: &mut Vec<Page>) {
    let lines = lines::lines(source);
    let stacks = heights::stacks(source, &lines);
    let page_breaks_recorded = lines.iter().skip(1).any(|line| line.page_break == Some(true));
    for (line, stack) in lines.iter().zip(&stacks) {
        let begins_input = line.bars.first == source.movement.bars.first && sheets.begins(source.movement.input);
        let told = pages.is_empty() || begins_input || line.page_break == Some(true);
        // Where nothing in this movement tells of pages they are filled.
        let full = !told && !page_breaks_recorded && pages.last().is_some_and(|page| !fits(page, stack));
        if full && let Some(page) = pages.last_mut() {
            page.breaks = Origin::Estimated;
        }
        if told || full {
            pages.push(sheets.turn(source, line));
        }
        let Some(page) = pages.last_mut() else { return };
        let breaks = if full { Origin::Estimated } else { line.breaks };
        page.breaks = page.breaks.weaker(breaks);
        let system = set(source, line, stack, page);
        page.systems.push(system);
    }
}

fn fits(page: &Page, stack: &Stack) -> bool {
    let Some(last) = page.systems.last() else { return true };
    let bottom = last.rect.bottom + stack.distance.value + stack.height;
    bottom <= page.size.value.1 - page.margins.value.bottom
}

/// One system at its place on a page.
fn set(source: &Source, line: &Line, stack: &Stack, page: &Page) -> System {
    let (top, placed) = match page.systems.last() {
        Some(above) => (above.rect.bottom + stack.distance.value, stack.distance.origin),
        None => (page.margins.value.top + stack.top_distance.value, stack.top_distance.origin),
    };
    let bars = barlines::barlines(source, line, page);
    let (left, right) = barlines::ends(source, line, page);
    let rect = Rect { left, top, right: bars.last().map_or(right, |bar| bar.right), bottom: top + stack.height };
    System {
        rect: rect.rounded(),
        staves: stack.staves_at(top, placed),
        bars,
        divider_above: if page.systems.is_empty() { None } else { line.dividers },
        breaks: line.breaks,
        stretch: None,
    }
}

impl Page {
    /// A page of music without systems yet.
    fn empty(size: Known<(Mm, Mm)>, margins: Known<Margins>, side: crate::layout::Side, label: String) -> Page {
        Page {
            size,
            margins,
            side,
            label,
            kind: PageKind::Music,
            breaks: Origin::Recorded,
            systems: Vec::new(),
            texts: Vec::new(),
            seen: None,
        }
    }
}

/// One movement and all that is said about its pages.
struct Source<'a> {
    score: &'a Score,
    house: &'a House,
    movement: &'a Movement,
    /// Of all bars of the work.
    records: &'a [BarRecord],
    defaults: &'a BarRecord,
    /// For bars that record nothing.
    spare: &'a BarRecord,
    staff_height: Known<Mm>,
    metrics: &'a Metrics,
}

impl Source<'_> {
    fn record(&self, bar: BarIdx) -> &BarRecord {
        self.records.get(bar.at()).unwrap_or(self.spare)
    }

    /// Width of a bar inside a system as the house spaces it.
    fn natural_width(&self, bar: BarIdx) -> Mm {
        self.mm(self.metrics.spacing.bar_at(bar, self.house.natural_force))
    }

    /// A length in spaces of this movement's unscaled staff.
    fn mm(&self, length: Spaces) -> Mm {
        length.on_staff(self.staff_height.value)
    }
}

/// The value of the first source that tells, and where that leaves it: the bar, the defaults, an estimate.
fn told_or<T>(bar: Option<T>, defaults: Option<T>, estimate: impl FnOnce() -> T) -> Known<T> {
    bar.or(defaults).map_or_else(|| Known::estimated(estimate()), Known::recorded)
}

#[cfg(test)]
mod tests;
