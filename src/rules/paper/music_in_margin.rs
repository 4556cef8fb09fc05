//! Music beyond the margins that the page sets for itself.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::layout::Layout;
use crate::place::{BarSpan, Place};
use crate::rules::places::sentence;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::EdgeReach;
use crate::units::Mm;

/// How far staves and what stands at them may reach into the margin, and how near to the edge.
pub(in crate::rules) struct MusicInMargin {
    beyond_margin: Limit<Mm>,
    printer_reach: Limit<Mm>,
}

impl Rule for MusicInMargin {
    const NAME: &'static str = "music-in-margin";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            let (beyond_margin, printer_reach) = (limits.take("beyond-margin")?, limits.take("printer-reach")?);
            Ok(MusicInMargin { beyond_margin, printer_reach })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_margins().next().is_none() {
            return Outcome::CouldNotRun("recorded margins".to_owned());
        }
        let outside: Vec<&EdgeReach> = case.told_edges().filter(|own| own.beyond > self.beyond_margin.value).collect();
        let Some(worst) = outside.iter().min_by(|one, other| one.from_edge.0.total_cmp(&other.from_edge.0)) else {
            return Outcome::Ran(Vec::new());
        };
        let is_cut = worst.from_edge < self.printer_reach.value;
        let (limit, found) =
            if is_cut { (&self.printer_reach, worst.from_edge) } else { (&self.beyond_margin, worst.beyond) };
        let more =
            if outside.len() > 1 { format!(" The same at {} places in all.", outside.len()) } else { String::new() };
        let message = format!(
            "{}: {} reaches {} into the margin at {}, {} from the edge of the paper.{more}",
            sentence(&case.page_words(worst.page)),
            case.staff_words(worst.staff),
            worst.beyond,
            case.bar_words(worst.bar),
            worst.from_edge.max(Mm::ZERO),
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(worst.staff), Some(worst.bar));
        let places = outside.iter().filter_map(|own| place(case, own)).collect();
        Outcome::Ran(vec![Finding::beyond(limit, key, found.to_string()).at(places).says(message)])
    }
}

fn place(case: &Case<'_>, own: &EdgeReach) -> Option<Place> {
    let system = case.page(own.page)?.systems.get(usize::from(own.system))?;
    let mut place = case.on_staves(own.page, own.system, system, &[own.staff]);
    place.rect = Layout::rect_of(system, BarSpan::one(own.bar), &[own.staff]).map(|rect| rect.rounded());
    place.bars = Some(BarSpan::one(own.bar));
    Some(place)
}
