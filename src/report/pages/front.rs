//! The first sheet, for a musician: what the work is, one sentence on the whole, what to mend, all pages at a glance.

use std::collections::BTreeSet;

use super::{frame::Frame, maps, mark, strip::Strip, style};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::report::pdf::{
    Align, Artifact, Bookmark, Canvas, Document, Elem, Face, Ink, Line, Numbering, PageId, Tag, Target, TextStyle, at,
    wrap,
};
use crate::report::verdict;
use crate::rules::{Finding, Weight};
use crate::units::Mm;
use crate::words::counted;

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
        let place = at(style::content().left, self.strip_top - Mm(3.0));
        canvas.tagged(paragraph, |ink| {
            ink.text(place, Align::Left, &style::BODY.in_grey(style::quiet()), &text);
        });
    }

    fn strip(&self, canvas: &mut Canvas<'_>, area: Rect) {
        let top = self.strip_top;
        let caption = canvas.element(self.section, Tag::P);
        canvas.artifact(Artifact::Layout, |ink| ink.line(at(area.left, top), at(area.right, top), &style::HAIR));
        canvas.tagged(caption, |ink| {
            let text = "All pages as they lie before the conductor. Grey: where systems stand, the darker the denser. \
                        Beneath: page numbers, rehearsal letters, tempo, time at the turn.";
            ink.text(at(area.left, top + Mm(3.6)), Align::Left, &style::TINY.in_grey(style::quiet()), text);
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
        let room = Rect { top, bottom: strip_top - Mm(3.0), ..area };
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

/// Title, forces, length, what the pages rest on, and the verdict, in lines.
struct Head {
    title: Vec<Line>,
    composer: Option<String>,
    facts: Vec<Vec<Line>>,
    verdict: Vec<Line>,
}

const TITLE_LINE: Mm = Mm(8.5);
/// Below the title, whose letters reach down.
const TITLE_GAP: Mm = Mm(1.6);
const VERDICT_LINE: Mm = Mm(5.8);
const FACT_GAP: Mm = Mm(0.7);

impl Head {
    fn of(checked: &Checked) -> Head {
        let width = style::content().width();
        let title = checked.score.title.as_deref().unwrap_or("Untitled score");
        let facts = facts(checked);
        Head {
            title: wrap(title, &style::TITLE, width - Mm(60.0)).into_iter().take(2).collect(),
            composer: checked.score.composer.clone(),
            facts: facts.iter().map(|fact| wrap(fact, &style::BODY, width).into_iter().take(2).collect()).collect(),
            verdict: wrap(&verdict::sentence(checked), &style::VERDICT, width),
        }
    }

    fn height(&self) -> Mm {
        let facts: usize = self.facts.iter().map(Vec::len).sum();
        TITLE_LINE * self.title.len() as f64
            + (LINE + FACT_GAP) * facts as f64
            + VERDICT_LINE * self.verdict.len() as f64
            + TITLE_GAP
            + Mm(8.0)
    }

    fn draw(&self, canvas: &mut Canvas<'_>, section: Elem, area: Rect) {
        let mut y = area.top - Mm(1.5);
        let heading = canvas.element(section, Tag::H1);
        canvas.tagged(heading, |ink| lines(ink, area.left, &mut y, TITLE_LINE, &style::TITLE, &self.title));
        y += TITLE_GAP;
        if let Some(composer) = &self.composer {
            let by = canvas.element(section, Tag::P);
            let look = style::BODY.in_face(Face::Italic);
            canvas.tagged(by, |ink| ink.text(at(area.right, area.top + Mm(7.0)), Align::Right, &look, composer));
        }
        for fact in &self.facts {
            let paragraph = canvas.element(section, Tag::P);
            canvas.tagged(paragraph, |ink| lines(ink, area.left, &mut y, LINE + FACT_GAP, &style::BODY, fact));
        }
        y += Mm(2.5);
        let paragraph = canvas.element(section, Tag::P);
        canvas.tagged(paragraph, |ink| {
            lines(ink, area.left, &mut y, VERDICT_LINE, &style::VERDICT, &self.verdict);
        });
    }
}

/// Sets lines one below the other and moves `y` to the last baseline.
fn lines(ink: &mut Ink<'_>, left: Mm, y: &mut Mm, line: Mm, look: &TextStyle, lines: &[Line]) {
    for text in lines {
        *y += line;
        ink.text(at(left, *y), Align::Left, look, &text.text);
    }
}

/// Movements, forces and length, the pages and what they rest on.
fn facts(checked: &Checked) -> Vec<String> {
    let score = &checked.score;
    let mut facts = Vec::new();
    if score.movements.len() > 1 {
        let titles: Vec<String> = score
            .movements
            .iter()
            .enumerate()
            .map(|(at, movement)| movement.title.clone().unwrap_or_else(|| format!("movement {}", at + 1)))
            .collect();
        facts.push(titles.join("  ·  "));
    }
    let forces = verdict::forces(checked);
    if !forces.is_empty() {
        facts.push(forces);
    }
    facts.push(format!("{} {}", pages_in_words(checked), verdict::basis(checked)));
    facts
}

/// "44 pages of 257 x 364 mm; staves 4.2 mm; one system a page, two on 6 pages."
fn pages_in_words(checked: &Checked) -> String {
    let pages = &checked.layout.pages;
    let bars = match checked.score.bars.len() {
        1 => "1 bar (measure)".to_owned(),
        bars => format!("{bars} bars (measures)"),
    };
    let Some(first) = pages.first() else { return format!("{bars}.") };
    let (width, height) = first.size.value;
    let split = pages.iter().filter(|page| page.systems.len() > 1).count();
    let systems = match split {
        0 => "one system a page".to_owned(),
        _ if split == pages.len() => "two systems a page or more".to_owned(),
        _ => format!("two systems or more on {split} of them"),
    };
    let staff = first.systems.first().and_then(|system| system.staves.iter().map(|staff| staff.height).reduce(Mm::max));
    let staves = staff.map_or_else(String::new, |height| format!("staves {height}; "));
    let count = counted(pages.len(), "page");
    format!("{bars} on {count} of {:.0} x {:.0} mm; {staves}{systems}.", width.0, height.0)
}

/// One finding, its lines measured.
struct Entry<'a> {
    number: usize,
    finding: &'a Finding,
    message: Vec<Line>,
    remedy: Vec<Line>,
}

impl<'a> Entry<'a> {
    fn new(number: usize, finding: &'a Finding, width: Mm) -> Entry<'a> {
        let message = wrap(&finding.message, &style::BODY_BOLD, width);
        let remedy = wrap(&finding.remedy, &style::BODY, width);
        Entry { number, finding, message, remedy }
    }

    fn height(&self) -> Mm {
        LINE * (self.message.len() + self.remedy.len()) as f64
    }

    fn draw(&self, canvas: &mut Canvas<'_>, list: Elem, left: Mm, top: Mm, map: Option<String>) {
        let item = canvas.element(list, Tag::Li);
        let label = canvas.element(item, Tag::Lbl);
        canvas.tagged(label, |ink| {
            let centre = at(left + MARK / 2.0, top + LINE * 0.42);
            mark::numbered(ink, centre, MARK, self.finding.weight, self.number);
        });
        let body = canvas.element(item, Tag::LBody);
        let text_left = left + HANG;
        let message_box =
            Rect::new(text_left, top - Mm(0.5), text_left + self.width(), top + LINE * self.message.len() as f64);
        let message = |ink: &mut Ink<'_>| {
            for (line, text) in self.message.iter().enumerate() {
                ink.text(at(text_left, top + LINE * (line as f64 + 0.75)), Align::Left, &style::BODY_BOLD, &text.text);
            }
        };
        match map {
            Some(anchor) => {
                let says = format!("finding {} on its page map", self.number);
                canvas.link(body, message_box, &Target::Anchor(anchor), &says, message);
            }
            None => canvas.tagged(body, message),
        }
        let below = top + LINE * self.message.len() as f64;
        canvas.tagged(body, |ink| {
            for (line, text) in self.remedy.iter().enumerate() {
                ink.text(at(text_left, below + LINE * (line as f64 + 0.75)), Align::Left, &style::BODY, &text.text);
            }
        });
    }

    fn width(&self) -> Mm {
        self.message.iter().map(|line| line.width).fold(Mm::ZERO, Mm::max)
    }
}
