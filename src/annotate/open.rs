//! Reads a file, within its limits.

use lopdf::xref::XrefEntry;
use lopdf::{Document, LoadOptions};

use super::write;
use super::{AnnotateError, Loss};
use crate::limits::Limits;

/// How the header begins; readers count from there.
const HEADER: &[u8] = b"%PDF-";

/// A file that opens without a password.
pub(super) struct Opened<'a> {
    /// What was there before rastrum's own update, if there was one.
    pub bytes: &'a [u8],
    pub document: Document,
    /// Bytes before its header.
    pub base: usize,
}

impl<'a> Opened<'a> {
    /// # Errors
    /// The file cannot be read, asks for a password, or is larger than allowed once it is unpacked.
    pub fn read(bytes: &'a [u8], limits: &Limits) -> Result<Opened<'a>, AnnotateError> {
        let bytes = write::before(bytes).and_then(|length| bytes.get(..length)).unwrap_or(bytes);
        let options = LoadOptions::with_max_decompressed_size(limits.page_content_bytes);
        let document = Document::load_mem_with_options(bytes, options).map_err(|_| AnnotateError::NotPdf)?;
        // A file that asks for a password is read as one without objects.
        if document.is_encrypted() || document.trailer.has(b"Encrypt") {
            return Err(AnnotateError::Password);
        }
        let base = bytes.windows(HEADER.len()).position(|window| window == HEADER).unwrap_or(0);
        Ok(Opened { bytes, document, base })
    }

    /// Whether an update can follow the bytes: their own table was read as it stands, and is not locked, since the
    /// newer locks take a random number for each object and would give other bytes each time.
    pub fn takes_update(&self) -> bool {
        let document = &self.document;
        document.xref_recovery.is_none() && self.table_begins() && !document.was_encrypted()
    }

    /// Whether the last table begins where it was read: a place in the middle of its first number is read, too.
    fn table_begins(&self) -> bool {
        let start = self.document.xref_start.checked_add(self.base).unwrap_or(0);
        let before = start.checked_sub(1).and_then(|before| self.bytes.get(before));
        let first = self.bytes.get(start);
        self.document.xref_start > 0
            && before.is_some_and(|byte| !byte.is_ascii_alphanumeric())
            && first.is_some_and(|byte| *byte == b'x' || byte.is_ascii_digit())
    }

    /// What is lost when it is written anew.
    pub fn losses(&self, is_signed: bool) -> Vec<Loss> {
        let objects = &self.document.objects;
        let encryption = self.document.encryption_state.as_ref();
        let key = encryption.and_then(|state| state.encrypt_object_id()).map(|(number, _)| number);
        let listed = self.document.reference_table.entries.iter().filter(|(number, entry)| {
            let is_there = match entry {
                XrefEntry::Normal { offset, .. } => *offset > 0,
                XrefEntry::Compressed { .. } => true,
                _ => false,
            };
            is_there && Some(**number) != key
        });
        let count =
            listed.filter(|(number, _)| objects.range((**number, 0)..=(**number, u16::MAX)).next().is_none()).count();
        let losses = [
            (is_signed, Loss::Signature),
            (encryption.is_some(), Loss::Encryption),
            (count > 0, Loss::Objects { count }),
        ];
        losses.into_iter().filter(|(is_lost, _)| *is_lost).map(|(_, loss)| loss).collect()
    }
}
