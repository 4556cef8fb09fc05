//! Pieces of one line, drawn bar by bar or dash by dash, as one.

use super::ink::Line;

/// Pieces this far apart across their way are of one line: a tenth of the thinnest staff line.
const SAME: f64 = 0.012;
/// Pieces this far apart along their way go on.
const GAP: f64 = 0.6;

/// Joins pieces; the order is by place, then by beginning.
pub(super) fn joined(pieces: &[Line]) -> Vec<Line> {
    let mut pieces: Vec<Line> = pieces.to_vec();
    pieces.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.from.total_cmp(&b.from)));
    let mut joined: Vec<Line> = Vec::with_capacity(pieces.len());
    for row in rows(&pieces) {
        let mut row = row.to_vec();
        row.sort_by(|a, b| a.from.total_cmp(&b.from));
        let first = joined.len();
        for piece in row {
            match joined.get_mut(first..).and_then(<[Line]>::last_mut) {
                Some(last) if piece.from <= last.to + GAP => last.to = last.to.max(piece.to),
                _ => joined.push(piece),
            }
        }
    }
    joined
}

/// Pieces at one place: each near the one before.
fn rows(pieces: &[Line]) -> impl Iterator<Item = &[Line]> {
    pieces.chunk_by(|a, b| b.at - a.at <= SAME)
}
