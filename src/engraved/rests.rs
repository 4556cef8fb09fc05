//! Multi-bar rests: a bar without notes and a number over its middle.

use super::heads::Heads;
use super::ink::Drawn;
use super::{EngravedBar, EngravedStaff};
use crate::geometry::Rect;

/// The number stands so high over the staff at the most, in spaces.
const ABOVE: f64 = 5.0;
/// It stands over the middle, to within this share of the bar.
const MIDDLE: f64 = 0.2;
/// Figures of one number stand this near, in spaces.
const NEAR: f64 = 1.0;
/// Figures of time signatures in music fonts (SMuFL, U+E080 to U+E089).
const FIGURES: u32 = 0xE080;

/// A figure with its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figure {
    rect: Rect,
    value: u32,
}

/// Every figure of a page, from the left, in whichever font it stands.
pub(super) fn figures(drawn: &Drawn) -> Vec<Figure> {
    let value = |letter: char| {
        let of_music = u32::from(letter).checked_sub(FIGURES).filter(|value| *value < 10);
        letter.to_digit(10).or(of_music)
    };
    let of_glyph = |glyph: &super::ink::Glyph| Some(Figure { rect: glyph.rect, value: value(glyph.letter?)? });
    let mut figures: Vec<Figure> = drawn.glyphs.iter().filter_map(of_glyph).collect();
    figures.sort_by(|a, b| a.rect.left.0.total_cmp(&b.rect.left.0));
    figures
}

/// Bars that a printed bar without heads stands for: the number over it, or over its thick bar, else 1.
pub(super) fn holds(bar: &EngravedBar, staff: &EngravedStaff, figures: &[Figure], heads: &Heads) -> u32 {
    let space = staff.space();
    let within = |sign: &&Rect| bar.left <= sign.left && sign.right <= bar.right;
    // After clef and key the middle of the bar is elsewhere.
    let (from, to) = heads.long_rests.iter().find(within).map_or((bar.left, bar.right), |own| (own.left, own.right));
    let (middle, width) = ((from + to).0 / 2.0, (to - from).0);
    let over = |figure: &&Figure| {
        let bottom = figure.rect.bottom.0;
        let is_over = staff.rect.top.0 - ABOVE * space <= bottom && bottom <= staff.rect.top.0 + 0.3 * space;
        is_over && bar.left < figure.rect.left && figure.rect.right < bar.right
    };
    let own: Vec<&Figure> = figures.iter().filter(over).collect();
    // Bar numbers and fingerings stand elsewhere over the bar.
    let numbers = own.chunk_by(|a, b| {
        (b.rect.left - a.rect.right).0 <= NEAR * space && (b.rect.bottom - a.rect.bottom).abs().0 <= 0.5 * space
    });
    let told = numbers.filter_map(|number| {
        let (first, last) = (number.first()?, number.last()?);
        let off = ((first.rect.left + last.rect.right).0 / 2.0 - middle).abs();
        let value = number.iter().fold(0_u32, |value, figure| value.saturating_mul(10).saturating_add(figure.value));
        (off <= MIDDLE * width && (1..=9999).contains(&value)).then_some((value, off))
    });
    told.min_by(|a, b| a.1.total_cmp(&b.1)).map_or(1, |(value, _)| value)
}
