//! `rastrum measure` and `--like`: reference layouts, written and held beside a score.

use std::path::{Path, PathBuf};

use crate::music::duet;
use crate::program::Folder;

/// A duet whose file says how far its staves stand apart and where its systems and pages begin.
fn set(staff: f64, distance: u32, bars: usize) -> String {
    let layout = format!("<staff-layout><staff-distance>{distance}</staff-distance></staff-layout></defaults>");
    let mut text = duet(bars, staff).replace("</defaults>", &layout);
    for bar in (5..=bars).step_by(4) {
        let head = format!("<measure number=\"{bar}\" width=\"200\">\n");
        let kind = if bar % 8 == 1 { "page" } else { "system" };
        text = text.replacen(&head, &format!("{head}<print new-{kind}=\"yes\"/>"), 1);
    }
    text
}

fn folder() -> Folder {
    let folder = Folder::with("house.musicxml", set(8.0, 90, 40));
    folder.write("own.musicxml", set(7.0, 50, 40));
    folder
}

#[test]
fn a_measured_layout_is_written_once_and_anew() {
    let folder = folder();
    let measure = ["measure", "house.musicxml", "-o", "house.toml", "--source", "a \"house\""];
    let run = folder.run(&measure);
    assert_eq!((run.code, run.out.as_str()), (0, "Written: house.toml\n"), "{run:?}");
    let first = folder.read("house.toml");
    let text = String::from_utf8(first.clone()).unwrap();
    assert!(text.contains("height-mm = 8.00\n") && text.contains("usual = 9.0"), "{text}");
    folder.run(&measure);
    assert_eq!(folder.read("house.toml"), first);
    folder.write("mine.toml", "title = \"mine\"\n");
    folder.run(&["measure", "house.musicxml", "-o", "mine.toml", "--source", "x"]).refuses("mine.toml: stands there");
}

#[test]
fn a_score_is_held_beside_a_layout_or_another_score() {
    let folder = folder();
    folder.run(&["measure", "house.musicxml", "-o", "house.toml", "--source", "a house"]);
    let run = folder.run(&["own.musicxml", "--like", "house.toml", "--json", "r.json"]);
    assert!(run.out.contains("  - Their staves are 8.0 mm high; yours 7.0 mm.\n"), "{run:?}");
    let like = &folder.json("r.json")["like"];
    assert_eq!(like[0]["what"], "staff-height");
    assert_eq!((&like[0]["theirs"], &like[0]["yours"]), (&"8.0 mm".into(), &"7.0 mm".into()));
    assert!(like.to_string().contains("They keep 9 spaces between"), "{like}");
    folder.run(&["own.musicxml", "--like", "house.musicxml", "--json", "again.json"]);
    assert_eq!(&folder.json("again.json")["like"], like);
    let same = folder.run(&["house.musicxml", "--like", "house.toml", "--json", "same.json"]);
    assert!(same.out.contains("is set no otherwise"), "{same:?}");
    folder.run(&["own.musicxml", "--json", "alone.json"]);
    assert!(folder.json("alone.json")["like"].is_null());
    folder.run(&["own.musicxml", "--like", "nowhere"]).refuses("--like nowhere: is not there");
}

#[test]
fn a_score_without_recorded_pages_is_no_reference() {
    let bare = duet(4, 7.0);
    let (before, rest) = bare.split_once("<defaults>").unwrap();
    let folder = Folder::with("bare.musicxml", format!("{before}{}", rest.split_once("</defaults>").unwrap().1));
    let run = folder.run(&["measure", "bare.musicxml", "-o", "bare.toml", "--source", "x"]);
    run.refuses("bare.musicxml: records no pages to measure");
    assert_eq!(folder.names(), ["bare.musicxml"]);
}

/// The words of a command line in which only what is quoted holds spaces.
fn arguments(command: &str) -> Vec<String> {
    let words = command.split('"').enumerate();
    let words = words.flat_map(|(at, text)| match at % 2 {
        1 => vec![text.to_owned()],
        _ => text.split_whitespace().map(str::to_owned).collect(),
    });
    words.collect()
}

#[test]
fn every_shipped_layout_is_written_anew_by_the_command_in_its_head() {
    let project = Path::new(env!("CARGO_MANIFEST_DIR"));
    let data = std::env::var_os("RASTRUM_DATA").map_or_else(|| project.join("../shared/data"), PathBuf::from);
    if !data.is_dir() {
        println!("skipped: no open data in {}", data.display());
        return;
    }
    let mut written = 0;
    for entry in std::fs::read_dir(project.join("reference-layouts")).unwrap() {
        let shipped = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        let command = shipped.lines().find_map(|line| line.strip_prefix("# rastrum ")).unwrap();
        let arguments = arguments(command);
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        // A folder in place of the project's, with the score beside it where the command expects it.
        let folder = Folder::new();
        let own = folder.path().join("project");
        std::fs::create_dir_all(own.join("reference-layouts")).unwrap();
        let score = own.join(arguments[1]);
        std::fs::create_dir_all(folder.path().join("shared/data")).unwrap();
        std::fs::create_dir_all(score.parent().unwrap()).unwrap();
        std::fs::copy(data.join(arguments[1].strip_prefix("../shared/data/").unwrap()), score).unwrap();
        let output = folder.command(&arguments).current_dir(&own).output().unwrap();
        assert!(output.status.success(), "{output:?}");
        assert_eq!(std::fs::read_to_string(own.join(arguments[3])).unwrap(), shipped, "{command}");
        written += 1;
    }
    assert!(written >= 8);
}

/// A page of two systems: one staff of 7 mm high each, 10 spaces apart.
fn pages() -> Vec<u8> {
    let line = |at: f64| format!("0.4 w 56 {at} m 540 {at} l S\n");
    let space = 7.0 / 4.0 * 72.0 / 25.4;
    let staff = |top: f64| (0..5).map(|own| line(top - f64::from(own) * space)).collect::<String>();
    let content = staff(760.0) + &staff(760.0 - 14.0 * space);
    let stream = format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len());
    let objects = [
        "<< /Type /Catalog /Pages 2 0 R >>",
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R >>",
        &stream,
    ];
    let mut text = "%PDF-1.4\n".to_owned();
    let mut table = "xref\n0 5\n0000000000 65535 f \n".to_owned();
    for (number, object) in (1..).zip(objects) {
        table += &format!("{:010} 00000 n \n", text.len());
        text += &format!("{number} 0 obj\n{object}\nendobj\n");
    }
    let start = text.len();
    (text + &table + &format!("trailer\n<< /Size 5 /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n")).into_bytes()
}

#[test]
fn engraved_pages_are_a_reference_layout() {
    let folder = folder();
    folder.write("printed.pdf", pages());
    let run = folder.run(&["measure", "printed.pdf", "-o", "printed.toml", "--source", "an old print"]);
    assert_eq!((run.code, run.out.as_str()), (0, "Written: printed.toml\n"), "{run:?}");
    let text = String::from_utf8(folder.read("printed.toml")).unwrap();
    for told in ["title = \"printed\"", "height-mm = 7.00", "usual = 10.0"] {
        assert!(text.contains(told), "{told}: {text}");
    }
    let run = folder.run(&["house.musicxml", "--like", "printed.pdf", "--json", "r.json"]);
    assert!(run.out.contains("Their staves are 7.0 mm high; yours 8.0 mm."), "{run:?}");
    folder.run(&["house.musicxml", "--like", "printed.toml", "--json", "again.json"]);
    assert_eq!(folder.json("r.json")["like"], folder.json("again.json")["like"]);
}

#[test]
fn pages_that_cannot_be_measured_are_refused_in_a_line() {
    let folder = folder();
    folder.write("printed.pdf", pages());
    folder.write("broken.pdf", "%PDF-1.4 and nothing else");
    let measure = |files: &[&str]| folder.run(&[&["measure"], files, &["-o", "x.toml", "--source", "x"]].concat());
    measure(&["broken.pdf"]).refuses("broken.pdf: cannot be read as a PDF");
    measure(&["printed.pdf", "house.musicxml"]).refuses("engraved pages are measured alone");
    measure(&["printed.pdf", "printed.pdf"]).refuses("engraved pages are measured alone");
    assert!(!folder.names().contains(&"x.toml".to_owned()));
}
