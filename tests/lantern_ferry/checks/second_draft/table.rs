//! README.md's table of bars, read.

use std::sync::LazyLock;

pub const README: &str = include_str!("../../README.md");
const HEAD: &str = "| second draft | first draft | what |";

/// Cells that are not the same: bar of the second draft, short name of the part.
pub const CELLS: [(usize, &str); 14] = [
    (13, "E. hn."),
    (25, "Vln. I"),
    (46, "Cl. 1.2"),
    (54, "Fl. 1"),
    (54, "Db."),
    (58, "Vln. I"),
    (58, "Vln. II"),
    (70, "Cl. 1.2"),
    (70, "Vln. I"),
    (70, "Vln. II"),
    (70, "Vla."),
    (70, "Vc."),
    (70, "Db."),
    (74, "Fl. 1"),
];

/// A bar of either draft or of both, and what the table says of it.
pub struct Pair {
    pub old: Option<usize>,
    pub new: Option<usize>,
    pub what: &'static str,
}

/// A row for each bar.
pub fn pairs() -> &'static [Pair] {
    static PAIRS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
        let rows = README.split_once(HEAD).expect("the table of bars").1.lines().skip(2);
        rows.take_while(|line| line.starts_with('|')).flat_map(row).collect()
    });
    &PAIRS
}

fn row(line: &'static str) -> Vec<Pair> {
    let mut columns = line.trim_matches('|').split('|').map(str::trim);
    let mut column = || columns.next().expect("three columns");
    let (new, old, what) = (bars(column()), bars(column()), column());
    let length = new.len().max(old.len());
    assert!([new.len(), old.len()].iter().all(|one| [0, length].contains(one)), "{line}");
    (0..length).map(|at| Pair { old: old.get(at).copied(), new: new.get(at).copied(), what }).collect()
}

/// "5-8", "5", or "-" for none.
fn bars(text: &str) -> Vec<usize> {
    if text == "-" {
        return Vec::new();
    }
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let number = |text: &str| text.parse::<usize>().expect("a bar number");
    (number(first)..=number(last)).collect()
}
