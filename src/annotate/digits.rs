//! The ten digits as strokes, so that numbers look alike in every viewer: none needs a font.

/// A movement of the pen; hundredths of a digit's height, y upwards from its foot.
pub(super) enum Pen {
    Move(i16, i16),
    Line(i16, i16),
    /// Two points that it is drawn towards, then where it ends.
    Curve([i16; 6]),
}

use Pen::{Curve, Line, Move};

/// Width of a digit between the middles of its outer strokes, in hundredths of its height.
pub(super) const WIDTH: i16 = 56;
/// From one digit to the next.
pub(super) const ADVANCE: i16 = 84;
/// How thick the strokes are.
pub(super) const STROKE: i16 = 15;

const ZERO: &[Pen] = &[
    Move(28, 100),
    Curve([46, 100, 56, 81, 56, 50]),
    Curve([56, 19, 46, 0, 28, 0]),
    Curve([10, 0, 0, 19, 0, 50]),
    Curve([0, 81, 10, 100, 28, 100]),
];
const ONE: &[Pen] = &[Move(8, 80), Line(32, 100), Line(32, 0)];
const TWO: &[Pen] = &[
    Move(2, 78),
    Curve([5, 92, 15, 100, 28, 100]),
    Curve([44, 100, 54, 89, 54, 74]),
    Curve([54, 61, 46, 51, 35, 39]),
    Line(0, 0),
    Line(56, 0),
];
const THREE: &[Pen] = &[
    Move(3, 90),
    Curve([9, 97, 17, 100, 27, 100]),
    Curve([42, 100, 52, 91, 52, 77]),
    Curve([52, 63, 42, 54, 27, 54]),
    Line(19, 54),
    Move(27, 54),
    Curve([45, 54, 56, 44, 56, 28]),
    Curve([56, 11, 44, 0, 27, 0]),
    Curve([15, 0, 6, 4, 0, 12]),
];
const FOUR: &[Pen] = &[Move(42, 0), Line(42, 100), Line(0, 30), Line(58, 30)];
const FIVE: &[Pen] = &[
    Move(51, 100),
    Line(9, 100),
    Line(5, 55),
    Curve([12, 61, 20, 63, 29, 63]),
    Curve([46, 63, 56, 50, 56, 32]),
    Curve([56, 13, 44, 0, 27, 0]),
    Curve([15, 0, 6, 4, 0, 12]),
];
const SIX: &[Pen] = &[
    Move(48, 94),
    Curve([44, 98, 38, 100, 32, 100]),
    Curve([12, 100, 1, 80, 1, 46]),
    Curve([1, 15, 11, 0, 28, 0]),
    Curve([45, 0, 56, 13, 56, 31]),
    Curve([56, 49, 45, 61, 29, 61]),
    Curve([15, 61, 5, 53, 1, 38]),
];
const SEVEN: &[Pen] = &[Move(0, 100), Line(56, 100), Line(18, 0)];
const EIGHT: &[Pen] = &[
    Move(28, 54),
    Curve([13, 54, 4, 64, 4, 77]),
    Curve([4, 91, 14, 100, 28, 100]),
    Curve([42, 100, 52, 91, 52, 77]),
    Curve([52, 64, 43, 54, 28, 54]),
    Curve([11, 54, 0, 43, 0, 28]),
    Curve([0, 11, 11, 0, 28, 0]),
    Curve([45, 0, 56, 11, 56, 28]),
    Curve([56, 43, 45, 54, 28, 54]),
];
/// A six that stands on its head.
const NINE: &[Pen] = &[
    Move(8, 6),
    Curve([12, 2, 18, 0, 24, 0]),
    Curve([44, 0, 55, 20, 55, 54]),
    Curve([55, 85, 45, 100, 28, 100]),
    Curve([11, 100, 0, 87, 0, 69]),
    Curve([0, 51, 11, 39, 27, 39]),
    Curve([41, 39, 51, 47, 55, 62]),
];

/// How each digit of the number is drawn.
pub(super) fn strokes(number: usize) -> impl Iterator<Item = &'static [Pen]> {
    number.to_string().into_bytes().into_iter().map(|digit| match digit {
        b'1' => ONE,
        b'2' => TWO,
        b'3' => THREE,
        b'4' => FOUR,
        b'5' => FIVE,
        b'6' => SIX,
        b'7' => SEVEN,
        b'8' => EIGHT,
        b'9' => NINE,
        _ => ZERO,
    })
}

/// Width of the number between the middles of its outer strokes, in heights of a digit.
pub(super) fn width(number: usize) -> f64 {
    let after_first = strokes(number).count().saturating_sub(1) as f64;
    (after_first * f64::from(ADVANCE) + f64::from(WIDTH)) / 100.0
}
