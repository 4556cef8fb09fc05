//! Words that mean something to the whole orchestra, in Italian, German, French and English. Common practice.

use super::fold::fold;

/// What words over the staff mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// The tempo changes bit by bit.
    TempoMoves,
    /// A tempo, or a return to one.
    Tempo,
    GeneralPause,
    /// Play on from somewhere else, or straight on.
    Jump,
}

/// First words, folded, of a gradual change of tempo.
const MOVES: &str = "rit, ritard, ritardando, riten, ritenuto, ritenendo, rall, rallent, rallentando, allarg, allargando, \
     slargando, slentando, lentando, largando, stentando, trattenuto, accel, accelerando, string, stringendo, \
     affrettando, affrett, incalzando, calando, animando, precipitando, zuruckhalten, zuruckhaltend, \
     verlangsamen, verlangsamend, verbreitern, verbreiternd, beschleunigen, beschleunigend, eilen, eilend, \
     drangen, drangend, nachlassen, nachlassend, zogernd, langsamer werden, langsamer werdend, \
     schneller werden, schneller werdend, breiter werdend, immer langsamer, immer schneller, \
     allmahlich langsamer, allmahlich schneller, nach und nach langsamer, nach und nach schneller, \
     nach und nach bewegter, ralentir, ralentissez, en ralentissant, ralenti, retenir, en retenant, retenez, \
     retenu, cedez, ceder, en cedant, accelerer, accelerez, en accelerant, presser, pressez, en pressant, \
     animez, en animant, animez peu a peu, serrez, en serrant, elargir, elargissez, en elargissant, slowing, \
     slowing down, slow down, gradually slower, gradually faster, getting slower, getting faster, hold back, \
     holding back, speeding up, speed up, hurrying, broadening, slower and slower, faster and faster";

/// What may stand before such a word without changing its sense.
const LEADS: &str = "poco a poco, un poco, un poch, pochiss, pochissimo, molto, poco, poch, pochettino, sempre, piu, assai, \
     senza, etwas, sehr, ein wenig, wenig, allmahlich, nach und nach, un peu, tres, peu a peu, a little, \
     molto rit, gradually, e, et, und, quasi, subito, con";

/// Beginnings that make the tempos after them gradual ("poco a poco più mosso").
const GRADUAL: &str = "poco a poco, nach und nach, peu a peu, gradually, allmahlich, immer, little by little";

/// Tempos compared with the one before.
const COMPARED: &str = "piu animato, piu mosso, piu lento, piu presto, piu vivo, piu allegro, piu agitato, piu tranquillo, meno mosso, \
     animato, animando, plus vite, plus lent, plus anime, moins vite, schneller, langsamer, bewegter, belebter, \
     ruhiger, lebhafter, breiter, rascher, etwas bewegter, faster, slower, quicker";

/// First words of a tempo.
const TEMPOS: &str = "allegro, allegretto, allegrissimo, andante, andantino, adagio, adagietto, adagissimo, largo, larghetto, \
     larghissimo, lento, lentissimo, moderato, presto, prestissimo, vivace, vivacissimo, vivo, grave, a tempo, \
     in tempo, tempo i, tempo 1, tempo primo, tempo ii, tempo di, tempo giusto, tempo ordinario, \
     listesso tempo, l istesso tempo, istesso tempo, lo stesso tempo, doppio movimento, piu mosso, meno mosso, \
     poco piu mosso, poco meno mosso, un poco piu mosso, un poco meno mosso, piu lento, piu allegro, \
     piu presto, piu animato, molto allegro, molto adagio, molto vivace, molto moderato, molto lento, \
     assai allegro, poco allegro, poco adagio, poco andante, poco allegretto, un poco allegro, \
     un poco sostenuto, un poco adagio, non troppo allegro, allo, andte, langsam, sehr langsam, massig, \
     sehr massig, lebhaft, sehr lebhaft, schnell, sehr schnell, rasch, sehr rasch, gemachlich, bewegt, \
     etwas bewegter, bewegter, schneller, langsamer, ruhig bewegt, im tempo, wieder im tempo, erstes tempo, \
     zeitmass, erstes zeitmass, im zeitmass, hauptzeitmass, tempo wie zuvor, feierlich, massig bewegt, \
     ziemlich langsam, ziemlich schnell, ziemlich lebhaft, lent, tres lent, modere, tres modere, vif, tres vif, \
     anime, tres anime, assez vif, assez lent, mouvement, au mouvement, au mouvt, mouvt, 1er mouvement, \
     1er mouvt, 1 er mouv, premier mouvement, mouvement du debut, plus lent, plus vite, plus anime, moins vite, \
     meme mouvement, slow, very slow, slowly, fast, very fast, quick, quickly, moderately, moderate, lively, \
     brisk, slower, faster, tempo as before, first tempo, original tempo";

const PAUSES: &str = "g p, gp, p g, general pause, generalpause, gen pause, gr pause, grand pause, pausa generale, grosse pause, \
     pause generale, silence general, long pause";

/// First words of a jump or of going straight on.
const JUMPS: &str = "d c, dc, da capo, d s, ds, dal segno, d s al, al coda, to coda, al segno, fine, segno, coda, attacca, \
     attaca, segue subito, enchainez, sans interruption, ohne unterbrechung, ohne pause weiter, folgt sogleich, \
     sogleich weiter, go straight on, without a break";

/// Ends of a jump that begins with the name of a section ("Menuetto D.C. al Fine").
const NAMED_JUMPS: &str = " d c, d c al fine, d c al coda, d s al fine, d s al coda, da capo, da capo al fine, dal segno, \
     dal segno al fine";

/// What the words mean to the whole orchestra; `None` for instructions to players.
pub(super) fn meaning(words: &str) -> Option<Meaning> {
    /// Longer texts tell a story.
    const LONGEST: usize = 80;
    if words.len() > LONGEST {
        return None;
    }
    let folded = fold(words);
    if listed(PAUSES).any(|pause| pause == folded) {
        return Some(Meaning::GeneralPause);
    }
    if begins_with_any(&folded, JUMPS) || listed(NAMED_JUMPS).any(|jump| folded.ends_with(jump)) {
        return Some(Meaning::Jump);
    }
    let gradual = listed(GRADUAL).filter_map(|lead| folded.strip_prefix(lead)?.strip_prefix(' '));
    if gradual.into_iter().any(|rest| begins_with_any(rest, COMPARED)) {
        return Some(Meaning::TempoMoves);
    }
    if begins_with_any(&folded, TEMPOS) {
        return Some(Meaning::Tempo);
    }
    let mut rest = folded.as_str();
    loop {
        if begins_with_any(rest, MOVES) {
            return Some(Meaning::TempoMoves);
        }
        let lead = listed(LEADS).filter_map(|lead| rest.strip_prefix(lead)).filter_map(|rest| rest.strip_prefix(' '));
        rest = lead.min_by_key(|rest| rest.len())?;
    }
}

/// Whether whole words at the beginning are one of `phrases`.
fn begins_with_any(text: &str, phrases: &str) -> bool {
    let begins = |phrase| text.strip_prefix(phrase).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
    listed(phrases).any(begins)
}

fn listed(phrases: &str) -> impl Iterator<Item = &str> {
    phrases.split(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tempo_moves_in_four_languages() {
        let moves = [
            "rit.",
            "poco a poco accel.",
            "molto rall.",
            "Zur\u{fc}ckhaltend",
            "C\u{e9}dez",
            "un peu retenu",
            "slowing down",
        ];
        for words in moves {
            assert_eq!(meaning(words), Some(Meaning::TempoMoves), "{words}");
        }
    }

    #[test]
    fn tempos_in_four_languages() {
        for words in
            ["Allegro ma non troppo", "a tempo", "Tempo I", "Sehr langsam", "Au mouvt", "Tr\u{e8}s vif", "Slowly"]
        {
            assert_eq!(meaning(words), Some(Meaning::Tempo), "{words}");
        }
    }

    #[test]
    fn pauses_and_jumps_are_told() {
        for words in ["G.P.", "GP", "Generalpause"] {
            assert_eq!(meaning(words), Some(Meaning::GeneralPause), "{words}");
        }
        for words in
            ["attacca", "D.C. al Fine", "M.D.C. al Fine", "Scherzo da capo", "Fine", "Encha\u{ee}nez", "Da Capo"]
        {
            assert_eq!(meaning(words), Some(Meaning::Jump), "{words}");
        }
    }

    #[test]
    fn instructions_to_players_mean_nothing_to_the_whole_orchestra() {
        for words in [
            "pizz.",
            "con sord.",
            "dolce",
            "a 2",
            "cresc.",
            "ritmico",
            "stringere",
            "Finest",
            "espr. molto",
            "poco",
            "breit gestrichen",
            "poco a poco pi\u{f9} forte",
        ] {
            assert_eq!(meaning(words), None, "{words}");
        }
    }
}
