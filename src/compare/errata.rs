//! Changes small enough to be written into a printed part by hand, in the player's words.

use super::sheets::{Reason, Why};
use super::{Matched, Music, What};
use crate::place::{BarIdx, BarSpan};
use crate::players::blocks::{Block, BlockKind};
use crate::proof::beat_number;
use crate::score::{Cell, EventKind, Grace, MarkKind, Score};
use crate::units::Fraction;
use crate::words::all_listed;

mod rests;

/// One line of the errata slip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Erratum {
    /// The bar as it is printed, in the old draft.
    pub old_bar: BarIdx,
    /// The same bar in the new draft, where it stands there.
    pub new_bar: Option<BarIdx>,
    /// From the start of the bar, in quarters.
    pub onset: Option<Fraction>,
    /// "beat 3: F sharp for F".
    pub text: String,
}

/// A reader's music in both drafts, for whom something may be written in by hand.
pub struct Hand<'a> {
    /// The reader's own music; every bar of the full score.
    pub old: &'a Score,
    pub new: &'a Score,
    /// Bars and multi-bar rests as they are printed, and as they would be now.
    pub old_blocks: &'a [Block],
    pub new_blocks: &'a [Block],
}

/// A bar with more changes than this is not written in by hand.
const MOST_IN_A_BAR: usize = 2;
/// Longer words are not written in by hand.
const LONGEST: usize = 24;

impl Hand<'_> {
    fn block(blocks: &[Block], bar: BarIdx) -> Option<&Block> {
        let at = blocks.partition_point(|block| block.bars.last < bar);
        blocks.get(at).filter(|block| block.bars.contains(bar))
    }

    fn rests(blocks: &[Block], bar: Option<BarIdx>) -> bool {
        let block = bar.and_then(|bar| Hand::block(blocks, bar));
        block.is_some_and(|block| block.kind != BlockKind::Bar)
    }

    /// Whether the reader rests in a bar of the old draft, and of the new one.
    pub(super) fn rests_before(&self, bar: Option<BarIdx>) -> bool {
        Hand::rests(self.old_blocks, bar)
    }

    pub(super) fn rests_now(&self, bar: Option<BarIdx>) -> bool {
        Hand::rests(self.new_blocks, bar)
    }

    /// Whether the part says "tacet" there, in each draft that has the bar: bars are not counted then.
    pub(super) fn is_tacet(&self, old: Option<BarIdx>, new: Option<BarIdx>) -> bool {
        let tacet = |blocks: &[Block], bar: Option<BarIdx>| {
            bar.is_none_or(|bar| Hand::block(blocks, bar).is_some_and(|block| block.kind == BlockKind::Tacet))
        };
        tacet(self.old_blocks, old) && tacet(self.new_blocks, new)
    }

    /// Whether any bar of a sheet has another number in the new draft.
    pub(super) fn numbers_differ(&self, span: BarSpan, music: &Music) -> bool {
        let own = music.bars.iter().filter_map(|pair| pair.old.zip(pair.new)).filter(|(old, _)| span.contains(*old));
        own.into_iter().any(|(old, new)| self.old.label(old) != self.new.label(new))
    }

    /// What is to be written in for the changes of one sheet; `None` where they are too much for that. `pairs` are the bars
    /// that changed on it, by their place in the music.
    pub(super) fn errata(
        &self,
        why: &[Why],
        pairs: &[usize],
        music: &Music,
        matched: &Matched,
    ) -> Option<Vec<Erratum>> {
        let mut errata = Vec::new();
        for own in why {
            match &own.reason {
                Reason::Edited(_) => {}
                _ if own.rests => errata.push(rests::count(self, own, matched)?),
                _ => return None,
            }
        }
        let edited = pairs.iter().filter_map(|at| music.bars.get(*at));
        for pair in edited.filter(|pair| pair.status != super::Status::Moved) {
            let Some((old, new)) = pair.old.zip(pair.new) else { continue };
            let what = why.iter().find_map(|own| match &own.reason {
                Reason::Edited(what) if own.bars.contains(old) => Some(what),
                _ => None,
            })?;
            errata.extend(self.bar(old, new, what)?);
        }
        errata.sort_by(|one, other| one.old_bar.cmp(&other.old_bar).then(one.onset.cmp(&other.onset)));
        // A rest that is shorter here and longer there is one line.
        errata.dedup();
        Some(errata)
    }

    /// A few changes inside one bar.
    fn bar(&self, old: BarIdx, new: BarIdx, what: &[What]) -> Option<Vec<Erratum>> {
        let small = [What::Notes, What::Dynamics, What::Words, What::Signs, What::Landmarks, What::Tempo, What::Layout];
        if !what.iter().all(|own| small.contains(own)) {
            return None;
        }
        let mut texts: Vec<(Option<Fraction>, String)> = Vec::new();
        let cells = |score: &'_ Score, bar: BarIdx| -> Vec<Cell> {
            let staves = score.staves.len();
            score.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default().to_vec()
        };
        let (ours, theirs) = (cells(self.old, old), cells(self.new, new));
        for (one, other) in ours.iter().zip(&theirs) {
            for of in [notes, dynamics, words, signs] {
                texts.extend(differences(&of(one), &of(other)));
            }
        }
        if ours.len() != theirs.len() || texts.len() > MOST_IN_A_BAR {
            return None;
        }
        if texts.iter().any(|(_, text)| text.chars().count() > 3 * LONGEST) {
            return None;
        }
        let over = what.iter().any(|own| matches!(own, What::Landmarks | What::Tempo));
        if over {
            texts.extend(differences(&marks(self.old, old), &marks(self.new, new)));
        }
        let bar = self.old.bar(old);
        let line = |(onset, text): (Option<Fraction>, String)| {
            let beat = onset.map(|onset| format!("beat {}: ", beat_number(onset, bar))).unwrap_or_default();
            Erratum { old_bar: old, new_bar: Some(new), onset, text: beat + &text }
        };
        (!texts.is_empty()).then(|| texts.into_iter().map(line).collect())
    }
}

/// What stands at an onset, in words.
type Said = Vec<(Fraction, String)>;

/// What the one says and the other does not, onset by onset: "F sharp for F", "p comes in", "arco is out".
fn differences(old: &Said, new: &Said) -> Vec<(Option<Fraction>, String)> {
    let only = |own: &Said, other: &Said| -> Said {
        let mut other = other.clone();
        let mut only = Said::new();
        for item in own {
            match other.iter().position(|known| known == item) {
                Some(at) => {
                    other.remove(at);
                }
                None => only.push(item.clone()),
            }
        }
        only
    };
    let (gone, come) = (only(old, new), only(new, old));
    let mut onsets: Vec<Fraction> = gone.iter().chain(&come).map(|(onset, _)| *onset).collect();
    onsets.sort();
    onsets.dedup();
    let at = |own: &Said, onset: Fraction| -> Vec<String> {
        own.iter().filter(|(own, _)| *own == onset).map(|(_, text)| text.clone()).collect()
    };
    let told = |onset: &Fraction| {
        let (gone, come) = (all_listed(&at(&gone, *onset)), all_listed(&at(&come, *onset)));
        let text = match (gone.is_empty(), come.is_empty()) {
            (true, _) => format!("add {come}"),
            (_, true) => format!("take out {gone}"),
            _ => format!("{come} for {gone}"),
        };
        (Some(*onset), text)
    };
    onsets.iter().map(told).collect()
}

/// Notes as the player reads them.
fn notes(cell: &Cell) -> Said {
    let mut said = Said::new();
    for event in cell.events.iter().filter(|event| event.printed && !event.cue) {
        let EventKind::Chord(notes) = &event.kind else { continue };
        let grace = if event.grace == Grace::No { "" } else { "grace note " };
        said.extend(notes.iter().map(|note| (event.onset, format!("{grace}{}", note.pitch))));
    }
    said
}

fn dynamics(cell: &Cell) -> Said {
    let of = |kind: &MarkKind| match kind {
        MarkKind::Dynamic(text) => Some(text.clone()),
        MarkKind::HairpinStart { opens: true, .. } => Some("crescendo hairpin".to_owned()),
        MarkKind::HairpinStart { opens: false, .. } => Some("diminuendo hairpin".to_owned()),
        MarkKind::HairpinStop { .. } => Some("end of the hairpin".to_owned()),
        _ => None,
    };
    cell.marks.iter().filter_map(|mark| Some((mark.onset, of(&mark.kind)?))).collect()
}

fn words(cell: &Cell) -> Said {
    let marks = cell.marks.iter().filter_map(|mark| match &mark.kind {
        MarkKind::Words(text) => Some((mark.onset, format!("\u{201c}{}\u{201d}", text.trim()))),
        _ => None,
    });
    let sung = cell.events.iter().flat_map(|event| {
        event.lyrics.iter().map(move |syllable| (event.onset, format!("\u{201c}{}\u{201d}", syllable.text)))
    });
    marks.chain(sung).collect()
}

fn signs(cell: &Cell) -> Said {
    let mut said = Said::new();
    for event in cell.events.iter().filter(|event| event.printed && !event.cue) {
        let mut names: Vec<String> = event.signs.names().collect();
        let mut add = |is: bool, word: &str| {
            if is {
                names.push(word.to_owned());
            }
        };
        add(event.fermata, "fermata");
        add(event.arpeggio, "arpeggio");
        add(event.tremolo > 0, "tremolo");
        add(event.slurs.starts > 0, "beginning of a slur");
        add(event.slurs.stops > 0, "end of a slur");
        said.extend(names.into_iter().map(|name| (event.onset, name)));
    }
    let lines = cell.marks.iter().filter_map(|mark| {
        let word = match &mark.kind {
            MarkKind::OctaveLineStart { .. } => "octave line",
            MarkKind::OctaveLineStop { .. } => "end of the octave line",
            MarkKind::PedalStart => "pedal",
            MarkKind::PedalStop => "end of the pedal",
            MarkKind::LineStart { .. } => "line",
            MarkKind::LineStop { .. } => "end of the line",
            _ => return None,
        };
        Some((mark.onset, word.to_owned()))
    });
    said.extend(lines);
    said
}

/// Letters and tempos over the bar.
fn marks(score: &Score, bar: BarIdx) -> Said {
    use crate::score::SystemMarkKind as Kind;
    let from = score.marks.partition_point(|mark| mark.bar < bar);
    let own = score.marks.iter().skip(from).take_while(|mark| mark.bar == bar);
    let of = |kind: &Kind| match kind {
        Kind::Rehearsal(text) => Some(format!("letter {text}")),
        Kind::Tempo { words, .. } if !words.trim().is_empty() => Some(format!("\u{201c}{}\u{201d}", words.trim())),
        Kind::Tempo { metronome: Some(mark), .. } => Some(format!("tempo {}", mark.per_minute)),
        Kind::TempoMoves(text) => Some(format!("\u{201c}{}\u{201d}", text.trim())),
        Kind::GeneralPause => Some("general pause".to_owned()),
        Kind::Tempo { .. } | Kind::Jump(_) => None,
    };
    own.filter_map(|mark| Some((mark.onset, of(&mark.kind)?))).collect()
}
