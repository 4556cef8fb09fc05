//! A page as it is shown, and the way from there to the coordinates of its content (ISO 32000-1, 8.3.2 and 14.11.2).

use lopdf::{Document, Object};

use super::tree::Leaf;
use crate::geometry::Rect;
use crate::units::Mm;

/// Points of an inch.
const POINTS: f64 = 72.0;
/// Where a page tells no size, in points: A4, as elsewhere in this program.
const A4: Area = Area { left: 0.0, bottom: 0.0, right: 595.276, top: 841.89 };
/// Units of content: more or fewer cannot be meant.
const LARGEST: f64 = 1e6;

/// A box in units of the content: y grows upwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub left: f64,
    pub bottom: f64,
    pub right: f64,
    pub top: f64,
}

/// How far clockwise a page is turned before it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Turn {
    None,
    Quarter,
    Half,
    ThreeQuarters,
}

/// One page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shown {
    area: Area,
    turn: Turn,
    /// Units of the content in a millimetre.
    pub per_mm: f64,
}

impl Shown {
    pub fn of(document: &Document, leaf: &Leaf<'_>) -> Shown {
        let media = area(document, leaf.get(document, b"MediaBox")).unwrap_or(A4);
        let crop = area(document, leaf.get(document, b"CropBox")).unwrap_or(media).within(&media);
        let unit = number(leaf.get(document, b"UserUnit")).filter(|unit| *unit > 1e-3 && *unit < 1e3).unwrap_or(1.0);
        let degrees = number(leaf.get(document, b"Rotate")).unwrap_or(0.0);
        let turn = match (degrees / 90.0).round().rem_euclid(4.0) {
            quarters if quarters < 0.5 => Turn::None,
            quarters if quarters < 1.5 => Turn::Quarter,
            quarters if quarters < 2.5 => Turn::Half,
            _ => Turn::ThreeQuarters,
        };
        Shown { area: crop.unwrap_or(media), turn, per_mm: POINTS / Mm::INCH.0 / unit }
    }

    /// Width, height.
    pub fn size(&self) -> (Mm, Mm) {
        let width = Mm((self.area.right - self.area.left) / self.per_mm);
        let height = Mm((self.area.top - self.area.bottom) / self.per_mm);
        match self.turn {
            Turn::None | Turn::Half => (width, height),
            Turn::Quarter | Turn::ThreeQuarters => (height, width),
        }
    }

    /// Where this part of the shown page lies in the content.
    pub fn area(&self, rect: &Rect) -> Area {
        let (one, other) = (self.point(rect.left, rect.top), self.point(rect.right, rect.bottom));
        Area {
            left: one.0.min(other.0),
            bottom: one.1.min(other.1),
            right: one.0.max(other.0),
            top: one.1.max(other.1),
        }
    }

    fn point(&self, x: Mm, y: Mm) -> (f64, f64) {
        let (right, down) = (x.0 * self.per_mm, y.0 * self.per_mm);
        match self.turn {
            Turn::None => (self.area.left + right, self.area.top - down),
            Turn::Quarter => (self.area.left + down, self.area.bottom + right),
            Turn::Half => (self.area.right - right, self.area.bottom + down),
            Turn::ThreeQuarters => (self.area.right - down, self.area.top - right),
        }
    }

    /// Turns what is drawn upright back, so that the turned page shows it upright.
    pub fn matrix(&self) -> [i64; 6] {
        match self.turn {
            Turn::None => [1, 0, 0, 1, 0, 0],
            Turn::Quarter => [0, 1, -1, 0, 0, 0],
            Turn::Half => [-1, 0, 0, -1, 0, 0],
            Turn::ThreeQuarters => [0, -1, 1, 0, 0, 0],
        }
    }
}

impl Area {
    /// What both have in common; `None` if that is nothing.
    fn within(self, other: &Area) -> Option<Area> {
        let common = Area {
            left: self.left.max(other.left),
            bottom: self.bottom.max(other.bottom),
            right: self.right.min(other.right),
            top: self.top.min(other.top),
        };
        common.has_room().then_some(common)
    }

    fn has_room(&self) -> bool {
        self.right - self.left >= 1.0 && self.top - self.bottom >= 1.0
    }
}

/// Any two opposite corners make a box.
fn area(document: &Document, object: Option<&Object>) -> Option<Area> {
    let corners = object?.as_array().ok()?;
    let corner = |at: usize| {
        let (_, object) = document.dereference(corners.get(at)?).ok()?;
        number(Some(object)).filter(|value| value.abs() <= LARGEST)
    };
    let (x, y, to_x, to_y) = (corner(0)?, corner(1)?, corner(2)?, corner(3)?);
    let area = Area { left: x.min(to_x), bottom: y.min(to_y), right: x.max(to_x), top: y.max(to_y) };
    area.has_room().then_some(area)
}

fn number(object: Option<&Object>) -> Option<f64> {
    object?.as_float().ok().map(f64::from).filter(|value| value.is_finite())
}
