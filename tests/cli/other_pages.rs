//! Pages other than the recorded ones: forecasts on other paper, and papers side by side.

use crate::music::duet;
use crate::program::Folder;

#[test]
fn a_forecast_on_other_paper_takes_that_paper_and_staff() {
    let folder = Folder::with("duet.musicxml", duet(120, 7.0));
    folder.run(&["duet.musicxml", "--paper", "A4", "--staff", "5mm", "--margins", "20 mm", "--json", "r.json"]);
    let report = folder.json("r.json");
    let page = &report["layout"]["pages"][0];
    assert_eq!((page["width_mm"].as_f64(), page["height_mm"].as_f64()), (Some(210.0), Some(297.0)));
    assert_eq!(page["systems"][0]["staves"][0]["height_mm"].as_f64(), Some(5.0));
    assert_eq!(report["layout"]["origin_of"]["systems"], "estimated");
    assert_eq!(
        (&report["layout"]["footing"], &report["proposal"]["footing"]),
        (&"forecast".into(), &"proposal".into())
    );
}

#[test]
fn larger_staves_take_more_pages() {
    let folder = Folder::with("duet.musicxml", duet(300, 7.0));
    let pages = |staff: &str| {
        folder.run(&["duet.musicxml", "--staff", staff, "--json", "r.json"]);
        let report = folder.json("r.json");
        report["layout"]["pages"].as_array().map_or(0, Vec::len)
    };
    let (small, large) = (pages("4"), pages("9"));
    assert!(0 < small && small < large, "{small} {large}");
}

#[test]
fn papers_and_staff_heights_stand_side_by_side() {
    let folder = Folder::with("duet.musicxml", duet(120, 7.0));
    let run = folder.run(&["duet.musicxml", "--what-if", "--json", "r.json"]);
    assert!(run.out.contains("(yours)") && run.out.contains("all staves fit up to"), "{run:?}");
    assert!(run.out.lines().all(|line| line.chars().count() <= 80), "{run:?}");
    let cells = folder.json("r.json")["what_if"].clone();
    let cells = cells.as_array().unwrap();
    assert!(cells.len() >= 20 && cells.iter().all(|cell| cell["pages"].as_u64() > Some(0)));
    assert!(cells.iter().all(|cell| cell["holds"].as_bool() == Some(cell["why"].is_null())));
    folder.run(&["duet.musicxml", "--json", "alone.json"]);
    assert!(folder.json("alone.json")["what_if"].is_null());
}

#[test]
fn what_cannot_be_paper_is_refused_in_one_line() {
    let folder = Folder::with("duet.musicxml", duet(12, 7.0));
    for (options, refused) in [
        (["--staff", "0"], "a staff 0 mm high cannot be printed"),
        (["--staff", "40mm"], "a staff 40 mm high cannot be printed"),
        (["--paper", "foolscap"], "no paper is called \"foolscap\""),
        (["--margins", "150mm"], "no room is left for music between the margins"),
        (["--margins", "900mm"], "margins of 900 mm leave no room"),
    ] {
        folder.run(&["duet.musicxml", options[0], options[1], "--json", "r.json"]).refuses(refused);
        assert!(!folder.path().join("r.json").exists());
    }
}

#[test]
fn what_is_no_length_is_refused() {
    let folder = Folder::with("duet.musicxml", duet(12, 7.0));
    let run = folder.run(&["duet.musicxml", "--staff", "tall"]);
    assert!(run.code == 2 && run.err.contains("not a length in millimetres, as in 4.5mm"), "{run:?}");
}

#[test]
fn one_bar_and_a_bar_wider_than_its_line_go_on() {
    let folder = Folder::with("one.musicxml", duet(1, 7.0));
    assert_ne!(folder.run(&["one.musicxml", "--forecast", "--what-if", "--json", "r.json"]).code, 2);
    let narrow = ["one.musicxml", "--paper", "40 x 400 mm", "--margins", "15", "--staff", "15", "--json", "n.json"];
    assert_ne!(folder.run(&narrow).code, 2);
    assert_eq!(folder.json("n.json")["layout"]["pages"].as_array().map_or(0, Vec::len), 1);
}

#[test]
fn forces_too_many_for_the_usual_staves_are_estimated_with_smaller_ones() {
    let parts = 48;
    let list: String =
        (1..=parts).map(|n| format!("<score-part id=\"P{n}\"><part-name>Horn {n}</part-name></score-part>")).collect();
    let note = "<note><pitch><step>B</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note>";
    let bars: String = (1..=8)
        .map(|n| {
            let attributes = if n == 1 {
                "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>"
            } else {
                ""
            };
            format!("<measure number=\"{n}\">{attributes}{note}</measure>")
        })
        .collect();
    let music: String = (1..=parts).map(|n| format!("<part id=\"P{n}\">{bars}</part>")).collect();
    let folder = Folder::with(
        "many.musicxml",
        format!("<score-partwise version=\"4.0\"><part-list>{list}</part-list>{music}</score-partwise>"),
    );
    let run = folder.run(&["many.musicxml", "--json", "r.json"]);
    let page = folder.json("r.json")["layout"]["pages"][0].clone();
    let bottom = page["systems"][0]["bottom_mm"].as_f64().unwrap();
    // 420 mm less a margin of 15 mm, and the hundredths that casting off lets pass.
    assert!(bottom <= 405.05, "{bottom}");
    let told = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("since with 4.5 mm they would not all go onto a page."), "{run:?}");
}
