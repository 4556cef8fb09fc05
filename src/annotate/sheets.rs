//! Appends pages of another file, with all that hangs on them, after the pages of this one.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::changes::Changes;
use super::tree::{self, Leaf, own};
use super::{AnnotateError, Sheets};
use crate::limits::Limits;

/// On every page and node that rastrum appended: a private name (ISO 32000-1, annex E).
const MARK: &[u8] = b"XXrastrum";

/// Entries that lead to what is not appended: page tree, structure, threads; and dates.
const LEFT_OUT: [&[u8]; 6] = [b"Parent", b"StructParent", b"StructParents", b"B", b"PieceInfo", b"LastModified"];

/// Whether rastrum appended this page or node.
pub(super) fn is_appended(dict: &Dictionary) -> bool {
    dict.has(MARK)
}

/// How many pages were appended.
pub(super) fn append(
    changes: &mut Changes<'_>,
    pages: usize,
    sheets: &Sheets<'_>,
    limits: &Limits,
) -> Result<usize, AnnotateError> {
    let options = lopdf::LoadOptions::with_max_decompressed_size(limits.page_content_bytes);
    let from = Document::load_mem_with_options(sheets.pdf, options).map_err(|_| AnnotateError::Sheets)?;
    let leaves = tree::leaves(&from, limits.pages).map_err(|_| AnnotateError::Sheets)?;
    let taken = leaves.get(..sheets.count.min(leaves.len())).unwrap_or_default();
    if taken.is_empty() {
        return Ok(0);
    }
    if pages.saturating_add(taken.len()) > limits.pages {
        return Err(AnnotateError::TooManyPages { limit: limits.pages });
    }
    let root = tree::root(changes.document)?;
    let node = changes.reserve()?;
    let mut copy = Copy { from: &from, numbers: BTreeMap::new(), waiting: Vec::new(), closed: closed(&from, &leaves) };
    for leaf in taken {
        let id = changes.reserve()?;
        copy.numbers.insert(leaf.id, id);
    }
    let mut kids = Vec::new();
    for leaf in taken {
        let id = copy.number(leaf.id, changes)?;
        let page = copy.page(leaf, node, changes)?;
        changes.set(id, page);
        kids.push(Object::Reference(id));
    }
    copy.rest(changes)?;
    let count = i64::try_from(kids.len()).map_err(|_| AnnotateError::Full)?;
    let mut own_node = dictionary! { "Type" => "Pages", "Parent" => root, "Kids" => kids, "Count" => count };
    own_node.set(MARK, true);
    changes.set(node, own_node);
    let mut top = changes.dict(root).cloned().ok_or(AnnotateError::PageTree)?;
    let mut kids = changes.array(&top, b"Kids");
    kids.push(Object::Reference(node));
    let all = i64::try_from(pages).map_err(|_| AnnotateError::Full)?.saturating_add(count);
    top.set("Kids", kids);
    top.set("Count", all);
    changes.set(root, top);
    Ok(taken.len())
}

/// Pages and nodes of the tree: nothing but the pages that are taken is copied of it.
fn closed(from: &Document, leaves: &[Leaf<'_>]) -> BTreeSet<ObjectId> {
    let nodes = from.objects.iter().filter(|(_, object)| {
        object
            .as_dict()
            .is_ok_and(|dict| dict.has_type(b"Pages") || dict.has_type(b"Catalog") || dict.has_type(b"StructElem"))
    });
    leaves.iter().map(|leaf| leaf.id).chain(nodes.map(|(id, _)| *id)).collect()
}

/// The copying of one file's objects into another.
struct Copy<'a> {
    from: &'a Document,
    /// From the old number to the new one.
    numbers: BTreeMap<ObjectId, ObjectId>,
    /// Named, but not yet copied.
    waiting: Vec<ObjectId>,
    closed: BTreeSet<ObjectId>,
}

impl<'a> Copy<'a> {
    fn page(
        &mut self,
        leaf: &Leaf<'a>,
        node: ObjectId,
        changes: &mut Changes<'_>,
    ) -> Result<Dictionary, AnnotateError> {
        let mut page = leaf.dict.clone();
        // Its own values keep the other tree from giving it any.
        let size = leaf.get(self.from, b"MediaBox").cloned().ok_or(AnnotateError::Sheets)?;
        page.set("Resources", leaf.get(self.from, b"Resources").cloned().unwrap_or(Dictionary::new().into()));
        page.set("CropBox", leaf.get(self.from, b"CropBox").cloned().unwrap_or(size.clone()));
        page.set("MediaBox", size);
        page.set("Rotate", leaf.get(self.from, b"Rotate").cloned().unwrap_or(Object::Integer(0)));
        let links = own(self.from, leaf.dict, b"Annots").and_then(|links| links.as_array().ok());
        let mut kept = links.cloned().unwrap_or_default();
        kept.retain(|link| self.leads_somewhere(link));
        page.remove(b"Annots");
        if !kept.is_empty() {
            page.set("Annots", kept);
        }
        let mut page = self.dict(&page, changes)?;
        page.set("Parent", node);
        page.set(MARK, true);
        Ok(page)
    }

    /// Links into pages that are not appended are left out.
    fn leads_somewhere(&self, link: &Object) -> bool {
        let Some(link) = self.from.dereference(link).ok().and_then(|(_, object)| object.as_dict().ok()) else {
            return false;
        };
        let action = own(self.from, link, b"A").and_then(|action| action.as_dict().ok());
        let inside = action.and_then(|action| own(self.from, action, b"D"));
        match own(self.from, link, b"Dest").or(inside) {
            Some(Object::Array(place)) => {
                let page = place.first().and_then(|page| page.as_reference().ok());
                page.is_some_and(|page| self.numbers.contains_key(&page))
            }
            // Names are explained in the other file's catalog.
            Some(_) => false,
            None => true,
        }
    }

    fn rest(&mut self, changes: &mut Changes<'_>) -> Result<(), AnnotateError> {
        while let Some(id) = self.waiting.pop() {
            let new = self.number(id, changes)?;
            let copied = match self.from.objects.get(&id) {
                Some(object) => self.object(object, changes)?,
                None => Object::Null,
            };
            changes.objects.insert(new, copied);
        }
        Ok(())
    }

    fn number(&mut self, id: ObjectId, changes: &mut Changes<'_>) -> Result<ObjectId, AnnotateError> {
        if let Some(new) = self.numbers.get(&id) {
            return Ok(*new);
        }
        let new = changes.reserve()?;
        self.numbers.insert(id, new);
        self.waiting.push(id);
        Ok(new)
    }

    fn object(&mut self, object: &Object, changes: &mut Changes<'_>) -> Result<Object, AnnotateError> {
        Ok(match object {
            Object::Reference(id) if self.closed.contains(id) && !self.numbers.contains_key(id) => Object::Null,
            Object::Reference(id) => Object::Reference(self.number(*id, changes)?),
            Object::Array(items) => {
                let items: Result<Vec<Object>, AnnotateError> =
                    items.iter().map(|item| self.object(item, changes)).collect();
                Object::Array(items?)
            }
            Object::Dictionary(dict) => Object::Dictionary(self.dict(dict, changes)?),
            Object::Stream(stream) => {
                let mut dict = self.dict(&stream.dict, changes)?;
                dict.set("Length", i64::try_from(stream.content.len()).map_err(|_| AnnotateError::Full)?);
                Object::Stream(Stream { dict, ..stream.clone() })
            }
            plain => plain.clone(),
        })
    }

    fn dict(&mut self, dict: &Dictionary, changes: &mut Changes<'_>) -> Result<Dictionary, AnnotateError> {
        let mut copied = Dictionary::new();
        for (key, value) in dict.iter().filter(|(key, _)| !LEFT_OUT.contains(&key.as_slice())) {
            copied.set(key.clone(), self.object(value, changes)?);
        }
        Ok(copied)
    }
}
