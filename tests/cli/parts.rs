//! `rastrum parts`: the players' parts of a score.

use crate::music::duet;
use crate::program::Folder;

#[test]
fn every_player_has_a_part_in_table_json_and_report() {
    let folder = Folder::with("duet.musicxml", duet(40, 7.0));
    let run = folder.run(&["parts", "duet.musicxml", "--json", "p.json", "--report", "p.pdf"]);
    assert!(run.code < 2, "{run:?}");
    let report = folder.json("p.json");
    let parts = report["parts"].as_array().unwrap();
    assert_eq!(parts.len(), 2);
    for part in parts {
        let name = part["name"].as_str().unwrap();
        assert!(run.out.contains(name), "{name} is not in the table: {run:?}");
        assert!(!part["layout"]["pages"].as_array().unwrap().is_empty());
    }
    assert!(folder.read("p.pdf").starts_with(b"%PDF-"));
}

#[test]
fn a_single_part_is_asked_for_by_the_beginning_of_its_name() {
    let folder = Folder::with("duet.musicxml", duet(8, 7.0));
    let all = folder.run(&["parts", "duet.musicxml", "--json", "all.json"]);
    assert!(all.code < 2, "{all:?}");
    let name = folder.json("all.json")["parts"][1]["name"].as_str().unwrap().to_owned();
    let run = folder.run(&["parts", "duet.musicxml", "--part", &name, "--staff", "9mm", "--json", "one.json"]);
    assert!(run.code < 2, "{run:?}");
    let report = folder.json("one.json");
    assert_eq!(report["parts"].as_array().unwrap().len(), 1);
    assert_eq!(report["parts"][0]["name"].as_str(), Some(name.as_str()));
    folder.run(&["parts", "duet.musicxml", "--part", "Ophicleide"]).refuses("no part is called \"Ophicleide\"");
}

#[test]
fn a_file_that_is_no_part_of_the_score_is_set_aside_and_the_rest_goes_on() {
    let folder = Folder::with("duet.musicxml", duet(8, 7.0));
    let stranger = duet(3, 7.0).replace("<score-part id=\"P2\"", "<other").replace("</score-part>", "");
    folder.write("stranger.musicxml", stranger);
    let run = folder.run(&["parts", "duet.musicxml", "stranger.musicxml", "--json", "p.json"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.contains("stranger.musicxml"), "{run:?}");
    assert_eq!(folder.json("p.json")["parts"].as_array().unwrap().len(), 2);
}

/// One player alone, as a part of the duet; systems begin where a part's file says.
fn part_of_duet(name: &str, bars: usize, breaks: bool) -> String {
    let bar = |number: usize| {
        let begins = if breaks && number % 5 == 1 && number > 1 { "<print new-system=\"yes\"/>" } else { "" };
        let head = if number == 1 {
            "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>\
             <direction><sound tempo=\"60\"/></direction>"
        } else {
            ""
        };
        let step = if number == 1 { "C" } else { "D" };
        format!(
            "<measure number=\"{number}\">{begins}{head}<note><pitch><step>{step}</step><octave>4</octave></pitch>\
             <duration>4</duration></note></measure>"
        )
    };
    let bars: String = (1..=bars).map(bar).collect();
    format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>{name}</part-name></score-part>\
         </part-list><part id=\"P1\">{bars}</part></score-partwise>"
    )
}

#[test]
fn a_part_with_breaks_is_looked_at_as_it_is_beside_what_it_could_be() {
    let folder = Folder::with("duet.musicxml", duet(40, 7.0));
    folder.write("cello.musicxml", part_of_duet("Violoncello", 40, true));
    let run = folder.run(&["parts", "duet.musicxml", "cello.musicxml", "--json", "p.json"]);
    assert!(run.code < 2, "{run:?}");
    let report = folder.json("p.json");
    let (flute, cello) = (&report["parts"][0], &report["parts"][1]);
    assert_eq!(flute["layout"]["footing"], "proposal");
    assert_eq!(cello["layout"]["footing"], "recorded");
    let pages = cello["layout"]["pages"].as_array().unwrap();
    let systems: usize = pages.iter().map(|page| page["systems"].as_array().unwrap().len()).sum();
    assert_eq!(systems, 8);
    assert!(cello["proposal"]["pages"].as_u64().unwrap() >= 1);
}

#[test]
fn a_part_without_breaks_is_laid_out_as_proposed_and_says_so() {
    let folder = Folder::with("duet.musicxml", duet(12, 7.0));
    folder.write("cello.musicxml", part_of_duet("Violoncello", 12, false));
    let run = folder.run(&["parts", "duet.musicxml", "cello.musicxml", "--json", "p.json"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.contains("cello.musicxml: no systems or pages are recorded"), "{run:?}");
    assert_eq!(folder.json("p.json")["parts"][1]["layout"]["footing"], "proposal");
}

#[test]
fn an_outline_has_no_parts_yet() {
    let folder =
        Folder::with("plan.toml", "title = \"A\"\nforces = [\"Flute\"]\n[[section]]\nbars = 4\nmetre = \"4/4\"\n");
    folder.run(&["parts", "plan.toml"]).refuses("an outline has no parts yet");
}

#[test]
fn what_the_score_leaves_open_is_said_once() {
    let open = duet(8, 7.0);
    let at = open.find("<measure number=\"3\"").unwrap();
    let inside = at + open[at..].find('>').unwrap() + 1;
    let barline = "<barline location=\"left\"><repeat direction=\"forward\"/></barline>";
    let folder = Folder::with("duet.musicxml", [&open[..inside], barline, &open[inside..]].concat());
    let run = folder.run(&["parts", "duet.musicxml", "--json", "p.json"]);
    assert!(run.code < 2, "{run:?}");
    assert!(run.out.contains("A repeat begins and never closes, and is taken to be played once: bar 3."), "{run:?}");
    let senza = duet(8, 7.0).replacen("<beats>4</beats><beat-type>4</beat-type>", "<senza-misura/>", 2);
    folder.write("free.musicxml", senza);
    let run = folder.run(&["parts", "free.musicxml", "--json", "q.json"]);
    assert!(run.code < 2, "{run:?}");
    assert!(run.out.contains("Without metre, so that its time is not known: bars 1"), "{run:?}");
}
