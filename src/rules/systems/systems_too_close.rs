//! Systems that stand closer to each other than their own staves do.

use crate::guidelines::{Guidelines, Limit, Mismatch, Times};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{Gap, GapKind};
use crate::units::Mm;
use crate::words::counted;

/// Room between systems: in a score over the widest gap between staves beside it, in a part the white left.
pub(in crate::rules) struct SystemsTooClose {
    system_gap: Limit<Times>,
    part_clear: Limit<Mm>,
}

impl Rule for SystemsTooClose {
    const NAME: &'static str = "systems-too-close";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(SystemsTooClose { system_gap: limits.take("system-gap")?, part_clear: limits.take("part-clear")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let has_several = case.music_pages().any(|(_, page)| page.systems.len() > 1);
        let told: Vec<&Gap> = case.told_gaps().filter(|gap| gap.kind == GapKind::Systems).collect();
        if told.is_empty() && has_several {
            return Outcome::CouldNotRun("recorded distances between systems".to_owned());
        }
        let finding = if case.is_part() { self.in_part(case, &told) } else { self.in_score(case, &told) };
        Outcome::Ran(finding.into_iter().collect())
    }
}

impl SystemsTooClose {
    fn in_score(&self, case: &Case<'_>, gaps: &[&Gap]) -> Option<Finding> {
        let beside: Vec<(&Gap, Mm)> = gaps.iter().filter_map(|gap| Some((*gap, widest_beside(case, gap)?))).collect();
        let limit = |widest: Mm| (widest * self.system_gap.value.0).rounded();
        let close: Vec<(&Gap, Mm)> =
            beside.into_iter().filter(|(gap, widest)| gap.height.rounded() < limit(*widest)).collect();
        let share = |(gap, widest): &(&Gap, Mm)| gap.height / *widest;
        let (worst, widest) = close.iter().copied().min_by(|one, other| share(one).total_cmp(&share(other)))?;
        let message = format!(
            "{}: two systems stand {} apart, closer than staves inside them ({}).{}",
            case.page_words(worst.page),
            worst.height.in_tenths(),
            widest.in_tenths(),
            more(close.len()),
        );
        let finding = Finding::beyond(
            &self.system_gap,
            case.key(Self::NAME, Scope::Work, None, None),
            worst.height.in_tenths().to_string(),
        );
        let at = close.iter().position(|(gap, _)| std::ptr::eq(*gap, worst));
        let place = |(gap, widest): &(&Gap, Mm)| {
            let says = format!(
                "Two systems {} apart; {} between staves inside them.",
                gap.height.in_tenths(),
                widest.in_tenths()
            );
            case.on_gap(gap).with_words(says, wanted(limit(*widest)))
        };
        let places = close.iter().map(place).collect();
        Some(finding.asks(wanted(limit(widest))).at(places).worst_at(at).says(message))
    }

    fn in_part(&self, case: &Case<'_>, gaps: &[&Gap]) -> Option<Finding> {
        let close: Vec<&Gap> =
            gaps.iter().copied().filter(|gap| gap.clearance().rounded() < self.part_clear.value).collect();
        let worst = close.iter().min_by(|one, other| one.clearance().0.total_cmp(&other.clearance().0))?;
        let white = worst.clearance().rounded().max(Mm::ZERO);
        let message = format!(
            "{}: only {white} of white between two systems.{}",
            case.page_words(worst.page),
            more(close.len()),
        );
        let finding =
            Finding::beyond(&self.part_clear, case.key(Self::NAME, Scope::Work, None, None), white.to_string());
        Some(finding.at(close.iter().map(|gap| case.on_gap(gap)).collect()).says(message))
    }
}

/// In tenths, as what was found.
fn wanted(least: Mm) -> String {
    format!("at least {}", least.in_tenths())
}

fn more(pairs: usize) -> String {
    match pairs {
        0 | 1 => String::new(),
        pairs => format!(" {} in all.", counted(pairs, "such gap")),
    }
}

/// The widest gap between staves of the two systems that a gap parts.
fn widest_beside(case: &Case<'_>, gap: &Gap) -> Option<Mm> {
    let beside = case.survey.gaps_of(gap.page).filter(|other| {
        other.kind != GapKind::Systems && (other.system == gap.system || other.system + 1 == gap.system)
    });
    beside.map(|other| other.height.rounded()).reduce(Mm::max)
}
