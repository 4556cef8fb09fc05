//! Open scores against what a program in another language read from them.

use std::path::{Path, PathBuf};

use rastrum::limits::Limits;
use rastrum::read::{Input, Reading, read};

/// Where the open data lies: RASTRUM_DATA, or beside the project. `None`, said aloud, when it is absent.
pub fn data() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/data");
    let folder = std::env::var_os("RASTRUM_DATA").map_or_else(beside, PathBuf::from);
    if folder.join("recorded-truth.json").is_file() {
        return Some(folder);
    }
    println!("skipped: no open data in {}", folder.display());
    None
}

/// Every score of the open data, by name.
pub fn scores(folder: &Path) -> Vec<PathBuf> {
    let (mut folders, mut scores) = (vec![folder.to_owned()], Vec::new());
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "mxl") {
                scores.push(path);
            }
        }
    }
    scores.sort();
    assert!(!scores.is_empty());
    scores
}

fn read_file(path: &Path) -> Reading {
    let bytes = std::fs::read(path).unwrap();
    let name = path.file_name().unwrap().to_string_lossy();
    read(&[Input { name: &name, bytes: &bytes }], &Limits::default()).unwrap()
}

#[test]
fn every_open_score_has_the_parts_staves_bars_and_notes_that_another_program_counted() {
    let Some(folder) = data() else { return };
    let truth = std::fs::read_to_string(folder.join("recorded-truth.json")).unwrap();
    let truth: Vec<serde_json::Value> = serde_json::from_str(&truth).unwrap();
    assert!(!truth.is_empty());
    for file in &truth {
        let name = file["file"].as_str().unwrap();
        let Reading { score, record, .. } = read_file(&folder.join(name));
        let count = |key: &str| file[key].as_u64().unwrap();
        let ours = [score.parts.len() as u64, score.staves.len() as u64, score.bars.len() as u64, score.note_elements];
        assert_eq!(ours, ["parts", "staves", "bars", "note_elements"].map(count), "{name}");
        assert_eq!(score.cells.len(), score.bars.len() * score.staves.len(), "{name}");
        let height = record.staff_heights[0].unwrap().0;
        assert!((height - file["staff_height_mm"].as_f64().unwrap()).abs() < 0.001, "{name}: {height}");
        let (width, _) = record.defaults[0].page.size.unwrap();
        assert!((width.0 - file["page_mm"][0].as_f64().unwrap()).abs() < 0.06, "{name}: {width}");
        let breaks = |bar: &rastrum::layout::BarRecord| bar.new_system == Some(true) || bar.new_page == Some(true);
        let starts =
            record.bars.iter().enumerate().filter(|(at, bar)| *at == 0 || breaks(bar)).map(|(at, _)| at as u64);
        let wanted = file["first_bar_index_of_each_system"].as_array().unwrap().iter().map(|bar| bar.as_u64().unwrap());
        assert!(starts.eq(wanted), "{name}: systems begin elsewhere");
    }
}

#[test]
fn open_scores_last_as_long_as_music_does() {
    let Some(folder) = data() else { return };
    for name in ["orchestra/haydn-104-1.mxl", "orchestra/brahms-op90-2.mxl", "orchestra/bruckner-wab105-2.mxl"] {
        let score = read_file(&folder.join(name)).score;
        let seconds = score.duration().unwrap().0;
        assert!((240.0..1800.0).contains(&seconds), "{name}: {seconds} s");
        assert!(!score.tempo_assumed, "{name}");
    }
}

#[test]
fn movements_of_one_symphony_share_their_parts_and_count_their_bars_on() {
    let Some(folder) = data() else { return };
    let names = ["brahms-op68-1.mxl", "brahms-op68-2.mxl", "brahms-op68-3.mxl"];
    let files = names.map(|name| std::fs::read(folder.join("orchestra").join(name)).unwrap());
    let alone = files.each_ref().map(|bytes| read(&[Input { name: "", bytes }], &Limits::default()).unwrap().score);
    let inputs = files.each_ref().map(|bytes| Input { name: "", bytes });
    let together = read(&inputs, &Limits::default()).unwrap().score;
    assert_eq!(together.bars.len(), alone.iter().map(|score| score.bars.len()).sum::<usize>());
    assert_eq!(together.note_elements, alone.iter().map(|score| score.note_elements).sum::<u64>());
    // The 21 parts of the first movement, with the solo violin and the other first violins of the second: clarinets,
    // horns and trumpets are the same players in another key.
    let names: Vec<&str> = together.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(names.len(), 23, "{names:?}");
}
