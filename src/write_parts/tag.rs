//! Start tags with other attributes.

use crate::read::attributes;

/// A start tag without some attributes.
pub(super) fn without(head: &str, names: &[&str]) -> String {
    let mut kept = String::with_capacity(head.len());
    let mut from = 0;
    for attribute in attributes(head) {
        if head.get(attribute.name.clone()).is_some_and(|name| names.contains(&name)) {
            kept.push_str(head.get(from..attribute.range.start).unwrap_or_default());
            from = attribute.range.end;
        }
    }
    kept + head.get(from..).unwrap_or_default()
}

/// A start tag in which an attribute that it has bears another value.
pub(super) fn with(head: &str, name: &str, value: &str) -> String {
    for attribute in attributes(head) {
        if head.get(attribute.name.clone()) == Some(name) {
            let (before, after) = (head.get(..attribute.value.start), head.get(attribute.value.end..));
            return format!("{}{value}{}", before.unwrap_or_default(), after.unwrap_or_default());
        }
    }
    head.to_owned()
}

/// An element of this start tag (one that closes itself counts, too) around other content.
pub(super) fn around(head: &str, content: &str) -> String {
    let open = head.strip_suffix("/>").map(|open| format!("{}>", open.trim_ascii_end()));
    let open = open.as_deref().unwrap_or(head);
    let name = open.trim_start_matches('<');
    let end = name.find(|c: char| c.is_ascii_whitespace() || c == '>').unwrap_or(name.len());
    format!("{open}{content}</{}>", name.get(..end).unwrap_or_default())
}

/// Text as it may stand between tags and in quotes.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn attributes_go_and_change_and_the_rest_stays() {
        assert_eq!(without("<note default-x='4' id=\"a\">", &["default-x"]), "<note id=\"a\">");
        assert_eq!(with("<clef number = '2' x='y'/>", "number", "1"), "<clef number = '1' x='y'/>");
        assert_eq!(with("<clef/>", "number", "1"), "<clef/>");
        assert_eq!(around("<key a='1' />", "<x/>"), "<key a='1'><x/></key>");
    }
}
