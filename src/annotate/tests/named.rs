//! What notes say, and what they are called.

use super::sample::{PLACE, annotated, annotations, load, note, plain, saved};
use crate::annotate::Note;

#[test]
fn texts_in_any_script() {
    let said =
        Note {
            title: "Zu eng – слишком".into(), text: "Weiter\nauseinander (12 mm) \\".into(), ..note(0, PLACE)
        };
    let document = load(&annotated(&saved(plain(1)), &[said]).bytes);
    let read = |key: &[u8]| lopdf::decode_text_string(annotations(&document, 0, true)[0].get(key).unwrap()).unwrap();
    assert_eq!(read(b"Subj"), "Zu eng – слишком");
    assert_eq!(read(b"Contents"), "Zu eng – слишком\nWeiter\nauseinander (12 mm) \\");
    assert_eq!(read(b"T"), "rastrum");
    assert_eq!(read(b"NM"), "rastrum-some-rule/bar-12");
}

#[test]
fn places_of_one_finding_are_told_apart() {
    let named = |page: usize, name: &str| Note { name: name.into(), ..note(page, PLACE) };
    let notes = [named(0, "a"), named(0, "a-2"), named(0, "a"), named(1, "a"), named(1, "б")];
    let document = load(&annotated(&saved(plain(2)), &notes).bytes);
    let all = [0, 1].map(|page| annotations(&document, page, true)).concat();
    let names: Vec<String> =
        all.iter().map(|note| lopdf::decode_text_string(note.get(b"NM").unwrap()).unwrap()).collect();
    assert_eq!(names, ["rastrum-a", "rastrum-a-2", "rastrum-a-3", "rastrum-a-4", "rastrum-б"]);
}

#[test]
fn same_input_same_bytes() {
    let file = saved(plain(2));
    let notes = [note(0, PLACE), note(1, PLACE)];
    let one = annotated(&file, &notes);
    assert_eq!(one, annotated(&file, &notes));
    assert_eq!(one.notes, 2);
}
