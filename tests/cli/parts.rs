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

#[test]
fn an_outline_has_no_parts_yet() {
    let folder =
        Folder::with("plan.toml", "title = \"A\"\nforces = [\"Flute\"]\n[[section]]\nbars = 4\nmetre = \"4/4\"\n");
    folder.run(&["parts", "plan.toml"]).refuses("an outline has no parts yet");
}
