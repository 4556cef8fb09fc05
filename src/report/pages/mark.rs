//! The numbered marks of findings: a square stops the rehearsal, a triangle is to be mended before the concert, a
//! ring is worth a look. Black, so that they survive every copying machine; told apart by shape alone.

use crate::geometry::Rect;
use crate::report::pdf::{
    Align, Face, Grey, Ink, Paint, Path, Point, Points, Stroke, TextStyle, at, cap_height, text_width,
};
use crate::rules::Weight;
use crate::units::Mm;

/// Edge of the box that a mark fills beside text.
pub const SIZE: Mm = Mm(4.0);

/// Width of the line of a ring, against its size.
const RING: f64 = 0.09;

/// The shape's name, for texts that are heard: "square".
#[must_use]
pub fn shape(weight: Weight) -> &'static str {
    match weight {
        Weight::Stop => "square",
        Weight::Mend => "triangle",
        Weight::Look => "ring",
    }
}

/// What the mark says to someone who hears the report.
#[must_use]
pub fn says(weight: Weight, number: usize) -> String {
    format!("{number}, {}", weight.words())
}

/// Draws the mark of finding `number` into the square box `size` wide around `centre`.
pub fn numbered(ink: &mut Ink<'_>, centre: Point, size: Mm, weight: Weight, number: usize) {
    plain(ink, centre, size, weight);
    let text = number.to_string();
    let points = type_size(size, weight, &text);
    let grey = if weight == Weight::Look { Grey::BLACK } else { Grey::WHITE };
    let style = TextStyle::new(Face::Bold, points).in_grey(grey);
    ink.text(at(centre.x, baseline(centre.y, size, weight, points)), Align::Centre, &style, &text);
}

/// The box that a mark of this size fills.
#[must_use]
pub fn around(centre: Point, size: Mm) -> Rect {
    let half = size / 2.0;
    Rect::new(centre.x - half, centre.y - half, centre.x + half, centre.y + half)
}

/// Draws the mark without a number, as a legend shows it.
pub fn plain(ink: &mut Ink<'_>, centre: Point, size: Mm, weight: Weight) {
    let half = size / 2.0;
    let black = Paint::fill(Grey::BLACK);
    match weight {
        Weight::Stop => ink.rect(around(centre, size * 0.9), &black),
        Weight::Mend => {
            let (left, right) = (at(centre.x - half, centre.y + half), at(centre.x + half, centre.y + half));
            ink.path(&Path::polygon(&[left, at(centre.x, centre.y - half), right]), &black);
        }
        Weight::Look => {
            let line = size * RING;
            ink.circle(centre, half * 0.98 - line / 2.0, &Paint::both(Grey::WHITE, Stroke::new(line)));
        }
    }
}

/// As large as the shape lets the figures be, and no larger than reads well beside 8 pt text.
fn type_size(size: Mm, weight: Weight, text: &str) -> Points {
    let em = Points::from_mm(size);
    let tallest = match weight {
        Weight::Stop => em.0 * 0.66,
        Weight::Mend => em.0 * 0.52,
        Weight::Look => em.0 * 0.60,
    };
    let room = match weight {
        Weight::Stop => size * 0.78,
        // The width of the triangle where the tops of the figures are.
        Weight::Mend => size * 0.56,
        Weight::Look => size * 0.66,
    };
    let width = text_width(Face::Bold, Points(tallest), text);
    Points(if width > room { tallest * (room / width) } else { tallest })
}

/// Figures stand in the middle of square and ring, and low in the triangle, where it is wide.
fn baseline(middle: Mm, size: Mm, weight: Weight, points: Points) -> Mm {
    let height = cap_height(Face::Bold, points);
    match weight {
        Weight::Stop | Weight::Look => middle + height / 2.0,
        Weight::Mend => middle + size * 0.43,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WEIGHTS: [Weight; 3] = [Weight::Stop, Weight::Mend, Weight::Look];

    #[test]
    fn figures_never_reach_beyond_their_shape() {
        for weight in WEIGHTS {
            for number in ["1", "8", "40", "88", "188", "1888"] {
                let points = type_size(SIZE, weight, number);
                let (width, height) = (text_width(Face::Bold, points, number), cap_height(Face::Bold, points));
                let middle = SIZE / 2.0;
                let top = baseline(middle, SIZE, weight, points) - height;
                let room = match weight {
                    Weight::Stop => SIZE * 0.9,
                    // A triangle as wide as high: its width grows downwards from nothing.
                    Weight::Mend => top,
                    Weight::Look => {
                        let inner = SIZE.0 * (0.5 - RING);
                        Mm(2.0 * libm::sqrt(inner * inner - (height.0 / 2.0) * (height.0 / 2.0)))
                    }
                };
                assert!(width < room, "{number} in a {}: {width} in {room}", shape(weight));
            }
        }
    }

    #[test]
    fn each_weight_has_a_shape_of_its_own() {
        let shapes: std::collections::BTreeSet<_> = WEIGHTS.map(shape).into_iter().collect();
        assert_eq!(shapes.len(), WEIGHTS.len());
    }
}
