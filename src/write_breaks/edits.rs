//! Which stretches of the text change, and into what.

use std::ops::Range;

use super::Begins;
use crate::read::{BarPlace, attributes};

/// Text that stands in the place of other text; an empty range is where it is put in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Edit {
    range: Range<usize>,
    text: String,
}

/// The edits that make systems and pages begin as they should, in order of the text. An error is the bar, counted from
/// 0, that has no place for a break.
pub(super) fn edits(text: &str, places: &[BarPlace], begins: &[Begins]) -> Result<Vec<Edit>, usize> {
    let mut edits = Vec::new();
    for (at, (place, begins)) in places.iter().zip(begins).enumerate().skip(1) {
        let Some(change) = Change::of(text, place, *begins) else { continue };
        let host = place.own.first();
        for print in place.own.iter().chain(&place.others) {
            let old = text.get(print.clone()).unwrap_or_default();
            let new = change.tag(old, host == Some(print));
            if new != old {
                edits.push(Edit { range: print.clone(), text: new });
            }
        }
        if let (Some(name), None) = (change.set, host) {
            edits.push(new_print(text, place.head.clone().ok_or(at)?, name));
        }
    }
    edits.sort_by_key(|edit| edit.range.start);
    Ok(edits)
}

/// The text with all edits made; they do not overlap.
pub(super) fn apply(text: &str, edits: &[Edit]) -> String {
    let longer: usize = edits.iter().map(|edit| edit.text.len()).sum();
    let mut edited = String::with_capacity(text.len() + longer);
    let mut from = 0;
    for edit in edits {
        edited.push_str(text.get(from..edit.range.start).unwrap_or_default());
        edited.push_str(&edit.text);
        from = edit.range.end;
    }
    edited.push_str(text.get(from..).unwrap_or_default());
    edited
}

const SYSTEM: &str = "new-system";
const PAGE: &str = "new-page";

/// What the `print` elements of one bar must say otherwise.
struct Change {
    /// Attributes that may not say "yes" any more.
    unsaid: &'static [&'static str],
    /// The attribute that must, since none does yet.
    set: Option<&'static str>,
}

impl Change {
    /// `None` when the bar says already what it should. One part's "yes" is enough, as it is for the reader.
    fn of(text: &str, place: &BarPlace, begins: Begins) -> Option<Change> {
        let prints = || place.own.iter().chain(&place.others).filter_map(|print| text.get(print.clone()));
        let says = |name| prints().any(|print| is_yes(print, name));
        let (system, page) = (says(SYSTEM), says(PAGE));
        match begins {
            Begins::Nothing => (system || page).then_some(Change { unsaid: &[SYSTEM, PAGE], set: None }),
            Begins::System => (page || !system).then_some(Change { unsaid: &[PAGE], set: (!system).then_some(SYSTEM) }),
            Begins::Page => (!page).then_some(Change { unsaid: &[], set: Some(PAGE) }),
        }
    }

    /// A print's start tag as it must be; where it is the host, the new attribute stands in it.
    fn tag(&self, old: &str, is_host: bool) -> String {
        let set = self.set.filter(|_| is_host);
        let mut tag = String::with_capacity(old.len() + 20);
        let (mut from, mut is_set) = (0, false);
        for attribute in attributes(old) {
            let name = old.get(attribute.name.clone()).unwrap_or_default();
            let value = old.get(attribute.value.clone()).unwrap_or_default();
            if Some(name) == set {
                tag.push_str(old.get(from..attribute.value.start).unwrap_or_default());
                tag.push_str("yes");
                (from, is_set) = (attribute.value.end, true);
            } else if value == "yes" && self.unsaid.contains(&name) {
                tag.push_str(old.get(from..attribute.range.start).unwrap_or_default());
                from = attribute.range.end;
            }
        }
        let rest = old.get(from..).unwrap_or_default();
        let Some(name) = set.filter(|_| !is_set) else { return tag + rest };
        let inside = rest.trim_end_matches(['/', '>']).trim_ascii_end();
        tag + inside + &format!(" {name}=\"yes\"") + rest.get(inside.len()..).unwrap_or_default()
    }
}

fn is_yes(tag: &str, wanted: &str) -> bool {
    let says = |range: &Range<usize>, what| tag.get(range.clone()) == Some(what);
    attributes(tag).any(|attribute| says(&attribute.name, wanted) && says(&attribute.value, "yes"))
}

/// A print element as the first thing in a bar, where programs write it; on a line of its own where the next element
/// stands on one.
fn new_print(text: &str, head: Range<usize>, name: &str) -> Edit {
    let print = format!("<print {name}=\"yes\"/>");
    let tag = text.get(head.clone()).unwrap_or_default();
    if let Some(open) = tag.strip_suffix("/>") {
        let element = open.get(1..).and_then(|rest| rest.split_ascii_whitespace().next()).unwrap_or_default();
        return Edit { text: format!("{}>{print}</{element}>", open.trim_ascii_end()), range: head };
    }
    let rest = text.get(head.end..).unwrap_or_default();
    let space = rest.get(..rest.len() - rest.trim_ascii_start().len()).unwrap_or_default();
    Edit { range: head.end..head.end, text: format!("{space}{print}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tag(old: &str, begins: Begins) -> String {
        let text = format!("<m>{old}</m>");
        let mut place = BarPlace { head: Some(0..3), ..BarPlace::default() };
        place.own.push(3..3 + old.len());
        let edits = edits(&text, &[BarPlace::default(), place], &[Begins::Nothing, begins]).unwrap();
        apply(&text, &edits).replace("<m>", "").replace("</m>", "")
    }

    #[test]
    fn only_the_two_attributes_of_a_print_element_change() {
        use Begins::{Nothing, Page, System};
        for (old, begins, new) in [
            ("<print/>", System, "<print new-system=\"yes\"/>"),
            ("<print />", Page, "<print new-page=\"yes\" />"),
            ("<print a='1'>", Page, "<print a='1' new-page=\"yes\">"),
            ("<print a='/>'>", Page, "<print a='/>' new-page=\"yes\">"),
            ("<print new-system='no' a='1'>", System, "<print new-system='yes' a='1'>"),
            ("<print new-system='yes' a='1'>", System, "<print new-system='yes' a='1'>"),
            ("<print new-system = 'yes' a='1'>", Nothing, "<print a='1'>"),
            ("<print a=\"x y\"\n new-page=\"yes\"/>", System, "<print a=\"x y\" new-system=\"yes\"/>"),
            ("<print new-system=\"yes\"/>", Page, "<print new-system=\"yes\" new-page=\"yes\"/>"),
            ("<print new-system='yes' new-page='yes'/>", Nothing, "<print/>"),
            ("<print new-page='no'/>", Nothing, "<print new-page='no'/>"),
            ("<print x=\"new-page='yes'\"/>", Nothing, "<print x=\"new-page='yes'\"/>"),
        ] {
            assert_eq!(tag(old, begins), new, "{old} {begins:?}");
        }
    }

    #[test]
    fn a_new_print_element_stands_first_in_its_bar() {
        for (text, head, new) in [
            ("<m n='2'><note/></m>", 0..9, "<m n='2'><print new-page=\"yes\"/><note/></m>"),
            ("<m>\r\n  <note/></m>", 0..3, "<m>\r\n  <print new-page=\"yes\"/>\r\n  <note/></m>"),
            ("<m n='2' />", 0..11, "<m n='2'><print new-page=\"yes\"/></m>"),
            ("<m/>", 0..4, "<m><print new-page=\"yes\"/></m>"),
        ] {
            assert_eq!(apply(text, &[new_print(text, head, PAGE)]), new);
        }
    }
}
