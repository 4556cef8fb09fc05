//! Files that cannot be written onto are refused, and none makes it panic.

use lopdf::{Object, dictionary};

use super::sample::{PLACE, annotations, catalog_id, load, note, packed, plain, saved};
use crate::annotate::{AnnotateError, Annotated, Sheets, annotate, strip, wrote};
use crate::limits::Limits;

fn write(file: &[u8]) -> Result<Annotated, AnnotateError> {
    annotate(file, &[note(0, PLACE)], None, &Limits::default())
}

#[test]
fn no_pdf() {
    for file in [&b""[..], b"%PDF-1.4", b"<html></html>", b"startxref\n0\n%%EOF\n"] {
        assert_eq!(write(file), Err(AnnotateError::NotPdf));
        assert_eq!(strip(file, &Limits::default()), Err(AnnotateError::NotPdf));
        assert!(!wrote(file));
    }
}

#[test]
fn no_pages() {
    assert_eq!(write(&saved(plain(0))), Err(AnnotateError::NoPages));
    let mut document = plain(1);
    let catalog = catalog_id(&document);
    document.get_dictionary_mut(catalog).unwrap().set("Pages", Object::Null);
    assert_eq!(write(&saved(document)), Err(AnnotateError::NoPages));
}

#[test]
fn a_page_that_is_not_there() {
    let error = annotate(&saved(plain(2)), &[note(2, PLACE)], None, &Limits::default()).unwrap_err();
    assert_eq!(error, AnnotateError::NoSuchPage { page: 3, pages: 2 });
    assert_eq!(error.to_string(), "has no page 3, only 2");
    let error = annotate(&saved(plain(2)), &[note(usize::MAX, PLACE)], None, &Limits::default()).unwrap_err();
    assert_eq!(error, AnnotateError::NoSuchPage { page: usize::MAX, pages: 2 });
}

#[test]
fn too_many_pages() {
    let few = Limits { pages: 2, ..Limits::default() };
    let error = annotate(&saved(plain(3)), &[], None, &few).unwrap_err();
    assert_eq!(error, AnnotateError::TooManyPages { limit: 2 });
}

#[test]
fn a_tree_that_leads_back_or_astray() {
    let mut document = plain(2);
    let root = document.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
    let node = document.add_object(dictionary! { "Type" => "Pages", "Parent" => root, "Kids" => vec![root.into()] });
    document.get_dictionary_mut(root).unwrap().get_mut(b"Kids").unwrap().as_array_mut().unwrap().push(node.into());
    assert_eq!(write(&saved(document)), Err(AnnotateError::PageTree));
    let mut document = plain(2);
    let kids = document.get_dictionary_mut(root).unwrap().get_mut(b"Kids").unwrap().as_array_mut().unwrap();
    kids.push((999, 0).into());
    assert_eq!(write(&saved(document)), Err(AnnotateError::PageTree));
}

#[test]
fn cut_off_anywhere() {
    for file in [saved(plain(3)), packed(plain(3))] {
        for length in 0..file.len() {
            if let Ok(done) = write(&file[..length]) {
                assert_eq!(annotations(&load(&done.bytes), 0, true).len(), 1, "after {length} bytes");
            }
        }
    }
}

/// Bytes changed, doubled and left out at random places.
#[test]
fn damaged_anywhere() {
    let report = saved(plain(1));
    let first = saved(plain(2));
    let second = annotate(&first, &[note(0, PLACE)], Some(Sheets { pdf: &report, count: 1 }), &Limits::default());
    let mut random = 0x2545_F491_4F6C_DD1D_u64;
    let mut next = |below: usize| {
        random ^= random << 13;
        random ^= random >> 7;
        random ^= random << 17;
        usize::try_from(random % u64::try_from(below).unwrap()).unwrap()
    };
    let mut written = 0;
    for file in [first.clone(), packed(plain(2)), second.unwrap().bytes] {
        for _ in 0..400 {
            let mut mutant = file.clone();
            for _ in 0..=next(4) {
                let at = next(mutant.len());
                match next(4) {
                    0 => mutant[at] = u8::try_from(next(256)).unwrap(),
                    1 => mutant[at] = b"0123456789/<>[]()R \n"[next(20)],
                    2 => drop(mutant.remove(at)),
                    _ => mutant.insert(at, mutant[at]),
                }
            }
            let _ = strip(&mutant, &Limits::default());
            let sheets = Sheets { pdf: &mutant, count: 1 };
            let _ = annotate(&first, &[], Some(sheets), &Limits::default());
            written += usize::from(write(&mutant).is_ok());
        }
    }
    assert!(written > 600, "only {written} of 1200 were written onto");
}
