//! Where notes stand, in coordinates worked out by hand.

use lopdf::{Dictionary, Document, Object, dictionary};

use super::sample::{PLACE, annotated, annotations, document, load, note, numbers, plain, reals, saved};
use crate::annotate::Note;
use crate::annotate::place::{Placed, place};
use crate::units::Mm;

/// White and line around a light note: 1 mm in points.
const AROUND: f32 = 72.0 / 25.4;

/// The place that the outline of the only note surrounds, left, bottom, right, top in units; and its matrix.
fn marked(page: &Dictionary, tree: &Dictionary) -> ([f32; 4], Vec<i64>) {
    let file = saved(document(std::slice::from_ref(page), tree));
    let document = load(&annotated(&file, &[note(0, PLACE)]).bytes);
    let [annotation] = &annotations(&document, 0, true)[..] else { panic!("one note") };
    let (rect, inner) = (reals(annotation, b"Rect"), reals(annotation, b"RD"));
    let unit = page.get(b"UserUnit").and_then(Object::as_float).unwrap_or(1.0);
    let around = AROUND / unit;
    let place = [
        rect[0] + inner[0] + around,
        rect[1] + inner[3] + around,
        rect[2] - inner[2] - around,
        rect[3] - inner[1] - around,
    ];
    let form = form(&document, annotation);
    let matrix = form.get(b"Matrix").unwrap().as_array().unwrap().iter().map(|number| number.as_i64().unwrap());
    let matrix: Vec<i64> = matrix.collect();
    // The form fills the rectangle without being stretched.
    let bounds = reals(&form, b"BBox");
    let (width, height) = if matrix[0] == 0 { (bounds[3], bounds[2]) } else { (bounds[2], bounds[3]) };
    assert!((rect[2] - rect[0] - width).abs() < 0.01 && (rect[3] - rect[1] - height).abs() < 0.01);
    (place, matrix)
}

fn form(document: &Document, annotation: &Dictionary) -> Dictionary {
    stream(document, annotation).0
}

fn stream(document: &Document, annotation: &Dictionary) -> (Dictionary, String) {
    let looks = annotation.get(b"AP").unwrap().as_dict().unwrap();
    let form = looks.get_deref(b"N", document).unwrap().as_stream().unwrap().clone();
    (form.dict, String::from_utf8(form.content).unwrap())
}

#[track_caller]
fn stands(page: &Dictionary, tree: &Dictionary, place: [f32; 4], matrix: [i64; 4]) {
    let (found, turned) = marked(page, tree);
    assert!(found.iter().zip(place).all(|(found, place)| (found - place).abs() < 0.01), "{found:?}, not {place:?}");
    assert_eq!(turned[..4], matrix);
}

const UPRIGHT: [i64; 4] = [1, 0, 0, 1];
const QUARTER: [i64; 4] = [0, 1, -1, 0];
const THREE_QUARTERS: [i64; 4] = [0, -1, 1, 0];

#[test]
fn plain_page() {
    stands(&Dictionary::new(), &Dictionary::new(), [36.0, 256.0, 108.0, 328.0], UPRIGHT);
}

#[test]
fn turned_pages() {
    let none = Dictionary::new();
    stands(&dictionary! { "Rotate" => 90 }, &none, [72.0, 36.0, 144.0, 108.0], QUARTER);
    stands(&dictionary! { "Rotate" => 180 }, &none, [92.0, 72.0, 164.0, 144.0], [-1, 0, 0, -1]);
    stands(&dictionary! { "Rotate" => 270 }, &none, [56.0, 292.0, 128.0, 364.0], THREE_QUARTERS);
    stands(&dictionary! { "Rotate" => -90 }, &none, [56.0, 292.0, 128.0, 364.0], THREE_QUARTERS);
    stands(&dictionary! { "Rotate" => 450 }, &none, [72.0, 36.0, 144.0, 108.0], QUARTER);
}

#[test]
fn cropped_pages() {
    let crop = numbers(&[20, 30, 190, 380]);
    let none = Dictionary::new();
    stands(&dictionary! { "CropBox" => crop.clone() }, &none, [56.0, 236.0, 128.0, 308.0], UPRIGHT);
    stands(&dictionary! { "CropBox" => crop, "Rotate" => 90 }, &none, [92.0, 66.0, 164.0, 138.0], QUARTER);
    // Corners the other way round, and a crop that reaches over the sheet.
    let odd = dictionary! { "MediaBox" => numbers(&[210, 420, 10, 20]), "CropBox" => numbers(&[0, 0, 999, 999]) };
    stands(&odd, &none, [46.0, 276.0, 118.0, 348.0], UPRIGHT);
}

#[test]
fn a_unit_of_its_own() {
    stands(&dictionary! { "UserUnit" => 2 }, &Dictionary::new(), [18.0, 328.0, 54.0, 364.0], UPRIGHT);
}

#[test]
fn inherited_boxes() {
    let tree = dictionary! { "CropBox" => numbers(&[20, 30, 190, 380]), "Rotate" => 90 };
    stands(&Dictionary::new(), &tree, [92.0, 66.0, 164.0, 138.0], QUARTER);
    stands(&dictionary! { "Rotate" => 0 }, &tree, [56.0, 236.0, 128.0, 308.0], UPRIGHT);
}

#[test]
fn notes_look_as_they_say() {
    let light = note(0, PLACE);
    let heavy = Note { heavy: true, number: 120, ..light.clone() };
    let document = load(&annotated(&saved(plain(1)), &[light, heavy]).bytes);
    let both = annotations(&document, 0, true);
    let width = |annotation: &Dictionary| {
        annotation.get(b"BS").unwrap().as_dict().unwrap().get(b"W").unwrap().as_float().unwrap()
    };
    assert!(width(&both[1]) > 2.0 * width(&both[0]));
    for (annotation, digits) in both.iter().zip([1, 3]) {
        assert_eq!(annotation.get(b"Subtype").unwrap().as_name().unwrap(), b"Square");
        assert_eq!(annotation.get(b"F").unwrap().as_i64().unwrap(), 4);
        assert!(!annotation.has(b"M") && !annotation.has(b"CreationDate") && !annotation.has(b"IC"));
        let (_, content) = stream(&document, annotation);
        // Greys only, an outline, a box, and a stroke for each digit.
        let operators: Vec<&str> = content.lines().map(|line| line.rsplit(' ').next().unwrap()).collect();
        assert!(operators.iter().all(|operator| "w J j m l c re f S B g G".split(' ').any(|known| known == *operator)));
        assert_eq!(operators.iter().filter(|operator| **operator == "re").count(), 2);
        assert_eq!(operators.iter().filter(|operator| **operator == "S").count(), digits + 1);
    }
}

#[test]
fn numbers_never_cover_one_another() {
    let paper = (Mm(210.0), Mm(297.0));
    let spot = note(0, PLACE);
    let low =
        Note { rect: Some(crate::geometry::Rect::new(Mm(150.0), Mm(290.0), Mm(220.0), Mm(310.0))), ..spot.clone() };
    let page = Note { rect: None, ..spot.clone() };
    let notes: Vec<Note> = (1..240)
        .map(|number| {
            let of = [&spot, &low, &page][number % 3];
            Note { number: number * 13, heavy: number % 2 == 0, ..of.clone() }
        })
        .collect();
    let placed = place(&notes.iter().collect::<Vec<_>>(), paper);
    assert_eq!(placed.len(), notes.len());
    for (at, one) in placed.iter().enumerate() {
        let label = one.label;
        assert!(label.left.0 >= 0.0 && label.top.0 >= 0.0 && label.right <= paper.0 && label.bottom <= paper.1);
        assert!((label.height().0 - 4.7).abs() < 1e-9);
        let over: Vec<&Placed> = placed.iter().skip(at + 1).filter(|other| other.label.overlaps(&label)).collect();
        assert!(over.is_empty(), "{label:?} and {:?}", over[0].label);
    }
}

#[test]
fn what_is_not_on_the_page_stands_in_its_corner() {
    let far = note(0, [900.0, 900.0, 950.0, 950.0]);
    let none = note(0, [f64::NAN, 0.0, 10.0, 10.0]);
    let whole = Note { rect: None, ..far.clone() };
    let placed = place(&[&far, &none, &whole], (Mm(210.0), Mm(297.0)));
    assert!(placed.iter().all(|placed| placed.outline.is_none() && placed.label.top == Mm(5.0)));
    assert!(placed[0].label.left == Mm(5.0) && placed[0].label.right < placed[1].label.left);
}

#[test]
fn a_page_smaller_than_a_number_is_written_onto_all_the_same() {
    let tiny = dictionary! { "MediaBox" => numbers(&[0, 0, 5, 5]) };
    let file = saved(document(&[tiny], &Dictionary::new()));
    let notes: Vec<Note> = (0..3).map(|_| note(0, [0.0, 0.0, 5.0, 5.0])).collect();
    assert_eq!(annotations(&load(&annotated(&file, &notes).bytes), 0, true).len(), 3);
}
