//! Signatures, and what they let be done to a file (ISO 32000-1, 12.8).

use lopdf::{Dictionary, Document, Object};

use super::AnnotateError;
use super::tree::own;

/// `SigFlags`: the file holds at least one signature.
const EXIST: i64 = 1;
/// What a certificate allows at most: annotations, besides forms and signatures.
const ANNOTATIONS: i64 = 3;
/// What it allows where it does not say: forms and signatures.
const UNTOLD: i64 = 2;

/// Whether the file is signed.
///
/// # Errors
/// It is certified, which forbids to write notes onto it, or, if there are any, to append sheets.
pub(super) fn check(document: &Document, with_sheets: bool) -> Result<bool, AnnotateError> {
    match certified(document) {
        Some(allows) if allows < ANNOTATIONS => Err(AnnotateError::Certified),
        Some(_) if with_sheets => Err(AnnotateError::CertifiedPages),
        Some(_) => Ok(true),
        None => Ok(is_signed(document)),
    }
}

/// What the certificate allows, from 1 to 3; `None` without one.
fn certified(document: &Document) -> Option<i64> {
    let permissions = dict(document, document.catalog().ok()?, b"Perms")?;
    let certificate = own(document, permissions, b"DocMDP")?;
    Some(allows(document, certificate).unwrap_or(UNTOLD))
}

fn allows(document: &Document, certificate: &Object) -> Option<i64> {
    let references = own(document, certificate.as_dict().ok()?, b"Reference")?.as_array().ok()?;
    let methods = references.iter().filter_map(|object| document.dereference(object).ok()?.1.as_dict().ok());
    let allowed = methods.filter(|reference| name(document, reference, b"TransformMethod") == Some(b"DocMDP"));
    let allowed = allowed.map(|reference| {
        let parameters = dict(document, reference, b"TransformParams");
        parameters.and_then(|parameters| own(document, parameters, b"P")?.as_i64().ok()).unwrap_or(UNTOLD)
    });
    allowed.min()
}

fn is_signed(document: &Document) -> bool {
    let catalog = document.catalog().ok();
    let flags = catalog.and_then(|catalog| own(document, dict(document, catalog, b"AcroForm")?, b"SigFlags"));
    let is_flagged = flags.and_then(|flags| flags.as_i64().ok()).is_some_and(|flags| flags & EXIST != 0);
    is_flagged || document.objects.values().any(holds_signature)
}

/// A signature, or a field that holds one.
fn holds_signature(object: &Object) -> bool {
    let is_signature = |dict: &Dictionary| dict.has(b"ByteRange") && dict.has(b"Contents");
    let Ok(dict) = object.as_dict() else { return false };
    is_signature(dict) || dict.get(b"V").and_then(Object::as_dict).is_ok_and(is_signature)
}

fn dict<'a>(document: &'a Document, of: &'a Dictionary, key: &[u8]) -> Option<&'a Dictionary> {
    own(document, of, key)?.as_dict().ok()
}

fn name<'a>(document: &'a Document, of: &'a Dictionary, key: &[u8]) -> Option<&'a [u8]> {
    own(document, of, key)?.as_name().ok()
}
