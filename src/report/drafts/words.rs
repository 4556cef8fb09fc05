//! What changed, in words that paper, terminal and JSON share.

use crate::check::{Compared, Draft, PagesOnly, PartChecked, Reader};
use crate::compare::{FoundFate, Status, TurnFate};
use crate::layout::Layout;
use crate::rules::Weight;
use crate::units::Mm;
use crate::words::{counted, in_words, listed, sentence};

mod changed;
mod printed;
mod slip;

pub use changed::{caution, density, found_by_place, pair, parts, rulers, stretch};
pub use printed::{because, moves, numbers, sheets, stays, why};
pub use slip::{slip, slip_by_player};

/// One sentence on the whole.
#[must_use]
pub fn headline(compared: &Compared) -> String {
    let mut clauses: Vec<String> = Vec::new();
    if let Some(why) = compared.pages_only {
        clauses.push(match why {
            PagesOnly::NoMusic => "compared as pages alone, since nobody gave the music".to_owned(),
            PagesOnly::OtherPieces(share) => {
                format!("two different pieces: {:.0} % of the music is alike; compared as pages alone", share * 100.0)
            }
            PagesOnly::NoCommonPart => "no part of the one is in the other; compared as pages alone".to_owned(),
        });
    }
    let has_music = compared.pages_only.is_none();
    let is_same = has_music && compared.music.is_same();
    // First of all whether anybody has to play something else.
    if is_same {
        clauses.push("the music is the same".to_owned());
    }
    let pages: Vec<String> = [length(compared), height(compared)].into_iter().flatten().collect();
    if !pages.is_empty() {
        clauses.push(pages.join(", "));
    }
    if has_music && !is_same {
        clauses.push(music(compared));
    }
    // Of two pieces no turn is the same turn.
    if has_music {
        clauses.extend([findings(compared), turns(compared)].into_iter().flatten());
    }
    if clauses.is_empty() {
        clauses.push("nothing changed".to_owned());
    }
    sentence(&clauses.join("; ")) + "."
}

/// "2 pages longer".
fn length(compared: &Compared) -> Option<String> {
    let (old, new) = (compared.pages.old.pages, compared.pages.new.pages);
    // An excerpt is not a shorter score.
    let is_excerpt = compared.drafts.iter().any(|draft| without_page(draft) > 0);
    match old.abs_diff(new) {
        _ if is_excerpt => None,
        0 => None,
        by => Some(format!("{} {}", counted(by, "page"), if new > old { "longer" } else { "shorter" })),
    }
}

/// How many bars stand on none of a draft's printed pages; 0 where no printed pages were given.
#[must_use]
pub fn without_page(draft: &Draft) -> u32 {
    let fit = draft.checked.printed.as_ref().and_then(|printed| printed.fit.as_ref());
    fit.iter().flat_map(|fit| &fit.missing).map(|missing| missing.bars.count()).sum()
}

/// "staves of 4.5 mm for 4.2 mm".
fn height(compared: &Compared) -> Option<String> {
    let (old, new) = (compared.pages.old.usual_staff?, compared.pages.new.usual_staff?);
    let differs = (new - old).0.abs() >= 0.05;
    differs.then(|| format!("staves of {:.1} mm for {:.1} mm", new.0, old.0))
}

/// The least and the largest height of staves: "4.5 mm", "4.5 to 5.0 mm".
#[must_use]
pub fn heights((least, most): (Mm, Mm)) -> String {
    if (most - least).0 < 0.05 { format!("{:.1} mm", most.0) } else { format!("{:.1} to {:.1} mm", least.0, most.0) }
}

/// "7 bars out, 12 moved, 6 edited; one part added".
fn music(compared: &Compared) -> String {
    let music = &compared.music;
    let edited = music.bars.iter().filter(|bar| bar.status == Status::Edited && bar.is_edited()).count();
    let counts = [
        (music.count(Status::Deleted), "out"),
        (music.count(Status::Inserted), "in"),
        (music.count(Status::Moved), "moved"),
        (edited, "edited"),
    ];
    let mut bars: Vec<String> = Vec::new();
    for (count, word) in counts.into_iter().filter(|(count, _)| *count > 0) {
        let number = if bars.is_empty() { counted(count, "bar") } else { count.to_string() };
        bars.push(format!("{number} {word}"));
    }
    let parts = |is: &dyn Fn(&crate::compare::PartPair) -> bool| music.parts.iter().filter(|part| is(part)).count();
    let of_parts = [
        (parts(&|part| part.old.is_none()), "added"),
        (parts(&|part| part.new.is_none()), "dropped"),
        (parts(&|part| part.renamed), "renamed"),
        (parts(&|part| part.reordered), "elsewhere in the score"),
        (parts(&|part| part.retransposed), "written for another transposition"),
    ];
    let told = of_parts.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> =
        told.map(|(count, word)| format!("{} {word}", crate::words::counted_in_words(count, "part"))).collect();
    let told = [bars.join(", "), parts.join(", ")];
    let told: Vec<&str> = told.iter().map(String::as_str).filter(|text| !text.is_empty()).collect();
    if told.is_empty() { "only stems and beams differ in the music".to_owned() } else { told.join("; ") }
}

/// "three places mended, one new": of those to be mended.
fn findings(compared: &Compared) -> Option<String> {
    let count = |fate: FoundFate| {
        let own = compared.findings.iter().filter(|(_, change)| change.fate == fate && !change.accepted);
        own.filter(|(_, change)| change.weight >= Weight::Mend).count()
    };
    let (mended, new) = (count(FoundFate::Mended), count(FoundFate::New));
    let places = |count: usize| crate::words::counted_in_words(count, "place");
    match (mended, new) {
        (0, 0) => None,
        (0, new) => Some(format!("{} to mend new", places(new))),
        (mended, 0) => Some(format!("{} mended, none new", places(mended))),
        (mended, new) => Some(format!("{} mended, {} new", places(mended), in_words(new))),
    }
}

/// "Cellos lost a turn at 88; the conductor won one".
fn turns(compared: &Compared) -> Option<String> {
    let score = &compared.sides()?.1.checked.score;
    let mut told = Vec::new();
    for own in &compared.turns {
        let of = |fate: TurnFate| own.changes.iter().filter(move |change| change.fate == fate);
        let (lost, won) = (of(TurnFate::Lost).count(), of(TurnFate::Won).count());
        let who = match own.reader {
            Reader::Conductor => "the conductor".to_owned(),
            Reader::Player(_) => document(own.reader, compared),
        };
        if lost > 0 {
            let bars: Vec<String> =
                of(TurnFate::Lost).filter_map(|change| Some(score.place_label(change.new_after?))).collect();
            let turns = if lost == 1 { "a turn".to_owned() } else { format!("{} turns", in_words(lost)) };
            told.push(format!("{who} lost {turns} at {}", listed(bars)));
        }
        if won > 0 {
            told.push(format!(
                "{who} won {}",
                if won == 1 { "a turn".to_owned() } else { format!("{} turns", in_words(won)) }
            ));
        }
    }
    (!told.is_empty()).then(|| listed(told))
}

/// Whose document it is: "Score", or the player's name.
#[must_use]
pub fn document(reader: Reader, compared: &Compared) -> String {
    match reader {
        Reader::Conductor => "Score".to_owned(),
        Reader::Player(at) => compared.players.get(at).map_or_else(String::new, |player| player.name.clone()),
    }
}

/// The pages of one document in the old and in the new draft.
#[must_use]
pub fn layouts(reader: Reader, compared: &Compared) -> (Option<&Layout>, Option<&Layout>) {
    let Some((old, new)) = compared.sides() else { return (None, None) };
    match reader {
        Reader::Conductor => (Some(&old.checked.layout), Some(&new.checked.layout)),
        Reader::Player(at) => {
            let player = compared.players.get(at);
            let (one, other) = (player.and_then(|own| own.old), player.and_then(|own| own.new));
            (layout(old, one), layout(new, other))
        }
    }
}

fn layout(draft: &Draft, part: Option<usize>) -> Option<&Layout> {
    draft.parts.as_ref()?.parts.get(part?).map(PartChecked::layout)
}

/// The name of a part, the new one where there is one.
#[must_use]
pub fn part_name(part: &crate::compare::PartPair, compared: &Compared) -> String {
    let Some((old, new)) = compared.sides() else { return String::new() };
    let name = |draft: &Draft, id: Option<crate::place::PartId>| {
        id.and_then(|id| draft.checked.score.parts.get(id.at())).map(|part| part.name.clone())
    };
    name(new, part.new).or_else(|| name(old, part.old)).unwrap_or_default()
}

/// A kind of change as a musician calls it.
#[must_use]
pub fn kind(what: crate::compare::What) -> &'static str {
    match what {
        crate::compare::What::Landmarks => "letters",
        crate::compare::What::Signs => "signs at the notes",
        other => other.name(),
    }
}
