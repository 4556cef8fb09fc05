//! The last sheets: every finding in a table, how fewer pages would do, what was not checked, what was odd, what was
//! accepted earlier, how the figures are made, and what to keep in mind.

use std::collections::BTreeSet;

use super::{Extent, frame::Frame, maps, style};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::guidelines::RuleSheet;
use crate::report::pdf::{
    Align, Block, Bookmark, Cell, Column, Document, Elem, Flow, Heading, Level, List, ListItem, Numbering, Paragraph,
    ParagraphStyle, Region, Row, Table, TableStyle, Tag, Target, Text,
};
use crate::report::proposed;
use crate::report::whereabouts::whereabouts;
use crate::units::Mm;

mod words;

/// Findings in the table unless the whole is asked for.
const MOST_FINDINGS: usize = 36;
/// Oddities and accepted findings listed unless the whole is asked for.
const MOST_LINES: usize = 10;
const GUTTER: Mm = Mm(9.0);

/// Draws the last sheets.
pub fn draw(doc: &mut Document, frame: &Frame<'_>, checked: &Checked, extent: Extent, marked: &BTreeSet<usize>) {
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    let first = Region { page: frame.sheet(doc), area };
    let mut bookmark = Bookmark::new(SHOWS, Target::Page(first.page, Mm::ZERO));
    let mut flow = Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area });
    flow.set(section, &findings(checked, extent, marked));
    let rest = flow.rest();
    drop(flow);
    let start = if rest.area.height() > Mm(60.0) {
        Region { area: Rect { top: rest.area.top + Mm(6.0), ..rest.area }, ..rest }
    } else {
        Region { page: frame.sheet(doc), area }
    };
    two_columns(doc, frame, section, start, &notes(checked, extent));
    for (anchor, title) in [
        ("all-findings", "All findings"),
        ("not-checked", "What was not checked"),
        ("cautions", "What to keep in mind"),
    ] {
        bookmark = bookmark.with(Bookmark::new(title, Target::anchor(anchor)));
    }
    doc.bookmark(bookmark);
    if extent == Extent::Full {
        appendix(doc, frame, checked, area);
    }
}

const SHOWS: &str = "Findings and notes";

/// Sets blocks into two columns of `start`, then of further sheets.
fn two_columns(doc: &mut Document, frame: &Frame<'_>, section: Elem, start: Region, blocks: &[Block]) {
    let half = |area: Rect| {
        let width = (area.width() - GUTTER) / 2.0;
        (Rect { right: area.left + width, ..area }, Rect { left: area.right - width, ..area })
    };
    let (left, right) = half(start.area);
    let mut waiting = Some(Region { area: right, ..start });
    let next = |doc: &mut Document| {
        if let Some(region) = waiting.take() {
            return region;
        }
        let (left, right) = half(style::content());
        let page = frame.sheet(doc);
        waiting = Some(Region { page, area: right });
        Region { page, area: left }
    };
    Flow::new(doc, Region { area: left, ..start }, next).set(section, blocks);
}

fn heading(level: Level, title: &str, anchor: &str) -> Block {
    let look = match level {
        Level::One => ParagraphStyle::new(style::HEADING).spaced(Mm::ZERO, Mm(2.0)),
        _ => ParagraphStyle::new(style::BODY_BOLD).spaced(Mm(3.5), Mm(1.0)),
    };
    Block::Heading(Heading::new(level, title, look).named(anchor))
}

fn paragraph(text: impl Into<Text>) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(1.0))))
}

fn list(items: Vec<Text>) -> Block {
    Block::List(List {
        numbering: Numbering::Bullet,
        items: items.into_iter().map(ListItem::new).collect(),
        style: ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(0.6)),
        hang: Mm(3.5),
        between: Mm(0.6),
    })
}

/// Every finding with its places, what was found, wanted, and what to do.
fn findings(checked: &Checked, extent: Extent, marked: &BTreeSet<usize>) -> Vec<Block> {
    let most = if extent == Extent::Full { usize::MAX } else { MOST_FINDINGS };
    let mut blocks = vec![heading(Level::One, "All findings", "all-findings")];
    if checked.findings.is_empty() {
        blocks.push(paragraph("None. What could not be checked is listed below."));
        return blocks;
    }
    let rows = (1..).zip(&checked.findings).take(most).map(|(number, finding)| {
        let label = if marked.contains(&number) {
            let says = format!("finding {number} on its page map");
            Text::default().link(number.to_string(), Target::Anchor(maps::anchor(number)), says)
        } else {
            Text::new(number.to_string())
        };
        Row::new([
            Cell::head(label),
            Cell::new(finding.weight.words()),
            Cell::new(whereabouts(checked, finding)),
            Cell::new(finding.message.clone()),
            Cell::new(finding.remedy.clone()),
            Cell::new(finding.source.clone()),
        ])
    });
    let table = Table {
        columns: vec![
            Column::fixed(Mm(8.0)).aligned(Align::Right),
            Column::fixed(Mm(26.0)),
            Column::fixed(Mm(34.0)),
            Column::share(5),
            Column::share(4),
            Column::share(3),
        ],
        head: vec![Row::new(["No.", "What it costs", "Where", "What was found", "What to do", "Who asks for it"])],
        body: rows.collect(),
        style: TableStyle::new(style::SMALL),
        caption: None,
    };
    blocks.push(Block::Table(table));
    let left_out = checked.findings.len().saturating_sub(most);
    if left_out > 0 {
        blocks.push(paragraph(format!("{left_out} more, of less weight, stand in the full report.")));
    }
    blocks
}

/// Everything beside the findings.
fn notes(checked: &Checked, extent: Extent) -> Vec<Block> {
    let most = if extent == Extent::Full { usize::MAX } else { MOST_LINES };
    let mut blocks = Vec::new();
    if let Some(sentence) = proposed::sentence(checked) {
        blocks.push(heading(Level::Two, "Fewer pages", "fewer-pages"));
        blocks.push(paragraph(format!("{sentence}. Try it on one page before you believe it.")));
        blocks.push(list(proposed::lines(checked).into_iter().map(Text::new).collect()));
    }
    blocks.push(heading(Level::Two, "What was not checked", "not-checked"));
    let mut not_checked = words::not_checked(checked).into_iter();
    blocks.extend(not_checked.next().map(paragraph));
    blocks.push(list(not_checked.map(Text::new).collect()));
    if !checked.accepted.is_empty() {
        blocks.push(heading(Level::Two, "Accepted earlier", "accepted"));
        blocks.push(list(shortened(words::accepted(checked), most)));
    }
    if !checked.lapsed.is_empty() {
        blocks.push(heading(Level::Two, "Accepted once, now open again", "lapsed"));
        blocks.push(list(shortened(words::lapsed(checked), most)));
    }
    if !checked.remarks.is_empty() {
        blocks.push(heading(Level::Two, "Odd things in the files, read all the same", "odd"));
        blocks.push(list(shortened(words::remarks(checked), most)));
    }
    if let Some(lines) = words::like(checked) {
        blocks.push(heading(Level::Two, "Beside the layout that you named", "like"));
        blocks.push(list(lines.into_iter().map(Text::new).collect()));
    }
    blocks.push(heading(Level::Two, "How the figures are made", "figures"));
    blocks.extend(words::figures(checked).into_iter().map(paragraph));
    blocks.push(heading(Level::Two, "What to keep in mind", "cautions"));
    blocks.push(list(words::cautions().into_iter().map(Text::new).collect()));
    blocks
}

fn shortened(mut lines: Vec<String>, most: usize) -> Vec<Text> {
    let left_out = lines.len().saturating_sub(most);
    lines.truncate(most);
    if left_out > 0 {
        lines.push(format!("and {left_out} more."));
    }
    lines.into_iter().map(Text::new).collect()
}

/// The limits in force, with who asks for each.
fn appendix(doc: &mut Document, frame: &Frame<'_>, checked: &Checked, area: Rect) {
    const TITLE: &str = "The guidelines in force";
    let section = doc.element(doc.root(), Tag::Sect);
    let first = Region { page: frame.sheet(doc), area };
    doc.bookmark(Bookmark::new(TITLE, Target::Page(first.page, Mm::ZERO)));
    let rows = checked.guidelines.rules().iter().filter(|sheet| sheet.severity.is_some()).flat_map(limits);
    let table = Table {
        columns: vec![Column::share(4), Column::share(4), Column::fixed(Mm(30.0)), Column::share(5)],
        head: vec![Row::new(["What is looked for", "Limit", "Value", "Source"])],
        body: rows.map(Row::new).collect(),
        style: TableStyle::new(style::TINY),
        caption: None,
    };
    let mut flow = Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area });
    flow.set(section, &[heading(Level::One, TITLE, "guidelines"), Block::Table(table)]);
}

/// One row a limit; a rule without limits has one row.
fn limits(sheet: &RuleSheet) -> Vec<[String; 4]> {
    if sheet.values.is_empty() {
        return vec![[sheet.title.clone(), String::new(), String::new(), sheet.source.to_string()]];
    }
    let row = |limit: &crate::guidelines::SheetValue| {
        [sheet.title.clone(), limit.meaning.clone(), limit.value.to_string(), limit.source.to_string()]
    };
    sheet.values.iter().map(row).collect()
}
