//! What changed for one reader: a player's line, or the whole score, over the bars of both drafts.

use super::lines;
use super::prints::Prints;
use super::{BarPair, Music, PartPair, Status, What, cells};
use crate::place::BarIdx;
use crate::score::Score;

/// What changed for one reader, bar by bar.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LineEdits {
    /// By place among [`Music::bars`]: what is to be read otherwise, for everybody or for this reader alone.
    pub edits: Vec<(usize, Vec<What>)>,
    /// Written for another transposition.
    pub retransposed: bool,
    /// Every page has other staves, whatever stands on them.
    pub other_staves: bool,
}

/// A player's line in one draft, ready to be compared.
pub struct OwnLine<'a> {
    music: &'a Score,
    prints: Prints,
    /// One: a player's music has one part.
    lines: Vec<lines::Line>,
}

impl<'a> OwnLine<'a> {
    /// Of a score of one part, with every bar of its full score.
    #[must_use]
    pub fn of(music: &'a Score) -> OwnLine<'a> {
        let prints = Prints::of(music);
        OwnLine { music, lines: lines::of_score(music, &prints), prints }
    }
}

/// Compares a player's two lines.
#[must_use]
pub fn line(old: &OwnLine<'_>, new: &OwnLine<'_>, music: &Music) -> LineEdits {
    let id = Some(crate::place::PartId(0));
    let mut parts = [PartPair { old: id, new: id, ..PartPair::default() }];
    let empty = |pair: &BarPair| BarPair { cells: Vec::new(), over: pair.over.clone(), ..*pair };
    let mut pairs: Vec<BarPair> = music.bars.iter().map(empty).collect();
    let lines = (old.lines.as_slice(), new.lines.as_slice());
    cells::compare((old.music, &old.prints), (new.music, &new.prints), lines, &mut parts, &mut pairs);
    let edits = pairs.iter().enumerate().filter(|(_, pair)| pair.is_edited());
    LineEdits {
        edits: edits.map(|(at, pair)| (at, pair.what())).collect(),
        retransposed: parts.iter().any(|part| part.retransposed),
        other_staves: false,
    }
}

/// The same for the reader of the full score, whose pages show every part.
#[must_use]
pub fn full_score(music: &Music) -> LineEdits {
    let edits = music.bars.iter().enumerate().filter(|(_, pair)| pair.is_edited());
    let other = |part: &PartPair| part.old.is_none() || part.new.is_none() || part.reordered || part.retransposed;
    LineEdits {
        edits: edits.map(|(at, pair)| (at, pair.what())).collect(),
        retransposed: false,
        other_staves: music.parts.iter().any(other),
    }
}

/// Which player of the one draft is which of the other, by their lines and names.
#[must_use]
pub fn players(old: &[OwnLine<'_>], new: &[OwnLine<'_>]) -> Vec<(Option<usize>, Option<usize>)> {
    let lines = |own: &[OwnLine<'_>]| -> Vec<lines::Line> {
        own.iter().map(|own| own.lines.first().cloned().unwrap_or_default()).collect()
    };
    lines::matched(&lines(old), &lines(new))
}

impl Music {
    /// The last bar that kept its place before each bar pair, in bars of the old draft; of those before the first, the
    /// first.
    pub(super) fn seams(&self) -> Vec<Option<BarIdx>> {
        let stays = |pair: &BarPair| pair.old.filter(|_| pair.new.is_some() && pair.status != Status::Moved);
        let mut before = self.bars.iter().find_map(stays);
        self.bars
            .iter()
            .map(|pair| {
                before = stays(pair).or(before);
                before
            })
            .collect()
    }
}
