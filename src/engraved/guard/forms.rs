//! Forms that draw each other: how much content a page comes to when each is drawn where it is called.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

/// Forms inside each other, as deep as they are followed; the library that interprets them stops sooner.
const DEEPEST: usize = 40;

pub(super) struct Forms<'d> {
    document: &'d Document,
    limit: u64,
    /// Bytes of each form of the page at hand, with all that it draws.
    counted: BTreeMap<ObjectId, u64>,
    /// Forms inside each other that are being counted, each with how many forms it draws.
    path: Vec<(ObjectId, u64)>,
}

impl<'d> Forms<'d> {
    pub fn new(document: &'d Document, limit: usize) -> Forms<'d> {
        // A page of one form in another takes every byte twice; orchestral pages have about 1 MB.
        let limit = (limit as u64).saturating_mul(4);
        Forms { document, limit, counted: BTreeMap::new(), path: Vec::new() }
    }

    /// Whether a page's content, forms and all, stays within the limit.
    pub fn may(&mut self, page: ObjectId) -> bool {
        let Ok(dict) = self.document.get_dictionary(page) else { return false };
        let Some(resources) = self.resources_of(dict) else { return true };
        if self.objects(resources).is_none() {
            return true;
        }
        // A form without resources of its own has those of its page.
        self.counted.clear();
        let content: Vec<u8> = self.document.get_page_content(page);
        let drawn = self.drawn(&content, resources);
        self.with_forms(content.len(), &drawn, resources) <= self.limit
    }

    /// A page's resources may stand in the tree above it.
    fn resources_of(&self, page: &'d Dictionary) -> Option<&'d Dictionary> {
        let mut dict = page;
        for _ in 0..DEEPEST {
            if let Some(own) = self.dictionary(dict.get(b"Resources").ok()) {
                return Some(own);
            }
            dict = self.dictionary(dict.get(b"Parent").ok())?;
        }
        None
    }

    fn dictionary(&self, object: Option<&'d Object>) -> Option<&'d Dictionary> {
        let (_, object) = self.document.dereference(object?).ok()?;
        object.as_dict().ok()
    }

    fn objects(&self, resources: &'d Dictionary) -> Option<&'d Dictionary> {
        self.dictionary(resources.get(b"XObject").ok())
    }

    /// Forms that a content draws, and how often.
    fn drawn(&self, content: &[u8], resources: &'d Dictionary) -> Vec<(ObjectId, u64)> {
        let Some(objects) = self.objects(resources) else { return Vec::new() };
        let form = |(name, times): (&[u8], u64)| {
            let id = objects.get(name).ok()?.as_reference().ok()?;
            self.form(id).map(|_| (id, times))
        };
        calls(content).into_iter().filter_map(form).collect()
    }

    fn with_forms(&mut self, own: usize, drawn: &[(ObjectId, u64)], page: &'d Dictionary) -> u64 {
        let add = |sum: u64, (id, times): &(ObjectId, u64)| {
            sum.saturating_add(self.of_form(*id, page).saturating_mul(*times))
        };
        drawn.iter().fold(own as u64, add)
    }

    fn of_form(&mut self, id: ObjectId, page: &'d Dictionary) -> u64 {
        if let Some(bytes) = self.counted.get(&id) {
            return *bytes;
        }
        let too_many = self.limit.saturating_add(1);
        if let Some(at) = self.path.iter().position(|(own, _)| *own == id) {
            // It draws itself. Once in a round, that ends where the library ends it; more often, never.
            let is_once = self.path.iter().skip(at).all(|(_, drawn)| *drawn <= 1);
            return if is_once { 0 } else { too_many };
        }
        let Some(stream) = self.form(id).filter(|_| self.path.len() <= DEEPEST) else { return too_many };
        let content = stream.get_plain_content().unwrap_or_default();
        let resources = self.dictionary(stream.dict.get(b"Resources").ok()).unwrap_or(page);
        let drawn = self.drawn(&content, resources);
        self.path.push((id, drawn.iter().map(|(_, times)| *times).fold(0, u64::saturating_add)));
        let bytes = self.with_forms(content.len(), &drawn, page).max(1);
        self.path.pop();
        self.counted.insert(id, bytes);
        bytes
    }

    fn form(&self, id: ObjectId) -> Option<&'d Stream> {
        let stream = self.document.get_object(id).and_then(Object::as_stream).ok()?;
        let is_form = stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|name| name == b"Form");
        is_form.then_some(stream)
    }
}

/// How often each name is drawn: "/Name Do".
fn calls(content: &[u8]) -> BTreeMap<&[u8], u64> {
    let mut calls: BTreeMap<&[u8], u64> = BTreeMap::new();
    let mut name: Option<&[u8]> = None;
    for token in content.split(|byte| byte.is_ascii_whitespace()).filter(|token| !token.is_empty()) {
        let parts = token.rsplit(|byte| *byte == b'/').next().filter(|_| token.contains(&b'/'));
        if token.ends_with(b"Do") || token == b"Do" {
            if let Some(own) = name.take() {
                *calls.entry(own).or_default() += 1;
            }
        } else {
            name = parts;
        }
    }
    calls
}
