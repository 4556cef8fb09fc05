//! What stands before the music: titles, measures of the page, the part list with its groups.

use rastrum::units::Mm;

use super::credits;
use super::xml::{Xml, number, tenths};
use crate::layout::PageLayout;
use crate::orchestra::{Family, Part, parts};
use crate::paper;
use crate::score::Movement;

pub const WORK: &str = "Lantern Ferry";
pub const COMPOSER: &str = "invented for the demonstration";

pub fn write(xml: &mut Xml, movement: &Movement, pages: &[PageLayout]) {
    xml.open("work", &[]);
    xml.leaf("work-title", WORK);
    xml.close();
    xml.leaf("movement-number", movement.number);
    xml.leaf("movement-title", movement.title);
    xml.open("identification", &[]);
    xml.leaf_with("creator", &[("type", "composer")], COMPOSER);
    xml.open("encoding", &[]);
    for element in ["accidental", "beam", "stem"] {
        xml.empty("supports", &[("element", element), ("type", "yes")]);
    }
    for attribute in ["new-page", "new-system"] {
        xml.empty("supports", &[("attribute", attribute), ("element", "print"), ("type", "yes"), ("value", "yes")]);
    }
    xml.close();
    xml.close();
    defaults(xml, movement.staff_mm());
    credits::write(xml, movement, pages);
    part_list(xml, movement);
}

fn defaults(xml: &mut Xml, staff: Mm) {
    xml.open("defaults", &[]);
    xml.open("scaling", &[]);
    xml.leaf("millimeters", number(staff.0));
    xml.leaf("tenths", tenths(paper::STAFF));
    xml.close();
    xml.open("page-layout", &[]);
    xml.leaf("page-height", tenths(paper::page_height(staff)));
    xml.leaf("page-width", tenths(paper::page_width(staff)));
    for (side, page) in [("even", 2), ("odd", 1)] {
        xml.open("page-margins", &[("type", side)]);
        xml.leaf("left-margin", tenths(paper::left_margin(page)));
        xml.leaf("right-margin", tenths(paper::right_margin(page)));
        xml.leaf("top-margin", tenths(paper::MARGIN_TOP));
        xml.leaf("bottom-margin", tenths(paper::MARGIN_BOTTOM));
        xml.close();
    }
    xml.close();
    xml.open("system-layout", &[]);
    xml.open("system-margins", &[]);
    xml.leaf("left-margin", tenths(paper::INDENT_SHORT));
    xml.leaf("right-margin", 0);
    xml.close();
    xml.leaf("system-distance", 150);
    xml.leaf("top-system-distance", 60);
    xml.close();
    xml.open("staff-layout", &[]);
    xml.leaf("staff-distance", 75);
    xml.close();
    xml.open("appearance", &[]);
    for (kind, width) in
        [("staff", "1.1"), ("stem", "1.2"), ("beam", "5"), ("light barline", "1.6"), ("heavy barline", "5")]
    {
        xml.leaf_with("line-width", &[("type", kind)], width);
    }
    xml.close();
    xml.close();
}

fn part_list(xml: &mut Xml, movement: &Movement) {
    xml.open("part-list", &[]);
    let mut family: Option<Family> = None;
    let mut group = 0;
    for part in parts(movement.has_bell()) {
        if family != Some(part.family) {
            end_group(xml, family, group);
            group += 1;
            start_group(xml, part.family, group);
            family = Some(part.family);
        }
        score_part(xml, part);
    }
    end_group(xml, family, group);
    xml.close();
}

/// A bracket and common barlines for each family; the harp has its own brace.
fn start_group(xml: &mut Xml, family: Family, group: u32) {
    if family != Family::Harp {
        xml.open("part-group", &[("type", "start"), ("number", &group.to_string())]);
        xml.leaf("group-symbol", "bracket");
        xml.leaf("group-barline", "yes");
        xml.close();
    }
}

fn end_group(xml: &mut Xml, family: Option<Family>, group: u32) {
    if family.is_some_and(|family| family != Family::Harp) {
        xml.empty("part-group", &[("type", "stop"), ("number", &group.to_string())]);
    }
}

fn score_part(xml: &mut Xml, part: &Part) {
    xml.open("score-part", &[("id", part.id)]);
    xml.leaf("part-name", part.name);
    xml.leaf("part-abbreviation", part.short);
    for (id, name, _) in part.unpitched {
        xml.open("score-instrument", &[("id", id)]);
        xml.leaf("instrument-name", name);
        xml.close();
    }
    xml.close();
}
