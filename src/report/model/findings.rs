//! Findings and rules in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::accepted::Entry;
use crate::check::Checked;
use crate::geometry::Rect;
use crate::place::{self, BarIdx, DocumentId, PageIdx, PartId, StaffId};
use crate::rules::{self, Weight};
use crate::score::Score;

/// One fault, all the places where its cause shows, and what to do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// Names the finding by its place in the music, so that it is known again when the pages have moved.
    pub key: String,
    /// Name of the rule.
    pub rule: String,
    pub weight: Weight,
    /// In reading order; at least one.
    pub places: Vec<Place>,
    /// What was found, with its unit.
    pub found: String,
    /// What the guideline asks for.
    pub limit: String,
    /// Where the limit comes from.
    pub source: String,
    pub message: String,
    /// What to do.
    pub remedy: String,
}

/// Where a finding shows. Null where it is not about such a thing, or where that is not known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Place {
    /// 0 is the score.
    pub document: DocumentId,
    /// Index of the page.
    pub page: Option<PageIdx>,
    /// Index of the system on its page.
    pub system: Option<u16>,
    /// Index of the (first) bar.
    pub bar_index: Option<BarIdx>,
    /// Its printed number.
    pub bar_label: Option<String>,
    /// Index of the (upper) part.
    pub part: Option<PartId>,
    /// Index of the (upper) staff among all staves of the score.
    pub staff: Option<StaffId>,
    /// On that page, from its top left corner.
    pub box_mm: Option<Rect>,
    /// What was found at this very place, where the finding has several.
    pub found: Option<String>,
}

/// How many findings of each weight stand, accepted ones apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Counts {
    /// Stop the rehearsal.
    pub stop: u32,
    /// To be mended before the concert.
    pub mend: u32,
    /// Worth a look.
    pub look: u32,
    pub accepted: u32,
}

/// Which rules the pages were held against.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Rules {
    pub ran: Vec<String>,
    pub could_not_run: Vec<CouldNotRun>,
}

/// A rule that the files tell too little for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CouldNotRun {
    pub rule: String,
    /// What it would have needed.
    pub needs: String,
}

/// A finding that was accepted before.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Acceptance {
    pub key: String,
    pub rule: String,
    pub message: String,
    /// Why it may stay.
    pub why: String,
    /// Who said so.
    pub by: String,
    /// The day it was said, "2026-11-25".
    pub when: String,
}

impl Finding {
    pub(in crate::report) fn of(finding: &rules::Finding, score: &Score) -> Finding {
        Finding {
            key: finding.key.to_string(),
            rule: finding.rule.to_owned(),
            weight: finding.weight,
            places: finding.places.iter().map(|place| Place::of(place, score)).collect(),
            found: finding.found.clone(),
            limit: finding.limit.clone(),
            source: finding.source.clone(),
            message: finding.message.clone(),
            remedy: finding.remedy.clone(),
        }
    }
}

impl Place {
    fn of(place: &place::Place, score: &Score) -> Place {
        let bar = place.bars.map(|bars| bars.first);
        let staff = place.staves.first().copied();
        Place {
            document: place.document,
            page: place.page,
            system: place.system,
            bar_index: bar,
            bar_label: bar.map(|bar| score.label(bar).to_owned()),
            part: staff.and_then(|staff| score.staves.get(staff.at())).map(|staff| staff.part),
            staff,
            box_mm: place.rect.map(|rect| rect.rounded()),
            found: place.here.as_ref().map(|here| here.says.clone()),
        }
    }
}

impl Counts {
    #[must_use]
    pub fn of(checked: &Checked) -> Counts {
        let count = |weight| checked.findings.iter().filter(|finding| finding.weight == weight).count() as u32;
        Counts {
            stop: count(Weight::Stop),
            mend: count(Weight::Mend),
            look: count(Weight::Look),
            accepted: checked.accepted.len() as u32,
        }
    }
}

impl Rules {
    pub(super) fn of(checked: &Checked) -> Rules {
        let could_not_run = checked.could_not_run.iter();
        Rules {
            ran: checked.ran.iter().map(|&rule| rule.to_owned()).collect(),
            could_not_run: could_not_run
                .map(|(rule, needs)| CouldNotRun { rule: (*rule).to_owned(), needs: needs.clone() })
                .collect(),
        }
    }
}

impl Acceptance {
    pub(in crate::report) fn of((finding, entry): &(rules::Finding, Entry)) -> Acceptance {
        Acceptance {
            key: finding.key.to_string(),
            rule: finding.rule.to_owned(),
            message: finding.message.clone(),
            why: entry.why.clone(),
            by: entry.who.clone(),
            when: entry.when.clone(),
        }
    }
}
