//! Findings of two drafts: kept, mended, new; place by place, known by their place in the music.

use std::collections::BTreeSet;

use super::Matched;
use crate::layout::Layout;
use crate::place::{BarIdx, BarSpan};
use crate::rules::{Finding, Scope, Weight};
use crate::score::Score;

/// The findings of one draft, and the pages that they stand on.
#[derive(Clone, Copy, Debug)]
pub struct Found<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    /// Those to be dealt with.
    pub findings: &'a [Finding],
    /// Those that were accepted.
    pub accepted: &'a [&'a Finding],
}

/// One place of a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundChange {
    pub fate: FoundFate,
    /// As the new draft names it; of what was mended, as the old one did.
    pub key: String,
    pub rule: &'static str,
    pub weight: Weight,
    /// What was found there, in one sentence.
    pub says: String,
    pub old: Option<Spot>,
    pub new: Option<Spot>,
    /// Somebody let it stand, in either draft.
    pub accepted: bool,
}

/// Where a place is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// The page as it is printed.
    pub page: Option<String>,
    pub bars: Option<BarSpan>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoundFate {
    New,
    Kept,
    Mended,
}

impl FoundFate {
    /// As the published JSON writes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            FoundFate::New => "new",
            FoundFate::Kept => "kept",
            FoundFate::Mended => "mended",
        }
    }
}

/// One place with all that it can be known by.
struct At<'a> {
    finding: &'a Finding,
    accepted: bool,
    /// It stands for all pages: whatever the other draft has of the kind belongs to it.
    everywhere: bool,
    /// Names of its staves.
    staves: BTreeSet<String>,
    /// In bars of the new draft.
    bars: BTreeSet<BarIdx>,
    spot: Spot,
    says: String,
}

/// Sorts the findings of both drafts; `renamed` gives the new name of an old part or player.
///
/// A place is the same when rule and staves are, and when their bars meet: a page that begins elsewhere is the same
/// crowded page as long as one of the two holds half of the other's bars.
#[must_use]
pub fn found(
    old: &Found<'_>,
    new: &Found<'_>,
    matched: &Matched,
    renamed: &dyn Fn(&str) -> String,
) -> Vec<FoundChange> {
    let before = places(old, &|bar| matched.to_new(bar), renamed);
    let after = places(new, &Some, &str::to_owned);
    let mut partner: Vec<Option<usize>> = vec![None; after.len()];
    let mut taken = vec![false; before.len()];
    let mut fits: Vec<(f64, usize, usize)> = Vec::new();
    for (at, one) in before.iter().enumerate() {
        fits.extend(after.iter().enumerate().filter_map(|(to, other)| Some((one.meets(other)?, at, to))));
    }
    fits.sort_by(|one, other| other.0.total_cmp(&one.0).then((one.1, one.2).cmp(&(other.1, other.2))));
    let everywhere = |list: &[At<'_>], at: usize| list.get(at).is_some_and(|own| own.everywhere);
    for (_, at, to) in fits {
        if let Some((slot, taken)) = partner.get_mut(to).zip(taken.get_mut(at)) {
            if slot.is_none() && (!*taken || everywhere(&before, at)) {
                (*slot, *taken) = (Some(at), true);
            }
            *taken |= everywhere(&after, to);
        }
    }
    let mut changes = Vec::with_capacity(after.len());
    for (own, partner) in after.iter().zip(&partner) {
        let old = partner.and_then(|at| before.get(at));
        let fate = if old.is_some() { FoundFate::Kept } else { FoundFate::New };
        changes.push(own.change(
            fate,
            old.map(|old| old.spot.clone()),
            Some(own.spot.clone()),
            old.is_some_and(|old| old.accepted),
        ));
    }
    for (own, taken) in before.iter().zip(&taken) {
        if !taken {
            changes.push(own.change(FoundFate::Mended, Some(own.spot.clone()), None, false));
        }
    }
    changes.sort_by_key(|change| (change.fate, std::cmp::Reverse(change.weight)));
    changes
}

fn places<'a>(
    found: &Found<'a>,
    to_new: &dyn Fn(BarIdx) -> Option<BarIdx>,
    renamed: &dyn Fn(&str) -> String,
) -> Vec<At<'a>> {
    let findings = found.findings.iter().map(|finding| (finding, false));
    let accepted = found.accepted.iter().map(|finding| (*finding, true));
    let mut all = Vec::new();
    for (finding, accepted) in findings.chain(accepted) {
        for (nth, place) in finding.places.iter().enumerate() {
            let page = place.page.and_then(|page| found.layout.pages.get(page.at()));
            let bars = place.bars.or_else(|| page.and_then(crate::layout::Page::span));
            let name =
                |staff: &crate::place::StaffId| found.score.part_of(*staff).map(|part| renamed(part.name.as_str()));
            let says = place.here.as_ref().map(|here| here.says.clone()).filter(|_| nth != finding.worst);
            all.push(At {
                finding,
                accepted,
                everywhere: place.everywhere,
                staves: place.staves.iter().filter_map(name).collect(),
                bars: bars
                    .into_iter()
                    .flat_map(BarSpan::iter)
                    .take(found.score.bars.len())
                    .filter_map(to_new)
                    .collect(),
                spot: Spot { page: place.page.map(|page| found.layout.page_label(page)), bars },
                says: says.unwrap_or_else(|| finding.message.clone()),
            });
        }
    }
    all
}

/// Places of whole pages or systems are the same with so much of the smaller one in common.
const IN_COMMON: f64 = 0.5;

impl At<'_> {
    /// How well two places fit, from 0 to 1; `None` where they are not one.
    fn meets(&self, other: &At<'_>) -> Option<f64> {
        let same = self.finding.rule == other.finding.rule && self.finding.key.scope == other.finding.key.scope;
        if !same || self.staves != other.staves {
            return None;
        }
        if self.finding.key.scope == Scope::Work {
            return Some(1.0);
        }
        let common = self.bars.intersection(&other.bars).count();
        let (least, most) = (self.bars.len().min(other.bars.len()), self.bars.len().max(other.bars.len()));
        let share = common as f64 / least.max(1) as f64;
        let wanted = if self.finding.key.scope == Scope::Bar { f64::MIN_POSITIVE } else { IN_COMMON };
        (share >= wanted).then(|| common as f64 / most.max(1) as f64)
    }

    fn change(&self, fate: FoundFate, old: Option<Spot>, new: Option<Spot>, accepted: bool) -> FoundChange {
        FoundChange {
            fate,
            key: self.finding.key.to_string(),
            rule: self.finding.rule,
            weight: self.finding.weight,
            says: self.says.clone(),
            old,
            new,
            accepted: accepted || self.accepted,
        }
    }
}

#[cfg(test)]
mod tests;
