//! Every line that is worth trying, from the pieces of a part.

use super::pieces::{FORCES, NATURAL, Pieces, Widths};
use super::search::{Place, Problem, Trial};
use super::sheet::{self, Remedies};
use super::{PartBasis, cost};
use crate::units::Spaces;

/// A line holds no more pieces: heaps of empty bars apart, none does.
const MOST_PIECES: usize = 80;
/// Tensions are bounded here, so that costs stay finite whatever the bars hold.
const UTMOST: f64 = 3.0;

/// All lines with what they cost, and the places between them.
pub(super) fn problem(basis: &PartBasis, pieces: &Pieces) -> Problem {
    let measured = Measured::of(pieces);
    let count = pieces.all.len();
    let mut trials = Vec::with_capacity(count * 6);
    let mut first_trials = Vec::with_capacity(count + 1);
    let mut own = Vec::new();
    for first in 0..count {
        first_trials.push(trials.len());
        own.clear();
        measured.add(first, &mut own);
        measured.keep_needed(&own, &mut trials);
    }
    first_trials.push(trials.len());
    let stand = basis.stand;
    let places = (0..=count).map(|at| place(basis, pieces, at)).collect();
    Problem {
        places,
        trials,
        first_trials,
        // The air around the first and the last line of a page lies in the margins.
        room: ((pieces.room + pieces.half_clear * 2.0) * 2.0 + Spaces(1e-6)).0 as u32,
        title: halves(pieces.title),
        at_once: sheet::pages_at_once(stand.binding),
        starts: sheet::starts(stand),
        remedies: Remedies::default(),
        turn_at: None,
    }
}

fn place(basis: &PartBasis, pieces: &Pieces, at: usize) -> Place {
    let before = at.checked_sub(1).and_then(|at| pieces.all.get(at));
    let inside = pieces.all.get(at).is_some_and(|piece| piece.continues);
    let point = before.and_then(|piece| basis.points.get(piece.bars.last.at()));
    let divided = if inside { cost::DIVIDED } else { 0.0 };
    let class = cost::class(point, basis.stand.binding);
    Place { inside, turn: cost::turn(point, basis.stand.binding) + divided, class }
}

/// In half spaces, rounded up, so that ways to fill a page can be told apart by few of them.
fn halves(height: Spaces) -> u32 {
    libm::ceil(height.0 * 2.0 - 1e-6).clamp(0.0, 1e6) as u32
}

/// A line before it is weighed.
#[derive(Clone, Copy, Debug)]
struct Tried {
    first: usize,
    end: usize,
    /// Over natural.
    force: f64,
    height: u32,
}

impl Tried {
    fn weighed(self) -> Trial {
        let Tried { first, end, force, height } = self;
        let tension = libm::log(force).clamp(-UTMOST, UTMOST);
        Trial { first, end, tension, cost: cost::line(tension), height }
    }
}

/// Widths of all pieces before each place.
struct Measured<'a> {
    pieces: &'a Pieces<'a>,
    before: Vec<Widths>,
}

impl<'a> Measured<'a> {
    fn of(pieces: &'a Pieces<'a>) -> Measured<'a> {
        let mut sum = [0.0; FORCES.len()];
        let mut before = Vec::with_capacity(pieces.all.len() + 1);
        before.push(sum);
        for piece in &pieces.all {
            for (sum, by) in sum.iter_mut().zip(FORCES) {
                *sum += pieces.width_at(piece, by).0;
            }
            before.push(sum);
        }
        Measured { pieces, before }
    }

    /// The lines that may begin with a piece: none too tight, none looser than needed; never none at all.
    fn add(&self, first: usize, tried: &mut Vec<Tried>) {
        let mut reach = vec![(0.0_f32, 0.0_f32); self.pieces.staves];
        let mut plays = 0;
        let mut whole = false;
        let Some(opening) = self.pieces.all.get(first) else { return };
        for (at, piece) in self.pieces.all.iter().enumerate().skip(first).take(MOST_PIECES) {
            let force = self.force(first, at + 1);
            if whole && force < cost::TIGHTEST {
                break;
            }
            let own = self.pieces.reaches.get(at * self.pieces.staves..).unwrap_or_default();
            reach.iter_mut().zip(own).for_each(|(most, own)| *most = (most.0.max(own.0), most.1.max(own.1)));
            plays |= piece.plays;
            let (height, _) = self.pieces.heights(plays, &reach, opening.heading);
            // A line with a movement's last bar is left short, not pulled apart.
            let force = if piece.ends_line { force.min(1.0) } else { force };
            let inside = self.pieces.all.get(at + 1).is_some_and(|next| next.continues);
            whole |= !inside;
            tried.push(Tried { first, end: at + 1, force, height: halves(height) });
            if piece.ends_line && !inside {
                break;
            }
        }
    }

    /// Lines that are looser than needed go; the longest that is not tight stays, since filling up would take it, and
    /// where all are tight the shortest.
    fn keep_needed(&self, own: &[Tried], trials: &mut Vec<Trial>) {
        let inside = |trial: &Tried| self.pieces.all.get(trial.end).is_some_and(|next| next.continues);
        let longest = own.iter().rposition(|trial| !inside(trial) && trial.force >= 1.0);
        let needed = longest.or_else(|| own.iter().position(|trial| !inside(trial)));
        let kept = own.iter().enumerate().filter(|(at, trial)| trial.force <= cost::LOOSEST || Some(*at) == needed);
        trials.extend(kept.map(|(_, trial)| trial.weighed()));
    }

    /// Over natural, when the line fills its width.
    fn force(&self, first: usize, end: usize) -> f64 {
        let line = || Some((self.pieces.all.get(first)?, self.before.get(first)?, self.before.get(end)?));
        let Some((piece, from, to)) = line() else { return 1.0 };
        if self.pieces.is_tacet(piece) {
            return 1.0;
        }
        let next = self.pieces.all.get(end).filter(|next| !next.continues);
        let announced = next.map_or(Spaces::ZERO, |next| self.pieces.spacing.bar(next.bars.first).announced);
        let ends = (self.pieces.start(piece) + announced).0;
        let restart = |by: f64| if piece.continues { self.pieces.whole_width_at(piece, by).0 } else { 0.0 };
        let width = |at: usize| {
            let difference = to.get(at).zip(from.get(at)).map_or(0.0, |(to, from)| to - from);
            ends + difference + FORCES.get(at).map_or(0.0, |by| restart(*by))
        };
        force(width, self.pieces.width.0)
    }
}

/// The force over natural at which a line has a width; widths are known at [`FORCES`].
fn force(width: impl Fn(usize) -> f64, wanted: f64) -> f64 {
    let (mut low, mut high) = (0, FORCES.len() - 1);
    if width(NATURAL) > wanted {
        high = NATURAL
    } else {
        low = NATURAL
    }
    while high - low > 1 {
        let middle = usize::midpoint(low, high);
        if width(middle) > wanted { high = middle } else { low = middle }
    }
    let (narrow, wide) = (width(low), width(high));
    let Some((below, above)) = FORCES.get(low).zip(FORCES.get(high)) else { return 1.0 };
    // Outside the known forces, where widths may stand still, how much too wide or too narrow it is tells how hopeless.
    let by = match () {
        () if narrow > wanted => below * wanted / narrow,
        () if wide < wanted => above * wanted / wide.max(1.0),
        () => below + (above - below) * (wanted - narrow) / (wide - narrow),
    };
    by.max(0.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_whose_rods_alone_are_wider_than_the_paper_are_far_too_tight() {
        // Widths that do not depend on the force: rods only.
        assert!((force(|_| 300.0, 100.0) - 0.25).abs() < 1e-9);
        assert!((force(|_| 50.0, 100.0) - 5.0).abs() < 1e-9);
    }

    #[test]
    fn between_known_forces_the_width_runs_straight() {
        let width = |at: usize| FORCES[at] * 100.0;
        for wanted in [80.0, 95.0, 100.0, 130.0, 200.0, 240.0] {
            assert!((force(width, wanted) - wanted / 100.0).abs() < 1e-9, "{wanted}");
        }
    }
}
