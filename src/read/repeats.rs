//! How often each bar is played, by following repeats and endings as written.

use super::draft::BarDraft;
use super::oddities::{Oddities, Oddity};
use crate::score::Ending;

/// Spreads endings over their bars, then counts plays. Bars are those of one movement.
pub(super) fn follow(bars: &mut [BarDraft], plays_per_bar: usize, oddities: &mut Oddities) {
    spread_endings(bars, oddities);
    let plays = count_plays(bars, plays_per_bar);
    if plays.is_none() {
        oddities.add(Oddity::Repeats, None, String::new);
    }
    let plays = plays.unwrap_or_else(|| vec![1; bars.len()]);
    for (draft, plays) in bars.iter_mut().zip(plays) {
        draft.bar.times_played = plays.max(1);
    }
}

/// An ending holds from its start to its stop; one that is never closed ends with the next repeat or before the next
/// ending.
fn spread_endings(bars: &mut [BarDraft], oddities: &mut Oddities) {
    let mut open: Option<Vec<u32>> = None;
    for at in 0..bars.len() {
        let next_starts = bars.get(at + 1).is_none_or(|next| next.ending_starts.is_some());
        let Some(draft) = bars.get_mut(at) else { return };
        let starts = draft.ending_starts.take();
        let starts_here = starts.is_some();
        if starts.as_ref().is_some_and(Vec::is_empty) {
            let label = &draft.bar.label;
            oddities.add(Oddity::Endings, None, || format!("bar {label}"));
        }
        open = starts.or(open);
        let Some(times) = open.take() else { continue };
        let closed = draft.ending_stops;
        let ends = closed || draft.bar.right.repeat || next_starts;
        if ends && !closed {
            let label = &draft.bar.label;
            oddities.add(Oddity::Endings, None, || format!("bar {label}"));
        }
        if !ends {
            open = Some(times.clone());
        }
        draft.bar.ending = Some(Ending { times, starts: starts_here, stops: ends });
    }
}

/// `None` when the structure leads nowhere.
fn count_plays(bars: &[BarDraft], plays_per_bar: usize) -> Option<Vec<u32>> {
    let mut plays = vec![0_u32; bars.len()];
    let mut steps = bars.len().saturating_mul(plays_per_bar.max(1));
    let (mut at, mut section, mut pass) = (0, 0, 1_u32);
    while let Some(BarDraft { bar, plays: asked, .. }) = bars.get(at) {
        steps = steps.checked_sub(1)?;
        if bar.left.repeat && at != section {
            (section, pass) = (at, 1);
        }
        let ending = bar.ending.as_ref();
        if let Some(ending) = ending {
            if ending.times.is_empty() {
                return None;
            }
            if ending.starts && !ending.times.contains(&pass) {
                let past = past_ending(bars, at);
                steps = steps.checked_sub(past - at)?;
                at = past;
                continue;
            }
        }
        let count = plays.get_mut(at)?;
        *count = count.checked_add(1)?;
        let goes_back = bar.right.repeat
            && match ending {
                // An ending with a repeat leads back each time that it is played.
                Some(_) => true,
                None => pass < asked.unwrap_or(2),
            };
        if goes_back {
            pass = pass.checked_add(1)?;
            at = section;
            continue;
        }
        at += 1;
        let leaves_ending = ending.is_some_and(|ending| ending.stops);
        if bar.right.repeat || leaves_ending {
            (section, pass) = (at, 1);
        }
    }
    plays.iter().all(|count| *count > 0).then_some(plays)
}

/// The bar after the ending that begins at `at`.
fn past_ending(bars: &[BarDraft], at: usize) -> usize {
    let stops = |draft: &BarDraft| draft.bar.ending.as_ref().is_none_or(|ending| ending.stops);
    let length = bars.iter().skip(at).position(stops).unwrap_or(bars.len());
    at.saturating_add(length + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `|` before a bar: repeat begins; after it: repeat ends; `1`, `2`: an ending of one bar.
    fn plays(music: &[&str]) -> Vec<u32> {
        let bar = |text: &&str| {
            let mut draft = BarDraft::default();
            draft.bar.left.repeat = text.starts_with('|');
            draft.bar.right.repeat = text.ends_with('|');
            let digits: Vec<u32> = text.chars().filter_map(|c| c.to_digit(10)).collect();
            if !digits.is_empty() {
                draft.ending_starts = Some(digits);
                draft.ending_stops = true;
            }
            draft
        };
        let mut bars: Vec<BarDraft> = music.iter().map(bar).collect();
        follow(&mut bars, 100, &mut Oddities::default());
        bars.iter().map(|draft| draft.bar.times_played).collect()
    }

    #[test]
    fn a_repeat_without_a_beginning_goes_back_to_the_start_or_to_the_last_repeat() {
        assert_eq!(plays(&["a", "b|", "c", "d|", "e"]), [2, 2, 2, 2, 1]);
    }

    #[test]
    fn a_repeated_passage_is_played_twice() {
        assert_eq!(plays(&["a", "|b", "c|", "d"]), [1, 2, 2, 1]);
    }

    #[test]
    fn endings_are_played_in_their_turn() {
        assert_eq!(plays(&["|a", "1|", "2", "b"]), [2, 1, 1, 1]);
        assert_eq!(plays(&["|a", "12|", "3", "b"]), [3, 2, 1, 1]);
        assert_eq!(plays(&["|a", "1|", "2|", "3", "b"]), [3, 1, 1, 1, 1]);
    }

    #[test]
    fn a_structure_that_leads_nowhere_counts_as_played_once() {
        assert_eq!(plays(&["|a", "7", "b"]), [1, 1, 1]);
    }

    #[test]
    fn the_number_of_plays_may_be_written() {
        let mut bars = vec![BarDraft::default()];
        bars[0].bar.right.repeat = true;
        bars[0].plays = Some(4);
        follow(&mut bars, 100, &mut Oddities::default());
        assert_eq!(bars[0].bar.times_played, 4);
    }
}
