//! The printed pages of the first movement: each fault of the table in tests/lantern_ferry/README.md, and the bars.

use rastrum::check::{Checked, Options, PagesFile, Unwatched, check};
use rastrum::read::Input;
use rastrum::rules::Weight;

const SCORE: &[u8] = include_bytes!("../../src/demo/lantern-ferry-1.mxl");
const PAGES: &[u8] = include_bytes!("../../src/demo/lantern-ferry-1-printed.pdf");

fn checked() -> Checked {
    let pages = PagesFile { name: "printed.pdf".to_owned(), bytes: PAGES.to_vec() };
    let options = Options { pages: Some(pages), ..Options::default() };
    check(&[Input { name: "lantern-ferry-1.mxl", bytes: SCORE }], &options, &mut Unwatched).expect("a check")
}

#[test]
fn each_fault_is_found_on_its_page_and_on_no_other() {
    let checked = checked();
    // The rule, and the pages of the file, counted from 1.
    let faults: [(&str, &[u32]); 6] = [
        ("music-in-margin", &[2]),
        ("staff-too-small", &[3]),
        ("landscape-page", &[4]),
        ("page-number-missing", &[5]),
        ("system-divider-missing", &[6]),
        ("running-head-missing", &[8]),
    ];
    for (rule, pages) in faults {
        let own: Vec<u32> = checked
            .findings
            .iter()
            .filter(|finding| finding.rule == rule)
            .flat_map(|finding| finding.places.iter().filter_map(|place| Some(place.page?.0 + 1)))
            .collect();
        assert_eq!(own, pages, "{rule}");
    }
    let uneven =
        checked.findings.iter().find(|finding| finding.rule == "staff-heights-uneven").expect("the shrunk page");
    assert!(uneven.message.contains("3.95 mm"), "{}", uneven.message);
}

#[test]
fn the_bars_of_the_six_pages_are_found_and_the_others_missed() {
    let checked = checked();
    let fit = checked.printed.as_ref().and_then(|printed| printed.fit.as_ref()).expect("pages joined with music");
    assert_eq!((fit.bars_matched, fit.bars_total), (40, 84));
    let [missing] = fit.missing.as_slice() else { panic!("{:?}", fit.missing) };
    assert_eq!((missing.bars.first.0, missing.bars.last.0), (0, 43));
    assert!(fit.systems.iter().all(|system| system.is_even()), "{:?}", fit.systems);
    // The pages begin with page 9: what stands on no page is told, and does not stop the rehearsal.
    let told = checked.findings.iter().find(|finding| finding.rule == "bars-not-printed").expect("a finding");
    assert_eq!(told.weight, Weight::Mend);
    // Matched bars give printed pages their time.
    assert!(checked.survey.openings.iter().filter(|opening| opening.seconds.is_some()).count() >= 3);
}

#[test]
fn staves_are_known_by_their_names_where_some_are_left_out() {
    let checked = checked();
    let page = &checked.layout.pages[4];
    let names = |system: usize| {
        let staves = page.systems[system].staves.iter().filter_map(|staff| staff.staff);
        staves.filter_map(|id| checked.score.part_of(id)).map(|part| part.abbreviation.clone()).collect::<Vec<_>>()
    };
    assert_eq!(names(0), ["Fl. 1", "Cl. 1.2", "Perc. 1", "Hp.", "Hp.", "Vln. I", "Vln. II", "Vla.", "Vc.", "Db."]);
    assert_eq!(names(1)[..4], ["Fl. 1", "Cl. 1.2", "Hn. 1.2", "Perc. 1"]);
}
