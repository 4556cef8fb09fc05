//! Keys, clefs, metres and staves of the player's own staves.

use super::tag;
use crate::read::Element;

/// An `attributes` element for some staves of a part, given as numbers in the score from the top; `None` where nothing
/// is left of it.
pub(super) fn of_staves(attributes: &Element<'_>, staves: &[u16]) -> Option<String> {
    let mut content = String::new();
    for child in attributes.children() {
        if let Some(text) = of_child(&child, staves) {
            content.push_str(child.before);
            content.push_str(&text);
        }
    }
    let end = attributes.inner.get(attributes.inner.trim_ascii_end().len()..).unwrap_or_default();
    (!content.is_empty()).then(|| tag::around(attributes.head, &(content + end)))
}

fn of_child(child: &Element<'_>, staves: &[u16]) -> Option<String> {
    let number = child.attribute("number").and_then(|number| number.trim().parse::<u16>().ok());
    // Some elements without a number hold for all staves of the part, clefs for the first.
    let number = number.or((child.name == "clef").then_some(1));
    let place = match number {
        Some(number) => Some(staves.iter().position(|staff| *staff == number)? + 1),
        None => None,
    };
    match child.name {
        "staves" if staves.len() == 1 => None,
        "staves" => Some(tag::around(child.head, &staves.len().to_string())),
        "part-symbol" if staves.len() == 1 => None,
        // Counted for the full score, if at all.
        "measure-style" if child.child("multiple-rest").is_some() => None,
        "staff-details" => details(child, place),
        _ => Some(numbered(child.head, place) + child.whole.get(child.head.len()..).unwrap_or_default()),
    }
}

/// Without what says that a staff is left out or set smaller in the score.
fn details(child: &Element<'_>, place: Option<usize>) -> Option<String> {
    let kept: String =
        child.children().iter().filter(|inside| inside.name != "staff-size").map(|inside| inside.whole).collect();
    let head = tag::without(&numbered(child.head, place), &["print-object", "show-frets"]);
    (!kept.is_empty()).then(|| tag::around(&head, &kept))
}

fn numbered(head: &str, place: Option<usize>) -> String {
    place.map_or_else(|| head.to_owned(), |place| tag::with(head, "number", &place.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::elements;

    fn cut(inner: &str, staves: &[u16]) -> Option<String> {
        of_staves(&elements(&format!("<attributes>{inner}</attributes>"))[0], staves)
    }

    #[test]
    fn one_staff_of_two_keeps_its_own_clef_and_what_both_share() {
        let both =
            "<key/><staves>2</staves><clef number=\"1\"><sign>G</sign></clef><clef number=\"2\"><sign>F</sign></clef>";
        let lower = "<attributes><key/><clef number=\"1\"><sign>F</sign></clef></attributes>";
        assert_eq!(cut(both, &[2]).as_deref(), Some(lower));
        assert_eq!(cut(both, &[1, 2]), Some(format!("<attributes>{both}</attributes>")));
    }

    #[test]
    fn what_the_score_does_with_its_staves_is_left_out() {
        let hidden = "<staff-details number=\"1\" print-object=\"no\"/>";
        let gathered = "<measure-style><multiple-rest>3</multiple-rest></measure-style>";
        assert_eq!(cut(&format!("{hidden}{gathered}"), &[1]), None);
    }
}
