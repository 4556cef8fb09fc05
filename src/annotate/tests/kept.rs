//! What was there stays: bytes, content, other people's annotations.

use lopdf::{Dictionary, Document, Object, dictionary};

use super::sample::{
    PLACE, annotated, annotations, catalog_id, contents, decoded, load, note, packed, page_id, plain, saved,
};
use crate::annotate::{Note, annotate, strip, wrote};
use crate::limits::Limits;

fn stripped(bytes: &[u8]) -> Vec<u8> {
    strip(bytes, &Limits::default()).unwrap().bytes
}

fn two_notes() -> Vec<Note> {
    vec![note(0, PLACE), Note { rect: None, ..note(2, PLACE) }]
}

/// Written as an update, and the same again without it.
fn returns(file: &[u8]) -> Document {
    let done = annotated(file, &two_notes());
    assert!(done.is_update && done.lost.is_empty());
    assert!(done.bytes.starts_with(file));
    assert!(wrote(&done.bytes) && !wrote(file));
    assert!(stripped(&done.bytes) == file);
    assert!(annotated(&done.bytes, &two_notes()).bytes == done.bytes, "twice is once");
    let (before, after) = (load(file), load(&done.bytes));
    assert_eq!(contents(&before), contents(&after));
    assert_eq!(decoded(&before), decoded(&after));
    assert_eq!(before.get_object(catalog_id(&before)).unwrap(), after.get_object(catalog_id(&after)).unwrap());
    assert_eq!([0, 1, 2].map(|page| annotations(&after, page, true).len()), [1, 0, 1]);
    after
}

#[test]
fn a_table() {
    let after = returns(&saved(plain(3)));
    assert_eq!(after.xref_section_count, 2);
}

#[test]
fn object_streams() {
    let after = returns(&packed(plain(3)));
    assert_eq!(after.xref_section_count, 2);
}

/// A table that hides everything, and a stream beside it that has it all.
#[test]
fn a_hybrid_of_both() {
    let mut file = packed(plain(3));
    let size = load(&file).max_id + 1;
    let text = String::from_utf8_lossy(&file).into_owned();
    let stream: usize = text[text.rfind("startxref").unwrap() + 9..].lines().nth(1).unwrap().parse().unwrap();
    let catalog = catalog_id(&load(&file)).0;
    file.push(b'\n');
    let start = file.len();
    let table = "xref\n0 1\n0000000000 65535 f \n";
    file.extend(format!("{table}trailer\n<</Size {size}/Root {catalog} 0 R/XRefStm {stream}>>\n").bytes());
    file.extend(format!("startxref\n{start}\n%%EOF\n").bytes());
    let after = returns(&file);
    assert!(!after.trailer.has(b"XRefStm"));
}

#[test]
fn no_line_end_and_bytes_before_the_header() {
    let mut file = b"Content-Type: application/pdf\n\n".to_vec();
    file.extend(saved(plain(3)));
    assert!(!file.ends_with(b"\n"));
    returns(&file);
    file.extend(b"\n\0\0\n\n");
    returns(&file);
}

#[test]
fn an_update_on_an_update() {
    let done = annotated(&packed(plain(3)), &two_notes()).bytes;
    // As if another program had written after it.
    let others = [done.as_slice(), b"\n%%EOF\n"].concat();
    assert!(!wrote(&others));
    let again = annotated(&others, &[note(1, PLACE)]);
    assert!(again.is_update && again.bytes.starts_with(&others));
    let after = load(&again.bytes);
    assert_eq!([0, 1, 2].map(|page| annotations(&after, page, true).len()), [0, 1, 0]);
    let without = stripped(&others);
    assert!(stripped(&again.bytes) == without);
    assert!(without.starts_with(&others) && !wrote(&without));
    assert_eq!([0, 1, 2].map(|page| annotations(&load(&without), page, true).len()), [0, 0, 0]);
}

#[test]
fn rewritten_by_another_program() {
    let file = saved(plain(3));
    let mut document = load(&annotated(&file, &two_notes()).bytes);
    document.renumber_objects();
    for file in [saved(document.clone()), packed(document)] {
        let after = load(&annotated(&file, &two_notes()).bytes);
        assert_eq!([0, 1, 2].map(|page| annotations(&after, page, true).len()), [1, 0, 1]);
        let after = load(&stripped(&file));
        assert_eq!([0, 1, 2].map(|page| annotations(&after, page, true).len()), [0, 0, 0]);
    }
}

#[test]
fn a_table_that_is_elsewhere() {
    let files = [saved(plain(3)), packed(plain(3))];
    for (file, by) in files.iter().flat_map(|file| [1_i64, -1, 9].map(|by| (file, by))) {
        let text = String::from_utf8_lossy(file);
        let at = file.windows(9).rposition(|window| window == b"startxref").unwrap();
        let start: i64 = text[text.rfind("startxref").unwrap() + 9..].lines().nth(1).unwrap().parse().unwrap();
        let mut shifted = file[..at].to_vec();
        shifted.extend(format!("startxref\n{}\n%%EOF\n", start + by).bytes());
        let done = annotated(&shifted, &two_notes());
        assert!(!done.is_update && done.lost.is_empty() && wrote(&done.bytes), "{by}");
        // Its own table is sound by now.
        let again = annotated(&done.bytes, &two_notes());
        assert!(again.is_update);
        assert_eq!(annotations(&load(&again.bytes), 0, true).len(), 1);
        let after = load(&done.bytes);
        assert_eq!(contents(&load(file)), contents(&after));
        assert_eq!([0, 1, 2].map(|page| annotations(&after, page, true).len()), [1, 0, 1]);
        assert_eq!(contents(&load(file)), contents(&load(&stripped(&done.bytes))));
    }
}

#[test]
fn annotations_of_others_in_every_form() {
    let link =
        |name: &str| dictionary! { "Type" => "Annot", "Subtype" => "Link", "NM" => Object::string_literal(name) };
    let mut document = plain(6);
    let alone = document.add_object(link("indirect"));
    let array = document.add_object(vec![Object::from(alone), link("direct in it").into()]);
    let shared = document.add_object(vec![Object::from(link("shared"))]);
    let forms: [Option<Object>; 6] = [
        Some(vec![Object::from(link("direct")), alone.into()].into()),
        Some(array.into()),
        Some(shared.into()),
        Some(shared.into()),
        None,
        Some(alone.into()),
    ];
    for (page, form) in forms.into_iter().enumerate() {
        let id = page_id(&document, page);
        let page = document.get_dictionary_mut(id).unwrap();
        form.into_iter().for_each(|form| page.set("Annots", form));
    }
    let file = saved(document);
    // All but the fourth page, which shares its array with the third.
    let notes: Vec<Note> = [0, 1, 2, 4, 5].map(|page| note(page, PLACE)).to_vec();
    let after = load(&annotated(&file, &notes).bytes);
    let names = |page: usize| -> Vec<String> {
        let others = annotations(&after, page, false);
        others
            .iter()
            .map(|link| String::from_utf8(link.get(b"NM").unwrap().as_str().unwrap().to_vec()).unwrap())
            .collect()
    };
    assert_eq!(names(0), ["direct", "indirect"]);
    assert_eq!(names(1), ["indirect", "direct in it"]);
    assert_eq!([names(2), names(3)].concat(), ["shared", "shared"]);
    assert!(names(4).is_empty());
    assert_eq!(names(5), ["indirect"]);
    assert_eq!([0, 1, 2, 3, 4, 5].map(|page| annotations(&after, page, true).len()), [1, 1, 1, 0, 1, 1]);
    assert!(stripped(&annotated(&file, &notes).bytes) == file);
}

#[test]
fn no_notes_and_nothing_to_take_out() {
    let file = saved(plain(1));
    assert!(stripped(&file) == file);
    let done = annotate(&file, &[], None, &Limits::default()).unwrap();
    assert_eq!((done.notes, done.sheets), (0, 0));
    assert!(wrote(&done.bytes) && stripped(&done.bytes) == file);
    assert_eq!(annotations(&load(&done.bytes), 0, true), Vec::<Dictionary>::new());
}

#[test]
fn numbers_of_lost_objects_are_not_given_to_notes() {
    let mut own = plain(3);
    let page = page_id(&own, 0);
    own.get_dictionary_mut(page).unwrap().set("Contents", (900, 0));
    let copy = annotated(&saved(own), &two_notes());
    let copy = load(&copy.bytes);
    assert!(copy.get_object((900, 0)).is_err(), "the page draws a note as its content");
    assert_eq!(annotations(&copy, 0, true).len(), 1);
}
