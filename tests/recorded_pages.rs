//! Open scores with recorded pages, held against the truth of an independent program and against engraved pages.
//!
//! The scores stand beside the project in ../shared/data, or where RASTRUM_DATA says; without them nothing is tested.

use std::path::PathBuf;

#[path = "examples/accuracy/engraved.rs"]
mod engraved;
#[path = "examples/accuracy/figure.rs"]
mod figure;
#[path = "examples/accuracy/folder.rs"]
mod folder;
#[path = "examples/accuracy/gaps.rs"]
mod gaps;
#[path = "examples/accuracy/joined.rs"]
mod joined;
#[path = "examples/accuracy/recorded.rs"]
mod recorded;
#[path = "examples/accuracy/staff_tops.rs"]
mod staff_tops;

use rastrum::casting_off::natural_force;

use figure::Figure;
use folder::Folder;

fn open() -> Option<Folder> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/data");
    let path = std::env::var_os("RASTRUM_DATA").map_or_else(beside, PathBuf::from);
    match Folder::open(path) {
        Ok(folder) => Some(folder),
        Err(message) => {
            eprintln!("skipped, no open scores: {message}");
            None
        }
    }
}

fn assert_all(figures: &[Figure]) {
    for figure in figures {
        assert!(figure.denominator > 0, "nothing measured: {figure}");
        assert_eq!(figure.numerator, figure.denominator, "{figure}");
    }
}

/// One test, since reading the scores takes most of the time.
#[test]
fn recorded_pages_are_what_the_files_and_the_engraved_pages_say() {
    let Some(folder) = open() else { return };
    assert_all(&recorded::figures(&folder));
    assert_all(&staff_tops::figures(&folder));
    for gaps in gaps::figures(&folder) {
        assert!(gaps.numerator * 100 >= gaps.denominator * 95, "{gaps}");
    }
    for (truth, work) in folder.works() {
        let force = natural_force(&work.reading.score, &work.layout, &work.metrics.spacing);
        assert!(force.is_some_and(|force| 0.5 < force && force < 3.0), "{}: {force:?}", truth.file);
    }
}

#[test]
fn engraved_pages_have_the_staves_and_systems_that_another_program_found() {
    let Some(folder) = open() else { return };
    assert_all(&engraved::figures(&folder));
}

#[test]
fn engraved_pages_are_joined_with_their_music() {
    let Some(folder) = open() else { return };
    let [systems, matched, taken, parts, marks] = joined::figures(&folder).try_into().expect("five figures");
    assert_all(&[systems, matched, taken]);
    assert!(marks.numerator * 100 >= marks.denominator * 90, "{marks}");
    assert!(parts.numerator * 1000 >= parts.denominator * 999, "{parts}");
}
