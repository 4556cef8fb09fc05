//! One small file for each oddity of real files, with all that is read from it.

use std::path::PathBuf;

use rastrum::limits::Limits;
use rastrum::read::{Input, read};

use crate::dump::dump;

/// The folder of small files and their names without endings, in order.
pub fn fixtures() -> Vec<(String, PathBuf)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/musicxml");
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let scores = files.filter(|path| path.extension().is_some_and(|ending| ending == "musicxml"));
    let mut named: Vec<_> =
        scores.map(|path| (path.file_stem().unwrap().to_string_lossy().into_owned(), path)).collect();
    named.sort();
    named
}

#[test]
fn every_oddity_is_read_as_its_snapshot_says() {
    let fixtures = fixtures();
    assert!(fixtures.len() > 40);
    for (name, path) in fixtures {
        let bytes = std::fs::read(path).unwrap();
        let input = Input { name: &name, bytes: &bytes };
        let reading = read(&[input], &Limits::default()).unwrap();
        let in_small_pieces = read(&[input], &Limits { piece_bytes: 1, ..Limits::default() }).unwrap();
        assert_eq!(in_small_pieces, reading, "{name}");
        let settings = {
            let mut settings = insta::Settings::clone_current();
            settings.set_snapshot_path("../fixtures/musicxml/read");
            settings.set_prepend_module_to_snapshot(false);
            settings.set_omit_expression(true);
            settings
        };
        settings.bind(|| insta::assert_snapshot!(name.as_str(), dump(&reading)));
    }
}
