//! What stands before the music: titles, the new paper, and the part's own name.

use super::WantedPart;
use super::line::{Own, Place};
use super::source::Source;
use super::tag;
use crate::layout::{Layout, Side};
use crate::read::Element;
use crate::units::Mm;

/// The root of every part: bars within parts.
pub(super) const ROOT: &str = "score-partwise";

/// Everything from the declaration to the list of parts.
pub(super) fn write(place: &Place<'_>, wanted: &WantedPart<'_>, parts: &[Own]) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str(&place.source.root.replacen("score-timewise", ROOT, 1));
    let mut line = |text: &str| {
        out.push_str("\n  ");
        out.push_str(text);
    };
    let paper = paper(wanted.pages);
    let has_defaults = place.source.head.iter().any(|element| element.name == "defaults");
    let is_before = |name| matches!(name, "work" | "movement-number" | "movement-title" | "identification");
    for element in place.source.head.iter().filter(|element| is_before(element.name)) {
        line(element.whole);
    }
    if !has_defaults && let Some(paper) = &paper {
        line(&format!("<defaults>{paper}</defaults>"));
    }
    for element in &place.source.head {
        match element.name {
            "defaults" => line(&defaults(element, paper.as_deref())),
            "part-list" => {
                let name = tag::escaped(&wanted.player.name);
                line(&format!(
                    "<credit page=\"1\"><credit-type>part name</credit-type><credit-words>{name}</credit-words></credit>"
                ));
                line(&list(place.source, &name, parts));
            }
            _ => {}
        }
    }
    out
}

/// The id of a part of the file.
pub(super) fn id_of(source: &Source<'_>, part: usize) -> String {
    let listed = source.parts.get(part).and_then(|part| part.listed);
    let id = listed.and_then(|listed| listed.attribute("id")).map(str::to_owned);
    id.unwrap_or_else(|| format!("unlisted-{}", part + 1))
}

fn list(source: &Source<'_>, name: &str, parts: &[Own]) -> String {
    let mut list = String::from("<part-list>");
    for own in parts {
        let named = format!("<part-name>{name}</part-name>");
        let entry = match source.parts.get(own.part).and_then(|part| part.listed) {
            Some(listed) => tag::around(&listed.head.replace("/>", ">"), &entry(&listed, &named)),
            None => tag::around(&format!("<score-part id=\"{}\">", id_of(source, own.part)), &named),
        };
        list.push_str("\n    ");
        list.push_str(&entry);
    }
    list + "\n  </part-list>"
}

/// An entry's content under another name.
fn entry(listed: &Element<'_>, named: &str) -> String {
    let mut content = String::new();
    let mut is_named = false;
    for child in listed.children() {
        let text = match child.name {
            "part-name-display" | "part-abbreviation" | "part-abbreviation-display" | "group" => continue,
            "part-name" => named,
            _ => child.whole,
        };
        is_named |= child.name == "part-name";
        content.push_str(child.before);
        content.push_str(text);
    }
    if is_named { content } else { named.to_owned() + &content }
}

/// Type and lines as in the score, the paper as in the part.
fn defaults(element: &Element<'_>, paper: Option<&str>) -> String {
    let mut content = String::new();
    let mut write = |text: &str| {
        content.push_str("\n    ");
        content.push_str(text);
    };
    let children = element.children();
    let of_part = |name| matches!(name, "page-layout" | "system-layout" | "staff-layout");
    if let Some(paper) = paper {
        write(paper);
    }
    for child in children.iter().filter(|child| !of_part(child.name)) {
        if child.name != "scaling" || paper.is_none() {
            write(child.whole);
        }
    }
    tag::around(element.head, &(content + "\n  "))
}

/// Staff height, page and margins of the part's pages.
fn paper(pages: &Layout) -> Option<String> {
    let page = pages.pages.iter().find(|page| !page.systems.is_empty())?;
    let height = page.systems.first()?.staves.first()?.height;
    if height <= Mm(0.0) {
        return None;
    }
    let tenths = |length: Mm| format!("{:.2}", length.0 / height.0 * 40.0);
    let (size, margins) = (page.size.value, page.margins.value);
    let side = if page.side == Side::Recto { "odd" } else { "even" };
    let other = if page.side == Side::Recto { "even" } else { "odd" };
    let margins_of = |side, left, right| {
        format!(
            "<page-margins type=\"{side}\"><left-margin>{}</left-margin><right-margin>{}</right-margin>\
             <top-margin>{}</top-margin><bottom-margin>{}</bottom-margin></page-margins>",
            tenths(left),
            tenths(right),
            tenths(margins.top),
            tenths(margins.bottom)
        )
    };
    Some(format!(
        "<scaling><millimeters>{:.3}</millimeters><tenths>40</tenths></scaling><page-layout><page-height>{}</page-height>\
         <page-width>{}</page-width>{}{}</page-layout>",
        height.0,
        tenths(size.1),
        tenths(size.0),
        margins_of(side, margins.left, margins.right),
        margins_of(other, margins.right, margins.left),
    ))
}
