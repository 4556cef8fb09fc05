//! Brackets and braces over the parts of the whole work.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::place::PartId;
use crate::score::Group;

/// Outermost first, each once, with its level.
pub(super) fn nested(mut groups: Vec<Group>) -> Vec<Group> {
    let mut seen = BTreeSet::new();
    groups.retain(|group| seen.insert((group.first, group.last, group.symbol as u8)));
    groups.sort_by_key(|group| (group.first, Reverse(group.last)));
    let mut around: Vec<PartId> = Vec::new();
    for group in &mut groups {
        around.retain(|last| *last >= group.first);
        group.level = u8::try_from(around.len()).unwrap_or(u8::MAX);
        around.push(group.last);
    }
    groups
}
