//! The text of a partwise score, cut once into its list of parts and the bars of each part.

use std::ops::Range;

/// A score's text in pieces; nothing of it is copied.
#[derive(Debug)]
pub struct Cut<'a> {
    /// From the beginning up to the first entry of the list of parts.
    pub head: &'a str,
    pub list: Vec<Entry<'a>>,
    pub parts: Vec<CutPart<'a>>,
}

/// One entry of the list of parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry<'a> {
    /// Where a bracket begins or ends.
    Group(&'a str),
    Part(&'a str),
}

#[derive(Debug)]
pub struct CutPart<'a> {
    pub id: &'a str,
    /// Its entry in the list.
    pub entry: &'a str,
    /// Each with its tags.
    pub bars: Vec<&'a str>,
}

impl Cut<'_> {
    /// Cuts the text of a partwise score; `None` where it is none, or its parts have not as many bars as each other.
    pub fn of(text: &str) -> Option<Cut<'_>> {
        let list = elements(text, "part-list").next()?;
        let inside = list.start + text[list.clone()].find('>')? + 1;
        let entries = list_of(&text[inside..list.end]);
        let rest = &text[list.end..];
        let mut parts = Vec::new();
        for part in elements(rest, "part").map(|range| &rest[range]) {
            let id = attribute(part, "id")?;
            let own = |entry: &&Entry| matches!(entry, Entry::Part(text) if attribute(text, "id") == Some(id));
            let Entry::Part(entry) = entries.iter().find(own)? else { return None };
            parts.push(CutPart { id, entry, bars: elements(part, "measure").map(|range| &part[range]).collect() });
        }
        let bars = parts.first()?.bars.len();
        let is_even = bars > 0 && parts.iter().all(|part| part.bars.len() == bars);
        is_even.then_some(Cut { head: &text[..inside], list: entries, parts })
    }

    pub fn bars(&self) -> usize {
        self.parts.first().map_or(0, |part| part.bars.len())
    }
}

fn list_of(text: &str) -> Vec<Entry<'_>> {
    let groups = elements(text, "part-group").map(|range| (range.start, Entry::Group(&text[range])));
    let parts = elements(text, "score-part").map(|range| (range.start, Entry::Part(&text[range])));
    let mut all: Vec<_> = groups.chain(parts).collect();
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, entry)| entry).collect()
}

/// Where the elements of a name stand, one after the other; none of them stands in another.
pub fn elements<'t>(text: &'t str, name: &str) -> impl Iterator<Item = Range<usize>> + use<'t> {
    let (opens, closes) = (format!("<{name}"), format!("</{name}>"));
    let mut from = 0;
    std::iter::from_fn(move || {
        loop {
            let start = from + text[from..].find(&opens)?;
            from = start + opens.len();
            if !text[from..].starts_with([' ', '>', '/', '\n']) {
                continue;
            }
            let tag = from + text[from..].find('>')? + 1;
            let is_empty = text[..tag].ends_with("/>");
            from = if is_empty { tag } else { tag + text[tag..].find(&closes)? + closes.len() };
            return Some(start..from);
        }
    })
}

/// The first element of a name, with its tags.
pub fn first<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    elements(text, name).next().map(|range| &text[range])
}

/// Whether an element of this name stands in a text.
pub fn has(text: &str, name: &str) -> bool {
    elements(text, name).next().is_some()
}

/// What stands in the first element of a name.
pub fn value<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    let element = first(text, name)?;
    let inside = &element[element.find('>')? + 1..];
    Some(inside.rsplit_once("</").map_or("", |(inside, _)| inside).trim())
}

/// An attribute of the tag that a text begins with.
pub fn attribute<'t>(element: &'t str, name: &str) -> Option<&'t str> {
    let tag = &element[..element.find('>')?];
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    rest.split_once('"').map(|(value, _)| value)
}

/// Each element of a name as `change` makes it.
pub fn replaced(text: &str, name: &str, mut change: impl FnMut(&str) -> String) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    let mut from = 0;
    for range in elements(text, name) {
        out.push_str(&text[from..range.start]);
        out.push_str(&change(&text[range.clone()]));
        from = range.end;
    }
    out.push_str(&text[from..]);
    out
}

/// The text without the elements of a name.
pub fn without(text: &str, name: &str) -> String {
    replaced(text, name, |_| String::new())
}

/// Something put in after the tag that a bar begins with.
pub fn after_tag(bar: &str, what: &str) -> String {
    let at = bar.find('>').map_or(bar.len(), |at| at + 1);
    format!("{}{what}{}", &bar[..at], &bar[at..])
}
