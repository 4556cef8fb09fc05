//! Printed pages on the command line: with their music, alone, of parts; and the copy with the findings on it.

use std::path::PathBuf;

use crate::program::Folder;

/// Three pages of two bars of a flute; `faulty` lacks the middle one.
fn fixture(name: &str) -> Vec<u8> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/rules/bars-not-printed");
    std::fs::read(folder.join(name)).unwrap()
}

fn folder() -> Folder {
    let folder = Folder::with("flute.musicxml", fixture("music.musicxml"));
    folder.write("all.pdf", fixture("good.pdf"));
    folder.write("two.pdf", fixture("faulty.pdf"));
    folder
}

/// Without the breaks of lines.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn pages_are_matched_with_the_music_system_by_system() {
    let folder = folder();
    let run = folder.run(&["check", "flute.musicxml", "--pages", "all.pdf", "--json", "r.json"]);
    assert!(flat(&run.out).contains("Each of the music's 6 bars was found on them."), "{run:?}");
    let report = folder.json("r.json");
    let matched = &report["match"];
    assert_eq!((&matched["bars_matched"], &matched["bars_total"]), (&6.into(), &6.into()));
    assert_eq!(matched["pages"][1]["status"], "matched");
    let second = &matched["systems"][1];
    assert_eq!((&second["page"], &second["label_read"]), (&1.into(), &"3".into()));
    assert_eq!((&second["bars_counted"], &second["bars_matched"]), (&2.into(), &2.into()));
    assert_eq!(report["printed"]["name"], "all.pdf");
    assert_eq!((&report["layout"]["footing"], &report["layout"]["origin"]), (&"printed".into(), &"matched".into()));
    assert!(report["openings"][1]["seconds"].is_number(), "matched pages have time: {}", report["openings"]);
}

#[test]
fn a_page_that_is_not_there_is_missed_at_its_place() {
    let folder = folder();
    let run = folder.run(&["check", "flute.musicxml", "--pages", "two.pdf", "--json", "r.json"]);
    assert_eq!(run.code, 1);
    assert!(flat(&run.out).contains("Bars 3-4 stand on no page: 2 bars are missing between page 1 and"), "{run:?}");
    let missing = folder.json("r.json")["match"]["missing"][0].clone();
    assert_eq!((&missing["after_page"], &missing["before_page"]), (&0.into(), &1.into()));
    assert_eq!((&missing["first_bar_index"], &missing["last_bar_index"]), (&2.into(), &3.into()));
}

#[test]
fn pages_alone_are_looked_at_as_far_as_that_goes() {
    let folder = folder();
    let run = folder.run(&["check", "all.pdf", "--json", "r.json", "--full"]);
    assert!(flat(&run.out).contains("Without the music, only what needs none was looked at."), "{run:?}");
    let report = folder.json("r.json");
    assert!(report["match"].is_null() && report["layout"]["pages"].as_array().unwrap().len() == 3);
    let not_run = report["rules"]["could_not_run"].to_string();
    assert!(not_run.contains("its MusicXML beside the PDF") && not_run.contains("crowded-page"), "{not_run}");
    let ran = report["rules"]["ran"].to_string();
    assert!(ran.contains("font-not-embedded") && ran.contains("unusual-page-size"), "{ran}");
}

#[test]
fn the_copy_bears_the_findings_and_is_the_same_again() {
    let folder = folder();
    let check = ["check", "flute.musicxml", "--pages", "two.pdf", "--report", "r.pdf", "--annotate", "a.pdf"];
    let run = folder.run(&check);
    assert!(run.out.contains("Written: a.pdf"), "{run:?}");
    let (copy, own) = (folder.read("a.pdf"), folder.read("two.pdf"));
    assert!(copy.len() > own.len());
    let text = String::from_utf8_lossy(&copy).into_owned();
    assert!(text.contains("rastrum-bars-not-printed@bar//1:2/0") && text.contains("/Square"), "no note of it");
    // It replaces its own copy, and nothing else.
    folder.run(&check);
    assert_eq!(folder.read("a.pdf"), copy);
    folder
        .run(&["check", "flute.musicxml", "--pages", "two.pdf", "--annotate", "two.pdf"])
        .refuses("two.pdf: stands there");
    assert_eq!(folder.read("two.pdf"), own);
    let with_sheets = [&check[..6], &["--annotate", "b.pdf", "--sheets", "1"]].concat();
    folder.run(&with_sheets);
    assert!(folder.read("b.pdf").len() > copy.len() + 5_000, "a sheet of the report is appended");
}

#[test]
fn what_cannot_be_done_is_said_in_one_line() {
    let folder = folder();
    folder.write("words.pdf", "%PDF-1.4\nnothing else");
    let refuses = |args: &[&str], line: &str| folder.run(args).refuses(line);
    refuses(&["check", "flute.musicxml", "--pages", "words.pdf"], "words.pdf: cannot be read as a PDF");
    refuses(&["check", "flute.musicxml", "--pages", "flute.musicxml"], "flute.musicxml: cannot be read as a PDF");
    refuses(&["check", "flute.musicxml", "--pages", "nowhere.pdf"], "nowhere.pdf: ");
    refuses(&["check", "flute.musicxml", "all.pdf"], "a PDF holds pages, not music");
    refuses(&["check", "flute.musicxml", "--annotate", "a.pdf"], "--annotate writes onto printed pages");
    refuses(
        &["check", "flute.musicxml", "--pages", "all.pdf", "--forecast", "--annotate", "a.pdf"],
        "a forecast has no",
    );
    refuses(&["parts", "flute.musicxml", "--pages", "Oboe=all.pdf"], "no part is called \"Oboe\"");
    assert!(!folder.path().join("a.pdf").exists());
}

#[test]
fn parts_have_the_turns_of_their_printed_pages() {
    let folder = folder();
    let run = folder.run(&["parts", "flute.musicxml", "--pages", "Flute=all.pdf", "--json", "r.json"]);
    assert!(run.out.contains("Flute") && run.code <= 1, "{run:?}");
    let layout = folder.json("r.json")["parts"][0]["layout"].clone();
    assert_eq!((&layout["footing"], &layout["match"]["bars_matched"]), (&"printed".into(), &6.into()));
    assert_eq!(layout["pages"].as_array().unwrap().len(), 3);
    // What is said of the pages is theirs, not what rastrum would print on: staves of 22 points on A4.
    assert_eq!((&layout["paper_mm"][1], &layout["staff_mm"]), (&297.039.into(), &7.761.into()));
}

#[test]
fn proof_counts_what_is_printed_and_what_is_composed() {
    let folder = folder();
    let run =
        folder.run(&["proof", "flute.musicxml", "--pages", "two.pdf", "--pages", "Flute=all.pdf", "--json", "r.json"]);
    assert_eq!(run.code, 1);
    let said = "The score (two.pdf): 4 bars printed, 6 composed: 2 missing after bar 2 (bars 3 to 4, between pages 1 and 2 of the file).";
    assert!(flat(&run.out).contains(said), "{}", run.out);
    assert!(run.out.contains("Flute (all.pdf): 6 bars printed, 6 composed: none is missing."), "{}", run.out);
    assert_eq!(folder.json("r.json")["proof"]["printed"][0]["match"]["bars_matched"], 4);
}

#[test]
fn the_layout_that_is_named_is_drawn_beside_the_pages() {
    let folder = folder();
    folder.write("other.pdf", fixture("good.pdf"));
    folder.run(&["measure", "other.pdf", "-o", "other.toml", "--source", "drawn for this test"]);
    let text = String::from_utf8(folder.read("other.toml")).unwrap();
    assert!(text.contains("[[plates]]\nstaves = 1\n") && text.contains("bars-mm = ["), "{text}");
    let sheets = |args: &[&str]| {
        folder.run(&[&["check", "flute.musicxml", "--pages", "two.pdf", "--report", "r.pdf"], args].concat());
        lopdf::Document::load_mem(&folder.read("r.pdf")).unwrap().get_pages().len()
    };
    assert_eq!(sheets(&["--like", "other.toml"]), sheets(&[]) + 1);
    assert_eq!(sheets(&["--like", "other.pdf"]), sheets(&[]) + 1);
}
