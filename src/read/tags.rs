//! The tags of an XML text one after another, without a tree: for first looks and for edits that leave the rest of a
//! file as it is. Well-formedness is the XML parser's business.

use std::ops::Range;

/// One tag; comments, CDATA sections, declarations and processing instructions are passed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tag {
    pub kind: TagKind,
    /// Brackets included.
    pub range: Range<usize>,
    /// Of a start tag.
    pub attributes: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TagKind {
    Start,
    /// A start tag that closes itself.
    Empty,
    End,
}

/// Walks a text from its first tag to its last.
pub(super) struct Tags<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Tags<'a> {
    pub fn of(text: &'a str) -> Tags<'a> {
        Tags { bytes: text.as_bytes(), at: 0 }
    }

    /// The element's name, its prefix included.
    pub fn name(&self, tag: &Tag) -> &'a [u8] {
        name_at(self.bytes, tag.range.start + if tag.kind == TagKind::End { 2 } else { 1 })
    }
}

impl Iterator for Tags<'_> {
    type Item = Tag;

    fn next(&mut self) -> Option<Tag> {
        while let Some(start) = find(self.bytes, self.at, b'<') {
            let inside = start + 1;
            match self.bytes.get(inside) {
                Some(b'/') => {
                    self.at = after(self.bytes, inside, b">");
                    return Some(Tag { kind: TagKind::End, range: start..self.at, attributes: 0 });
                }
                Some(b'?') => self.at = after(self.bytes, inside, b"?>"),
                Some(b'!') => self.at = after_declaration(self.bytes, inside),
                Some(_) => {
                    let tag = start_tag(self.bytes, inside);
                    self.at = tag.end;
                    let kind = if tag.closes_itself { TagKind::Empty } else { TagKind::Start };
                    return Some(Tag { kind, range: start..tag.end, attributes: tag.attributes });
                }
                None => self.at = self.bytes.len(),
            }
        }
        None
    }
}

/// One attribute of a start tag, by its place in the tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Attribute {
    /// With the white space before it and its quotes.
    pub range: Range<usize>,
    pub name: Range<usize>,
    /// Without its quotes, as it is written.
    pub value: Range<usize>,
}

/// The attributes of a start tag.
pub(crate) fn attributes(tag: &str) -> impl Iterator<Item = Attribute> {
    let bytes = tag.as_bytes();
    let skip = move |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        from + (rest.len() - rest.trim_ascii_start().len())
    };
    let mut at = 1 + name_at(bytes, 1).len();
    std::iter::from_fn(move || {
        let start = at;
        let name = skip(start);
        let equals = find(bytes, name, b'=')?;
        let length = tag.get(name..equals)?.trim_ascii_end().len();
        let quote = skip(equals + 1);
        let mark = bytes.get(quote).copied().filter(|byte| matches!(byte, b'"' | b'\''))?;
        let end = find(bytes, quote + 1, mark)?;
        at = end + 1;
        Some(Attribute { range: start..at, name: name..name + length, value: quote + 1..end })
    })
}

struct StartTag {
    /// Just after `>`.
    end: usize,
    attributes: usize,
    closes_itself: bool,
}

/// Walks a start tag from its name; `>` inside quotes does not end it.
fn start_tag(bytes: &[u8], from: usize) -> StartTag {
    let mut attributes = 0;
    let mut at = from;
    while let Some(&byte) = bytes.get(at) {
        match byte {
            b'>' => {
                let closes_itself = bytes.get(at - 1) == Some(&b'/');
                return StartTag { end: at + 1, attributes, closes_itself };
            }
            b'"' | b'\'' => {
                attributes += 1;
                at = find(bytes, at + 1, byte).map_or(bytes.len(), |end| end + 1);
            }
            _ => at += 1,
        }
    }
    StartTag { end: bytes.len(), attributes, closes_itself: false }
}

/// The name that begins here, its prefix included.
fn name_at(bytes: &[u8], from: usize) -> &[u8] {
    let rest = bytes.get(from..).unwrap_or_default();
    let end = rest.iter().position(|byte| matches!(byte, b' ' | b'\t' | b'\r' | b'\n' | b'/' | b'>'));
    rest.get(..end.unwrap_or(rest.len())).unwrap_or_default()
}

/// Past a comment, CDATA section or document type; `from` is at the `!`.
fn after_declaration(bytes: &[u8], from: usize) -> usize {
    let rest = bytes.get(from..).unwrap_or_default();
    if rest.starts_with(b"!--") {
        return after(bytes, from + 3, b"-->");
    }
    if rest.starts_with(b"![CDATA[") {
        return after(bytes, from + 8, b"]]>");
    }
    let mut inside = 0_usize;
    let mut at = from;
    while let Some(&byte) = bytes.get(at) {
        match byte {
            b'"' | b'\'' => at = find(bytes, at + 1, byte).unwrap_or(bytes.len()),
            b'<' if bytes.get(at..).is_some_and(|rest| rest.starts_with(b"<!--")) => {
                at = after(bytes, at + 4, b"-->").saturating_sub(1);
            }
            b'[' => inside += 1,
            b']' => inside = inside.saturating_sub(1),
            b'>' if inside == 0 => return at + 1,
            _ => {}
        }
        at += 1;
    }
    bytes.len()
}

fn find(bytes: &[u8], from: usize, wanted: u8) -> Option<usize> {
    bytes.get(from..)?.iter().position(|byte| *byte == wanted).map(|at| from + at)
}

/// Just past the next `wanted`, or the end.
fn after(bytes: &[u8], from: usize, wanted: &[u8]) -> usize {
    let Some((&first, _)) = wanted.split_first() else { return from };
    let mut at = from;
    while let Some(hit) = find(bytes, at, first) {
        if bytes.get(hit..).is_some_and(|rest| rest.starts_with(wanted)) {
            return hit + wanted.len();
        }
        at = hit + 1;
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_found_between_comments_and_quotes() {
        let text = "<?p <a> ?><!DOCTYPE s [ <!-- ]> --> ]><s a='<p>'><!-- <p> --><p b='>'/><![CDATA[</s>]]></s>";
        let mut tags = Tags::of(text);
        let mut found = Vec::new();
        while let Some(tag) = tags.next() {
            let name = std::str::from_utf8(tags.name(&tag)).unwrap();
            found.push((tag.kind, name, &text[tag.range]));
        }
        assert_eq!(
            found,
            [(TagKind::Start, "s", "<s a='<p>'>"), (TagKind::Empty, "p", "<p b='>'/>"), (TagKind::End, "s", "</s>")]
        );
    }
}
