//! The first sheet: all players, who is left with too little time, and whose part cannot be delivered.

use super::found::{self, Found};
use super::{sheet, words};
use crate::check::{PartChecked, PartsChecked};
use crate::report::blocks::{heading, list};
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Align, Block, Cell, Column, Document, Flow, Heading, Level, List, ListItem, Meta, Numbering, Paragraph,
    ParagraphStyle, Region, Row, Table, TableStyle, Tag, Target, Text,
};
use crate::rules::Weight;
use crate::units::Mm;

/// Findings told on the first sheet.
const MOST: usize = 12;

/// All sheets.
pub(super) fn document(checked: &PartsChecked) -> Document {
    let title = checked.score.title.as_deref().unwrap_or("Untitled score");
    let meta = Meta::new(format!("{title}: the players' parts"), "en-GB")
        .with_subject("Where players turn, and each part from end to end");
    let mut doc = Document::new(meta);
    let frame = Frame::new(title);
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    let first = Region { page: frame.sheet(&mut doc), area };
    frame.bookmark(&mut doc, "All parts", Target::anchor("all-parts"));
    Flow::new(&mut doc, first, |doc| Region { page: frame.sheet(doc), area }).set(section, &blocks(checked, title));
    for (at, part) in checked.parts.iter().enumerate() {
        sheet::draw(&mut doc, &frame, at, part, checked);
    }
    doc
}

fn blocks(checked: &PartsChecked, title: &str) -> Vec<Block> {
    let name =
        Heading::new(Level::One, title, ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0))).named("all-parts");
    let mut blocks = vec![Block::Heading(name)];
    blocks.push(said(words::verdict(checked), ParagraphStyle::new(style::VERDICT).spaced(Mm(1.0), Mm(2.0))));
    let bad = words::left_with_bad_turns(checked);
    if !bad.is_empty() {
        blocks.push(heading("Left with too little time to turn"));
        blocks.push(list(bad));
    }
    let open = words::not_deliverable(checked);
    if !open.is_empty() {
        blocks.push(heading("Not to be delivered yet: a shared staff does not tell who plays"));
        blocks.push(list(open));
    }
    let found = found::all(checked);
    let mend: Vec<&Found<'_>> = found.iter().filter(|found| found.finding.weight >= Weight::Mend).collect();
    if !mend.is_empty() {
        blocks.push(heading("To be mended"));
        let told = |found: &&Found<'_>| {
            let item = Text::default().bold(format!("{}.", found.part.player.name)).then(format!(" {}", found.said()));
            ListItem::new(item).labelled(format!("{}.", found.number))
        };
        blocks.push(Block::List(List {
            numbering: Numbering::Decimal,
            items: mend.iter().take(MOST).map(told).collect(),
            style: ParagraphStyle::new(style::BODY).spaced(Mm::ZERO, Mm(0.6)),
            hang: Mm(7.0),
            between: Mm(0.5),
        }));
        if mend.len() > MOST {
            let small = ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm::ZERO);
            blocks.push(said(format!("{} more on the players' sheets.", mend.len() - MOST), small));
        }
    }
    let aside: Vec<String> = checked.set_aside.iter().map(ToString::to_string).collect();
    if !aside.is_empty() {
        blocks.push(heading("Set aside"));
        blocks.push(list(aside));
    }
    blocks.push(heading("All parts, in score order"));
    blocks.push(Block::Table(table(checked)));
    for (title, lines) in [("Accepted earlier", accepted(checked)), ("Accepted once, now open again", lapsed(checked))]
    {
        if !lines.is_empty() {
            blocks.push(heading(title));
            blocks.push(list(lines));
        }
    }
    let small = ParagraphStyle::new(style::SMALL).spaced(Mm(2.0), Mm::ZERO);
    let notes: String = words::notes(&checked.score).iter().map(|note| format!(" {note}")).collect();
    blocks.push(said(
        format!(
            "A turn has time when hands and eyes have 3 seconds, comfortably 4 (common practice). Bars (measures) are told by \
             their printed numbers. Pages and seconds are estimates; house sheets, librarians and players come \
             first.{notes}"
        ),
        small,
    ));
    blocks
}

fn accepted(checked: &PartsChecked) -> Vec<String> {
    let all = checked.parts.iter().flat_map(|part| part.accepted.iter().map(move |own| (part, own)));
    all.map(|(part, (finding, entry))| {
        let name = &part.player.name;
        format!("{name}. {} Accepted by {} on {}: {}", finding.message, entry.who, entry.when, entry.why)
    })
    .collect()
}

fn lapsed(checked: &PartsChecked) -> Vec<String> {
    let all = checked.parts.iter().flat_map(|part| part.lapsed.iter().map(move |own| (part, own)));
    all.map(|(part, (entry, lapse))| {
        format!("{}. \"{}\", accepted by {}: {lapse}.", part.player.name, entry.why, entry.who)
    })
    .collect()
}

fn said(text: String, look: ParagraphStyle) -> Block {
    Block::Paragraph(Paragraph::new(text, look))
}

fn table(checked: &PartsChecked) -> Table {
    let head =
        ["Part", "Pages", "Turns", "Turn with the least time", "Longest rest", "Filled page by page", "What else"];
    Table {
        columns: vec![
            Column::share(4),
            Column::fixed(Mm(13.0)).aligned(Align::Right),
            Column::fixed(Mm(13.0)).aligned(Align::Right),
            Column::share(5),
            Column::share(4),
            Column::share(3),
            Column::share(4),
        ],
        head: vec![Row::new(head)],
        body: checked.parts.iter().enumerate().map(|(at, part)| row(at, part, checked)).collect(),
        style: TableStyle::new(style::SMALL),
        caption: None,
    }
}

fn row(at: usize, part: &PartChecked, checked: &PartsChecked) -> Row {
    let name = &part.player.name;
    let link = Text::default().link(name.clone(), Target::Anchor(sheet::anchor(at)), format!("the sheet of {name}"));
    let pages = part.layout().pages.len();
    let worst = words::worst(part).map_or("-".to_owned(), |turn| {
        let free = turn.point.free.map_or(String::new(), |free| format!("{}, ", words::about(free)));
        format!("after {}: {free}{}", words::label(turn.point.after, &checked.score), words::class_of(&turn.point))
    });
    let silence = match words::longest_silence(part) {
        _ if part.whole.plays.is_empty() => "tacet".to_owned(),
        Some(rest) => {
            let time = rest.seconds.map_or(String::new(), |seconds| format!("{seconds}, "));
            format!("{time}{}", words::bars(rest.bars, &checked.score))
        }
        None => "-".to_owned(),
    };
    let flags = part.whole.rests.iter().filter(|rest| rest.rank.is_some()).count();
    let mut else_ = Vec::new();
    if flags > 0 {
        else_.push(crate::words::counted(flags, "rest") + " hard to count");
    }
    if !part.player.undecided.is_empty() {
        else_.push("who plays is not told".to_owned());
    }
    if part.player.copies > 1 {
        else_.push(format!("{} copies", part.player.copies));
    }
    Row::new([
        Cell::head(link),
        Cell::new(pages.to_string()),
        Cell::new(words::turns(part).len().to_string()),
        Cell::new(worst),
        Cell::new(silence),
        Cell::new(words::extent(&part.filled)),
        Cell::new(else_.join("; ")),
    ])
}
