//! The written files read back, and the known pages held against what README.md says of them.

mod known_pages;
mod printed;
mod recorded;
mod second_draft;
mod written;

use std::io::{Cursor, Read};
use std::sync::LazyLock;

use roxmltree::{Document, Node};

use crate::music;
use crate::score::Movement;

/// The children of that name.
fn all<'a>(node: Node<'a, 'a>, name: &'static str) -> impl Iterator<Item = Node<'a, 'a>> {
    node.children().filter(move |child| child.has_tag_name(name))
}

fn child<'a>(node: Node<'a, 'a>, name: &'static str) -> Option<Node<'a, 'a>> {
    all(node, name).next()
}

fn text<'a>(node: Node<'a, 'a>, name: &'static str) -> Option<&'a str> {
    child(node, name).and_then(|child| child.text())
}

fn number(node: Node, name: &'static str) -> f64 {
    text(node, name).and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("{name} is not a number"))
}

/// Written once for all checks.
static DOCUMENTS: LazyLock<Vec<String>> = LazyLock::new(crate::documents);

/// Runs a check on each movement's document.
fn each_document(mut check: impl FnMut(usize, Node)) {
    for (at, document) in DOCUMENTS.iter().enumerate() {
        let tree = Document::parse(document).expect("well-formed XML");
        check(at + 1, tree.root_element());
    }
}

/// Runs a check on each movement that is set and its document, the second draft of the first among them.
fn each_draft(mut check: impl FnMut(&Movement, Node)) {
    let second_draft = crate::second_draft();
    let written = DOCUMENTS.iter().chain([&second_draft]);
    for (movement, document) in music::movements().iter().chain([&music::second_draft()]).zip(written) {
        let tree = Document::parse(document).expect("well-formed XML");
        check(movement, tree.root_element());
    }
}

fn inflated(bytes: &[u8]) -> String {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip archive");
    let mut text = String::new();
    let mut file = archive.by_name("score.musicxml").expect("the score inside it");
    file.read_to_string(&mut text).expect("UTF-8");
    text
}
