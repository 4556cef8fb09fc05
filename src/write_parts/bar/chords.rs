//! Chords whose notes belong to several players.

use std::collections::BTreeMap;

use crate::read::Element;

/// For the first kept note of each chord, the notes of it that are not kept.
pub(super) fn others<'a>(inside: &[Element<'a>], kept: &[u32]) -> BTreeMap<u32, Vec<Element<'a>>> {
    let mut chords: Vec<Vec<(u32, Element<'a>)>> = Vec::new();
    let mut is_open = false;
    let mut nth = 0;
    for element in inside {
        match element.name {
            "note" => {
                let note = (nth, *element);
                nth += 1;
                match chords.last_mut().filter(|_| is_open && element.child("chord").is_some()) {
                    Some(chord) => chord.push(note),
                    None => chords.push(vec![note]),
                }
                is_open = true;
            }
            "backup" | "forward" => is_open = false,
            _ => {}
        }
    }
    let split = chords.into_iter().filter(|chord| chord.len() > 1).filter_map(|chord| {
        let (own, other): (Vec<_>, Vec<_>) = chord.into_iter().partition(|(nth, _)| kept.binary_search(nth).is_ok());
        let (first, _) = own.first().filter(|_| !other.is_empty())?;
        Some((*first, other.into_iter().map(|(_, note)| note).collect()))
    });
    split.collect()
}
