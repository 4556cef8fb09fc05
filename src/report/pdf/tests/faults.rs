//! Mistakes are told, not drawn and not met with a panic.

use crate::geometry::Rect;
use crate::report::pdf::*;
use crate::units::Mm;

fn one_page() -> (Document, PageId) {
    let mut doc = Document::new(Meta::new("Faulty", "en"));
    let page = doc.add_page(PageSize::A4, "1");
    (doc, page)
}

#[test]
fn a_document_without_pages_is_refused() {
    assert_eq!(Document::new(Meta::new("Empty", "en")).finish(), Err(PdfError::NoPages));
}

#[test]
fn a_link_or_bookmark_that_leads_nowhere_is_refused() {
    let unknown = |from: &str| Err(PdfError::UnknownAnchor { name: "nowhere".to_owned(), from: from.to_owned() });
    let (mut doc, page) = one_page();
    let root = doc.root();
    let area = Rect::new(Mm(0.0), Mm(0.0), Mm(9.0), Mm(9.0));
    doc.page(page).link(root, area, &Target::anchor("nowhere"), "Flute 1", |_| {});
    assert_eq!(doc.finish(), unknown("Flute 1"));
    let (mut doc, _) = one_page();
    doc.bookmark(Bookmark::new("Oboe", Target::anchor("nowhere")));
    assert_eq!(doc.finish(), unknown("Oboe"));
}

#[test]
fn a_name_given_to_two_places_is_refused() {
    let (mut doc, page) = one_page();
    doc.anchor("here", page, Mm(10.0));
    doc.anchor("here", page, Mm(20.0));
    assert_eq!(doc.finish(), Err(PdfError::AnchorTwice { name: "here".to_owned() }));
}

#[test]
fn pages_and_elements_of_another_document_are_refused() {
    let (mut other, _) = one_page();
    let foreign_page = other.add_page(PageSize::A4, "2");
    let foreign_elem = other.element(other.root(), Tag::P);

    let (mut doc, _) = one_page();
    let root = doc.root();
    let drawn = doc.page(foreign_page).tagged(root, |ink| {
        ink.text(at(Mm(1.0), Mm(9.0)), Align::Left, &TextStyle::new(Face::Regular, Points(9.0)), "lost")
    });
    assert!(drawn > Mm::ZERO, "drawing goes on, on a page that is thrown away");
    assert_eq!(doc.finish(), Err(PdfError::ForeignPage));

    let (mut doc, page) = one_page();
    doc.page(page).tagged(foreign_elem, |_| {});
    assert_eq!(doc.finish(), Err(PdfError::ForeignElement));

    let (mut doc, _) = one_page();
    doc.bookmark(Bookmark::new("Oboe", Target::Page(foreign_page, Mm::ZERO)));
    assert_eq!(doc.finish(), Err(PdfError::ForeignPage));
}

#[test]
fn measures_that_are_no_numbers_still_give_a_file_that_can_be_read() {
    let (mut doc, page) = one_page();
    let odd = [Mm(f64::NAN), Mm(f64::INFINITY), Mm(f64::NEG_INFINITY), Mm(1e300)];
    doc.page(page).artifact(Artifact::Layout, |ink| {
        for length in odd {
            let area = Rect::new(length, Mm(0.0), Mm(10.0), length);
            ink.hatch(area, length, &Stroke::new(length).dashed(length, length));
            ink.ring(at(length, Mm(3.0)), length, Mm(1.0), Grey::new(length.0));
            ink.music(at(Mm(3.0), length), length, Grey::BLACK, 'x');
            ink.polygon(&[], &Paint::fill(Grey::BLACK));
        }
    });
    let pdf = super::read::Pdf::read(&doc.finish().unwrap());
    assert!(pdf.operations(0).len() > 10);
}
