//! What a file may ask of the machine, looked at before its pages are interpreted: that is done without limits.

use lopdf::DecompressError::{MemoryLimitExceeded, TooManyFilters};
use lopdf::{Document, Error, LoadOptions, Object};

use super::EngravedError;
use crate::limits::Limits;

mod fonts;
mod forms;

/// What is known of a page before it is interpreted.
#[derive(Default)]
pub(super) struct Told {
    /// Its forms, drawn in each other, stay within the limits.
    pub may: bool,
    /// Names of fonts that the file does not hold.
    pub missing_fonts: Vec<String>,
}

/// One entry a page.
///
/// # Errors
/// The file cannot be read, asks for a password, or is larger than allowed once it is unpacked.
pub(super) fn check(bytes: &[u8], limits: &Limits) -> Result<Vec<Told>, EngravedError> {
    let limit = limits.page_content_bytes;
    let options = LoadOptions::with_max_decompressed_size(limit);
    let document = Document::load_mem_with_options(bytes, options).map_err(|_| EngravedError::NotPdf)?;
    let pages = document.get_pages();
    // A file that asks for a password is read as one without pages.
    if pages.is_empty() {
        return Err(if document.is_encrypted() { EngravedError::Password } else { EngravedError::NoPages });
    }
    if pages.len() > limits.pages {
        return Err(EngravedError::TooManyPages { limit: limits.pages });
    }
    for object in document.objects.values() {
        let Object::Stream(stream) = object else { continue };
        let is_picture = stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|name| name == b"Image");
        let is_small = stream.content.len() < limit / MOST_INFLATION;
        if is_picture || is_small {
            continue;
        }
        // Filters that it does not know are none that could inflate.
        let unpacked = stream.decompressed_content_with_limit(limit);
        if matches!(unpacked, Err(Error::Decompress(MemoryLimitExceeded { .. } | TooManyFilters { .. }))) {
            return Err(EngravedError::TooLarge { limit });
        }
    }
    let mut forms = forms::Forms::new(&document, limit);
    let mut fonts = fonts::Fonts::new(&document);
    Ok(pages.values().map(|page| Told { may: forms.may(*page), missing_fonts: fonts.missing(*page) }).collect())
}

/// Deflate makes no more of a byte (RFC 1951: 258 bytes from two bits at the least).
const MOST_INFLATION: usize = 1032;
