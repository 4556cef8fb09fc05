//! The casting-off sheet: where systems and pages begin as proposed, to be set by hand at the desk.

use super::{frame::Frame, style};
use crate::check::Checked;
use crate::layout::{Layout, Page, System};
use crate::place::{BarIdx, PageIdx, PartId};
use crate::report::pdf::{
    Align, Block, Cell, Column, Document, Flow, Heading, Level, Paragraph, ParagraphStyle, Region, Row, Table,
    TableStyle, Tag, Target,
};
use crate::score::{Movement, Part, Score};
use crate::units::Mm;
use crate::words::{all_listed, counted, sentence};
use crate::write_breaks::{Begins, begins};

mod words;

const TITLE: &str = "Casting-off sheet";

/// Draws the sheet, or as many as it takes; nothing without a proposal, or where it is the pages at hand.
pub fn draw(doc: &mut Document, frame: &Frame<'_>, checked: &Checked) {
    let Some(proposal) = checked.proposal.as_ref().filter(|_| !stands_already(checked)) else { return };
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    let first = Region { page: frame.sheet(doc), area };
    frame.bookmark(doc, TITLE, Target::anchor("casting-off"));
    let mut flow = Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area });
    flow.set(section, &blocks(&checked.score, &proposal.layout));
}

/// What is said in place of the sheet.
pub fn instead(checked: &Checked) -> Option<String> {
    stands_already(checked).then(|| {
        let pages = counted(checked.layout.pages.len(), "page");
        format!("No other systems or pages are proposed: the {pages} can stay as they are divided.")
    })
}

/// The proposed pages begin, system by system, where the pages at hand do.
fn stands_already(checked: &Checked) -> bool {
    let starts = |layout: &Layout| -> Vec<Begins> { begins(&checked.score, layout) };
    checked.proposal.as_ref().is_some_and(|proposal| starts(&proposal.layout) == starts(&checked.layout))
}

fn blocks(score: &Score, layout: &Layout) -> Vec<Block> {
    let look = ParagraphStyle::new(style::HEADING).spaced(Mm::ZERO, Mm(2.0));
    let title = Heading::new(Level::One, TITLE, look).named("casting-off");
    let (pages, systems) = (counted(layout.pages.len(), "page"), counted(layout.systems().count(), "system"));
    let told = format!(
        "Where systems and pages would begin as proposed: {systems} on {pages}. The spacing is estimated: try the \
         tightest page first."
    );
    let mut blocks = vec![Block::Heading(title), paragraph(told)];
    for movement in &score.movements {
        let pages = pages_of(layout, movement);
        if pages.is_empty() {
            continue;
        }
        if score.movements.len() > 1 {
            let name = movement.title.as_deref().unwrap_or("Untitled movement");
            let look = ParagraphStyle::new(style::BODY_BOLD).spaced(Mm(4.0), Mm(1.0));
            blocks.push(Block::Heading(Heading::new(Level::Two, name, look)));
        }
        blocks.push(paragraph(beginnings(score, &pages)));
        blocks.push(Block::Table(table(score, layout, movement, &pages)));
    }
    blocks
}

fn paragraph(text: String) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(2.0))))
}

/// The systems of each page that are of this movement.
fn pages_of<'a>(layout: &'a Layout, movement: &Movement) -> Vec<(PageIdx, Vec<&'a System>)> {
    let own = |system: &&System| system.span().is_some_and(|bars| movement.bars.contains(bars.first));
    let systems = |page: &'a Page| page.systems.iter().filter(own).collect::<Vec<_>>();
    let pages = layout.pages.iter().enumerate().map(|(at, page)| (PageIdx(at as u32), systems(page)));
    pages.filter(|(_, systems)| !systems.is_empty()).collect()
}

/// "Pages begin at 1, 12 and 24; systems also at 6, 18 and 30."
fn beginnings(score: &Score, pages: &[(PageIdx, Vec<&System>)]) -> String {
    let labels = |systems: &mut dyn Iterator<Item = &&System>| -> Vec<String> {
        systems.filter_map(|system| first_bar(system)).map(|bar| score.label(bar).to_owned()).collect()
    };
    let pages_at = labels(&mut pages.iter().filter_map(|(_, systems)| systems.first()));
    let systems_at = labels(&mut pages.iter().flat_map(|(_, systems)| systems.iter().skip(1)));
    let systems = if systems_at.is_empty() {
        "; one system a page".to_owned()
    } else {
        format!("; systems also at {}", all_listed(&systems_at))
    };
    format!("Pages begin at bar {}{systems}.", all_listed(&pages_at))
}

fn table(score: &Score, layout: &Layout, movement: &Movement, pages: &[(PageIdx, Vec<&System>)]) -> Table {
    let mut above = None;
    let rows = pages.iter().map(|(page, systems)| {
        let left_out = left_out(score, movement, systems);
        let same = above.as_ref() == Some(&left_out) && left_out.len() > words::SHORT;
        let shown = if same { "as on the page before".to_owned() } else { left_out.clone() };
        above = Some(left_out);
        Row::new([
            Cell::head(layout.page_label(*page)),
            Cell::new(bars(score, systems)),
            Cell::new(first_bars(score, systems)),
            Cell::new(words::tightness(systems.iter().filter_map(|system| system.stretch))),
            Cell::new(shown),
        ])
    });
    Table {
        columns: vec![
            Column::fixed(Mm(12.0)).aligned(Align::Right),
            Column::fixed(Mm(26.0)),
            Column::fixed(Mm(46.0)),
            Column::fixed(Mm(44.0)),
            Column::share(1),
        ],
        head: vec![Row::new(["Page", "Bars", "Systems begin at bar", "Spacing", "Staves left out"])],
        body: rows.collect(),
        style: TableStyle::new(style::SMALL),
        caption: None,
    }
}

fn bars(score: &Score, systems: &[&System]) -> String {
    let first = systems.first().and_then(|system| system.span()).map(|bars| score.label(bars.first));
    let last = systems.last().and_then(|system| system.span()).map(|bars| score.label(bars.last));
    first.zip(last).map_or_else(String::new, |(first, last)| format!("{first} to {last}"))
}

fn first_bar(system: &System) -> Option<BarIdx> {
    system.span().map(|bars| bars.first)
}

fn first_bars(score: &Score, systems: &[&System]) -> String {
    let labels = systems.iter().filter_map(|system| first_bar(system)).map(|bar| score.label(bar).to_owned());
    labels.collect::<Vec<_>>().join(", ")
}

/// Players of the movement that a page's systems do not show; system by system where they differ.
fn left_out(score: &Score, movement: &Movement, systems: &[&System]) -> String {
    let of_systems: Vec<Vec<&str>> = systems.iter().map(|system| missing(score, movement, system)).collect();
    let (Some(first), rest) = (of_systems.first(), of_systems.get(1..).unwrap_or_default()) else {
        return String::new();
    };
    if rest.iter().all(|other| other == first) {
        return words::players(first);
    }
    let one = |(system, names): (&&System, &Vec<&str>)| {
        let bar = first_bar(system).map_or("", |bar| score.label(bar));
        format!("from bar {bar}: {}", words::players(names))
    };
    sentence(&systems.iter().zip(&of_systems).map(one).collect::<Vec<_>>().join("; "))
}

/// As later systems have it, where they do.
fn short_name(part: &Part) -> &str {
    let short = part.abbreviation.trim();
    if short.is_empty() { part.name.trim() } else { short }
}

fn missing<'a>(score: &'a Score, movement: &Movement, system: &System) -> Vec<&'a str> {
    let shown = |part: PartId| {
        let mut staves = system.staves.iter().filter_map(|printed| printed.staff);
        staves.any(|staff| score.staves.get(staff.at()).is_some_and(|own| own.part == part))
    };
    let plays = |part: PartId| {
        let sounds = |bar| score.staves_of(part).any(|staff| score.cell(bar, staff).is_some_and(|cell| cell.sounds()));
        movement.bars.iter().any(sounds)
    };
    let parts = (0..).map(PartId).zip(&score.parts);
    parts.filter(|(part, _)| !shown(*part) && plays(*part)).map(|(_, part)| short_name(part)).collect()
}
