//! One printed page.

use rastrum::layout::Page;
use rastrum::place::StaffId;
use rastrum::score::Score;
use rastrum::units::Mm;

use super::edges;
use super::faces::Faces;
use super::leaf::{Fault, INTO_MARGIN, Leaf, SHRUNK, StaffLines};
use super::paint::{Paint, short};
use super::system;
use crate::orchestra::V1;

/// A page as it goes into the file.
pub struct Sheet {
    /// Width and height in points, before it is turned.
    pub points: (f64, f64),
    pub content: String,
    /// The lines of the staves, where they are a form.
    pub form: Option<String>,
    /// Shown turned by a quarter.
    pub turned: bool,
}

const POINTS_PER_MM: f64 = 72.0 / 25.4;

pub fn draw(faces: &mut Faces, leaf: Leaf, page: &Page, score: &Score) -> Result<Sheet, String> {
    let (width, height) = page.size.value;
    let points = (in_points(width), in_points(height));
    let mut lines = Paint::new(faces);
    for system in &page.systems {
        system::staff_lines(&mut lines, system, leaf.staff_lines);
    }
    let lines = lines.into_content();
    let mut paint = Paint::new(faces);
    // Millimetres downwards.
    paint.raw(&format!("{k:.6} 0 0 -{k:.6} 0 {} cm", points.1, k = POINTS_PER_MM));
    if leaf.fault == Some(Fault::Shrunk) {
        let kept = |corner: Mm| short(corner.0 * (1.0 - SHRUNK));
        let margins = page.margins.value;
        paint.raw(&format!("{SHRUNK} 0 0 {SHRUNK} {} {} cm", kept(margins.left), kept(margins.top)));
    }
    paint.raw(if leaf.staff_lines == StaffLines::Form { "/Staves Do" } else { &lines });
    let form = (leaf.staff_lines == StaffLines::Form).then_some(lines);
    if score.parts.len() > 1 {
        let left_out: &[&str] = if leaf.fault == Some(Fault::NoPageNumber) { &["page number"] } else { &[] };
        edges::texts(&mut paint, score, page, left_out);
    } else {
        let is_first = page.span().is_some_and(|bars| bars.first.at() == 0);
        edges::of_part(&mut paint, score, page, is_first);
    }
    let into_margin = width - page.margins.value.right + INTO_MARGIN;
    let overrun = (leaf.fault == Some(Fault::HairpinInMargin)).then_some((StaffId(V1 as u16), into_margin));
    for system in &page.systems {
        system::draw(&mut paint, score, system, overrun);
    }
    for pair in page.systems.windows(2) {
        if let [upper, lower] = pair
            && lower.divider_above == Some(true)
        {
            edges::dividers(&mut paint, upper, lower);
        }
    }
    let turned = leaf.fault == Some(Fault::Sideways);
    Ok(Sheet { points, content: paint.into_content(), form, turned })
}

/// To a hundredth.
fn in_points(length: Mm) -> f64 {
    (length.0 * POINTS_PER_MM * 100.0).round() / 100.0
}
