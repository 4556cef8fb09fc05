//! Entries that do not say how loud.

use super::gathered::At;
use crate::guidelines::{Guidelines, Limit, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Outcome, Rule};
use crate::score::{EventKind, MarkKind};
use crate::units::Fraction;

/// Who comes in is told how loud.
pub(in crate::rules) struct EntryWithoutDynamic {
    weight: Weight,
    /// In bars.
    long_rest: Limit<u32>,
}

impl Rule for EntryWithoutDynamic {
    const NAME: &'static str = "entry-without-dynamic";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(EntryWithoutDynamic { weight: limits.weight(), long_rest: limits.take("long-rest")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let has = |staff: StaffId, bars: BarSpan| bars.iter().any(|bar| says_loudness(case, staff, bar, None));
        let (mut first, mut later): (Vec<At>, Vec<At>) = (Vec::new(), Vec::new());
        for movement in &case.score.movements {
            let staves: Vec<StaffId> = case.all_staves().filter(|staff| is_top(case, *staff)).collect();
            let marked = staves.iter().filter(|staff| has(**staff, movement.bars)).count();
            // Older music and sketches leave dynamics to the players.
            if marked * 2 < staves.len() {
                continue;
            }
            for staff in staves {
                self.on_staff(case, staff, movement.bars, &mut first, &mut later);
            }
        }
        first.sort_by_key(|(staff, bar)| (*bar, *staff));
        later.sort_by_key(|(staff, bar)| (*bar, *staff));
        let rests = self.long_rest.value;
        let what = format!("Entries after {rests} bars of rest or more without a dynamic");
        let found = [
            case.gathered(Self::NAME, self.weight, &first, "First entries without a dynamic", "a dynamic"),
            case.gathered(Self::NAME, self.long_rest.weight, &later, &what, "a dynamic"),
        ];
        Outcome::Ran(found.into_iter().flatten().collect())
    }
}

impl EntryWithoutDynamic {
    fn on_staff(&self, case: &Case<'_>, staff: StaffId, bars: BarSpan, first: &mut Vec<At>, later: &mut Vec<At>) {
        let mut rests = 0;
        let mut sounded = false;
        // A dynamic under the rest before an entry is the entry's.
        let mut told = false;
        for bar in bars.iter() {
            let Some(entry) = entry(case, staff, bar) else {
                rests += 1;
                told |= says_loudness(case, staff, bar, None);
                continue;
            };
            let is_told = told || says_loudness(case, staff, bar, Some(entry));
            if !is_told && !sounded {
                first.push((staff, bar));
            } else if !is_told && rests >= self.long_rest.value {
                later.push((staff, bar));
            }
            (rests, sounded, told) = (0, true, false);
        }
    }
}

/// The first staff of its part; a pianist's or harpist's hands share their dynamics.
fn is_top(case: &Case<'_>, staff: StaffId) -> bool {
    case.score.staves.get(staff.at()).is_some_and(|staff| staff.number == 1)
}

/// Staves of the same part.
fn of_part(case: &Case<'_>, staff: StaffId) -> Vec<StaffId> {
    case.score.staves.get(staff.at()).map_or_else(Vec::new, |own| case.score.staves_of(own.part).collect())
}

/// Where the first note of a bar begins, on any staff of the part.
fn entry(case: &Case<'_>, staff: StaffId, bar: BarIdx) -> Option<Fraction> {
    let cells = of_part(case, staff).into_iter().filter_map(|staff| case.score.cell(bar, staff));
    let onsets = cells.flat_map(|cell| {
        let sounds =
            cell.events.iter().filter(|event| matches!(event.kind, EventKind::Chord(_)) && !event.cue && event.printed);
        sounds.map(|event| event.onset)
    });
    onsets.min()
}

/// Whether a dynamic, a hairpin or words of loudness stand in a bar, up to a beat after `entry` where one is given.
fn says_loudness(case: &Case<'_>, staff: StaffId, bar: BarIdx, entry: Option<Fraction>) -> bool {
    let until = entry.and_then(|entry| entry.checked_add(Fraction::ONE));
    let cells = of_part(case, staff).into_iter().filter_map(|staff| case.score.cell(bar, staff));
    cells.flat_map(|cell| &cell.marks).filter(|mark| until.is_none_or(|until| mark.onset <= until)).any(|mark| {
        match &mark.kind {
            MarkKind::Dynamic(_) | MarkKind::HairpinStart { .. } => true,
            MarkKind::Words(words) => {
                let words = words.to_lowercase();
                ["piano", "forte", "voce", "cresc", "dim", "simile", " pp", " ff"].iter().any(|own| words.contains(own))
            }
            _ => false,
        }
    })
}
