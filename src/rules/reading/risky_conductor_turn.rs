//! What the conductor must give before having seen it.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarSpan, PageIdx};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{AfterTurn, AfterTurnKind};
use crate::units::Seconds;
use crate::words::listed;

/// How soon after a turn something unexpected may begin.
pub(in crate::rules) struct RiskyConductorTurn {
    after_turn: Limit<Seconds>,
}

impl Rule for RiskyConductorTurn {
    const NAME: &'static str = "risky-conductor-turn";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(RiskyConductorTurn { after_turn: limits.take("after-turn")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if !case.has_conductor() {
            return Outcome::Ran(Vec::new());
        }
        if !case.tells_all_bars() {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        }
        let openings = case.survey.openings.iter();
        let met = openings.filter_map(|own| Some((*own.pages.first()?, self.unexpected(case, &own.after_turn)?)));
        let risky: Vec<(PageIdx, &AfterTurn)> = met.collect();
        let Some((_, first)) = risky.first() else { return Outcome::Ran(Vec::new()) };
        let told = risky.iter().map(|(page, event)| format!("{} ({})", words(event), case.page_words(*page)));
        let message = format!("Unseen until the page is turned: {}.", listed(told));
        let key = case.key(Self::NAME, Scope::Bar, None, Some(first.bar));
        let place = |(_, event): &(PageIdx, &AfterTurn)| {
            let says = format!("Just after the turn: {}.", words(event));
            case.on_bars(BarSpan::one(event.bar), &[]).with_words(says, "")
        };
        let finding = Finding::beyond(&self.after_turn, key, format!("after {:.1} s", first.seconds.0))
            .asks(format!("after {} at the earliest", self.after_turn.value))
            .at(risky.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl RiskyConductorTurn {
    /// The first thing too soon after a turn that the page before could have warned of. A movement's own beginning is
    /// prepared in silence.
    fn unexpected<'a>(&self, case: &Case<'_>, events: &'a [AfterTurn]) -> Option<&'a AfterTurn> {
        events.iter().find(|event| {
            let begins = case.score.movement_of(event.bar).is_some_and(|movement| movement.bars.first == event.bar);
            event.seconds < self.after_turn.value && event.kind != AfterTurnKind::GeneralPause && !begins
        })
    }
}

/// "Allegro", "new metre 3/4"; an editor's empty brackets are no words.
fn words(event: &AfterTurn) -> String {
    match event.kind {
        AfterTurnKind::NewMetre => format!("new metre {}", event.what),
        AfterTurnKind::NewTempo if !event.what.chars().any(char::is_alphanumeric) => "new tempo".to_owned(),
        _ => event.what.replace("[ ]", "").trim().to_owned(),
    }
}
