//! Marks over the system: one, however many parts print it.

use std::mem;

use crate::place::StaffId;
use crate::score::{SystemMark, SystemMarkKind};

/// Sorts marks and joins those that say the same at the same place. First those over one staff, so that a count goes with
/// the words beside it, whichever staff is the upper one.
pub(super) fn join(mut marks: Vec<SystemMark>) -> Vec<SystemMark> {
    marks.sort_by_key(|mark| (mark.bar, mark.onset, first_staff(mark)));
    let by_staff = joined(marks, |known, mark| known.over == mark.over);
    let mut all = joined(by_staff, |_, _| true);
    for mark in &mut all {
        mark.over.sort_unstable();
        mark.over.dedup();
    }
    all
}

/// Joins marks that say the same at the same place and may be joined.
fn joined(marks: Vec<SystemMark>, may: impl Fn(&SystemMark, &SystemMark) -> bool) -> Vec<SystemMark> {
    let mut joined: Vec<SystemMark> = Vec::with_capacity(marks.len());
    let mut group = 0;
    for mark in marks {
        if joined.get(group).is_some_and(|first| (first.bar, first.onset) != (mark.bar, mark.onset)) {
            group = joined.len();
        }
        // Some orders of magnitude more than stand at one place in any score.
        const AT_ONE_PLACE: usize = 64;
        let rest = joined.iter_mut().skip(group).take(AT_ONE_PLACE);
        let mut left = Some(mark);
        for known in rest {
            left = left.take().and_then(|mark| if may(known, &mark) { absorb(known, mark) } else { Some(mark) });
            if left.is_none() {
                break;
            }
        }
        joined.extend(left);
    }
    joined
}

/// Printed marks before playback, upper staves first.
fn first_staff(mark: &SystemMark) -> StaffId {
    mark.over.first().copied().unwrap_or(StaffId(u16::MAX))
}

/// Takes `mark` into `known` when both say the same; gives it back when they do not.
fn absorb(known: &mut SystemMark, mark: SystemMark) -> Option<SystemMark> {
    let same = match (&mut known.kind, &mark.kind) {
        (
            SystemMarkKind::Tempo { words, metronome, quarters_per_minute },
            SystemMarkKind::Tempo { words: other_words, metronome: other_mark, quarters_per_minute: other_tempo },
        ) => {
            let agree = (words.is_empty() || other_words.is_empty() || words == other_words)
                && (metronome.is_none() || other_mark.is_none() || metronome == other_mark);
            if agree {
                if words.is_empty() {
                    words.clone_from(other_words);
                }
                // A printed count outweighs what playback does.
                let from_print = metronome.is_none() && other_mark.is_some();
                *quarters_per_minute = if from_print {
                    other_tempo.or(*quarters_per_minute)
                } else {
                    quarters_per_minute.or(*other_tempo)
                };
                if from_print {
                    metronome.clone_from(other_mark);
                }
            }
            agree
        }
        // A jump of playback beside a printed one is that one.
        (SystemMarkKind::Jump(_), SystemMarkKind::Jump(_)) if mark.over.is_empty() => true,
        (one, other) => one == other,
    };
    if !same {
        return Some(mark);
    }
    if known.over.is_empty() {
        known.at = mark.at;
    }
    let mut over = mem::take(&mut known.over);
    over.extend(mark.over);
    known.over = over;
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::BarIdx;
    use crate::score::{MetronomeMark, Position};
    use crate::units::Fraction;

    fn mark(kind: SystemMarkKind, over: &[u16]) -> SystemMark {
        let over = over.iter().copied().map(StaffId).collect();
        SystemMark { bar: BarIdx(3), onset: Fraction::ZERO, kind, over, at: Position::default() }
    }

    fn tempo(words: &str, quarters_per_minute: Option<f64>) -> SystemMarkKind {
        SystemMarkKind::Tempo { words: words.to_owned(), metronome: None, quarters_per_minute }
    }

    #[test]
    fn a_tempo_printed_over_two_staves_is_one_mark_with_its_playback() {
        let joined = join(vec![
            mark(tempo("", Some(72.0)), &[]),
            mark(tempo("Adagio", None), &[9]),
            mark(tempo("Adagio", None), &[0]),
        ]);
        assert_eq!(joined, [mark(tempo("Adagio", Some(72.0)), &[0, 9])]);
    }

    #[test]
    fn a_count_goes_with_the_words_over_its_own_staff_whichever_is_the_upper_one() {
        let metronome = Some(MetronomeMark { beat: Fraction::ONE, per_minute: "130".to_owned() });
        let count = SystemMarkKind::Tempo { words: String::new(), metronome, quarters_per_minute: Some(130.0) };
        for (one, other) in [(0, 7), (7, 0)] {
            let marks = vec![
                mark(tempo("a tempo", None), &[one]),
                mark(count.clone(), &[one]),
                mark(tempo("1er mouv.", None), &[other]),
            ];
            let words = |mark: &SystemMark| match &mark.kind {
                SystemMarkKind::Tempo { words, metronome, .. } => (words.clone(), metronome.is_some()),
                _ => Default::default(),
            };
            let mut joined: Vec<_> = join(marks).iter().map(words).collect();
            joined.sort();
            assert_eq!(joined, [("1er mouv.".to_owned(), false), ("a tempo".to_owned(), true)]);
        }
    }

    #[test]
    fn different_marks_at_one_place_stay_apart() {
        let rehearsal = |letter: &str| mark(SystemMarkKind::Rehearsal(letter.to_owned()), &[0]);
        assert_eq!(join(vec![rehearsal("A"), rehearsal("B"), rehearsal("A")]).len(), 2);
    }
}
