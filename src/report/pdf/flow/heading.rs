//! Headings.

use super::super::structure::Elem;
use super::super::tag::Tag;
use super::Flow;
use super::paragraph::{ParagraphStyle, flow_lines};
use super::text::Text;
use super::wrap::wrap_text;
use crate::units::Mm;

/// How deep a heading stands; no level may be skipped on the way down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    One,
    Two,
    Three,
}

/// A heading, kept on the page of what it heads.
#[derive(Clone, Debug, PartialEq)]
pub struct Heading {
    pub level: Level,
    pub text: Text,
    pub style: ParagraphStyle,
    /// A name for links and bookmarks that lead here.
    pub anchor: Option<String>,
}

impl Heading {
    #[must_use]
    pub fn new(level: Level, text: impl Into<Text>, style: ParagraphStyle) -> Heading {
        Heading { level, text: text.into(), style, anchor: None }
    }

    #[must_use]
    pub fn named(self, anchor: impl Into<String>) -> Heading {
        Heading { anchor: Some(anchor.into()), ..self }
    }

    pub(super) fn height(&self, width: Mm) -> Mm {
        self.style.line * wrap_text(&self.text, &self.style.text, width - self.style.indent).len() as f64
    }

    pub(super) fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        let tag = match self.level {
            Level::One => Tag::H1,
            Level::Two => Tag::H2,
            Level::Three => Tag::H3,
        };
        let elem = flow.doc.element(parent, tag);
        if let Some(name) = &self.anchor {
            flow.doc.anchor(name, flow.region.page, flow.y);
        }
        let lines = wrap_text(&self.text, &self.style.text, flow.width() - self.style.indent);
        flow_lines(flow, elem, &self.text, &lines, &self.style.setting(), self.style.indent);
    }
}
