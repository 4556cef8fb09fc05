//! Breaks a text into lines.

use crate::report::pdf::{TextStyle, text_width};
use crate::units::Mm;

/// Lines no wider than `width`; a word wider than that has a line to itself.
#[must_use]
pub fn wrap(text: &str, style: &TextStyle, width: Mm) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (lines.last_mut(), longer) {
            (Some(line), Some(longer)) if text_width(style.face, style.size, &longer) <= width => *line = longer,
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
