//! A first look over the whole text, tag by tag: where the root and its long children stand, and whether nesting and
//! attributes keep within bounds. Decides nothing about well-formedness; the XML parser does, piece by piece.

use std::ops::Range;

use super::error::{ReadErrorKind, Trouble};
use crate::limits::Limits;

/// What the first look found.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Scan {
    /// The root's start tag, brackets included.
    pub root: Range<usize>,
    /// Parts of a partwise, measures of a timewise file, in order.
    pub slices: Vec<Slice>,
    /// The text ends inside an element.
    pub breaks_off: bool,
}

/// One child of the root.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Slice {
    pub range: Range<usize>,
    /// Its start tag; all of it when it closes itself.
    pub head: Range<usize>,
    /// Its end tag; empty when it has none.
    pub tail: Range<usize>,
    /// Places between two of its own children where it may be cut into pieces of the size that the limits ask for.
    pub cuts: Vec<usize>,
    /// The text ends before the child does.
    pub open: bool,
}

impl Slice {
    fn begin(head: Range<usize>) -> Slice {
        let end = head.end;
        Slice { range: head.clone(), head, tail: end..end, cuts: Vec::new(), open: false }
    }

    /// Its content in pieces, each of whole children.
    pub fn pieces(&self) -> impl Iterator<Item = Range<usize>> {
        let starts = std::iter::once(self.head.end).chain(self.cuts.iter().copied());
        let end = if self.open { self.range.end } else { self.tail.start };
        starts.zip(self.cuts.iter().copied().chain(std::iter::once(end))).map(|(from, to)| from..to)
    }
}

/// Looks over the whole text.
pub(super) fn scan(text: &str, limits: &Limits) -> Result<Scan, Trouble> {
    let bytes = text.as_bytes();
    let mut walk = Walk { bytes, limits, found: Scan::default(), wanted: b"", depth: 0, slice: None };
    let mut at = 0;
    while let Some(start) = find(bytes, at, b'<') {
        at = match bytes.get(start + 1) {
            Some(b'/') => walk.closes(start),
            Some(b'?') => after(bytes, start + 1, b"?>"),
            Some(b'!') => after_declaration(bytes, start + 1),
            Some(_) => walk.opens(start)?,
            None => break,
        };
    }
    Ok(walk.ends())
}

/// The look under way.
struct Walk<'t> {
    bytes: &'t [u8],
    limits: &'t Limits,
    found: Scan,
    /// Name of the root's long children.
    wanted: &'static [u8],
    /// Elements that are open.
    depth: usize,
    /// The long child that is open.
    slice: Option<Slice>,
}

impl Walk<'_> {
    /// An end tag at `start`; gives back where it ends.
    fn closes(&mut self, start: usize) -> usize {
        let at = after(self.bytes, start + 1, b">");
        self.depth = self.depth.saturating_sub(1);
        if self.depth == 1
            && let Some(mut done) = self.slice.take()
        {
            (done.range.end, done.tail) = (at, start..at);
            self.found.slices.push(done);
        } else if self.depth == 2
            && let Some(slice) = &mut self.slice
        {
            let from = slice.cuts.last().copied().unwrap_or(slice.head.end);
            // Each piece repeats the tags around it; these must not outweigh the pieces.
            if at - from >= self.limits.piece_bytes.max(slice.head.len() + self.found.root.len()) {
                slice.cuts.push(at);
            }
        }
        at
    }

    /// A start tag at `start`; gives back where it ends.
    fn opens(&mut self, start: usize) -> Result<usize, Trouble> {
        let tag = start_tag(self.bytes, start + 1);
        if tag.attributes > self.limits.attributes {
            return Err(Trouble::at(start, ReadErrorKind::TooManyAttributes { limit: self.limits.attributes }));
        }
        let name = name_at(self.bytes, start + 1);
        if self.depth == 0 && self.found.root.is_empty() {
            self.found.root = start..tag.end;
            self.wanted = match name {
                b"score-partwise" => b"part",
                b"score-timewise" => b"measure",
                _ => b"",
            };
        }
        let slice =
            (self.depth == 1 && !self.wanted.is_empty() && name == self.wanted).then(|| Slice::begin(start..tag.end));
        if tag.closes_itself {
            self.found.slices.extend(slice);
            return Ok(tag.end);
        }
        self.slice = slice.or(self.slice.take());
        self.depth += 1;
        if self.depth > self.limits.nesting {
            return Err(Trouble::at(start, ReadErrorKind::TooDeep { limit: self.limits.nesting }));
        }
        Ok(tag.end)
    }

    fn ends(mut self) -> Scan {
        self.found.breaks_off = self.depth > 0;
        if let Some(mut cut_off) = self.slice {
            (cut_off.range.end, cut_off.open) = (self.bytes.len(), true);
            self.found.slices.push(cut_off);
        }
        self.found
    }
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

    fn slices(text: &str) -> Vec<&str> {
        let found = scan(text, &Limits::default()).unwrap();
        found.slices.into_iter().map(|slice| &text[slice.range]).collect()
    }

    #[test]
    fn parts_are_told_from_the_part_list() {
        let text = "<score-partwise><part-list><score-part id='P1'/></part-list><part id='P1'><a/></part><part/></score-partwise>";
        assert_eq!(slices(text), ["<part id='P1'><a/></part>", "<part/>"]);
    }

    #[test]
    fn comments_and_quotes_may_hold_anything() {
        let text = "<?p <part> ?><!DOCTYPE s [ <!-- ]> --> ]><score-partwise a='<part>'><!-- <part> --><part b='>'>\
                    <![CDATA[</part>]]></part></score-partwise>";
        assert_eq!(slices(text), ["<part b='>'><![CDATA[</part>]]></part>"]);
    }

    #[test]
    fn a_part_that_breaks_off_runs_to_the_end() {
        let found = scan("<score-partwise><part><measure>", &Limits::default()).unwrap();
        assert_eq!(found.slices.len(), 1);
        assert_eq!((found.slices[0].range.clone(), found.slices[0].open), (16..31, true));
    }

    #[test]
    fn a_long_part_is_cut_between_its_measures() {
        let measure = format!("<measure>{}</measure>", "x".repeat(50));
        let text = format!("<score-partwise><part id='P1'>{}</part></score-partwise>", measure.repeat(3));
        let limits = Limits { piece_bytes: 40, ..Limits::default() };
        let slice = scan(&text, &limits).unwrap().slices.remove(0);
        let pieces: Vec<&str> = slice.pieces().map(|piece| &text[piece]).collect();
        assert_eq!(pieces, [measure.as_str(), &measure, &measure, ""]);
        assert_eq!((&text[slice.head], &text[slice.tail]), ("<part id='P1'>", "</part>"));
    }

    #[test]
    fn measures_are_the_slices_of_a_timewise_file() {
        assert_eq!(
            slices("<score-timewise><measure><part/></measure></score-timewise>"),
            ["<measure><part/></measure>"]
        );
    }
}
