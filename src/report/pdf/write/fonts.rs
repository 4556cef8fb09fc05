//! What the page library says wrongly of a font: heights of letters, and whether it holds letters at all.

use lopdf::Object;

use super::super::fonts::{FontId, file};

/// Font flags (ISO 32000-1, table 123).
const SYMBOLIC: i64 = 1 << 2;
const NON_SYMBOLIC: i64 = 1 << 5;

pub(super) fn correct(pdf: &mut lopdf::Document) {
    for object in pdf.objects.values_mut() {
        let Object::Dictionary(descriptor) = object else { continue };
        let Ok(name) = descriptor.get(b"FontName").and_then(Object::as_name) else { continue };
        let Some(font) = FontId::ALL.into_iter().find(|font| name.ends_with(font.name().as_bytes())) else { continue };
        let flags = descriptor.get(b"Flags").and_then(Object::as_i64).unwrap_or(NON_SYMBOLIC);
        if matches!(font, FontId::Symbols | FontId::Music) {
            descriptor.set("Flags", flags & !NON_SYMBOLIC | SYMBOLIC);
        }
        descriptor.set("CapHeight", i64::from(file(font).vertical.cap_height));
        descriptor.set("XHeight", i64::from(file(font).vertical.x_height));
    }
}
