//! The pages of a file in order, each with what it inherits (ISO 32000-1, 7.7.3).

use lopdf::{Dictionary, Document, Object, ObjectId};

use super::AnnotateError;

/// Entries of a page that its ancestors may hold for it.
const INHERITED: [&[u8]; 4] = [b"Resources", b"MediaBox", b"CropBox", b"Rotate"];

/// Nodes above a page: more than any tree of this many pages needs.
const DEEPEST: usize = 256;

/// One page.
#[derive(Clone, Copy)]
pub(super) struct Leaf<'a> {
    pub id: ObjectId,
    pub dict: &'a Dictionary,
    inherited: [Option<&'a Object>; INHERITED.len()],
}

impl<'a> Leaf<'a> {
    /// The entry, its own or inherited, as an object that is no reference.
    pub fn get(&self, document: &'a Document, key: &[u8]) -> Option<&'a Object> {
        let inherited = INHERITED.iter().zip(self.inherited).find(|(name, _)| **name == key);
        own(document, self.dict, key).or(inherited.and_then(|(_, object)| object))
    }
}

/// A node that is being walked through.
struct Node<'a> {
    kids: std::slice::Iter<'a, Object>,
    inherited: [Option<&'a Object>; INHERITED.len()],
}

/// The object that the catalog names as the root of the page tree.
pub(super) fn root(document: &Document) -> Result<ObjectId, AnnotateError> {
    let pages = document.catalog().and_then(|catalog| catalog.get(b"Pages"));
    target(document, pages.map_err(|_| AnnotateError::NoPages)?).map(|(id, _)| id).ok_or(AnnotateError::NoPages)
}

/// # Errors
/// The tree leads back into itself, or to something that is no page; there are no pages, or more than `limit`.
pub(super) fn leaves(document: &Document, limit: usize) -> Result<Vec<Leaf<'_>>, AnnotateError> {
    let root = root(document)?;
    let dict = document.get_dictionary(root).map_err(|_| AnnotateError::NoPages)?;
    let mut path = vec![(root, node(document, dict, [None; INHERITED.len()]).ok_or(AnnotateError::NoPages)?)];
    let mut leaves = Vec::new();
    // Nodes without pages below them cost time, too.
    let mut steps = 0;
    while let Some((_, at)) = path.last_mut() {
        let Some(kid) = at.kids.next() else {
            path.pop();
            continue;
        };
        let inherited = at.inherited;
        let (id, dict) = target(document, kid).ok_or(AnnotateError::PageTree)?;
        steps += 1;
        if path.len() > DEEPEST || steps > document.objects.len() || path.iter().any(|(above, _)| *above == id) {
            return Err(AnnotateError::PageTree);
        }
        match node(document, dict, inherited) {
            Some(node) => path.push((id, node)),
            None if leaves.len() == limit => return Err(AnnotateError::TooManyPages { limit }),
            None => leaves.push(Leaf { id, dict, inherited }),
        }
    }
    if leaves.is_empty() { Err(AnnotateError::NoPages) } else { Ok(leaves) }
}

/// `None` for what has no kids: a page.
fn node<'a>(
    document: &'a Document,
    dict: &'a Dictionary,
    inherited: [Option<&'a Object>; INHERITED.len()],
) -> Option<Node<'a>> {
    let kids = own(document, dict, b"Kids")?.as_array().ok()?.iter();
    let mut here = inherited;
    for (slot, key) in here.iter_mut().zip(INHERITED) {
        *slot = own(document, dict, key).or(*slot);
    }
    Some(Node { kids, inherited: here })
}

/// An entry that is there and not null.
pub(super) fn own<'a>(document: &'a Document, dict: &'a Dictionary, key: &[u8]) -> Option<&'a Object> {
    dict.get_deref(key, document).ok().filter(|object| !object.is_null())
}

/// The dictionary that a reference leads to, with its own number.
pub(super) fn target<'a>(document: &'a Document, object: &'a Object) -> Option<(ObjectId, &'a Dictionary)> {
    let (id, object) = document.dereference(object).ok()?;
    Some((id?, object.as_dict().ok()?))
}
