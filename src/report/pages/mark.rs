//! The three marks that tell what a finding costs: square, triangle, ring, each with the finding's number.

use crate::report::pdf::{Align, Face, Grey, Ink, Paint, Path, Point, Points, Stroke, TextStyle, at, cap_height};
use crate::rules::Weight;
use crate::units::Mm;

/// Draws the mark of `weight` around `centre`, `size` high, with `number` in it.
pub fn draw(ink: &mut Ink<'_>, centre: Point, size: Mm, weight: Weight, number: Option<usize>) {
    let half = size / 2.0;
    match weight {
        Weight::Stop => ink.path(
            &Path::polygon(&[
                at(centre.x - half, centre.y - half),
                at(centre.x + half, centre.y - half),
                at(centre.x + half, centre.y + half),
                at(centre.x - half, centre.y + half),
            ]),
            &Paint::fill(Grey::BLACK),
        ),
        Weight::Mend => ink.polygon(
            &[
                at(centre.x, centre.y - half * 1.25),
                at(centre.x + half * 1.25, centre.y + half),
                at(centre.x - half * 1.25, centre.y + half),
            ],
            &Paint::fill(Grey::BLACK),
        ),
        Weight::Look => {
            let line = Stroke::new(size * 0.09);
            ink.circle(centre, half - line.width / 2.0, &Paint::both(Grey::WHITE, line));
        }
    }
    if let Some(number) = number {
        let text = number.to_string();
        let share = match (weight, text.len()) {
            (Weight::Mend, 1) => 0.62,
            (Weight::Mend, _) => 0.5,
            (_, 1 | 2) => 0.68,
            _ => 0.52,
        };
        let type_size = Points::from_mm(size * share);
        let grey = if weight == Weight::Look { Grey::BLACK } else { Grey::WHITE };
        let style = TextStyle::new(Face::Bold, type_size).in_grey(grey);
        // A triangle's middle lies low.
        let drop = if weight == Weight::Mend { size * 0.17 } else { Mm::ZERO };
        let baseline = centre.y + cap_height(Face::Bold, type_size) / 2.0 + drop;
        ink.text(at(centre.x, baseline), Align::Centre, &style, &text);
    }
}

/// What the mark says to someone who hears the report.
#[must_use]
pub fn says(weight: Weight, number: usize) -> String {
    format!("{number}, {}", weight.words())
}
