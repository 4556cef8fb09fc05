//! The areas of the links, as annotations on their pages.

use lopdf::{Object, ObjectId, dictionary};

use super::super::error::PdfError;
use super::super::structure::Elem;
use super::{File, number, rectangle};

/// The annotations of each page, with the element each belongs to.
pub(super) struct Areas {
    by_page: Vec<Vec<(ObjectId, Elem)>>,
}

impl Areas {
    pub(super) fn get(&self, page: usize, index: usize) -> Option<ObjectId> {
        Some(self.by_page.get(page)?.get(index)?.0)
    }

    /// The elements in the order of the annotations' keys in the parent tree.
    pub(super) fn elements(&self) -> impl Iterator<Item = Elem> {
        self.by_page.iter().flatten().map(|(_, elem)| *elem)
    }
}

pub(super) fn add(file: &mut File<'_>) -> Result<Areas, PdfError> {
    // Keys of the parent tree: first one for each page, then one for each annotation.
    let mut key = file.pages.len();
    let mut by_page = Vec::new();
    for (page, page_id) in file.doc.pages.iter().zip(file.pages.clone()) {
        let mut areas = Vec::new();
        for link in &page.links {
            let destination = file.destination(&link.target, &link.says)?;
            let area = file.pdf.add_object(dictionary! {
                "Type" => "Annot",
                "Subtype" => "Link",
                "Rect" => rectangle(link.area, page.size.height),
                "Border" => vec![0.into(), 0.into(), 0.into()],
                "F" => 4, // printed
                "P" => page_id,
                "Dest" => destination,
                "Contents" => lopdf::text_string(&link.says),
                "StructParent" => number(key),
            });
            areas.push((area, link.elem));
            key += 1;
        }
        if !areas.is_empty() {
            let references: Vec<Object> = areas.iter().map(|(area, _)| Object::Reference(*area)).collect();
            file.pdf.get_object_mut(page_id)?.as_dict_mut()?.set("Annots", references);
        }
        by_page.push(areas);
    }
    Ok(Areas { by_page })
}
