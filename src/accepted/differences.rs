//! Differences between score and part that someone has looked at and accepted: known by player, bar and kind, as long
//! as both sides say the same.

use super::{Entry, Fingerprint};
use crate::proof::Difference;
use crate::rules::Scope;
use crate::score::Score;

/// What accepted differences made of all of one part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sorted {
    /// Still to be dealt with, in their old order.
    pub kept: Vec<Difference>,
    /// Accepted, each with the entry that says so.
    pub accepted: Vec<(Difference, Entry)>,
}

/// The entry that would accept a difference, without who, when and why. `before` are those of the same part that
/// stand before it.
#[must_use]
pub fn entry_of(own: &Difference, before: &[Difference], player: &str, score: &Score) -> Entry {
    let same = |other: &&Difference| other.class == own.class && other.bars.first == own.bars.first;
    Entry {
        rule: format!("proof-{}", own.class.name()),
        scope: Scope::Bar,
        staff: player.to_owned(),
        anchor: score.anchor(own.bars.first),
        label: score.label(own.bars.first).to_owned(),
        nth: u16::try_from(before.iter().filter(same).count()).unwrap_or(u16::MAX),
        fingerprint: Fingerprint::of_words(&[&own.score, &own.part]),
        places: 1,
        who: String::new(),
        when: String::new(),
        why: String::new(),
    }
}

/// Sorts one part's differences into those still to be dealt with and those accepted.
#[must_use]
pub fn sort(differences: Vec<Difference>, player: &str, score: &Score, entries: &[Entry]) -> Sorted {
    let mut sorted = Sorted::default();
    for (at, own) in differences.iter().enumerate() {
        let wanted = entry_of(own, differences.get(..at).unwrap_or_default(), player, score);
        let accepts = |entry: &&Entry| {
            (&entry.rule, &entry.staff, entry.anchor, entry.fingerprint)
                == (&wanted.rule, &wanted.staff, wanted.anchor, wanted.fingerprint)
        };
        match entries.iter().find(accepts) {
            Some(entry) => sorted.accepted.push((own.clone(), entry.clone())),
            None => sorted.kept.push(own.clone()),
        }
    }
    sorted
}

impl Entry {
    /// As reports write it: `rule@scope/staff/anchor/nth`, which [`Entry::of_key`] reads.
    #[must_use]
    pub fn key(&self) -> String {
        let anchor = self.anchor.map_or_else(|| "-".to_owned(), |(movement, bar)| format!("{movement}:{bar}"));
        format!("{}@{}/{}/{anchor}/{}", self.rule, self.scope.word(), self.staff, self.nth)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::place::{BarIdx, BarSpan};
    use crate::proof::Class;

    #[test]
    fn a_difference_stays_accepted_while_both_sides_say_the_same() {
        let score = fixture::score(&fixture::QUARTET, 8);
        let own = |part: &str| Difference {
            class: Class::Dynamic,
            bars: BarSpan::one(BarIdx(3)),
            part_bars: None,
            onset: None,
            score: "f on beat 1".to_owned(),
            part: part.to_owned(),
        };
        let entry = entry_of(&own("mf on beat 1"), &[], "Viola", &score);
        assert_eq!(Entry::of_key(&entry.key(), &entry.label, entry.fingerprint, 1), Some(entry.clone()));
        let sorted = |part: &str, player: &str| sort(vec![own(part)], player, &score, std::slice::from_ref(&entry));
        assert_eq!(sorted("mf on beat 1", "Viola").kept, []);
        assert_eq!(sorted("p on beat 1", "Viola").accepted, []);
        assert_eq!(sorted("mf on beat 1", "Violin I").accepted, []);
    }
}
