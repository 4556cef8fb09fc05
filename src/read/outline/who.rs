//! Who is meant: all, a family, or instruments by their name.

use super::forces::{FAMILIES, Force, Forces};
use super::table::{Told, Troubles, short};
use crate::guidelines::nearest;
use crate::read::fold::fold;
use crate::score::Family;

const ALL: [&str; 2] = ["all", "tutti"];

/// Marks the forces that a word means; tells of words that mean nobody.
pub(super) fn mark(word: &Told<&str>, forces: &Forces, troubles: &mut Troubles, mut meant: impl FnMut(usize)) {
    let asked = fold(word.value);
    let family = FAMILIES.iter().find(|(name, _)| *name == asked).map(|(_, families)| *families);
    let is_meant = |force: &Force| {
        ALL.contains(&asked.as_str())
            || family.is_some_and(|families| families.contains(&force.family))
            || names(&asked, &force.folded)
    };
    let mut anyone = false;
    for (at, _) in forces.all.iter().enumerate().filter(|(_, force)| is_meant(force)) {
        anyone = true;
        meant(at);
    }
    if !anyone && forces.are_complete && !troubles.is_full() {
        let near = near(&asked, &forces.all).map_or_else(String::new, |near| format!(": did you mean \"{near}\"?"));
        let what = format!("\"{}\" is not in the forces{near}", short(word.value));
        troubles.add(word.at, what, "name instruments as the forces do, a family, or \"all\"");
    }
}

/// The instrument or family of these forces that was most likely meant.
fn near(asked: &str, forces: &[Force]) -> Option<String> {
    let names: Vec<&str> = forces.iter().map(|force| bare(&force.folded)).collect();
    let is_there = |families: &[Family]| forces.iter().any(|force| families.contains(&force.family));
    let families = FAMILIES.iter().filter(|(_, families)| is_there(families)).map(|(name, _)| *name);
    let near = nearest(bare(asked), names.iter().copied().chain(families))?;
    let own = forces.iter().zip(&names).find(|(_, bare)| **bare == near);
    Some(own.map_or(near, |(force, _)| force.name.as_str()).to_owned())
}

/// "Horn", "Horns" and "Horn 1, 2" all name "Horn 1, 2"; "Horn 3" does not. Both are folded.
fn names(asked: &str, name: &str) -> bool {
    let bare = bare(name);
    asked == name || asked == bare || asked.strip_suffix('s') == Some(bare)
}

/// A folded name without the numbers at its end.
pub(super) fn bare(folded: &str) -> &str {
    let is_number =
        |word: &str| word.chars().all(|c| c.is_ascii_digit()) || ["i", "ii", "iii", "iv", "v", "vi"].contains(&word);
    let mut rest = folded;
    while let Some((before, _)) = rest.rsplit_once(' ').filter(|(_, last)| is_number(last)) {
        rest = before;
    }
    rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_without_numbers_means_all_that_bear_it() {
        assert!(names("horn", "horn 1 2") && names("horns", "horn 3 4") && names("horn 1 2", "horn 1 2"));
        assert!(names("violin", "violin ii") && names("violin ii", "violin ii"));
        assert!(!names("horn 3", "horn 1 2") && !names("violin i", "violin ii") && !names("english horn", "horn"));
    }
}
