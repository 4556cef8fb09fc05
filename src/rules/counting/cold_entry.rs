//! Entries after long silence, as information.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::BarSpan;
use crate::players::end_to_end::ColdEntry as Entry;
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::units::Seconds;
use crate::words::{all_listed, counted};

/// How long the silence before the entry lasts.
pub(in crate::rules) struct ColdEntry {
    silent: Limit<Seconds>,
}

impl Rule for ColdEntry {
    const NAME: &'static str = "cold-entry";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(ColdEntry { silent: limits.take("silent")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        // The first is the one that asks most.
        let cold: Vec<&Entry> = part.whole.cold.iter().filter(|entry| entry.silent >= self.silent.value).collect();
        let Some(most) = cold.first() else { return Outcome::Ran(Vec::new()) };
        let mut placed = cold.clone();
        placed.sort_by_key(|entry| (entry.bar, entry.onset));
        let more = match cold.len() {
            1 => String::new(),
            several => format!(" {} in all.", counted(several, "such entry").replace("entrys", "entries")),
        };
        let place = |entry: &&Entry| {
            case.on_bars(BarSpan::one(entry.bar), &[]).with_words(format!("{}.", says(case, entry)), "")
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(most.bar));
        let finding = Finding::beyond(&self.silent, key, format!("{} of silence", most.silent))
            .asks("for the player to know")
            .at(placed.iter().map(place).collect())
            .worst_at(placed.iter().position(|entry| std::ptr::eq(*entry, *most)))
            .says(format!("{}.{more}", says(case, most)));
        Outcome::Ran(vec![finding])
    }
}

/// "The entry at bar 88 comes after 5'10\" of silence: high, ff and nearly alone".
fn says(case: &Case<'_>, entry: &Entry) -> String {
    let high = entry.high.then(|| "high".to_owned());
    let loud = entry.loudness.and_then(dynamic).map(str::to_owned);
    let exposed = entry.exposed.then(|| "nearly alone".to_owned());
    let how: Vec<String> = [high, loud, exposed].into_iter().flatten().collect();
    let how = if how.is_empty() { String::new() } else { format!(": {}", all_listed(&how)) };
    format!("The entry at {} comes after {} of silence{how}", case.bar_words(entry.bar), entry.silent)
}

/// Of a level that says something; mp and mf share theirs.
fn dynamic(loudness: i8) -> Option<&'static str> {
    match loudness {
        i8::MIN..=-4 => Some("pppp"),
        -3 => Some("ppp"),
        -2 => Some("pp"),
        -1 => Some("p"),
        0 => None,
        1 => Some("f"),
        2 => Some("ff"),
        3 => Some("fff"),
        4..=i8::MAX => Some("ffff"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::BarIdx;
    use crate::players::Hands;
    use crate::rules::tests::ByHand;
    use crate::score::Family;
    use crate::units::Fraction;

    fn entry(bar: u32, silent: f64) -> Entry {
        Entry {
            bar: BarIdx(bar),
            onset: Fraction::ZERO,
            silent: Seconds(silent),
            first: None,
            loudness: Some(2),
            high: true,
            exposed: true,
        }
    }

    #[test]
    fn a_minute_of_silence_is_told_of_and_a_little_less_is_not() {
        let mut part = ByHand::new(Family::Brass, Hands::Wind, 4);
        part.whole.cold = vec![entry(20, 59.9)];
        assert_eq!(part.says::<ColdEntry>(), [""; 0]);
        part.whole.cold = vec![entry(20, 310.0), entry(4, 60.0)];
        let said =
            ["The entry at bar 21 comes after 5'10\" of silence: high, ff and nearly alone. 2 such entries in all."];
        let findings = part.findings::<ColdEntry>();
        assert_eq!([findings[0].message.as_str()], said);
        assert_eq!((findings[0].places.len(), findings[0].worst), (2, 1));
    }
}
