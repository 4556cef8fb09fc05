//! Which instrument a part is for, from its name in English, German, Italian or French.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::score::{Family, Part};

mod numbers;

pub use numbers::Count;

/// The places of a forces line, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Instrument {
    Flute,
    Oboe,
    Clarinet,
    Bassoon,
    Saxophone,
    Horn,
    Trumpet,
    Trombone,
    Tuba,
    Timpani,
    Percussion,
    Harp,
    Keyboard,
    Soloist,
    Voices,
    ViolinI,
    ViolinII,
    Viola,
    Cello,
    DoubleBass,
    Other,
}

impl Instrument {
    /// Named one by one rather than counted.
    pub fn is_named(self) -> bool {
        matches!(self, Instrument::Keyboard | Instrument::Soloist | Instrument::Voices | Instrument::Other)
    }
}

/// What a part's names tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub instrument: Instrument,
    pub count: Count,
    /// Abbreviation, when it is not the usual instrument of its kind.
    pub other: Option<String>,
    /// Abbreviations of what its players take up besides.
    pub doublings: Vec<String>,
    /// The part is for cellos and basses.
    pub also_bass: bool,
}

/// One way of naming an instrument: words that must all begin so, in any order.
type Name = (&'static [&'static str], Instrument, &'static str);

/// From the most particular to the most general; the first that fits names the instrument.
const NAMES: &[Name] = {
    use Instrument::*;
    &[
        (&["piccolo", "tr"], Trumpet, "picctpt"),
        (&["piccolo"], Flute, "picc"),
        (&["piccoli"], Flute, "picc"),
        (&["picc"], Flute, "picc"),
        (&["ottavino"], Flute, "picc"),
        (&["kleine", "flote"], Flute, "picc"),
        (&["petite", "flute"], Flute, "picc"),
        (&["alto", "flute"], Flute, "afl"),
        (&["altflote"], Flute, "afl"),
        (&["bass", "flute"], Flute, "bfl"),
        (&["english", "horn"], Oboe, "ca"),
        (&["englischhorn"], Oboe, "ca"),
        (&["englisch", "horn"], Oboe, "ca"),
        (&["cor", "anglais"], Oboe, "ca"),
        (&["corno", "inglese"], Oboe, "ca"),
        (&["corni", "inglesi"], Oboe, "ca"),
        (&["oboe", "amore"], Oboe, "obdam"),
        (&["oboi", "amore"], Oboe, "obdam"),
        (&["oboe", "caccia"], Oboe, "obdacacc"),
        (&["heckelphon"], Oboe, "heck"),
        (&["bassethorn"], Clarinet, "bhn"),
        (&["basset", "horn"], Clarinet, "bhn"),
        (&["bassklarinette"], Clarinet, "bcl"),
        (&["bass", "cl"], Clarinet, "bcl"),
        (&["bass", "clarinet"], Clarinet, "bcl"),
        (&["bass", "klarinette"], Clarinet, "bcl"),
        (&["clarinetto", "basso"], Clarinet, "bcl"),
        (&["clarinette", "basse"], Clarinet, "bcl"),
        (&["contrabassoon"], Bassoon, "cbn"),
        (&["double", "bassoon"], Bassoon, "cbn"),
        (&["kontrafagott"], Bassoon, "cbn"),
        (&["contrafagott"], Bassoon, "cbn"),
        (&["controfagott"], Bassoon, "cbn"),
        (&["contrebasson"], Bassoon, "cbn"),
        (&["contre", "basson"], Bassoon, "cbn"),
        (&["cbn"], Bassoon, "cbn"),
        (&["sarrusophon"], Bassoon, "sarr"),
        (&["sax"], Saxophone, ""),
        (&["wagner", "tuba"], Horn, "wtuba"),
        (&["flugel"], Trumpet, "flhn"),
        (&["flugelhorn"], Trumpet, "flhn"),
        (&["cornet"], Trumpet, "crt"),
        (&["kornett"], Trumpet, "crt"),
        (&["flute"], Flute, ""),
        (&["flote"], Flute, ""),
        (&["floten"], Flute, ""),
        (&["flauto"], Flute, ""),
        (&["flauti"], Flute, ""),
        (&["fl"], Flute, ""),
        (&["oboe"], Oboe, ""),
        (&["oboi"], Oboe, ""),
        (&["hautbois"], Oboe, ""),
        (&["ob"], Oboe, ""),
        (&["clarinet"], Clarinet, ""),
        (&["klarinette"], Clarinet, ""),
        (&["cl"], Clarinet, ""),
        (&["klar"], Clarinet, ""),
        (&["bassoon"], Bassoon, ""),
        (&["fagott"], Bassoon, ""),
        (&["basson"], Bassoon, ""),
        (&["fg"], Bassoon, ""),
        (&["fag"], Bassoon, ""),
        (&["bn"], Bassoon, ""),
        (&["bsn"], Bassoon, ""),
        (&["horn"], Horn, ""),
        (&["corno"], Horn, ""),
        (&["corni"], Horn, ""),
        (&["cor"], Horn, ""),
        (&["cors"], Horn, ""),
        (&["waldhorn"], Horn, ""),
        (&["horner"], Horn, ""),
        (&["hn"], Horn, ""),
        (&["hr"], Horn, ""),
        (&["trumpet"], Trumpet, ""),
        (&["trompete"], Trumpet, ""),
        (&["trompette"], Trumpet, ""),
        (&["tromba"], Trumpet, ""),
        (&["trombe"], Trumpet, ""),
        (&["clarin"], Trumpet, ""),
        (&["tpt"], Trumpet, ""),
        (&["trp"], Trumpet, ""),
        (&["trombon"], Trombone, ""),
        (&["posaune"], Trombone, ""),
        (&["bassposaune"], Trombone, ""),
        (&["tbn"], Trombone, ""),
        (&["pos"], Trombone, ""),
        (&["tuba"], Tuba, ""),
        (&["ophicleide"], Tuba, "oph"),
        (&["basstuba"], Tuba, ""),
        (&["timp"], Timpani, ""),
        (&["pauke"], Timpani, ""),
        (&["timbales"], Timpani, ""),
        (&["percussion"], Percussion, ""),
        (&["perc"], Percussion, ""),
        (&["schlag"], Percussion, ""),
        (&["harp"], Harp, ""),
        (&["harf"], Harp, ""),
        (&["arpa"], Harp, ""),
        (&["arpe"], Harp, ""),
        (&["hp"], Harp, ""),
        (&["harpsichord"], Keyboard, "hpd"),
        (&["cembalo"], Keyboard, "hpd"),
        (&["clavecin"], Keyboard, "hpd"),
        (&["piano"], Keyboard, "pf"),
        (&["pianoforte"], Keyboard, "pf"),
        (&["klavier"], Keyboard, "pf"),
        (&["celest"], Keyboard, "cel"),
        (&["organ"], Keyboard, "org"),
        (&["orgel"], Keyboard, "org"),
        (&["orgue"], Keyboard, "org"),
        (&["harmonium"], Keyboard, "harm"),
        (&["violoncell"], Cello, ""),
        (&["cell"], Cello, ""),
        (&["vc"], Cello, ""),
        (&["vlc"], Cello, ""),
        (&["contrabass"], DoubleBass, ""),
        (&["kontrab"], DoubleBass, ""),
        (&["contreb"], DoubleBass, ""),
        (&["double", "bass"], DoubleBass, ""),
        (&["cb"], DoubleBass, ""),
        (&["kb"], DoubleBass, ""),
        (&["db"], DoubleBass, ""),
        (&["violone"], DoubleBass, ""),
        (&["continuo"], Keyboard, "bc"),
        (&["violin"], ViolinI, ""),
        (&["violon"], ViolinI, ""),
        (&["geige"], ViolinI, ""),
        (&["vn"], ViolinI, ""),
        (&["vl"], ViolinI, ""),
        (&["vln"], ViolinI, ""),
        (&["viol"], ViolinI, ""),
        (&["viola"], Viola, ""),
        (&["viole"], Viola, ""),
        (&["bratsche"], Viola, ""),
        (&["alto"], Viola, ""),
        (&["va"], Viola, ""),
        (&["vla"], Viola, ""),
    ]
};

/// Single percussion instruments: they tell what is played, not how many play.
const STRUCK: &[&str] = &[
    "drum",
    "cymbal",
    "triang",
    "glock",
    "xylo",
    "vibra",
    "marimba",
    "tam",
    "gong",
    "tambour",
    "becken",
    "piatti",
    "trommel",
    "cassa",
    "caisse",
    "campan",
    "bell",
    "castan",
    "claves",
    "woodblock",
    "block",
    "whip",
    "crotal",
    "tamburo",
    "grosse",
    "rattle",
    "cloches",
    "glocken",
    "jeu",
];
const SUNG: &[(&str, &str)] = &[
    ("sopran", "S"),
    ("alto", "A"),
    ("alt", "A"),
    ("mezzo", "Mez"),
    ("contralto", "A"),
    ("tenor", "T"),
    ("bariton", "Bar"),
    ("bass", "B"),
    ("choir", "chorus"),
    ("chor", "chorus"),
    ("voice", "voice"),
    ("canto", "voice"),
    ("voce", "voice"),
];
const SOLO: &[&str] = &["solo", "principal", "principale", "concertante", "concertato"];

/// Reads a part's name; where it has none, the names of its instruments.
pub fn read(part: &Part) -> Reading {
    let name = if part.name.trim().is_empty() { part.instruments.first().unwrap_or(&part.id) } else { &part.name };
    let words = words(name);
    let count = numbers::count(name);
    if let Some(reading) = special(part, name, &words, &count) {
        return reading;
    }
    let mut named = all_named(&words).into_iter();
    let Some((instrument, other)) =
        named.next().or_else(|| all_named(&self::words(&part.abbreviation)).into_iter().next())
    else {
        return Reading { other: Some(name.trim().to_owned()), ..plain(Instrument::Other, count) };
    };
    let mut doublings: Vec<String> = Vec::new();
    let held = part.instruments.iter().flat_map(|name| all_named(&self::words(name)));
    for (kind, abbreviation) in named.chain(held) {
        let abbreviation = if abbreviation.is_empty() { usual(kind) } else { abbreviation };
        let new = (kind, abbreviation) != (instrument, if other.is_empty() { usual(instrument) } else { other });
        let is_wind = kind <= Instrument::Tuba && instrument <= Instrument::Tuba;
        if new && is_wind && !doublings.iter().any(|known| known == abbreviation) {
            doublings.push(abbreviation.to_owned());
        }
    }
    let other = (!other.is_empty()).then(|| other.to_owned());
    let also_bass = instrument == Instrument::Cello
        && words.iter().any(|word| ["contrab", "kontrab", "contreb", "bass", "cb"].iter().any(|b| word.starts_with(b)));
    Reading { other, doublings, also_bass, ..plain(instrument, count) }
}

fn plain(instrument: Instrument, count: Count) -> Reading {
    Reading { instrument, count, other: None, doublings: Vec::new(), also_bass: false }
}

/// What its family or a word of its name settles before instruments are looked for.
fn special(part: &Part, name: &str, words: &[String], count: &Count) -> Option<Reading> {
    let begins = |beginnings: &[&str]| words.iter().any(|word| beginnings.iter().any(|own| word.starts_with(own)));
    let reading = |instrument, other: Option<&str>| Reading {
        other: other.map(str::to_owned),
        ..plain(instrument, count.clone())
    };
    if part.family == Family::Voices || part.sounds.iter().any(|sound| sound.starts_with("voice.")) {
        let voice = SUNG.iter().find(|(word, _)| begins(&[word])).map_or(name.trim(), |(_, voice)| voice);
        return Some(Reading { count: Count::Untold, ..reading(Instrument::Voices, Some(voice)) });
    }
    if words.iter().any(|word| SOLO.contains(&word.as_str())) {
        return Some(reading(Instrument::Soloist, Some(name.trim())));
    }
    let strings = part.family == Family::Strings || part.sounds.iter().any(|sound| sound.starts_with("strings."));
    if strings && begins(&["bass"]) && !begins(&["cell", "violoncell"]) {
        return Some(reading(Instrument::DoubleBass, None));
    }
    let untuned = all_named(words).first().is_none_or(|(instrument, _)| *instrument == Instrument::Percussion);
    if begins(STRUCK) && untuned {
        return Some(Reading { count: Count::Untold, ..reading(Instrument::Percussion, None) });
    }
    None
}

/// All instruments that a name names, in the order of the name.
fn all_named(words: &[String]) -> Vec<(Instrument, &'static str)> {
    let mut rest: Vec<Option<&str>> = words.iter().map(|word| Some(word.as_str())).collect();
    let mut found = Vec::new();
    for (wanted, instrument, abbreviation) in NAMES {
        let places: Option<Vec<usize>> = wanted.iter().map(|own| find(&rest, own)).collect();
        // Alone it is the French viola, beside another name it is that instrument's size.
        let is_size = *wanted == ["alto"] && !found.is_empty();
        let Some(places) = places.filter(|_| !is_size) else { continue };
        found.push((places.iter().copied().min().unwrap_or(0), *instrument, *abbreviation));
        for place in places {
            if let Some(slot) = rest.get_mut(place) {
                *slot = None;
            }
        }
    }
    found.sort_by_key(|(place, ..)| *place);
    found.into_iter().map(|(_, instrument, abbreviation)| (instrument, abbreviation)).collect()
}

/// Short names must be whole words, with the plural's "s" at most; longer ones may have any ending.
fn find(words: &[Option<&str>], own: &str) -> Option<usize> {
    const STEMS: [&str; 5] = ["perc", "timp", "harp", "harf", "cell"];
    let any_ending = own.len() > 4 || STEMS.contains(&own);
    let fits = |word: &str| match word.strip_prefix(own) {
        Some(ending) => any_ending || ending.is_empty() || ending == "s",
        None => false,
    };
    words.iter().position(|word| word.is_some_and(fits))
}

/// Lower case, without accents, split at all that is no letter.
fn words(name: &str) -> Vec<String> {
    let plain: String = name.nfd().filter(|c| !is_combining_mark(*c)).flat_map(char::to_lowercase).collect();
    plain.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Abbreviation of the usual instrument of its kind.
pub fn usual(instrument: Instrument) -> &'static str {
    match instrument {
        Instrument::Flute => "fl",
        Instrument::Oboe => "ob",
        Instrument::Clarinet => "cl",
        Instrument::Bassoon => "bn",
        Instrument::Saxophone => "sax",
        Instrument::Horn => "hn",
        Instrument::Trumpet => "tpt",
        Instrument::Trombone => "tbn",
        Instrument::Tuba => "tuba",
        Instrument::Timpani => "timp",
        Instrument::Percussion => "perc",
        Instrument::Harp => "hp",
        Instrument::Keyboard => "kbd",
        Instrument::Soloist => "solo",
        Instrument::Voices => "voices",
        Instrument::ViolinI => "vn I",
        Instrument::ViolinII => "vn II",
        Instrument::Viola => "va",
        Instrument::Cello => "vc",
        Instrument::DoubleBass => "db",
        Instrument::Other => "other",
    }
}
