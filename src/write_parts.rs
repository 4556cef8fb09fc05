//! Each player's part as files of its own, cut from the user's own: what the player reads is copied as it is written,
//! with all that hangs on its notes.
//!
//! Taken away is what was meant for the score's pages and what other players on the same staff read; added are the
//! part's own breaks, its multi-bar rests, and marks for all that the score prints over another staff only.

use crate::check::PartChecked;
use crate::layout::Layout;
use crate::limits::Limits;
use crate::players::Player;
use crate::players::blocks::Block;
use crate::read::{Input, Opened};
use crate::score::Score;
use crate::write_breaks::WriteError;

mod attributes;
mod bar;
mod breaks;
mod gaps;
mod head;
mod line;
mod note;
mod overhead;
mod pen;
mod source;
mod tag;

/// A part to be written.
#[derive(Clone, Copy, Debug)]
pub struct WantedPart<'a> {
    pub player: &'a Player,
    /// Pages of the player's music; those of a document without systems set no break.
    pub pages: &'a Layout,
    /// Neighbouring bars that are printed as one.
    pub blocks: &'a [Block],
}

impl<'a> WantedPart<'a> {
    /// A part on its best pages.
    #[must_use]
    pub fn of(part: &'a PartChecked) -> WantedPart<'a> {
        WantedPart { player: &part.player, pages: &part.proposed.pages.layout, blocks: &part.blocks }
    }
}

/// What one part became.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenPart {
    /// One file of UTF-8 for each input; `None` where that input does not have the player's staves at all: tacet.
    pub files: Vec<Option<Vec<u8>>>,
}

/// The files of each part, in order. `score` is of these inputs together.
///
/// # Errors
/// Every trouble of every input.
pub fn write_parts(
    inputs: &[Input<'_>],
    score: &Score,
    parts: &[WantedPart<'_>],
    limits: &Limits,
) -> Result<Vec<WrittenPart>, Vec<WriteError>> {
    let (mut opened, mut errors) = (Vec::new(), Vec::new());
    for (number, input) in (0_u16..).zip(inputs) {
        match Opened::open(number, *input, limits) {
            Ok(file) => opened.push(file),
            Err(error) => errors.push(error.into()),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let mut written: Vec<WrittenPart> = parts.iter().map(|_| WrittenPart { files: Vec::new() }).collect();
    for ((number, input), opened) in (0_u16..).zip(inputs).zip(&opened) {
        let source = source::Source::of(&opened.text);
        let movement = score.movements.iter().find(|movement| movement.input == number);
        let bars = movement.map_or(0, |movement| movement.bars.iter().count());
        let Some(movement) = movement.filter(|_| source.bars() == bars) else {
            errors.push(WriteError::OtherMusic { file: input.name.to_owned(), found: source.bars(), known: bars });
            continue;
        };
        let overhead = overhead::Overhead::of(&source);
        for (part, written) in parts.iter().zip(&mut written) {
            let place = line::Place { score, movement, source: &source, overhead: &overhead };
            written.files.push(line::write(&place, part).map(String::into_bytes));
        }
    }
    if errors.is_empty() { Ok(written) } else { Err(errors) }
}

#[cfg(test)]
mod tests;
