//! Text that flows over pages.

use crate::geometry::Rect;
use crate::report::pdf::*;
use crate::units::Mm;

use super::read::Pdf;
use super::written;

const BODY: TextStyle = TextStyle::new(Face::Regular, Points(10.0));
const AREA: Rect = Rect { left: Mm(20.0), top: Mm(20.0), right: Mm(120.0), bottom: Mm(70.0) };

/// Five lines of ten millimetres on each page.
fn style() -> ParagraphStyle {
    ParagraphStyle { line: Mm(10.0), ..ParagraphStyle::new(BODY) }
}

fn lines(count: usize) -> Block {
    Block::Paragraph(Paragraph::new(vec!["line"; count].join("\n"), style()))
}

fn heading() -> Block {
    Block::Heading(Heading::new(Level::One, "Heading", style()))
}

/// How far down each text begins on each page, in millimetres.
fn set(blocks: &[Block]) -> Vec<Vec<i64>> {
    let mut doc = Document::new(Meta::new("Flow", "en"));
    let root = doc.root();
    let region = |doc: &mut Document| Region { page: doc.add_page(PageSize::A4, ""), area: AREA };
    let first = region(&mut doc);
    Flow::new(&mut doc, first, region).set(root, blocks);
    let pdf = Pdf::read(&doc.finish().unwrap());
    (0..pdf.pages.len())
        .map(|page| {
            let places = pdf.operations(page).into_iter().filter(|operation| operation.operator == "Td");
            places
                .map(|place| {
                    let up = Points(f64::from(place.operands[1].as_float().unwrap())).to_mm();
                    ((Mm(297.0) - up).0 / 10.0) as i64 * 10
                })
                .collect()
        })
        .collect()
}

#[test]
fn a_paragraph_goes_on_where_the_page_was_full() {
    assert_eq!(set(&[lines(8)]), [vec![20, 30, 40, 50, 60], vec![20, 30, 40]]);
}

#[test]
fn no_line_of_a_paragraph_stands_alone() {
    assert_eq!(set(&[lines(6)]), [vec![20, 30, 40, 50], vec![20, 30]]);
    assert_eq!(set(&[lines(4), lines(4)]), [vec![20, 30, 40, 50], vec![20, 30, 40, 50]]);
}

#[test]
fn headings_go_where_their_text_begins() {
    assert_eq!(set(&[lines(3), heading(), lines(3)]), [vec![20, 30, 40], vec![20, 30, 40, 50]]);
    assert_eq!(set(&[lines(3), heading(), heading(), lines(1)]), [vec![20, 30, 40], vec![20, 30, 40]]);
    assert_eq!(set(&[lines(2), heading(), lines(5)]), [vec![20, 30, 40, 50, 60], vec![20, 30, 40]]);
}

#[test]
fn between_two_blocks_the_larger_room_counts_and_none_at_the_top() {
    let spaced = |above, below| Block::Paragraph(Paragraph::new("line", style().spaced(Mm(above), Mm(below))));
    assert_eq!(set(&[spaced(30.0, 10.0), spaced(20.0, 0.0)]), [vec![20, 50]]);
    assert_eq!(set(&[lines(5), Block::Gap(Mm(20.0)), lines(1)]), [vec![20, 30, 40, 50, 60], vec![20]]);
}

#[test]
fn what_is_too_tall_for_any_page_is_set_all_the_same() {
    let tall = ParagraphStyle { line: Mm(80.0), ..style() };
    let block = Block::Paragraph(Paragraph::new("a\nb\nc", tall));
    assert_eq!(set(&[block]).len(), 3);
    let drawing = Block::Drawing(Drawing::new(Mm(90.0), "A box", |ink, area| {
        ink.rect(area, &Paint::fill(Grey::BLACK));
    }));
    assert_eq!(set(&[drawing, lines(1)]).len(), 2);
}

#[test]
fn a_table_repeats_its_head_and_splits_only_rows_taller_than_a_page() {
    let table = |text: String| {
        let style = TableStyle { line: Mm(8.0), padding: Mm(2.0), ..TableStyle::new(BODY) };
        let body = (0..4).map(|_| Row::new([text.clone()])).collect();
        Block::Table(Table { head: vec![Row::new(["Head"])], body, style, ..Table::default() })
    };
    let pages = set(&[table("row".to_owned())]);
    assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [5]);
    // Two lines a row are 18 mm: with the head of 10 mm two rows fill 46 of 50 mm.
    let pages = set(&[table("row\nrow".to_owned())]);
    assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [1 + 4, 1 + 4]);
    let pages = set(&[table("row\n".repeat(9) + "row")]);
    assert_eq!(pages.iter().map(|page| page.len() - 1).sum::<usize>(), 40);
    assert!(pages.iter().all(|page| page.iter().all(|place| *place < 70)));
}

#[test]
fn a_list_hangs_its_items_beside_their_labels() {
    let pdf = written();
    let elements = pdf.elements();
    let roles: Vec<&str> = elements.iter().map(|elem| elem.role.as_str()).collect();
    let list = roles.iter().position(|role| *role == "L").unwrap();
    assert_eq!(roles[list..list + 7], ["L", "LI", "Lbl", "LBody", "LI", "Lbl", "LBody"]);
    let numbering =
        |elem: &super::read::Elem| super::read::name(pdf.dict(elem.entries.get(b"A").unwrap()), b"ListNumbering");
    let numberings: Vec<String> = elements.iter().filter(|elem| elem.role == "L").map(numbering).collect();
    assert_eq!(numberings, ["Disc", "Decimal"]);
}
