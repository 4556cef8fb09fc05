//! What differs from the file as it was: objects put in its place, and new ones.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId};

use super::AnnotateError;

pub(super) struct Changes<'a> {
    pub document: &'a Document,
    /// By number.
    pub objects: BTreeMap<ObjectId, Object>,
    last: u32,
}

/// Object numbers beyond this are beyond what readers promise to take (ISO 32000-1, annex C).
const MOST_OBJECTS: u32 = 8_388_607;

impl<'a> Changes<'a> {
    pub fn new(document: &'a Document) -> Changes<'a> {
        // Numbers that the file gave up are not given out again.
        let size = document.trailer.get(b"Size").and_then(Object::as_i64).unwrap_or(0);
        let told = u32::try_from(size.saturating_sub(1)).unwrap_or(0).min(MOST_OBJECTS);
        // Nor are those of lost objects, lest what led to them leads to a note.
        let named = highest(document.objects.values());
        Changes { document, objects: BTreeMap::new(), last: document.max_id.max(told).max(named) }
    }

    /// The highest number of all.
    pub fn last(&self) -> u32 {
        self.last
    }

    pub fn add(&mut self, object: Object) -> Result<ObjectId, AnnotateError> {
        let id = self.reserve()?;
        self.objects.insert(id, object);
        Ok(id)
    }

    /// A number for an object that others have to name before it is there.
    pub fn reserve(&mut self) -> Result<ObjectId, AnnotateError> {
        if self.last >= MOST_OBJECTS {
            return Err(AnnotateError::Full);
        }
        self.last += 1;
        Ok((self.last, 0))
    }

    /// The dictionary as it stands by now.
    pub fn dict(&self, id: ObjectId) -> Option<&Dictionary> {
        let object = self.objects.get(&id).or_else(|| self.document.objects.get(&id));
        object.and_then(|object| object.as_dict().ok())
    }

    /// The array that an entry holds or leads to, as it stands in the file.
    pub fn array(&self, dict: &Dictionary, key: &[u8]) -> Vec<Object> {
        let array = dict.get_deref(key, self.document).and_then(Object::as_array);
        array.cloned().unwrap_or_default()
    }

    pub fn set(&mut self, id: ObjectId, dict: Dictionary) {
        self.objects.insert(id, dict.into());
    }
}

/// The highest number that a reference in these objects names.
fn highest<'a>(objects: impl Iterator<Item = &'a Object>) -> u32 {
    let mut highest = 0;
    let mut waiting: Vec<&Object> = objects.collect();
    while let Some(object) = waiting.pop() {
        match object {
            Object::Reference((number, _)) if *number <= MOST_OBJECTS => highest = highest.max(*number),
            Object::Array(items) => waiting.extend(items),
            Object::Dictionary(dict) => waiting.extend(dict.iter().map(|(_, value)| value)),
            Object::Stream(stream) => waiting.extend(stream.dict.iter().map(|(_, value)| value)),
            _ => {}
        }
    }
    highest
}
