//! Text back to the bytes of its own encoding.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE};

use crate::read::Opened;

/// The bytes of `text`, written as the opened file was; `None` when that file's own text would not come back as it is.
pub(super) fn encode(opened: &Opened<'_>, text: &str) -> Option<Vec<u8>> {
    // Some encodings have several ways to write a letter. Where the old text comes back as it was, so does the new one,
    // which adds nothing but ASCII.
    if let Some(old) = &opened.bytes
        && old.strip_prefix(opened.mark) != bytes(opened.encoding, &opened.text).as_deref()
    {
        return None;
    }
    let body = bytes(opened.encoding, text)?;
    Some([opened.mark, &body].concat())
}

fn bytes<'a>(encoding: &'static Encoding, text: &'a str) -> Option<Cow<'a, [u8]>> {
    if encoding == UTF_8 {
        return Some(Cow::Borrowed(text.as_bytes()));
    }
    let order: fn(u16) -> [u8; 2] = match encoding {
        wide if wide == UTF_16LE => u16::to_le_bytes,
        wide if wide == UTF_16BE => u16::to_be_bytes,
        narrow => {
            let (bytes, _, lost) = narrow.encode(text);
            return (!lost).then_some(bytes);
        }
    };
    Some(Cow::Owned(text.encode_utf16().flat_map(order).collect()))
}
