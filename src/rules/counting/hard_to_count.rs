//! Silences that a player is likely to lose count in.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::BarIdx;
use crate::players::end_to_end::{CueFrom, HardToCount as Reason, Silence};
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::score::Pitch;
use crate::units::Seconds;
use crate::words::{all_listed, counted, sentence};

/// How long a silence must be, how many things must come together in it, and how many of one player are shown at most.
pub(in crate::rules) struct HardToCount {
    bars: Limit<u32>,
    time: Limit<Seconds>,
    reasons: Limit<u32>,
    shown: Limit<u32>,
}

impl Rule for HardToCount {
    const NAME: &'static str = "hard-to-count";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(HardToCount {
                bars: limits.take("bars")?,
                time: limits.take("time")?,
                reasons: limits.take("reasons")?,
                shown: limits.take("shown")?,
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let mut hard: Vec<(u16, &Silence)> = part
            .whole
            .rests
            .iter()
            .filter_map(|rest| Some((rest.rank?, rest)))
            .filter(|(_, rest)| self.is_hard(rest))
            .collect();
        hard.sort_by_key(|(rank, rest)| (*rank, rest.bars));
        hard.truncate(self.shown.value as usize);
        let Some((_, hardest)) = hard.first().copied() else { return Outcome::Ran(Vec::new()) };
        hard.sort_by_key(|(_, rest)| rest.bars);
        let more = match hard.len() {
            1 => String::new(),
            several => format!(" {} in all.", counted(several, "such rest")),
        };
        let place =
            |(_, rest): &(u16, &Silence)| case.on_bars(rest.bars, &[]).with_words(sentence(&says(case, rest)), "");
        let key = case.key(Self::NAME, Scope::Bar, None, Some(hardest.bars.first));
        let finding =
            Finding::beyond(&self.reasons, key, counted(hardest.hard.len(), "difficulty").replace("ys", "ies"))
                .asks("a cue before the entry")
                .at(hard.iter().map(place).collect())
                .worst_at(hard.iter().position(|(_, rest)| rest.bars == hardest.bars))
                .says(format!("{}{more}", says(case, hardest)));
        Outcome::Ran(vec![match &hardest.cue {
            Some(cue) => finding.with_remedy(format!("Print a cue before the entry: {}.", cue_words(case, cue))),
            None => finding,
        }])
    }
}

impl HardToCount {
    fn is_hard(&self, rest: &Silence) -> bool {
        let is_long = rest.bars.count() >= self.bars.value || rest.seconds.is_some_and(|time| time >= self.time.value);
        is_long && !rest.has_cue && rest.hard.len() >= self.reasons.value as usize
    }
}

/// "24 bars of rest before bar 88 (1'12\"), without a cue: 3 changes of metre and an entry off the beat."
fn says(case: &Case<'_>, rest: &Silence) -> String {
    let entry = Some(BarIdx(rest.bars.last.0.saturating_add(1))).filter(|bar| case.score.bar(*bar).is_some());
    let before = entry.map(|bar| format!(" before {}", case.bar_words(bar))).unwrap_or_default();
    let time = rest.seconds.map(|seconds| format!(" ({seconds})")).unwrap_or_default();
    // How long it is stands there already.
    let telling = rest.hard.iter().filter(|reason| **reason != Reason::Long || rest.hard.len() == 1);
    let reasons: Vec<String> = telling.map(|reason| reason_words(*reason)).collect();
    let bars = counted(rest.bars.count() as usize, "bar");
    let cue =
        rest.cue.as_ref().map(|cue| format!(" A cue could come from {}.", cue_words(case, cue))).unwrap_or_default();
    format!("{bars} of rest{before}{time}, without a cue: {}.{cue}", all_listed(&reasons))
}

fn reason_words(reason: Reason) -> String {
    match reason {
        Reason::Long => "many bars".to_owned(),
        Reason::MetreChanges(1) => "a change of metre".to_owned(),
        Reason::MetreChanges(changes) => format!("{changes} changes of metre"),
        Reason::Fermata => "a fermata".to_owned(),
        Reason::TempoMoves => "a moving tempo".to_owned(),
        Reason::GeneralPause => "a general pause".to_owned(),
        Reason::OffTheBeat => "an entry off the beat".to_owned(),
        Reason::EntersAlone => "an entry alone".to_owned(),
        Reason::LandmarkAfter => "the landmark only after the entry".to_owned(),
    }
}

/// "Trombone 1, bars 86-87 (from E flat 4, written F4)".
fn cue_words(case: &Case<'_>, cue: &CueFrom) -> String {
    let sounding = pitch_words(cue.sounding);
    let written =
        if cue.sounding == cue.written { String::new() } else { format!(", written {}", pitch_words(cue.written)) };
    format!("{}, {} (from {sounding}{written})", cue.name.trim(), case.bars_words(cue.bars))
}

/// "E flat 4".
fn pitch_words(pitch: Pitch) -> String {
    const STEPS: [&str; 7] = ["C", "D", "E", "F", "G", "A", "B"];
    let step = STEPS.get(usize::from(pitch.step)).copied().unwrap_or_default();
    let alter = match pitch.alter {
        2 => " sharp ",
        -2 => " flat ",
        4 => " double sharp ",
        -4 => " double flat ",
        1 => " quarter-tone sharp ",
        -1 => " quarter-tone flat ",
        _ => "",
    };
    format!("{step}{alter}{}", pitch.octave)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::{BarSpan, PartId};
    use crate::players::Hands;
    use crate::rules::tests::ByHand;
    use crate::score::Family;

    fn rest(first: u32, last: u32, rank: u16, hard: &[Reason]) -> Silence {
        Silence {
            bars: BarSpan::new(BarIdx(first), BarIdx(last)),
            seconds: Some(Seconds(2.0 * f64::from(last - first + 1))),
            hard: hard.to_vec(),
            rank: Some(rank),
            has_cue: false,
            cue: None,
        }
    }

    fn trombone(rests: Vec<Silence>) -> ByHand {
        let mut part = ByHand::new(Family::Brass, Hands::Wind, 8);
        part.whole.rests = rests;
        part
    }

    #[test]
    fn a_cue_is_named_as_it_sounds_and_as_it_would_be_written() {
        let mut hard = rest(2, 41, 1, &[Reason::MetreChanges(3), Reason::OffTheBeat]);
        let pitch = |octave, step, alter| Pitch { octave, step, alter };
        hard.cue = Some(CueFrom {
            part: PartId(4),
            name: "Trombone 1".to_owned(),
            bars: BarSpan::new(BarIdx(40), BarIdx(41)),
            sounding: pitch(4, 2, -2),
            written: pitch(4, 3, 0),
        });
        let findings = trombone(vec![hard]).findings::<HardToCount>();
        assert_eq!(
            findings[0].message,
            "40 bars of rest before bar 43 (1'20\"), without a cue: 3 changes of metre and an entry off the beat. A cue \
             could come from Trombone 1, bars 41-42 (from E flat 4, written F4)."
        );
        assert_eq!(
            findings[0].remedy,
            "Print a cue before the entry: Trombone 1, bars 41-42 (from E flat 4, written F4)."
        );
    }

    #[test]
    fn the_three_hardest_are_one_finding_in_the_order_of_the_music() {
        let two = [Reason::Long, Reason::Fermata];
        let rests = vec![rest(0, 9, 4, &two), rest(12, 21, 2, &two), rest(22, 31, 1, &two), rest(33, 42, 3, &two)];
        let findings = trombone(rests).findings::<HardToCount>();
        assert_eq!(findings.len(), 1);
        let firsts: Vec<u32> =
            findings[0].places.iter().filter_map(|place| place.bars).map(|bars| bars.first.0).collect();
        assert_eq!((firsts, findings[0].worst), (vec![12, 22, 33], 1));
        assert_eq!(
            findings[0].message,
            "10 bars of rest before bar 33 (20 s), without a cue: a fermata. 3 such rests in all."
        );
    }

    #[test]
    fn length_alone_is_nothing_two_bars_are_counted_and_a_cue_is_help_enough() {
        let long = rest(0, 40, 1, &[Reason::Long]);
        let short = rest(41, 42, 3, &[Reason::MetreChanges(1), Reason::OffTheBeat]);
        let mut cued = rest(44, 60, 2, &[Reason::Long, Reason::Fermata]);
        cued.has_cue = true;
        assert_eq!(trombone(vec![long, short, cued]).says::<HardToCount>(), [""; 0]);
    }
}
