//! Sheets to be printed again, and what can be written in by hand.

use super::*;
use crate::check;
use crate::compare::{Fate, Reason};
use crate::proof::beat_number;

/// One document of the old draft, as it lies on the stands, or a new one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Reprint {
    /// "score", or the player's name.
    pub document: String,
    /// "both", "added" or "dropped".
    pub kind: String,
    /// Leaves of the old draft, in order.
    pub sheets: Vec<Sheet>,
    /// What has to be printed, by pages as the old draft numbers them; by those of the new draft where it has pages of its
    /// own, or is new.
    pub print: Vec<Vec<String>>,
    /// Whether the new music goes onto as many pages, so that all later sheets stay; null where nothing is printed or the new
    /// draft has pages of its own.
    pub leaf_for_leaf: Option<bool>,
    /// In a few words; empty where nothing is to be done.
    pub why: String,
}

/// One leaf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Sheet {
    /// As printed.
    pub pages: Vec<String>,
    /// Of the old draft; null where no music stands on it.
    pub bars: Option<BarSpan>,
    /// "keep", "by-hand" or "print".
    pub fate: String,
    pub why: Vec<Why>,
    /// Printed bar numbers on it are no longer those of the new draft.
    pub other_numbers: bool,
}

/// Neighbouring bars that changed in one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Why {
    /// "edited", "out", "in", "moved-away", "moved-in" or "set-otherwise" (the same music on other pages).
    pub change: String,
    pub what: Vec<String>,
    /// Of the old draft; the last bar before what was put in.
    pub old_bars: BarSpan,
    pub new_bars: Option<BarSpan>,
    /// The player rests there: only a count of bars changes.
    pub rests: bool,
}

/// One line of the errata slip.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Erratum {
    /// "score", or the player's name.
    pub document: String,
    pub old_index: BarIdx,
    pub new_index: Option<BarIdx>,
    /// As printed in the old draft.
    pub bar_label: String,
    /// Counted from 1 in beats of the metre; null where it is about the whole bar.
    pub beat: Option<String>,
    pub text: String,
}

impl Reprint {
    pub(super) fn of(own: &check::Reprint, compared: &Compared) -> Reprint {
        let layouts = super::super::words::layouts(own.reader, compared);
        let labels = |layout: Option<&crate::layout::Layout>, pages: &[PageIdx]| -> Vec<String> {
            let label = |page: &PageIdx| layout.map_or_else(String::new, |layout| layout.page_label(*page));
            pages.iter().map(label).collect()
        };
        let sheets: Vec<Sheet> =
            own.sheets.sheets.iter().map(|sheet| Sheet::of(sheet, labels(layouts.0, &sheet.sheet.pages))).collect();
        let print = match &own.new_sheets {
            Some(new) => new.iter().map(|sheet| labels(layouts.1, &sheet.pages)).collect(),
            None => sheets.iter().filter(|sheet| sheet.fate == "print").map(|sheet| sheet.pages.clone()).collect(),
        };
        Reprint {
            document: document(own.reader, compared),
            kind: match own.kind {
                ReprintKind::Both => "both",
                ReprintKind::Added => "added",
                ReprintKind::Dropped => "dropped",
            }
            .to_owned(),
            sheets,
            print,
            leaf_for_leaf: (!own.replacements.is_empty())
                .then(|| own.replacements.iter().all(check::Replacement::fits)),
            why: super::super::words::why(own, compared),
        }
    }
}

impl Sheet {
    fn of(own: &compare::SheetFate, pages: Vec<String>) -> Sheet {
        Sheet {
            pages,
            bars: own.sheet.bars,
            fate: match own.fate {
                Fate::Keep => "keep",
                Fate::ByHand => "by-hand",
                Fate::Print => "print",
            }
            .to_owned(),
            why: own.why.iter().map(Why::of).collect(),
            other_numbers: own.numbers,
        }
    }
}

impl Why {
    fn of(own: &compare::Why) -> Why {
        let (change, what): (&str, &[compare::What]) = match &own.reason {
            Reason::Edited(what) => ("edited", what),
            Reason::Out => ("out", &[]),
            Reason::In => ("in", &[]),
            Reason::MovedAway => ("moved-away", &[]),
            Reason::MovedIn => ("moved-in", &[]),
            Reason::SetOtherwise => ("set-otherwise", &[]),
        };
        Why {
            change: change.to_owned(),
            what: what.iter().map(|what| what.name().to_owned()).collect(),
            old_bars: own.bars,
            new_bars: own.new_bars,
            rests: own.rests,
        }
    }
}

pub(super) fn errata(compared: &Compared) -> Vec<Erratum> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let score = &old.checked.score;
    let mut all = Vec::new();
    for own in &compared.reprint {
        all.extend(own.sheets.errata.iter().map(|erratum| Erratum {
            document: document(own.reader, compared),
            old_index: erratum.old_bar,
            new_index: erratum.new_bar,
            bar_label: score.label(erratum.old_bar).to_owned(),
            beat: erratum.onset.map(|onset| beat_number(onset, score.bar(erratum.old_bar))),
            text: erratum.text.clone(),
        }));
    }
    all
}
