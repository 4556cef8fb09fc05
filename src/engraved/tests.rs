//! Pages drawn by hand, one way of drawing at a time: content in, staves and systems out.

use std::fmt::Write;

use lopdf::{
    Dictionary, Document, EncryptionState, EncryptionVersion, Object, Permissions, Stream, StringFormat, dictionary,
};

use super::{EngravedError, EngravedPage, is_pdf, measure};
use crate::layout::StaffRole;
use crate::limits::Limits;
use crate::units::Mm;

const POINT: f64 = 25.4 / 72.0;

/// A file of one A4 page; `extra` goes into the page.
fn file(content: &str, extra: &Dictionary) -> Vec<u8> {
    with_form(content, extra, None)
}

/// The form, if any, is called /F.
fn with_form(content: &str, extra: &Dictionary, form: Option<&str>) -> Vec<u8> {
    let mut document = Document::with_version("1.7");
    let tree = document.new_object_id();
    let content = document.add_object(Stream::new(Dictionary::new(), content.as_bytes().to_vec()));
    let mut objects = Dictionary::new();
    if let Some(form) = form {
        let head = dictionary! { "Type" => "XObject", "Subtype" => "Form", "BBox" => numbers(&[0, 0, 595, 842]) };
        objects.set("F", document.add_object(Stream::new(head, form.as_bytes().to_vec())));
    }
    let pixel = dictionary! {
        "Type" => "XObject", "Subtype" => "Image", "Width" => 1, "Height" => 1, "ColorSpace" => "DeviceGray",
        "BitsPerComponent" => 8,
    };
    objects.set("I", document.add_object(Stream::new(pixel, vec![0x80])));
    let mut page = dictionary! {
        "Type" => "Page", "Parent" => tree, "MediaBox" => numbers(&[0, 0, 595, 842]), "Contents" => content,
        "Resources" => dictionary! { "XObject" => objects },
    };
    page.extend(extra);
    let page = document.add_object(page);
    let pages = dictionary! { "Type" => "Pages", "Kids" => vec![page.into()], "Count" => 1 };
    document.objects.insert(tree, Object::Dictionary(pages));
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => tree });
    document.trailer.set("Root", catalog);
    saved(document)
}

fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("a document in memory");
    bytes
}

fn numbers(all: &[i64]) -> Object {
    Object::Array(all.iter().map(|number| Object::Integer(*number)).collect())
}

/// Five strokes, 5 points apart, from 50 to 545; `top` from the page's foot.
fn staff(top: f64) -> String {
    (0..5).fold("0.5 w\n".to_owned(), |mut text, line| {
        let at = top - 5.0 * f64::from(line);
        let _ = writeln!(text, "50 {at} m 545 {at} l S");
        text
    })
}

fn upright(x: f64, top: f64, bottom: f64) -> String {
    format!("0.5 w {x} {top} m {x} {bottom} l S\n")
}

fn page(bytes: &[u8]) -> EngravedPage {
    let pages = measure(bytes, &Limits::default()).expect("pages that can be measured");
    assert_eq!(pages.len(), 1);
    pages.into_iter().next().expect("one page")
}

fn sizes(page: &EngravedPage) -> Vec<usize> {
    page.systems.iter().map(|system| system.staves.len()).collect()
}

fn near(own: Mm, points: f64) {
    assert!((own.0 - points * POINT).abs() < 0.01, "{} mm for {points} points", own.0);
}

fn refused(bytes: &[u8]) -> EngravedError {
    measure(bytes, &Limits::default()).expect_err("a file that cannot be measured")
}

#[test]
fn places_are_from_the_top_left_corner_of_the_paper() {
    let page = page(&file(&staff(742.0), &Dictionary::new()));
    near(page.size.0, 595.0);
    near(page.size.1, 842.0);
    let rect = page.staves().next().expect("a staff").rect;
    near(rect.top, 100.0);
    near(rect.height(), 20.0);
    near(rect.left, 50.0);
    near(rect.right, 545.0);
}

#[test]
fn the_page_may_have_a_unit_a_crop_and_a_rotation() {
    let doubled = page(&file(&staff(742.0), &dictionary! { "UserUnit" => 2 }));
    near(doubled.size.0, 1190.0);
    near(doubled.staves().next().expect("a staff").rect.height(), 40.0);

    let cropped = page(&file(&staff(742.0), &dictionary! { "CropBox" => numbers(&[20, 0, 595, 800]) }));
    near(cropped.size.1, 800.0);
    let rect = cropped.staves().next().expect("a staff").rect;
    near(rect.top, 58.0);
    near(rect.left, 30.0);

    // Upright lines of the content are level on the sheet that is shown turned by a quarter.
    let lines: String = (0..5).map(|line| upright(100.0 + 5.0 * f64::from(line), 742.0, 100.0)).collect();
    let turned = page(&file(&lines, &dictionary! { "Rotate" => 90 }));
    near(turned.size.0, 842.0);
    near(turned.staves().next().expect("a staff").rect.height(), 20.0);
}

#[test]
fn lines_are_lines_however_they_are_drawn() {
    let one = |content: &str| {
        let page = page(&file(content, &Dictionary::new()));
        assert_eq!(sizes(&page), [1], "{content}");
        let rect = page.staves().next().expect("a staff").rect;
        near(rect.top, 100.0);
        near(rect.height(), 20.0);
        near(rect.right, 545.0);
    };
    let rows =
        |draw: &dyn Fn(f64) -> String| (0..5).map(|line| draw(742.0 - 5.0 * f64::from(line))).collect::<String>();
    // Bar by bar, and the last bar first.
    one(&rows(&|at| format!("0.5 w 300 {at} m 545 {at} l S 50 {at} m 300 {at} l S\n")));
    // As thin rectangles; as polygons.
    one(&rows(&|at| format!("50 {} 495 0.5 re f\n", at - 0.25)));
    one(&rows(&|at| format!("50 {} m 545 {} l 545 {} l 50 {} l h f\n", at - 0.25, at - 0.25, at + 0.25, at + 0.25)));
    // All in one path; under a transformation that stands on its head.
    one(&format!("0.5 w {} S", rows(&|at| format!("50 {at} m 545 {at} l "))));
    one(&format!(
        "q 0.1 0 0 -0.1 0 842 cm 5 w {} Q",
        rows(&|at| format!("500 {0} m 5450 {0} l S ", (842.0 - at) * 10.0))
    ));
}

#[test]
fn a_form_is_drawn_where_it_is_put() {
    let bytes = with_form("q 1 0 0 1 0 -300 cm /F Do Q", &Dictionary::new(), Some(&staff(742.0)));
    near(page(&bytes).staves().next().expect("a staff").rect.top, 400.0);
    // A form that draws itself ends.
    let endless = with_form(&(staff(742.0) + "/F Do"), &Dictionary::new(), Some("q /F Do Q"));
    assert_eq!(sizes(&page(&endless)), [1]);
}

#[test]
fn a_line_at_the_left_makes_a_system_and_barlines_a_family() {
    let staves: String = [742.0, 682.0, 622.0, 400.0].map(staff).concat();
    // The system's line runs through three staves, barlines through the first two; the fourth stands alone.
    let lines = upright(50.0, 742.0, 602.0) + &upright(300.0, 742.0, 662.0) + &upright(545.0, 742.0, 662.0);
    let page = page(&file(&(staves + &lines), &Dictionary::new()));
    assert_eq!(sizes(&page), [3, 1]);
    assert_eq!(page.staves().map(|staff| staff.joined_below).collect::<Vec<_>>(), [true, false, false, false]);
}

#[test]
fn a_single_line_with_the_ends_of_a_staff_is_a_staff_and_nothing_shorter_is() {
    let single = "0.5 w 50 640 m 545 640 l S 200 560 m 240 560 l S\n";
    let content = staff(742.0) + single + &upright(50.0, 742.0, 636.0);
    let page = page(&file(&content, &Dictionary::new()));
    assert_eq!(page.staves().map(|staff| staff.lines).collect::<Vec<_>>(), [5, 1]);
    assert_eq!(sizes(&page), [2]);
}

#[test]
fn beams_slanted_lines_and_other_ends_are_no_staff() {
    let rows =
        |draw: &dyn Fn(f64) -> String| (0..5).map(|line| draw(742.0 - 5.0 * f64::from(line))).collect::<String>();
    let thick = rows(&|at| format!("3 w 50 {at} m 545 {at} l S\n"));
    let slanted = rows(&|at| format!("0.5 w 50 {at} m 545 {} l S\n", at + 3.0));
    let stairs = rows(&|at| format!("0.5 w 50 {at} m {} {at} l S\n", at / 2.0));
    for content in [thick, slanted, stairs] {
        assert_eq!(refused(&file(&content, &Dictionary::new())), EngravedError::NoStaves, "{content}");
    }
}

#[test]
fn what_cannot_be_measured_is_told_apart() {
    assert_eq!(refused(b"<score-partwise/>"), EngravedError::NotPdf);
    assert_eq!(refused(b"%PDF-1.7 and nothing else"), EngravedError::NotPdf);
    assert_eq!(refused(&file("", &Dictionary::new())), EngravedError::NoStaves);
    assert_eq!(refused(&file("595 0 0 842 0 0 cm /I Do", &Dictionary::new())), EngravedError::Picture);

    let whole = file(&staff(742.0), &Dictionary::new());
    let few = Limits { pages: 0, ..Limits::default() };
    assert_eq!(measure(&whole, &few), Err(EngravedError::TooManyPages { limit: 0 }));
    for end in (0..whole.len()).step_by(37) {
        let _ = measure(whole.get(..end).unwrap_or_default(), &Limits::default());
    }
}

/// Locked: pages open with `user`, and without any password where it is empty.
fn locked(user: &str) -> Vec<u8> {
    let mut document = Document::load_mem(&file(&staff(742.0), &Dictionary::new())).expect("our own file");
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
fn a_file_that_opens_only_with_a_password_says_so() {
    assert_eq!(refused(&locked("user")), EngravedError::Password);
    // Locked against changes only.
    assert_eq!(sizes(&page(&locked(""))), [1]);
}

#[test]
fn a_stream_that_unpacks_without_end_is_refused() {
    let mut document = Document::load_mem(&file(&" ".repeat(4 << 20), &Dictionary::new())).expect("our own file");
    document.compress();
    let bytes = saved(document);
    assert!(bytes.len() < 64 << 10, "the spaces are packed");
    let limits = Limits { page_content_bytes: 1 << 20, ..Limits::default() };
    assert_eq!(measure(&bytes, &limits), Err(EngravedError::TooLarge { limit: 1 << 20 }));
}

#[test]
fn a_pdf_is_known_by_its_first_bytes() {
    assert!(is_pdf(b"%PDF-1.4\n"));
    assert!(is_pdf(b"\0\0\0 %PDF-1.4\n"));
    assert!(!is_pdf(b"<?xml version=\"1.0\"?>"));
    assert!(!is_pdf(b""));
}

/// One head (a quad of its size) in a bar whose left end stands at `x`.
fn head(x: f64, middle: f64) -> String {
    format!("{} {middle} m {x} {} l {} {middle} l {x} {} l h f\n", x - 3.0, middle + 2.5, x + 3.0, middle - 2.5)
}

fn bars(page: &EngravedPage) -> Vec<Vec<i64>> {
    let ends =
        |system: &super::EngravedSystem| system.bars.iter().map(|bar| (bar.right.0 / POINT).round() as i64).collect();
    page.systems.iter().map(ends).collect()
}

#[test]
fn barlines_make_bars_and_stems_do_not() {
    // A stem from a head on the second line runs as far as the bottom line; it is thinner than a barline.
    let stem = "0.3 w 400 737 m 400 722 l S\n".to_owned() + &head(397.0, 737.0);
    let lines = upright(300.0, 742.0, 722.0) + &upright(545.0, 742.0, 722.0) + &stem;
    let page = page(&file(&(staff(742.0) + &lines + &head(200.0, 730.0)), &Dictionary::new()));
    assert_eq!(bars(&page), [[300, 545]]);
    let heads: Vec<u32> = page.systems[0].bars.iter().map(|bar| bar.heads).collect();
    assert_eq!(heads, [1, 1]);
}

#[test]
fn a_repeat_after_the_clef_begins_the_first_bar_and_a_double_barline_is_one() {
    let thick = |x: f64| format!("{} 722 3 20 re f\n", x - 1.5);
    let repeat = thick(90.0) + &upright(93.5, 742.0, 722.0);
    let double = upright(300.0, 742.0, 722.0) + &upright(303.0, 742.0, 722.0);
    let content = staff(742.0) + &repeat + &double + &upright(545.0, 742.0, 722.0);
    assert_eq!(bars(&page(&file(&(content + &head(150.0, 730.0)), &Dictionary::new()))), [[303, 545]]);
}

#[test]
fn a_staff_may_go_on_with_one_line() {
    let mut content = "0.5 w\n".to_owned();
    for line in 0..5 {
        let at = 742.0 - 5.0 * f64::from(line);
        let right = if line == 2 { 545.0 } else { 300.0 };
        let _ = writeln!(content, "50 {at} m {right} {at} l S");
    }
    let page = page(&file(&content, &Dictionary::new()));
    assert_eq!(sizes(&page), [1]);
    near(page.staves().next().expect("a staff").rect.right, 545.0);
}

#[test]
fn small_staves_are_cues_or_ossias_and_an_ossia_is_no_system() {
    let small = |left: f64, right: f64, top: f64| {
        (0..5).map(|line| format!("{left} {0} m {right} {0} l S\n", top - 3.5 * f64::from(line))).collect::<String>()
    };
    let lower = staff(682.0) + &staff(622.0) + &upright(50.0, 742.0, 602.0);
    let with_cue = page(&file(&(small(50.0, 545.0, 742.0) + &lower), &Dictionary::new()));
    assert_eq!(sizes(&with_cue), [3]);
    assert_eq!(with_cue.staves().next().expect("a staff").role, StaffRole::Cue);
    let with_ossia = page(&file(&(small(200.0, 400.0, 715.0) + &lower), &Dictionary::new()));
    assert_eq!(sizes(&with_ossia), [3]);
    assert_eq!(with_ossia.staves().next().expect("a staff").role, StaffRole::Ossia);
}

#[test]
fn what_is_white_clipped_or_hidden_is_not_there() {
    for hidden in [format!("1 1 1 RG {}", staff(600.0)), format!("q 0 0 10 10 re W n {} Q", staff(600.0))] {
        let content = format!("{}{hidden}", staff(742.0));
        assert_eq!(sizes(&page(&file(&content, &Dictionary::new()))), [1], "{hidden}");
    }
    // A dashed line is a line.
    let dashed = staff(742.0).replace("0.5 w", "0.5 w [2 1] 0 d");
    assert_eq!(sizes(&page(&file(&dashed, &Dictionary::new()))), [1]);
}

#[test]
fn two_strokes_half_way_between_systems_are_a_divider() {
    let stroke = |x: f64, y: f64| {
        format!("{x} {y} m {} {} l {} {} l {x} {} l h f\n", x + 12.0, y + 6.0, x + 12.0, y + 9.0, y + 3.0)
    };
    let systems = staff(742.0) + &staff(542.0);
    let with = page(&file(&(systems.clone() + &stroke(40.0, 630.0) + &stroke(40.0, 624.0)), &Dictionary::new()));
    assert_eq!(with.systems.iter().map(|system| system.divider_above).collect::<Vec<_>>(), [None, Some(true)]);
    let without = page(&file(&(systems + &stroke(250.0, 630.0)), &Dictionary::new()));
    assert_eq!(without.systems[1].divider_above, Some(false));
}

#[test]
fn staves_of_six_lines_alone_are_tablature() {
    let six: String = (0..6).map(|line| format!("0.5 w 50 {0} m 545 {0} l S\n", 742 - 6 * line)).collect();
    assert_eq!(refused(&file(&six, &Dictionary::new())), EngravedError::Tablature);
}

/// Forms that each draw the next one ten times, `depth` deep; the last one draws `inmost`.
fn exploding(depth: usize, inmost: &str) -> Vec<u8> {
    let mut document = Document::load_mem(&file(&(staff(742.0) + "/F Do"), &Dictionary::new())).expect("our own file");
    let form = |document: &mut Document, content: &str, inner: Option<lopdf::ObjectId>| {
        let mut head = dictionary! { "Type" => "XObject", "Subtype" => "Form", "BBox" => numbers(&[0, 0, 595, 842]) };
        let inner = inner.map_or_else(Dictionary::new, |id| dictionary! { "F" => id });
        head.set("Resources", dictionary! { "XObject" => inner });
        document.add_object(Stream::new(head, content.as_bytes().to_vec()))
    };
    let mut inner = form(&mut document, inmost, None);
    for _ in 0..depth {
        inner = form(&mut document, &"/F Do ".repeat(10), Some(inner));
    }
    let page = *document.get_pages().values().next().expect("a page");
    let resources = dictionary! { "XObject" => dictionary! { "F" => inner } };
    document.get_dictionary_mut(page).expect("the page").set("Resources", resources);
    saved(document)
}

#[test]
fn forms_that_draw_each_other_without_end_are_not_followed() {
    assert_eq!(sizes(&page(&exploding(2, "0 0 1 1 re f"))), [1]);
    // Ten thousand million drawings of one point: the page is left out, and it is the only one.
    assert_eq!(refused(&exploding(10, "0 0 1 1 re f")), EngravedError::Endless);
}

#[test]
fn a_round_of_forms_is_followed_only_where_each_draws_the_next_one_once() {
    // The first form draws the second `times`, that one the third, and the third the first again.
    let round = |times: usize| {
        let mut document =
            Document::load_mem(&file(&(staff(742.0) + "/F Do"), &Dictionary::new())).expect("our own file");
        let ids = [document.new_object_id(), document.new_object_id(), document.new_object_id()];
        for (at, id) in ids.iter().enumerate() {
            let next = ids[(at + 1) % 3];
            let head = dictionary! {
                "Type" => "XObject", "Subtype" => "Form", "BBox" => numbers(&[0, 0, 595, 842]),
                "Resources" => dictionary! { "XObject" => dictionary! { "F" => next } },
            };
            let content = "/F Do ".repeat(if at == 0 { times } else { 1 });
            document.objects.insert(*id, Stream::new(head, content.into_bytes()).into());
        }
        let page = *document.get_pages().values().next().expect("a page");
        let resources = dictionary! { "XObject" => dictionary! { "F" => ids[0] } };
        document.get_dictionary_mut(page).expect("the page").set("Resources", resources);
        saved(document)
    };
    assert_eq!(sizes(&page(&round(1))), [1]);
    assert_eq!(refused(&round(2)), EngravedError::Endless);
}

#[test]
fn a_page_that_asks_too_much_does_not_lose_the_others() {
    let mut document = Document::load_mem(&exploding(10, "0 0 1 1 re f")).expect("our own file");
    let content = document.add_object(Stream::new(Dictionary::new(), staff(742.0).into_bytes()));
    let tree = document.catalog().expect("a catalog").get(b"Pages").and_then(Object::as_reference).expect("its pages");
    let second = dictionary! {
        "Type" => "Page", "Parent" => tree, "MediaBox" => numbers(&[0, 0, 595, 842]), "Contents" => content,
    };
    let second = document.add_object(second);
    let pages = document.get_dictionary_mut(tree).expect("the tree");
    pages.get_mut(b"Kids").and_then(Object::as_array_mut).expect("kids").push(second.into());
    pages.set("Count", 2);
    let pages = measure(&saved(document), &Limits::default()).expect("one page that can be measured");
    assert_eq!(
        pages.iter().map(|page| (page.is_unread, page.systems.len())).collect::<Vec<_>>(),
        [(true, 0), (false, 1)]
    );
}

#[test]
fn a_page_tree_that_bites_its_tail_ends() {
    let mut document = Document::load_mem(&file(&staff(742.0), &Dictionary::new())).expect("our own file");
    let tree = document.catalog().expect("a catalog").get(b"Pages").and_then(Object::as_reference).expect("its pages");
    let pages = document.get_dictionary_mut(tree).expect("the tree");
    pages.get_mut(b"Kids").and_then(Object::as_array_mut).expect("kids").push(tree.into());
    pages.set("Count", 100_000);
    let _ = measure(&saved(document), &Limits::default());
}
