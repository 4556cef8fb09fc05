//! Lists with bullets, numbers or labels of one's own.

use super::super::structure::Elem;
use super::super::tag::{Numbering, Tag};
use super::Flow;
use super::lines::set_lines;
use super::paragraph::{ParagraphStyle, first_lines, flow_lines};
use super::text::Text;
use super::wrap::wrap_text;
use crate::geometry::Rect;
use crate::units::Mm;

/// A list.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    pub numbering: Numbering,
    pub items: Vec<ListItem>,
    pub style: ParagraphStyle,
    /// From the labels' left edge to that of the items.
    pub hang: Mm,
    /// Room between two items.
    pub between: Mm,
}

/// One item of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct ListItem {
    pub text: Text,
    /// In place of the bullet or number.
    pub label: Option<String>,
}

impl ListItem {
    #[must_use]
    pub fn new(text: impl Into<Text>) -> ListItem {
        ListItem { text: text.into(), label: None }
    }

    #[must_use]
    pub fn labelled(self, label: impl Into<String>) -> ListItem {
        ListItem { label: Some(label.into()), ..self }
    }
}

impl<T: Into<Text>> From<T> for ListItem {
    fn from(text: T) -> ListItem {
        ListItem::new(text)
    }
}

impl List {
    /// Items that hang half a centimetre, a quarter of a line apart.
    #[must_use]
    pub fn new<T: Into<ListItem>>(
        numbering: Numbering,
        items: impl IntoIterator<Item = T>,
        style: ParagraphStyle,
    ) -> List {
        let items = items.into_iter().map(Into::into).collect();
        List { numbering, items, style, hang: Mm(5.0), between: style.line / 4.0 }
    }

    pub(super) fn needed(&self, width: Mm) -> Mm {
        self.items.first().map_or(Mm::ZERO, |item| self.item_needed(item, width))
    }

    pub(super) fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        let list = flow.doc.element(parent, Tag::L(self.numbering));
        for (index, item) in self.items.iter().enumerate() {
            if index > 0 {
                flow.begin(self.between, self.item_needed(item, flow.width()));
            }
            self.set_item(flow, list, item, index + 1);
        }
    }

    fn item_needed(&self, item: &ListItem, width: Mm) -> Mm {
        self.style.line * first_lines(wrap_text(&item.text, &self.style.text, width - self.inset()).len()) as f64
    }

    fn set_item(&self, flow: &mut Flow<'_>, list: Elem, item: &ListItem, number: usize) {
        let elem = flow.doc.element(list, Tag::Li);
        let label = self.label(item, number);
        if !label.is_empty() {
            let label_elem = flow.doc.element(elem, Tag::Lbl);
            let label = Text::new(label);
            let lines = wrap_text(&label, &self.style.text, self.hang);
            let area = flow.rest().area;
            let left = area.left + self.style.indent;
            let area = Rect::new(left, area.top, left + self.hang, area.bottom);
            let page = flow.region.page;
            let first = lines.get(..1).unwrap_or_default();
            set_lines(&mut flow.doc.page(page), label_elem, &label, first, &self.style.setting(), area);
        }
        let body = flow.doc.element(elem, Tag::LBody);
        let lines = wrap_text(&item.text, &self.style.text, flow.width() - self.inset());
        flow_lines(flow, body, &item.text, &lines, &self.style.setting(), self.inset());
    }

    fn label(&self, item: &ListItem, number: usize) -> String {
        match (&item.label, self.numbering) {
            (Some(label), _) => label.clone(),
            (None, Numbering::None) => String::new(),
            (None, Numbering::Bullet) => "\u{2022}".to_owned(),
            (None, Numbering::Decimal) => format!("{number}."),
        }
    }

    fn inset(&self) -> Mm {
        self.style.indent + self.hang
    }
}
