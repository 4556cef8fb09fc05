//! `--write-breaks`: a copy of the score, never in place of a score.

use crate::music::duet;
use crate::program::Folder;

#[test]
fn the_copy_has_the_proposed_breaks_and_is_named_in_the_summary() {
    let folder = Folder::with("duet.musicxml", duet(40, 7.0));
    let run = folder.run(&["duet.musicxml", "--write-breaks", "cast.musicxml", "--json", "r.json"]);
    assert!(run.out.contains("Written: cast.musicxml"), "{run:?}");
    let copy = String::from_utf8(folder.read("cast.musicxml")).unwrap();
    let report = folder.json("r.json");
    let pages = report["proposal"]["pages"].as_array().unwrap();
    let systems: usize = pages.iter().map(|page| page["systems"].as_array().unwrap().len()).sum();
    assert!(systems > 2);
    assert_eq!(copy.matches("<print new-page=\"yes\"/>").count(), pages.len() - 1);
    assert_eq!(copy.matches("<print new-system=\"yes\"/>").count(), systems - pages.len());
    let plain: String =
        copy.lines().filter(|line| !line.starts_with("<print")).map(|line| format!("{line}\n")).collect();
    assert_eq!(plain, duet(40, 7.0));
}

#[test]
fn each_movement_has_a_copy_of_its_own() {
    let folder = Folder::with("1.musicxml", duet(4, 7.0));
    folder.write("2.musicxml", duet(5, 7.0));
    folder.run(&["1.musicxml", "2.musicxml", "--write-breaks", "cast.mxl", "--json", "r.json"]);
    assert_eq!(folder.names(), ["1.musicxml", "2.musicxml", "cast-1.mxl", "cast-2.mxl", "r.json"]);
    let run = folder.run(&["cast-1.mxl", "cast-2.mxl", "--json", "again.json"]);
    assert!(run.code < 2, "{run:?}");
    assert_eq!(folder.json("again.json")["score"]["bars"], folder.json("r.json")["score"]["bars"]);
}

#[test]
fn a_score_is_never_replaced_by_a_copy() {
    let folder = Folder::with("duet.musicxml", duet(4, 7.0));
    let run = folder.run(&["duet.musicxml", "--write-breaks", "duet.musicxml"]);
    run.refuses("duet.musicxml: stands there already");
    folder.run(&["duet.musicxml", "--write-breaks", "cast.pdf"]).refuses("--write-breaks cast.pdf");
    assert_eq!(folder.names(), ["duet.musicxml"]);
}

#[test]
fn where_nothing_can_be_proposed_nothing_is_written() {
    let folder = Folder::with("duet.musicxml", duet(4, 7.0));
    let arguments = [
        "duet.musicxml",
        "--paper",
        "9 x 12 in",
        "--margins",
        "200mm",
        "--write-breaks",
        "cast.musicxml",
        "--json",
        "r.json",
    ];
    folder.run(&arguments).refuses("no room is left for music between the margins");
    assert_eq!(folder.names(), ["duet.musicxml"]);
}

#[test]
fn other_paper_is_not_set_in_the_copy_and_that_is_said() {
    let folder = Folder::with("duet.musicxml", duet(40, 7.0));
    let run = folder.run(&["duet.musicxml", "--paper", "A3", "--write-breaks", "cast.musicxml", "--json", "r.json"]);
    assert!(run.out.contains("set its paper, margins and staff height yourself"), "{run:?}");
    let copy = String::from_utf8(folder.read("cast.musicxml")).unwrap();
    let defaults = |text: &str| text.split("</defaults>").next().map(str::to_owned);
    assert_eq!(defaults(&copy), defaults(&duet(40, 7.0)));
}
