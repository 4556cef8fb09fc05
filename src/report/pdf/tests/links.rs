//! Links, bookmarks and page labels.

use lopdf::{Dictionary, Object};

use super::read::{Pdf, string};
use super::written;

#[test]
fn every_link_belongs_to_a_link_element_and_says_where_it_leads() {
    let pdf = written();
    let parents = pdf.pairs(pdf.structure_root().get(b"ParentTree").unwrap(), b"Nums");
    let mut areas = 0;
    for index in 0..pdf.pages.len() {
        assert_eq!(super::read::name(pdf.page(index), b"Tabs"), "S");
        let Ok(annotations) = pdf.page(index).get(b"Annots") else { continue };
        for annotation in pdf.array(annotations) {
            let area = pdf.dict(annotation);
            assert!(string(area, b"Contents").starts_with("To "));
            let key = area.get(b"StructParent").unwrap();
            let (_, elem) = parents.iter().find(|(found, _)| *found == key).unwrap();
            let elem = pdf.dict(elem);
            assert_eq!(super::read::name(elem, b"S"), "Link");
            let kids = pdf.array(elem.get(b"K").unwrap());
            assert!(kids.iter().any(|kid| kid.as_dict().is_ok_and(|kid| kid.get(b"Obj").ok() == Some(annotation))));
            areas += 1;
        }
    }
    // Two in the contents, two where a linked text is broken, one in each of the table's 60 rows.
    assert_eq!(areas, 2 + 2 + 60);
}

#[test]
fn a_link_may_lead_to_a_place_that_is_named_later() {
    let pdf = written();
    let first = pdf.dict(&pdf.array(pdf.page(0).get(b"Annots").unwrap())[0]);
    let destination = pdf.array(first.get(b"Dest").unwrap());
    assert_eq!(destination[0], Object::Reference(pdf.pages[1]));
    // The heading stands at the top of the region: 297 - 20 mm from the foot, in points.
    assert_eq!(destination[3].as_float().unwrap(), 785.197);
}

#[test]
fn contents_drawn_last_can_print_where_things_stand() {
    let doc = super::sample();
    let (page, y) = doc.place_of("lists").unwrap();
    assert_eq!((doc.label(page), y), (Some("1"), crate::units::Mm(20.0)));
    assert_eq!(doc.place_of("nowhere"), None);
}

#[test]
fn bookmarks_keep_their_order_and_depth() {
    let pdf = written();
    let outlines = pdf.dict(pdf.file.catalog().unwrap().get(b"Outlines").unwrap());
    let mut lines = Vec::new();
    walk(&pdf, outlines, 0, &mut lines);
    let expected = [
        "Z\u{fc}rich first (0)",
        "Back matter (2)",
        " Zebra: lists (0)",
        " Aardvark: tables (-1)",
        "  Deeper still (0)",
    ];
    assert_eq!(lines, expected);
    assert_eq!(outlines.get(b"Count").unwrap().as_i64().unwrap(), 4, "what is folded is not counted");
}

fn walk(pdf: &Pdf, parent: &Dictionary, depth: usize, lines: &mut Vec<String>) {
    let mut next = parent.get(b"First").ok();
    let mut before = None;
    while let Some(object) = next {
        let bookmark = pdf.dict(object);
        assert_eq!(bookmark.get(b"Prev").ok(), before);
        let count = bookmark.get(b"Count").map_or(0, |count| count.as_i64().unwrap());
        lines.push(format!("{}{} ({count})", " ".repeat(depth), string(bookmark, b"Title")));
        walk(pdf, bookmark, depth + 1, lines);
        before = Some(object);
        next = bookmark.get(b"Next").ok();
    }
    assert_eq!(parent.get(b"Last").ok(), before);
}

#[test]
fn pages_are_labelled_as_asked() {
    let pdf = written();
    let labels = pdf.pairs(pdf.file.catalog().unwrap().get(b"PageLabels").unwrap(), b"Nums");
    let labels: Vec<(i64, String)> =
        labels.iter().map(|(page, label)| (page.as_i64().unwrap(), string(pdf.dict(label), b"P"))).collect();
    let expected = ["i", "1", "2", "3", "4"];
    assert_eq!(
        labels,
        expected.iter().enumerate().map(|(page, label)| (page as i64, (*label).to_owned())).collect::<Vec<_>>()
    );
}
