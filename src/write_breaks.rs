//! A copy of the user's own file in which systems and pages begin where a [`Layout`] has them.
//!
//! Only `new-system` and `new-page` are set or taken away; every other byte of the text stays as it was, in its own
//! encoding, and what else a compressed file holds is taken over. What the file records of distances and widths was
//! meant for its old pages and is kept, too: the program that opens the copy spaces its bars anew.

use crate::layout::Layout;
use crate::limits::Limits;
use crate::read::{Input, Opened, prints};
use crate::score::{Movement, Score};

mod edits;
mod encode;
mod error;
mod packed;

pub use error::WriteError;
pub use packed::Packing;

/// What begins with a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begins {
    Nothing,
    System,
    /// A page, and with it a system.
    Page,
}

/// One copy an input, in order. `score` and `layout` are of these inputs together. The first bar of each input is left
/// as it is: a system and a page begin there whatever the file says.
///
/// # Errors
/// Every trouble of every input.
pub fn write_breaks(
    inputs: &[Input<'_>],
    score: &Score,
    layout: &Layout,
    packing: Packing,
    limits: &Limits,
) -> Result<Vec<Vec<u8>>, Vec<WriteError>> {
    let begins = begins(score, layout);
    let (mut copies, mut errors) = (Vec::new(), Vec::new());
    for (number, input) in (0_u16..).zip(inputs) {
        let movement = score.movements.iter().find(|movement| movement.input == number);
        let bars = movement.and_then(|movement| of_movement(&begins, movement)).unwrap_or_default();
        match copy(number, *input, bars, packing, limits) {
            Ok(copy) => copies.push(copy),
            Err(error) => errors.push(error),
        }
    }
    if errors.is_empty() { Ok(copies) } else { Err(errors) }
}

/// What begins with each bar of the score on these pages.
#[must_use]
pub fn begins(score: &Score, layout: &Layout) -> Vec<Begins> {
    let mut begins = vec![Begins::Nothing; score.bars.len()];
    for (_, at, system) in layout.systems() {
        let first = system.span().map(|span| span.first);
        if let Some(bar) = first.and_then(|first| begins.get_mut(first.at())) {
            *bar = if at == 0 { Begins::Page } else { Begins::System };
        }
    }
    begins
}

fn of_movement<'a>(begins: &'a [Begins], movement: &Movement) -> Option<&'a [Begins]> {
    begins.get(movement.bars.first.at()..=movement.bars.last.at())
}

fn copy(
    number: u16,
    input: Input<'_>,
    begins: &[Begins],
    packing: Packing,
    limits: &Limits,
) -> Result<Vec<u8>, WriteError> {
    let file = || input.name.to_owned();
    let opened = Opened::open(number, input, limits)?;
    let places = prints(&opened.text);
    if places.len() != begins.len() {
        return Err(WriteError::OtherMusic { file: file(), found: places.len(), known: begins.len() });
    }
    let edits = edits::edits(&opened.text, &places, begins)
        .map_err(|bar| WriteError::NoPlace { file: file(), bar: bar + 1 })?;
    let text = edits::apply(&opened.text, &edits);
    let xml = encode::encode(&opened, &text)
        .ok_or_else(|| WriteError::Encoding { file: file(), encoding: opened.encoding.name() })?;
    packed::pack(&opened, input, xml, packing)
        .map_err(|what| WriteError::Archive { file: file(), what: what.to_string() })
}

#[cfg(test)]
mod tests;
