//! The pages that differ most, old beside new, at one scale.

use super::words;
use crate::check::{Compared, Draft};
use crate::compare::PagePair;
use crate::layout::Page;
use crate::place::PageIdx;
use crate::reference::Plate;
use crate::report::pages::beside;
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{Align, Artifact, Document, Tag, Target, at};
use crate::units::Mm;

/// Pairs that are shown.
const MOST: usize = 3;
/// Pages that differ by less are the same page.
const A_LITTLE: f64 = 0.05;
/// Between the two pages.
const GAP: Mm = Mm(16.0);
/// Title and captions above the pages.
const HEAD: Mm = Mm(24.0);

pub(super) const TITLE: &str = "Pages that differ most";

/// Whether there is anything to show.
pub(super) fn any(compared: &Compared) -> bool {
    !worst(compared).is_empty()
}

/// The pairs that differ most, the worst first.
fn worst(compared: &Compared) -> Vec<(&PagePair, &Page, &Page)> {
    let Some((old, new)) = compared.sides() else { return Vec::new() };
    let mut pairs: Vec<(&PagePair, &Page, &Page)> = compared
        .pages
        .pairs
        .iter()
        .filter(|pair| pair.differs > A_LITTLE)
        .filter_map(|pair| Some((pair, with_music(old, pair.old)?, with_music(new, pair.new)?)))
        .collect();
    pairs.sort_by(|one, other| other.0.differs.total_cmp(&one.0.differs).then(one.0.new.cmp(&other.0.new)));
    pairs.truncate(MOST);
    pairs
}

fn with_music(draft: &Draft, at: Option<PageIdx>) -> Option<&Page> {
    draft.checked.layout.pages.get(at?.at()).filter(|page| !page.systems.is_empty())
}

/// One sheet a pair; none where no page differs.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, compared: &Compared) {
    let Some((old, new)) = compared.sides() else { return };
    let pairs = worst(compared);
    for (nth, (pair, old_page, new_page)) in pairs.iter().enumerate() {
        let section = doc.element(doc.root(), Tag::Sect);
        let sheet = frame.sheet(doc);
        if nth == 0 {
            doc.anchor("pairs", sheet, Mm::ZERO);
            frame.bookmark(doc, TITLE, Target::anchor("pairs"));
        }
        let mut canvas = doc.page(sheet);
        let area = style::content();
        let heading = canvas.element(section, Tag::H1);
        let title = format!(
            "Pages that differ most: {} of {}",
            crate::words::in_words(nth + 1),
            crate::words::in_words(pairs.len())
        );
        canvas.tagged(heading, |ink| ink.text(at(area.left, area.top + Mm(4.0)), Align::Left, &style::HEADING, &title));
        let said = canvas.element(section, Tag::P);
        canvas.tagged(said, |ink| {
            let told = words::pair(pair, old_page, new_page);
            ink.text(at(area.left, area.top + Mm(9.5)), Align::Left, &style::BODY, &told);
        });
        let half = (area.width() - GAP) / 2.0;
        let plates = [Plate::of(old_page), Plate::of(new_page)];
        let scale = beside::scale(&[&plates[0], &plates[1]], half, area.bottom - area.top - HEAD);
        let sides = [
            (&plates[0], old, pair.old, "Old draft", area.left),
            (&plates[1], new, pair.new, "New draft", area.left + half + GAP),
        ];
        for (plate, draft, at_page, whose, left) in sides {
            let layout = &draft.checked.layout;
            let span = at_page.and_then(|page| layout.pages.get(page.at())?.span());
            let bars = span.map_or_else(String::new, |span| format!(", {}", draft.checked.score.span_label(span)));
            let caption = canvas.element(section, Tag::P);
            let top = area.top + Mm(16.0);
            let label = at_page.map_or_else(String::new, |page| layout.page_label(page));
            canvas.tagged(caption, |ink| {
                ink.text(at(left, top), Align::Left, &style::BODY_BOLD, &format!("{whose}, page {label}{bars}"));
                ink.text(at(left, top + Mm(4.5)), Align::Left, &style::SMALL, &beside::words(plate, scale));
            });
            canvas.artifact(Artifact::Layout, |ink| beside::page(ink, plate, left, area.top + HEAD, scale));
        }
    }
}
