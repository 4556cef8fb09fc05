//! Widths of text: the advance widths of the report's text font, `fonts/NotoSans-Regular.ttf`.
//!
//! The widths are written out here, since measuring music needs no font file; the test holds them against the font.
//! Other text faces are narrower or wider by some tenths; what is set in them is fitted through the size.

use crate::units::Spaces;

/// Width of a line of text whose type is `size` high (the em). Letters beyond Latin are taken as an average one,
/// those of East Asian scripts as square, combining marks as nothing.
#[must_use]
pub fn text_width(text: &str, size: Spaces) -> Spaces {
    let thousandths: u32 = text.chars().map(|letter| u32::from(advance(letter))).sum();
    size * (f64::from(thousandths) / 1000.0)
}

/// In thousandths of the em.
fn advance(letter: char) -> u16 {
    let code = letter as u32;
    let of = |widths: &[u16], first: u32| widths.get(code.checked_sub(first)? as usize).copied();
    match code {
        0x0300..=0x036F => 0,
        0x1100.. if is_square(code) => 1000,
        _ => of(&BASIC, 0x20).or_else(|| of(&LATIN, 0xA0)).unwrap_or(AVERAGE),
    }
}

/// Hangul, kana, ideographs (Unicode blocks).
fn is_square(code: u32) -> bool {
    matches!(code, 0x1100..=0x11FF | 0x2E80..=0x9FFF | 0xAC00..=0xD7FF | 0xF900..=0xFAFF | 0xFF00..=0xFF60)
}

/// Of the lower-case letters of running text.
const AVERAGE: u16 = 572;

/// From U+0020 on.
const BASIC: [u16; 95] = [
    260, 269, 408, 646, 572, 831, 732, 225, 300, 300, 551, 572, 268, 322, 268, 372, 572, 572, 572, 572, 572, 572, 572,
    572, 572, 572, 268, 268, 572, 572, 572, 434, 899, 639, 650, 632, 730, 556, 519, 728, 741, 339, 273, 619, 524, 907,
    760, 781, 605, 781, 622, 549, 556, 731, 600, 930, 586, 566, 572, 329, 372, 329, 572, 444, 281, 561, 615, 480, 615,
    564, 344, 615, 618, 258, 258, 534, 258, 935, 618, 605, 615, 615, 413, 479, 361, 618, 508, 786, 529, 510, 470, 380,
    551, 380, 572,
];

/// From U+00A0 on.
const LATIN: [u16; 224] = [
    260, 269, 572, 572, 572, 572, 551, 513, 580, 832, 357, 509, 572, 322, 832, 500, 428, 572, 350, 350, 281, 623, 655,
    268, 225, 350, 376, 509, 745, 771, 781, 434, 639, 639, 639, 639, 639, 639, 881, 632, 556, 556, 556, 556, 339, 339,
    339, 339, 730, 760, 781, 781, 781, 781, 781, 572, 781, 731, 731, 731, 731, 566, 605, 631, 561, 561, 561, 561, 561,
    561, 864, 480, 564, 564, 564, 564, 258, 258, 258, 258, 605, 618, 605, 605, 605, 605, 605, 572, 605, 618, 618, 618,
    618, 510, 615, 510, 639, 561, 639, 561, 639, 561, 632, 480, 632, 480, 632, 480, 632, 480, 730, 615, 730, 617, 556,
    564, 556, 564, 556, 564, 556, 564, 556, 564, 728, 615, 728, 615, 728, 615, 728, 615, 741, 618, 741, 618, 339, 258,
    339, 258, 339, 258, 339, 258, 339, 258, 612, 516, 273, 258, 619, 534, 534, 524, 258, 524, 258, 524, 258, 524, 268,
    524, 258, 760, 618, 760, 618, 760, 618, 688, 760, 618, 781, 605, 781, 605, 781, 605, 928, 946, 622, 413, 622, 413,
    622, 413, 549, 479, 549, 479, 549, 479, 549, 479, 556, 361, 556, 361, 556, 361, 731, 618, 731, 618, 731, 618, 731,
    618, 731, 618, 731, 618, 930, 786, 566, 510, 566, 572, 470, 572, 470, 572, 470, 326,
];

#[cfg(test)]
mod tests {
    use super::*;

    const FONT: &[u8] = include_bytes!("../../fonts/NotoSans-Regular.ttf");

    #[test]
    fn the_widths_are_those_of_the_font() {
        let font = Font::open();
        assert_eq!(font.units_per_em, 1000);
        let letters = (0x20..0x7F).chain(0xA0..0x180).filter_map(char::from_u32);
        let wrong: Vec<char> = letters.filter(|letter| advance(*letter) != font.advance(*letter as u16)).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }

    /// k 534, y 510, r 413, i 258 and e 564 thousandths: 2.279 em.
    #[test]
    fn a_syllable_is_the_sum_of_its_letters() {
        let width = text_width("kyrie", Spaces(2.0));
        assert!((width.0 - 4.558).abs() < 1e-9, "{width}");
        assert_eq!(text_width("", Spaces(2.0)), Spaces::ZERO);
    }

    #[test]
    fn an_accent_that_stands_by_itself_takes_no_room() {
        assert_eq!(text_width("e\u{301}", Spaces(1.0)), text_width("\u{e9}", Spaces(1.0)));
        assert_eq!(text_width("\u{4e2d}", Spaces(1.0)), Spaces(1.0));
    }

    /// The tables `head`, `hhea`, `hmtx` and `cmap` (format 4) of OpenType specification 1.9.
    struct Font {
        units_per_em: u16,
        long_metrics: u16,
        widths: usize,
        letters: usize,
    }

    impl Font {
        fn open() -> Font {
            let cmap = table(b"cmap");
            let records = (0..usize::from(u16_at(cmap + 2))).map(|at| cmap + 4 + 8 * at);
            let mut subtables = records.map(|record| cmap + u32_at(record + 4));
            Font {
                units_per_em: u16_at(table(b"head") + 18),
                long_metrics: u16_at(table(b"hhea") + 34),
                widths: table(b"hmtx"),
                letters: subtables.find(|at| u16_at(*at) == 4).unwrap(),
            }
        }

        fn advance(&self, code: u16) -> u16 {
            u16_at(self.widths + 4 * usize::from(self.glyph(code).min(self.long_metrics - 1)))
        }

        fn glyph(&self, code: u16) -> u16 {
            let doubled = usize::from(u16_at(self.letters + 6));
            let (ends, starts) = (self.letters + 14, self.letters + 16 + doubled);
            let segment = (0..doubled).step_by(2).find(|at| u16_at(ends + at) >= code).unwrap();
            let start = u16_at(starts + segment);
            if start > code {
                return 0;
            }
            let delta = u16_at(starts + doubled + segment);
            let offset_at = starts + 2 * doubled + segment;
            match usize::from(u16_at(offset_at)) {
                0 => code.wrapping_add(delta),
                offset => u16_at(offset_at + offset + 2 * usize::from(code - start)).wrapping_add(delta),
            }
        }
    }

    fn table(tag: &[u8; 4]) -> usize {
        let mut records = FONT[12..].chunks_exact(16);
        u32_of(&records.find(|record| record.starts_with(tag)).unwrap()[8..])
    }

    fn u16_at(at: usize) -> u16 {
        u16::from_be_bytes([FONT[at], FONT[at + 1]])
    }

    fn u32_at(at: usize) -> usize {
        u32_of(&FONT[at..])
    }

    fn u32_of(bytes: &[u8]) -> usize {
        u32::from_be_bytes([bytes[0], bytes[1], bytes[2], bytes[3]]) as usize
    }
}
