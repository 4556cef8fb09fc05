//! The elements of a text that is known to be well-formed, as stretches of it: for copies that keep what no type holds.

use super::tags::{Attribute, TagKind, Tags, attributes};

/// One element, as it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Element<'a> {
    /// Without a prefix.
    pub name: &'a str,
    /// White space before it, back to what stands there.
    pub before: &'a str,
    pub whole: &'a str,
    /// Its start tag; all of it when it closes itself.
    pub head: &'a str,
    /// Between its tags; empty when it closes itself.
    pub inner: &'a str,
}

impl<'a> Element<'a> {
    /// The elements in it.
    pub fn children(&self) -> Vec<Element<'a>> {
        elements(self.inner)
    }

    /// The first element in it with this name.
    pub fn child(&self, name: &str) -> Option<Element<'a>> {
        self.children().into_iter().find(|child| child.name == name)
    }

    /// An attribute's value, as it is written.
    pub fn attribute(&self, name: &str) -> Option<&'a str> {
        let head = self.head;
        let of = |attribute: &Attribute| head.get(attribute.name.clone()) == Some(name);
        attributes(head).find(of).and_then(|attribute| head.get(attribute.value))
    }

    /// Its own text, trimmed, with the references that XML itself knows replaced.
    pub fn text(&self) -> String {
        let text = self.inner.trim();
        let known = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&amp;", "&")];
        known.iter().fold(text.to_owned(), |text, (written, meant)| text.replace(written, meant))
    }
}

/// The outermost elements of a stretch of text.
pub(crate) fn elements(text: &str) -> Vec<Element<'_>> {
    let mut found = Vec::new();
    let mut open = None;
    let mut depth = 0_usize;
    let mut last = 0;
    let mut tags = Tags::of(text);
    while let Some(tag) = tags.next() {
        if tag.kind == TagKind::End {
            depth = depth.saturating_sub(1);
        } else if depth == 0 {
            open = Some((std::str::from_utf8(tags.name(&tag)).unwrap_or_default(), tag.range.clone()));
        }
        if tag.kind == TagKind::Start {
            depth += 1;
        }
        if depth > 0 {
            continue;
        }
        let Some((name, head)) = open.take() else { continue };
        let gap = text.get(last..head.start).unwrap_or_default();
        found.push(Element {
            name: name.rsplit(':').next().unwrap_or(name),
            before: gap.get(gap.trim_ascii_end().len()..).unwrap_or_default(),
            whole: text.get(head.start..tag.range.end).unwrap_or_default(),
            inner: text.get(head.end..tag.range.start).unwrap_or_default(),
            head: text.get(head).unwrap_or_default(),
        });
        last = tag.range.end;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_are_what_is_written() {
        let found = elements("<!-- <x/> -->\n <a n='1'><b/> t</a><x:c k=\"a&amp;b\"/>");
        let shown: Vec<_> = found.iter().map(|one| (one.name, one.before, one.head, one.inner)).collect();
        assert_eq!(shown, [("a", "\n ", "<a n='1'>", "<b/> t"), ("c", "", "<x:c k=\"a&amp;b\"/>", "")]);
        assert_eq!(found[0].child("b").map(|child| child.whole), Some("<b/>"));
        assert_eq!((found[0].attribute("n"), found[0].attribute("m")), (Some("1"), None));
    }

    #[test]
    fn references_in_text_are_read() {
        assert_eq!(elements("<a> q &amp;lt; &lt; </a>")[0].text(), "q &lt; <");
    }
}
