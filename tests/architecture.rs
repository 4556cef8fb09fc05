//! The order of the modules: each uses only what stands below it, and libraries stay where they belong.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// From the top. A module may use modules of lower lines, and of its own line as long as that is not mutual.
const ORDER: [&[&str]; 10] = [
    &["report"],
    &["check"],
    &["accepted"],
    &["rules"],
    &["survey"],
    &["casting_off"],
    &["align", "metrics", "players"],
    &["read", "guidelines"],
    &["score", "layout"],
    &["units", "geometry", "paper", "place", "remarks", "limits", "words"],
];

/// What only some modules may touch: a word of the code, and the beginnings of the paths that may hold it.
const CONFINED: [(&str, &[&str]); 7] = [
    ("printpdf", &["report/pdf"]),
    ("lopdf", &["report/pdf"]),
    ("roxmltree", &["read"]),
    ("std::fs", &["cli"]),
    ("std::env", &["cli"]),
    ("std::time", &["cli"]),
    ("std::process", &["cli", "main"]),
];

#[test]
fn every_module_uses_only_what_stands_below_it() {
    let uses: BTreeSet<(String, String)> = sources().iter().flat_map(Source::uses).collect();
    let wrong: Vec<String> = uses
        .iter()
        .filter(|(user, used)| match line_of(user).cmp(&line_of(used)) {
            std::cmp::Ordering::Less => false,
            std::cmp::Ordering::Equal => uses.contains(&(used.clone(), user.clone())),
            std::cmp::Ordering::Greater => true,
        })
        .map(|(user, used)| format!("{user} uses {used}"))
        .collect();
    assert!(wrong.is_empty(), "against the order of modules: {wrong:#?}");
    assert!(uses.contains(&("check".into(), "rules".into())), "no uses were read");
}

#[test]
fn every_module_has_its_place_in_the_order() {
    let unknown: BTreeSet<String> =
        sources().iter().map(Source::module).filter(|module| !is_top(module) && rank(module).is_none()).collect();
    assert!(unknown.is_empty(), "not in the order of modules: {unknown:?}");
}

#[test]
fn libraries_files_and_clocks_stay_where_they_belong() {
    let sources = sources();
    for (word, homes) in CONFINED {
        let strays: Vec<&PathBuf> = sources
            .iter()
            .filter(|source| !homes.iter().any(|home| source.path.starts_with(home) || source.is_file_of(home)))
            .filter(|source| source.code().any(|line| line.contains(word)))
            .map(|source| &source.path)
            .collect();
        assert!(strays.is_empty(), "{word} is used in {strays:?}");
        assert!(
            word.starts_with("std::") || sources.iter().any(|source| source.code().any(|line| line.contains(word))),
            "{word} is used nowhere: is this rule still needed?"
        );
    }
}

/// A file of the library or of the program.
struct Source {
    /// Below `src`.
    path: PathBuf,
    text: String,
}

impl Source {
    /// The module of the top level that it belongs to.
    fn module(&self) -> String {
        let first = self.path.iter().next().map(Path::new).unwrap_or(&self.path);
        first.with_extension("").to_string_lossy().into_owned()
    }

    fn is_file_of(&self, home: &str) -> bool {
        self.path.with_extension("") == Path::new(home)
    }

    /// Lines of code: no comments, and nothing from the tests on, which may use what they like.
    fn code(&self) -> impl Iterator<Item = &str> {
        let is_test = self.path.iter().any(|part| part == "tests" || part == "tests.rs");
        let lines = self.text.lines().take_while(|line| line.trim() != "#[cfg(test)]");
        lines.filter(move |line| !is_test && !line.trim_start().starts_with("//"))
    }

    /// Which modules it uses, by `crate::`.
    fn uses(&self) -> Vec<(String, String)> {
        let user = self.module();
        if is_top(&user) {
            return Vec::new();
        }
        let used = self.code().flat_map(|line| line.split("crate::").skip(1));
        let names = used.map(|rest| {
            let name: String = rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
            assert!(!name.is_empty(), "{}: one use a module, please: {rest}", self.path.display());
            name
        });
        names.filter(|used| *used != user).map(|used| (user.clone(), used)).collect()
    }
}

/// The program stands above all; `lib` only lists; the tests' own scores are in no release.
fn is_top(module: &str) -> bool {
    matches!(module, "cli" | "main" | "lib" | "fixture")
}

fn line_of(module: &str) -> usize {
    rank(module).unwrap_or(usize::MAX)
}

fn rank(module: &str) -> Option<usize> {
    ORDER.iter().position(|line| line.contains(&module))
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut folders = vec![root.clone()];
    let mut sources = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the source folder can be read") {
            let path = entry.expect("the source folder can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let text = fs::read_to_string(&path).expect("source files are text");
                let path = path.strip_prefix(&root).expect("it was found below the root").to_owned();
                sources.push(Source { path, text });
            }
        }
    }
    sources.sort_by(|one, other| one.path.cmp(&other.path));
    sources
}
