//! Cues in another clef or key than the part they stand in.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::BarIdx;
use crate::rules::counting::cues::{Cue, cue_notes, own_notes};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, Clef, Key, Score};
use crate::words::{listed, sentence};

/// A cue is written as the player would play it.
pub(in crate::rules) struct CueWrongKeyOrClef {
    weight: Weight,
}

/// What of a cue differs from the music around it.
#[derive(Clone, Copy)]
enum Differs {
    Clef,
    Key,
}

impl Rule for CueWrongKeyOrClef {
    const NAME: &'static str = "cue-wrong-key-or-clef";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(CueWrongKeyOrClef { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let wrong: Vec<(Cue, Differs)> =
            case.cues().into_iter().filter_map(|cue| Some((cue, differs(case.score, &cue)?))).collect();
        let Some((first, differs)) = wrong.first() else { return Outcome::Ran(Vec::new()) };
        let says = |cue: &Cue, differs: Differs| {
            format!(
                "the cue in {} stands in another {} than the player's notes",
                case.bars_words(cue.bars),
                differs.word()
            )
        };
        let message = match wrong.len() {
            1 => format!("{}.", says(first, *differs)),
            several => {
                let cues = wrong.iter().map(|(cue, _)| case.bars_words(cue.bars));
                format!("{several} cues stand in another clef or key than the player's notes: {}.", listed(cues))
            }
        };
        let place = |(cue, differs): &(Cue, Differs)| {
            case.on_bars(cue.bars, &[cue.staff]).with_words(sentence(&format!("{}.", says(cue, *differs))), "")
        };
        let key = case.key(Self::NAME, Scope::Bar, Some(first.staff), Some(first.bars.first));
        let finding = Finding::unlimited(self.weight, key, format!("another {}", differs.word()))
            .asks("clef and key of the part")
            .at(wrong.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl Differs {
    fn word(self) -> &'static str {
        match self {
            Differs::Clef => "clef",
            Differs::Key => "key",
        }
    }
}

/// Only where clef or key are the same before the cue and at the entry: otherwise the part itself changes there.
fn differs(score: &Score, cue: &Cue) -> Option<Differs> {
    let entry = score.cell(cue.entry?, cue.staff)?;
    let entry_clef = entry.clef_at(own_notes(entry).next()?.onset);
    let (before_clef, before_key) = before(score, cue)?;
    let cells = || cue.bars.iter().filter_map(|bar| score.cell(bar, cue.staff));
    let clef_of = |cell: &Cell| cue_notes(cell).any(|note| cell.clef_at(note.onset) != entry_clef);
    if before_clef == entry_clef && cells().any(clef_of) {
        return Some(Differs::Clef);
    }
    (before_key == entry.key && cells().any(|cell| cell.key != entry.key)).then_some(Differs::Key)
}

/// Clef and key in force when the bar before the cue ended.
fn before(score: &Score, cue: &Cue) -> Option<(Clef, Key)> {
    let bar = BarIdx(cue.bars.first.0.checked_sub(1)?);
    let cell = score.cell(bar, cue.staff)?;
    Some((cell.clef_at(score.bar(bar)?.length), cell.key))
}
