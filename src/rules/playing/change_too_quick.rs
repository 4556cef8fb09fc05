//! Changes of instrument, mute, mallets or tuning in too short a rest.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::BarSpan;
use crate::players::end_to_end::{Change, ChangeKind};
use crate::rules::{Case, Finding, Outcome, PART, PartCase, Rule, Scope};
use crate::score::Family;
use crate::units::Seconds;
use crate::words::{counted, sentence};

/// Time from the last note before a change to the first after it.
pub(in crate::rules) struct ChangeTooQuick {
    instrument: Limit<Seconds>,
    instrument_comfort: Limit<Seconds>,
    string_mute: Limit<Seconds>,
    brass_mute: Limit<Seconds>,
    mallets: Limit<Seconds>,
    retuning: Limit<Seconds>,
}

/// A change with the time it is given and the limit that this falls short of.
struct Short<'a> {
    change: &'a Change,
    given: Seconds,
    limit: &'a Limit<Seconds>,
}

impl Rule for ChangeTooQuick {
    const NAME: &'static str = "change-too-quick";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(ChangeTooQuick {
                instrument: limits.take("instrument")?,
                instrument_comfort: limits.take("instrument-comfort")?,
                string_mute: limits.take("string-mute")?,
                brass_mute: limits.take("brass-mute")?,
                mallets: limits.take("mallets")?,
                retuning: limits.take("retuning")?,
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let short: Vec<Short<'_>> = part.whole.changes.iter().filter_map(|change| self.short(&part, change)).collect();
        let tight = |own: &Short<'_>| own.given / own.limit.value;
        let worst = short.iter().enumerate().min_by(|(_, one), (_, other)| {
            other.limit.weight.cmp(&one.limit.weight).then(tight(one).total_cmp(&tight(other)))
        });
        let Some((at, own)) = worst else { return Outcome::Ran(Vec::new()) };
        let more = match short.len() {
            1 => String::new(),
            several => format!(" {} in all.", counted(several, "such change")),
        };
        let place = |own: &Short<'_>| {
            let wanted = format!("at least {}", own.limit.value);
            case.on_bars(bars(own.change), &[]).with_words(sentence(&format!("{}.", says(case, own))), wanted)
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(own.change.bar));
        let finding = Finding::beyond(own.limit, key, about(own.given))
            .asks(format!("at least {}", own.limit.value))
            .at(short.iter().map(place).collect())
            .worst_at(Some(at))
            .says(format!("{}.{more}", says(case, own)));
        Outcome::Ran(vec![finding])
    }
}

impl ChangeTooQuick {
    fn short<'a>(&'a self, part: &PartCase<'a>, change: &'a Change) -> Option<Short<'a>> {
        // Before the first note and after the last there is all the time in the world.
        let given = change.seconds.filter(|_| change.from.is_some() && change.to.is_some())?;
        let limits = self.limits(part.player.family, &change.kind);
        let limit = limits.into_iter().flatten().find(|limit| given < limit.value)?;
        Some(Short { change, given, limit })
    }

    /// The heavier first; none where nobody names a time.
    fn limits(&self, family: Family, kind: &ChangeKind) -> [Option<&Limit<Seconds>>; 2] {
        match (kind, family) {
            (ChangeKind::Instrument(_), _) => [Some(&self.instrument), Some(&self.instrument_comfort)],
            (ChangeKind::MuteOn | ChangeKind::MuteOff, Family::Brass) => [Some(&self.brass_mute), None],
            (ChangeKind::MuteOn | ChangeKind::MuteOff, Family::Strings) => [Some(&self.string_mute), None],
            (ChangeKind::Mallets, _) => [Some(&self.mallets), None],
            (ChangeKind::Retuning, _) => [Some(&self.retuning), None],
            // From bow to fingers takes as long as the notes around let it.
            (ChangeKind::Pizzicato | ChangeKind::Arco | ChangeKind::MuteOn | ChangeKind::MuteOff, _) => [None, None],
        }
    }
}

fn bars(change: &Change) -> BarSpan {
    let (from, to) = (change.from.unwrap_or(change.bar), change.to.unwrap_or(change.bar));
    BarSpan::new(from.min(to), from.max(to))
}

/// "No time to change to Piccolo between bar 12 and bar 13", "about 3 s to take the mute off before bar 90".
fn says(case: &Case<'_>, own: &Short<'_>) -> String {
    let what = match &own.change.kind {
        ChangeKind::Instrument(name) if name.trim().is_empty() => "to change instruments".to_owned(),
        ChangeKind::Instrument(name) => format!("to change to {}", name.trim()),
        ChangeKind::MuteOn => "to put the mute on".to_owned(),
        ChangeKind::MuteOff => "to take the mute off".to_owned(),
        ChangeKind::Mallets => "to change mallets".to_owned(),
        ChangeKind::Pizzicato => "to put the bow aside".to_owned(),
        ChangeKind::Arco => "to take up the bow".to_owned(),
        ChangeKind::Retuning => "to retune".to_owned(),
    };
    let words = own.change.words.trim();
    let quoted = if words.is_empty() { String::new() } else { format!(" (\"{words}\")") };
    let before = own.change.to.map(|bar| format!(" before {}", case.bar_words(bar))).unwrap_or_default();
    format!("{} {what}{quoted}{before}", about(own.given))
}

fn about(seconds: Seconds) -> String {
    if seconds.0 < 0.5 { "no time".to_owned() } else { format!("about {seconds}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guidelines::Weight;
    use crate::place::BarIdx;
    use crate::players::Hands;
    use crate::rules::tests::ByHand;

    fn change(kind: ChangeKind, words: &str, seconds: f64) -> Change {
        let (from, to) = (Some(BarIdx(1)), Some(BarIdx(4)));
        Change { kind, words: words.to_owned(), bar: BarIdx(2), seconds: Some(Seconds(seconds)), from, to }
    }

    fn findings(family: Family, changes: Vec<Change>) -> Vec<Finding> {
        let mut part = ByHand::new(family, Hands::Wind, 2);
        part.whole.changes = changes;
        part.findings::<ChangeTooQuick>()
    }

    fn piccolo(seconds: f64) -> Change {
        change(ChangeKind::Instrument("Piccolo".to_owned()), "muta in Piccolo", seconds)
    }

    #[test]
    fn another_instrument_takes_six_seconds_and_eight_without_haste() {
        let told = |seconds| findings(Family::Woodwind, vec![piccolo(seconds)]);
        let quick = told(3.0);
        assert_eq!(quick[0].message, "About 3 s to change to Piccolo (\"muta in Piccolo\") before bar 5.");
        assert_eq!((quick[0].weight, quick[0].limit.as_str()), (Weight::Mend, "at least 6 s"));
        let hasty = told(6.0);
        assert_eq!((hasty[0].weight, hasty[0].limit.as_str()), (Weight::Look, "at least 8 s"));
        assert!(told(8.0).is_empty());
    }

    #[test]
    fn a_mute_takes_its_time_by_where_it_goes() {
        let off = |seconds| vec![change(ChangeKind::MuteOff, "senza sord.", seconds)];
        assert_eq!(findings(Family::Brass, off(3.0)).len(), 0);
        assert_eq!(
            findings(Family::Brass, off(2.0))[0].message,
            "About 2 s to take the mute off (\"senza sord.\") before bar 5."
        );
        assert_eq!(findings(Family::Strings, off(3.0)).len(), 1);
        assert_eq!(findings(Family::Strings, off(5.0)).len(), 0);
    }

    #[test]
    fn before_the_first_note_and_between_bow_and_fingers_nothing_is_said() {
        let first = Change { from: None, ..piccolo(1.0) };
        let unknown = Change { seconds: None, ..piccolo(1.0) };
        let plucked = change(ChangeKind::Pizzicato, "pizz.", 0.0);
        assert!(findings(Family::Strings, vec![first, unknown, plucked]).is_empty());
    }

    #[test]
    fn several_changes_are_one_finding_that_tells_of_the_most_pressing() {
        let mallets = change(ChangeKind::Mallets, "hard sticks", 0.2);
        let findings = findings(Family::Percussion, vec![mallets, piccolo(5.0)]);
        assert_eq!((findings.len(), findings[0].places.len(), findings[0].worst), (1, 2, 1));
        assert_eq!(findings[0].weight, Weight::Mend);
    }
}
