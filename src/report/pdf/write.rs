//! Making the file: pages and fonts first, then what the page library does not know of (structure, bookmarks,
//! page labels, metadata) around them.

use lopdf::{Dictionary, Object, ObjectId, dictionary};

use super::document::{Document, PageId};
use super::error::PdfError;
use super::outline::Target;
use super::size::{Points, written};
use crate::units::Mm;

mod areas;
mod bookmarks;
mod fonts;
mod metadata;
mod pages;
mod tree;

pub(super) use pages::font_key;

/// Stands in the file as the program that made it.
const PROGRAM: &str = "rastrum";

/// # Errors
/// When there is no page, when a link or bookmark leads nowhere, when a built-in font is damaged.
pub(super) fn write(mut doc: Document) -> Result<Vec<u8>, PdfError> {
    if doc.pages.is_empty() {
        return Err(PdfError::NoPages);
    }
    let bytes = pages::bytes(&mut doc)?;
    let mut file = File::open(&doc, &bytes)?;
    let areas = areas::add(&mut file)?;
    let tree = tree::add(&mut file, &areas)?;
    let outlines = bookmarks::add(&mut file)?;
    let metadata = metadata::add(&mut file)?;
    fonts::correct(&mut file.pdf);

    let catalog = file.pdf.catalog_mut()?;
    catalog.set("Lang", lopdf::text_string(&doc.meta.language));
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
    catalog.set("Metadata", metadata);
    catalog.set("PageLabels", page_labels(&doc));
    catalog.set("PageLayout", "SinglePage");
    catalog.set("PageMode", if outlines.is_some() { "UseOutlines" } else { "UseNone" });
    catalog.set("StructTreeRoot", tree);
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    if let Some(outlines) = outlines {
        catalog.set("Outlines", outlines);
    }
    file.save()
}

/// The file while it is put together.
struct File<'d> {
    doc: &'d Document,
    pdf: lopdf::Document,
    /// The object of each page.
    pages: Vec<ObjectId>,
    /// One number for all that the pages show and the document says of itself.
    fingerprint: u128,
}

impl<'d> File<'d> {
    fn open(doc: &'d Document, bytes: &[u8]) -> Result<File<'d>, PdfError> {
        let mut pdf = lopdf::Document::load_mem(bytes)?;
        let pages: Vec<ObjectId> = pdf.page_iter().collect();
        let mut shown = vec![doc.meta.title.as_bytes().to_vec(), doc.meta.subject.as_bytes().to_vec()];
        for (index, page) in pages.iter().enumerate() {
            shown.push(pdf.get_page_content(*page));
            let entries = pdf.get_object_mut(*page)?.as_dict_mut()?;
            entries.remove(b"Annots");
            entries.set("Tabs", "S");
            entries.set("StructParents", number(index));
        }
        let fingerprint = fingerprint(&shown.iter().map(Vec::as_slice).collect::<Vec<_>>());
        Ok(File { doc, pdf, pages, fingerprint })
    }

    fn page(&self, page: PageId) -> Result<ObjectId, PdfError> {
        self.pages.get(page.0).copied().ok_or(PdfError::ForeignPage)
    }

    /// Where a target is, as an explicit destination that keeps the reader's magnification.
    fn destination(&self, target: &Target, from: &str) -> Result<Object, PdfError> {
        let (page, y) = match target {
            Target::Page(page, y) => (*page, *y),
            Target::Anchor(name) => *self
                .doc
                .anchors
                .get(name)
                .ok_or_else(|| PdfError::UnknownAnchor { name: name.clone(), from: from.to_owned() })?,
        };
        let height = self.doc.pages.get(page.0).ok_or(PdfError::ForeignPage)?.size.height;
        Ok(Object::Array(vec![
            self.page(page)?.into(),
            "XYZ".into(),
            Object::Null,
            length(height - y).into(),
            Object::Null,
        ]))
    }

    fn save(mut self) -> Result<Vec<u8>, PdfError> {
        let mark = Object::String(self.fingerprint.to_be_bytes().to_vec(), lopdf::StringFormat::Hexadecimal);
        self.pdf.trailer.set("ID", vec![mark.clone(), mark]);
        self.pdf.version = "1.7".to_owned();
        self.pdf.prune_objects();
        self.pdf.renumber_objects();
        self.pdf.compress();
        let mut bytes = Vec::new();
        self.pdf.save_modern(&mut bytes).map_err(|error| PdfError::Assembly(error.to_string()))?;
        Ok(bytes)
    }
}

/// A number from the parts, the same for the same parts on every machine (FNV-1a, 128 bits).
pub(super) fn fingerprint(parts: &[&[u8]]) -> u128 {
    const START: u128 = 0x6C62_272E_07BB_0142_62B8_2175_6295_C58D;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013B;
    let mix = |sum: u128, byte: u8| (sum ^ u128::from(byte)).wrapping_mul(PRIME);
    parts.iter().fold(START, |sum, part| mix(part.iter().copied().fold(sum, mix), 0))
}

/// Each page's own label, as a prefix without a counter.
fn page_labels(doc: &Document) -> Dictionary {
    let labels = doc
        .pages
        .iter()
        .enumerate()
        .flat_map(|(index, page)| [number(index), dictionary! { "P" => lopdf::text_string(&page.label) }.into()]);
    dictionary! { "Nums" => labels.collect::<Vec<Object>>() }
}

fn number(index: usize) -> Object {
    Object::Integer(i64::try_from(index).unwrap_or(i64::MAX))
}

fn length(mm: Mm) -> f32 {
    written(Points::from_mm(mm))
}

/// A box as PDF counts it on a page this high.
fn rectangle(area: crate::geometry::Rect, page_height: Mm) -> Vec<Object> {
    [area.left, page_height - area.bottom, area.right, page_height - area.top].map(|mm| length(mm).into()).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fingerprints_tell_parts_apart() {
        assert_eq!(fingerprint(&[b"ab", b"c"]), fingerprint(&[b"ab", b"c"]));
        assert_ne!(fingerprint(&[b"ab", b"c"]), fingerprint(&[b"a", b"bc"]));
    }
}
