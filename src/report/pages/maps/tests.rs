use std::collections::BTreeSet;

use proptest::collection::vec;
use proptest::prelude::*;

use super::choose::{Choice, choose};
use super::dimension::Dimension;
use super::marks::Marked;
use super::plate::Plate;
use super::*;
use crate::geometry::Rect;
use crate::layout::Origin;
use crate::place::{PageIdx, Place};
use crate::report::pdf::{Meta, PdfError};
use crate::rules::{Scope, Weight};
use crate::units::Mm;

mod made;

use made::{Work, finding, in_gap, work};

const WEIGHTS: [Weight; 3] = [Weight::Stop, Weight::Mend, Weight::Look];

fn drawn(work: &Work, findings: &[Finding], extent: Extent) -> (Drawn, Result<Vec<u8>, PdfError>) {
    let subject = Subject::new(&work.score, &work.layout, &work.survey, findings);
    let mut doc = Document::new(Meta::new("A made-up work", "en-GB"));
    let drawn = write(&mut doc, &Frame::new("A made-up work"), &subject, extent, &BTreeSet::new());
    (drawn, doc.finish())
}

fn chosen(work: &Work, findings: &[Finding], extent: Extent) -> Choice {
    let subject = Subject::new(&work.score, &work.layout, &work.survey, findings);
    choose(&subject, extent, |opening| opening::sheets(&subject, opening))
}

/// The marks of the opening of pages 2 and 3, with what they may not cover.
fn seated(work: &Work, findings: &[Finding]) -> (Vec<Marked>, Vec<Rect>) {
    let subject = Subject::new(&work.score, &work.layout, &work.survey, findings);
    let plan = sheet::opening(&work.layout, &[PageIdx(1), PageIdx(2)], sheet::scale(&work.layout));
    let plates: Vec<Plate<'_>> =
        plan.views.iter().filter_map(|(index, view)| Plate::new(&subject, *index, *view)).collect();
    let marked = marks::seat(&work.layout, &plan, &plates, &spots::of(findings, &work.layout), &[]);
    let taken = plates.iter().flat_map(|plate| plate.taken().into_iter().chain(plate.words())).collect();
    (marked, taken)
}

fn assert_legible(marked: &[Marked], taken: &[Rect]) {
    let seats: Vec<Rect> = marked.iter().filter_map(|marked| marked.seat).map(|seat| seat.mark).collect();
    for (at, mark) in seats.iter().enumerate() {
        assert!(mark.left >= sheet::LEFT && mark.right <= sheet::RIGHT && mark.top >= Mm(12.0));
        assert!(seats.iter().skip(at + 1).all(|other| !mark.overlaps(other)), "two marks at {mark:?}");
        assert!(taken.iter().all(|rect| !mark.overlaps(rect)), "{mark:?} covers a staff or a word");
    }
}

/// Forty findings on page 2, in turn of each weight.
fn forty() -> Vec<Finding> {
    let gap = |at: usize| (at / 2, (at as u32 % 2) * 2);
    (0..40).map(|at| in_gap(1, gap(at).0, gap(at).1..gap(at).1 + 1, WEIGHTS[at % 3])).collect()
}

#[test]
fn forty_findings_on_one_page_each_have_a_mark() {
    let (marked, taken) = seated(&work(3), &forty());
    assert_eq!(marked.iter().filter(|marked| marked.seat.is_some()).count(), 40);
    assert_legible(&marked, &taken);
}

#[test]
fn forty_findings_on_one_page_are_all_told() {
    let (work, findings) = (work(3), forty());
    let (drawn, bytes) = drawn(&work, &findings, Extent::Full);
    assert_eq!(drawn.marked, (1..=40).collect());
    assert!(bytes.is_ok());
    // The opening, a sheet on which its words go on, the worst page.
    assert_eq!(drawn.sheets.len(), 3);
}

#[test]
fn a_quiet_opening_has_no_sheet_but_is_told_of() {
    let findings = [in_gap(1, 4, 0..6, Weight::Mend), in_gap(7, 4, 0..6, Weight::Mend)];
    let choice = chosen(&work(10), &findings, Extent::Full);
    let told: Vec<&str> = choice.openings.iter().map(|opening| opening.around.as_str()).collect();
    assert_eq!(told, ["Page 1: nothing to say.", "Pages 4\u{2013}7, 10: nothing to say."]);
}

#[test]
fn the_budget_is_kept_by_leaving_out_what_weighs_least() {
    let findings =
        [in_gap(1, 4, 0..6, Weight::Look), in_gap(3, 4, 0..6, Weight::Stop), in_gap(5, 4, 0..6, Weight::Mend)];
    let work = work(7);
    let choice = chosen(&work, &findings, Extent::AtMost(3));
    let pages: Vec<PageIdx> = choice.openings.iter().filter_map(|opening| opening.pages.first().copied()).collect();
    assert_eq!(pages, [PageIdx(3), PageIdx(5)]);
    assert_eq!(choice.worst.map(|worst| worst.pages), Some(vec![PageIdx(3)]));
    let first = choice.openings.first().map(|opening| opening.around.as_str());
    assert_eq!(first, Some("Page 1: nothing to say. Pages 2\u{2013}3: 1 finding, drawn in the full report."));
    for budget in 0..6 {
        assert!(drawn(&work, &forty(), Extent::AtMost(budget)).0.sheets.len() <= budget);
    }
}

#[test]
fn what_holds_for_the_whole_work_is_marked_at_its_first_place_alone() {
    let places = (0..5).map(|page| Place::page(PageIdx(page))).collect();
    let findings = [finding(Weight::Mend, Scope::Work, places, "All staves are 3.2 mm high.")];
    let choice = chosen(&work(5), &findings, Extent::Full);
    assert_eq!(choice.openings.iter().map(|opening| opening.spots.len()).collect::<Vec<_>>(), [1]);
    assert_eq!(choice.worst, None, "a larger picture would show nothing more");
}

#[test]
fn a_finding_shows_its_number_at_each_of_its_places() {
    let places = [in_gap(1, 3, 0..1, Weight::Mend), in_gap(2, 9, 2..3, Weight::Mend)];
    let places = places.into_iter().flat_map(|finding| finding.places).collect();
    let findings =
        [finding(Weight::Mend, Scope::Work, vec![], ""), finding(Weight::Mend, Scope::Bar, places, "Too close.")];
    let (marked, _) = seated(&work(3), &findings);
    assert_eq!(marked.iter().map(|marked| marked.spot.number).collect::<Vec<_>>(), [2, 2]);
}

#[test]
fn a_map_says_in_words_what_it_shows() {
    let work = work(3);
    let findings =
        [in_gap(1, 4, 2..3, Weight::Stop), finding(Weight::Look, Scope::Page, vec![Place::page(PageIdx(2))], "")];
    let subject = Subject::new(&work.score, &work.layout, &work.survey, &findings);
    let choice = chosen(&work, &findings, Extent::Full);
    let told: Vec<String> = choice.openings.iter().map(|opening| told::picture(&subject, opening)).collect();
    let expected = "Pages 2 and 3. Page 2: 1 system of 23 staves, bars 7 to 12; finding 1 (square) at bar 9. \
                    Page 3: 1 system of 23 staves, bars 13 to 18; finding 2 (ring).";
    assert_eq!(told, [expected]);
}

#[test]
fn an_estimated_distance_is_said_to_be_one_and_not_measured_out() {
    let mut work = work(3);
    let findings = [in_gap(1, 4, 2..3, Weight::Stop)];
    let measured = |work: &Work| {
        let subject = Subject::new(&work.score, &work.layout, &work.survey, &findings);
        let worst = chosen(work, &findings, Extent::Full).worst.unwrap();
        let view = *sheet::alone(&work.layout, PageIdx(1)).unwrap().view(PageIdx(1)).unwrap();
        let dimension = Dimension::tightest(&subject, &worst, PageIdx(1), &view);
        (dimension.map(|dimension| dimension.told()), told::estimated(&subject, &worst.pages))
    };
    let told = "Measured out: 6.4 spaces = 8 mm; wanted: 4 mm; what stands in it takes about 6 mm at bar 9.";
    assert_eq!(measured(&work), (Some(told.to_owned()), ""));
    for staff in work.layout.pages.iter_mut().flat_map(|page| &mut page.systems).flat_map(|system| &mut system.staves) {
        staff.placed = Origin::Estimated;
    }
    assert_eq!(measured(&work), (None, "Distances between staves are partly estimated."));
}

#[test]
fn a_map_names_no_staves_where_the_page_does_not() {
    let mut work = work(3);
    let words = |work: &Work| {
        let subject = Subject::new(&work.score, &work.layout, &work.survey, &[]);
        let view = *sheet::alone(&work.layout, PageIdx(1)).unwrap().view(PageIdx(1)).unwrap();
        Plate::new(&subject, PageIdx(1), view).unwrap().words().count()
    };
    let named = words(&work);
    work.layout.told.names_on_later_systems = Some(false);
    assert_eq!(words(&work) + made::STAVES, named);
}

#[test]
fn what_a_page_cannot_hold_is_not_named_below_it() {
    let mut work = work(1);
    let subject = Subject::new(&work.score, &work.layout, &work.survey, &[]);
    let view = |layout: &crate::layout::Layout| {
        sheet::opening(layout, &[PageIdx(0)], sheet::scale(layout)).views.first().map(|(_, view)| *view).unwrap()
    };
    let whole = Plate::new(&subject, PageIdx(0), view(&work.layout)).unwrap().words().count();
    if let Some(page) = work.layout.pages.first_mut() {
        page.size.value.1 = Mm(page.size.value.1.0 * 0.5);
    }
    let subject = Subject::new(&work.score, &work.layout, &work.survey, &[]);
    let cut = Plate::new(&subject, PageIdx(0), view(&work.layout)).unwrap();
    let names = |plate: &Plate<'_>| plate.words().filter(|area| area.bottom < plate.view().paper.bottom).count();
    assert!(names(&cut) > 0 && cut.words().count() < whole);
    assert_eq!(names(&cut) + 1, cut.words().count(), "the page number alone stands below the page");
}

#[test]
fn a_work_without_findings_has_no_maps() {
    assert_eq!(drawn(&work(4), &[], Extent::Full).0, Drawn::default());
}

#[test]
fn the_same_findings_give_the_same_sheets() {
    let work = work(3);
    assert_eq!(drawn(&work, &forty(), Extent::Full), drawn(&work, &forty(), Extent::Full));
}

#[test]
fn pages_without_size_or_staves_are_drawn_all_the_same() {
    let mut work = work(3);
    for (page, size) in work.layout.pages.iter_mut().zip([(0.0, 0.0), (f64::NAN, 300.0), (1e9, 1.0)]) {
        page.size.value = (Mm(size.0), Mm(size.1));
        page.systems.iter_mut().for_each(|system| system.staves.clear());
    }
    let findings: Vec<Finding> = (0..3).map(|page| in_gap(page, 4, 0..2, Weight::Stop)).collect();
    assert!(drawn(&work, &findings, Extent::Full).1.is_ok());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn marks_never_cover_each_other_nor_staves_nor_words(gaps in vec((1..3_u32, 0..22_usize, 0..5_u32, 1..3_u32, 0..3_usize), 1..30)) {
        let findings: Vec<Finding> = gaps
            .into_iter()
            .map(|(page, staff, bar, count, weight)| in_gap(page, staff, bar..(bar + count).min(6), WEIGHTS[weight]))
            .collect();
        let (marked, taken) = seated(&work(3), &findings);
        assert_legible(&marked, &taken);
    }
}
