//! What can be said of an input only when all of its parts are read.

use std::collections::BTreeSet;

use super::draft::{BarDraft, LocalStaff, Music};
use super::repeats;
use crate::layout::StaffRecord;
use crate::units::Fraction;

/// Metres in force, lengths of empty bars, multi-bar rests, repeats, hidden staves. `parts` is their number.
pub(super) fn finish(music: &mut Music, parts: usize) {
    metres(&mut music.bars);
    for draft in &mut music.bars {
        let (saying, bars) = draft.multi_rests;
        draft.bar.multi_bar_rest = (saying == parts && bars > 0).then_some(bars);
    }
    repeats::follow(&mut music.bars, music.limits.plays_per_bar, &mut music.oddities);
    reset_hidden_staves(&mut music.bars);
}

fn metres(bars: &mut [BarDraft]) {
    let mut metre = None;
    for (at, draft) in bars.iter_mut().enumerate() {
        if let Some(said) = draft.metre.take() {
            draft.bar.metre_changes = draft.metre_printed && said.is_some() && (at == 0 || said != metre);
            metre = said;
        }
        draft.bar.metre.clone_from(&metre);
        // A bar in which no part writes anything still lasts as long as its metre.
        if draft.bar.length.is_zero() {
            draft.bar.length = metre.as_ref().map_or(Fraction::ZERO, |metre| metre.length);
        }
    }
}

/// Many files hide a staff anew at each system and never show it again: there, hiding holds for one system only.
fn reset_hidden_staves(bars: &mut [BarDraft]) {
    if bars.iter().flat_map(|draft| &draft.staves).any(|(_, record)| record.shown == Some(true)) {
        return;
    }
    let mut hidden: BTreeSet<LocalStaff> = BTreeSet::new();
    for draft in bars {
        let begins = draft.record.new_system == Some(true) || draft.record.new_page == Some(true);
        let hides: BTreeSet<LocalStaff> =
            draft.staves.iter().filter(|(_, record)| record.shown == Some(false)).map(|(staff, _)| *staff).collect();
        draft.staves.sort_by_key(|(staff, _)| *staff);
        if begins {
            let said = draft.staves.len();
            for staff in hidden.difference(&hides) {
                let known =
                    draft.staves.get(..said).unwrap_or_default().binary_search_by_key(staff, |(known, _)| *known);
                match known.ok().and_then(|at| draft.staves.get_mut(at)) {
                    Some((_, record)) => record.shown = Some(true),
                    None => draft.staves.push((*staff, shown_again())),
                }
            }
            hidden.clear();
        }
        hidden.extend(hides);
    }
}

fn shown_again() -> StaffRecord {
    StaffRecord { shown: Some(true), ..StaffRecord::default() }
}
