//! All sheets, and the first of them: the set in score order, what was set aside, what no program has looked at.

use super::{faults, findings, pack, printed, words};
use crate::check::{Proofed, ProofedPart, Verdict};
use crate::report::blocks::{heading, list};
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Align, Block, Cell, Column, Document, Flow, Heading, Level, Meta, Paragraph, ParagraphStyle, Region, Row, Table,
    TableStyle, Tag, Target, Text,
};
use crate::units::Mm;
use crate::words::sentence;

/// Every sheet of the report.
pub(super) fn document(proofed: &Proofed) -> Document {
    let title = proofed.score.title.as_deref().unwrap_or("Untitled score");
    let alone = proofed.alone.is_some();
    let what = if alone { "the score proofed alone" } else { "the parts proofed" };
    let meta = Meta::new(format!("{title}: {what}"), "en-GB")
        .with_subject("What differs between score and parts, and sheets for the second reader");
    let mut doc = Document::new(meta);
    let frame = Frame::new(title);
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    let first = Region { page: frame.sheet(&mut doc), area };
    frame.bookmark(&mut doc, if alone { "The score" } else { "The set" }, Target::anchor("set"));
    Flow::new(&mut doc, first, |doc| Region { page: frame.sheet(doc), area }).set(section, &blocks(proofed, title));
    faults::draw(&mut doc, &frame, proofed);
    for (at, part) in proofed.parts.iter().enumerate() {
        if !part.files.is_empty() {
            pack::draw(&mut doc, &frame, at, part, proofed);
        }
    }
    doc
}

fn blocks(proofed: &Proofed, title: &str) -> Vec<Block> {
    let name =
        Heading::new(Level::One, title, ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0))).named("set");
    let mut blocks = vec![Block::Heading(name)];
    let verdict = ParagraphStyle::new(style::VERDICT).spaced(Mm(1.0), Mm(2.0));
    blocks.push(Block::Paragraph(Paragraph::new(words::headline(proofed), verdict)));
    match &proofed.alone {
        Some(found) => blocks.extend(findings::of_score(found)),
        None => {
            blocks.push(heading("The set, in score order"));
            blocks.push(Block::Table(table(proofed)));
            blocks.extend(findings::of_pages(proofed));
        }
    }
    if !proofed.printed.is_empty() {
        blocks.push(heading("The printed pages"));
        blocks.push(list(printed::lines(proofed)));
    }
    if !proofed.set_aside.is_empty() {
        blocks.push(heading("Set aside"));
        blocks.push(list(proofed.set_aside.iter().map(ToString::to_string).collect()));
    }
    let doubts: Vec<String> = doubts(proofed);
    if !doubts.is_empty() {
        blocks.push(heading("Whose part it is was not quite sure"));
        blocks.push(list(doubts));
    }
    let caution = if proofed.alone.is_some() {
        "Parts inherit what is wrong in the score. House sheets, librarians and players come first.".to_owned()
    } else {
        format!(
            "Compared at sounding pitch, bar by bar; bars (measures) are told by the score's printed numbers. \"The \
             same\" means: nothing that was compared differs. Not looked at: {}. The reader's sheets at the end are for \
             that. House sheets, librarians and players come first.",
            words::NOT_LOOKED_AT
        )
    };
    blocks.push(Block::Paragraph(Paragraph::new(caution, ParagraphStyle::new(style::SMALL).spaced(Mm(2.0), Mm::ZERO))));
    blocks
}

fn doubts(proofed: &Proofed) -> Vec<String> {
    let files = proofed.parts.iter().flat_map(|part| part.files.iter().map(move |file| (part, file)));
    let doubt = |(part, file): (&ProofedPart, &crate::check::PartFile)| {
        let other = file.doubt.as_ref()?;
        Some(format!(
            "{} was taken for {}; it could as well be {other}. --map \"{}={other}\" says so.",
            file.name, part.player.name, file.name
        ))
    };
    files.filter_map(doubt).collect()
}

fn table(proofed: &Proofed) -> Table {
    let right = |width: f64| Column::fixed(Mm(width)).aligned(Align::Right);
    Table {
        columns: vec![
            Column::share(4),
            Column::share(5),
            right(13.0),
            right(15.0),
            Column::share(5),
            right(14.0),
            right(14.0),
            right(14.0),
            right(19.0),
            Column::share(4),
        ],
        head: vec![Row::new([
            "Part",
            "File",
            "Bars",
            "Notes",
            "Against the score",
            "Stop",
            "Mend",
            "Polish",
            "Not told",
            "The sheet",
        ])],
        body: proofed.parts.iter().enumerate().map(|(at, part)| row(at, part)).collect(),
        style: TableStyle { padding: Mm(1.0), ..TableStyle::new(style::SMALL) },
        caption: None,
    }
}

fn row(at: usize, part: &ProofedPart) -> Row {
    let name = &part.player.name;
    let link = |target: String, what: String| Text::default().link(name.clone(), Target::Anchor(target), what);
    let head = if faults::has_any(part) {
        link(faults::anchor(at), format!("what differs in {name}"))
    } else if part.files.is_empty() {
        Text::new(name.clone())
    } else {
        link(pack::anchor(at), format!("the reader's sheet of {name}"))
    };
    let files: Vec<String> = part.files.iter().map(|file| file.name.clone()).collect();
    let (bars, notes) = words::compared(part);
    let count = |count: usize| if count == 0 { "-".to_owned() } else { count.to_string() };
    let [stop, mend, look] = words::weights(part);
    let open: u32 = part.files.iter().flat_map(|file| &file.proof.cannot_tell).map(|told| told.bars.count()).sum();
    let counts = if part.files.is_empty() {
        [String::from("-"), String::from("-")]
    } else {
        [bars.to_string(), notes.to_string()]
    };
    let [bars, notes] = counts;
    Row::new([
        Cell::head(head),
        Cell::new(if files.is_empty() { "-".to_owned() } else { files.join(", ") }),
        Cell::new(bars),
        Cell::new(notes),
        Cell::new(sentence(&words::verdict(part))),
        Cell::new(count(stop)),
        Cell::new(count(mend)),
        Cell::new(count(look)),
        Cell::new(if open == 0 { "-".to_owned() } else { crate::words::counted(open as usize, "bar") }),
        Cell::new(pages(part)),
    ])
}

fn pages(part: &ProofedPart) -> String {
    match (&part.sheet, part.to_mend()) {
        _ if matches!(part.verdict, Verdict::NotThere | Verdict::Tacet) => "-".to_owned(),
        (None, _) => "not recorded".to_owned(),
        (Some(sheet), 0) => crate::words::counted(sheet.recorded.layout.pages.len(), "page"),
        (Some(sheet), mend) => {
            format!("{}, {mend} to mend", crate::words::counted(sheet.recorded.layout.pages.len(), "page"))
        }
    }
}
