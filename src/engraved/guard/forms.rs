//! Forms that draw each other: how much content a page comes to when each is drawn where it is called.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

/// Forms inside each other, as deep as they are followed; the library that interprets them stops sooner.
const DEEPEST: usize = 40;

pub(super) struct Forms<'d> {
    document: &'d Document,
    limit: u64,
    /// Bytes of each form with all that it draws; `None` while it is being counted.
    counted: BTreeMap<ObjectId, Option<u64>>,
}

impl<'d> Forms<'d> {
    pub fn new(document: &'d Document, limit: usize) -> Forms<'d> {
        // A page of one form in another takes every byte twice; orchestral pages have about 1 MB.
        Forms { document, limit: (limit as u64).saturating_mul(4), counted: BTreeMap::new() }
    }

    /// Whether a page's content, forms and all, stays within the limit.
    pub fn may(&mut self, page: ObjectId) -> bool {
        let Ok(dict) = self.document.get_dictionary(page) else { return false };
        let Some(resources) = self.resources_of(dict) else { return true };
        if self.objects(resources).is_none() {
            return true;
        }
        let content: Vec<u8> = self.document.get_page_content(page);
        self.of_content(&content, resources, 0) <= self.limit
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

    fn of_content(&mut self, content: &[u8], resources: &'d Dictionary, depth: usize) -> u64 {
        let mut bytes = content.len() as u64;
        let Some(objects) = self.objects(resources) else { return bytes };
        for (name, times) in calls(content) {
            let Some(id) = objects.get(name).ok().and_then(|object| object.as_reference().ok()) else { continue };
            bytes = bytes.saturating_add(self.of_form(id, depth + 1).saturating_mul(times));
        }
        bytes
    }

    fn of_form(&mut self, id: ObjectId, depth: usize) -> u64 {
        match self.counted.get(&id) {
            Some(Some(bytes)) => return *bytes,
            // It draws itself: that ends where the library ends it, after as many rounds as it likes.
            Some(None) => return 0,
            None if depth > DEEPEST => return self.limit.saturating_add(1),
            None => {}
        }
        let Some(stream) = self.form(id) else { return 0 };
        self.counted.insert(id, None);
        let content = stream.get_plain_content().unwrap_or_default();
        let rounds = calls(&content).values().sum::<u64>();
        let bytes = match self.dictionary(stream.dict.get(b"Resources").ok()) {
            Some(resources) => self.of_content(&content, resources, depth),
            // Without resources of its own a form uses its page's; called often it might draw anything.
            None if rounds > 1 => self.limit.saturating_add(1),
            None => content.len() as u64,
        };
        let bytes = if rounds > 1 && self.draws_itself(id, id, 0) { self.limit.saturating_add(1) } else { bytes };
        self.counted.insert(id, Some(bytes.max(1)));
        bytes.max(1)
    }

    fn form(&self, id: ObjectId) -> Option<&'d Stream> {
        let stream = self.document.get_object(id).and_then(Object::as_stream).ok()?;
        let is_form = stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|name| name == b"Form");
        is_form.then_some(stream)
    }

    /// Whether a form is among the resources that it or its forms use.
    fn draws_itself(&self, form: ObjectId, among: ObjectId, depth: usize) -> bool {
        let own = self.form(among).and_then(|stream| self.dictionary(stream.dict.get(b"Resources").ok()));
        let Some(objects) = own.and_then(|resources| self.objects(resources)).filter(|_| depth < DEEPEST) else {
            return false;
        };
        let mut inside = objects.iter().filter_map(|(_, object)| object.as_reference().ok()).take(64);
        inside.any(|id| id == form || (self.counted.get(&id) == Some(&None) && id != among))
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
