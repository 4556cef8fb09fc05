//! The XML of one file, parsed piece by piece: the frame without its long children, then each of these on its own.
//!
//! All pieces together are accepted exactly when the whole would be; no tree outlives its piece.

use std::borrow::Cow;

use roxmltree::{Document, Error, Node, ParsingOptions, TextPos};

use super::error::{ReadErrorKind, Trouble};
use super::scan::{Scan, Slice, scan};
use crate::limits::Limits;

/// The text of one file and its pieces.
pub(super) struct Pieces<'a> {
    text: Cow<'a, str>,
    scan: Scan,
}

impl<'a> Pieces<'a> {
    /// Finds the pieces; parses nothing yet.
    pub fn of(text: Cow<'a, str>, limits: &Limits) -> Result<Pieces<'a>, (Cow<'a, str>, Trouble)> {
        match scan(&text, limits) {
            Ok(scan) => Ok(Pieces { text, scan }),
            Err(trouble) => Err((text, trouble)),
        }
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    pub fn slices(&self) -> &[Slice] {
        &self.scan.slices
    }

    /// Parses the frame, each long child standing as an empty element, and hands its root to `read`. When the frame is
    /// broken, the cause may lie in a child that is not closed: then that is the trouble.
    pub fn frame<R>(&self, read: impl FnOnce(Node<'_, '_>) -> R) -> Result<R, Trouble> {
        self.parse_frame(read).map_err(|trouble| {
            let mut buffer = String::new();
            let inside = self.slices().iter().find_map(|slice| self.slice(slice, &mut buffer, |_, _| ()).err());
            match (&inside, trouble.at) {
                (Some(Trouble { at: Some(inside), .. }), Some(outside)) if outside < *inside => trouble,
                _ => inside.unwrap_or(trouble),
            }
        })
    }

    fn parse_frame<R>(&self, read: impl FnOnce(Node<'_, '_>) -> R) -> Result<R, Trouble> {
        let mut frame = String::new();
        // Where each stretch of the frame begins: there, and in the text.
        let mut stretches = Vec::with_capacity(self.scan.slices.len() + 1);
        let mut from = 0;
        for slice in &self.scan.slices {
            stretches.push((frame.len(), from));
            frame.push_str(self.text.get(from..slice.range.start).unwrap_or_default());
            frame.push_str("<part/>");
            from = slice.range.end;
        }
        stretches.push((frame.len(), from));
        frame.push_str(self.text.get(from..).unwrap_or_default());
        // Entities could expand without bound, so a file may bring none of its own; a bare document type is harmless.
        if let Some(at) = frame.find("<!ENTITY") {
            return Err(Trouble::at(at, ReadErrorKind::Entities));
        }
        let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
        match Document::parse_with_options(&frame, options) {
            Ok(tree) => Ok(read(tree.root_element())),
            Err(error) => {
                let at = offset_of(&frame, error.pos());
                let (start, there) = stretches.iter().rev().find(|(start, _)| *start <= at).copied().unwrap_or((0, 0));
                Err(self.trouble(&error, there + (at - start)))
            }
        }
    }

    /// Parses one long child inside the root's own start tag, so that the root's namespaces hold, and hands it to
    /// `read` together with what must be added to a place in the tree to get the place in the text.
    pub fn slice<R>(
        &self,
        slice: &Slice,
        buffer: &mut String,
        read: impl FnOnce(Node<'_, '_>, isize) -> R,
    ) -> Result<R, Trouble> {
        let own = self.text.get(slice.range.clone()).unwrap_or_default();
        let root = self.text.get(self.scan.root.clone()).unwrap_or_default();
        let (text, before): (&str, usize) = if root.contains("xmlns") {
            buffer.clear();
            buffer.push_str(root);
            buffer.push_str(own);
            if !slice.open {
                buffer.push_str("</");
                let name = root.trim_start_matches('<');
                let end = name.find(|c: char| c.is_ascii_whitespace() || c == '>').unwrap_or(name.len());
                buffer.push_str(name.get(..end).unwrap_or_default());
                buffer.push('>');
            }
            (buffer.as_str(), root.len())
        } else {
            (own, 0)
        };
        let shift = slice.range.start as isize - before as isize;
        match Document::parse(text) {
            Ok(tree) => {
                let node = tree.root_element();
                let node = if before == 0 { Some(node) } else { node.first_element_child() };
                match node {
                    Some(node) => Ok(read(node, shift)),
                    None => Err(self.truncated()),
                }
            }
            Err(error) => {
                let at = offset_of(text, error.pos());
                Err(self.trouble(&error, at.saturating_add_signed(shift)))
            }
        }
    }
}

impl Pieces<'_> {
    /// A parser's error at this byte of the text.
    fn trouble(&self, error: &Error, at: usize) -> Trouble {
        let at = at.min(self.text.len());
        let rest = self.text.as_bytes().get(at..).unwrap_or_default();
        // A text that ends inside an element, in the tag where the parser stopped, was cut there.
        let is_cut = self.scan.breaks_off && !rest.contains(&b'>');
        match error {
            Error::UnclosedRootNode | Error::UnexpectedEndOfStream => self.truncated(),
            _ if is_cut => self.truncated(),
            _ => Trouble::at(at, malformed(error)),
        }
    }

    fn truncated(&self) -> Trouble {
        Trouble::at(self.text.trim_end().len(), ReadErrorKind::Truncated)
    }
}

/// Line and column, counted from 1, of a byte of UTF-8 text; columns count characters.
pub(super) fn line_and_column(text: &[u8], at: usize) -> (u32, u32) {
    let before = text.get(..at.min(text.len())).unwrap_or_default();
    let start = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
    let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
    let in_line = before.get(start..).unwrap_or_default();
    // Continuation bytes do not begin a character.
    let column = in_line.iter().filter(|byte| **byte & 0xc0 != 0x80).count() + 1;
    (u32::try_from(line).unwrap_or(u32::MAX), u32::try_from(column).unwrap_or(u32::MAX))
}

/// The byte at a parser's position.
fn offset_of(text: &str, position: TextPos) -> usize {
    let mut start = 0;
    for _ in 1..position.row {
        match text.as_bytes().get(start..).and_then(|rest| rest.iter().position(|byte| *byte == b'\n')) {
            Some(end) => start += end + 1,
            None => break,
        }
    }
    let line = text.get(start..).unwrap_or_default();
    let column = usize::try_from(position.col.saturating_sub(1)).unwrap_or(0);
    start + line.char_indices().nth(column).map_or(line.len(), |(at, _)| at)
}

fn malformed(error: &Error) -> ReadErrorKind {
    match error {
        Error::NoRootNode => ReadErrorKind::NotXml,
        Error::UnknownEntityReference(name, _) => ReadErrorKind::UnknownEntity { name: name.clone() },
        Error::UnexpectedCloseTag(expected, found, _) => {
            ReadErrorKind::Malformed { what: format!("</{found}> stands where </{expected}> must") }
        }
        other => {
            let message = other.to_string();
            ReadErrorKind::Malformed { what: message.replace(&format!(" at {}", other.pos()), "") }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_not_bytes() {
        assert_eq!(line_and_column("a\nb\u{e9}c".as_bytes(), 5), (2, 3));
        assert_eq!(offset_of("a\nb\u{e9}c", TextPos::new(2, 3)), 5);
    }

    #[test]
    fn a_fault_in_a_part_is_placed_in_the_whole_file() {
        let text = "<score-partwise xmlns:x='u'>\n<part>\n <note></nte>\n</part></score-partwise>";
        let pieces = Pieces::of(text.into(), &Limits::default()).map_err(|(_, trouble)| trouble).unwrap();
        let trouble = pieces.slice(&pieces.slices()[0], &mut String::new(), |_, _| ()).unwrap_err();
        assert_eq!(line_and_column(text.as_bytes(), trouble.at.unwrap()), (3, 8));
    }
}
