//! The kinds of edits, each composed upon what was edited before.

#[path = "edits/bars.rs"]
mod bars;
#[path = "edits/notes.rs"]
mod notes;
#[path = "edits/pages.rs"]
pub mod pages;
#[path = "edits/parts.rs"]
mod parts;
#[path = "edits/pitch.rs"]
pub mod pitch;
#[path = "edits/seams.rs"]
pub mod seams;
#[path = "edits/state.rs"]
pub mod state;

use super::seed::Seed;
use super::text::Cut;
use super::truth::Truth;
use seams::Seams;

/// Their names, in the order in which they are composed: parts after bars, so that a part is edited as it will stand.
pub const KINDS: [&str; 10] = [
    "bars put in",
    "bars out",
    "bars moved",
    "notes changed",
    "part dropped",
    "part added",
    "part renamed",
    "parts reordered",
    "part transposed",
    "pages cast off anew",
];

/// Makes one edit of a kind, [`KINDS`] names it; `false` where the score has no place for it.
pub fn edit(kind: usize, cut: &Cut, seams: &Seams, truth: &mut Truth, seed: &mut Seed) -> bool {
    match kind {
        0 => bars::put_in(seams, truth, seed),
        1 => bars::take_out(seams, truth, seed),
        2 => bars::move_block(seams, truth, seed),
        3 => notes::change(cut, truth, seed),
        4 => parts::drop(truth, seed),
        5 => parts::add(cut, truth, seed),
        6 => parts::rename(cut, truth, seed),
        7 => parts::reorder(truth, seed),
        8 => parts::transpose(cut, truth, seed),
        _ => pages::recast(truth, seed),
    }
}
