//! What changed in each part of the bars that belong together.

use super::lines::Line;
use super::prints::{Of, Print, Prints};
use super::{BarPair, CellEdit, PartPair, What};
use crate::place::{BarIdx, StaffId};
use crate::score::Score;

/// So many of the bars that sound must have another transposition for the part to be written anew.
const WRITTEN_ANEW: f64 = 0.8;

/// One draft and its prints.
type Draft<'a> = (&'a Score, &'a Prints);

/// Fills in which parts changed in which bar, and which parts are written for another transposition.
pub(super) fn compare(
    old: Draft<'_>,
    new: Draft<'_>,
    lines: (&[Line], &[Line]),
    parts: &mut [PartPair],
    pairs: &mut [BarPair],
) {
    let told = Told::of(old.1, new.1);
    for (at, part) in parts.iter_mut().enumerate() {
        let line = |id: Option<crate::place::PartId>, lines: &'_ [Line]| id.and_then(|id| lines.get(id.at()).cloned());
        let Some((one, other)) = line(part.old, lines.0).zip(line(part.new, lines.1)) else { continue };
        part.retransposed = is_written_anew((old.0, &one), (new.0, &other), (old.1, new.1), pairs);
        let apart = one.staves.len() == other.staves.len();
        for pair in pairs.iter_mut() {
            let Some((left, right)) = pair.old.zip(pair.new) else { continue };
            let print =
                |prints: &Prints, bar: BarIdx, line: &Line| Print::of_part(prints.at(bar.at(), &line.staves), apart);
            let what = differs(&print(old.1, left, &one), &print(new.1, right, &other), &told, part.retransposed);
            if !what.is_empty() {
                pair.cells.push(CellEdit { part: at, what });
            }
        }
    }
}

/// What both files tell of the look of notes: what one of them leaves out everywhere has not changed.
#[derive(Clone, Copy, Debug)]
struct Told {
    stems: bool,
    beams: bool,
    accidentals: bool,
}

impl Told {
    fn of(old: &Prints, new: &Prints) -> Told {
        let both = |of: Of| old.tells(of) && new.tells(of);
        Told { stems: both(Of::Stems), beams: both(Of::Beams), accidentals: both(Of::Accidentals) }
    }
}

fn differs(one: &Print, other: &Print, told: &Told, retransposed: bool) -> Vec<What> {
    if one == other {
        return Vec::new();
    }
    let not = |of: Of| one.get(of) != other.get(of);
    let mut what = Vec::new();
    let mut tell = |is: bool, kind: What| {
        if is {
            what.push(kind);
        }
    };
    let rhythm = not(Of::Rhythm);
    // One desk of a section that is written for another instrument reads other notes that sound the same.
    let spelt = !retransposed && (not(Of::Spelling) || one.sounds() && other.sounds() && not(Of::Transposition));
    tell(not(Of::Pitches) || spelt, What::Notes);
    tell(rhythm, What::Rhythm);
    tell(not(Of::Cues), What::Cues);
    tell(not(Of::Dynamics), What::Dynamics);
    tell(not(Of::Words), What::Words);
    tell(not(Of::Signs), What::Signs);
    // A bar that began or ceased to sound has a clef and a key of its own accord.
    if !retransposed && one.sounds() && other.sounds() {
        tell(not(Of::Clef), What::Clef);
        tell(not(Of::Key), What::Key);
    }
    if what.is_empty() && !retransposed {
        let look =
            told.stems && not(Of::Stems) || told.beams && not(Of::Beams) || told.accidentals && not(Of::Accidentals);
        if look {
            what.push(What::Layout);
        }
    }
    what
}

/// Whether nearly all bars that sound have another transposition now.
fn is_written_anew(old: (&Score, &Line), new: (&Score, &Line), prints: (&Prints, &Prints), pairs: &[BarPair]) -> bool {
    let (mut sounding, mut other) = (0_u32, 0_u32);
    for (left, right) in pairs.iter().filter_map(|pair| pair.old.zip(pair.new)) {
        let sounds =
            |prints: &Prints, bar: BarIdx, line: &Line| prints.at(bar.at(), &line.staves).any(|print| print.sounds());
        if !sounds(prints.0, left, old.1) || !sounds(prints.1, right, new.1) {
            continue;
        }
        let of = |(score, line): (&Score, &Line), bar: BarIdx| {
            let staff = StaffId(u16::try_from(line.staves.start).unwrap_or(u16::MAX));
            score.cell(bar, staff).map(|cell| cell.transposition)
        };
        sounding += 1;
        other += u32::from(of(old, left) != of(new, right));
    }
    sounding > 0 && f64::from(other) >= WRITTEN_ANEW * f64::from(sounding)
}
