//! The few fields of a TrueType file that the PDF library does not read: heights of letters, boxes of glyphs.
//!
//! Source: OpenType specification 1.9, tables `OS/2`, `head`, `loca`, `glyf`.

/// A glyph's box in font units, upwards from the baseline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bounds {
    pub(super) left: i16,
    pub(super) bottom: i16,
    pub(super) right: i16,
    pub(super) top: i16,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct LetterHeights {
    pub(super) x_height: i16,
    pub(super) cap_height: i16,
}

/// `None` when the file has no `OS/2` table of version 2 or later.
pub(super) fn letter_heights(font: &[u8]) -> Option<LetterHeights> {
    let os2 = table(font, b"OS/2")?;
    if u16_at(os2, 0)? < 2 {
        return None;
    }
    Some(LetterHeights { x_height: i16_at(os2, 86)?, cap_height: i16_at(os2, 88)? })
}

/// `None` when there is no such glyph or nothing is drawn for it.
pub(super) fn glyph_bounds(font: &[u8], glyph: u16) -> Option<Bounds> {
    let (loca, glyf) = (table(font, b"loca")?, table(font, b"glyf")?);
    let long_offsets = i16_at(table(font, b"head")?, 50)? != 0;
    let offset = |index: usize| {
        if long_offsets { u32_at(loca, index * 4) } else { Some(u32::from(u16_at(loca, index * 2)?) * 2) }
    };
    let (start, end) = (offset(usize::from(glyph))?, offset(usize::from(glyph) + 1)?);
    let outline = glyf.get(usize::try_from(start).ok()?..usize::try_from(end).ok()?)?;
    Some(Bounds {
        left: i16_at(outline, 2)?,
        bottom: i16_at(outline, 4)?,
        right: i16_at(outline, 6)?,
        top: i16_at(outline, 8)?,
    })
}

fn table<'f>(font: &'f [u8], tag: &[u8; 4]) -> Option<&'f [u8]> {
    let records = font.get(12..)?.chunks_exact(16).take(usize::from(u16_at(font, 4)?));
    let record = records.into_iter().find(|record| record.starts_with(tag))?;
    let start = usize::try_from(u32_at(record, 8)?).ok()?;
    font.get(start..start.checked_add(usize::try_from(u32_at(record, 12)?).ok()?)?)
}

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes(*bytes.get(at..)?.first_chunk()?))
}

fn i16_at(bytes: &[u8], at: usize) -> Option<i16> {
    Some(i16::from_be_bytes(*bytes.get(at..)?.first_chunk()?))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(*bytes.get(at..)?.first_chunk()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_damaged_file_has_no_heights_and_no_boxes() {
        let font = include_bytes!("../../../../fonts/NotoMusic-Regular.ttf");
        assert!(letter_heights(font).is_some());
        for length in [0, 4, 11, 40, 300, 2000] {
            assert_eq!(glyph_bounds(&font[..length], 5), None);
        }
        assert_eq!(letter_heights(b"no font at all"), None);
    }
}
