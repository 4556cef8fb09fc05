//! Small helpers over the XML tree.

use roxmltree::Node;

use crate::score::Position;
use crate::units::Mm;

/// Child elements with their names; text and comments are passed over.
pub(super) fn elements<'a, 'i>(node: Node<'a, 'i>) -> impl Iterator<Item = (&'i str, Node<'a, 'i>)> {
    node.children().filter(Node::is_element).map(|child| (child.tag_name().name(), child))
}

/// The trimmed text of an element; empty when it has none.
pub(super) fn text<'a>(node: Node<'a, '_>) -> &'a str {
    node.text().unwrap_or_default().trim()
}

/// An element's text as a finite number.
pub(super) fn number(node: Node<'_, '_>) -> Option<f64> {
    finite(text(node))
}

/// An element's text as a whole number of any integer type.
pub(super) fn whole<T: std::str::FromStr>(node: Node<'_, '_>) -> Option<T> {
    text(node).parse().ok()
}

pub(super) fn finite(text: &str) -> Option<f64> {
    /// Far beyond any page, tempo or size, and far from overflowing when added up.
    const REASONABLE: f64 = 1e9;
    text.trim().parse::<f64>().ok().filter(|value| value.abs() <= REASONABLE)
}

pub(super) fn yes_no(value: &str) -> Option<bool> {
    match value {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}

/// The `number` of a spanner, counted from 1.
pub(super) fn spanner_number(node: Node<'_, '_>) -> u8 {
    node.attribute("number").and_then(|number| number.parse().ok()).unwrap_or(1)
}

/// Reads one attribute of a recorded position; `tenth` is the length of MusicXML's unit, when known.
pub(super) fn place(position: &mut Position, name: &str, value: &str, tenth: Option<Mm>) {
    if !name.starts_with("default-") && !name.starts_with("relative-") {
        return;
    }
    let (Some(tenth), Some(tenths)) = (tenth, finite(value)) else { return };
    match name {
        "default-x" => position.x = Some(tenth * tenths),
        // MusicXML counts upwards from the staff's top line.
        "default-y" => position.y = Some(tenth * -tenths),
        "relative-x" => position.dx = tenth * tenths,
        "relative-y" => position.dy = tenth * -tenths,
        _ => {}
    }
}

/// All of an element's recorded position.
pub(super) fn position(node: Node<'_, '_>, tenth: Option<Mm>) -> Position {
    let mut position = Position::default();
    for attribute in node.attributes() {
        place(&mut position, attribute.name(), attribute.value(), tenth);
    }
    position
}

/// `Some(true)` above, `Some(false)` below.
pub(super) fn placement(node: Node<'_, '_>) -> Option<bool> {
    match node.attribute("placement") {
        Some("above") => Some(true),
        Some("below") => Some(false),
        _ => None,
    }
}

/// Words with every run of white space made one space.
pub(super) fn tidy(text: &str) -> String {
    let mut tidy = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !tidy.is_empty() {
            tidy.push(' ');
        }
        tidy.push_str(word);
    }
    tidy
}

/// The `size` of an octave line: 8 for one octave, 15 for two.
pub(super) fn spanner_size(node: Node<'_, '_>) -> i64 {
    node.attribute("size").and_then(|size| size.parse().ok()).filter(|size| (1..=29).contains(size)).unwrap_or(8)
}
