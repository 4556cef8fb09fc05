//! Whose part a file is: the player and the bars that it agrees with best, in notes first, then in name, transposition
//! and clef.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use super::heard::{self, HeardNote};
use crate::place::BarSpan;
use crate::players::Player;
use crate::players::names::{self, Count};
use crate::score::{Part, Score};

/// A run of bars by the notes in them, whatever their order.
#[derive(Clone, Debug, Default)]
pub struct Fingers {
    /// How often each bar that sounds stands there, at pitch.
    pitched: BTreeMap<u64, u32>,
    /// The same by rhythm alone: a part that is a tone off throughout is still that part.
    rhythm: BTreeMap<u64, u32>,
    sounding: u32,
}

impl Fingers {
    #[must_use]
    pub fn of(music: &Score, bars: BarSpan) -> Fingers {
        let mut own = Fingers::default();
        for bar in heard::bars(music, bars.first.at(), bars.count() as usize) {
            if bar.is_silent() {
                continue;
            }
            own.sounding += 1;
            let pitched: Vec<_> = bar.notes.iter().map(HeardNote::key).collect();
            let rhythm: Vec<_> = bar.notes.iter().map(|note| (note.onset, note.grace, note.length)).collect();
            *own.pitched.entry(hash(&pitched)).or_default() += 1;
            *own.rhythm.entry(hash(&rhythm)).or_default() += 1;
        }
        own
    }

    /// Bars in which anything sounds.
    #[must_use]
    pub fn sounding(&self) -> u32 {
        self.sounding
    }

    /// Share of all bars that sound in either which stand in both, from 0 to 1; rhythm alone counts for less.
    #[must_use]
    pub fn agreement(&self, other: &Fingers) -> f64 {
        const RHYTHM: f64 = 0.5;
        let all = f64::from(self.sounding + other.sounding);
        if all == 0.0 {
            return 0.0;
        }
        let common = |one: &BTreeMap<u64, u32>, other: &BTreeMap<u64, u32>| -> u32 {
            one.iter().filter_map(|(bar, count)| Some((*count).min(*other.get(bar)?))).sum()
        };
        let pitched = 2.0 * f64::from(common(&self.pitched, &other.pitched)) / all;
        let rhythm = 2.0 * f64::from(common(&self.rhythm, &other.rhythm)) / all;
        pitched.max(rhythm * RHYTHM)
    }
}

fn hash(what: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    what.hash(&mut hasher);
    hasher.finish()
}

/// How well the name of a part, or of its file, fits a player: from 0 to 1.
#[must_use]
pub fn named(part: &Part, file: &str, player: &Player) -> f64 {
    let same = |name: &str| comparable(name) == comparable(&player.name);
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    if same(&part.name) || same(stem) {
        return 1.0;
    }
    let own = player.music.parts.first().map(names::read);
    let by = |name: &str| {
        let read = names::read(&Part { name: name.to_owned(), ..part.clone() });
        let Some(own) = &own else { return 0.0_f64 };
        if (read.instrument, &read.other) != (own.instrument, &own.other) {
            return 0.0;
        }
        let number = |count: &Count| match count {
            Count::Ordinals(ordinals) if ordinals.len() == 1 => ordinals.first().copied(),
            _ => None,
        };
        let wanted = player.number.map(u32::from).or_else(|| number(&own.count));
        match (number(&read.count), wanted) {
            (Some(one), Some(other)) if one == other => 0.8,
            (Some(1), None) | (None, Some(1)) | (None, None) => 0.5,
            _ => 0.1,
        }
    };
    by(&part.name).max(by(stem))
}

/// Lower case, letters and figures only, single spaces.
fn comparable(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    plain.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether both begin with the same transposition, and with the same clef: each a little.
#[must_use]
pub fn written_alike(part: &Score, player: &Player, bars: BarSpan) -> f64 {
    const EACH: f64 = 0.5;
    let staves = player.music.staves.len();
    let own = player.music.cells.get(bars.first.at() * staves);
    let Some((one, other)) = part.cells.first().zip(own) else { return 0.0 };
    let each = |same: bool| if same { EACH } else { 0.0 };
    each(one.transposition == other.transposition) + each(one.clef == other.clef)
}

/// What a file could be.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    pub file: usize,
    pub player: usize,
    pub bars: BarSpan,
    /// In notes, from 0 to 1.
    pub agreement: f64,
    /// With name and writing added; what is assigned by.
    pub score: f64,
}

/// What became of a file.
#[derive(Clone, Debug, PartialEq)]
pub enum Fate {
    /// A player's part; another player that it could as well be.
    Part { candidate: Candidate, doubt: Option<usize> },
    /// Another file is that player's part, and agrees better or as well.
    Taken { by: usize },
    /// Nobody's.
    Stranger,
}

/// So many of its bars must be the player's; fewer where the name says it is theirs.
const AGREES: f64 = 0.3;
const AGREES_NAMED: f64 = 0.05;
/// What a name, and alike writing, add.
const NAMED: f64 = 0.25;
const WRITTEN: f64 = 0.02;
/// Agreements so close are the same.
const CLOSE: f64 = 0.02;

impl Candidate {
    /// Adds name (0 to 1) and writing (0 to 1) to the agreement; `None` where that is not enough.
    #[must_use]
    pub fn of(
        file: usize,
        player: usize,
        bars: BarSpan,
        agreement: f64,
        named: f64,
        written: f64,
    ) -> Option<Candidate> {
        let enough = if named >= 0.5 { AGREES_NAMED } else { AGREES };
        let score = agreement + NAMED * named + WRITTEN * written;
        (agreement >= enough).then_some(Candidate { file, player, bars, agreement, score })
    }
}

/// Gives each file at most one player and each bar of a player at most one file, the best first.
#[must_use]
pub fn assign(files: usize, mut candidates: Vec<Candidate>) -> Vec<Fate> {
    candidates
        .sort_by(|a, b| b.score.total_cmp(&a.score).then((a.file, a.player, a.bars).cmp(&(b.file, b.player, b.bars))));
    let mut fates: Vec<Option<Fate>> = vec![None; files];
    let mut taken: Vec<Candidate> = Vec::new();
    for candidate in &candidates {
        let Some(fate) = fates.get_mut(candidate.file).filter(|fate| fate.is_none()) else { continue };
        let other = taken.iter().find(|own| own.player == candidate.player && overlap(own.bars, candidate.bars));
        match other {
            None => {
                let doubt = candidates.iter().find(|other| {
                    let elsewhere = other.file == candidate.file && other.player != candidate.player;
                    elsewhere && (candidate.score - other.score).abs() < CLOSE
                });
                *fate = Some(Fate::Part { candidate: candidate.clone(), doubt: doubt.map(|other| other.player) });
                taken.push(candidate.clone());
            }
            // What it agrees with best is another file's; a far worse agreement elsewhere is no reason to put it there.
            Some(other) => {
                let next = candidates.iter().find(|next| {
                    let free = !taken.iter().any(|own| own.player == next.player && overlap(own.bars, next.bars));
                    next.file == candidate.file && free
                });
                let is_theirs = candidate.agreement >= AGREES;
                if is_theirs && next.is_none_or(|next| next.agreement + AGREES < candidate.agreement) {
                    *fate = Some(Fate::Taken { by: other.file });
                }
            }
        }
    }
    fates.into_iter().map(|fate| fate.unwrap_or(Fate::Stranger)).collect()
}

fn overlap(one: BarSpan, other: BarSpan) -> bool {
    one.first <= other.last && other.first <= one.last
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{self, put, quarter};
    use crate::place::BarIdx;
    use crate::players::alone;
    use crate::score::Family;

    fn span(first: u32, last: u32) -> BarSpan {
        BarSpan::new(BarIdx(first), BarIdx(last))
    }

    fn candidate(file: usize, player: usize, bars: BarSpan, agreement: f64, named: f64) -> Option<Candidate> {
        Candidate::of(file, player, bars, agreement, named, 0.0)
    }

    /// "0: player 1", "1: as 0", "2: nobody's".
    fn fates(files: usize, candidates: &[Option<Candidate>]) -> Vec<String> {
        let word = |(file, fate): (usize, &Fate)| match fate {
            Fate::Part { candidate, doubt: None } => format!("{file}: player {}", candidate.player),
            Fate::Part { candidate, doubt: Some(other) } => format!("{file}: player {} or {other}", candidate.player),
            Fate::Taken { by } => format!("{file}: as {by}"),
            Fate::Stranger => format!("{file}: nobody's"),
        };
        let fates = assign(files, candidates.iter().flatten().cloned().collect());
        fates.iter().enumerate().map(word).collect()
    }

    #[test]
    fn each_file_has_one_player_and_each_player_one_file() {
        let all = span(0, 9);
        let two = [candidate(0, 0, all, 1.0, 0.0), candidate(1, 0, all, 0.9, 0.0), candidate(1, 1, all, 0.2, 0.0)];
        assert_eq!(fates(2, &two), ["0: player 0", "1: as 0"]);
        // Horns that play in unison are told apart by their names.
        let horns = [
            candidate(0, 0, all, 1.0, 0.1),
            candidate(0, 1, all, 1.0, 0.8),
            candidate(1, 0, all, 1.0, 0.8),
            candidate(1, 1, all, 1.0, 0.1),
        ];
        assert_eq!(fates(2, &horns), ["0: player 1", "1: player 0"]);
        let nameless = [candidate(0, 0, all, 1.0, 0.0), candidate(0, 1, all, 1.0, 0.0)];
        assert_eq!(fates(1, &nameless), ["0: player 0 or 1"]);
    }

    #[test]
    fn movements_of_one_player_are_several_files() {
        let both = [candidate(0, 0, span(0, 9), 1.0, 0.0), candidate(1, 0, span(10, 19), 1.0, 0.0)];
        assert_eq!(fates(2, &both), ["0: player 0", "1: player 0"]);
    }

    #[test]
    fn a_name_alone_makes_no_part_of_other_music() {
        let all = span(0, 9);
        assert_eq!(fates(1, &[candidate(0, 0, all, 0.02, 1.0)]), ["0: nobody's"]);
        assert_eq!(fates(1, &[candidate(0, 0, all, 0.1, 0.0)]), ["0: nobody's"]);
        assert_eq!(fates(1, &[candidate(0, 0, all, 0.1, 0.8)]), ["0: player 0"], "of an older draft");
        let other_piece = [candidate(0, 0, all, 1.0, 1.0), candidate(1, 0, all, 0.1, 1.0)];
        assert_eq!(fates(2, &other_piece), ["0: player 0", "1: nobody's"]);
    }

    #[test]
    fn a_part_a_tone_off_throughout_is_still_that_part() {
        let mut score = fixture::score(&[("Horn in F 2", Family::Brass, 1)], 12);
        for bar in 0..12 {
            let names = ["C4", "E4", "G4", "B4"];
            let notes = (0..=bar as usize % 4).map(|beat| quarter(names[beat], beat as i64));
            put(&mut score, bar, 0, notes.collect());
        }
        let mut low = score.clone();
        let notes = low.cells.iter_mut().flat_map(|cell| &mut cell.events);
        notes.for_each(|event| {
            if let crate::score::EventKind::Chord(notes) = &mut event.kind {
                notes.iter_mut().for_each(|note| note.pitch.alter -= 2);
            }
        });
        let bars = score.all_bars().unwrap();
        let (one, other) = (Fingers::of(&score, bars), Fingers::of(&low, bars));
        assert_eq!(one.agreement(&one), 1.0);
        assert!(one.agreement(&other) >= AGREES, "{}", one.agreement(&other));
        assert_eq!(one.agreement(&Fingers::default()), 0.0);
    }

    #[test]
    fn names_are_read_as_librarians_write_them() {
        let mut score = fixture::score(&[("Horn in F 2", Family::Brass, 1)], 1);
        score.parts[0].name = "Horn in F 2".to_owned();
        let player = alone(score);
        let part = |name: &str| Part { name: name.to_owned(), family: Family::Brass, ..Part::default() };
        assert_eq!(named(&part("HORN IN F  2"), "x.mxl", &player), 1.0);
        assert_eq!(named(&part(""), "Horn in F 2.musicxml", &player), 1.0);
        assert!(named(&part("Corno II in F"), "x.mxl", &player) > 0.5);
        assert!(named(&part("Horn 1"), "x.mxl", &player) < 0.5);
        assert_eq!(named(&part("Oboe 2"), "x.mxl", &player), 0.0);
    }
}
