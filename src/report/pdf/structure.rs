//! The tree of structure elements, as it is built up.

use super::document::PageId;
use super::tag::Tag;

/// A structure element of one document.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Elem(pub(super) usize);

/// What an element holds, in reading order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kid {
    Element(Elem),
    /// A marked-content sequence: its page and its number there.
    Content(PageId, usize),
    /// The link area with this number on its page.
    Area(PageId, usize),
}

#[derive(Debug)]
pub(super) struct Node {
    /// `None` for the root, which is the Document element.
    pub(super) tag: Option<Tag>,
    pub(super) parent: Option<Elem>,
    pub(super) kids: Vec<Kid>,
}

/// All elements; the first is the root.
#[derive(Debug)]
pub(super) struct Structure {
    nodes: Vec<Node>,
}

impl Structure {
    pub(super) const ROOT: Elem = Elem(0);

    pub(super) fn new() -> Structure {
        Structure { nodes: vec![Node { tag: None, parent: None, kids: Vec::new() }] }
    }

    /// A new last child of `parent`; `None` when that is not of this tree.
    pub(super) fn add(&mut self, parent: Elem, tag: Tag) -> Option<Elem> {
        let elem = Elem(self.nodes.len());
        self.nodes.get_mut(parent.0)?.kids.push(Kid::Element(elem));
        self.nodes.push(Node { tag: Some(tag), parent: Some(parent), kids: Vec::new() });
        Some(elem)
    }

    /// Puts marks or a link area at the end of `elem`; `None` when that is not of this tree.
    pub(super) fn append(&mut self, elem: Elem, kid: Kid) -> Option<()> {
        self.nodes.get_mut(elem.0)?.kids.push(kid);
        Some(())
    }

    pub(super) fn node(&self, elem: Elem) -> Option<&Node> {
        self.nodes.get(elem.0)
    }

    pub(super) fn elements(&self) -> impl Iterator<Item = (Elem, &Node)> {
        self.nodes.iter().enumerate().map(|(index, node)| (Elem(index), node))
    }

    /// For each element whether it is worth writing: it or something below it holds marks, or it is a cell of a
    /// row that is written.
    pub(super) fn kept(&self) -> Vec<bool> {
        let mut kept = vec![false; self.nodes.len()];
        // Children always come after their parents, so that one walk backwards sees them first.
        for (elem, node) in self.elements().collect::<Vec<_>>().into_iter().rev() {
            let filled = node.kids.iter().any(|kid| match kid {
                Kid::Element(child) => kept.get(child.0).copied().unwrap_or(false),
                Kid::Content(..) | Kid::Area(..) => true,
            });
            if let Some(own) = kept.get_mut(elem.0) {
                *own = filled || elem == Structure::ROOT;
            }
        }
        for (elem, node) in self.elements() {
            let row_kept = node.parent.is_some_and(|row| kept.get(row.0).copied().unwrap_or(false));
            if node.tag.as_ref().is_some_and(Tag::is_cell)
                && let Some(own) = kept.get_mut(elem.0)
            {
                *own |= row_kept;
            }
        }
        kept
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_without_marks_are_not_written_but_empty_cells_of_a_row_are() {
        let mut tree = Structure::new();
        let table = tree.add(Structure::ROOT, Tag::Table).unwrap();
        let row = tree.add(table, Tag::Tr).unwrap();
        let empty_cell = tree.add(row, Tag::CELL).unwrap();
        let cell = tree.add(row, Tag::CELL).unwrap();
        let empty_row = tree.add(table, Tag::Tr).unwrap();
        let lost_cell = tree.add(empty_row, Tag::CELL).unwrap();
        let empty_section = tree.add(Structure::ROOT, Tag::Sect).unwrap();
        let empty_paragraph = tree.add(empty_section, Tag::P).unwrap();
        tree.append(cell, Kid::Content(PageId(0), 0)).unwrap();
        let kept = tree.kept();
        for elem in [table, row, empty_cell, cell] {
            assert!(kept[elem.0], "{elem:?}");
        }
        for elem in [empty_row, lost_cell, empty_section, empty_paragraph] {
            assert!(!kept[elem.0], "{elem:?}");
        }
    }

    #[test]
    fn an_element_of_another_tree_is_refused() {
        let mut tree = Structure::new();
        assert_eq!(tree.add(Elem(7), Tag::P), None);
        assert_eq!(tree.append(Elem(7), Kid::Content(PageId(0), 0)), None);
        assert_eq!(tree.kept(), [true]);
    }
}
