//! Parts dropped, added, renamed, in another order, written for another transposition.

use super::super::seed::Seed;
use super::super::text::{Cut, elements, has, value};
use super::super::truth::{NewPart, Truth};
use super::pitch::Interval;

/// Names that no open score has; without numbers, which would make one player of two.
const NAMES: [&str; 8] =
    ["Querfloete", "Schalmei", "Zink", "Feldtrompete", "Bauernleier", "Bombarde", "Gamba", "Serpent"];
/// A tone, a minor third, a fifth: written so much higher than it sounds.
const INTERVALS: [Interval; 3] =
    [Interval { steps: 1, half_tones: 2 }, Interval { steps: 2, half_tones: 3 }, Interval { steps: 4, half_tones: 7 }];

pub fn drop(truth: &mut Truth, seed: &mut Seed) -> bool {
    let able = truth.parts.len() > 3;
    if able {
        truth.parts.remove(seed.below(truth.parts.len()));
    }
    able
}

/// A copy of another part, at other pitches.
pub fn add(cut: &Cut, truth: &mut Truth, seed: &mut Seed) -> bool {
    let sounding: Vec<usize> = (0..cut.parts.len()).filter(|part| plays(cut, *part)).collect();
    let Some(source) = sounding.get(seed.below(sounding.len())).copied() else { return false };
    let part = NewPart {
        is: None,
        source,
        shift: [-3, -2, 2, 3][seed.below(4)],
        name: free_name(cut, truth, seed),
        id: Some(format!("Added-{}", cut.parts[source].id)),
        transposed: None,
    };
    truth.parts.insert(seed.below(truth.parts.len() + 1), part);
    true
}

pub fn rename(cut: &Cut, truth: &mut Truth, seed: &mut Seed) -> bool {
    let name = free_name(cut, truth, seed);
    let kept: Vec<usize> = (0..truth.parts.len()).filter(|at| truth.parts[*at].is.is_some()).collect();
    let Some(at) = kept.get(seed.below(kept.len())) else { return false };
    truth.parts[*at].name = name;
    true
}

/// One part elsewhere, or the whole order turned about one place.
pub fn reorder(truth: &mut Truth, seed: &mut Seed) -> bool {
    let count = truth.parts.len();
    if count < 2 {
        return false;
    }
    if seed.coin() {
        let from = seed.below(count);
        let to = (from + 1 + seed.below(count - 1)) % count;
        let part = truth.parts.remove(from);
        truth.parts.insert(to, part);
    } else {
        truth.parts.rotate_left(1 + seed.below(count - 1));
    }
    true
}

/// A part that sounds as written becomes one for an instrument in B flat, A or F.
pub fn transpose(cut: &Cut, truth: &mut Truth, seed: &mut Seed) -> bool {
    let able: Vec<(usize, Interval)> = truth
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.is.is_some() && plays(cut, part.source))
        .flat_map(|(at, part)| INTERVALS.into_iter().filter(|by| can_be(cut, part.source, *by)).map(move |by| (at, by)))
        .collect();
    let Some((at, by)) = able.get(seed.below(able.len())) else { return false };
    truth.parts[*at].transposed = Some(*by);
    true
}

fn plays(cut: &Cut, part: usize) -> bool {
    cut.parts[part].bars.iter().any(|bar| has(bar, "pitch"))
}

/// Whether it is at sounding pitch and stays within seven signs.
fn can_be(cut: &Cut, part: usize, by: Interval) -> bool {
    cut.parts[part].bars.iter().all(|bar| {
        let fits = |range: std::ops::Range<usize>| {
            let fifths: Option<i32> = value(&bar[range], "fifths").and_then(|text| text.parse().ok());
            fifths.is_some_and(|fifths| (fifths + by.fifths()).abs() <= 7)
        };
        !has(bar, "transpose") && !has(bar, "unpitched") && elements(bar, "fifths").all(fits)
    })
}

fn free_name(cut: &Cut, truth: &Truth, seed: &mut Seed) -> Option<String> {
    let first = seed.below(NAMES.len());
    let names = (0..NAMES.len()).map(|nth| NAMES[(first + nth) % NAMES.len()]);
    let is_taken = |name: &str| {
        cut.parts.iter().any(|part| part.entry.contains(name))
            || truth.parts.iter().any(|part| part.name.as_deref() == Some(name))
    };
    names.into_iter().find(|name| !is_taken(name)).map(str::to_owned)
}
