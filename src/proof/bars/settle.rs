//! A rest that is counted wrong does not tell which of its bars is missing: the one is taken that leaves the others
//! most alike in their numbers, barlines, pauses and cues.

use std::ops::Range;

use crate::align::Step;
use crate::proof::cues;
use crate::proof::side::Both;

/// Pairs the bars of each run anew, so that those without partner stand together.
pub(super) fn settle(both: &Both<'_>, steps: &mut [Step], runs: &[Range<usize>]) {
    for run in runs {
        let Some(own) = steps.get_mut(run.clone()) else { continue };
        let line: Vec<usize> = own
            .iter()
            .filter_map(|step| if let Step::Both(at, _) | Step::Left(at) = step { Some(*at) } else { None })
            .collect();
        let part: Vec<usize> = own
            .iter()
            .filter_map(|step| if let Step::Both(_, at) | Step::Right(at) = step { Some(*at) } else { None })
            .collect();
        let both_ways = line.len().max(part.len());
        // A run with bars missing and others too many has been paired by what else it says.
        if line.is_empty() || part.is_empty() || line.len() == part.len() || both_ways != own.len() {
            continue;
        }
        let new = paired(both, &line, &part);
        own.iter_mut().zip(new).for_each(|(old, new)| *old = new);
    }
}

/// A bar that is missing among equal ones could be any of them: those are taken that leave the others their numbers.
/// `same` tells of two bars of the line (`true`) or the part whether they are equal.
pub(super) fn slide(both: &Both<'_>, steps: &mut [Step], same: impl Fn(bool, usize, usize) -> bool) {
    let numbered = |step: Step| {
        let Step::Both(line, part) = step else { return 0 };
        let bars = both.line.bar(line).zip(both.part.bar(part));
        i32::from(bars.is_some_and(|(line, part)| line.label == part.label))
    };
    let mut block = Block { start: 0, end: 0 };
    while block.next(steps) {
        for way in [Way::Back, Way::On] {
            let (mut now, mut best, mut moved, mut kept) = (0, 0, 0, 0);
            while let Some((before, after)) = block.slide(steps, way, &same) {
                moved += 1;
                now += numbered(after) - numbered(before);
                if now > best {
                    (best, kept) = (now, moved);
                }
            }
            for _ in kept..moved {
                block.slide(steps, way.back(), &same);
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Back,
    On,
}

impl Way {
    fn back(self) -> Way {
        if self == Way::Back { Way::On } else { Way::Back }
    }
}

/// Neighbouring bars of one side without partners, as a range of steps.
struct Block {
    start: usize,
    end: usize,
}

impl Block {
    /// Goes on to the next one.
    fn next(&mut self, steps: &[Step]) -> bool {
        let alone = |step: &Step| !matches!(step, Step::Both(..));
        let rest = steps.get(self.end..).unwrap_or_default();
        let Some(first) = rest.iter().position(alone) else { return false };
        let start = self.end + first;
        let left = matches!(steps.get(start), Some(Step::Left(_)));
        let own = |step: &&Step| alone(step) && matches!(step, Step::Left(_)) == left;
        let length = steps.get(start..).unwrap_or_default().iter().take_while(own).count();
        (self.start, self.end) = (start, start + length);
        true
    }

    /// Moves the block one bar, where the bar that it takes equals the one that it gives away; the pair as it was and
    /// as it is.
    fn slide(
        &mut self,
        steps: &mut [Step],
        way: Way,
        same: &impl Fn(bool, usize, usize) -> bool,
    ) -> Option<(Step, Step)> {
        let pair_at = if way == Way::Back { self.start.checked_sub(1)? } else { self.end };
        let far_at = if way == Way::Back { self.end.checked_sub(1)? } else { self.start };
        let Step::Both(line, part) = *steps.get(pair_at)? else { return None };
        let left = matches!(steps.get(far_at)?, Step::Left(_));
        let (taken, given) = match *steps.get(far_at)? {
            Step::Left(far) => (line, far),
            Step::Right(far) => (part, far),
            Step::Both(..) => return None,
        };
        if !same(left, taken, given) {
            return None;
        }
        let pair = if left { Step::Both(given, part) } else { Step::Both(line, given) };
        let alone = if left { Step::Left(taken) } else { Step::Right(taken) };
        let run = steps.get_mut(pair_at.min(far_at)..=pair_at.max(far_at))?;
        // What stands between stays: each bar of the block but the far one is still alone.
        if way == Way::Back {
            *run.first_mut()? = alone;
            *run.last_mut()? = pair;
            (self.start, self.end) = (self.start - 1, self.end - 1);
        } else {
            *run.first_mut()? = pair;
            *run.last_mut()? = alone;
            (self.start, self.end) = (self.start + 1, self.end + 1);
        }
        Some((Step::Both(line, part), pair))
    }
}

/// The shorter run beside the beginning of the longer one up to some bar, and beside its end from there on.
fn paired(both: &Both<'_>, line: &[usize], part: &[usize]) -> Vec<Step> {
    let (short, more) = (line.len().min(part.len()), line.len().abs_diff(part.len()));
    let place = |nth: usize, moved: bool| {
        let by = if moved { more } else { 0 };
        let (l, p) = if line.len() > part.len() { (nth + by, nth) } else { (nth, nth + by) };
        Some((*line.get(l)?, *part.get(p)?))
    };
    let alike = |nth: usize, moved: bool| place(nth, moved).map_or(0.0, |(line, part)| alike(both, line, part));
    let mut now: f64 = (0..short).map(|nth| alike(nth, true)).sum();
    let (mut best, mut split) = (now, 0);
    for nth in 0..short {
        now += alike(nth, false) - alike(nth, true);
        if now > best {
            (best, split) = (now, nth + 1);
        }
    }
    let both_of = |nth: usize, moved: bool| place(nth, moved).map(|(line, part)| Step::Both(line, part));
    let alone = |nth: usize| {
        if line.len() > part.len() {
            line.get(nth).map(|at| Step::Left(*at))
        } else {
            part.get(nth).map(|at| Step::Right(*at))
        }
    };
    let before = (0..split).filter_map(|nth| both_of(nth, false));
    let between = (split..split + more).filter_map(alone);
    let after = (split..short).filter_map(|nth| both_of(nth, true));
    before.chain(between).chain(after).collect()
}

/// What two silent bars have in common.
fn alike(both: &Both<'_>, line: usize, part: usize) -> f64 {
    let Some((one, other)) = both.line.bar(line).zip(both.part.bar(part)) else { return 0.0 };
    let yes = |is: bool| if is { 1.0 } else { 0.0 };
    let fermata = |side: &crate::proof::side::Side<'_>, at: usize| {
        side.cells(at).iter().flat_map(|cell| &cell.events).any(|event| event.fermata)
    };
    let key = |side: &crate::proof::side::Side<'_>, at: usize| side.cells(at).iter().any(|cell| cell.key_changes);
    let furniture = one.right.is_double == other.right.is_double && one.left.is_double == other.left.is_double;
    yes(one.label == other.label)
        + yes(furniture)
        + yes(fermata(&both.line, line) == fermata(&both.part, part))
        + yes(key(&both.line, line) == key(&both.part, part))
        + 2.0 * yes(cues::is_played(both, line, part))
}
