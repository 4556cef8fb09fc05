//! Which family an instrument belongs to, by its standard sound name or by its name in four languages.
//! Common practice.

use super::fold::fold;
use crate::score::Family;

/// The family of a part: by the first sound that tells, else by its name, else by its abbreviation.
pub(super) fn family_of<'a>(
    sounds: impl Iterator<Item = &'a str>,
    names: impl Iterator<Item = &'a str>,
    abbreviation: &str,
) -> Family {
    let known = |family: &Family| *family != Family::Unknown;
    let by_sound = sounds.map(by_sound).find(known);
    let by_name = || names.map(by_name).find(known);
    by_sound.or_else(by_name).unwrap_or_else(|| by_abbreviation(abbreviation))
}

/// By a MusicXML instrument-sound such as "wind.reed.oboe".
fn by_sound(sound: &str) -> Family {
    let mut steps = sound.split('.');
    let (first, second) = (steps.next().unwrap_or_default(), steps.next().unwrap_or_default());
    match (first, second) {
        ("pitched-percussion", "celesta") | ("strings", "harp" | "guitar") => Family::Keyboard,
        ("wind" | "flute", _) => Family::Woodwind,
        ("brass", _) => Family::Brass,
        ("strings", _) => Family::Strings,
        ("keyboard" | "pluck", _) => Family::Keyboard,
        ("voice", _) => Family::Voices,
        ("drum" | "metal" | "wood" | "pitched-percussion" | "rattle" | "effect", _) => Family::Percussion,
        _ => Family::Unknown,
    }
}

/// Words in a folded name (`*`: any word that begins so) and the family they tell. The first that fits counts, so
/// names that hold another instrument's name stand first ("bass drum", "english horn").
const NAMES: [(Family, &str); 11] = [
    (
        Family::Percussion,
        "bass drum*, tenor drum*, tambour*, caisse*, grosse caisse*, gran cassa*, grosse trommel*, \
         kleine trommel*, glass harmonica*, jeu de timbres*",
    ),
    (
        Family::Woodwind,
        "bass clarinet*, bass klarinette*, bass flute*, bass oboe*, basset*, bassett*, bassoon*, basson*, \
         bassklarinette*, bassflote*, english horn*, englisch horn*, englischhorn*, corno inglese*, \
         cor anglais*, corno di bassetto*, cor de basset*, alto saxophone*, alto flute*, alto clarinet*, \
         altflote*, altsaxophon*, tenor saxophone*, tenorsaxophon*, soprano saxophone*, baritone saxophone*, \
         kleine flote*, petite flute*, clarinetto basso*",
    ),
    (
        Family::Brass,
        "bass trombone*, bass trumpet*, bass tuba*, bassposaune*, basstuba*, basstrompete*, alto trombone*, \
         altposaune*, tenor trombone*, tenor tuba*, tenortuba*, tenorposaune*, tenorhorn*, baritone horn*, \
         french horn*, trombone basso*",
    ),
    (Family::Keyboard, "bass guitar*, basso continuo*"),
    (Family::Strings, "viola da gamba*, double bass*, string bass*, bassi*"),
    (
        Family::Woodwind,
        "piccolo*, pikkolo*, ottavino*, flaut*, flut*, flote*, floten*, querflote*, blockflote*, recorder*, \
         traverso*, oboe*, oboi*, hoboe*, hautbois*, heckelphon*, clarinet*, clarinett*, klarinett*, fagott*, \
         contrafagott*, kontrafagott*, contrabassoon*, contrebasson*, double bassoon*, sax, saxo*, woodwind*",
    ),
    (
        Family::Brass,
        "horn*, waldhorn*, corno*, corni*, cor, cors, flugelhorn*, trumpet*, tromp*, tromba*, trombe*, clarin*, \
         cornet*, kornett*, trombon*, posaune*, tuba*, tuben*, wagnertub*, wagner tub*, euphonium*, \
         ophicleide*, ophikleide*, cimbasso*, serpent*, brass*",
    ),
    (
        Family::Percussion,
        "timpan*, timbal*, pauke*, kettledrum*, percussion*, percussioni*, batteria*, batterie*, schlagzeug*, \
         schlagwerk*, drum*, side drum*, snare*, tamburo*, tamburin*, tambourine*, tom tom*, trommel*, \
         ruhrtrommel*, wirbeltrommel*, cymbal*, becken*, piatti*, piatto*, crotales*, triang*, tam tam*, \
         tamtam*, gong*, glocken*, campan*, cloches*, tubular bells*, chimes*, bells*, rohrenglocken*, \
         carillon*, xylo*, silofono*, marimba*, vibra*, castan*, kastagnetten*, nacchere*, wood block*, \
         woodblock*, temple block*, whip*, peitsche*, frusta*, ratchet*, ratsche*, bongo*, conga*, \
         windmaschine*, wind machine*",
    ),
    (
        Family::Keyboard,
        "piano*, pianoforte*, klavier*, flugel*, celest*, harpsichord*, cembalo*, clavicembalo*, clavecin*, \
         organ*, orgel*, orgue*, harmonium*, keyboard*, continuo*, harp*, harfe*, arpa*, arpe*, guitar*, \
         gitarre*, chitarra*, mandolin*, lute, laute*, theorb*, accordion*, akkordeon*",
    ),
    (
        Family::Voices,
        "sopran*, mezzo*, contralto*, alto, tenor, tenore, tenors, bariton*, voice*, voix*, voce*, stimme*, \
         singstimme*, gesang*, canto*, chor*, choir*, coro, choeur*, erzahler*, narrator*, speaker*",
    ),
    (
        Family::Strings,
        "violin*, violon*, geige*, violine*, viola*, viole*, bratsche*, cello*, celli*, violonc*, violoncell*, \
         contrab*, kontrab*, contreb*, streicher*, strings*, archi*, cordes*",
    ),
];

/// By a name such as "Flauto piccolo", "2 Hörner in F", "Violon I".
fn by_name(name: &str) -> Family {
    let folded = fold(name);
    // German puts the plural into the vowel, which folding already undoes.
    let starts: Vec<&str> = word_starts(&folded).collect();
    let told = |name: &str| starts.iter().any(|rest| begins(rest, name));
    NAMES.iter().find(|(_, names)| names.split(", ").any(told)).map(|(family, _)| *family).unwrap_or_default()
}

/// The text from each of its words on.
fn word_starts(folded: &str) -> impl Iterator<Item = &str> {
    let later = folded.match_indices(' ').filter_map(|(at, _)| folded.get(at + 1..));
    std::iter::once(folded).chain(later)
}

/// Whether `text` begins with a whole name, or with the beginning of one when that ends in `*`.
fn begins(text: &str, name: &str) -> bool {
    match name.strip_suffix('*') {
        Some(beginning) => text.starts_with(beginning),
        None => text.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with(' ')),
    }
}

/// Usual abbreviations, folded, without their numbers.
const ABBREVIATIONS: [(Family, &str); 6] = [
    (
        Family::Woodwind,
        "fl, flt, picc, pic, ob, cl, clar, kl, klar, fg, fag, bsn, bn, bssn, cbsn, cfg, eh, e h, c ingl, c a, \
         ca, bcl, b cl, sax, ott, kfg, htb, bon",
    ),
    (
        Family::Brass,
        "hn, hr, hrn, cor, cr, tr, trp, tpt, trpt, tromp, trb, tbn, trbn, trbne, tbne, pos, tb, tba, tu, cnt, \
         crt, euph",
    ),
    (
        Family::Percussion,
        "timp, tmp, pk, perc, prc, tri, trgl, cym, bd, b d, sd, s d, gr c, g c, gr tr, kl tr, glock, glsp, xyl, \
         vib, mar, bck, piat, schlg, tamb",
    ),
    (Family::Keyboard, "pno, pf, klav, cel, hp, hrp, hf, arp, org, cemb, hpschd, b c, bc, gtr"),
    (Family::Voices, "s, a, t, b, sop, ten, bar, mez"),
    (
        Family::Strings,
        "vl, vln, vn, vni, vno, viol, vla, va, vle, br, vc, vlc, vcl, vcll, vcs, cb, kb, db, d b, cello, cb b, \
         bs",
    ),
];

fn by_abbreviation(abbreviation: &str) -> Family {
    let folded = fold(abbreviation);
    let is_number = |word: &&str| word.chars().all(|c| c.is_ascii_digit()) || ["i", "ii", "iii", "iv"].contains(word);
    let words: Vec<&str> = folded.split(' ').filter(|word| !is_number(word)).collect();
    let bare = words.join(" ");
    let first = words.first().copied().unwrap_or_default();
    let find = |wanted: &str| {
        ABBREVIATIONS
            .iter()
            .find(|(_, known)| known.split(", ").any(|known| known == wanted))
            .map(|(family, _)| *family)
    };
    find(&bare).or_else(|| find(first)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(family: Family, names: &[&str]) {
        for name in names {
            assert_eq!(by_name(name), family, "{name}");
        }
    }

    #[test]
    fn woodwind_in_four_languages() {
        all(
            Family::Woodwind,
            &[
                "Flute 1",
                "Fl\u{f6}ten",
                "Flauto piccolo",
                "Fl\u{fb}tes",
                "Hautbois",
                "Oboi",
                "English Horn",
                "Corno inglese",
            ],
        );
        all(
            Family::Woodwind,
            &[
                "Cor anglais",
                "Clarinet in B\u{266d}",
                "Bassklarinette",
                "Fagotti",
                "Contrebasson",
                "Basset Horn",
                "Altfl\u{f6}te",
            ],
        );
    }

    #[test]
    fn brass_in_four_languages() {
        all(
            Family::Brass,
            &[
                "Horn in F",
                "2 H\u{f6}rner",
                "Corni",
                "Cors en fa",
                "Trumpets",
                "Trombe in C",
                "Trompete",
                "Posaunen",
                "Bass Trombone",
                "Tuba",
            ],
        );
    }

    #[test]
    fn percussion_in_four_languages() {
        all(
            Family::Percussion,
            &[
                "Timpani",
                "Pauken",
                "Timbales",
                "Bass Drum",
                "Gro\u{df}e Trommel",
                "Grosse caisse",
                "Gran Cassa",
                "Triangolo",
                "Becken",
                "Glockenspiel",
            ],
        );
    }

    #[test]
    fn keyboards_harps_and_plucked_strings() {
        all(
            Family::Keyboard,
            &["Harp", "Harfe", "Arpa", "Piano", "Klavier", "C\u{e9}lesta", "Orgel", "Cembalo", "Continuo"],
        );
    }

    #[test]
    fn voices_and_strings() {
        all(Family::Voices, &["Soprano", "Alto", "Tenor solo", "Chor", "Ch\u{153}ur"]);
        all(
            Family::Strings,
            &[
                "Violin I",
                "Violine 2",
                "Violons",
                "Viola",
                "Bratschen",
                "Altos et Violoncelles",
                "Kontrabass",
                "Double Bass",
                "Contrabassi",
                "Celli",
            ],
        );
    }

    #[test]
    fn what_cannot_be_told_is_not_guessed() {
        all(Family::Unknown, &["Bass", "Part 1", "", "Tape", "Coronation"]);
    }

    #[test]
    fn sounds_tell_before_names_and_abbreviations_last() {
        let family = |sounds: &[&'static str], name: &str, abbreviation: &str| {
            family_of(sounds.iter().copied(), std::iter::once(name), abbreviation)
        };
        assert_eq!(family(&["strings.contrabass"], "Bass", ""), Family::Strings);
        assert_eq!(family(&["pluck.harp"], "", ""), Family::Keyboard);
        assert_eq!(family(&["brass.french-horn"], "", ""), Family::Brass);
        assert_eq!(family(&[], "", "Vln. II"), Family::Strings);
        assert_eq!(family(&[], "", "Fg. 1"), Family::Woodwind);
        assert_eq!(family(&[], "", ""), Family::Unknown);
    }
}
