//! Reading a written file: its objects, the marks of its pages, its structure elements.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};

pub(super) struct Pdf {
    pub(super) file: Document,
    pub(super) pages: Vec<ObjectId>,
}

/// A structure element with its children's objects.
pub(super) struct Elem {
    pub(super) id: ObjectId,
    pub(super) role: String,
    pub(super) entries: Dictionary,
    pub(super) kids: Vec<Object>,
}

impl Pdf {
    pub(super) fn read(bytes: &[u8]) -> Pdf {
        let file = Document::load_mem(bytes).unwrap();
        let pages = file.page_iter().collect();
        Pdf { file, pages }
    }

    pub(super) fn page(&self, index: usize) -> &Dictionary {
        self.file.get_dictionary(self.pages[index]).unwrap()
    }

    /// The dictionary itself or behind a reference.
    pub(super) fn dict<'a>(&'a self, object: &'a Object) -> &'a Dictionary {
        self.file.dereference(object).unwrap().1.as_dict().unwrap()
    }

    pub(super) fn array<'a>(&'a self, object: &'a Object) -> &'a [Object] {
        self.file.dereference(object).unwrap().1.as_array().unwrap()
    }

    pub(super) fn operations(&self, page: usize) -> Vec<Operation> {
        Content::decode_strict(&self.file.get_page_content(self.pages[page])).unwrap().operations
    }

    /// All operators of all pages.
    pub(super) fn all_operations(&self) -> Vec<Operation> {
        (0..self.pages.len()).flat_map(|page| self.operations(page)).collect()
    }

    pub(super) fn structure_root(&self) -> &Dictionary {
        self.dict(self.file.catalog().unwrap().get(b"StructTreeRoot").unwrap())
    }

    /// All structure elements in reading order, from the Document element on.
    pub(super) fn elements(&self) -> Vec<Elem> {
        let mut found = Vec::new();
        self.walk(self.structure_root().get(b"K").unwrap().as_reference().unwrap(), &mut found);
        found
    }

    fn walk(&self, id: ObjectId, found: &mut Vec<Elem>) {
        let entries = self.file.get_dictionary(id).unwrap().clone();
        let kids = match entries.get(b"K") {
            Ok(Object::Array(kids)) => kids.clone(),
            Ok(kid) => vec![kid.clone()],
            Err(_) => Vec::new(),
        };
        found.push(Elem { id, role: name(&entries, b"S"), entries, kids: kids.clone() });
        for kid in kids {
            if let Object::Reference(child) = kid {
                self.walk(child, found);
            }
        }
    }

    pub(super) fn count(&self, role: &str) -> usize {
        self.elements().iter().filter(|elem| elem.role == role).count()
    }

    /// A flat array of keys and values as pairs.
    pub(super) fn pairs<'a>(&'a self, tree: &'a Object, key: &[u8]) -> Vec<(&'a Object, &'a Object)> {
        let flat = self.array(self.dict(tree).get(key).unwrap());
        flat.chunks(2).map(|pair| (&pair[0], &pair[1])).collect()
    }
}

pub(super) fn name(entries: &Dictionary, key: &[u8]) -> String {
    String::from_utf8(entries.get(key).unwrap().as_name().unwrap().to_vec()).unwrap()
}

pub(super) fn string(entries: &Dictionary, key: &[u8]) -> String {
    lopdf::decode_text_string(entries.get(key).unwrap()).unwrap()
}

/// Whether an operator opens a marked-content sequence with this tag.
pub(super) fn is_tag(operation: &Operation, tag: &[u8]) -> bool {
    operation.operator == "BDC"
        && operation.operands.first().is_some_and(|name| name.as_name().is_ok_and(|name| name == tag))
}
