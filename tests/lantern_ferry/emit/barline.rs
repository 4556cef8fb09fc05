//! Repeats, endings, double and final barlines.

use super::xml::Xml;
use crate::score::{BarHead, Movement};

pub fn left(xml: &mut Xml, head: &BarHead) {
    if head.repeat_starts || head.ending.is_some() {
        xml.open("barline", &[("location", "left")]);
        if head.repeat_starts {
            xml.leaf("bar-style", "heavy-light");
        }
        if let Some(ending) = head.ending {
            xml.empty("ending", &[("number", &ending.to_string()), ("type", "start")]);
        }
        if head.repeat_starts {
            xml.empty("repeat", &[("direction", "forward")]);
        }
        xml.close();
    }
}

pub fn right(xml: &mut Xml, movement: &Movement, bar: usize) {
    let head = movement.head(bar);
    let last = bar == movement.bars();
    let style = if head.repeat_stops || (last && movement.number >= 2) {
        Some("light-heavy")
    } else {
        (head.double_barline || last).then_some("light-light")
    };
    if style.is_none() && head.ending.is_none() {
        return;
    }
    xml.open("barline", &[("location", "right")]);
    if let Some(style) = style {
        xml.leaf("bar-style", style);
    }
    if let Some(ending) = head.ending {
        let kind = if head.repeat_stops { "stop" } else { "discontinue" };
        xml.empty("ending", &[("number", &ending.to_string()), ("type", kind)]);
    }
    if head.repeat_stops {
        xml.empty("repeat", &[("direction", "backward")]);
    }
    xml.close();
}
