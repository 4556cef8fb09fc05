//! Findings as notes on the printed pages.

use crate::annotate::Note;
use crate::check::Checked;
use crate::place::Place;
use crate::rules::{Finding, Weight};

/// One note for each place of each finding, numbered as in the report.
#[must_use]
pub fn notes(checked: &Checked) -> Vec<Note> {
    let numbered = checked.findings.iter().zip(1..);
    numbered
        .flat_map(|(finding, number)| {
            finding.places.iter().filter_map(move |place| note(checked, finding, place, number))
        })
        .collect()
}

fn note(checked: &Checked, finding: &Finding, place: &Place, number: usize) -> Option<Note> {
    let at = place.page?;
    let page = checked.layout.pages.get(at.at())?;
    // What is said of a whole page stands in its corner.
    let whole = |rect: &crate::geometry::Rect| rect.width() >= page.size.value.0 && rect.height() >= page.size.value.1;
    let rect = place.rect.filter(|rect| !whole(rect));
    let lies = page.seen.as_ref().and_then(|seen| seen.lies);
    let rect = rect.map(|rect| lies.map_or(rect, |lies| lies.shown(&rect, page.size.value)));
    let here = place.here.as_ref().map_or(finding.message.as_str(), |here| here.says.as_str());
    let limit = if finding.limit.is_empty() { String::new() } else { format!("\nWanted: {}.", finding.limit) };
    Some(Note {
        page: at.at(),
        rect,
        number,
        name: finding.key.to_string(),
        title: here.to_owned(),
        text: format!("{}{limit}\nSource: {}", finding.remedy, finding.source),
        heavy: finding.weight != Weight::Look,
    })
}
