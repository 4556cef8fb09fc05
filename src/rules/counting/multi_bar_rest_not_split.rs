//! Multi-bar rests that swallow what a player counts by.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, Score, SystemMark, SystemMarkKind};
use crate::words::listed;

/// A multi-bar rest ends where a player needs to know the place, and holds nothing that stops the counting.
pub(in crate::rules) struct MultiBarRestNotSplit {
    weight: Weight,
}

/// A multi-bar rest, the first bar inside it that should not be, and what stands there.
type Crossed = (BarSpan, BarIdx, &'static str);

impl Rule for MultiBarRestNotSplit {
    const NAME: &'static str = "multi-bar-rest-not-split";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(MultiBarRestNotSplit { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let crossed: Vec<Crossed> = recorded(case.score).filter_map(|rest| crossed(case.score, rest)).collect();
        let Some((rest, bar, what)) = crossed.first() else { return Outcome::Ran(Vec::new()) };
        let message = match crossed.len() {
            1 => format!(
                "The rest of {} bars at {} runs on through {what} at {}.",
                rest.count(),
                case.bar_words(rest.first),
                case.bar_words_here(*bar)
            ),
            several => {
                let rests = crossed.iter().map(|(rest, ..)| case.bars_words(*rest));
                format!("{several} multi-bar rests run on through rehearsal marks and changes: {}.", listed(rests))
            }
        };
        let place = |(rest, bar, what): &Crossed| {
            let says = format!("{} bars of rest; {what} stands at {}.", rest.count(), case.bar_words(*bar));
            case.on_bars(*rest, &[]).with_words(says, "")
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(rest.first));
        let finding = Finding::unlimited(self.weight, key, format!("{what} inside a multi-bar rest"))
            .asks("the rest divided there")
            .at(crossed.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// Multi-bar rests as the file writes them, cut where its music ends.
fn recorded(score: &Score) -> impl Iterator<Item = BarSpan> {
    score.bars.iter().enumerate().filter_map(|(at, bar)| {
        let first = u32::try_from(at).ok()?;
        let bars = bar.multi_bar_rest.filter(|bars| *bars > 1)?;
        let end = u32::try_from(score.bars.len()).ok()?.min(first.saturating_add(bars));
        Some(BarSpan::new(BarIdx(first), BarIdx(end.checked_sub(1)?)))
    })
}

fn crossed(score: &Score, rest: BarSpan) -> Option<Crossed> {
    rest.iter().find_map(|bar| {
        let begins = (bar > rest.first).then(|| landmark(score, bar)).flatten();
        Some((rest, bar, begins.or_else(|| pause(score, bar))?))
    })
}

/// What a player counts by, or must see, at the beginning of a bar.
fn landmark(score: &Score, bar: BarIdx) -> Option<&'static str> {
    let own = score.bar(bar)?;
    let before = score.bar(BarIdx(bar.0.checked_sub(1)?))?;
    if score.movements.iter().any(|movement| movement.bars.first == bar) {
        return Some("the beginning of a movement");
    }
    let marked = printed_at(score, bar).find_map(|mark| match mark.kind {
        SystemMarkKind::Rehearsal(_) => Some("a rehearsal mark"),
        SystemMarkKind::Tempo { .. } => Some("a tempo mark"),
        _ => None,
    });
    let metre = own.metre_changes.then_some("a new metre");
    let key = || cells(score, bar).iter().any(|cell| cell.key_changes).then_some("a new key");
    let double = own.left.is_double || before.right.is_double || own.left.repeat || before.right.repeat;
    marked.or(metre).or_else(key).or(double.then_some("a double bar"))
}

/// What stops the counting anywhere in a bar.
fn pause(score: &Score, bar: BarIdx) -> Option<&'static str> {
    let held = cells(score, bar).iter().flat_map(|cell| &cell.events).any(|event| event.fermata);
    if held || score.bar(bar)?.right.fermata {
        return Some("a fermata");
    }
    printed_at(score, bar).find_map(|mark| match mark.kind {
        SystemMarkKind::GeneralPause => Some("a general pause"),
        SystemMarkKind::TempoMoves(_) => Some("a moving tempo"),
        _ => None,
    })
}

/// Playback alone prints nothing.
fn printed_at(score: &Score, bar: BarIdx) -> impl Iterator<Item = &SystemMark> {
    let from = score.marks.partition_point(|mark| mark.bar < bar);
    score.marks.iter().skip(from).take_while(move |mark| mark.bar == bar).filter(|mark| !mark.over.is_empty())
}

fn cells(score: &Score, bar: BarIdx) -> &[Cell] {
    let staves = score.staves.len();
    let from = bar.at().saturating_mul(staves);
    score.cells.get(from..from.saturating_add(staves)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::score;
    use crate::score::Family;

    /// Ten bars, eight of them one rest from the second on.
    fn horn() -> (Score, BarSpan) {
        (score(&[("Horn", Family::Brass, 1)], 10), BarSpan::new(BarIdx(1), BarIdx(8)))
    }

    #[test]
    fn what_begins_with_the_rest_does_not_divide_it() {
        let (mut score, rest) = horn();
        score.bars[1].metre_changes = true;
        assert_eq!(crossed(&score, rest), None);
        score.bars[5].metre_changes = true;
        assert_eq!(crossed(&score, rest), Some((rest, BarIdx(5), "a new metre")));
    }

    #[test]
    fn a_double_bar_stands_at_the_end_of_the_bar_before() {
        let (mut score, rest) = horn();
        score.bars[8].right.is_double = true;
        assert_eq!(crossed(&score, rest), None);
        score.bars[4].right.is_double = true;
        assert_eq!(crossed(&score, rest), Some((rest, BarIdx(5), "a double bar")));
    }

    #[test]
    fn a_fermata_stops_the_counting_wherever_it_stands() {
        let (mut score, rest) = horn();
        score.cells[1].events[0].fermata = true;
        assert_eq!(crossed(&score, rest), Some((rest, BarIdx(1), "a fermata")));
    }
}
