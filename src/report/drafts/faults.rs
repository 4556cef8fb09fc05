//! Faults of both drafts: what is new, what is mended, what is still there; those that somebody let stand apart.

use super::words;
use crate::check::{Compared, Reader};
use crate::compare::{FoundChange, FoundFate};
use crate::report::blocks::{heading, list};
use crate::report::pages::frame::Frame;
use crate::report::pages::{mark, style};
use crate::report::pdf::{
    Artifact, Block, Document, Flow, Heading, Level, Paragraph, ParagraphStyle, Region, Tag, Target, at,
};
use crate::rules::Weight;
use crate::units::Mm;
use crate::words::counted;

pub(super) const TITLE: &str = "Faults: new, mended, still there";

/// Places told of each.
const MOST: usize = 24;
/// Of the shape before a heading, and from its left edge to the words.
const MARK: Mm = Mm(3.2);
const HANG: Mm = Mm(5.0);

/// Whether there is anything to tell.
pub(super) fn any(compared: &Compared) -> bool {
    !compared.findings.is_empty()
}

/// New places first, each fate by weight.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, compared: &Compared) {
    if !any(compared) {
        return;
    }
    let area = style::content();
    let section = doc.element(doc.root(), Tag::Sect);
    let first = Region { page: frame.sheet(doc), area };
    frame.bookmark(doc, TITLE, Target::anchor("faults"));
    let title = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0));
    let mut blocks = vec![Block::Heading(Heading::new(Level::One, TITLE, title).named("faults"))];
    let mut shapes: Vec<(String, Weight)> = Vec::new();
    for (fate, name) in [(FoundFate::New, "New"), (FoundFate::Mended, "Mended"), (FoundFate::Kept, "Still there")] {
        for weight in [Weight::Stop, Weight::Mend, Weight::Look] {
            let lines = lines(compared, &|own| own.fate == fate && own.weight == weight && !own.accepted);
            if lines.is_empty() {
                continue;
            }
            let whose = if fate == FoundFate::Mended { ", as it stood in the old draft" } else { "" };
            let anchor = format!("faults-{}", shapes.len());
            let look = ParagraphStyle { indent: HANG, ..ParagraphStyle::new(style::BODY_BOLD) };
            let text = format!("{name}: {}{whose}", weight.words());
            let look = look.spaced(Mm(3.0), Mm(1.0));
            blocks.push(Block::Heading(Heading::new(Level::Two, text, look).named(anchor.as_str())));
            blocks.extend(cut(lines));
            shapes.push((anchor, weight));
        }
    }
    let accepted = lines(compared, &|own| own.accepted);
    if !accepted.is_empty() {
        blocks.push(heading("Accepted: somebody let them stand"));
        blocks.extend(cut(accepted));
    }
    Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area }).set(section, &blocks);
    // The words tell the weight; its shape stands beside them, where they have come to stand.
    for (anchor, weight) in shapes {
        let Some((page, top)) = doc.place_of(&anchor) else { continue };
        let centre = at(area.left + MARK / 2.0, top + ParagraphStyle::new(style::BODY_BOLD).line / 2.0);
        doc.page(page).artifact(Artifact::Layout, |ink| mark::plain(ink, centre, MARK, weight));
    }
}

fn lines(compared: &Compared, is: &dyn Fn(&FoundChange) -> bool) -> Vec<String> {
    let own: Vec<&(Reader, FoundChange)> = compared.findings.iter().filter(|(_, change)| is(change)).collect();
    words::found_by_place(&own, compared)
}

fn cut(lines: Vec<String>) -> Vec<Block> {
    let more = lines.len().saturating_sub(MOST);
    let mut blocks = vec![list(lines.into_iter().take(MOST).collect())];
    if more > 0 {
        let look = ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(0.5));
        let text = format!("{}; the JSON lists them.", counted(more, "more place"));
        blocks.push(Block::Paragraph(Paragraph::new(text, look)));
    }
    blocks
}
