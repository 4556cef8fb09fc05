//! The printed pages, measured and read back.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};
use rastrum::engraved::{EngravedPage, measure};
use rastrum::layout::{Lying, Page};
use rastrum::limits::Limits;
use rastrum::units::Mm;

use super::DOCUMENTS;
use crate::orchestra::part_of;
use crate::printed::Printed;
use crate::printed::leaf::{Fault, INTO_MARGIN, LEAVES, Leaf, SHRUNK};

const COMMITTED: &[u8] = include_bytes!("../../../src/demo/lantern-ferry-1-printed.pdf");
const RUNNING_HEAD: &str = "Lantern Ferry \u{2013} I. Loading by lamplight";

/// So many pages of the score come first.
const SCORE_PAGES: usize = LEAVES.len();

/// Read once for all checks.
static PRINTED: LazyLock<Printed> = LazyLock::new(|| Printed::of(&DOCUMENTS[0]).expect("pages to print"));

fn measured(bytes: &[u8]) -> Vec<EngravedPage> {
    measure(bytes, &Limits::default()).expect("pages that can be measured")
}

/// Each printed page with what it shows, and its number in the file, counted from 1.
fn each_page(mut check: impl FnMut(u32, Leaf, &Page)) {
    for (number, (leaf, page, _)) in (1..).zip(PRINTED.leaves()) {
        check(number, leaf, page);
    }
}

#[test]
fn the_committed_pages_are_what_the_program_prints() {
    let bytes = PRINTED.pdf().expect("a file");
    // Another version of the library that packs may pack otherwise: what counts is what is packed.
    assert!(unpacked(&bytes) == unpacked(COMMITTED), "run the program again into src/demo");
    assert!(bytes == PRINTED.pdf().expect("a file"), "the same bytes each time");
    assert!(bytes.len() < 100_000, "{} bytes", bytes.len());
}

fn unpacked(bytes: &[u8]) -> BTreeMap<ObjectId, Object> {
    let mut document = Document::load_mem(bytes).expect("our own file");
    document.decompress();
    document.objects
}

#[test]
fn six_pages_of_the_score_are_followed_by_the_whole_part() {
    let labels: Vec<&str> = PRINTED.leaves().iter().map(|(_, page, _)| page.label.as_str()).collect();
    assert_eq!(labels, ["9", "10", "11", "12", "13", "14", "2", "3"]);
}

#[test]
fn staves_and_systems_stand_where_the_layout_has_them() {
    let pages = measured(COMMITTED);
    each_page(|number, leaf, page| {
        let own = &pages[number as usize - 1];
        // A page that lies on its side is measured as if it stood upright.
        assert_eq!(own.lies, (leaf.fault == Some(Fault::Sideways)).then_some(Lying::Down));
        let scale = if leaf.fault == Some(Fault::Shrunk) { SHRUNK } else { 1.0 };
        near(own.size.0, page.size.value.0, "width");
        same_staves(own, page, scale, number as usize <= SCORE_PAGES);
    });
}

#[test]
fn the_page_that_lies_on_its_side_is_right_once_it_is_turned() {
    let mut document = Document::load_mem(COMMITTED).expect("our own file");
    let mut turned = 0;
    for page in document.get_pages().into_values() {
        let page = document.get_dictionary_mut(page).expect("a page");
        turned += usize::from(page.remove(b"Rotate").is_some());
    }
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("a file in memory");
    let pages = measured(&bytes);
    assert_eq!(turned, 1);
    each_page(|number, leaf, page| {
        if leaf.fault == Some(Fault::Sideways) {
            same_staves(&pages[number as usize - 1], page, 1.0, true);
        }
    });
}

/// Tops, heights, ends and joints of all staves; scaled about the corner of the margins.
fn same_staves(own: &EngravedPage, page: &Page, scale: f64, is_score: bool) {
    let margins = page.margins.value;
    let across = |x: Mm| margins.left + (x - margins.left) * scale;
    let down = |y: Mm| margins.top + (y - margins.top) * scale;
    let label = &page.label;
    assert_eq!(own.systems.len(), page.systems.len(), "page {label}");
    for (own, system) in own.systems.iter().zip(&page.systems) {
        assert_eq!(own.staves.len(), system.staves.len(), "page {label}");
        for (at, (own, staff)) in own.staves.iter().zip(&system.staves).enumerate() {
            near(own.rect.top, down(staff.top), label);
            near(own.rect.height(), staff.height * scale, label);
            near(own.rect.left, across(system.rect.left), label);
            near(own.rect.right, across(system.rect.right), label);
            assert_eq!(own.lines, 5);
            let below = system.staves.get(at + 1).and_then(|below| below.staff).zip(staff.staff);
            let joined = below
                .is_some_and(|(below, staff)| !is_score || part_of(below.at()).family == part_of(staff.at()).family);
            assert_eq!(own.joined_below, joined, "page {label}, staff {at}");
        }
    }
}

fn near(own: Mm, expected: Mm, what: &str) {
    assert!((own - expected).abs() < Mm(0.05), "{what}: {own:?} for {expected:?}");
}

#[test]
fn one_page_lacks_its_number_and_the_part_its_running_head() {
    let document = Document::load_mem(COMMITTED).expect("our own file");
    each_page(|number, leaf, page| {
        let text = document.extract_text(&[number]).expect("text of the page");
        let has = |line: &str| text.lines().any(|own| own.trim() == line);
        assert_eq!(has(&page.label), leaf.fault != Some(Fault::NoPageNumber), "page {}", page.label);
        let is_score = number as usize <= SCORE_PAGES;
        assert_eq!(has(RUNNING_HEAD), is_score, "page {}", page.label);
        // The first page of the part says whose it is, the second does not.
        assert_eq!(has("Violins I"), number as usize == SCORE_PAGES + 1, "page {}", page.label);
        let bars = page.systems.iter().filter_map(|system| system.span());
        for first in bars.map(|bars| (bars.first.at() + 1).to_string()) {
            assert!(has(&first), "bar {first} of page {}", page.label);
        }
        for name in ["Fl. 1", "Cl. 1.2", "Hp.", "Vln. I", "Db."] {
            assert_eq!(has(name), is_score, "{name} of page {}", page.label);
        }
    });
}

#[test]
fn one_hairpin_runs_into_the_right_margin() {
    let document = Document::load_mem(COMMITTED).expect("our own file");
    let ids = document.get_pages();
    each_page(|number, leaf, page| {
        let right = page.size.value.0 - page.margins.value.right;
        let content = document.get_page_content(ids[&number]);
        let rightmost = rightmost(&Content::decode(&content).expect("operators"));
        if leaf.fault == Some(Fault::HairpinInMargin) {
            near(rightmost, right + INTO_MARGIN, &page.label);
        } else {
            assert!(rightmost < right + Mm(0.1), "page {}: {rightmost}", page.label);
        }
    });
}

/// The right end of everything that is drawn, in the page's own millimetres; where text begins, too.
fn rightmost(content: &Content) -> Mm {
    let number = |operand: &Object| operand.as_float().map_or(0.0, f64::from);
    let ends = content.operations.iter().flat_map(|operation| {
        let own: Vec<f64> = operation.operands.iter().map(number).collect();
        match (operation.operator.as_str(), own.as_slice()) {
            ("m" | "l", [x, _]) => vec![*x],
            ("c", [a, _, b, _, c, _]) => vec![*a, *b, *c],
            ("re", [x, _, width, _]) => vec![x + width],
            ("Tm", [.., x, _]) => vec![*x],
            _ => Vec::new(),
        }
    });
    Mm(ends.fold(0.0, f64::max))
}

#[test]
fn two_dividers_stand_on_page_13_and_none_on_page_14() {
    let dividers = |label: &str| {
        let leaves = PRINTED.leaves();
        let page = leaves.iter().map(|(_, page, _)| page).find(|page| page.label == label).expect("the page");
        page.systems.last().and_then(|system| system.divider_above)
    };
    assert_eq!((dividers("13"), dividers("14")), (Some(true), Some(false)));
    let document = Document::load_mem(COMMITTED).expect("our own file");
    let ids = document.get_pages();
    each_page(|number, _, page| {
        let [upper, lower] = page.systems.as_slice() else { return };
        if number as usize > SCORE_PAGES {
            return;
        }
        let content = document.get_page_content(ids[&number]);
        let content = Content::decode(&content).expect("operators");
        let middle = (upper.rect.bottom + lower.rect.top).0 / 2.0;
        let begins = content.operations.iter().filter(|operation| operation.operator == "m").filter(|operation| {
            let y = operation.operands.get(1).and_then(|y| y.as_float().ok()).map_or(0.0, f64::from);
            (y - middle).abs() < 3.0
        });
        // Two strokes at either end.
        assert_eq!(begins.count(), if page.label == "13" { 4 } else { 0 }, "page {}", page.label);
    });
}
