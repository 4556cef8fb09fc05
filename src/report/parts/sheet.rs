//! One player's sheet, to hand over: the pages on the stand, each turn, the part along its time, and what to know.

use super::{axis, casting_off_line, found, stand, words};
use crate::check::{PartChecked, PartsChecked};
use crate::geometry::Rect;
use crate::players::end_to_end::{Change, ChangeKind};
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Block, Document, Flow, Heading, Level, List, ListItem, Numbering, Paragraph, ParagraphStyle, Region, Tag, Target,
    Text,
};
use crate::score::Score;
use crate::units::Mm;
use crate::words::counted;

/// Turns told one by one; a part with more is better seen from its picture.
const MOST_TURNS: usize = 24;
/// Changes told.
const MOST_CHANGES: usize = 8;

/// The name of a part's sheet, for links.
pub(super) fn anchor(at: usize) -> String {
    format!("part-{at}")
}

/// Draws the sheet, or as many as it takes.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, at: usize, part: &PartChecked, checked: &PartsChecked) {
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    // Names that differ in a number alone would be taken for running heads in the uppermost eighth of the sheet.
    let below_the_edge = Rect { top: area.top + Mm(14.0), ..area };
    let first = Region { page: frame.sheet(doc), area: below_the_edge };
    frame.bookmark(doc, &part.player.name, Target::anchor(anchor(at)));
    let mut flow = Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area });
    flow.set(section, &blocks(at, part, checked));
}

fn blocks(at: usize, part: &PartChecked, checked: &PartsChecked) -> Vec<Block> {
    let score = &checked.score;
    let title = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm::ZERO);
    let mut blocks = vec![Block::Heading(Heading::new(Level::One, part.player.name.clone(), title).named(anchor(at)))];
    if part.whole.plays.is_empty() {
        blocks.push(body("Tacet: nothing to play from the first bar to the last.".to_owned()));
        return blocks;
    }
    blocks.push(small(head(part)));
    blocks.push(Block::Drawing(stand::drawing(part, checked)));
    let turns = words::turns(part);
    let backward = part.recorded.as_ref().map_or(&part.proposed.backward, |own| &own.backward);
    let mut said: Vec<Text> = turns
        .iter()
        .take(MOST_TURNS)
        .map(|turn| {
            Text::default().bold(words::turn(turn, score)).then(format!(" {}", words::beside(turn, score).join(" ")))
        })
        .collect();
    said.extend(backward.iter().map(|back| {
        let (from, to) = (words::label(back.from, score), words::label(back.to, score));
        let pages = counted(back.pages as usize, "opening");
        Text::new(format!(
            "Back from {from} to {to}, by {pages}, for the repeat: {}{}.",
            back.point.free.map_or("time not known".to_owned(), words::about),
            back.point.class.map_or(String::new(), |class| format!(", {}", words::class(class)))
        ))
    }));
    if said.is_empty() {
        blocks.push(body("No turn.".to_owned()));
    } else {
        blocks.push(heading("Turns"));
        blocks.push(Block::List(List {
            numbering: Numbering::Decimal,
            items: (1..).zip(said).map(|(number, text)| ListItem::new(text).labelled(format!("{number}."))).collect(),
            style: ParagraphStyle::new(style::SMALL).spaced(Mm::ZERO, Mm(0.4)),
            hang: Mm(5.0),
            between: Mm(0.3),
        }));
    }
    blocks.extend(axis::drawing(part, checked).map(Block::Drawing));
    let know = know(part, score);
    if !know.is_empty() {
        blocks.push(heading("Good to know; you know your part best"));
        blocks.push(Block::List(List {
            numbering: Numbering::Bullet,
            items: know.into_iter().map(ListItem::new).collect(),
            style: ParagraphStyle::new(style::SMALL).spaced(Mm::ZERO, Mm(0.4)),
            hang: Mm(3.5),
            between: Mm(0.3),
        }));
    }
    let own: Vec<ListItem> = found::of(checked, at)
        .filter(|found| !is_told_above(found.finding.rule))
        .map(|found| ListItem::new(found.said()).labelled(format!("{}.", found.number)))
        .collect();
    if !own.is_empty() {
        blocks.push(heading("To be mended, or looked at"));
        blocks.push(Block::List(List {
            numbering: Numbering::Decimal,
            items: own,
            style: ParagraphStyle::new(style::SMALL).spaced(Mm::ZERO, Mm(0.4)),
            hang: Mm(6.0),
            between: Mm(0.3),
        }));
    }
    blocks.push(heading("To set it by"));
    let beside = casting_off_line::beside_filling(part);
    blocks.push(small(format!("{} {beside}", casting_off_line::line(part, score))));
    blocks
}

/// Findings that are nothing but what the sheet tells its player anyway.
fn is_told_above(rule: &str) -> bool {
    matches!(rule, "hard-to-count" | "cold-entry" | "no-breath")
}

fn head(part: &PartChecked) -> String {
    let (width, height) = part.paper();
    let paper = format!("{} x {} mm", width.0.round(), height.0.round());
    let source = match &part.recorded {
        Some(own) if own.fit.is_some() => format!("as printed in {}", crate::words::all_listed(&own.files)),
        Some(own) => format!("as {} has it", crate::words::all_listed(&own.files)),
        None => "proposed".to_owned(),
    };
    let pages = part.layout().pages.len();
    format!(
        "{}, {}, {source}; {paper}, staves {}. Black: plays. White: rests, with their bars. A bar between pages: turn.",
        counted(pages, "page"),
        if words::turns(part).is_empty() { "no turn".to_owned() } else { counted(words::turns(part).len(), "turn") },
        part.staff_height()
    )
}

/// What stands nowhere else, as information.
fn know(part: &PartChecked, score: &Score) -> Vec<String> {
    let whole = &part.whole;
    let mut know = Vec::new();
    if let Some(open) = part.player.undecided.first() {
        let places = crate::words::listed(part.player.undecided.iter().map(|open| words::bars(open.bars, score)));
        know.push(format!("Not told who plays: {places} ({}). This part cannot be delivered yet.", open.why));
    }
    let mut ranked: Vec<_> = whole.rests.iter().filter(|rest| rest.rank.is_some()).collect();
    ranked.sort_by_key(|rest| rest.rank);
    know.extend(ranked.into_iter().map(|rest| words::flagged(rest, score)));
    for entry in &whole.cold {
        let pitch = entry.first.map_or(String::new(), |pitch| format!(" on {}", words::pitch(pitch)));
        let with = if entry.exposed { ", with few others" } else { "" };
        know.push(format!(
            "Entry in bar {} after {} of silence{pitch}{with}.",
            words::label(entry.bar, score),
            entry.silent
        ));
    }
    if let Some(breath) = &whole.breath {
        let shared = if breath.shared { "; others play the same" } else { "" };
        know.push(format!(
            "Longest span under a slur or tie: {}, {}{shared}.",
            words::bars(breath.bars, score),
            words::about(breath.seconds)
        ));
    }
    // Bow to pizzicato and back is at once, as a rule.
    let takes_time = |change: &&Change| !matches!(change.kind, ChangeKind::Pizzicato | ChangeKind::Arco);
    let mut changes: Vec<&Change> = whole.changes.iter().filter(takes_time).collect();
    changes.sort_by(|a, b| time(a).total_cmp(&time(b)).then(a.bar.cmp(&b.bar)));
    let more = changes.len().saturating_sub(MOST_CHANGES);
    let mut told: Vec<&Change> = changes.into_iter().take(MOST_CHANGES).collect();
    told.sort_by_key(|change| change.bar);
    if !told.is_empty() {
        let said: Vec<String> = told.into_iter().map(|change| words::change(change, score)).collect();
        let more = if more > 0 { format!("; {more} more with more time") } else { String::new() };
        know.push(format!("Changes, and the time between the notes: {}{more}.", said.join("; ")));
    }
    know
}

fn time(change: &Change) -> f64 {
    change.seconds.map_or(f64::INFINITY, |seconds| seconds.0)
}

fn heading(text: &str) -> Block {
    Block::Heading(Heading::new(Level::Two, text, ParagraphStyle::new(style::BODY_BOLD).spaced(Mm(2.0), Mm(0.8))))
}

fn body(text: String) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::BODY).spaced(Mm(2.0), Mm(1.0))))
}

fn small(text: String) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(1.5))))
}
