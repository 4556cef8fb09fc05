//! All sheets: what changed and the two rulers, what has to be printed, what can be written in, what differs.

use super::{faults, pairs, passages, rulers, slips, words};
use crate::check::{Compared, Reprint, ReprintKind};
use crate::compare::{Fate, Figures};
use crate::report::blocks::{heading, list};
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Align, Block, Cell, Column, Document, Flow, Heading, Level, Meta, Paragraph, ParagraphStyle, Region, Row, Table,
    TableStyle, Tag, Target, Text,
};
use crate::units::Mm;

const REPRINT: &str = "Which sheets must be printed again";
const EDITED: &str = "Edited bars";

/// Every sheet of the report.
pub(super) fn document(compared: &Compared) -> Document {
    let title = compared.sides().and_then(|(_, new)| new.checked.score.title.clone());
    let title = title.unwrap_or_else(|| "Untitled score".to_owned());
    let meta = Meta::new(format!("{title}: two drafts"), "en-GB")
        .with_subject("What changed from draft to draft, and which sheets must be printed again");
    let mut doc = Document::new(meta);
    let frame = Frame::new(&title);
    let area = style::content();
    let (reprint, edited) = (reprint(compared), passages::blocks(compared));
    let contents: Vec<(&str, &str)> = [
        (!reprint.is_empty(), REPRINT, "reprint"),
        (slips::any(compared), slips::TITLE, "slip"),
        (pairs::any(compared), pairs::TITLE, "pairs"),
        (!edited.is_empty(), EDITED, "edited"),
        (faults::any(compared), faults::TITLE, "faults"),
    ]
    .into_iter()
    .filter_map(|(is_told, title, anchor)| is_told.then_some((title, anchor)))
    .collect();
    let section = doc.element(doc.root(), Tag::Sect);
    let first = Region { page: frame.sheet(&mut doc), area };
    frame.bookmark(&mut doc, "What changed", Target::anchor("changed"));
    Flow::new(&mut doc, first, |doc| Region { page: frame.sheet(doc), area })
        .set(section, &first_blocks(compared, &title, &contents));
    sheet(&mut doc, &frame, REPRINT, "reprint", reprint);
    slips::draw(&mut doc, &frame, compared);
    pairs::draw(&mut doc, &frame, compared);
    sheet(&mut doc, &frame, EDITED, "edited", edited);
    faults::draw(&mut doc, &frame, compared);
    doc
}

/// "On the next sheets: ...", each a link.
fn contents(titles: &[(&'static str, &'static str)]) -> Option<Block> {
    let mut text = Text::new("On the next sheets: ");
    for (at, (title, anchor)) in titles.iter().enumerate() {
        let comma = if at == 0 { "" } else { "; " };
        text = text.then(comma).link(*title, Target::anchor(*anchor), format!("the sheet: {title}"));
    }
    let look = ParagraphStyle::new(style::SMALL).spaced(Mm(0.5), Mm(0.5));
    (!titles.is_empty()).then(|| Block::Paragraph(Paragraph::new(text.then("."), look)))
}

/// A section of its own; nothing where there are no blocks.
fn sheet(doc: &mut Document, frame: &Frame<'_>, title: &str, anchor: &'static str, blocks: Vec<Block>) {
    if blocks.is_empty() {
        return;
    }
    let area = style::content();
    let section = doc.element(doc.root(), Tag::Sect);
    let first = Region { page: frame.sheet(doc), area };
    frame.bookmark(doc, title, Target::anchor(anchor));
    let look = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0));
    let mut all = vec![Block::Heading(Heading::new(Level::One, title, look).named(anchor))];
    all.extend(blocks);
    Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area }).set(section, &all);
}

fn small(text: impl Into<String>) -> Block {
    Block::Paragraph(Paragraph::new(text.into(), ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(0.5))))
}

fn first_blocks(compared: &Compared, title: &str, titles: &[(&'static str, &'static str)]) -> Vec<Block> {
    let name = Heading::new(Level::One, title, ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0)));
    let verdict = ParagraphStyle::new(style::VERDICT).spaced(Mm(1.0), Mm(2.0));
    let mut blocks = vec![
        Block::Heading(name.named("changed")),
        Block::Paragraph(Paragraph::new(words::headline(compared), verdict)),
    ];
    let drafts: Vec<String> = compared.drafts.iter().map(|draft| draft.name.clone()).collect();
    if let Some((last, first)) = drafts.split_last() {
        blocks.push(small(format!("Old draft: {}. New draft: {last}.", first.first().map_or("", String::as_str))));
    }
    if !compared.reprint.is_empty() && !compared.reprint.iter().any(Reprint::is_touched) {
        blocks.push(small("Nothing has to be printed again: every sheet of the old draft can stay."));
    }
    blocks.extend(contents(titles));
    let drawings = rulers::drawings(compared, style::content().width());
    if !drawings.is_empty() {
        blocks.push(heading("The music of both drafts, and their pages"));
        blocks.push(Block::Drawing(rulers::legend()));
        blocks.extend(drawings.into_iter().map(Block::Drawing));
    }
    blocks.push(heading("The pages of the score"));
    blocks.push(Block::Table(figures(compared)));
    if !compared.pages.density.is_empty() {
        blocks.push(small(words::density(compared)));
    }
    if compared.pages.other_opening > 0 {
        let bars = crate::words::counted(compared.pages.other_opening, "bar");
        let lie = if compared.pages.other_opening == 1 { "lies" } else { "lie" };
        blocks.push(small(format!("{bars} of both drafts {lie} open beside other music than before.")));
    }
    let parts = words::parts(compared);
    if !parts.is_empty() {
        blocks.push(heading("Parts"));
        blocks.push(list(parts));
    }
    if compared.trend.len() > 2 {
        blocks.push(heading("From draft to draft"));
        blocks.push(Block::Table(trend(compared)));
    }
    blocks.push(small(words::caution(compared)));
    blocks
}

/// Old and new side by side; rows of which nothing is known are left out.
fn figures(compared: &Compared) -> Table {
    let (old, new) = (&compared.pages.old, &compared.pages.new);
    let told = |of: &dyn Fn(&Figures) -> Option<String>| {
        [old, new].map(|own| of(own).unwrap_or_else(|| "not known".to_owned()))
    };
    let height = |own: &Figures| own.staff_height.map(words::heights);
    let gap = |nth: usize| {
        move |own: &Figures| own.gaps.get(nth).copied().flatten().map(|gap| format!("{:.1} spaces", gap.0))
    };
    let rows = [
        ("Pages with music", told(&|own| Some(own.pages.to_string()))),
        ("Systems", told(&|own| Some(own.systems.to_string()))),
        ("Pages with two systems or more", told(&|own| Some(own.split.to_string()))),
        ("Height of the staves", told(&height)),
        ("Between staves of a family", told(&gap(0))),
        ("Between families", told(&gap(1))),
        ("Between systems", told(&gap(2))),
        ("Lines against their natural width", told(&|own| own.stretch.map(words::stretch))),
        (
            "Signs in 100 spaces of staff, dense end of the middle page",
            told(&|own| own.density.map(|own| format!("{own:.0}"))),
        ),
        ("How the pages are known", told(&|own| own.footing.map(|footing| footing.name().to_owned()))),
    ];
    let known = rows.into_iter().filter(|(_, told)| told.iter().any(|own| own != "not known"));
    let row = |(name, [old, new]): (&str, [String; 2])| {
        Row::new([Cell::head(name.to_owned()), Cell::new(old), Cell::new(new)])
    };
    Table {
        columns: vec![Column::fixed(Mm(95.0)), Column::fixed(Mm(45.0)), Column::fixed(Mm(45.0))],
        head: vec![Row::new(["The score", "Old draft", "New draft"])],
        body: known.map(row).collect(),
        style: TableStyle { padding: Mm(0.7), ..TableStyle::new(style::SMALL) },
        caption: None,
    }
}

fn trend(compared: &Compared) -> Table {
    let right = |width: f64| Column::fixed(Mm(width)).aligned(Align::Right);
    let row = |own: &crate::check::TrendRow| {
        let height = own.pages.staff_height.map_or_else(|| "-".to_owned(), |(least, _)| format!("{:.1} mm", least.0));
        let density = own.pages.density.map_or_else(|| "-".to_owned(), |density| format!("{density:.0}"));
        let turns = own.bad_turns.map_or_else(|| "-".to_owned(), |(bad, all)| format!("{bad} of {all}"));
        let [stop, mend, look] = own.findings;
        let numbers = [
            own.bars.to_string(),
            own.parts.to_string(),
            own.pages.pages.to_string(),
            own.pages.split.to_string(),
            height,
            density,
            stop.to_string(),
            mend.to_string(),
            look.to_string(),
            turns,
        ];
        Row::new([Cell::head(own.name.clone())].into_iter().chain(numbers.into_iter().map(Cell::new)))
    };
    let widths = [16.0, 16.0, 16.0, 20.0, 20.0, 20.0, 16.0, 16.0, 16.0, 28.0];
    Table {
        columns: [Column::share(1)].into_iter().chain(widths.map(right)).collect(),
        head: vec![Row::new([
            "Draft",
            "Bars",
            "Parts",
            "Pages",
            "Split",
            "Staves",
            "Density",
            "Stop",
            "Mend",
            "Look",
            "Turns without time",
        ])],
        body: compared.trend.iter().map(row).collect(),
        style: TableStyle { padding: Mm(0.7), ..TableStyle::new(style::SMALL) },
        caption: None,
    }
}

/// The list that goes to the copying machine.
fn reprint(compared: &Compared) -> Vec<Block> {
    if !compared.reprint.iter().any(Reprint::is_touched) {
        return Vec::new();
    }
    let printed: Vec<&Reprint> = compared.reprint.iter().filter(|own| own.is_printed()).collect();
    let mut blocks = Vec::new();
    let moves = words::moves(compared);
    if !moves.is_empty() {
        blocks.push(small(moves));
    }
    let line = |own: &&Reprint| {
        [words::document(own.reader, compared), words::sheets(own, compared), words::because(own, compared)]
    };
    match printed.len() {
        0 => blocks.push(small("Nothing has to be printed again.")),
        1 => blocks
            .push(list(printed.iter().map(|own| line(own).join(": ").trim_end_matches(": ").to_owned()).collect())),
        _ => blocks.push(Block::Table(Table {
            columns: vec![Column::fixed(Mm(48.0)), Column::fixed(Mm(52.0)), Column::share(1), Column::fixed(Mm(44.0))],
            head: vec![Row::new(["Document", "Print", "Because", "Stays"])],
            body: printed
                .iter()
                .map(|own| {
                    let [name, sheets, why] = line(own);
                    Row::new([
                        Cell::head(name),
                        Cell::new(sheets),
                        Cell::new(why),
                        Cell::new(words::stays(own, compared)),
                    ])
                })
                .collect(),
            style: TableStyle { row_rule: Some(style::HAIR.in_grey(style::quiet())), ..TableStyle::new(style::SMALL) },
            caption: None,
        })),
    }
    let names = |is: &dyn Fn(&Reprint) -> bool| -> Vec<String> {
        let own = compared.reprint.iter().filter(|own| is(own));
        own.map(|own| words::document(own.reader, compared)).collect()
    };
    let by_hand = names(&|own| !own.is_printed() && own.of_fate(Fate::ByHand).next().is_some());
    let stay = names(&|own| !own.is_touched());
    let dropped = names(&|own| own.kind == ReprintKind::Dropped);
    for (title, names) in [
        ("Only to be written in by hand", by_hand),
        ("Stay as they are", stay),
        ("No longer in the score: take them off the stands", dropped),
    ] {
        if !names.is_empty() {
            blocks.push(heading(title));
            blocks.push(small(crate::words::all_listed(&names) + "."));
        }
    }
    blocks.extend(words::numbers(compared).map(small));
    blocks
}
