//! Fonts that pages use and the file does not hold.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Document, Object, ObjectId};

/// Forms inside each other, as deep as they are followed.
const DEEPEST: usize = 12;

pub(super) struct Fonts<'d> {
    document: &'d Document,
    /// The name of each font that is missing; `None` of one that is there.
    told: BTreeMap<ObjectId, Option<String>>,
}

impl<'d> Fonts<'d> {
    pub fn new(document: &'d Document) -> Fonts<'d> {
        Fonts { document, told: BTreeMap::new() }
    }

    /// Names of the fonts that a page lists, itself or in its forms, and that the file does not hold.
    pub fn missing(&mut self, page: ObjectId) -> Vec<String> {
        let mut names = BTreeSet::new();
        let mut seen = BTreeSet::new();
        let (own, inherited) = self.document.get_page_resources(page).unwrap_or_default();
        let above = inherited.into_iter().filter_map(|id| self.document.get_dictionary(id).ok());
        for resources in own.into_iter().chain(above.take(DEEPEST)) {
            self.look(resources, 0, &mut seen, &mut names);
        }
        names.into_iter().collect()
    }

    fn look(
        &mut self,
        resources: &'d Dictionary,
        depth: usize,
        seen: &mut BTreeSet<ObjectId>,
        names: &mut BTreeSet<String>,
    ) {
        for (_, font) in self.entries(resources, b"Font") {
            let name = match font.as_reference() {
                Ok(id) => match self.told.get(&id) {
                    Some(told) => told.clone(),
                    None => {
                        let told = self.name_of_missing(font);
                        self.told.insert(id, told.clone());
                        told
                    }
                },
                Err(_) => self.name_of_missing(font),
            };
            names.extend(name);
        }
        for (_, form) in self.entries(resources, b"XObject") {
            let Ok(id) = form.as_reference() else { continue };
            if depth >= DEEPEST || !seen.insert(id) {
                continue;
            }
            let stream = self.document.get_object(id).and_then(Object::as_stream).ok();
            let inner = stream.and_then(|stream| self.dictionary(stream.dict.get(b"Resources").ok()?));
            if let Some(inner) = inner {
                self.look(inner, depth + 1, seen, names);
            }
        }
    }

    fn entries(&self, resources: &'d Dictionary, kind: &[u8]) -> Vec<(&'d Vec<u8>, &'d Object)> {
        let entries = resources.get(kind).ok().and_then(|object| self.dictionary(object));
        entries.map_or_else(Vec::new, |entries| entries.iter().collect())
    }

    fn dictionary(&self, object: &'d Object) -> Option<&'d Dictionary> {
        self.document.dereference(object).ok().and_then(|(_, object)| object.as_dict().ok())
    }

    /// Type 3 fonts are drawn by the file itself; a composite font is as its descendant is.
    fn name_of_missing(&self, font: &'d Object) -> Option<String> {
        let font = self.dictionary(font)?;
        let kind = font.get(b"Subtype").and_then(Object::as_name).unwrap_or_default();
        if kind == b"Type3" {
            return None;
        }
        let descendants = font.get(b"DescendantFonts").ok().and_then(|all| self.document.dereference(all).ok());
        let descendant = descendants.and_then(|(_, all)| self.dictionary(all.as_array().ok()?.first()?));
        let described = descendant.unwrap_or(font).get(b"FontDescriptor").ok();
        let descriptor = described.and_then(|own| self.dictionary(own));
        let holds = |key: &&[u8]| descriptor.is_some_and(|own| own.has(key));
        if [b"FontFile".as_slice(), b"FontFile2", b"FontFile3"].iter().any(holds) {
            return None;
        }
        let name = font.get(b"BaseFont").and_then(Object::as_name).unwrap_or(b"a font without name");
        Some(String::from_utf8_lossy(name).into_owned())
    }
}
