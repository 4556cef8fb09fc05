//! The XML of one file, parsed piece by piece: the frame without its long children, then these in pieces of
//! moderate size.
//!
//! All pieces together are accepted exactly when the whole would be; no tree outlives its piece.

use std::borrow::Cow;
use std::ops::Range;

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
            let mut room = Stitched::default();
            let pieces = self.slices().iter().flat_map(|slice| slice.pieces().map(move |piece| (slice, piece)));
            let inside =
                pieces.filter_map(|(slice, piece)| self.piece(slice, piece, &mut room, |_, _| ()).err()).next();
            match (&inside, trouble.at) {
                (Some(Trouble { at: Some(inside), .. }), Some(outside)) if outside < *inside => trouble,
                _ => inside.unwrap_or(trouble),
            }
        })
    }

    fn parse_frame<R>(&self, read: impl FnOnce(Node<'_, '_>) -> R) -> Result<R, Trouble> {
        let mut frame = Stitched::default();
        let mut from = 0;
        for slice in self.slices() {
            frame.take(&self.text, from..slice.range.start);
            frame.add("<part/>");
            from = slice.range.end;
        }
        frame.take(&self.text, from..self.text.len());
        // Entities could expand without bound, so a file may bring none of its own; a bare document type is harmless.
        if let Some(at) = frame.text.find("<!ENTITY") {
            return Err(Trouble::at(frame.source(at), ReadErrorKind::Entities));
        }
        let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
        match Document::parse_with_options(&frame.text, options) {
            Ok(tree) => Ok(read(tree.root_element())),
            Err(error) => Err(self.trouble(&error, frame.source(offset_of(&frame.text, error.pos())))),
        }
    }

    /// Parses one piece of a long child, inside the child's own tags and, where the root declares namespaces, inside
    /// the root's. Hands the child to `read` together with what must be added to a place in the tree to get the place
    /// in the text. `room` is used again from piece to piece.
    pub fn piece<R>(
        &self,
        slice: &Slice,
        piece: Range<usize>,
        room: &mut Stitched,
        read: impl FnOnce(Node<'_, '_>, isize) -> R,
    ) -> Result<R, Trouble> {
        let root = self.text.get(self.scan.root.clone()).unwrap_or_default();
        let in_root = root.contains("xmlns");
        room.clear();
        if in_root {
            room.take(&self.text, self.scan.root.clone());
        }
        room.take(&self.text, slice.head.clone());
        let shift = piece.start as isize - room.text.len() as isize;
        let is_last = piece.end >= if slice.open { slice.range.end } else { slice.tail.start };
        room.take(&self.text, piece);
        if !(slice.open && is_last) {
            if slice.open {
                room.add(&closing(self.text.get(slice.head.clone()).unwrap_or_default()));
            } else {
                room.take(&self.text, slice.tail.clone());
            }
            if in_root {
                room.add(&closing(root));
            }
        }
        match Document::parse(&room.text) {
            Ok(tree) => {
                let node = tree.root_element();
                let node = if in_root { node.first_element_child() } else { Some(node) };
                node.map(|node| read(node, shift)).ok_or_else(|| self.truncated())
            }
            Err(error) => Err(self.trouble(&error, room.source(offset_of(&room.text, error.pos())))),
        }
    }

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

/// Text put together from stretches of a source, which remembers where each came from.
#[derive(Default)]
pub(super) struct Stitched {
    text: String,
    /// Where each stretch begins: here, and in the source.
    stretches: Vec<(usize, usize)>,
}

impl Stitched {
    fn clear(&mut self) {
        self.text.clear();
        self.stretches.clear();
    }

    fn take(&mut self, source: &str, range: Range<usize>) {
        self.stretches.push((self.text.len(), range.start));
        self.text.push_str(source.get(range).unwrap_or_default());
    }

    /// Text of our own: counts to the stretch before.
    fn add(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// The place in the source of a byte of the text.
    fn source(&self, at: usize) -> usize {
        let before = self.stretches.partition_point(|(start, _)| *start <= at).checked_sub(1);
        before.and_then(|last| self.stretches.get(last)).map_or(at, |(start, source)| source + (at - start))
    }
}

/// The end tag to a start tag.
fn closing(start_tag: &str) -> String {
    let name = start_tag.trim_start_matches('<');
    let end = name.find(|c: char| c.is_ascii_whitespace() || c == '>' || c == '/').unwrap_or(name.len());
    format!("</{}>", name.get(..end).unwrap_or_default())
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
        let slice = &pieces.slices()[0];
        let piece = slice.pieces().next().unwrap();
        let trouble = pieces.piece(slice, piece, &mut Stitched::default(), |_, _| ()).unwrap_err();
        assert_eq!(line_and_column(text.as_bytes(), trouble.at.unwrap()), (3, 8));
    }
}
