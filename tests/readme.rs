//! The README's table of rules is the one that the rule sheets give.
//!
//! `UPDATE_README=1 cargo test --test readme` writes it anew.

use rastrum::guidelines::{Guidelines, Request, rules_table};

const BEGIN: &str = "<!-- rules: begin -->\n";
const END: &str = "<!-- rules: end -->";

#[test]
fn the_table_of_rules_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let guidelines = Guidelines::load(&Request::default()).unwrap();
    let table = rules_table(guidelines.rules());
    let (before, rest) = readme.split_once(BEGIN).unwrap();
    let (current, after) = rest.split_once(END).unwrap();
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(path, format!("{before}{BEGIN}{table}{END}{after}")).unwrap();
        return;
    }
    assert!(current == table, "the table is out of date: UPDATE_README=1 cargo test --test readme");
}
