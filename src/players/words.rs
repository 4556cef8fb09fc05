//! What words at a player's staff ask of the hands, in Italian, German, French and English. Common practice.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::Hands;
use super::end_to_end::ChangeKind;

/// In lower case without accents, words parted by single spaces, full stops gone.
#[must_use]
pub fn folded(words: &str) -> String {
    let plain: String = words.nfd().filter(|letter| !is_combining_mark(*letter)).collect::<String>().to_lowercase();
    let plain = plain.replace(['.', ',', ';', ':', '(', ')'], " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Anywhere in the words, the most particular first.
const ASKS: &[(&str, ChangeKind)] = &[
    ("senza sord", ChangeKind::MuteOff),
    ("via sord", ChangeKind::MuteOff),
    ("sord via", ChangeKind::MuteOff),
    ("ohne dampf", ChangeKind::MuteOff),
    ("dampfer ab", ChangeKind::MuteOff),
    ("dampfer weg", ChangeKind::MuteOff),
    ("sans sourd", ChangeKind::MuteOff),
    ("otez", ChangeKind::MuteOff),
    ("without mute", ChangeKind::MuteOff),
    ("mute off", ChangeKind::MuteOff),
    ("mutes off", ChangeKind::MuteOff),
    ("con sord", ChangeKind::MuteOn),
    ("mit dampf", ChangeKind::MuteOn),
    ("dampfer auf", ChangeKind::MuteOn),
    ("avec sourd", ChangeKind::MuteOn),
    ("mettez la sourd", ChangeKind::MuteOn),
    ("with mute", ChangeKind::MuteOn),
    ("mute on", ChangeKind::MuteOn),
    ("straight mute", ChangeKind::MuteOn),
    ("cup mute", ChangeKind::MuteOn),
    ("harmon mute", ChangeKind::MuteOn),
    ("pizz", ChangeKind::Pizzicato),
    ("coll arco", ChangeKind::Arco),
    ("mallet", ChangeKind::Mallets),
    ("schlagel", ChangeKind::Mallets),
    ("bacchett", ChangeKind::Mallets),
    ("mazzuol", ChangeKind::Mallets),
    ("baguettes", ChangeKind::Mallets),
    ("brushes", ChangeKind::Mallets),
    ("sticks", ChangeKind::Mallets),
    ("scordatura", ChangeKind::Retuning),
];

/// Words before the name of what is taken up.
const TAKES: &[&str] = &[
    "muta in ",
    "mutano in ",
    "cambia in ",
    "cambiano in ",
    "prende ",
    "nimmt ",
    "nehmen ",
    "wechselt zu ",
    "prend ",
    "prenez ",
    "changez en ",
    "take ",
    "takes ",
    "change to ",
    "changes to ",
    "switch to ",
    "to ",
    "zu ",
];

/// Words so short before a note may be about playing: "to A", "zu C".
const SHORT: usize = 3;

/// Beginnings of the names of instruments that players take up.
const INSTRUMENTS: &[&str] = &[
    "picc",
    "ottavino",
    "flut",
    "flot",
    "flaut",
    "alto fl",
    "bass fl",
    "altfl",
    "ob",
    "english horn",
    "englisch",
    "cor anglais",
    "corno inglese",
    "oboe",
    "cl",
    "klar",
    "bass cl",
    "basskl",
    "clar",
    "es kl",
    "contrabassoon",
    "kontrafag",
    "controfag",
    "contrebasson",
    "fag",
    "bassoon",
    "sax",
    "cornet",
    "flugel",
    "tuba",
    "wagner",
    "celest",
    "piano",
    "vib",
    "xyl",
    "glock",
    "marimba",
    "tam tam",
    "tam-tam",
    "triang",
    "cymb",
    "piatti",
    "becken",
    "bass drum",
    "gran cassa",
    "grosse tr",
    "snare",
    "side drum",
    "kleine tr",
    "tambour",
    "crotal",
    "tubular",
    "campane",
    "gong",
    "timp",
    "whip",
    "wood block",
    "woodblock",
    "castan",
];

/// What words ask for; `None` when they ask nothing of this kind. "Muta in D" tunes a drum, and a clarinettist or a brass
/// player takes an instrument or a crook in D.
#[must_use]
pub fn asks(words: &str, hands: Hands) -> Option<ChangeKind> {
    let folded = folded(words);
    if let Some((_, kind)) = ASKS.iter().find(|(word, _)| folded.contains(word)) {
        return Some(kind.clone());
    }
    if folded.split(' ').any(|word| word == "arco") {
        return Some(ChangeKind::Arco);
    }
    for lead in TAKES {
        let Some(taken) =
            folded.find(lead).filter(|at| at_word(&folded, *at)).and_then(|at| folded.get(at + lead.len()..))
        else {
            continue;
        };
        if is_instrument(taken) {
            return Some(ChangeKind::Instrument(taken.to_owned()));
        }
        if hands == Hands::Timpani && is_pitch(taken) {
            return Some(ChangeKind::Retuning);
        }
        if hands == Hands::Wind && lead.len() > SHORT && is_pitch(taken) {
            return Some(ChangeKind::Instrument(format!("instrument in {}", note(taken))));
        }
    }
    // "C to D", "G - A flat": drums tuned anew.
    let pitches: Vec<&str> = folded.split(" to ").flat_map(|part| part.split(" in ")).collect();
    (hands == Hands::Timpani && pitches.len() > 1 && pitches.iter().all(|part| is_pitch(part)))
        .then_some(ChangeKind::Retuning)
}

/// Whether words are the name of an instrument and nothing else.
#[must_use]
pub fn is_instrument(folded: &str) -> bool {
    INSTRUMENTS.iter().any(|name| {
        folded.strip_prefix(name).is_some_and(|rest| name.len() > 3 || rest.is_empty() || rest.starts_with(' '))
    }) && folded.split(' ').count() <= 4
}

fn at_word(text: &str, at: usize) -> bool {
    at == 0 || text.as_bytes().get(at - 1) == Some(&b' ')
}

/// A note with its letter large: "B flat".
fn note(folded: &str) -> String {
    let mut letters = folded.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "d", "as", "b flat", "sol", "mi bem".
fn is_pitch(text: &str) -> bool {
    const NOTES: &[&str] = &[
        "c", "d", "e", "f", "g", "a", "b", "h", "cis", "des", "dis", "es", "fis", "ges", "gis", "as", "ais", "do",
        "re", "mi", "fa", "sol", "la", "si", "ut",
    ];
    const SIGNS: &[&str] = &["flat", "sharp", "bemol", "bemolle", "bem", "diese", "diesis", "b", "#"];
    let mut words = text.split([' ', '-']);
    words.next().is_some_and(|note| NOTES.contains(&note)) && words.all(|sign| SIGNS.contains(&sign) || sign.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mutes_bows_and_sticks_in_four_languages() {
        use ChangeKind::{Arco, Mallets, MuteOff, MuteOn, Pizzicato};
        for (words, kind) in [
            ("con sord.", MuteOn),
            ("mit D\u{e4}mpfer", MuteOn),
            ("Avec sourdine", MuteOn),
            ("senza sord.", MuteOff),
            ("ohne D\u{e4}mpfer", MuteOff),
            ("\u{f4}tez la sourdine", MuteOff),
            ("pizz.", Pizzicato),
            ("arco", Arco),
            ("soft mallets", Mallets),
            ("mit weichen Schl\u{e4}geln", Mallets),
        ] {
            assert_eq!(asks(words, Hands::Wind), Some(kind), "{words}");
        }
    }

    #[test]
    fn an_instrument_is_taken_up_and_a_drum_is_tuned() {
        assert_eq!(asks("muta in Piccolo", Hands::Wind), Some(ChangeKind::Instrument("piccolo".to_owned())));
        assert_eq!(asks("nimmt Englischhorn", Hands::Wind), Some(ChangeKind::Instrument("englischhorn".to_owned())));
        assert_eq!(asks("to Bass Clarinet", Hands::Wind), Some(ChangeKind::Instrument("bass clarinet".to_owned())));
        let in_a = Some(ChangeKind::Instrument("instrument in A".to_owned()));
        assert_eq!(asks("muta in A", Hands::Wind), in_a);
        assert_eq!((asks("muta in A", Hands::Section), asks("to A", Hands::Wind)), (None, None));
        assert_eq!(asks("muta in As", Hands::Timpani), Some(ChangeKind::Retuning));
        assert_eq!(asks("G to A flat", Hands::Timpani), Some(ChangeKind::Retuning));
    }

    #[test]
    fn other_words_ask_nothing() {
        for words in ["dolce", "to the bridge", "espr.", "div.", "solo", "poco a poco cresc.", "a 2", "zu 2"] {
            for hands in [Hands::Timpani, Hands::Wind, Hands::Section] {
                assert_eq!(asks(words, hands), None, "{words}");
            }
        }
    }
}
