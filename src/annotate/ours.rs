//! Takes out again what rastrum wrote: its annotations, and the sheets that it appended.

use lopdf::{Dictionary, Document, Object, ObjectId};

use super::annotation::is_ours;
use super::changes::Changes;
use super::sheets::is_appended;
use super::tree::{Leaf, own};

/// Nodes above a page that are looked at.
const HIGHEST: usize = 256;

/// Changes pages and page tree so that nothing of rastrum is left on them; the pages that stay.
pub(super) fn take_out<'a>(changes: &mut Changes<'a>, leaves: &[Leaf<'a>]) -> Vec<Leaf<'a>> {
    let mut left = Vec::new();
    for leaf in leaves {
        if is_appended(leaf.dict) {
            take_page(changes, leaf);
            continue;
        }
        left.push(*leaf);
        let all = others(changes.document, leaf.dict, |_| true);
        let kept = others(changes.document, leaf.dict, |annotation| !is_ours(annotation));
        if kept.len() < all.len() {
            let mut page = leaf.dict.clone();
            set(&mut page, kept);
            changes.set(leaf.id, page);
        }
    }
    left
}

/// The annotations of a page that are `kept`, as its array has them; what cannot be read is.
pub(super) fn others(document: &Document, page: &Dictionary, kept: impl Fn(&Dictionary) -> bool) -> Vec<Object> {
    let annotations = match own(document, page, b"Annots") {
        Some(Object::Array(annotations)) => annotations.clone(),
        // Some programs leave the array out where there is one annotation.
        Some(Object::Dictionary(_)) => page.get(b"Annots").cloned().into_iter().collect(),
        _ => Vec::new(),
    };
    let mut annotations = annotations;
    annotations.retain(|object| {
        let dict = document.dereference(object).ok().and_then(|(_, object)| object.as_dict().ok());
        dict.is_none_or(&kept)
    });
    annotations
}

/// A page without annotations has no array of them.
pub(super) fn set(page: &mut Dictionary, annotations: Vec<Object>) {
    if annotations.is_empty() {
        page.remove(b"Annots");
    } else {
        page.set("Annots", annotations);
    }
}

/// Out of the page tree: out of its parent's kids, and counted no more.
fn take_page(changes: &mut Changes<'_>, leaf: &Leaf<'_>) {
    let mut gone = Some(leaf.id);
    let mut below = leaf.dict.clone();
    for _ in 0..HIGHEST {
        let Ok(parent) = below.get(b"Parent").and_then(Object::as_reference) else { return };
        let Some(mut node) = changes.dict(parent).cloned() else { return };
        if let Some(id) = gone {
            gone = without(changes, &mut node, id).then_some(parent);
        }
        if let Ok(count) = node.get_deref(b"Count", changes.document).and_then(Object::as_i64) {
            node.set("Count", count.saturating_sub(1).max(0));
        }
        changes.set(parent, node.clone());
        below = node;
    }
}

/// Whether the node is one of ours that has no pages left.
fn without(changes: &Changes<'_>, node: &mut Dictionary, id: ObjectId) -> bool {
    let mut kids = changes.array(node, b"Kids");
    kids.retain(|kid| kid.as_reference().ok() != Some(id));
    let is_empty = kids.is_empty();
    node.set("Kids", kids);
    is_empty && is_appended(node)
}
