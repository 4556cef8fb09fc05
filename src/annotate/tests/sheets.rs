//! Sheets of another file after the last page.

use lopdf::{Dictionary, Document, Object, Stream, dictionary};

use super::sample::{
    PLACE, annotated, annotations, contents, document, load, note, numbers, packed, page_id, plain, reals, saved,
};
use crate::annotate::{AnnotateError, Annotated, Sheets, annotate, strip};
use crate::limits::Limits;

/// Three sheets: the first links to the second, the third, a name and the web.
fn report() -> Vec<u8> {
    let mut file = document(&[Dictionary::new(), Dictionary::new(), Dictionary::new()], &Dictionary::new());
    let pages: Vec<Object> = file.page_iter().map(Object::from).collect();
    let link = |to: Object| Object::from(dictionary! { "Type" => "Annot", "Subtype" => "Link", "Dest" => to });
    let to = |page: usize| link(vec![pages[page].clone(), "Fit".into()].into());
    let web = dictionary! { "S" => "URI", "URI" => Object::string_literal("https://example.org") };
    let links = vec![
        to(1),
        to(2),
        link("chapter".into()),
        dictionary! { "Subtype" => "Link", "A" => web, "StructParent" => 4 }.into(),
    ];
    let font = file.add_object(dictionary! { "Type" => "Font", "Subtype" => "Type1", "BaseFont" => "Courier" });
    let form = file.add_object(Stream::new(dictionary! { "Subtype" => "Form", "StructParents" => 3 }, b"n".to_vec()));
    let first = page_id(&file, 0);
    let first = file.get_dictionary_mut(first).unwrap();
    first.set("Annots", links);
    first.set("StructParents", 1);
    let parts = dictionary! { "Font" => dictionary! { "F" => font }, "XObject" => dictionary! { "X" => form } };
    first.set("Resources", parts);
    saved(file)
}

fn with_sheets(file: &[u8], count: usize) -> Annotated {
    let report = report();
    annotate(file, &[note(1, PLACE)], Some(Sheets { pdf: &report, count }), &Limits::default()).unwrap()
}

fn user() -> Document {
    let turned = dictionary! { "Rotate" => 90, "CropBox" => numbers(&[10, 10, 100, 100]) };
    document(&[Dictionary::new(), Dictionary::new()], &turned)
}

fn page(document: &Document, at: usize) -> &Dictionary {
    document.get_dictionary(page_id(document, at)).unwrap()
}

#[test]
fn sheets_follow_the_last_page() {
    for file in [saved(user()), packed(user())] {
        let done = with_sheets(&file, 2);
        assert_eq!((done.notes, done.sheets), (1, 2));
        assert!(done.bytes.starts_with(&file));
        let after = load(&done.bytes);
        assert_eq!(after.page_iter().count(), 4);
        assert_eq!(contents(&after)[..2], contents(&user()));
        assert_eq!(contents(&after)[2..], contents(&Document::load_mem(&report()).unwrap())[..2]);
        let first = page(&after, 2);
        // Turn and crop of the user's pages are not theirs.
        assert_eq!(first.get(b"Rotate").unwrap().as_i64().unwrap(), 0);
        assert_eq!(reals(first, b"CropBox"), [0.0, 0.0, 200.0, 400.0]);
        assert!(strip(&done.bytes, &Limits::default()).unwrap().bytes == file);
    }
}

#[test]
fn what_hangs_on_a_sheet_comes_with_it() {
    let after = load(&with_sheets(&saved(user()), 2).bytes);
    let first = page(&after, 2);
    let parts = first.get(b"Resources").unwrap().as_dict().unwrap();
    let form = parts.get(b"XObject").unwrap().as_dict().unwrap().get_deref(b"X", &after).unwrap().as_stream().unwrap();
    assert_eq!(form.content, b"n");
    let font = parts.get(b"Font").unwrap().as_dict().unwrap().get_deref(b"F", &after).unwrap().as_dict().unwrap();
    assert_eq!(font.get(b"BaseFont").unwrap().as_name().unwrap(), b"Courier");
    // The user's own structure has other numbers.
    let links = annotations(&after, 2, false);
    assert!(
        [first, &form.dict, &links[1]].iter().all(|dict| !dict.has(b"StructParents") && !dict.has(b"StructParent"))
    );
    assert_eq!(links.len(), 2, "those to the third sheet and to a name are left out");
    let to = links[0].get(b"Dest").unwrap().as_array().unwrap()[0].as_reference().unwrap();
    assert_eq!(to, page_id(&after, 3));
}

#[test]
fn sheets_are_replaced_and_taken_out() {
    let done = with_sheets(&saved(user()), 3).bytes;
    assert!(with_sheets(&done, 3).bytes == done);
    let mut rewritten = load(&done);
    rewritten.renumber_objects();
    for file in [saved(rewritten.clone()), packed(rewritten)] {
        assert_eq!(load(&with_sheets(&file, 1).bytes).page_iter().count(), 3);
        let without = load(&strip(&file, &Limits::default()).unwrap().bytes);
        assert_eq!(without.page_iter().count(), 2);
        let root = without.get_dictionary(without.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap());
        let root = root.unwrap();
        assert_eq!(root.get(b"Count").unwrap().as_i64().unwrap(), 2);
        assert_eq!(root.get(b"Kids").unwrap().as_array().unwrap().len(), 2);
        assert!(annotations(&without, 1, true).is_empty());
    }
}

#[test]
fn notes_are_for_the_users_pages_only() {
    let done = with_sheets(&saved(user()), 3).bytes;
    let error = annotate(&done, &[note(2, PLACE)], None, &Limits::default()).unwrap_err();
    assert_eq!(error, AnnotateError::NoSuchPage { page: 3, pages: 2 });
}

#[test]
fn sheets_that_are_none() {
    let file = saved(user());
    let sheets = |pdf: &'static [u8], count| annotate(&file, &[], Some(Sheets { pdf, count }), &Limits::default());
    assert_eq!(sheets(b"no PDF", 1), Err(AnnotateError::Sheets));
    assert_eq!(sheets(b"no PDF", 0).unwrap(), annotated(&file, &[]));
    let few = Limits { pages: 2, ..Limits::default() };
    let report = saved(plain(1));
    let error = annotate(&file, &[], Some(Sheets { pdf: &report, count: 1 }), &few).unwrap_err();
    assert_eq!(error, AnnotateError::TooManyPages { limit: 2 });
}
