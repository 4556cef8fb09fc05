//! Files of a few pages, and looks into what was written.

use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};

use crate::annotate::annotation::is_ours;
use crate::annotate::{Annotated, Note, annotate};
use crate::geometry::Rect;
use crate::limits::Limits;
use crate::units::Mm;

const POINT: f64 = 25.4 / 72.0;

/// Pages of 200 by 400 units whose own entries are these; `tree` goes into their parent. Every other page's content is
/// compressed.
pub fn document(pages: &[Dictionary], tree: &Dictionary) -> Document {
    let mut document = Document::with_version("1.5");
    document.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
    let root = document.new_object_id();
    let mut kids = Vec::new();
    for (number, entries) in pages.iter().enumerate() {
        let content = format!("q 1 0 0 1 {number} 0 cm 10 10 m 90 90 l S Q\n").repeat(9).into_bytes();
        let mut content = Stream::new(Dictionary::new(), content);
        if number % 2 == 1 {
            content.compress().unwrap();
        }
        let content = document.add_object(content);
        let mut page = dictionary! { "Type" => "Page", "Parent" => root, "Contents" => content };
        page.extend(entries);
        kids.push(Object::from(document.add_object(page)));
    }
    let count = i64::try_from(kids.len()).unwrap();
    let mut node = dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count };
    node.set("MediaBox", numbers(&[0, 0, 200, 400]));
    node.extend(tree);
    document.objects.insert(root, node.into());
    let title = Object::String(b"A title".to_vec(), StringFormat::Literal);
    let marks = document.add_object(dictionary! { "Type" => "Outlines", "Count" => 0 });
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => root, "Outlines" => marks });
    let info = document.add_object(dictionary! { "Title" => title });
    document.trailer.set("Root", catalog);
    document.trailer.set("Info", info);
    let id = Object::String(b"0123456789abcdef".to_vec(), StringFormat::Literal);
    document.trailer.set("ID", vec![id.clone(), id]);
    document
}

pub fn plain(pages: usize) -> Document {
    document(&vec![Dictionary::new(); pages], &Dictionary::new())
}

pub fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

/// With object streams and a table that is a stream.
pub fn packed(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_modern(&mut bytes).unwrap();
    bytes
}

pub fn numbers(all: &[i64]) -> Object {
    Object::Array(all.iter().map(|number| Object::Integer(*number)).collect())
}

pub fn catalog_id(document: &Document) -> ObjectId {
    document.trailer.get(b"Root").unwrap().as_reference().unwrap()
}

pub fn page_id(document: &Document, page: usize) -> ObjectId {
    document.page_iter().nth(page).unwrap()
}

/// A light note; the box in points from the top left corner.
pub fn note(page: usize, points: [f64; 4]) -> Note {
    let [left, top, right, bottom] = points.map(|value| Mm(value * POINT));
    Note {
        page,
        rect: Some(Rect::new(left, top, right, bottom)),
        number: 7,
        name: "some-rule/bar-12".into(),
        title: "Too close".into(),
        text: "Two staves touch. Move them apart.".into(),
        heavy: false,
    }
}

pub const PLACE: [f64; 4] = [36.0, 72.0, 108.0, 144.0];

pub fn annotated(bytes: &[u8], notes: &[Note]) -> Annotated {
    annotate(bytes, notes, None, &Limits::default()).unwrap()
}

pub fn load(bytes: &[u8]) -> Document {
    let document = Document::load_mem(bytes).unwrap();
    assert_eq!(document.xref_recovery, None, "its table had to be repaired");
    document
}

/// The annotations of a page; rastrum's or the others.
pub fn annotations(document: &Document, page: usize, ours: bool) -> Vec<Dictionary> {
    let page = document.get_dictionary(page_id(document, page)).unwrap();
    let Ok(all) = page.get_deref(b"Annots", document) else { return Vec::new() };
    let all = all.as_array().unwrap().iter();
    let all = all.map(|object| document.dereference(object).unwrap().1.as_dict().unwrap().clone());
    all.filter(|annotation| is_ours(annotation) == ours).collect()
}

/// Raw bytes of every page's content, as the file holds them.
pub fn contents(document: &Document) -> Vec<Vec<u8>> {
    let streams = document.page_iter().flat_map(|page| document.get_page_contents(page));
    streams.map(|id| document.get_object(id).unwrap().as_stream().unwrap().content.clone()).collect()
}

pub fn decoded(document: &Document) -> Vec<Vec<u8>> {
    document.page_iter().map(|page| document.get_page_content(page)).collect()
}

pub fn reals(dict: &Dictionary, key: &[u8]) -> Vec<f32> {
    dict.get(key).unwrap().as_array().unwrap().iter().map(|number| number.as_float().unwrap()).collect()
}
