//! Cues that break off before they have led to the entry.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::rules::counting::cues::Cue;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::{counted_in_words, listed, sentence};

/// Bars left to be counted between a cue and the entry, and how near a cue stands that is meant for the entry.
pub(in crate::rules) struct CueEndsTooSoon {
    left: Limit<u32>,
    near: Limit<u32>,
}

impl Rule for CueEndsTooSoon {
    const NAME: &'static str = "cue-ends-too-soon";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines
            .read(Self::NAME, |limits| Ok(CueEndsTooSoon { left: limits.take("left")?, near: limits.take("near")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let cues = case.cues();
        let short: Vec<(Cue, u32)> =
            cues.iter().enumerate().filter_map(|(at, cue)| self.short(cue, cues.get(at + 1))).collect();
        let Some((worst, (cue, left))) =
            short.iter().enumerate().max_by_key(|(at, (_, left))| (*left, usize::MAX - at))
        else {
            return Outcome::Ran(Vec::new());
        };
        let says = |cue: &Cue, left: u32| {
            let entry = cue.entry.map(|bar| case.bar_words(bar)).unwrap_or_default();
            let bars = counted_in_words(left as usize, "bar");
            format!("the cue in {} ends {bars} before the entry at {entry}", case.bars_words(cue.bars))
        };
        let message = match short.len() {
            1 => format!("{}.", says(cue, *left)),
            several => {
                let cues = short.iter().map(|(cue, _)| case.bars_words(cue.bars));
                format!("{several} cues end bars before the entry that they lead to: {}.", listed(cues))
            }
        };
        let place = |(cue, left): &(Cue, u32)| {
            case.on_bars(cue.bars, &[cue.staff]).with_words(sentence(&format!("{}.", says(cue, *left))), "")
        };
        let key = case.key(Self::NAME, Scope::Bar, Some(cue.staff), Some(cue.bars.first));
        let finding =
            Finding::beyond(&self.left, key, format!("{} left to count", counted_in_words(*left as usize, "bar")))
                .asks("a cue up to the bar before the entry")
                .at(short.iter().map(place).collect())
                .worst_at(Some(worst))
                .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl CueEndsTooSoon {
    /// The cue with the bars left to count after it, where they are too many. A cue that another one follows before the
    /// entry, or that stands far off, is there to count by.
    fn short(&self, cue: &Cue, next: Option<&Cue>) -> Option<(Cue, u32)> {
        let entry = cue.entry?;
        let is_last = next.is_none_or(|next| next.staff != cue.staff || next.entry != cue.entry);
        let left = entry.0.saturating_sub(cue.bars.last.0).saturating_sub(1);
        (is_last && left > self.left.value && left <= self.near.value).then_some((*cue, left))
    }
}
