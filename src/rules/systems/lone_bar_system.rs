//! Systems for a bar alone whose music does not need the width.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::layout::System;
use crate::place::{BarSpan, PageIdx, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::counted;

/// A system of this many bars or fewer is looked at.
pub(in crate::rules) struct LoneBarSystem {
    bars: Limit<u32>,
    /// Symbols per 100 spaces that make a page crowded.
    crowded: u32,
}

impl Rule for LoneBarSystem {
    const NAME: &'static str = "lone-bar-system";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let crowded = guidelines.read("crowded-page", |limits| limits.take::<u32>("symbols"))?;
        guidelines.read(Self::NAME, |limits| Ok(LoneBarSystem { bars: limits.take("bars")?, crowded: crowded.value }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<(PageIdx, u16, &System, BarSpan)> =
            case.told_systems().filter_map(|(page, at, system)| Some((page, at, system, system.span()?))).collect();
        if told.is_empty() {
            return Outcome::CouldNotRun("recorded system breaks".to_owned());
        }
        let lone: Vec<_> = told
            .into_iter()
            .filter(|(_, _, _, bars)| bars.count() <= self.bars.value && !is_whole_movement(case, *bars))
            .filter(|(page, _, system, bars)| !self.needs_the_width(case, *bars) && is_drawn_out(case, *page, system))
            .collect();
        let Some((first_page, _, _, first)) = lone.first() else { return Outcome::Ran(Vec::new()) };
        let bars = counted(first.count() as usize, "bar");
        let message = match lone.len() {
            1 => format!(
                "{}: a system holds {bars} only ({}), drawn out to the full line.",
                case.page_words(*first_page),
                case.bar_words(first.first)
            ),
            several => format!("{several} systems hold {bars} only, drawn out to the full line."),
        };
        let key = case.key(Self::NAME, Scope::System, None, Some(first.first));
        let places = lone.iter().map(|(page, at, system, _)| case.on_system(*page, *at, system)).collect();
        let finding = Finding::beyond(&self.bars, key, counted(lone.len(), "system")).at(places);
        Outcome::Ran(vec![
            finding.asks(format!("more than {}", counted(self.bars.value as usize, "bar"))).says(message),
        ])
    }
}

impl LoneBarSystem {
    /// With another such bar beside it, the system would be crowded.
    fn needs_the_width(&self, case: &Case<'_>, bars: BarSpan) -> bool {
        let staves = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        let cells = staves.flat_map(|staff| bars.iter().map(move |bar| case.survey.density.cell(bar, staff)));
        let densest = cells.filter_map(|cell| cell.per_100_spaces).fold(0.0_f32, f32::max);
        f64::from(densest) * 2.0 > f64::from(self.crowded)
    }
}

/// A line that stops short is another fault.
fn is_drawn_out(case: &Case<'_>, page: PageIdx, system: &System) -> bool {
    const FULL_LINE: f64 = 90.0;
    case.line_fill(page, system).is_none_or(|fill| fill > FULL_LINE)
}

fn is_whole_movement(case: &Case<'_>, bars: BarSpan) -> bool {
    case.score.movement_of(bars.first).is_some_and(|movement| movement.bars == bars)
}
