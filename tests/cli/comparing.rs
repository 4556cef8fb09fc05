//! `rastrum compare`: drafts held against each other.

use serde_json::Value;

use crate::program::Folder;

/// Parts by name, each with the steps of its bars above C; a bar is two half notes, `None` a rest.
type Music<'a> = &'a [(&'a str, Vec<Option<usize>>)];

fn score(parts: Music<'_>) -> String {
    let listed: String = (1..)
        .zip(parts)
        .map(|(nth, (name, _))| format!("<score-part id=\"P{nth}\"><part-name>{name}</part-name></score-part>"))
        .collect();
    let music: String = (1..)
        .zip(parts)
        .map(|(nth, (_, bars))| format!("<part id=\"P{nth}\">{}</part>", measures(bars).concat()))
        .collect();
    format!("<score-partwise version=\"4.0\"><part-list>{listed}</part-list>{music}</score-partwise>")
}

fn measures(bars: &[Option<usize>]) -> Vec<String> {
    let head = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    let note = |step: usize| {
        let name = &"CDEFGAB"[step % 7..=step % 7];
        format!(
            "<note><pitch><step>{name}</step><octave>{}</octave></pitch><duration>2</duration><type>half</type></note>",
            4 + step / 7 % 3
        )
    };
    let bar = |(at, step): (usize, &Option<usize>)| {
        let head = if at == 0 { head } else { "" };
        let music = step.map_or("<note><rest measure=\"yes\"/><duration>4</duration></note>".to_owned(), |step| {
            note(step) + &note(step * step + 3)
        });
        format!("<measure number=\"{}\">{head}{music}</measure>", at + 1)
    };
    bars.iter().enumerate().map(bar).collect()
}

fn steps(bars: usize, from: usize) -> Vec<Option<usize>> {
    (0..bars).map(|bar| Some(bar + from)).collect()
}

/// Flute and cello of sixty bars; the flute rests in bars 21 to 40.
fn draft() -> Vec<(&'static str, Vec<Option<usize>>)> {
    let mut flute = steps(60, 2);
    flute[20..40].fill(None);
    vec![("Flute", flute), ("Violoncello", steps(60, 5))]
}

/// Without some bars, counted from 1.
fn without(
    draft: &[(&'static str, Vec<Option<usize>>)],
    bars: std::ops::RangeInclusive<usize>,
) -> Vec<(&'static str, Vec<Option<usize>>)> {
    let kept = |own: &[Option<usize>]| {
        own.iter().enumerate().filter(|(at, _)| !bars.contains(&(at + 1))).map(|(_, step)| *step).collect()
    };
    draft.iter().map(|(name, own)| (*name, kept(own))).collect()
}

fn folder(new: Music<'_>) -> Folder {
    let folder = Folder::with("old.musicxml", score(&draft()));
    folder.write("new.musicxml", score(new));
    folder
}

fn documents(report: &Value) -> Vec<(String, Vec<String>)> {
    let text = |value: &Value| value.as_str().unwrap_or("-").to_owned();
    let reprint = report["compare"]["reprint"].as_array().unwrap();
    let fates = |own: &Value| own["sheets"].as_array().unwrap().iter().map(|sheet| text(&sheet["fate"])).collect();
    reprint.iter().map(|own| (text(&own["document"]), fates(own))).collect()
}

const RUN: [&str; 5] = ["compare", "old.musicxml", "new.musicxml", "--json", "c.json"];

#[test]
fn a_draft_against_itself_has_changed_in_nothing() {
    let folder = folder(&draft());
    let run = folder.run(&RUN);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert!(run.out.starts_with("The music is the same.\n"), "{}", run.out);
    assert!(run.out.contains("To be printed again:\n  nothing\n"), "{}", run.out);
    let report = folder.json("c.json");
    let bars = report["compare"]["bars"].as_array().unwrap();
    assert!(bars.len() == 60 && bars.iter().all(|bar| bar["status"] == "equal"));
    assert_eq!(report["compare"]["share_matched"], 1.0);
}

#[test]
fn other_forms_of_the_same_file_are_the_same_music() {
    let text = score(&draft());
    let listed = text.split("<part-list>").nth(1).unwrap().split("</part-list>").next().unwrap().to_owned();
    let parts: Vec<Vec<String>> = draft().iter().map(|(_, bars)| measures(bars)).collect();
    let bar = |at: usize| -> String {
        let own = parts.iter().zip(1..).map(|(bars, nth)| {
            let inner = bars[at].split_once('>').unwrap().1.strip_suffix("</measure>").unwrap();
            format!("<part id=\"P{nth}\">{inner}</part>")
        });
        format!("<measure number=\"{}\">{}</measure>", at + 1, own.collect::<String>())
    };
    let timewise = format!(
        "<score-timewise version=\"4.0\"><part-list>{listed}</part-list>{}</score-timewise>",
        (0..60).map(bar).collect::<String>()
    );
    let utf16: Vec<u8> = format!("\u{feff}<?xml version=\"1.0\" encoding=\"UTF-16\"?>{text}")
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let laid_out =
        text.replace("<measure number=\"21\">", "<measure number=\"21\" width=\"300\"><print new-page=\"yes\"/>");
    let folder = Folder::with("old.musicxml", laid_out);
    folder.write("plain.musicxml", text);
    folder.write("timewise.musicxml", timewise);
    folder.write("utf16.musicxml", utf16);
    for other in ["plain.musicxml", "timewise.musicxml", "utf16.musicxml"] {
        let run = folder.run(&["compare", "old.musicxml", other, "--json", "c.json"]);
        assert_eq!(run.code, 0, "{run:?}");
        let report = folder.json("c.json");
        let bars = report["compare"]["bars"].as_array().unwrap();
        assert!(bars.iter().all(|bar| bar["status"] == "equal"), "{other}");
        assert!(run.out.contains("he music is the same"), "{other}: {}", run.out);
    }
}

#[test]
fn a_cut_is_a_new_sheet_for_who_plays_and_a_pencil_for_who_rests() {
    let folder = folder(&without(&draft(), 25..=30));
    let run = folder.run(&RUN);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(run.out.starts_with("6 bars out.\n"), "{}", run.out);
    assert!(run.out.contains("Bars 25 to 30 are out."), "{}", run.out);
    assert!(run.out.contains("Flute, bar 21: a rest of 14 in place of 20"), "{}", run.out);
    let report = folder.json("c.json");
    let documents = documents(&report);
    let fates = |name: &str| documents.iter().find(|(own, _)| own == name).unwrap().1.clone();
    assert!(fates("Flute").contains(&"by-hand".to_owned()) && !fates("Flute").contains(&"print".to_owned()));
    assert!(fates("Violoncello").contains(&"print".to_owned()));
    assert_eq!(report["compare"]["errata"][0]["document"], "Flute");
}

#[test]
fn pages_that_can_be_kept_are_kept() {
    let mut long = draft();
    for (_, bars) in &mut long {
        let more = bars.clone();
        (0..6).for_each(|by| bars.extend(more.iter().map(|step| step.map(|step| step * 3 + by))));
    }
    let short = without(&long, 3..=4);
    let folder = Folder::with("old.musicxml", score(&long));
    folder.write("new.musicxml", score(&short));
    let run = folder.run(&RUN);
    let kept = folder.run(&["compare", "old.musicxml", "new.musicxml", "--keep-pages", "--json", "k.json"]);
    assert!(run.code <= 1 && kept.code <= 1, "{run:?} {kept:?}");
    for name in ["c.json", "k.json"] {
        let report = folder.json(name);
        let cello =
            report["compare"]["reprint"].as_array().unwrap().iter().find(|own| own["document"] == "Violoncello");
        let cello = cello.unwrap();
        let fates: Vec<&str> =
            cello["sheets"].as_array().unwrap().iter().map(|own| own["fate"].as_str().unwrap()).collect();
        assert_eq!(fates.first(), Some(&"print"), "{fates:?}");
        assert!(fates.len() > 2 && fates[1..].iter().all(|fate| *fate == "keep"), "{fates:?}");
        assert_eq!(cello["leaf_for_leaf"], true);
    }
}

#[test]
fn pages_of_the_score_are_kept_in_place_of_those_of_its_new_file() {
    let mut long = draft();
    long.iter_mut().for_each(|(_, bars)| bars.extend(bars.clone().iter().map(|step| step.map(|step| step * 3 + 1))));
    // Four bars a line, so many a page.
    let set = |bars: Music<'_>, on_page: usize| {
        let begins = |text: String, number: usize| {
            let page = if (number - 1).is_multiple_of(on_page) { "new-page=\"yes\"" } else { "new-system=\"yes\"" };
            let bar = format!("<measure number=\"{number}\">");
            text.replace(&bar, &format!("{bar}<print {page}/>"))
        };
        (1..30).map(|line| line * 4 + 1).fold(score(bars), begins)
    };
    let folder = Folder::with("old.musicxml", set(&long, 20));
    folder.write("new.musicxml", set(&without(&long, 46..=47), 12));
    let run = folder.run(&RUN);
    let kept = folder.run(&["compare", "old.musicxml", "new.musicxml", "--keep-pages", "--json", "k.json"]);
    assert!(run.code <= 1 && kept.code <= 1, "{run:?} {kept:?}");
    let of_score = |name: &str| {
        let report = folder.json(name);
        let pages = report["compare"]["figures"][1]["pages"].as_u64();
        (report["compare"]["reprint"][0].clone(), pages)
    };
    let (own, pages) = of_score("c.json");
    assert_eq!((own["document"].as_str(), own["leaf_for_leaf"].as_bool(), pages), (Some("score"), None, Some(10)));
    assert!(own["sheets"].as_array().unwrap().iter().all(|sheet| sheet["fate"] == "print"), "{own}");
    let (own, pages) = of_score("k.json");
    assert_eq!((own["leaf_for_leaf"].as_bool(), pages), (Some(true), Some(6)));
    let fates: Vec<&str> = own["sheets"].as_array().unwrap().iter().map(|own| own["fate"].as_str().unwrap()).collect();
    assert_eq!(fates, ["keep", "print", "keep"], "{own}");
    assert!(kept.out.contains("Score") && kept.out.contains("pages 3-4, leaf for leaf"), "{}", kept.out);
}

#[test]
fn leaves_are_put_in_where_kept_pages_leave_no_room() {
    let mut long = draft();
    long.iter_mut().for_each(|(_, bars)| bars.extend(bars.clone().iter().map(|step| step.map(|step| step * 3 + 1))));
    let mut more = long.clone();
    more.iter_mut().for_each(|(_, bars)| drop(bars.splice(50..50, steps(600, 3).into_iter().rev())));
    let set = |bars: Music<'_>| {
        let begins = |text: String, number: usize| {
            let bar = format!("<measure number=\"{number}\">");
            text.replace(&bar, &format!("{bar}<print new-page=\"yes\"/>"))
        };
        (1..6).map(|page| page * 20 + 1).fold(score(bars), begins)
    };
    let folder = Folder::with("old.musicxml", set(&long));
    folder.write("new.musicxml", score(&more));
    let kept = folder.run(&["compare", "old.musicxml", "new.musicxml", "--keep-pages", "--json", "k.json"]);
    assert!(kept.code <= 1, "{kept:?}");
    let report = folder.json("k.json");
    let own = &report["compare"]["reprint"][0];
    let fates: Vec<&str> = own["sheets"].as_array().unwrap().iter().map(|own| own["fate"].as_str().unwrap()).collect();
    assert_eq!((fates, own["leaf_for_leaf"].as_bool()), (vec!["keep", "print", "keep"], Some(false)), "{own}");
    assert!(report["compare"]["figures"][1]["pages"].as_u64() > Some(6), "{}", report["compare"]["figures"]);
    assert!(kept.out.contains("pages 3-4, 1 page more"), "{}", kept.out);
}

#[test]
fn parts_come_and_go() {
    let mut new = draft();
    new[0].0 = "Piccolo";
    new.push(("Tam-tam", steps(60, 9)));
    new.swap(0, 1);
    let folder = folder(&new);
    let run = folder.run(&RUN);
    assert!(run.out.contains("ne part added"), "{}", run.out);
    let report = folder.json("c.json");
    let parts: Vec<(&str, &str)> = report["compare"]["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| (part["old_name"].as_str().unwrap_or("-"), part["new_name"].as_str().unwrap_or("-")))
        .collect();
    assert_eq!(parts, [("Violoncello", "Violoncello"), ("Flute", "Piccolo"), ("-", "Tam-tam")]);
    assert_eq!(report["compare"]["bars"][0]["status"], "equal");
    // Nobody's music changed, but every page of the score has a staff more.
    let fates: Vec<(String, bool)> =
        documents(&report).into_iter().map(|(name, fates)| (name, fates.iter().all(|fate| fate == "keep"))).collect();
    let of = |name: &str| fates.iter().find(|(own, _)| own == name).is_some_and(|(_, keeps)| *keeps);
    assert!(!of("score") && of("Violoncello"), "{fates:?}");
}

/// Two drafts as folders; the cello's part lies on two pages, turned after bar 30.
fn with_parts() -> Folder {
    let folder = Folder::new();
    for (name, bars) in [("one", draft()), ("two", without(&draft(), 50..=52))] {
        std::fs::create_dir_all(folder.path().join(name)).unwrap();
        folder.write(&format!("{name}/score.musicxml"), score(&bars));
        let cello = &bars[1..];
        let begins = |text: String, number: usize| {
            let page = if number == 31 { "new-page=\"yes\"" } else { "new-system=\"yes\"" };
            let bar = format!("<measure number=\"{number}\">");
            text.replace(&bar, &format!("{bar}<print {page}/>"))
        };
        let part = (1..12).map(|line| line * 5 + 1).fold(score(cello), begins);
        folder.write(&format!("{name}/a-cello.musicxml"), part);
    }
    folder
}

#[test]
fn a_folder_is_a_draft_with_its_parts() {
    let folder = with_parts();
    let run = folder.run(&["compare", "one", "two", "--json", "c.json"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    let report = folder.json("c.json");
    let cello =
        report["compare"]["reprint"].as_array().unwrap().iter().find(|own| own["document"] == "Violoncello").unwrap();
    // Pages of its own: two, of which the second is cut.
    let pages: usize =
        cello["sheets"].as_array().unwrap().iter().map(|sheet| sheet["pages"].as_array().unwrap().len()).sum();
    assert_eq!(pages, 2, "{cello}");
    assert!(cello["print"].as_array().is_some_and(|print| !print.is_empty()), "{cello}");
    assert_eq!(report["drafts"][0]["input"].as_array().unwrap().len(), 2);
}

#[test]
fn parts_that_are_named_are_those_of_a_folder() {
    let folder = with_parts();
    folder.run(&["compare", "one", "two", "--json", "folders.json"]);
    for name in ["one", "two"] {
        let own = folder.path().join(name);
        std::fs::create_dir_all(own.join("parts")).unwrap();
        std::fs::rename(own.join("a-cello.musicxml"), own.join("parts/a-cello.musicxml")).unwrap();
    }
    let scores = ["compare", "one/score.musicxml", "two/score.musicxml"];
    let without = folder.run(&[&scores[..], &["--json", "scores.json"]].concat());
    assert_eq!(without.code, 0, "{without:?}");
    // A folder, and a file.
    let named = ["--old-parts", "one/parts", "--new-parts", "two/parts/a-cello.musicxml", "--json", "named.json"];
    let run = folder.run(&[&scores[..], &named].concat());
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    // A draft has the name of its file or folder; all else is the same.
    let told = |name: &str| {
        let mut told = folder.json(name)["compare"].take();
        told["trend"].as_array_mut().unwrap().iter_mut().for_each(|row| row["name"] = Value::Null);
        told
    };
    assert!(told("named.json") == told("folders.json"));
    assert!(told("named.json") != told("scores.json"));
}

#[test]
fn parts_that_cannot_be_used_are_told() {
    let folder = with_parts();
    std::fs::create_dir_all(folder.path().join("none")).unwrap();
    let scores = ["compare", "one/score.musicxml", "two/score.musicxml", "--json", "c.json"];
    for (option, path, wanted) in [
        ("--old-parts", "nowhere", "nowhere: cannot be read"),
        ("--new-parts", "nowhere", "nowhere: cannot be read"),
        ("--old-parts", "none", "none: no music in this folder"),
        // Not a movement more.
        ("--old-parts", "two/score.musicxml", "score.musicxml: this is no part of the score"),
    ] {
        let run = folder.run(&[&scores[..], &[option, path]].concat());
        assert_eq!(run.code, 2, "{path}: {run:?}");
        let told: Vec<&str> = run.err.lines().collect();
        assert!(told[0].contains(wanted) && told.len() <= 2, "{path}: {}", run.err);
    }
    folder.write("plan.toml", include_str!("../fixtures/outlines/salt-road.toml"));
    let run = folder.run(&["compare", "plan.toml", "plan.toml", "--old-parts", "one/a-cello.musicxml"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.starts_with("error: plan.toml: no notes that parts could be held against\n"), "{}", run.err);
    // What came last of the others went on without that file.
    assert_eq!(folder.json("c.json")["compare"]["bars"].as_array().unwrap().len(), 60);
}

#[test]
fn more_than_two_drafts_are_a_row_each() {
    let folder = folder(&without(&draft(), 25..=30));
    folder.write("third.musicxml", score(&without(&draft(), 25..=40)));
    let run = folder.run(&["compare", "old.musicxml", "new.musicxml", "third.musicxml", "--json", "c.json"]);
    assert!(run.out.starts_with("16 bars out"), "{}", run.out);
    assert!(run.out.contains("third.musicxml") && run.out.contains("turns of players"), "{}", run.out);
    let bars: Vec<u64> = folder.json("c.json")["compare"]["trend"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["bars"].as_u64().unwrap())
        .collect();
    assert_eq!(bars, [60, 54, 44]);
}

#[test]
fn the_exit_code_asks_whether_the_new_draft_is_worse() {
    let cramped = |height: &str| {
        score(&draft()).replace(
            "<part-list>",
            &format!(
                "<defaults><scaling><millimeters>{height}</millimeters><tenths>40</tenths></scaling></defaults><part-list>"
            ),
        )
    };
    let recorded = |height: &str| {
        cramped(height).replace("<measure number=\"11\">", "<measure number=\"11\"><print new-system=\"yes\"/>")
    };
    let folder = Folder::with("old.musicxml", recorded("7"));
    folder.write("new.musicxml", recorded("2.5"));
    let worse = folder.run(&RUN);
    assert_eq!(worse.code, 1, "{worse:?}");
    assert!(worse.out.contains("New in this draft:"), "{}", worse.out);
    let better = folder.run(&["compare", "new.musicxml", "old.musicxml", "--json", "c.json"]);
    assert_eq!(better.code, 0, "{better:?}");
    let mended =
        folder.json("c.json")["compare"]["findings"].as_array().unwrap().iter().any(|own| own["status"] == "mended");
    assert!(mended);
    let stop = folder.run(&["compare", "old.musicxml", "new.musicxml", "--fail-on", "stop", "--json", "c.json"]);
    assert!(stop.code <= 1, "{stop:?}");
}

#[test]
fn what_was_accepted_before_is_not_new() {
    let text = score(&draft())
        .replace(
            "<part-list>",
            "<defaults><scaling><millimeters>2.5</millimeters><tenths>40</tenths></scaling></defaults><part-list>",
        )
        .replace("<measure number=\"11\">", "<measure number=\"11\"><print new-system=\"yes\"/>");
    let folder = Folder::with("old.musicxml", &text);
    folder.write("new.musicxml", text.replace("<step>D</step>", "<step>E</step>"));
    folder.run(&["check", "old.musicxml", "--json", "old.json"]);
    let accepted =
        folder.run(&["accept", "old.json", "1", "--why", "a study score", "--by", "AB", "--score", "old.musicxml"]);
    assert_eq!(accepted.code, 0, "{accepted:?}");
    folder.run(&RUN);
    let report = folder.json("c.json");
    let own: Vec<&Value> =
        report["compare"]["findings"].as_array().unwrap().iter().filter(|own| own["accepted"] == true).collect();
    assert!(!own.is_empty() && own.iter().all(|own| own["status"] == "kept"), "{own:?}");
}

#[test]
fn two_pieces_are_told_and_compared_as_pages() {
    let seldom = (0..60).map(|bar| (bar % 3 == 0).then_some(bar * 7 % 11 + 1)).collect();
    let other = vec![("Flute", seldom), ("Violoncello", vec![None; 60])];
    let folder = folder(&other);
    let run = folder.run(&RUN);
    assert!(run.out.starts_with("Two different pieces"), "{}", run.out);
    assert_eq!(folder.json("c.json")["compare"]["pages_only"], "other-pieces");
    let strangers = vec![("Organ", (0..60).map(|bar| (bar % 4 == 1).then_some(bar % 5)).collect())];
    folder.write("new.musicxml", score(&strangers).replace("</step>", "</step><alter>1</alter>"));
    let run = folder.run(&RUN);
    assert!(run.out.starts_with("No part of the one is in the other"), "{}", run.out);
}

#[test]
fn what_cannot_be_compared_is_told_in_one_line() {
    let folder = folder(&draft());
    folder.write(
        "empty.musicxml",
        "<score-partwise><part-list><score-part id=\"P1\"/></part-list><part id=\"P1\"/></score-partwise>",
    );
    for (arguments, wanted) in [
        (vec!["compare", "old.musicxml", "empty.musicxml"], "empty.musicxml"),
        (vec!["compare", "old.musicxml", "nowhere.musicxml"], "nowhere.musicxml: cannot be read"),
        (vec!["compare", "-", "-"], "standard input can be one draft only"),
        (vec!["compare", "old.musicxml", "new.musicxml", "--report", "old.musicxml"], "was not written by rastrum"),
    ] {
        let run = folder.run(&arguments);
        assert_eq!(run.code, 2, "{arguments:?}: {run:?}");
        assert!(run.err.contains(wanted), "{arguments:?}: {}", run.err);
    }
    assert_eq!(folder.run(&["compare", "old.musicxml"]).code, 2);
    assert_eq!(folder.names(), ["empty.musicxml", "new.musicxml", "old.musicxml"]);
}

#[test]
fn the_report_is_the_same_each_time() {
    let folder = folder(&without(&draft(), 25..=30));
    folder.run(&["compare", "old.musicxml", "new.musicxml"]);
    let first = folder.read("new-compare.pdf");
    folder.run(&["compare", "old.musicxml", "new.musicxml"]);
    assert!(first.starts_with(b"%PDF-1.7") && folder.read("new-compare.pdf") == first);
}

#[test]
fn the_schema_of_comparisons_changes_only_with_its_version() {
    let run = Folder::new().run(&["schema", "compare"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    insta::assert_snapshot!("compare-schema", run.out);
}
