//! A page of the layout that was named beside one of one's own, at the same scale.

use super::{frame::Frame, style};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::reference::{Plate, beside};
use crate::report::pdf::{Align, Artifact, Document, Grey, Ink, Paint, Tag, Target, at};
use crate::units::Mm;
use crate::words::counted;

const TITLE: &str = "Beside another layout";
/// Between the two pages.
const GAP: Mm = Mm(16.0);
/// Of the bars that stand for staves.
const STAFF: f64 = 0.72;
/// Title and captions above the pages.
const HEAD: Mm = Mm(20.0);

/// Draws the sheet; nothing where no layout was named or it holds no page.
pub fn draw(doc: &mut Document, frame: &Frame<'_>, checked: &Checked) {
    let Some(like) = &checked.named else { return };
    let Some((theirs, yours)) = beside(&like.plates, &checked.layout) else { return };
    let section = doc.element(doc.root(), Tag::Sect);
    let sheet = frame.sheet(doc);
    doc.anchor("beside", sheet, Mm::ZERO);
    frame.bookmark(doc, TITLE, Target::anchor("beside"));
    let mut canvas = doc.page(sheet);
    let area = style::content();
    let heading = canvas.element(section, Tag::H1);
    canvas.tagged(heading, |ink| ink.text(at(area.left, area.top + Mm(4.0)), Align::Left, &style::HEADING, TITLE));
    let half = (area.width() - GAP) / 2.0;
    let scale = scale(&[theirs, &yours], half, area.bottom - area.top - HEAD);
    let title = checked.score.title.as_deref().unwrap_or("your pages");
    for (plate, whose, left) in [(theirs, like.title.as_str(), area.left), (&yours, title, area.left + half + GAP)] {
        let caption = canvas.element(section, Tag::P);
        let top = area.top + Mm(11.0);
        canvas.tagged(caption, |ink| {
            ink.text(at(left, top), Align::Left, &style::BODY_BOLD, whose);
            ink.text(at(left, top + Mm(4.5)), Align::Left, &style::SMALL, &words(plate, scale));
        });
        canvas.artifact(Artifact::Layout, |ink| page(ink, plate, left, area.top + HEAD, scale));
    }
}

/// The largest at which both pages have room, and never larger than life.
pub(in crate::report) fn scale(plates: &[&Plate], width: Mm, height: Mm) -> f64 {
    let fits = |plate: &&Plate| (width / plate.page.0).min(height / plate.page.1);
    plates.iter().map(fits).fold(1.0, f64::min)
}

pub(in crate::report) fn words(plate: &Plate, scale: f64) -> String {
    let tallest = plate.systems.iter().flat_map(|system| &system.staves).map(|staff| staff.1).reduce(Mm::max);
    let height = tallest.map_or_else(String::new, |height| format!(", {:.1} mm high", height.0));
    let systems = counted(plate.systems.len(), "system");
    format!(
        "{:.0} x {:.0} mm; {systems}, {} staves{height}; drawn at 1 : {:.1}.",
        plate.page.0.0,
        plate.page.1.0,
        plate.staves,
        1.0 / scale.max(0.01)
    )
}

/// Paper, staves as grey bars, systems' beginnings and bars' ends.
pub(in crate::report) fn page(ink: &mut Ink<'_>, plate: &Plate, left: Mm, top: Mm, scale: f64) {
    let (x, y) = (|own: Mm| left + own * scale, |own: Mm| top + own * scale);
    ink.rect(Rect::new(x(Mm::ZERO), y(Mm::ZERO), x(plate.page.0), y(plate.page.1)), &Paint::stroke(style::THIN));
    for system in &plate.systems {
        for (staff, height) in &system.staves {
            let bar = Rect::new(x(system.left), y(*staff), x(system.right), y(*staff + (*height).max(Mm(0.4))));
            ink.rect(bar, &Paint::fill(Grey::new(STAFF)));
        }
        let (Some(first), Some(last)) = (system.staves.first(), system.staves.last()) else { continue };
        let ends = [system.left].into_iter().chain(system.bars.iter().copied());
        let lines: Vec<_> = ends.map(|end| (at(x(end), y(first.0)), at(x(end), y(last.0 + last.1)))).collect();
        ink.lines(&lines, &style::HAIR);
    }
}
