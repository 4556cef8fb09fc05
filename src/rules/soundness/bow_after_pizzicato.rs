//! Signs of the bow where pizzicato was never taken back.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarSpan, StaffId};
use crate::players::end_to_end::ChangeKind;
use crate::players::{self, Hands};
use crate::rules::{Case, Outcome, Rule};
use crate::score::{EventKind, Family, MarkKind, Signs};

/// "Arco" stands before the bow is used again.
pub(in crate::rules) struct BowAfterPizzicato {
    weight: Weight,
}

impl Rule for BowAfterPizzicato {
    const NAME: &'static str = "bow-after-pizzicato";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BowAfterPizzicato { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let strings = case
            .staves_by_movement()
            .filter(|(staff, _)| case.score.part_of(*staff).is_some_and(|part| part.family == Family::Strings));
        let mut found: Vec<At> = strings.flat_map(|(staff, bars)| on_staff(case, staff, bars)).collect();
        found.sort_by_key(|(staff, bar)| (*bar, *staff));
        let what = "Bow signs after \"pizz.\", and no \"arco\" between";
        Outcome::Ran(case.gathered(Self::NAME, self.weight, &found, what, "\"arco\"").into_iter().collect())
    }
}

/// The first bowed note after each pizzicato that nothing ended.
fn on_staff(case: &Case<'_>, staff: StaffId, bars: BarSpan) -> Vec<At> {
    let bow = Signs::named("up-bow").and(Signs::named("down-bow")).and(Signs::named("spiccato"));
    let mut plucked = false;
    let mut found = Vec::new();
    for bar in bars.iter() {
        let Some(cell) = case.score.cell(bar, staff) else { continue };
        let mut marks = cell.marks.iter().peekable();
        for event in &cell.events {
            while let Some(mark) = marks.next_if(|mark| mark.onset <= event.onset) {
                heed(&mark.kind, &mut plucked);
            }
            let sounds = matches!(event.kind, EventKind::Chord(_)) && event.printed && !event.cue;
            let is_bowed = event.signs.without(event.signs.without(bow)) != Signs::NONE || event.tremolo > 1;
            if sounds && plucked && is_bowed {
                found.push((staff, bar));
                plucked = false;
            }
        }
        marks.for_each(|mark| heed(&mark.kind, &mut plucked));
    }
    found
}

fn heed(mark: &MarkKind, plucked: &mut bool) {
    let MarkKind::Words(words) = mark else { return };
    match players::asks(words, Hands::Section) {
        Some(ChangeKind::Pizzicato) => *plucked = true,
        Some(ChangeKind::Arco) => *plucked = false,
        // "col legno", "sul pont.", "trem.": the bow is in use, and said to be.
        _ if ["legno", "pont", "trem", "bog", "archet", "gestrichen"]
            .iter()
            .any(|word| words.to_lowercase().contains(word)) =>
        {
            *plucked = false;
        }
        _ => {}
    }
}
