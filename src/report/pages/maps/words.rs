//! The words beside the pages: number, what was found, what is wanted, what to do.

use super::columns::{Block, Spot as Seat};
use super::marks::Marked;
use super::pens::{self, LEADING};
use crate::report::pages::mark;
use crate::report::pdf::{Align, Canvas, Elem, Ink, Tag, Target, TextStyle, at};
use crate::rules::{Finding, Weight};
use crate::units::Mm;

mod wrap;

use wrap::wrap;

/// What one block of words says, under the marks of all findings that say the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    pub marks: Vec<(usize, Weight)>,
    lines: Vec<(Tone, String)>,
    near: Mm,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tone {
    /// What was found.
    Full,
    /// What is wanted and what to do.
    Quiet,
}

/// Marks in a row, when several findings share their words.
const IN_A_ROW: usize = 10;
/// How far a mark stands higher than its block, to be level with the first line of text.
const RAISED: Mm = Mm(0.2);
/// Text stands right of the marks.
const INDENT: Mm = Mm(5.4);
/// From mark to mark in a row.
const PITCH: Mm = Mm(4.6);
/// From the top of a block to its first baseline.
const ASCENT: Mm = Mm(2.75);
/// White between what was found and what to do.
const SPLIT: Mm = Mm(0.5);

/// Entries of the marked spots, in the order of their marks down the page, each finding once; findings whose words are the
/// same share an entry. `said` holds the findings that have had their words on this sheet already.
#[must_use]
pub fn entries(findings: &[Finding], marked: &[&Marked], width: Mm, said: &mut Vec<usize>) -> Vec<Entry> {
    let mut entries: Vec<(&Finding, Entry)> = Vec::new();
    let mut order: Vec<&&Marked> = marked.iter().collect();
    let top = |marked: &Marked| marked.seat.map(|seat| seat.mark).or(marked.outline).map_or(Mm::ZERO, |rect| rect.top);
    order.sort_by(|one, other| top(one).0.total_cmp(&top(other).0).then(one.spot.number.cmp(&other.spot.number)));
    for marked in order {
        let number = marked.spot.number;
        let finding = number.checked_sub(1).and_then(|at| findings.get(at));
        let Some(finding) = finding.filter(|_| !said.contains(&number)) else { continue };
        said.push(number);
        match entries.iter_mut().find(|(other, _)| same_words(other, finding)) {
            Some((_, entry)) => entry.marks.push((number, finding.weight)),
            None => entries.push((finding, Entry::new(finding, number, top(marked), width))),
        }
    }
    entries.into_iter().map(|(_, entry)| entry).collect()
}

impl Entry {
    fn new(finding: &Finding, number: usize, near: Mm, width: Mm) -> Entry {
        let room = width - INDENT;
        let full = wrap(&finding.message, &pens::words(), room).into_iter().map(|line| (Tone::Full, line));
        let advice = [wanted(finding), finding.remedy.clone()].join(" ");
        let quiet = wrap(advice.trim(), &pens::quiet(), room).into_iter().map(|line| (Tone::Quiet, line));
        Entry { marks: vec![(number, finding.weight)], lines: full.chain(quiet).collect(), near }
    }

    /// How high it is, and where it would stand best.
    #[must_use]
    pub fn block(&self) -> Block {
        let text = LEADING * self.lines.len() as f64 + SPLIT;
        Block { height: (self.row_height() + text).max(mark::SIZE), near: self.near }
    }

    /// Draws it as a new item of `list`.
    pub fn draw(&self, canvas: &mut Canvas<'_>, list: Elem, seat: Seat, linked: impl Fn(usize) -> Option<Target>) {
        let item = canvas.element(list, Tag::Li);
        let label = canvas.element(item, Tag::Lbl);
        for (place, (number, weight)) in self.marks.iter().enumerate() {
            let (row, column) = (place / IN_A_ROW, place % IN_A_ROW);
            let half = mark::SIZE / 2.0;
            let centre = at(seat.left + half + PITCH * column as f64, seat.top + half + PITCH * row as f64 - RAISED);
            let draw = |ink: &mut Ink<'_>| mark::numbered(ink, centre, mark::SIZE, *weight, *number);
            match linked(*number) {
                Some(target) => {
                    let says = format!("finding {number} in the list");
                    canvas.link(label, mark::around(centre, mark::SIZE), &target, &says, draw);
                }
                None => canvas.tagged(label, draw),
            }
        }
        let body = canvas.element(item, Tag::LBody);
        let mut y = seat.top + self.row_height() + ASCENT;
        for tone in [Tone::Full, Tone::Quiet] {
            let lines: Vec<&str> =
                self.lines.iter().filter(|line| line.0 == tone).map(|line| line.1.as_str()).collect();
            let paragraph = canvas.element(body, Tag::P);
            let style = tone.style();
            canvas.tagged(paragraph, |ink| {
                for line in &lines {
                    // The space keeps the words of two lines apart when the text is copied or heard.
                    ink.text(at(seat.left + INDENT, y), Align::Left, &style, &format!("{line} "));
                    y += LEADING;
                }
            });
            y += SPLIT;
        }
    }

    /// Height of the row of marks when there are too many to hang beside the text.
    fn row_height(&self) -> Mm {
        match self.marks.len() {
            0 | 1 => Mm::ZERO,
            count => PITCH * count.div_ceil(IN_A_ROW) as f64,
        }
    }
}

impl Tone {
    fn style(self) -> TextStyle {
        match self {
            Tone::Full => pens::words(),
            Tone::Quiet => pens::quiet(),
        }
    }
}

fn same_words(one: &Finding, other: &Finding) -> bool {
    let words = |finding: &Finding| [finding.message.clone(), finding.remedy.clone(), finding.limit.clone()];
    one.rule == other.rule && words(one) == words(other)
}

/// "Found 3.2 mm, wanted 4 mm.", as far as the sentence above it does not say so already.
fn wanted(finding: &Finding) -> String {
    let told = |text: &str| text.is_empty() || finding.message.contains(text);
    match (told(&finding.found), told(&finding.limit)) {
        (true, true) => String::new(),
        (false, true) => format!("Found: {}.", finding.found),
        (true, false) => format!("Wanted: {}.", finding.limit),
        (false, false) => format!("Found: {}; wanted: {}.", finding.found, finding.limit),
    }
}
