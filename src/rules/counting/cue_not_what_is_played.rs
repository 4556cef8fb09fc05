//! Cues whose notes nobody plays.

use std::collections::BTreeSet;

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, StaffId};
use crate::rules::counting::cues::{Cue, cue_notes, own_notes};
use crate::rules::{Case, Finding, Outcome, PART, PartCase, Rule, Scope};
use crate::score::{Cell, Event, EventKind, Score};
use crate::units::Fraction;
use crate::words::{counted, listed};

/// A cue is what is heard.
pub(in crate::rules) struct CueNotWhatIsPlayed {
    weight: Weight,
}

/// Shorter cues may be an effect that no pitch tells (a bell, a drum).
const FEW: usize = 3;

impl Rule for CueNotWhatIsPlayed {
    const NAME: &'static str = "cue-not-what-is-played";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(CueNotWhatIsPlayed { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        if part.orchestra.staves.len() <= part.player.staves.len() {
            return Outcome::CouldNotRun("the score that the part belongs to".to_owned());
        }
        let wrong: Vec<Cue> = case.cues().into_iter().filter(|cue| is_wrong(cue, case.score, &part)).collect();
        let Some(first) = wrong.first() else { return Outcome::Ran(Vec::new()) };
        let place = |cue: &Cue| case.on_bars(cue.bars, &[cue.staff]);
        let at = listed(wrong.iter().map(|cue| case.bar_words(cue.bars.first)));
        let key = case.key(Self::NAME, Scope::Bar, Some(first.staff), Some(first.bars.first));
        let message = match wrong.len() {
            1 => format!("The cue at {at} is not what anybody plays there."),
            _ => format!("The cues at {at} are not what anybody plays there."),
        };
        let finding = Finding::unlimited(self.weight, key, counted(wrong.len(), "cue") + " unlike the score")
            .asks("notes that somebody plays")
            .at(wrong.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// A note as it is heard, whatever its octave: bar, onset, quarter tones above C.
type Heard = (BarIdx, Fraction, i32);

fn is_wrong(cue: &Cue, music: &Score, part: &PartCase<'_>) -> bool {
    let wanted: BTreeSet<Heard> = cue.bars.iter().flat_map(|bar| heard(music, bar, cue.staff, cue_notes)).collect();
    if wanted.len() < FEW {
        return false;
    }
    let orchestra = part.orchestra;
    let others = (0..orchestra.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    let most = others
        .filter(|staff| !part.player.staves.contains(staff))
        .map(|staff| {
            let played = cue.bars.iter().flat_map(|bar| heard(orchestra, bar, staff, own_notes));
            played.collect::<BTreeSet<Heard>>().intersection(&wanted).count()
        })
        .max();
    most.unwrap_or(0) * 2 < wanted.len()
}

fn heard<'a, I: Iterator<Item = &'a Event> + 'a>(
    score: &'a Score,
    bar: BarIdx,
    staff: StaffId,
    of: impl Fn(&'a Cell) -> I,
) -> Vec<Heard> {
    const OCTAVE: i32 = 24;
    let Some(cell) = score.cell(bar, staff) else { return Vec::new() };
    let notes = of(cell).flat_map(|event| match &event.kind {
        EventKind::Chord(notes) => notes.iter().map(|note| (event.onset, note.pitch)).collect(),
        EventKind::Rest { .. } => Vec::new(),
    });
    notes
        .map(|(onset, pitch)| (bar, onset, cell.transposition.sounding(pitch).quarter_tones().rem_euclid(OCTAVE)))
        .collect()
}
