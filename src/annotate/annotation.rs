//! Annotations as a file holds them (ISO 32000-1, 12.5).

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Object, ObjectId, Stream, dictionary, text_string};

use super::appearance::{self, rounded};
use super::changes::Changes;
use super::place::Placed;
use super::shown::{Area, Shown};
use super::{AnnotateError, Note};

/// Who wrote them.
const AUTHOR: &str = "rastrum";
/// How the names of all of them begin.
const PREFIX: &str = "rastrum-";
/// Flag: shown on paper, too.
const PRINT: i64 = 1 << 2;

/// The annotation's own number.
pub(super) fn write(
    changes: &mut Changes<'_>,
    note: &Note,
    placed: &Placed,
    shown: &Shown,
    page: ObjectId,
    name: &str,
) -> Result<ObjectId, AnnotateError> {
    let whole = placed.whole();
    let area = shown.area(&whole);
    let appearance = dictionary! {
        "Type" => "XObject", "Subtype" => "Form", "FormType" => 1, "Resources" => Dictionary::new(),
        "BBox" => reals(&[0.0, 0.0, whole.width().0 * shown.per_mm, whole.height().0 * shown.per_mm]),
        "Matrix" => Object::Array(shown.matrix().map(Object::Integer).to_vec()),
    };
    let content = appearance::content(placed, note.number, note.heavy, shown.per_mm);
    let appearance = changes.add(Stream::new(appearance, content.into_bytes()).into())?;
    let line = placed.line.0 * shown.per_mm;
    let mut annotation = dictionary! {
        "Type" => "Annot", "Subtype" => "Square", "F" => PRINT, "P" => page,
        "Rect" => reals(&[area.left, area.bottom, area.right, area.top]),
        "T" => text_string(AUTHOR), "NM" => text_string(name),
        "Subj" => text_string(&note.title), "Contents" => text_string(&format!("{}\n{}", note.title, note.text)),
        "C" => reals(&[appearance::grey(note.heavy)]),
        "Border" => reals(&[0.0, 0.0, line]),
        "BS" => dictionary! { "Type" => "Border", "W" => real(line), "S" => "S" },
        "AP" => dictionary! { "N" => appearance },
    };
    // The square itself is smaller by as much as the number's box reaches over it; without an outline it is that box.
    if let Some(outline) = &placed.outline {
        let square = shown.area(&outline.grown(placed.line / 2.0));
        annotation.set("RD", reals(&differences(&area, &square)));
    }
    changes.add(annotation.into())
}

/// Whether rastrum wrote it.
pub(super) fn is_ours(annotation: &Dictionary) -> bool {
    let begins = |key: &[u8], with: &str| {
        annotation.get(key).and_then(Object::as_str).is_ok_and(|text| text.starts_with(with.as_bytes()))
    };
    // Another program may have written the same text in the other encoding.
    let wide = |key: &[u8], with: &str| {
        let text = annotation.get(key).and_then(lopdf::decode_text_string);
        text.is_ok_and(|text| text.starts_with(with))
    };
    (begins(b"NM", PREFIX) || wide(b"NM", PREFIX)) && (begins(b"T", AUTHOR) || wide(b"T", AUTHOR))
}

/// Names that tell the places of one finding apart.
#[derive(Default)]
pub(super) struct Names {
    used: BTreeSet<String>,
    times: BTreeMap<String, usize>,
}

impl Names {
    /// "rastrum-key", then "rastrum-key-2".
    pub fn next(&mut self, key: &str) -> String {
        let times = self.times.entry(key.to_owned()).or_insert(0);
        loop {
            *times = times.saturating_add(1);
            let name = if *times == 1 { format!("{PREFIX}{key}") } else { format!("{PREFIX}{key}-{times}") };
            if self.used.insert(name.clone()) {
                return name;
            }
        }
    }
}

/// Left, top, right, bottom: how far the outer box reaches over the inner one.
fn differences(outer: &Area, inner: &Area) -> [f64; 4] {
    [inner.left - outer.left, outer.top - inner.top, outer.right - inner.right, inner.bottom - outer.bottom]
        .map(|difference| difference.max(0.0))
}

fn reals(values: &[f64]) -> Object {
    Object::Array(values.iter().map(|value| real(*value)).collect())
}

fn real(value: f64) -> Object {
    Object::Real(rounded(value) as f32)
}
