//! `rastrum proof`: parts held against their score.

use crate::program::Folder;

/// A score of two parts and so many bars; each bar has notes of its own.
fn score(bars: usize) -> String {
    document(&[("P1", "Flute", music(bars, 0)), ("P2", "Violoncello", music(bars, 3))])
}

fn document(parts: &[(&str, &str, Vec<String>)]) -> String {
    let listed: String = parts
        .iter()
        .map(|(id, name, _)| format!("<score-part id=\"{id}\"><part-name>{name}</part-name></score-part>"))
        .collect();
    let music: String = parts
        .iter()
        .map(|(id, _, bars)| {
            let bars =
                bars.iter().enumerate().map(|(at, bar)| format!("<measure number=\"{}\">{bar}</measure>", at + 1));
            format!("<part id=\"{id}\">{}</part>", bars.collect::<String>())
        })
        .collect();
    format!("<score-partwise version=\"4.0\"><part-list>{listed}</part-list>{music}</score-partwise>")
}

/// Two half notes a bar, `up` steps higher.
fn music(bars: usize, up: usize) -> Vec<String> {
    let note = |step: usize| {
        let name = &"CDEFGAB"[step % 7..=step % 7];
        let octave = 4 + step / 7 % 2;
        format!("<note><pitch><step>{name}</step><octave>{octave}</octave></pitch><duration>2</duration></note>")
    };
    let head = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    let bar = |at: usize| format!("{}{}{}", if at == 0 { head } else { "" }, note(at + up), note(at * 2 + up + 1));
    (0..bars).map(bar).collect()
}

fn part(name: &str, bars: usize, up: usize) -> String {
    document(&[("P1", name, music(bars, up))])
}

fn folder() -> Folder {
    let folder = Folder::with("score.musicxml", score(16));
    folder.write("flute.musicxml", part("Flute", 16, 0));
    folder.write("cello.musicxml", part("Violoncello", 16, 3));
    folder
}

fn verdicts(folder: &Folder) -> Vec<(String, String)> {
    let report = folder.json("p.json");
    let text = |value: &serde_json::Value| value.as_str().unwrap_or("-").to_owned();
    report["proof"]["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| (text(&part["file"]), text(&part["verdict"])))
        .collect()
}

fn pair(file: &str, verdict: &str) -> (String, String) {
    (file.to_owned(), verdict.to_owned())
}

#[test]
fn parts_that_are_the_same_may_go_on_the_stands() {
    let folder = folder();
    let arguments =
        ["proof", "score.musicxml", "flute.musicxml", "cello.musicxml", "--json", "p.json", "--report", "p.pdf"];
    let run = folder.run(&arguments);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert!(run.out.starts_with("All 2 parts may go on the stands."), "{run:?}");
    assert_eq!(verdicts(&folder), [pair("flute.musicxml", "same"), pair("cello.musicxml", "same")]);
    let (pages, json) = (folder.read("p.pdf"), folder.read("p.json"));
    folder.run(&arguments);
    assert!(folder.read("p.pdf") == pages && folder.read("p.json") == json, "same input, same bytes");
}

#[test]
fn a_missing_bar_stops_the_rehearsal_and_is_told_by_its_number() {
    let folder = folder();
    let mut bars = music(16, 3);
    bars.remove(6);
    folder.write("cello.musicxml", document(&[("P1", "Violoncello", bars)]));
    let run = folder.run(&["proof", "score.musicxml", "flute.musicxml", "cello.musicxml", "--json", "p.json"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.out.contains("Bar 7: bars missing. Score: 1 bar. Part: not there."), "{run:?}");
    let part = &folder.json("p.json")["proof"]["parts"][1];
    let own = &part["differences"][0];
    assert_eq!(
        (own["bar_index"].as_u64(), own["bar_label"].as_str(), own["class"].as_str()),
        (Some(6), Some("7"), Some("missing-bars"))
    );
    assert_eq!((own["weight"].as_str(), part["counts"]["bars"].as_u64()), (Some("stop"), Some(15)));
    assert_eq!(own["part_bar_label"], serde_json::Value::Null);
}

#[test]
fn what_is_no_part_of_it_is_named_and_set_aside_and_the_rest_goes_on() {
    let folder = folder();
    folder.write("broken.musicxml", "<score-partwise><part-list>");
    folder.write("again.musicxml", part("Flute", 16, 0));
    folder.write("stranger.musicxml", document(&[("P1", "Ophicleide", vec![music(16, 0).concat()])]));
    let rests: Vec<String> = (0..16)
        .map(|at| {
            format!(
                "{}<note><rest/><duration>4</duration></note>",
                if at == 0 { "<attributes><divisions>1</divisions></attributes>" } else { "" }
            )
        })
        .collect();
    folder.write("silent.musicxml", document(&[("P1", "Violoncello", rests)]));
    let run = folder.run(&[
        "proof",
        "score.musicxml",
        "flute.musicxml",
        "again.musicxml",
        "broken.musicxml",
        "silent.musicxml",
        "stranger.musicxml",
        "--json",
        "p.json",
    ]);
    assert_eq!(run.code, 2, "{run:?}");
    assert_eq!(verdicts(&folder)[0].1, "same");
    assert_eq!(verdicts(&folder)[1], pair("-", "not-there"));
    let report = folder.json("p.json");
    let aside: Vec<String> = report["set_aside"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| format!("{}: {}", own["name"].as_str().unwrap(), own["why"].as_str().unwrap()))
        .collect();
    let all = aside.join("\n");
    for told in [
        "broken.musicxml",
        "the same part as",
        "silent.musicxml: has no notes, and Violoncello plays",
        "stranger.musicxml: no part of this score",
    ] {
        assert!(all.contains(told), "{told}: {all}");
    }
    assert!(run.err.lines().filter(|line| line.starts_with("error: ")).count() == 4, "{run:?}");
}

#[test]
fn a_file_is_whose_it_is_said_to_be() {
    let folder = folder();
    folder.write("x.musicxml", part("", 16, 3));
    let run = folder.run(&[
        "proof",
        "score.musicxml",
        "x.musicxml",
        "--map",
        "x.musicxml=Flute",
        "--part",
        "Flute",
        "--json",
        "p.json",
    ]);
    assert_eq!(run.code, 1, "{run:?}");
    assert_ne!(verdicts(&folder)[0].1, "same");
    let run = folder.run(&["proof", "score.musicxml", "x.musicxml", "--map", "y.musicxml=Flute"]);
    run.refuses("--map names the file y.musicxml, which is not among the parts");
    let run = folder.run(&["proof", "score.musicxml", "x.musicxml", "--map", "x.musicxml=Tuba"]);
    run.refuses("no part is called \"Tuba\"");
}

#[test]
fn without_parts_the_score_is_looked_through_alone() {
    let folder = folder();
    let run = folder.run(&["proof", "score.musicxml", "--json", "p.json", "--report", "p.pdf"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(run.out.starts_with("The score alone: nothing found"), "{run:?}");
    let tied = score(16).replacen("<duration>2</duration>", "<duration>2</duration><tie type=\"start\"/>", 1);
    folder.write("score.musicxml", tied);
    let run = folder.run(&["proof", "score.musicxml", "--json", "p.json"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert_eq!(folder.json("p.json")["proof"]["score"][0]["rule"], "tie-to-nothing");
}

#[test]
fn a_folder_of_parts_is_read_and_one_without_music_is_said() {
    let folder = folder();
    std::fs::create_dir(folder.path().join("parts")).unwrap();
    std::fs::rename(folder.path().join("flute.musicxml"), folder.path().join("parts/flute.musicxml")).unwrap();
    std::fs::rename(folder.path().join("cello.musicxml"), folder.path().join("parts/cello.musicxml")).unwrap();
    let run = folder.run(&["proof", "score.musicxml", "parts"]);
    assert_eq!(run.code, 0, "{run:?}");
    std::fs::create_dir(folder.path().join("empty")).unwrap();
    folder.run(&["proof", "score.musicxml", "empty"]).refuses("no music in this folder");
}

#[test]
fn an_accepted_difference_does_not_come_back_until_it_is_another() {
    let folder = folder();
    let step = music(16, 3)[6].split("<step>").nth(1).and_then(|rest| rest.chars().next()).unwrap();
    let make = |to: &str| {
        let mut bars = music(16, 3);
        bars[6] = bars[6].replacen(&format!("<step>{step}</step>"), &format!("<step>{to}</step>"), 1);
        document(&[("P1", "Violoncello", bars)])
    };
    let targets: Vec<&str> = ["A", "G", "E"].into_iter().filter(|to| !to.starts_with(step)).collect();
    folder.write("cello.musicxml", make(targets[0]));
    let arguments = ["proof", "score.musicxml", "flute.musicxml", "cello.musicxml", "--json", "p.json"];
    assert_eq!(folder.run(&arguments).code, 1);
    let run = folder.run(&["accept", "p.json", "1", "--why", "The composer wants it so.", "--by", "M. K."]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert!(run.out.contains("score-proof-accepted.toml"), "{run:?}");
    let run = folder.run(&arguments);
    assert_eq!(run.code, 0, "{run:?}");
    assert_eq!(folder.json("p.json")["proof"]["parts"][1]["accepted"][0]["by"], "M. K.");
    folder.write("cello.musicxml", make(targets[1]));
    assert_eq!(folder.run(&arguments).code, 1, "another note is another difference");
}

#[test]
fn one_part_of_a_folder_is_asked_for_and_the_others_are_left_alone() {
    let folder = folder();
    let files = ["proof", "score.musicxml", "flute.musicxml", "cello.musicxml", "--part", "Violon", "--json", "p.json"];
    let run = folder.run(&files);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{run:?}");
    assert_eq!(verdicts(&folder), [pair("cello.musicxml", "same")]);
}
