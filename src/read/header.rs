//! What stands before the music: titles, defaults, credits, the list of parts.

use roxmltree::Node;

use super::draft::{Header, PartDraft};
use super::error::ReadErrorKind;
use super::family::family_of;
use super::page::{page_layout, staff_distance, system_layout};
use super::xml;
use crate::limits::Limits;
use crate::place::PartId;
use crate::score::{Credit, Group, GroupSymbol, Part};
use crate::units::Mm;

/// Reads the frame of a file; the parts have no music yet.
pub(super) fn header(root: Node<'_, '_>, input: u16, limits: &Limits) -> Result<Header, ReadErrorKind> {
    let mut header = Header::default();
    match root.tag_name().name() {
        "score-partwise" => {}
        "score-timewise" => header.timewise = true,
        other => return Err(ReadErrorKind::NotMusicXml { root: other.chars().take(60).collect() }),
    }
    header.version = root.attribute("version").map(str::to_owned);
    for (name, child) in xml::elements(root) {
        match name {
            "work" => header.work_title = titled(child, "work-title").or(header.work_title),
            "movement-title" => header.movement_title = filled(xml::tidy(xml::text(child))),
            "identification" => header.composer = composer(child).or(header.composer),
            "defaults" => defaults(child, &mut header),
            "credit" => credits(child, input, &mut header),
            "part-list" => part_list(child, limits, &mut header)?,
            _ => {}
        }
    }
    Ok(header)
}

fn filled(text: String) -> Option<String> {
    (!text.is_empty()).then_some(text)
}

fn titled(node: Node<'_, '_>, wanted: &str) -> Option<String> {
    let (_, child) = xml::elements(node).find(|(name, _)| *name == wanted)?;
    filled(xml::tidy(xml::text(child)))
}

fn composer(node: Node<'_, '_>) -> Option<String> {
    let is_composer = |child: &Node<'_, '_>| child.attribute("type") == Some("composer");
    let (_, child) = xml::elements(node).find(|(name, child)| *name == "creator" && is_composer(child))?;
    filled(xml::tidy(xml::text(child)))
}

fn defaults(node: Node<'_, '_>, header: &mut Header) {
    for (name, child) in xml::elements(node) {
        match name {
            "scaling" => scaling(child, header),
            "concert-score" => header.concert_pitch = Some(true),
            "page-layout" => page_layout(child, header.tenth, &mut header.defaults.page),
            "system-layout" => system_layout(child, header.tenth, &mut header.defaults.system),
            "staff-layout" => {
                let number = child.attribute("number").and_then(|number| number.parse().ok());
                if let Some(distance) = staff_distance(child, header.tenth) {
                    header.default_distances.insert(number, distance);
                }
            }
            _ => {}
        }
    }
}

/// Tenths are not always 40 to a staff height: "1233" occurs. A tenth is millimetres through tenths; a staff's four
/// spaces are 40 tenths by definition.
fn scaling(node: Node<'_, '_>, header: &mut Header) {
    let (mut millimetres, mut tenths) = (None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "millimeters" => millimetres = xml::number(child),
            "tenths" => tenths = xml::number(child),
            _ => {}
        }
    }
    let (Some(millimetres), Some(tenths)) = (millimetres, tenths) else { return };
    let tenth = millimetres / tenths;
    // Staves between 0.04 mm and 4 m high: anything else is no scaling.
    if (0.001..=100.0).contains(&tenth) {
        header.tenth = Some(Mm(tenth));
        header.staff_height = Some(Mm(tenth * 40.0));
    }
}

fn credits(node: Node<'_, '_>, input: u16, header: &mut Header) {
    let page = node.attribute("page").and_then(|page| page.parse().ok()).unwrap_or(1);
    let mut credit = Credit { input, page, ..Credit::default() };
    let mut text = String::new();
    for (name, child) in xml::elements(node) {
        match name {
            "credit-type" if credit.kind.is_none() => credit.kind = filled(xml::tidy(xml::text(child))),
            "credit-words" => {
                if text.is_empty() {
                    credit_place(child, header, &mut credit);
                }
                text.push_str(child.text().unwrap_or_default());
            }
            _ => {}
        }
    }
    credit.text = xml::tidy(&text);
    if !credit.text.is_empty() {
        header.credits.push(credit);
    }
}

fn credit_place(node: Node<'_, '_>, header: &Header, credit: &mut Credit) {
    let length = |name| node.attribute(name).and_then(xml::finite).and_then(|tenths| Some(header.tenth? * tenths));
    credit.x = length("default-x");
    // Counted upwards from the page's bottom edge.
    credit.y = length("default-y").and_then(|y| Some(header.defaults.page.size?.1 - y));
    credit.justify = node.attribute("justify").or(node.attribute("halign")).map(str::to_owned);
    credit.points = node.attribute("font-size").and_then(xml::finite).filter(|size| *size > 0.0);
}

/// A group that is not closed yet.
struct OpenGroup {
    number: String,
    first: usize,
    symbol: GroupSymbol,
    name: String,
    joins_barlines: Option<bool>,
}

fn part_list(node: Node<'_, '_>, limits: &Limits, header: &mut Header) -> Result<(), ReadErrorKind> {
    let mut open: Vec<OpenGroup> = Vec::new();
    let mut closed = Vec::new();
    for (name, child) in xml::elements(node) {
        match name {
            "score-part" => {
                if header.parts.len() >= limits.parts {
                    return Err(ReadErrorKind::TooMany { what: "parts", limit: limits.parts });
                }
                header.parts.push(PartDraft { part: score_part(child), ..PartDraft::default() });
            }
            "part-group" => {
                let number = child.attribute("number").unwrap_or("1");
                if child.attribute("type") == Some("stop") {
                    if let Some(at) = open.iter().rposition(|group| group.number == number) {
                        closed.extend(close(open.remove(at), header.parts.len()));
                    }
                } else if open.len() < limits.nesting {
                    open.push(open_group(number, header.parts.len(), child));
                }
            }
            _ => {}
        }
    }
    let all = header.parts.len();
    closed.extend(open.into_iter().rev().filter_map(|group| close(group, all)));
    header.groups = closed;
    Ok(())
}

fn open_group(number: &str, first: usize, node: Node<'_, '_>) -> OpenGroup {
    let (symbol, joins_barlines) = (GroupSymbol::None, None);
    let mut group = OpenGroup { number: number.to_owned(), first, symbol, name: String::new(), joins_barlines };
    for (name, child) in xml::elements(node) {
        match name {
            "group-symbol" => {
                group.symbol = match xml::text(child) {
                    "bracket" => GroupSymbol::Bracket,
                    "brace" => GroupSymbol::Brace,
                    "line" => GroupSymbol::Line,
                    "square" => GroupSymbol::Square,
                    _ => GroupSymbol::None,
                }
            }
            "group-name" => group.name = xml::tidy(xml::text(child)),
            // "Mensurstrich": lines between the staves.
            "group-barline" => group.joins_barlines = Some(xml::text(child) != "no"),
            _ => {}
        }
    }
    group
}

/// Levels are found when the parts have their final places.
fn close(group: OpenGroup, end: usize) -> Option<Group> {
    let last = end.checked_sub(1).filter(|last| *last >= group.first)?;
    Some(Group {
        first: PartId(u16::try_from(group.first).ok()?),
        last: PartId(u16::try_from(last).ok()?),
        symbol: group.symbol,
        name: group.name,
        joins_barlines: group.joins_barlines,
        level: 0,
    })
}

fn score_part(node: Node<'_, '_>) -> Part {
    let mut part = Part { id: node.attribute("id").unwrap_or_default().to_owned(), ..Part::default() };
    let (mut shown_name, mut shown_abbreviation) = (None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "part-name" => part.name = xml::tidy(xml::text(child)),
            "part-abbreviation" => part.abbreviation = xml::tidy(xml::text(child)),
            "part-name-display" => shown_name = displayed(child),
            "part-abbreviation-display" => shown_abbreviation = displayed(child),
            "score-instrument" => {
                for (name, child) in xml::elements(child) {
                    match name {
                        "instrument-name" => part.instruments.extend(filled(xml::tidy(xml::text(child)))),
                        "instrument-sound" => part.sounds.extend(filled(xml::tidy(xml::text(child)))),
                        _ => {}
                    }
                }
            }
            _ => {}
        }
    }
    part.name = shown_name.unwrap_or(part.name);
    part.abbreviation = shown_abbreviation.unwrap_or(part.abbreviation);
    let names = std::iter::once(&part.name).chain(&part.instruments).map(String::as_str);
    part.family = family_of(part.sounds.iter().map(String::as_str), names, &part.abbreviation);
    part
}

/// A name as printed, accidentals as signs.
fn displayed(node: Node<'_, '_>) -> Option<String> {
    let mut text = String::new();
    for (name, child) in xml::elements(node) {
        match name {
            "display-text" => text.push_str(child.text().unwrap_or_default()),
            "accidental-text" => text.push_str(match xml::text(child) {
                "flat" => "\u{266d}",
                "sharp" => "\u{266f}",
                "natural" => "\u{266e}",
                _ => "",
            }),
            _ => {}
        }
    }
    filled(xml::tidy(&text))
}
