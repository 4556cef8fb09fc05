//! A first look over the whole text, tag by tag: where the root and its long children stand, and whether nesting and
//! attributes keep within bounds. Decides nothing about well-formedness; the XML parser does, piece by piece.

use std::ops::Range;

use super::error::{ReadErrorKind, Trouble};
use super::tags::{Tag, TagKind, Tags};
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
    let mut walk = Walk { limits, found: Scan::default(), wanted: b"", depth: 0, slice: None };
    let mut tags = Tags::of(text);
    while let Some(tag) = tags.next() {
        match tag.kind {
            TagKind::End => walk.closes(tag.range),
            TagKind::Start | TagKind::Empty => walk.opens(&tag, tags.name(&tag))?,
        }
    }
    Ok(walk.ends(text.len()))
}

/// The look under way.
struct Walk<'l> {
    limits: &'l Limits,
    found: Scan,
    /// Name of the root's long children.
    wanted: &'static [u8],
    /// Elements that are open.
    depth: usize,
    /// The long child that is open.
    slice: Option<Slice>,
}

impl Walk<'_> {
    fn closes(&mut self, tag: Range<usize>) {
        self.depth = self.depth.saturating_sub(1);
        if self.depth == 1
            && let Some(mut done) = self.slice.take()
        {
            (done.range.end, done.tail) = (tag.end, tag);
            self.found.slices.push(done);
        } else if self.depth == 2
            && let Some(slice) = &mut self.slice
        {
            let from = slice.cuts.last().copied().unwrap_or(slice.head.end);
            // Each piece repeats the tags around it; these must not outweigh the pieces.
            if tag.end - from >= self.limits.piece_bytes.max(slice.head.len() + self.found.root.len()) {
                slice.cuts.push(tag.end);
            }
        }
    }

    fn opens(&mut self, tag: &Tag, name: &[u8]) -> Result<(), Trouble> {
        let start = tag.range.start;
        if tag.attributes > self.limits.attributes {
            return Err(Trouble::at(start, ReadErrorKind::TooManyAttributes { limit: self.limits.attributes }));
        }
        if self.depth == 0 && self.found.root.is_empty() {
            self.found.root = tag.range.clone();
            self.wanted = match name {
                b"score-partwise" => b"part",
                b"score-timewise" => b"measure",
                _ => b"",
            };
        }
        let is_slice = self.depth == 1 && !self.wanted.is_empty() && name == self.wanted;
        let slice = is_slice.then(|| Slice::begin(tag.range.clone()));
        if tag.kind == TagKind::Empty {
            self.found.slices.extend(slice);
            return Ok(());
        }
        self.slice = slice.or(self.slice.take());
        self.depth += 1;
        if self.depth > self.limits.nesting {
            return Err(Trouble::at(start, ReadErrorKind::TooDeep { limit: self.limits.nesting }));
        }
        Ok(())
    }

    fn ends(mut self, end: usize) -> Scan {
        self.found.breaks_off = self.depth > 0;
        if let Some(mut cut_off) = self.slice {
            (cut_off.range.end, cut_off.open) = (end, true);
            self.found.slices.push(cut_off);
        }
        self.found
    }
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
