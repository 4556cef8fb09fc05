//! Small files made by hand: what is written onto them, where it stands, and what is left when it is taken out.

use lopdf::{
    Dictionary, Document, EncryptionState, EncryptionVersion, Object, ObjectId, Permissions, SaveOptions, Stream,
    StringFormat, dictionary,
};
use proptest::prelude::*;

use super::{AnnotateError, Loss, Note, Sheets, annotate, place, strip, wrote};
use crate::geometry::Rect;
use crate::limits::Limits;
use crate::units::Mm;

/// Millimetres of a point.
const POINT: f64 = 25.4 / 72.0;
const CONTENT: &[u8] = b"0.5 w 50 742 m 545 742 l S";

fn numbers(all: &[i64]) -> Object {
    Object::Array(all.iter().map(|number| Object::Integer(*number)).collect())
}

/// Two A4 pages; `extra` goes into the first, `above` into the node above both.
fn document(extra: &Dictionary, above: &Dictionary) -> Document {
    let mut document = Document::with_version("1.7");
    let tree = document.new_object_id();
    let mut kids = Vec::new();
    for extra in [extra, &Dictionary::new()] {
        let content = document.add_object(Stream::new(Dictionary::new(), CONTENT.to_vec()));
        let mut page = dictionary! { "Type" => "Page", "Parent" => tree, "Contents" => content };
        page.extend(extra);
        kids.push(document.add_object(page).into());
    }
    let mut pages =
        dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => 2, "MediaBox" => numbers(&[0, 0, 595, 842]) };
    pages.extend(above);
    document.objects.insert(tree, Object::Dictionary(pages));
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => tree });
    document.trailer.set("Root", catalog);
    document
}

fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("a document in memory");
    bytes
}

fn file(extra: &Dictionary) -> Vec<u8> {
    saved(document(extra, &Dictionary::new()))
}

/// A box from points of the shown page: left, top, right, bottom.
fn rect(points: [f64; 4]) -> Rect {
    let [left, top, right, bottom] = points.map(|points| Mm(points * POINT));
    Rect::new(left, top, right, bottom)
}

fn note(page: usize, rect: Option<Rect>) -> Note {
    Note {
        page,
        rect,
        number: 12,
        name: "staff-too-small@work//-/0".to_owned(),
        title: "Staves of 3 mm.".to_owned(),
        text: "Set them larger.".to_owned(),
        heavy: true,
    }
}

fn noted(pdf: &[u8], notes: &[Note]) -> super::Annotated {
    annotate(pdf, notes, None, &Limits::default()).expect("a file that can be written onto")
}

fn stripped(pdf: &[u8]) -> Vec<u8> {
    strip(pdf, &Limits::default()).expect("a file that can be read")
}

fn pages(bytes: &[u8]) -> (Document, Vec<ObjectId>) {
    let document = Document::load_mem(bytes).expect("a file that can be read");
    let pages = document.get_pages().into_values().collect();
    (document, pages)
}

/// Annotations of a page, nearest last.
fn annotations(bytes: &[u8], page: usize) -> Vec<Dictionary> {
    let (document, pages) = pages(bytes);
    let Ok(own) = document.get_dictionary(pages[page]).expect("a page").get_deref(b"Annots", &document) else {
        return Vec::new();
    };
    let resolved = |object: &Object| {
        let (_, object) = document.dereference(object).expect("an annotation");
        object.as_dict().expect("a dictionary").clone()
    };
    own.as_array().expect("an array").iter().map(resolved).collect()
}

fn content(bytes: &[u8]) -> Vec<Vec<u8>> {
    let (document, pages) = pages(bytes);
    pages.iter().map(|page| document.get_page_content(*page)).collect()
}

/// The outline's box in the content's own units: what the annotation leaves of its box.
fn outline(annotation: &Dictionary) -> [f64; 4] {
    let floats = |key: &[u8]| -> Vec<f64> {
        let array = annotation.get(key).and_then(Object::as_array).expect("numbers");
        array.iter().map(|number| f64::from(number.as_float().expect("a number"))).collect()
    };
    let (all, inset) = (floats(b"Rect"), floats(b"RD"));
    [all[0] + inset[0], all[1] + inset[3], all[2] - inset[2], all[3] - inset[1]]
}

#[track_caller]
fn stands(bytes: &[u8], expected: [f64; 4]) {
    // Clear of the place by 0.6 mm, and the line is 0.9 mm thick.
    let around = (0.6 + 0.9) / POINT;
    let own = outline(annotations(bytes, 0).last().expect("a note"));
    let wanted = [expected[0] - around, expected[1] - around, expected[2] + around, expected[3] + around];
    for (own, wanted) in own.iter().zip(wanted) {
        assert!((own - wanted).abs() < 0.02, "{own} for {wanted}");
    }
}

#[test]
fn a_note_is_an_annotation_that_viewers_list_and_print() {
    let own = file(&Dictionary::new());
    let copy = noted(&own, &[note(0, Some(rect([100.0, 100.0, 200.0, 150.0])))]);
    assert!(copy.is_update && copy.bytes.starts_with(&own) && copy.lost.is_empty());
    let [square] = annotations(&copy.bytes, 0).try_into().expect("one note");
    let text =
        |key: &[u8]| String::from_utf8_lossy(square.get(key).and_then(Object::as_str).expect("text")).into_owned();
    assert_eq!(square.get(b"Subtype").and_then(Object::as_name).ok(), Some(b"Square".as_slice()));
    assert_eq!((text(b"T"), text(b"NM")), ("rastrum".to_owned(), "rastrum-staff-too-small@work//-/0".to_owned()));
    assert_eq!(text(b"Contents"), "Staves of 3 mm.\nSet them larger.");
    assert_eq!(square.get(b"F").and_then(Object::as_i64).ok(), Some(4));
    assert!(square.has(b"AP") && !square.has(b"M"), "it is drawn, and bears no date");
    assert_eq!(annotations(&copy.bytes, 1).len(), 0);
    stands(&copy.bytes, [100.0, 842.0 - 150.0, 200.0, 842.0 - 100.0]);
}

#[test]
fn places_are_those_of_the_page_as_it_is_shown() {
    let place = [100.0, 50.0, 200.0, 80.0];
    let on = |extra: &Dictionary, above: &Dictionary| {
        noted(&saved(document(extra, above)), &[note(0, Some(rect(place)))]).bytes
    };
    let none = Dictionary::new();
    // A quarter clockwise: the shown page is 842 wide, its left edge the content's foot.
    let quarter = dictionary! { "Rotate" => 90 };
    stands(&on(&quarter, &none), [50.0, 100.0, 80.0, 200.0]);
    stands(&on(&none, &quarter), [50.0, 100.0, 80.0, 200.0]);
    stands(&on(&dictionary! { "Rotate" => 180 }, &none), [395.0, 50.0, 495.0, 80.0]);
    stands(&on(&dictionary! { "Rotate" => 270 }, &none), [515.0, 642.0, 545.0, 742.0]);
    let cropped = dictionary! { "CropBox" => numbers(&[20, 30, 500, 800]) };
    stands(&on(&cropped, &none), [120.0, 720.0, 220.0, 750.0]);
    // A unit of two points: half as many of them.
    let own = noted(&saved(document(&dictionary! { "UserUnit" => 2 }, &none)), &[note(0, Some(rect(place)))]).bytes;
    let around = (0.6 + 0.9) / POINT / 2.0;
    let left = outline(annotations(&own, 0).last().expect("a note"))[0];
    assert!((left - (50.0 - around)).abs() < 0.02, "{left}");
}

#[test]
fn what_stood_there_stays_in_whichever_form() {
    let link = || dictionary! { "Type" => "Annot", "Subtype" => "Link", "Rect" => numbers(&[0, 0, 10, 10]) };
    let mut own = document(&Dictionary::new(), &Dictionary::new());
    let pages: Vec<ObjectId> = own.get_pages().into_values().collect();
    let single = own.add_object(link());
    let shared = own.add_object(Object::Array(vec![single.into()]));
    for page in &pages {
        own.get_dictionary_mut(*page).expect("a page").set("Annots", shared);
    }
    let shared = saved(own);
    let copy = noted(&shared, &[note(0, None)]);
    assert_eq!((annotations(&copy.bytes, 0).len(), annotations(&copy.bytes, 1).len()), (2, 1));
    assert_eq!(stripped(&copy.bytes), shared);
    let direct = file(&dictionary! { "Annots" => vec![Object::Dictionary(link())] });
    assert_eq!(annotations(&noted(&direct, &[note(0, None)]).bytes, 0).len(), 2);
}

#[test]
fn what_was_written_is_taken_out_again_and_not_doubled() {
    let own = file(&Dictionary::new());
    let notes = [note(0, Some(rect([100.0, 100.0, 200.0, 150.0]))), note(0, None), note(1, None)];
    let copy = noted(&own, &notes).bytes;
    assert_eq!(noted(&own, &notes).bytes, copy, "the same bytes each time");
    assert_eq!(stripped(&copy), own);
    assert_eq!(noted(&copy, &notes).bytes, copy, "not doubled");
    assert_eq!(content(&copy), content(&own));
    assert!(wrote(&copy) && !wrote(&own));
    let names: Vec<Dictionary> = annotations(&copy, 0);
    assert_ne!(names[0].get(b"NM").expect("a name"), names[1].get(b"NM").expect("a name"));
}

#[test]
fn a_damaged_table_is_written_anew_and_the_content_kept() {
    let own = file(&Dictionary::new());
    // Every object stands later than the table says.
    let mut off = own.clone();
    off.splice(9..9, b"% moved\n".iter().copied());
    let copy = noted(&off, &[note(0, None)]);
    assert_eq!((copy.is_update, copy.lost.as_slice()), (false, [].as_slice()));
    assert_eq!(content(&copy.bytes), content(&own));
    assert_eq!(annotations(&copy.bytes, 0).len(), 1);
    let again = stripped(&copy.bytes);
    assert_eq!((content(&again), annotations(&again, 0).len()), (content(&own), 0));
}

#[test]
fn objects_in_packed_streams_are_updated_as_well() {
    let mut own = document(&Dictionary::new(), &Dictionary::new());
    let mut packed = Vec::new();
    own.save_with_options(&mut packed, SaveOptions::builder().use_object_streams(true).use_xref_streams(true).build())
        .expect("a file in memory");
    let copy = noted(&packed, &[note(1, None)]);
    assert!(copy.is_update && copy.bytes.starts_with(&packed));
    assert_eq!((annotations(&copy.bytes, 0).len(), annotations(&copy.bytes, 1).len()), (0, 1));
    assert_eq!(stripped(&copy.bytes), packed);
}

fn locked(user: &str) -> Vec<u8> {
    let mut document = document(&Dictionary::new(), &Dictionary::new());
    let name = Object::String(b"0123456789abcdef".to_vec(), StringFormat::Literal);
    document.trailer.set("ID", vec![name.clone(), name]);
    let version = EncryptionVersion::V2 {
        document: &document,
        owner_password: "owner",
        user_password: user,
        key_length: 128,
        permissions: Permissions::empty(),
    };
    let state = EncryptionState::try_from(version).expect("a state of encryption");
    document.encrypt(&state).expect("a locked document");
    saved(document)
}

#[test]
fn a_lock_is_refused_or_told() {
    let refused = annotate(&locked("user"), &[note(0, None)], None, &Limits::default());
    assert_eq!(refused, Err(AnnotateError::Password));
    let copy = noted(&locked(""), &[note(0, None)]);
    assert_eq!(copy.lost, [Loss::Encryption]);
    assert_eq!(content(&copy.bytes)[0].trim_ascii(), CONTENT);
}

/// Signed; certified with what is allowed where `allows` says so.
fn signed(allows: Option<i64>) -> Vec<u8> {
    let mut document = document(&Dictionary::new(), &Dictionary::new());
    let mut signature = dictionary! {
        "Type" => "Sig", "ByteRange" => numbers(&[0, 10, 20, 10]),
        "Contents" => Object::String(vec![0; 8], StringFormat::Hexadecimal),
    };
    if let Some(allows) = allows {
        let method = dictionary! {
            "Type" => "SigRef", "TransformMethod" => "DocMDP", "TransformParams" => dictionary! { "P" => allows },
        };
        signature.set("Reference", vec![Object::Dictionary(method)]);
    }
    let signature = document.add_object(signature);
    let catalog = document.catalog_mut().expect("a catalog");
    catalog.set("AcroForm", dictionary! { "SigFlags" => 3, "Fields" => Object::Array(Vec::new()) });
    if allows.is_some() {
        catalog.set("Perms", dictionary! { "DocMDP" => signature });
    }
    saved(document)
}

#[test]
fn a_signature_is_kept_and_a_certificate_obeyed() {
    let copy = noted(&signed(None), &[note(0, None)]);
    assert!(copy.is_update && copy.lost.is_empty(), "what was signed stands unchanged");
    let sheets = file(&Dictionary::new());
    let sheets = Some(Sheets { pdf: &sheets, count: 1 });
    let with_sheets = annotate(&signed(None), &[], sheets, &Limits::default()).expect("a copy");
    assert_eq!(with_sheets.lost, [Loss::Signature]);
    let refused = |allows, sheets| annotate(&signed(Some(allows)), &[note(0, None)], sheets, &Limits::default());
    assert_eq!(refused(2, None), Err(AnnotateError::Certified));
    assert!(refused(3, None).is_ok());
    assert_eq!(refused(3, sheets), Err(AnnotateError::CertifiedPages));
}

#[test]
fn sheets_stand_behind_the_pages_and_go_again() {
    let own = file(&Dictionary::new());
    let sheets = file(&dictionary! { "Rotate" => 90 });
    let copy = annotate(&own, &[note(1, None)], Some(Sheets { pdf: &sheets, count: 1 }), &Limits::default());
    let copy = copy.expect("a copy");
    assert_eq!((copy.sheets, pages(&copy.bytes).1.len()), (1, 3));
    assert_eq!(content(&copy.bytes)[..2], content(&own));
    assert_eq!(stripped(&copy.bytes), own);
}

#[test]
fn what_cannot_be_done_is_told_apart() {
    let refused = |pdf: &[u8], page| annotate(pdf, &[note(page, None)], None, &Limits::default()).expect_err("no copy");
    assert_eq!(refused(b"<score-partwise/>", 0), AnnotateError::NotPdf);
    assert_eq!(refused(&file(&Dictionary::new()), 2), AnnotateError::NoSuchPage { page: 3, pages: 2 });
    let mut cyclic = document(&Dictionary::new(), &Dictionary::new());
    let tree = cyclic.catalog().and_then(|own| own.get(b"Pages")).and_then(Object::as_reference).expect("a tree");
    let kids = cyclic.get_dictionary_mut(tree).and_then(|own| own.get_mut(b"Kids")).and_then(Object::as_array_mut);
    kids.expect("kids").push(tree.into());
    assert_eq!(refused(&saved(cyclic), 0), AnnotateError::PageTree);
    let few = Limits { pages: 1, ..Limits::default() };
    let many = annotate(&file(&Dictionary::new()), &[], None, &few);
    assert_eq!(many, Err(AnnotateError::TooManyPages { limit: 1 }));
}

#[test]
fn changed_bytes_never_end_in_a_panic() {
    let own = noted(&file(&Dictionary::new()), &[note(0, None)]).bytes;
    let mut seed = 0x9E37_79B9_7F4A_7C15_u64;
    let mut below = |limit: usize| {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed % limit as u64) as usize
    };
    for _ in 0..400 {
        let mut bytes = own.clone();
        for _ in 0..=below(3) {
            let at = below(bytes.len());
            bytes[at] = below(256) as u8;
        }
        bytes.truncate(bytes.len() - below(40).min(bytes.len() - 1));
        let _ = annotate(&bytes, &[note(0, None)], None, &Limits::default());
        let _ = strip(&bytes, &Limits::default());
    }
}

proptest! {
    #[test]
    fn numbers_do_not_cover_each_other(places in proptest::collection::vec((0.0..180.0_f64, 0.0..280.0_f64, 0.0..60.0_f64, 0.0..40.0_f64), 1..40)) {
        let notes: Vec<Note> = places
            .iter()
            .map(|(left, top, wide, high)| note(0, Some(Rect::new(Mm(*left), Mm(*top), Mm(left + wide), Mm(top + high)))))
            .collect();
        let all: Vec<&Note> = notes.iter().collect();
        let placed = place::place(&all, (Mm(210.0), Mm(297.0)));
        for (at, one) in placed.iter().enumerate() {
            prop_assert!(one.label.left.0 >= 0.0 && one.label.right.0 <= 210.0 && one.label.bottom.0 <= 297.0);
            for other in placed.iter().skip(at + 1) {
                prop_assert!(!one.label.overlaps(&other.label), "{:?} and {:?}", one.label, other.label);
            }
        }
    }
}
