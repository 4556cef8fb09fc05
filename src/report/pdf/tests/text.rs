//! Text as it is copied out.

use crate::report::pdf::*;
use crate::units::Mm;

use super::read::Pdf;

const STYLE: TextStyle = TextStyle::new(Face::Regular, Points(10.0));

fn one_line(text: &str) -> (Document, PageId) {
    let mut doc = Document::new(Meta::new("One line", "en"));
    let page = doc.add_page(PageSize::A4, "1");
    let elem = doc.element(doc.root(), Tag::P);
    doc.page(page).tagged(elem, |ink| ink.text(at(Mm(20.0), Mm(20.0)), Align::Left, &STYLE, text));
    (doc, page)
}

fn copied(text: &str) -> String {
    let pdf = Pdf::read(&one_line(text).0.finish().unwrap());
    pdf.file.extract_text(&[1]).unwrap().replace('\n', "")
}

#[test]
fn accidentals_clefs_and_accents_are_copied_as_they_were_meant() {
    let text = "B\u{266d} F\u{266f} \u{1d11e} \u{e9}\u{151} \u{39e} \u{416}";
    assert_eq!(copied(text), text);
    assert_eq!(copied("e\u{301}"), "\u{e9}");
}

#[test]
fn a_character_no_font_has_is_seen_as_a_question_mark_named_and_still_copied() {
    let (doc, _) = one_line("a\u{6f22}b");
    assert_eq!(doc.missing_characters().iter().collect::<String>(), "\u{6f22}");
    let pdf = Pdf::read(&doc.finish().unwrap());
    assert_eq!(pdf.file.extract_text(&[1]).unwrap().trim(), "a?b");
    let operations = pdf.operations(0);
    let span = operations.iter().find(|operation| super::read::is_tag(operation, b"Span"));
    let meant = span.unwrap().operands[1].as_dict().unwrap();
    assert_eq!(super::read::string(meant, b"ActualText"), "a\u{6f22}b");
}

#[test]
fn right_aligned_text_ends_where_it_was_placed() {
    let mut doc = Document::new(Meta::new("Right", "en"));
    let page = doc.add_page(PageSize::A4, "1");
    let width = doc
        .page(page)
        .artifact(Artifact::Layout, |ink| ink.text(at(Mm(100.0), Mm(20.0)), Align::Right, &STYLE, "ends here"));
    assert_eq!(width, text_width(Face::Regular, Points(10.0), "ends here"));
    let pdf = Pdf::read(&doc.finish().unwrap());
    let operations = pdf.operations(0);
    let place = operations.iter().find(|operation| operation.operator == "Td").unwrap();
    let begin = Points(f64::from(place.operands[0].as_float().unwrap())).to_mm();
    assert_eq!((begin + width).rounded(), Mm(100.0));
}

#[test]
fn empty_text_leaves_no_mark() {
    let pdf = Pdf::read(&one_line("").0.finish().unwrap());
    assert!(pdf.operations(0).iter().all(|operation| operation.operator != "BT"));
}
