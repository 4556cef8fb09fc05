//! A file as its text, with all that is needed to give it back unchanged in what is not edited.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8};

use super::error::{ReadError, ReadErrorKind};
use super::{Input, container, encoding, outline};
use crate::limits::Limits;

/// The text of one file and how its bytes hold it.
pub(crate) struct Opened<'a> {
    pub text: Cow<'a, str>,
    pub encoding: &'static Encoding,
    /// The byte-order mark before the text; empty when there is none.
    pub mark: &'static [u8],
    /// All bytes of the XML where its text is not simply these in UTF-8.
    pub bytes: Option<Cow<'a, [u8]>>,
    /// Name of the score inside a compressed file; `None` for plain XML.
    pub member: Option<String>,
}

impl<'a> Opened<'a> {
    /// Unpacks and decodes a file; does not look at its music.
    ///
    /// # Errors
    /// As for reading it.
    pub fn open(number: u16, input: Input<'a>, limits: &Limits) -> Result<Opened<'a>, ReadError> {
        let error = |kind, place: Option<(u32, u32)>| ReadError {
            input: number,
            file: input.name.to_owned(),
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
            kind,
        };
        let unpacked = container::unpack(input.bytes, limits).map_err(|kind| error(kind, None))?;
        let (encoding, mark) = encoding::encoding_of(&unpacked.xml).map_err(|wrong| error(wrong.kind, wrong.place))?;
        let bytes = (encoding != UTF_8).then(|| unpacked.xml.clone());
        let text = encoding::decode(unpacked.xml).map_err(|wrong| error(wrong.kind, wrong.place))?;
        if !text.trim_start().starts_with('<') {
            let is_outline = outline::is_outline(input.name, &text);
            let kind = if is_outline { ReadErrorKind::NoNotes } else { ReadErrorKind::NotXml };
            return Err(error(kind, None));
        }
        Ok(Opened { text, encoding, mark: mark_of(encoding, mark), bytes, member: unpacked.member })
    }
}

fn mark_of(encoding: &'static Encoding, length: usize) -> &'static [u8] {
    match (length, encoding.name()) {
        (0, _) => b"",
        (_, "UTF-16LE") => b"\xff\xfe",
        (_, "UTF-16BE") => b"\xfe\xff",
        _ => b"\xef\xbb\xbf",
    }
}
