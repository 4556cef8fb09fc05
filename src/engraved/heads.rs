//! Note heads and rests by the size of their ink: what says that a stretch of a staff bears music, and how much.

use super::EngravedStaff;
use super::ink::{Drawn, Glyph};
use crate::geometry::Rect;
use crate::units::Mm;

/// Width of a note head in spaces (black 1.2, whole 1.7; cue notes 0.8).
const WIDE: (f64, f64) = (0.75, 2.0);
/// And its height.
const HIGH: (f64, f64) = (0.7, 1.2);
/// Whole and half rests are lower.
const REST: (f64, f64) = (0.35, 0.7);

/// Level lines so thick are beams and the bars of multi-bar rests.
const THICK: f64 = 0.35;
/// The bar of a multi-bar rest is so long, in spaces.
const LONG: f64 = 3.0;

/// What looks like heads on one staff, with ledger lines above and below.
pub(super) struct Heads {
    pub heads: Vec<Rect>,
    pub rests: Vec<Rect>,
    /// The thick bars of multi-bar rests.
    pub long_rests: Vec<Rect>,
}

/// Signs of the music on one page, from the left; letters are none.
pub(super) fn signs(page: &Drawn, fonts: &[bool]) -> Vec<Rect> {
    let is_sign = |glyph: &&Glyph| !super::words::is_word_font(glyph, fonts);
    let mut signs: Vec<Rect> = page.glyphs.iter().filter(is_sign).map(|glyph| glyph.rect).collect();
    signs.extend(&page.shapes);
    let thick = page.horizontals.iter().filter(|line| line.thick >= THICK);
    signs.extend(thick.map(|line| {
        let half = line.thick / 2.0;
        Rect::new(Mm(line.from), Mm(line.at - half), Mm(line.to), Mm(line.at + half))
    }));
    signs.sort_by(|a, b| a.left.0.total_cmp(&b.left.0));
    signs
}

impl Heads {
    /// Those within five spaces of the staff.
    pub fn of(staff: &EngravedStaff, signs: &[Rect]) -> Heads {
        let space = staff.space();
        let (top, bottom) = (staff.rect.top.0 - 5.0 * space, staff.rect.bottom.0 + 5.0 * space);
        // What begins left of the staff belongs to a bracket.
        let near = signs.iter().filter(|sign| sign.left > staff.rect.left);
        let near = near.filter(|sign| sign.top.0 >= top && sign.bottom.0 <= bottom);
        let within = |length: f64, limits: (f64, f64)| limits.0 * space <= length && length <= limits.1 * space;
        let (mut heads, mut rests, mut long_rests) = (Vec::new(), Vec::new(), Vec::new());
        let middle = f64::midpoint(staff.rect.top.0, staff.rect.bottom.0);
        for sign in near {
            let off = (f64::midpoint(sign.top.0, sign.bottom.0) - middle).abs();
            if sign.width().0 >= LONG * space && off <= 0.3 * space && sign.height().0 <= 2.5 * space {
                long_rests.push(*sign);
            }
            if !within(sign.width().0, WIDE) {
                continue;
            }
            if within(sign.height().0, HIGH) {
                heads.push(*sign);
            } else if within(sign.height().0, REST) {
                rests.push(*sign);
            }
        }
        Heads { heads, rests, long_rests }
    }

    /// Whether a head sits at an end of an upright line: then it is a stem.
    pub fn at_ends(&self, x: f64, from: f64, to: f64, space: f64) -> bool {
        self.heads.iter().any(|head| {
            let beside = head.left.0 - 0.25 * space <= x && x <= head.right.0 + 0.25 * space;
            let middle = f64::midpoint(head.top.0, head.bottom.0);
            beside && ((middle - from).abs() <= 0.75 * space || (middle - to).abs() <= 0.75 * space)
        })
    }

    /// Heads between two places.
    pub fn between(&self, left: f64, right: f64) -> usize {
        self.heads.iter().filter(|head| is_between(head, left, right)).count()
    }

    /// Whether notes or rests stand there.
    pub fn any_music(&self, left: f64, right: f64) -> bool {
        self.heads.iter().chain(&self.rests).chain(&self.long_rests).any(|sign| is_between(sign, left, right))
    }
}

fn is_between(sign: &Rect, left: f64, right: f64) -> bool {
    let middle = f64::midpoint(sign.left.0, sign.right.0);
    left < middle && middle < right
}
