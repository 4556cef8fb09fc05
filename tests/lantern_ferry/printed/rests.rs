//! Rests of all lengths.

use rastrum::geometry::Rect;
use rastrum::score::{EventKind, Metre};
use rastrum::units::Mm;

use super::bars::Bar;
use super::faces::Face;
use super::fine::Staff;
use super::line::Placed;
use super::paint::{Paint, Side, Type};

/// Left edge of the font's signs, for a staff one high.
const LEFT: f64 = 0.05;

pub fn draw(paint: &mut Paint, staff: Staff, own: &Placed) {
    let space = staff.space();
    // Of two voices the upper one rests higher, the lower one lower.
    let down = match own.voice {
        (_, 0..=1) => Mm(0.0),
        (0, _) => -space * 2.0,
        _ => space * 2.0,
    };
    let whole = own.event.kind == EventKind::Rest { whole_bar: true };
    let (width, height) = (space * 1.25, space * 0.5);
    let right = match (whole, own.halvings()) {
        (true, _) | (_, ..=0) => {
            paint.rectangle((own.x, staff.top + space + down), width, height);
            own.x + width
        }
        (_, 1) => {
            paint.rectangle((own.x, staff.top + space * 2.0 - height + down), width, height);
            own.x + width
        }
        (_, halvings) => {
            let glyph = match halvings {
                2 => '\u{1D13D}',
                3 => '\u{1D13E}',
                4 => '\u{1D13F}',
                _ => '\u{1D140}',
            };
            paint.glyph(glyph, staff.height, (own.x - staff.height * LEFT, staff.bottom() + down));
            own.x + space * 1.1
        }
    };
    for nth in 0..own.event.value.dots {
        let x = right + space * (0.5 + 0.55 * f64::from(nth));
        paint.dot((x, staff.top + space * 1.5 + down), space * 0.22);
    }
}

/// One thick line for several bars, and how many they are; gives the box of that number.
pub fn several(paint: &mut Paint, staff: Staff, bar: &Bar) -> Rect {
    let space = staff.space();
    let (left, right) = (bar.begin + space * 0.5, bar.right - space * 1.2);
    let middle = staff.top + space * 2.0;
    paint.rectangle((left, middle - space * 0.4), right - left, space * 0.8);
    for x in [left, right] {
        paint.stroke((x, middle - space), (x, middle + space), space * 0.12);
    }
    let figures = Type { face: Face::Bold, size: space * (1.9 / 0.714), leans: false };
    let count = bar.span.count().to_string();
    let (centre, half) = ((left + right) / 2.0, paint.width(figures, &count) / 2.0);
    paint.text(figures, (centre, staff.top - space * 0.9), Side::Middle, &count);
    Rect::new(centre - half, staff.top - space * 2.8, centre + half, staff.top)
}

/// How many quarters a beat of this metre has.
pub fn beat(metre: Option<&Metre>) -> f64 {
    metre.map_or(1.0, |metre| if metre.beat_value == 8 { 1.5 } else { 1.0 })
}
