//! Movement I as it was written anew: the divided strings of the winches are gone, twelve bars of the night come before
//! the chorale, and a ship's bell strikes in them.

use crate::orchestra::*;
use crate::score::{Draft, Movement, Tempo};

/// Runs of the first draft's bars, first and last, in the order of the second draft. Bars 33 to 39 are cut.
pub const RUNS: [(usize, usize); 7] = [(1, 32), (40, 48), (65, 69), (74, 80), (49, 64), (70, 73), (81, 84)];

/// First bars of the second draft: night, chorale, and night again.
const NIGHT: usize = 42;
const CHORALE: usize = 54;
const NIGHT_AGAIN: usize = 70;

pub fn of(first: Movement) -> Movement {
    let order: Vec<usize> = RUNS.iter().flat_map(|&(from, to)| from..=to).collect();
    let mut m = first.rearranged(&order);
    m.draft = Draft::Second;
    heads(&mut m);
    by_hand(&mut m);
    seams(&mut m);
    bell(&mut m);
    m
}

/// The letters stay in order: D went with its bar, H goes, as the night of G is in two places now.
fn heads(m: &mut Movement) {
    m.head_mut(NIGHT).rehearsal = Some("D");
    m.head_mut(NIGHT + 6).rehearsal = None;
    m.head_mut(NIGHT_AGAIN).rehearsal = Some("G");
    m.head_mut(NIGHT_AGAIN).tempo = Some(Tempo { words: "Tempo I", dotted: false, beats_a_minute: 60 });
}

/// So small that they can be written into parts that exist.
fn by_hand(m: &mut Movement) {
    m.rewrite(EH, 13, "{\"solo\"}{mp} q.D4( eF4 qA4 D5");
    m.rewrite(V1, 25, "{f} q.A4>( eD5 F5 A5)");
    m.rewrite(FL1, 74, "wF5");
}

/// What follows from the new order: slurs that arrive elsewhere, mutes, and bows taken up again.
fn seams(m: &mut Movement) {
    m.rewrite(CL, NIGHT + 4, "wF5)");
    m.put(FL1, CHORALE, "wA5)");
    m.mark(&[CB], CHORALE, 0, "\"arco\"");
    m.mark(&[V1, V2], CHORALE + 4, 0, "\"senza sord.\"");
    m.mark(&[V1, V2], NIGHT_AGAIN, 0, "\"con sord.\"");
    m.mark(&[CB], NIGHT_AGAIN, 0, "\"pizz.\"");
    m.mark(&[V1, V2, VA, VC, CB], NIGHT_AGAIN, 0, "pp");
    m.rewrite(CL, NIGHT_AGAIN, "{\"1.\"}{pp} wF5");
}

fn bell(m: &mut Movement) {
    m.put(BELL, NIGHT, "{\"ship's bell\"}{pp} q- B4 h-");
    m.put(BELL, NIGHT + 4, "q- B4 h-");
    m.put(BELL, NIGHT + 8, "qB4 B4 h-");
    m.put(BELL, NIGHT + 11, "h- qB4 -");
    m.put(BELL, NIGHT_AGAIN, "{pp} qB4 B4 h-");
}
