//! The order of the modules: each uses only what stands below it, and libraries stay where they belong. And what every
//! file keeps to: short, nothing silenced, nothing left for later.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// From the top. A module may use modules of lower lines, and of its own line as long as that is not mutual.
const ORDER: [&[&str]; 10] = [
    &["report", "write_breaks", "write_parts", "annotate"],
    &["check"],
    &["accepted"],
    &["rules", "reference", "proof", "compare"],
    &["survey"],
    &["casting_off"],
    &["metrics", "players", "align", "join"],
    &["read", "guidelines", "engraved"],
    &["score", "layout"],
    &["units", "geometry", "paper", "place", "remarks", "limits", "words"],
];

/// What the drawing of pages may know: sizes on paper, nothing of music, rules or findings.
const KNOWN_TO_PDF: [&str; 2] = ["units", "geometry"];

/// Lines of a file without its tests.
const LONGEST: usize = 500;
/// Lines of the file in the middle, when all stand in order of length.
const MEDIAN: usize = 150;

/// What panics when a file is not as expected; what has no order; what is computed differently from machine to machine.
const NEVER: [&str; 18] = [
    ".unwrap()",
    ".expect(",
    "panic!(",
    "unreachable!(",
    "unimplemented!(",
    "assert!(",
    "HashMap",
    "HashSet",
    ".sin(",
    ".cos(",
    ".tan(",
    ".exp(",
    ".ln(",
    ".log2(",
    ".log10(",
    ".powf(",
    ".powi(",
    ".hypot(",
];

/// What only some modules may touch: a word of the code, and the beginnings of the paths that may hold it.
const CONFINED: [(&str, &[&str]); 8] = [
    ("printpdf", &["report/pdf"]),
    ("lopdf", &["report/pdf", "engraved", "annotate"]),
    ("hayro", &["engraved"]),
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
fn the_order_names_every_module_and_no_other() {
    let modules: BTreeSet<String> = sources().iter().map(Source::module).filter(|module| !is_top(module)).collect();
    let ordered: BTreeSet<String> = ORDER.iter().flat_map(|line| line.iter().map(ToString::to_string)).collect();
    assert_eq!(modules, ordered);
}

#[test]
fn the_drawing_of_pages_knows_no_music() {
    let drawing: Vec<Source> = sources()
        .into_iter()
        .filter(|source| source.path.starts_with("report/pdf") || source.is_file_of("report/pdf"))
        .collect();
    let known: BTreeSet<String> = drawing.iter().flat_map(Source::uses).map(|(_, used)| used).collect();
    assert_eq!(known, KNOWN_TO_PDF.iter().map(ToString::to_string).collect());
}

#[test]
fn no_input_makes_it_panic_and_no_machine_makes_it_differ() {
    let mut found = Vec::new();
    for source in sources().iter().filter(|source| source.module() != "fixture") {
        let words = NEVER.iter().filter(|word| source.code().any(|line| line.contains(**word)));
        found.extend(words.map(|word| format!("{word} in {}", source.path.display())));
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn files_are_short() {
    let mut lengths: Vec<(usize, PathBuf)> =
        everything().into_iter().map(|source| (source.length(), source.path)).collect();
    lengths.sort();
    let long: Vec<&(usize, PathBuf)> = lengths.iter().filter(|(lines, _)| *lines > LONGEST).collect();
    assert!(long.is_empty(), "longer than {LONGEST} lines: {long:?}");
    let middle = &lengths[lengths.len() / 2];
    assert!(middle.0 <= MEDIAN, "the middle one has more than {MEDIAN} lines: {middle:?}");
}

#[test]
fn nothing_is_silenced_or_left_for_later() {
    // In two pieces, since this file is looked through, too.
    let words = [concat!("#[al", "low"), concat!("#![al", "low"), concat!("TO", "DO"), concat!("FIX", "ME")];
    let found: Vec<String> = everything()
        .iter()
        .flat_map(|source| words.iter().filter(|word| source.text.contains(**word)).map(|word| (word, &source.path)))
        .map(|(word, path)| format!("{word} in {}", path.display()))
        .collect();
    assert!(found.is_empty(), "{found:#?}");
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

/// A file of Rust.
struct Source {
    /// Below the folder that was looked through.
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

    /// Lines but those of its tests.
    fn length(&self) -> usize {
        self.text.lines().take_while(|line| line.trim() != "#[cfg(test)]").count()
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

/// The files of the library and of the program.
fn sources() -> Vec<Source> {
    files_below("src")
}

/// The tests and their helper programs, too.
fn everything() -> Vec<Source> {
    sources().into_iter().chain(files_below("tests")).collect()
}

fn files_below(folder: &str) -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut folders = vec![root.clone()];
    let mut sources = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the source folder can be read") {
            let path = entry.expect("the source folder can be listed").path();
            if path.is_dir() && !path.ends_with("target") {
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
