//! One document that uses all there is.

use crate::geometry::Rect;
use crate::report::pdf::*;
use crate::units::Mm;

const BODY: TextStyle = TextStyle::new(Face::Regular, Points(9.5));
const GREY: Grey = Grey::BLACK;

/// A drawn page, then back matter over several pages, with contents, links both ways and bookmarks.
pub fn sample() -> Document {
    let meta = Meta::new("Sample of every mark a report may bear", "en-GB")
        .with_subject("Lines, areas, text & music, lists <and> tables");
    let mut doc = Document::new(meta);
    let root = doc.root();
    let first = doc.add_page(PageSize::A4, "i");
    let opening = doc.element(root, Tag::Sect);
    front(&mut doc, first, opening);
    let back = doc.element(root, Tag::Sect);
    back_matter(&mut doc, back);
    doc.bookmark(Bookmark::new("Z\u{fc}rich first", Target::Page(first, Mm(10.0))));
    doc.bookmark(
        Bookmark::new("Back matter", Target::anchor("back"))
            .with(Bookmark::new("Zebra: lists", Target::anchor("lists")))
            .with(
                Bookmark::new("Aardvark: tables", Target::anchor("tables"))
                    .folded()
                    .with(Bookmark::new("Deeper still", Target::anchor("tables"))),
            ),
    );
    doc
}

fn front(doc: &mut Document, page: PageId, section: Elem) {
    let mut canvas = doc.page(page);
    canvas.anchor("front", Mm(20.0));
    let heading = canvas.element(section, Tag::H1);
    canvas.tagged(heading, |ink| {
        let style = TextStyle::new(Face::Bold, Points(18.0));
        ink.text(at(Mm(20.0), Mm(25.0)), Align::Left, &style, "Clarinet in B\u{266d}, horn in F\u{266f}");
    });
    let lines = canvas.element(section, Tag::P);
    canvas.tagged(lines, alignments);
    contents(&mut canvas, section);
    let alt = "A staff with a treble clef, beside it squares, rings, a hatched box and a curve.";
    let area = Rect::new(Mm(20.0), Mm(85.0), Mm(190.0), Mm(185.0));
    let figure = canvas.element(section, Tag::Figure { alt: alt.to_owned(), area });
    canvas.tagged(figure, shapes);
    let note = canvas.element(section, Tag::Note);
    let label = canvas.element(note, Tag::Lbl);
    canvas.tagged(label, |ink| {
        ink.text(at(Mm(17.0), Mm(200.0)), Align::Left, &BODY, "* ");
    });
    canvas.tagged(note, |ink| {
        let text = "Other scripts: \u{395}\u{3bb}\u{3bb}\u{3ac}\u{3b4}\u{3b1}, \u{420}\u{443}\u{441}\u{44c}; combined: re\u{301}sume\u{301}; no font has \u{6f22}.";
        ink.text(at(Mm(20.0), Mm(200.0)), Align::Left, &BODY, text);
    });
    let empty = canvas.element(section, Tag::Part);
    canvas.element(empty, Tag::P);
    running(&mut canvas, "i");
}

fn alignments(ink: &mut Ink<'_>) {
    let middle = Mm(105.0);
    ink.text(at(Mm(20.0), Mm(35.0)), Align::Left, &BODY, "Begins here, ");
    ink.text(at(middle, Mm(35.0)), Align::Centre, &BODY.in_face(Face::Italic), "stands in the middle, ");
    ink.text(at(Mm(190.0), Mm(35.0)), Align::Right, &BODY.in_grey(Grey::new(0.4)), "ends here. ");
    ink.turned_text(at(Mm(14.0), Mm(60.0)), Turn::Up, Align::Left, &BODY, "upwards ");
    ink.turned_text(at(Mm(196.0), Mm(40.0)), Turn::Down, Align::Left, &BODY, "downwards");
}

fn contents(canvas: &mut Canvas<'_>, section: Elem) {
    let toc = canvas.element(section, Tag::Toc);
    for (index, (name, anchor)) in [("Lists", "lists"), ("Tables", "tables")].into_iter().enumerate() {
        let y = Mm(45.0 + 6.0 * index as f64);
        let entry = canvas.element(toc, Tag::Toci);
        let reference = canvas.element(entry, Tag::Reference);
        let area = Rect::new(Mm(20.0), y - Mm(4.0), Mm(60.0), y + Mm(1.5));
        canvas.link(reference, area, &Target::anchor(anchor), &format!("To {name}"), |ink| {
            ink.text(at(Mm(20.0), y), Align::Left, &BODY, name);
        });
    }
}

fn shapes(ink: &mut Ink<'_>) {
    let thin = Stroke::new(Mm(0.13));
    let staff = Mm(12.0);
    for line in 0..5 {
        let y = Mm(110.0) + staff / 4.0 * f64::from(line);
        ink.line(at(Mm(20.0), y), at(Mm(90.0), y), &thin);
    }
    let clef_end = Mm(21.0) + ink.music(at(Mm(21.0), Mm(122.0)), staff, GREY, '\u{1d11e}');
    ink.music(at(clef_end + Mm(3.0), Mm(122.0)), staff, Grey::new(0.5), '\u{1d158}');
    ink.music(at(clef_end + Mm(12.0), Mm(122.0)), staff, GREY, '\u{266f}');
    ink.line(at(Mm(100.0), Mm(90.0)), at(Mm(190.0), Mm(90.0)), &thin.dashed(Mm(2.0), Mm(1.0)));
    let round = Stroke::new(Mm(2.0)).with_cap(Cap::Round).in_grey(Grey::new(0.6));
    ink.line(at(Mm(102.0), Mm(95.0)), at(Mm(188.0), Mm(95.0)), &round);
    ink.rect(Rect::new(Mm(100.0), Mm(100.0), Mm(115.0), Mm(115.0)), &Paint::fill(GREY));
    ink.rect(Rect::new(Mm(120.0), Mm(100.0), Mm(135.0), Mm(115.0)), &Paint::both(Grey::new(0.85), thin));
    let triangle = [at(Mm(140.0), Mm(115.0)), at(Mm(147.5), Mm(100.0)), at(Mm(155.0), Mm(115.0))];
    ink.polygon(&triangle, &Paint::fill(GREY));
    ink.ring(at(Mm(167.5), Mm(107.5)), Mm(7.5), Mm(5.5), GREY);
    ink.circle(at(Mm(183.0), Mm(107.5)), Mm(6.0), &Paint::stroke(Stroke::new(Mm(0.5))));
    ink.hatch(Rect::new(Mm(100.0), Mm(120.0), Mm(135.0), Mm(135.0)), Mm(2.0), &thin);
    ink.rect(Rect::new(Mm(100.0), Mm(120.0), Mm(135.0), Mm(135.0)), &Paint::stroke(thin));
    ink.clipped(Rect::new(Mm(140.0), Mm(120.0), Mm(155.0), Mm(135.0)), |ink| {
        ink.circle(at(Mm(140.0), Mm(120.0)), Mm(12.0), &Paint::fill(Grey::new(0.7)));
        ink.circle(at(Mm(155.0), Mm(135.0)), Mm(8.0), &Paint::fill(GREY));
    });
    let curve = Path::from(at(Mm(20.0), Mm(150.0)))
        .curve(at(Mm(60.0), Mm(130.0)), at(Mm(60.0), Mm(180.0)), at(Mm(100.0), Mm(150.0)))
        .line(at(Mm(120.0), Mm(170.0)));
    ink.path(&curve, &Paint::stroke(Stroke::new(Mm(0.4))));
}

fn running(canvas: &mut Canvas<'_>, label: &str) {
    let height = canvas.size().height;
    canvas.artifact(Artifact::Header, |ink| {
        ink.text(at(Mm(190.0), Mm(12.0)), Align::Right, &BODY.in_face(Face::Italic), "Sample");
    });
    canvas.artifact(Artifact::Footer, |ink| {
        ink.text(at(Mm(105.0), height - Mm(10.0)), Align::Centre, &BODY, label);
    });
}

fn back_matter(doc: &mut Document, section: Elem) {
    let heading = ParagraphStyle::new(TextStyle::new(Face::Bold, Points(13.0))).spaced(Mm(6.0), Mm(2.0));
    let body = ParagraphStyle::new(BODY).spaced(Mm(0.0), Mm(2.0));
    let first = template(doc);
    doc.anchor("back", first.page, Mm(20.0));
    let mut flow = Flow::new(doc, first, template);
    let paragraph = "The lines of a paragraph are broken by measured width, at spaces and after hyphens of words such \
                     as double-bass, and go on where the page before was full. ";
    let linked = Text::new("Pieces may be ")
        .bold("bold")
        .then(" or ")
        .italic("italic")
        .then(", and may lead ")
        .link(
            "back to the first page, even where the words are broken over two lines",
            Target::anchor("front"),
            "To the first page",
        )
        .then(".");
    flow.set(
        section,
        &[
            Block::Heading(Heading::new(Level::Two, "Paragraphs and lists", heading).named("lists")),
            Block::Paragraph(Paragraph::new(paragraph.repeat(12), body)),
            Block::Paragraph(Paragraph::new(linked, body)),
            Block::List(list(Numbering::Bullet, body)),
            Block::Gap(Mm(4.0)),
            Block::List(list(Numbering::Decimal, body)),
            Block::Drawing(bars()),
            Block::Heading(Heading::new(Level::Two, "Tables", heading).named("tables")),
            Block::Heading(Heading::new(Level::Three, "A long one", heading)),
            Block::Table(table()),
            Block::Paragraph(Paragraph::new("The end.", body)),
        ],
    );
    let rest = flow.take(Mm(10.0));
    flow.document().page(rest.page).artifact(Artifact::Layout, |ink| {
        ink.rect(rest.area, &Paint::stroke(Stroke::new(Mm(0.1)).in_grey(Grey::new(0.5))));
    });
}

fn template(doc: &mut Document) -> Region {
    let label = doc.page_count().to_string();
    let page = doc.add_page(PageSize::A4, label.as_str());
    running(&mut doc.page(page), &label);
    Region { page, area: Rect::new(Mm(20.0), Mm(20.0), Mm(190.0), Mm(280.0)) }
}

fn list(numbering: Numbering, style: ParagraphStyle) -> List {
    let items = [
        "A short item.",
        "An item that is long enough to be broken into a second line, which then stands below the first and not below the label of the item.",
        "The last.",
    ];
    List::new(numbering, items, style)
}

fn bars() -> Drawing {
    let alt = "Three bars, each half as long as the one before.";
    Drawing::new(Mm(24.0), alt, |ink, area| {
        for bar in 0..3u8 {
            let top = area.top + Mm(8.0) * f64::from(bar);
            let right = area.left + area.width() / f64::from(1u8 << bar);
            ink.rect(Rect::new(area.left, top, right, top + Mm(6.0)), &Paint::fill(Grey::new(0.3)));
        }
    })
    .spaced(Mm(4.0), Mm(4.0))
}

fn table() -> Table {
    let row = |number: u32| Row {
        cells: vec![
            Cell::head(format!("Desk {number}")),
            Cell::new(format!("{}", number * 17)),
            Cell::new(if number == 40 { "long ".repeat(700) } else { "Turns with the left hand".to_owned() }),
            Cell::new(Text::new("see ").link("the front", Target::anchor("front"), "To the first page")),
        ],
    };
    let whole = Row { cells: vec![Cell::new("A row over all its columns").over(4)] };
    Table {
        columns: vec![
            Column::fixed(Mm(25.0)),
            Column::fixed(Mm(15.0)).aligned(Align::Right),
            Column::share(2),
            Column::share(1),
        ],
        head: vec![
            Row { cells: vec![Cell::new("Who").over(2), Cell::new("What").over(2)] },
            Row::new(["Player", "Bars", "Remark", "Where"]),
        ],
        body: (1..=60).map(row).chain([whole]).collect(),
        style: TableStyle { row_rule: Some(Stroke::new(Mm(0.1)).in_grey(Grey::new(0.7))), ..TableStyle::new(BODY) },
        caption: Some(Text::new("Who turns where")),
    }
}
