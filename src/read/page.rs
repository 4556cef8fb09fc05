//! Page sizes, margins and distances, as they stand both in a file's defaults and inside its music.

use roxmltree::Node;

use super::xml;
use crate::geometry::Margins;
use crate::layout::{PageRecord, SystemRecord};
use crate::units::Mm;

/// A `page-layout` element; what it does not say stays as it was.
pub(super) fn page_layout(node: Node<'_, '_>, tenth: Option<Mm>, page: &mut PageRecord) {
    let (mut width, mut height) = (None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "page-height" => height = length(child, tenth),
            "page-width" => width = length(child, tenth),
            "page-margins" => {
                let Some(margins) = margins(child, tenth) else { continue };
                match child.attribute("type") {
                    Some("odd") => page.odd = Some(margins),
                    Some("even") => page.even = Some(margins),
                    _ => (page.odd, page.even) = (Some(margins), Some(margins)),
                }
            }
            _ => {}
        }
    }
    if let (Some(width), Some(height)) = (width, height)
        && width > Mm::ZERO
        && height > Mm::ZERO
    {
        page.size = Some((width, height));
    }
}

/// A `system-layout` element; what it does not say stays as it was.
pub(super) fn system_layout(node: Node<'_, '_>, tenth: Option<Mm>, system: &mut SystemRecord) {
    for (name, child) in xml::elements(node) {
        match name {
            "system-margins" => {
                for (name, child) in xml::elements(child) {
                    match name {
                        "left-margin" => system.left = length(child, tenth).or(system.left),
                        "right-margin" => system.right = length(child, tenth).or(system.right),
                        _ => {}
                    }
                }
            }
            "system-distance" => system.distance = length(child, tenth).or(system.distance),
            "top-system-distance" => system.top_distance = length(child, tenth).or(system.top_distance),
            "system-dividers" => {
                let shown = |(_, divider): (&str, Node<'_, '_>)| divider.attribute("print-object") != Some("no");
                system.dividers = Some(xml::elements(child).any(shown));
            }
            _ => {}
        }
    }
}

/// The distance of a `staff-layout` element.
pub(super) fn staff_distance(node: Node<'_, '_>, tenth: Option<Mm>) -> Option<Mm> {
    xml::elements(node).find(|(name, _)| *name == "staff-distance").and_then(|(_, child)| length(child, tenth))
}

/// An element's text, counted in tenths, as a length.
pub(super) fn length(node: Node<'_, '_>, tenth: Option<Mm>) -> Option<Mm> {
    Some(tenth? * xml::number(node)?)
}

fn margins(node: Node<'_, '_>, tenth: Option<Mm>) -> Option<Margins> {
    let (mut left, mut right, mut top, mut bottom) = (None, None, None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "left-margin" => left = length(child, tenth),
            "right-margin" => right = length(child, tenth),
            "top-margin" => top = length(child, tenth),
            "bottom-margin" => bottom = length(child, tenth),
            _ => {}
        }
    }
    Some(Margins { left: left?, right: right?, top: top?, bottom: bottom? })
}
