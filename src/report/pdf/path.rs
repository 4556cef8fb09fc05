//! Outlines made of straight lines and curves.

use super::size::{Point, at};
use crate::geometry::Rect;
use crate::units::Mm;

/// How far a cubic curve's handles stand out to follow a quarter of a circle of radius 1.
const QUARTER_CIRCLE: f64 = 0.552_284_749_8;

/// One or several outlines; where they overlap, areas alternate between inside and outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    pub(super) outlines: Vec<Outline>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Outline {
    pub(super) start: Point,
    pub(super) steps: Vec<Step>,
    pub(super) ends: Ends,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Step {
    Line(Point),
    Curve(Point, Point, Point),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ends {
    Open,
    Closed,
}

impl Path {
    /// A path that begins at `start`.
    #[must_use]
    pub fn from(start: Point) -> Path {
        Path::default().and_from(start)
    }

    /// Begins a further outline at `start`.
    #[must_use]
    pub fn and_from(mut self, start: Point) -> Path {
        self.outlines.push(Outline { start, steps: Vec::new(), ends: Ends::Open });
        self
    }

    /// A straight line to `end`.
    #[must_use]
    pub fn line(self, end: Point) -> Path {
        self.step(Step::Line(end))
    }

    /// A cubic Bezier curve to `end`, drawn towards `leaving` at its begin and coming from `arriving`.
    #[must_use]
    pub fn curve(self, leaving: Point, arriving: Point, end: Point) -> Path {
        self.step(Step::Curve(leaving, arriving, end))
    }

    /// Joins the last outline's end to its begin.
    #[must_use]
    pub fn close(mut self) -> Path {
        if let Some(outline) = self.outlines.last_mut() {
            outline.ends = Ends::Closed;
        }
        self
    }

    /// The closed outline through `corners`; empty when there are none.
    #[must_use]
    pub fn polygon(corners: &[Point]) -> Path {
        let Some((first, others)) = corners.split_first() else { return Path::default() };
        others.iter().fold(Path::from(*first), |path, corner| path.line(*corner)).close()
    }

    #[must_use]
    pub fn rect(area: Rect) -> Path {
        Path::polygon(&[
            at(area.left, area.top),
            at(area.right, area.top),
            at(area.right, area.bottom),
            at(area.left, area.bottom),
        ])
    }

    #[must_use]
    pub fn circle(centre: Point, radius: Mm) -> Path {
        Path::default().and_circle(centre, radius)
    }

    /// A further outline: a circle.
    #[must_use]
    pub fn and_circle(self, centre: Point, radius: Mm) -> Path {
        let spot = |x: f64, y: f64| at(centre.x + radius * x, centre.y + radius * y);
        let k = QUARTER_CIRCLE;
        self.and_from(spot(1.0, 0.0))
            .curve(spot(1.0, k), spot(k, 1.0), spot(0.0, 1.0))
            .curve(spot(-k, 1.0), spot(-1.0, k), spot(-1.0, 0.0))
            .curve(spot(-1.0, -k), spot(-k, -1.0), spot(0.0, -1.0))
            .curve(spot(k, -1.0), spot(1.0, -k), spot(1.0, 0.0))
            .close()
    }

    fn step(mut self, step: Step) -> Path {
        if let Some(outline) = self.outlines.last_mut() {
            outline.steps.push(step);
        }
        self
    }
}
