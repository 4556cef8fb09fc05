//! Breaking text into lines by measured width.

use unicode_normalization::UnicodeNormalization;

use super::super::fonts::char_width;
use super::super::size::Points;
use super::super::style::{Face, TextStyle};
use super::text::Text;
use crate::units::Mm;

/// One line of a wrapped text.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub text: String,
    pub width: Mm,
}

/// Breaks `text` into lines no wider than `width`: at spaces, after hyphens and strokes between letters, after em
/// dashes, at line feeds; inside a word only when it is wider than a line by itself. Spaces at the ends of lines go.
#[must_use]
pub fn wrap(text: &str, style: &TextStyle, width: Mm) -> Vec<Line> {
    let lines = wrap_text(&Text::new(text), style, width);
    lines
        .into_iter()
        .map(|line| {
            let text: String = line.runs.iter().map(|run| run.text.as_str()).collect();
            Line { text: text.trim_end_matches(' ').to_owned(), width: line.width }
        })
        .collect()
}

/// A line of a text of several pieces. Its last run keeps the spaces it was broken at, for those who hear or copy
/// the text.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SetLine {
    pub(super) runs: Vec<Run>,
    /// Without the spaces at its end.
    pub(super) width: Mm,
}

/// Characters of one piece on one line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Run {
    pub(super) piece: usize,
    pub(super) face: Face,
    pub(super) text: String,
    /// From the begin of the line.
    pub(super) x: Mm,
    pub(super) width: Mm,
}

/// A text without characters has no lines.
pub(super) fn wrap_text(text: &Text, style: &TextStyle, width: Mm) -> Vec<SetLine> {
    let chars = measured(text, style.face);
    let lines = break_lines(&chars, units(width, style.size));
    let last = lines.len().saturating_sub(1);
    lines
        .iter()
        .enumerate()
        .map(|(index, line)| if index == last { visible(line) } else { line })
        .map(|line| set_line(line, style.size))
        .collect()
}

#[derive(Clone, Copy, Debug)]
struct Char {
    char: char,
    piece: usize,
    face: Face,
    /// Thousandths of the type size.
    width: u64,
}

fn measured(text: &Text, block_face: Face) -> Vec<Char> {
    let pieces = text.pieces.iter().enumerate();
    pieces
        .flat_map(|(piece, content)| {
            let face = content.face.unwrap_or(block_face);
            content.text.nfc().map(move |char| Char { char, piece, face, width: char_width(face, char).into() })
        })
        .collect()
}

fn break_lines(chars: &[Char], limit: u64) -> Vec<&[Char]> {
    let mut lines = Vec::new();
    for paragraph in chars.split(|char| char.char == '\n') {
        let mut rest = paragraph;
        loop {
            let (line, after) = rest.split_at(first_line(rest, limit));
            lines.push(line);
            rest = after;
            if rest.is_empty() {
                break;
            }
        }
    }
    if chars.is_empty() { Vec::new() } else { lines }
}

/// How many characters go on the first line; at least one when there are any.
fn first_line(chars: &[Char], limit: u64) -> usize {
    let (mut width, mut good_break) = (0, None);
    for (index, char) in chars.iter().enumerate() {
        width += char.width;
        if width > limit && char.char != ' ' {
            return good_break.unwrap_or(index.max(1));
        }
        if may_break_after(chars, index) {
            good_break = Some(index + 1);
        }
    }
    chars.len()
}

fn may_break_after(chars: &[Char], index: usize) -> bool {
    let at = |index: Option<usize>| index.and_then(|index| chars.get(index)).map(|char| char.char);
    let is_letter = |index| at(index).is_some_and(char::is_alphabetic);
    match at(Some(index)) {
        Some(' ' | '\t' | '\u{200B}' | '\u{2014}') => true,
        Some('-' | '/') => is_letter(index.checked_sub(1)) && is_letter(index.checked_add(1)),
        _ => false,
    }
}

fn visible(line: &[Char]) -> &[Char] {
    let end = line.iter().rposition(|char| char.char != ' ').map_or(0, |last| last + 1);
    line.get(..end).unwrap_or_default()
}

fn set_line(line: &[Char], size: Points) -> SetLine {
    let length =
        |chars: &[Char]| Points(chars.iter().map(|char| char.width).sum::<u64>() as f64 / 1000.0 * size.0).to_mm();
    let mut runs = Vec::new();
    let mut x = Mm::ZERO;
    for run in line.chunk_by(|one, next| one.piece == next.piece) {
        if let Some(first) = run.first() {
            let text = run.iter().map(|char| char.char).collect();
            runs.push(Run { piece: first.piece, face: first.face, text, x, width: length(visible(run)) });
            x += length(run);
        }
    }
    SetLine { runs, width: length(visible(line)) }
}

/// As thousandths of the type size; a width that was measured holds what it was measured for.
fn units(width: Mm, size: Points) -> u64 {
    (width / size.to_mm() * 1000.0 + 0.001).max(0.0) as u64
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::super::fonts::text_width;
    use super::*;

    const STYLE: TextStyle = TextStyle::new(Face::Regular, Points(10.0));

    fn texts(text: &str, width: Mm) -> Vec<String> {
        wrap(text, &STYLE, width).into_iter().map(|line| line.text).collect()
    }

    fn wide(text: &str) -> Mm {
        text_width(STYLE.face, STYLE.size, text)
    }

    #[test]
    fn a_line_as_wide_as_its_measure_is_not_broken() {
        for text in ["Clarinet in B\u{266D} 1", "iiiiii Wm", "cor anglais"] {
            assert_eq!(texts(text, wide(text)), [text]);
        }
    }

    #[test]
    fn lines_break_at_spaces_and_between_words_joined_by_a_hyphen() {
        assert_eq!(texts("two flutes", wide("two flute")), ["two", "flutes"]);
        assert_eq!(texts("double-bass", wide("double-ba")), ["double-", "bass"]);
        assert_eq!(texts("bars 12-14", wide("bars 12-1")), ["bars", "12-14"]);
        assert_eq!(texts("one\ntwo", Mm(100.0)), ["one", "two"]);
    }

    #[test]
    fn a_word_wider_than_the_line_is_broken_inside() {
        assert_eq!(texts("aaaa", wide("aa")), ["aa", "aa"]);
        assert_eq!(texts("ab", Mm::ZERO), ["a", "b"]);
        assert_eq!(texts("ab", Mm(f64::NAN)), ["a", "b"]);
    }

    #[test]
    fn a_space_before_a_link_is_kept_and_the_link_keeps_its_place() {
        let target = super::super::super::outline::Target::anchor("x");
        let text = Text::new("see ").link("page 3", target, "page 3").then(".");
        let lines = wrap_text(&text, &STYLE, Mm(100.0));
        let runs: Vec<(&str, Mm)> = lines[0].runs.iter().map(|run| (run.text.as_str(), run.x.rounded())).collect();
        assert_eq!(runs, [("see ", Mm::ZERO), ("page 3", wide("see ").rounded()), (".", wide("see page 3").rounded())]);
    }

    proptest! {
        #[test]
        fn no_word_is_lost_and_no_line_is_too_wide(text in "[a-zA-Z \u{e9}\u{266d}]{0,80}", width in 5.0f64..60.0) {
            let lines = wrap(&text, &STYLE, Mm(width));
            let letters = |text: &str| text.chars().filter(|char| *char != ' ').collect::<String>();
            let joined: String = lines.iter().map(|line| line.text.as_str()).collect();
            prop_assert_eq!(letters(&joined), letters(&text));
            for line in &lines {
                prop_assert!(line.width <= Mm(width + 0.001) || line.text.chars().count() == 1);
            }
        }
    }
}
