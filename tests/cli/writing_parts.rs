//! `rastrum parts --write-breaks FOLDER`: each player's part as a file of its own.

use crate::music::duet;
use crate::program::Folder;

fn written() -> Folder {
    let folder = Folder::with("score.musicxml", duet(60, 7.0));
    let run = folder.run(&["parts", "score.musicxml", "--write-breaks", "cut", "--json", "r.json"]);
    assert!(run.code < 2, "{run:?}");
    assert!(run.out.contains("Written: cut"), "{run:?}");
    folder
}

#[test]
fn each_player_has_a_file_and_the_file_is_that_players_part() {
    let folder = written();
    let names: Vec<String> = folder.json("r.json")["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| format!("cut/{}.musicxml", part["name"].as_str().unwrap()))
        .collect();
    assert!(names.len() > 1);
    let mut arguments = vec!["parts", "score.musicxml"];
    arguments.extend(names.iter().map(String::as_str));
    arguments.extend(["--json", "again.json"]);
    let run = folder.run(&arguments);
    assert!(run.code < 2, "{run:?}");
    let (first, again) = (folder.json("r.json"), folder.json("again.json"));
    for (one, other) in first["parts"].as_array().unwrap().iter().zip(again["parts"].as_array().unwrap()) {
        assert_eq!((&one["name"], &one["layout"]["footing"]), (&other["name"], &"proposal".into()));
        assert_eq!(other["layout"]["footing"], "recorded");
        let systems = |part: &serde_json::Value| -> Vec<serde_json::Value> {
            let pages = part["layout"]["pages"].as_array().unwrap().iter();
            pages.flat_map(|page| page["systems"].as_array().unwrap()).cloned().collect()
        };
        assert_eq!(systems(one), systems(other));
    }
}

#[test]
fn parts_that_stand_there_are_never_replaced() {
    let folder = written();
    folder
        .run(&["parts", "score.musicxml", "--write-breaks", "cut", "--json", "again.json"])
        .refuses("stands there already");
    assert!(!folder.names().contains(&"again.json".to_owned()));
    folder.run(&["parts", "score.musicxml", "--write-breaks", "r.json"]).refuses("this is a file");
    folder.run(&["parts", "score.musicxml", "--write-breaks", "no/folder"]).refuses("no folder to make it in");
}

#[test]
fn each_movement_has_files_of_its_own() {
    let folder = Folder::with("1.musicxml", duet(4, 7.0));
    folder.write("2.musicxml", duet(5, 7.0));
    let run = folder.run(&["parts", "1.musicxml", "2.musicxml", "--write-breaks", "cut", "--json", "r.json"]);
    assert!(run.code < 2, "{run:?}");
    assert_eq!(std::fs::read_dir(folder.path().join("cut")).unwrap().count(), 4);
}
