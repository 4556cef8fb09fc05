//! Names of instruments to offer where a name is not known, in score order.

use super::who::bare;
use crate::guidelines::nearest;
use crate::read::fold::fold;

/// English names; the reader knows them and many in other languages (`read::family`).
const NAMES: [&str; 50] = [
    "Piccolo",
    "Flute",
    "Alto flute",
    "Recorder",
    "Oboe",
    "English horn",
    "Clarinet",
    "Bass clarinet",
    "Basset horn",
    "Saxophone",
    "Bassoon",
    "Contrabassoon",
    "Horn",
    "Trumpet",
    "Cornet",
    "Flugelhorn",
    "Trombone",
    "Bass trombone",
    "Euphonium",
    "Tuba",
    "Timpani",
    "Percussion",
    "Bass drum",
    "Snare drum",
    "Cymbals",
    "Triangle",
    "Tam-tam",
    "Glockenspiel",
    "Xylophone",
    "Vibraphone",
    "Marimba",
    "Tubular bells",
    "Crotales",
    "Celesta",
    "Piano",
    "Harpsichord",
    "Organ",
    "Harp",
    "Guitar",
    "Mandolin",
    "Accordion",
    "Soprano",
    "Mezzo-soprano",
    "Tenor",
    "Baritone",
    "Chorus",
    "Violin",
    "Viola",
    "Cello",
    "Double bass",
];

/// The name that was most likely meant, whatever the numbers of the players.
pub(super) fn near(name: &str) -> Option<&'static str> {
    let folded = NAMES.map(fold);
    let found = nearest(bare(&fold(name)), folded.iter().map(String::as_str))?;
    NAMES.iter().zip(&folded).find(|(_, folded)| folded.as_str() == found).map(|(name, _)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::family::family_of;
    use crate::score::Family;

    #[test]
    fn the_reader_knows_every_name_that_is_offered() {
        for name in NAMES {
            let family = family_of(std::iter::empty(), std::iter::once(name), "");
            assert_ne!(family, Family::Unknown, "{name}");
        }
    }

    #[test]
    fn slips_of_the_pen_find_their_instrument() {
        assert_eq!(near("Obeo"), Some("Oboe"));
        assert_eq!(near("violn II"), Some("Violin"));
        assert_eq!(near("Electronics"), None);
    }
}
