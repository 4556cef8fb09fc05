//! The recorded layout: page and system breaks, distances, hidden staves.

use super::xml::{Xml, tenths};
use crate::layout::{PageLayout, SystemLayout};
use crate::orchestra::{PARTS, Part};

/// Where a system stands, when a bar begins one.
#[derive(Clone, Copy)]
pub struct Start<'a> {
    pub page: &'a PageLayout,
    pub system: &'a SystemLayout,
    pub first_of_page: bool,
    pub first_of_movement: bool,
}

/// The system that begins with `bar`, if one does.
pub fn start_at(pages: &[PageLayout], bar: usize) -> Option<Start<'_>> {
    pages.iter().enumerate().find_map(|(page_at, page)| {
        let at = page.systems.iter().position(|system| system.first_bar == bar)?;
        let first_of_page = at == 0;
        Some(Start { page, system: &page.systems[at], first_of_page, first_of_movement: first_of_page && page_at == 0 })
    })
}

pub fn write(xml: &mut Xml, part: &Part, start: Start) {
    let page_number = start.page.number.to_string();
    let mut attributes = Vec::new();
    match (start.first_of_movement, start.first_of_page) {
        (true, _) => attributes.push(("page-number", page_number.as_str())),
        (false, true) => attributes.extend([("new-page", "yes"), ("page-number", page_number.as_str())]),
        (false, false) => attributes.push(("new-system", "yes")),
    }
    xml.open("print", &attributes);
    let top_part = part.id == PARTS[0].id;
    if top_part {
        system_layout(xml, start);
    }
    for index in 0..part.clefs.len() {
        let above = start.system.staves.iter().position(|&staff| staff == part.first + index);
        if let Some(gap) = above.and_then(|above| above.checked_sub(1)).and_then(|gap| start.system.gaps.get(gap)) {
            xml.open("staff-layout", &[("number", &(index + 1).to_string())]);
            xml.leaf("staff-distance", tenths(*gap));
            xml.close();
        }
    }
    if top_part {
        xml.leaf("measure-numbering", "system");
    }
    xml.close();
}

fn system_layout(xml: &mut Xml, start: Start) {
    let system = start.system;
    xml.open("system-layout", &[]);
    xml.open("system-margins", &[]);
    xml.leaf("left-margin", tenths(system.indent));
    xml.leaf("right-margin", 0);
    xml.close();
    let distance = if start.first_of_page { "top-system-distance" } else { "system-distance" };
    xml.leaf(distance, tenths(system.distance));
    if !start.first_of_page {
        let printed = if system.divider { "yes" } else { "no" };
        xml.open("system-dividers", &[]);
        xml.empty("left-divider", &[("print-object", printed)]);
        xml.empty("right-divider", &[("print-object", printed)]);
        xml.close();
    }
    xml.close();
}

/// The staves of `part` left out of this system, by number within the part.
pub fn hidden(part: &Part, system: &SystemLayout) -> Vec<usize> {
    (0..part.clefs.len())
        .filter(|index| !system.staves.contains(&(part.first + index)))
        .map(|index| index + 1)
        .collect()
}
