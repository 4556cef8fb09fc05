//! The structure tree, and the trees that lead from marks and names back to its elements.

use lopdf::{Dictionary, Object, ObjectId, dictionary};

use super::super::error::PdfError;
use super::super::structure::{Elem, Kid, Node};
use super::super::tag::Tag;
use super::areas::Areas;
use super::{File, number};

mod attributes;

/// Gives back the tree's root object.
pub(super) fn add(file: &mut File<'_>, areas: &Areas) -> Result<ObjectId, PdfError> {
    let objects = reserve(file);
    let root = file.pdf.new_object_id();
    for (elem, node) in file.doc.structure.elements() {
        let Some(object) = objects.of(elem) else { continue };
        let parent = node.parent.and_then(|parent| objects.of(parent)).unwrap_or(root);
        let entries = element(file, areas, &objects, elem, node, parent)?;
        file.pdf.objects.insert(object, entries.into());
    }
    let parents = parent_tree(file, areas, &objects);
    let mut entries = dictionary! {
        "Type" => "StructTreeRoot",
        "K" => objects.of(file.doc.root()).map_or(Object::Null, Object::Reference),
        "ParentTreeNextKey" => number(parents.len() / 2),
        "ParentTree" => file.pdf.add_object(dictionary! { "Nums" => parents }),
    };
    let names = names(file, &objects);
    if !names.is_empty() {
        entries.set("IDTree", file.pdf.add_object(dictionary! { "Names" => names }));
    }
    file.pdf.objects.insert(root, entries.into());
    Ok(root)
}

/// The object of each element that is written.
struct Objects {
    ids: Vec<Option<ObjectId>>,
    /// Elements that others refer to by name.
    named: Vec<Elem>,
}

impl Objects {
    fn of(&self, elem: Elem) -> Option<ObjectId> {
        self.ids.get(elem.0).copied().flatten()
    }

    fn name(&self, elem: Elem) -> Option<Object> {
        self.named.binary_search(&elem).ok().map(|_| Object::string_literal(format!("e{:08}", elem.0)))
    }
}

fn reserve(file: &mut File<'_>) -> Objects {
    let kept = file.doc.structure.kept();
    let ids: Vec<Option<ObjectId>> = kept.iter().map(|kept| kept.then(|| file.pdf.new_object_id())).collect();
    let mut named = Vec::new();
    for (elem, node) in file.doc.structure.elements() {
        match &node.tag {
            // Notes must have a name of their own (PDF/UA-1, 7.9).
            Some(Tag::Note) => named.push(elem),
            Some(Tag::Td { headers, .. }) => named.extend(headers),
            _ => {}
        }
    }
    named.retain(|elem| ids.get(elem.0).copied().flatten().is_some());
    named.sort_unstable();
    named.dedup();
    Objects { ids, named }
}

fn element(
    file: &File<'_>,
    areas: &Areas,
    objects: &Objects,
    elem: Elem,
    node: &Node,
    parent: ObjectId,
) -> Result<Dictionary, PdfError> {
    let home = node.kids.iter().find_map(|kid| match kid {
        Kid::Content(page, _) | Kid::Area(page, _) => Some(*page),
        Kid::Element(_) => None,
    });
    let mut kids = Vec::new();
    for kid in &node.kids {
        match *kid {
            Kid::Element(child) => kids.extend(objects.of(child).map(Object::Reference)),
            Kid::Content(page, index) if Some(page) == home => kids.push(number(index)),
            Kid::Content(page, index) => {
                kids.push(dictionary! { "Type" => "MCR", "Pg" => file.page(page)?, "MCID" => number(index) }.into())
            }
            Kid::Area(page, index) => {
                let area = areas.get(page.0, index).ok_or(PdfError::ForeignPage)?;
                kids.push(dictionary! { "Type" => "OBJR", "Pg" => file.page(page)?, "Obj" => area }.into());
            }
        }
    }
    let mut entries = dictionary! {
        "Type" => "StructElem",
        "S" => node.tag.as_ref().map_or("Document", Tag::name),
        "P" => parent,
    };
    match <[Object; 1]>::try_from(kids) {
        Ok([only]) => entries.set("K", only),
        Err(kids) if kids.is_empty() => {}
        Err(kids) => entries.set("K", kids),
    }
    if let Some(page) = home {
        entries.set("Pg", file.page(page)?);
    }
    if let Some(name) = objects.name(elem) {
        entries.set("ID", name);
    }
    if let Some(tag) = &node.tag {
        let page_height = home.and_then(|page| file.doc.pages.get(page.0)).map(|page| page.size.height);
        attributes::add(&mut entries, tag, page_height, objects);
    }
    Ok(entries)
}

/// Keys and values: for each page the elements of its marked content, then the element of each annotation.
fn parent_tree(file: &File<'_>, areas: &Areas, objects: &Objects) -> Vec<Object> {
    let reference = |elem: Elem| objects.of(elem).map_or(Object::Null, Object::Reference);
    let pages = file.doc.pages.iter().map(|page| Object::Array(page.contents.iter().copied().map(reference).collect()));
    pages.chain(areas.elements().map(reference)).enumerate().flat_map(|(key, value)| [number(key), value]).collect()
}

/// Names and elements in the names' order, which is that of the elements.
fn names(file: &File<'_>, objects: &Objects) -> Vec<Object> {
    let elements = file.doc.structure.elements();
    elements
        .filter_map(|(elem, _)| Some([objects.name(elem)?, Object::Reference(objects.of(elem)?)]))
        .flatten()
        .collect()
}
