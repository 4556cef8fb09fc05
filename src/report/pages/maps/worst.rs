//! The worst page once more, as large as a sheet allows, with its tightest gap measured out.

use super::choose::Opening;
use super::dimension::{self, Dimension};
use super::marks::{self, Marked};
use super::opening::{beside, in_columns, picture};
use super::plate::Plate;
use super::sheet::{self, TOP};
use super::stage::Stage;
use super::told;
use super::words::{self, Advice};
use crate::report::pdf::{Document, Numbering, Tag};

/// Draws the page. Its words stand on the sheet of its opening, too, and are set here as far as there is room.
pub fn draw(doc: &mut Document, stage: &mut Stage<'_>, worst: &Opening) {
    let subject = stage.subject;
    let Some(index) = worst.pages.first().copied() else { return };
    let Some(plan) = sheet::alone(subject.layout, index) else { return };
    let plates: Vec<Plate<'_>> =
        plan.views.iter().filter_map(|(index, view)| Plate::new(subject, *index, *view)).collect();
    let dimension = plan.view(index).and_then(|view| Dimension::tightest(subject, worst, index, view));
    let taken: Vec<_> = dimension.iter().flat_map(Dimension::taken).collect();
    let marked = marks::seat(subject.layout, &plan, &plates, &worst.spots, &taken);
    let title = format!("{} once more", told::title(subject, &worst.pages));
    let line = match dimension.as_ref().map(Dimension::about) {
        Some(Some(number)) => format!("The page with most to mend; the gap at {number} is measured out."),
        Some(None) => "The page with most to mend; its tightest gap is measured out.".to_owned(),
        None => "The page with most to mend.".to_owned(),
    };
    let sheet = stage.sheet(doc, &title, &line, &format!("drawn at {}", plan.scale));
    let alt = [Some(told::picture(subject, worst)), dimension.as_ref().map(Dimension::told)];
    picture(doc, stage, sheet, alt.into_iter().flatten().collect::<Vec<_>>().join(" "), &plan, &plates, &marked);
    if let Some(dimension) = &dimension {
        dimension::draw(doc, sheet, dimension);
    }

    let list = doc.element(sheet.section, Tag::L(Numbering::Decimal));
    let column = sheet::column(3, TOP);
    let all: Vec<&Marked> = marked.iter().collect();
    let entries = words::entries(subject.findings, &all, column.width(), &mut Advice::default());
    let left_over = beside(doc, stage, sheet, list, entries, &column);
    // What finds no room even in the last column is told on the sheet of the page's opening.
    in_columns(doc, stage, sheet, list, left_over, &plan.below);
}
