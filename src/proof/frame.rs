//! What frames the notes: metre, key, repeats and endings, double bars.

use super::side::{Both, Pairs, Side, Spot};
use super::words;
use super::{Class, Proof};
use crate::players::Hands;
use crate::score::{Bar, Barline};
use crate::words::all_listed;

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    metres(both, pairs, found);
    keys(both, pairs, found);
    for pair in &pairs.both {
        let Some((line, part)) = both.line.bar(pair.0).zip(both.part.bar(pair.1)) else { continue };
        let (one, other) = (repeats(line), repeats(part));
        if one != other {
            found.differs(
                Class::Repeat,
                both.pair(*pair, None),
                or_none(&one, "no repeat"),
                or_none(&other, "no repeat"),
            );
        }
        let (one, other) = (doubles(both, &both.line, pair.0), doubles(both, &both.part, pair.1));
        // A repeat or a final bar tells as much.
        if one != other && repeats(line).is_empty() && !line.right.is_final && !part.right.is_final {
            let word = |is: bool| if is { "double bar" } else { "single bar" };
            found.differs(Class::Barline, both.pair(*pair, None), word(one), word(other));
        }
    }
}

fn or_none(words: &[String], none: &str) -> String {
    if words.is_empty() { none.to_owned() } else { all_listed(words) }
}

/// "repeat begins", "repeat ends", "ending 1 begins".
fn repeats(bar: &Bar) -> Vec<String> {
    let mut words = Vec::new();
    let mut add = |is: bool, word: String| {
        if is {
            words.push(word);
        }
    };
    add(bar.left.repeat, "repeat begins".to_owned());
    add(bar.right.repeat, "repeat ends".to_owned());
    if let Some(ending) = &bar.ending {
        let times = all_listed(&ending.times.iter().map(u32::to_string).collect::<Vec<_>>());
        add(ending.starts, format!("ending {times} begins"));
        add(!ending.starts && !ending.stops, format!("ending {times} goes on"));
        add(ending.stops, format!("ending {times} ends"));
    }
    words
}

/// Whether a bar ends with a double bar, on whichever side of the barline the file says it.
fn doubles(both: &Both<'_>, side: &Side<'_>, at: usize) -> bool {
    let is_double = |line: &Barline| line.is_double;
    let ends = side.bar(at).is_some_and(|bar| is_double(&bar.right));
    let is_last = at + 1 >= side.count() || at + 1 >= both.line.count();
    ends || (!is_last && side.bar(at + 1).is_some_and(|bar| is_double(&bar.left)))
}

fn metres(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let text = |bar: &Bar| {
        let text = bar.metre.as_ref().map(|metre| metre.text.as_str());
        // As C and as C with a stroke they are printed; as numbers they are compared.
        text.map(|text| match text {
            "C" => "4/4".to_owned(),
            "\u{a2}" => "2/2".to_owned(),
            _ => text.to_owned(),
        })
    };
    let words = |metre: Option<&String>| metre.map_or("no metre".to_owned(), Clone::clone);
    let of = |pair: &(usize, usize)| {
        let (line, part) = both.line.bar(pair.0).zip(both.part.bar(pair.1))?;
        let same = line.metre.as_ref().map(|metre| metre.length) == part.metre.as_ref().map(|metre| metre.length);
        (!same).then(|| (text(line), text(part)))
    };
    for (spot, (line, part)) in runs(both, pairs, of) {
        found.differs(Class::Metre, spot, words(line.as_ref()), words(part.as_ref()));
    }
}

/// Keys at sounding pitch; twelve fifths away is the same key, spelt otherwise.
fn keys(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    if both.part.heard.iter().flat_map(|heard| &heard.notes).all(|note| note.is_unpitched()) {
        return;
    }
    let own = |side: &Side<'_>, at: usize| {
        side.cells(at)
            .first()
            .map(|cell| (i32::from(cell.key.fifths) + cell.transposition.fifths(), cell.transposition.fifths()))
    };
    let without = (0..both.part.count()).all(|bar| both.part.cells(bar).iter().all(|cell| cell.key.fifths == 0));
    // Horns, trumpets and drums may be written without a signature (common practice).
    let may_lack = matches!(both.player.hands, Hands::Wind | Hands::Timpani | Hands::Percussion);
    let of = |pair: &(usize, usize)| {
        let ((line, _), (part, moved)) = own(&both.line, pair.0).zip(own(&both.part, pair.1))?;
        ((line - part).rem_euclid(12) != 0).then_some((line - moved, part - moved))
    };
    let all = runs(both, pairs, of);
    if without && may_lack && !all.is_empty() {
        let span = both.line.span(0, both.line.count().saturating_sub(1));
        Proof::tell(&mut found.same, span, "written without a key signature");
        return;
    }
    for (spot, (line, part)) in all {
        found.differs(Class::Key, spot, words::key(home(line)), words::key(part));
    }
}

/// A signature that can be written: of so many sharps that they come round, as flats.
fn home(fifths: i32) -> i32 {
    if (-7..=7).contains(&fifths) { fifths } else { (fifths + 5).rem_euclid(12) - 5 }
}

/// Neighbouring pairs of which the same is told, as one.
fn runs<T: PartialEq>(both: &Both<'_>, pairs: &Pairs, of: impl Fn(&(usize, usize)) -> Option<T>) -> Vec<(Spot, T)> {
    let mut runs: Vec<(Spot, T)> = Vec::new();
    let mut before = false;
    for pair in &pairs.both {
        let Some(own) = of(pair) else {
            before = false;
            continue;
        };
        match runs.last_mut() {
            Some((spot, last)) if before && *last == own => {
                spot.bars.last = both.line.idx(pair.0);
                spot.part_bars =
                    spot.part_bars.map(|bars| crate::place::BarSpan::new(bars.first, both.part.idx(pair.1)));
            }
            _ => runs.push((both.pair(*pair, None), own)),
        }
        before = true;
    }
    runs
}
