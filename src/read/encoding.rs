//! Text from bytes: UTF-8, UTF-16 in either order, or what the XML declaration names.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE};

use super::document::line_and_column;
use super::error::ReadErrorKind;

/// Why bytes are no text, with line and column when there is one place.
#[derive(Debug)]
pub(super) struct Undecodable {
    pub kind: ReadErrorKind,
    pub place: Option<(u32, u32)>,
}

impl From<ReadErrorKind> for Undecodable {
    fn from(kind: ReadErrorKind) -> Undecodable {
        Undecodable { kind, place: None }
    }
}

/// Decodes a whole file; UTF-8 is checked where it stands and not copied.
pub(super) fn decode(bytes: Cow<'_, [u8]>) -> Result<Cow<'_, str>, Undecodable> {
    let (encoding, mark) = encoding_of(&bytes)?;
    if encoding == UTF_8 {
        return utf_8(bytes, mark);
    }
    let body = bytes.get(mark..).unwrap_or_default();
    let (text, broken) = encoding.decode_without_bom_handling(body);
    if broken {
        return Err(ReadErrorKind::WrongEncoding { encoding: encoding.name().to_owned() }.into());
    }
    Ok(Cow::Owned(text.into_owned()))
}

/// The encoding and the length of the byte-order mark.
pub(super) fn encoding_of(bytes: &[u8]) -> Result<(&'static Encoding, usize), Undecodable> {
    if bytes.starts_with(b"\xff\xfe\0\0") || bytes.starts_with(b"\0\0\xfe\xff") || bytes.starts_with(b"<\0\0\0") {
        return Err(ReadErrorKind::UnknownEncoding { label: "UTF-32".to_owned() }.into());
    }
    if let Some((encoding, mark)) = Encoding::for_bom(bytes) {
        return Ok((encoding, mark));
    }
    if bytes.starts_with(b"<\0") {
        return Ok((UTF_16LE, 0));
    }
    if bytes.starts_with(b"\0<") {
        return Ok((UTF_16BE, 0));
    }
    let Some(label) = declared(bytes) else { return Ok((UTF_8, 0)) };
    match Encoding::for_label(label) {
        // The declaration itself was read byte by byte, so it cannot be UTF-16: converted without being rewritten.
        Some(encoding) if encoding == UTF_16LE || encoding == UTF_16BE => Ok((UTF_8, 0)),
        Some(encoding) => Ok((encoding, 0)),
        None => {
            let label = String::from_utf8_lossy(label).into_owned();
            Err(ReadErrorKind::UnknownEncoding { label }.into())
        }
    }
}

/// The label in `<?xml ... encoding="label"?>`.
fn declared(bytes: &[u8]) -> Option<&[u8]> {
    let rest = bytes.strip_prefix(b"<?xml")?;
    let end = rest.windows(2).take(400).position(|pair| pair == b"?>")?;
    let declaration = rest.get(..end)?;
    let at = declaration.windows(8).position(|word| word == b"encoding")?;
    let value = declaration.get(at + 8..)?.trim_ascii_start().strip_prefix(b"=")?.trim_ascii_start();
    let (quote, value) = value.split_first()?;
    let end = value.iter().position(|byte| byte == quote)?;
    value.get(..end)
}

fn utf_8(bytes: Cow<'_, [u8]>, mark: usize) -> Result<Cow<'_, str>, Undecodable> {
    match bytes {
        Cow::Borrowed(bytes) => {
            let bytes = bytes.get(mark..).unwrap_or_default();
            std::str::from_utf8(bytes).map(Cow::Borrowed).map_err(|error| not_utf_8(bytes, error.valid_up_to()))
        }
        Cow::Owned(mut bytes) => {
            bytes.drain(..mark);
            String::from_utf8(bytes)
                .map(Cow::Owned)
                .map_err(|error| not_utf_8(error.as_bytes(), error.utf8_error().valid_up_to()))
        }
    }
}

fn not_utf_8(bytes: &[u8], at: usize) -> Undecodable {
    let kind = ReadErrorKind::WrongEncoding { encoding: "UTF-8".to_owned() };
    Undecodable { kind, place: Some(line_and_column(bytes, at)) }
}
