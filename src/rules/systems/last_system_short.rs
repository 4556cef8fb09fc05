//! Last systems of movements that stop short of the margin.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::layout::System;
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// The part of the line that a last system fills.
pub(in crate::rules) struct LastSystemShort {
    fill: Limit<Percent>,
}

/// A last system of a movement with the share of the line that it fills, in per cent.
type Last<'a> = (PageIdx, u16, &'a System, f64);

impl Rule for LastSystemShort {
    const NAME: &'static str = "last-system-short";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(LastSystemShort { fill: limits.take("fill")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let last: Vec<Last<'_>> = case.told_systems().filter_map(|own| filled(case, own)).collect();
        if last.is_empty() {
            return Outcome::CouldNotRun("recorded system breaks and bar widths".to_owned());
        }
        let short: Vec<Last<'_>> = last.into_iter().filter(|(_, _, _, fill)| *fill < self.fill.value.0).collect();
        let Some((page, _, system, least)) = short.iter().min_by(|one, other| one.3.total_cmp(&other.3)) else {
            return Outcome::Ran(Vec::new());
        };
        let least = least.floor();
        let message = match short.len() {
            1 => format!("{}: the last system fills {least} % of the line.", case.page_words(*page)),
            several => format!("The last systems of {several} movements fill {least} % of the line or little more."),
        };
        let key = case.key(Self::NAME, Scope::System, None, system.span().map(|bars| bars.first));
        let finding = Finding::beyond(&self.fill, key, format!("{least} %"))
            .at(short.iter().map(|(page, at, system, _)| case.on_system(*page, *at, system)).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// `None` for every system but a movement's last, and for movements of one system.
fn filled<'a>(case: &Case<'_>, (page, at, system): (PageIdx, u16, &'a System)) -> Option<Last<'a>> {
    let bars = system.span()?;
    let movement = case.score.movement_of(bars.first)?.bars;
    if bars.last != movement.last || bars.first == movement.first {
        return None;
    }
    Some((page, at, system, case.line_fill(page, system)?))
}
