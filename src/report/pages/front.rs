//! The first sheet, for a musician: what the work is, one sentence on the whole, what to mend, all pages at a glance.

use super::{frame::Frame, mark, strip::Strip, style};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::report::pdf::{
    Align, Canvas, Document, Elem, Face, Ink, Line, Numbering, Tag, Target, TextStyle, at, wrap,
};
use crate::report::verdict;
use crate::rules::{Finding, Weight};
use crate::units::Mm;

/// Height of one line of body text.
const LINE: Mm = Mm(4.1);
/// Between the two columns of findings.
const GUTTER: Mm = Mm(9.0);
/// From a finding's left edge to its words; its mark stands in it.
const HANG: Mm = Mm(8.0);
const MARK: Mm = Mm(4.2);

/// Which findings have a place on a page map to jump to.
pub trait Mapped {
    /// Name of the anchor of finding `number` (from 1) on its page map.
    fn anchor_of(&self, number: usize) -> Option<String>;
}

/// Draws the sheet.
pub fn draw(doc: &mut Document, frame: &Frame<'_>, checked: &Checked, maps: &dyn Mapped) {
    let sheet = frame.sheet(doc, "What to mend first");
    let section = doc.element(doc.root(), Tag::Sect);
    doc.anchor("first-sheet", sheet, Mm::ZERO);
    frame.bookmark(doc, "What to mend first", Target::anchor("first-sheet"));
    let area = style::content();
    let mut canvas = doc.page(sheet);
    let below_head = head(&mut canvas, section, checked, area);
    let strip_top = area.bottom - strip_height(checked);
    let room = Rect::new(area.left, below_head, area.right, strip_top - Mm(3.0));
    Findings { checked, maps, room }.draw(&mut canvas, section);
    let strip = Strip {
        score: &checked.score,
        layout: &checked.layout,
        survey: &checked.survey,
        findings: &checked.findings,
    };
    let caption = canvas.element(section, Tag::P);
    canvas.tagged(caption, |ink| {
        ink.line(at(area.left, strip_top), at(area.right, strip_top), &style::HAIR);
        let text = "All pages as they lie before the conductor. Grey: where systems stand, the darker the denser. \
                    Beneath: page numbers, rehearsal letters, tempo, time at the turn.";
        ink.text(at(area.left, strip_top + Mm(3.6)), Align::Left, &style::TINY.in_grey(style::quiet()), text);
    });
    strip.draw(&mut canvas, section, Rect::new(area.left, strip_top + Mm(5.0), area.right, area.bottom));
}

/// One row of openings, two when there are many.
fn strip_height(checked: &Checked) -> Mm {
    match checked.survey.openings.len() {
        0..=9 => Mm(50.0),
        10..=16 => Mm(42.0),
        17..=32 => Mm(72.0),
        _ => Mm(98.0),
    }
}

/// Title, forces, length, what the pages rest on, and the verdict; gives back where the next thing may stand.
fn head(canvas: &mut Canvas<'_>, section: Elem, checked: &Checked, area: Rect) -> Mm {
    let score = &checked.score;
    let title = score.title.clone().unwrap_or_else(|| "Untitled score".to_owned());
    let heading = canvas.element(section, Tag::H1);
    let mut y = area.top + Mm(7.0);
    canvas.tagged(heading, |ink| {
        let room = area.width() - Mm(60.0);
        for (line, text) in wrap(&title, &style::TITLE, room).into_iter().take(2).enumerate() {
            y = area.top + Mm(7.0) + Mm(8.5) * line as f64;
            ink.text(at(area.left, y), Align::Left, &style::TITLE, &text.text);
        }
    });
    if let Some(composer) = &score.composer {
        let by = canvas.element(section, Tag::P);
        let look = TextStyle::new(Face::Italic, style::BODY.size);
        canvas.tagged(by, |ink| ink.text(at(area.right, area.top + Mm(7.0)), Align::Right, &look, composer));
    }
    for text in facts(checked) {
        let paragraph = canvas.element(section, Tag::P);
        canvas.tagged(paragraph, |ink| {
            for line in wrap(&text, &style::BODY, area.width()).into_iter().take(2) {
                y = y + LINE + Mm(0.7);
                ink.text(at(area.left, y), Align::Left, &style::BODY, &line.text);
            }
        });
    }
    let paragraph = canvas.element(section, Tag::P);
    y = y + Mm(3.5);
    canvas.tagged(paragraph, |ink| {
        for line in wrap(&verdict::sentence(checked), &style::VERDICT, area.width()) {
            y = y + Mm(5.6);
            ink.text(at(area.left, y), Align::Left, &style::VERDICT, &line.text);
        }
    });
    y + Mm(4.0)
}

/// Movements, forces and length, the pages and what they rest on.
fn facts(checked: &Checked) -> Vec<String> {
    let score = &checked.score;
    let mut facts = Vec::new();
    if score.movements.len() > 1 {
        let titles: Vec<String> = score.movements.iter().enumerate().map(|(at, movement)| {
            movement.title.clone().unwrap_or_else(|| format!("movement {}", at + 1))
        }).collect();
        facts.push(titles.join("  ·  "));
    }
    let forces = checked.forces_line();
    if !forces.is_empty() {
        facts.push(forces);
    }
    facts.push(format!("{} {}", pages_in_words(checked), verdict::basis(checked)));
    facts
}

/// "44 pages of 257 x 364 mm; staves 4.2 mm; one system a page, two on 6 pages."
fn pages_in_words(checked: &Checked) -> String {
    let pages = &checked.layout.pages;
    let bars = checked.score.bars.len();
    let Some(first) = pages.first() else { return format!("{bars} bars (measures).") };
    let (width, height) = first.size.value;
    let split = pages.iter().filter(|page| page.systems.len() > 1).count();
    let systems = match split {
        0 => "one system a page".to_owned(),
        _ if split == pages.len() => "two systems a page or more".to_owned(),
        _ => format!("two systems or more on {split} of them"),
    };
    let staff = first.systems.first().and_then(|system| system.staves.iter().map(|staff| staff.height).reduce(Mm::max));
    let staves = staff.map_or_else(String::new, |height| format!("staves {height}; "));
    let count = if pages.len() == 1 { "1 page".to_owned() } else { format!("{} pages", pages.len()) };
    format!("{bars} bars (measures) on {count} of {:.0} x {:.0} mm; {staves}{systems}.", width.0, height.0)
}

/// The findings to mend, in two columns.
struct Findings<'a> {
    checked: &'a Checked,
    maps: &'a dyn Mapped,
    room: Rect,
}

impl Findings<'_> {
    fn draw(&self, canvas: &mut Canvas<'_>, section: Elem) {
        let list = canvas.element(section, Tag::L(Numbering::Decimal));
        let width = (self.room.width() - GUTTER) / 2.0;
        let foot = self.room.bottom - LINE;
        let (mut left, mut y, mut shown) = (self.room.left, self.room.top, 0);
        let heavy: Vec<(usize, &Finding)> =
            (1..).zip(&self.checked.findings).filter(|(_, finding)| finding.weight != Weight::Look).collect();
        for &(number, finding) in &heavy {
            let entry = Entry::new(number, finding, width - HANG);
            if y + entry.height() > foot {
                if left > self.room.left {
                    break;
                }
                left = self.room.left + width + GUTTER;
                y = self.room.top;
                if y + entry.height() > foot {
                    break;
                }
            }
            entry.draw(canvas, list, left, y, self.maps.anchor_of(number));
            y = y + entry.height() + Mm(1.8);
            shown += 1;
        }
        self.rest(canvas, section, heavy.len() - shown);
    }

    /// What the list leaves out.
    fn rest(&self, canvas: &mut Canvas<'_>, section: Elem, left_out: usize) {
        let mut text = verdict::lesser(self.checked);
        if left_out > 0 {
            text = format!("{left_out} more to mend: see all findings at the back. {text}");
        }
        let paragraph = canvas.element(section, Tag::P);
        let place = at(self.room.left, self.room.bottom);
        canvas.tagged(paragraph, |ink| {
            ink.text(place, Align::Left, &style::BODY.in_grey(style::quiet()), &text);
        });
    }
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
        canvas.anchor(format!("finding-{}", self.number), top - Mm(6.0));
        canvas.tagged(label, |ink| {
            let centre = at(left + MARK / 2.0, top + LINE * 0.42);
            mark::draw(ink, centre, MARK, self.finding.weight, Some(self.number));
        });
        let body = canvas.element(item, Tag::LBody);
        let text_left = left + HANG;
        let message_box = Rect::new(text_left, top - Mm(0.5), text_left + self.width(), top + LINE * self.message.len() as f64);
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
