//! The first sheet, for a musician: what the work is, one sentence on the whole, what to mend, all pages at a glance.

use std::collections::BTreeSet;

use super::{frame::Frame, maps, strip::Strip, style};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::report::pdf::{Align, Artifact, Bookmark, Canvas, Document, Elem, Numbering, PageId, Tag, Target, at};
use crate::report::verdict;
use crate::rules::Weight;
use crate::units::Mm;

mod entry;
mod head;
mod what_if;

use entry::Entry;
use head::Head;

/// Height of one line of body text.
const LINE: Mm = Mm(4.1);
/// Between the two columns of findings.
const GUTTER: Mm = Mm(9.0);
/// From a finding's left edge to its words; its mark stands in it.
const HANG: Mm = Mm(8.0);
const MARK: Mm = Mm(4.2);
/// Rule and caption above the strip of pages.
const STRIP_HEAD: Mm = Mm(5.0);

/// The first sheet, measured: what stands where is known before anything is drawn, for links from elsewhere.
pub struct Front<'a> {
    checked: &'a Checked,
    sheet: PageId,
    section: Elem,
    head: Head,
    entries: Vec<Placed<'a>>,
    strip_top: Mm,
}

/// One finding with its place on the sheet.
struct Placed<'a> {
    entry: Entry<'a>,
    left: Mm,
    top: Mm,
}

impl<'a> Front<'a> {
    /// Takes the sheet and finds out which findings it has room for.
    pub fn begin(doc: &mut Document, frame: &Frame<'_>, checked: &'a Checked) -> Front<'a> {
        let sheet = frame.sheet(doc);
        let section = doc.element(doc.root(), Tag::Sect);
        doc.anchor("first-sheet", sheet, Mm::ZERO);
        doc.bookmark(Bookmark::new("What to mend first", Target::anchor("first-sheet")));
        let head = Head::of(checked);
        let (entries, strip_top) = share(checked, style::content().top + head.height());
        for placed in &entries {
            doc.anchor(maps::entry_anchor(placed.entry.number), sheet, placed.top - Mm(6.0));
        }
        Front { checked, sheet, section, head, entries, strip_top }
    }

    /// Numbers of the findings told on the sheet.
    pub fn entries(&self) -> BTreeSet<usize> {
        self.entries.iter().map(|placed| placed.entry.number).collect()
    }

    /// Draws the sheet; `marked` are the numbers of the findings that have a mark on the page maps.
    pub fn draw(&self, doc: &mut Document, marked: &BTreeSet<usize>) {
        let area = style::content();
        let mut canvas = doc.page(self.sheet);
        self.head.draw(&mut canvas, self.section, area);
        let list = canvas.element(self.section, Tag::L(Numbering::Decimal));
        for Placed { entry, left, top } in &self.entries {
            let map = marked.contains(&entry.number).then(|| maps::anchor(entry.number));
            entry.draw(&mut canvas, list, *left, *top, map);
        }
        self.rest(&mut canvas);
        what_if::draw(self.checked, &mut canvas, self.section, self.strip_top - what_if::height(self.checked));
        self.strip(&mut canvas, area);
    }

    /// What the list leaves out.
    fn rest(&self, canvas: &mut Canvas<'_>) {
        let left_out = verdict::to_mend(self.checked).saturating_sub(self.entries.len());
        let mut text = verdict::lesser(self.checked);
        if left_out > 0 {
            text = format!("{left_out} more to mend: see all findings at the back. {text}");
        }
        let paragraph = canvas.element(self.section, Tag::P);
        let foot = self.strip_top - what_if::height(self.checked);
        let place = at(style::content().left, foot - Mm(3.0));
        canvas.tagged(paragraph, |ink| {
            ink.text(place, Align::Left, &style::BODY.in_grey(style::quiet()), &text);
        });
    }

    fn strip(&self, canvas: &mut Canvas<'_>, area: Rect) {
        let top = self.strip_top;
        let caption = canvas.element(self.section, Tag::P);
        canvas.artifact(Artifact::Layout, |ink| ink.line(at(area.left, top), at(area.right, top), &style::HAIR));
        canvas.tagged(caption, |ink| {
            let density =
                if self.checked.score.is_outline() { "how dense is not known" } else { "the darker the denser" };
            let text = format!(
                "All pages as they lie before the conductor. Grey: where systems stand, {density}. \
                 Beneath: page numbers, rehearsal letters, tempo, time at the turn."
            );
            ink.text(at(area.left, top + Mm(3.6)), Align::Left, &style::TINY.in_grey(style::quiet()), &text);
        });
        let strip = strip_of(self.checked);
        strip.draw(canvas, self.section, Rect { top: top + STRIP_HEAD, ..area });
    }
}

/// Shares the sheet below `top` between findings and the strip of pages: the strip is as high as its pages can be
/// large, and gives way to findings down to a height at which it can still be read.
fn share(checked: &Checked, top: Mm) -> (Vec<Placed<'_>>, Mm) {
    let area = style::content();
    let strip = |most: Mm| STRIP_HEAD + strip_of(checked).height(area.width(), most);
    let (least, most) = (strip(Mm(62.0)), strip(Mm(92.0)));
    let to_mend = verdict::to_mend(checked);
    let mut strip_top = area.bottom - most;
    loop {
        let room = Rect { top, bottom: strip_top - what_if::height(checked) - Mm(3.0), ..area };
        let entries = place(checked, room);
        if entries.len() == to_mend || strip_top >= area.bottom - least {
            return (entries, strip_top);
        }
        strip_top = (strip_top + LINE).min(area.bottom - least);
    }
}

fn strip_of(checked: &Checked) -> Strip<'_> {
    Strip { score: &checked.score, layout: &checked.layout, survey: &checked.survey, findings: &checked.findings }
}

/// As many findings as there is room for, heaviest first, in two columns.
fn place(checked: &Checked, room: Rect) -> Vec<Placed<'_>> {
    let width = (room.width() - GUTTER) / 2.0;
    let foot = room.bottom - LINE;
    let mut placed = Vec::new();
    let (mut left, mut top) = (room.left, room.top);
    for (number, finding) in (1..).zip(&checked.findings).filter(|(_, finding)| finding.weight != Weight::Look) {
        let entry = Entry::new(number, finding, width - HANG);
        if top + entry.height() > foot && left == room.left {
            (left, top) = (room.left + width + GUTTER, room.top);
        }
        if top + entry.height() > foot {
            break;
        }
        let next = top + entry.height() + Mm(1.8);
        placed.push(Placed { entry, left, top });
        top = next;
    }
    placed
}
