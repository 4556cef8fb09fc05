//! Music beyond the margins that the page sets for itself.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::layout::Layout;
use crate::place::{BarSpan, Place};
use crate::rules::pages::is_told;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{Edge, EdgeReach};
use crate::units::Mm;

mod seen;

/// How far staves and what stands at them may reach into the margin, and how near to the edge.
pub(in crate::rules) struct MusicInMargin {
    beyond_margin: Limit<Mm>,
    beyond_margin_estimated: Limit<Mm>,
    printer_reach: Limit<Mm>,
}

impl Rule for MusicInMargin {
    const NAME: &'static str = "music-in-margin";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(MusicInMargin {
                beyond_margin: limits.take("beyond-margin")?,
                beyond_margin_estimated: limits.take("beyond-margin-estimated")?,
                printer_reach: limits.take("printer-reach")?,
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_margins().next().is_none() {
            return Outcome::CouldNotRun("recorded margins".to_owned());
        }
        if case.music_pages().any(|(_, page)| page.seen.is_some()) {
            return Outcome::Ran(seen::found(self, case).into_iter().collect());
        }
        let told = || case.told_edges();
        let is_doubled = |own: &EdgeReach| {
            let alike = |other: &EdgeReach| (own.page, own.edge, own.staff) == (other.page, other.edge, other.staff);
            !is_told(own.origin) && told().any(|other| is_told(other.origin) && alike(other) && self.is_outside(other))
        };
        let outside: Vec<&EdgeReach> = told().filter(|own| self.is_outside(own) && !is_doubled(own)).collect();
        let Some(worst) = outside.iter().min_by(|one, other| one.from_edge.0.total_cmp(&other.from_edge.0)) else {
            return Outcome::Ran(Vec::new());
        };
        let is_cut = worst.from_edge < self.printer_reach.value;
        let (limit, found) =
            if is_cut { (&self.printer_reach, worst.from_edge) } else { (self.limit_for(worst), worst.beyond) };
        let more =
            if outside.len() > 1 { format!(" The same at {} places in all.", outside.len()) } else { String::new() };
        let message = format!(
            "{}: music of {} reaches {:.1} mm into the margin at {}, {:.0} mm from the edge of the paper.{more}",
            case.page_words(worst.page),
            case.staff_words(worst.staff),
            worst.beyond.0,
            case.bar_words(worst.bar),
            worst.from_edge.max(Mm::ZERO).0,
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(worst.staff), Some(worst.bar));
        let places = outside.iter().filter_map(|own| place(case, own)).collect();
        let at = outside.iter().position(|own| std::ptr::eq(*own, *worst));
        Outcome::Ran(vec![Finding::beyond(limit, key, found.to_string()).at(places).worst_at(at).says(message)])
    }
}

impl MusicInMargin {
    fn limit_for(&self, reach: &EdgeReach) -> &Limit<Mm> {
        if is_told(reach.origin) { &self.beyond_margin } else { &self.beyond_margin_estimated }
    }

    fn is_outside(&self, reach: &EdgeReach) -> bool {
        reach.beyond > self.limit_for(reach).value
    }
}

/// The bar of that staff, and the margin as far as its music reaches.
fn place(case: &Case<'_>, own: &EdgeReach) -> Option<Place> {
    let page = case.page(own.page)?;
    let system = page.systems.get(usize::from(own.system))?;
    let mut place = case.on_staves(own.page, own.system, system, &[own.staff]);
    place.bars = Some(BarSpan::one(own.bar));
    let mut rect = Layout::rect_of(system, BarSpan::one(own.bar), &[own.staff])?;
    let ((width, height), on_paper) = (page.size.value, own.from_edge.max(Mm::ZERO));
    match own.edge {
        Edge::Top => rect.top = rect.top.min(on_paper),
        Edge::Right => rect.right = rect.right.max(width - on_paper).min(width),
        Edge::Bottom => rect.bottom = rect.bottom.max(height - on_paper),
    }
    place.rect = Some(rect.rounded());
    let says = format!(
        "{}, {}: {:.1} mm into the {} margin.",
        case.staff_words_short(own.staff),
        case.bar_words_here(own.bar),
        own.beyond.0,
        own.edge.word(),
    );
    Some(place.with_words(says, ""))
}
