//! The look that all sheets of the report share.

use crate::geometry::Rect;
use crate::report::pdf::{Face, Grey, PageSize, Points, Stroke, TextStyle};
use crate::units::Mm;

/// Every sheet: A4, lying, so that two facing pages of a score fit side by side.
pub const SHEET: PageSize = PageSize { width: Mm(297.0), height: Mm(210.0) };

/// Free edge around a sheet; what stands in it stays clear of every office printer's border.
pub const MARGIN: Mm = Mm(12.0);

/// Where a sheet's contents may stand: between the margins, above the running foot.
#[must_use]
pub fn content() -> Rect {
    Rect::new(MARGIN, MARGIN, SHEET.width - MARGIN, SHEET.height - Mm(15.0))
}

pub const TITLE: TextStyle = TextStyle::new(Face::Bold, Points(20.0));
pub const VERDICT: TextStyle = TextStyle::new(Face::Bold, Points(13.0));
pub const HEADING: TextStyle = TextStyle::new(Face::Bold, Points(12.0));
pub const BODY: TextStyle = TextStyle::new(Face::Regular, Points(9.0));
pub const BODY_BOLD: TextStyle = TextStyle::new(Face::Bold, Points(9.0));
pub const SMALL: TextStyle = TextStyle::new(Face::Regular, Points(7.5));
pub const TINY: TextStyle = TextStyle::new(Face::Regular, Points(6.5));

/// The one grey of the report's lines and lesser words.
#[must_use]
pub fn quiet() -> Grey {
    Grey::new(0.42)
}

/// A line as thin as an office printer still draws evenly.
pub const HAIR: Stroke = Stroke::new(Mm(0.15));
pub const THIN: Stroke = Stroke::new(Mm(0.25));

/// A tempo as it is printed: "quarter = 96" with the note itself.
#[must_use]
pub fn tempo(words: &str) -> String {
    // The dotted ones first: each name also ends a longer one.
    const NOTES: [(&str, &str); 7] = [
        ("dotted half = ", "\u{1D15E}. = "),
        ("dotted quarter = ", "\u{1D15F}. = "),
        ("dotted eighth = ", "\u{1D160}. = "),
        ("whole = ", "\u{1D15D} = "),
        ("half = ", "\u{1D15E} = "),
        ("quarter = ", "\u{1D15F} = "),
        ("eighth = ", "\u{1D160} = "),
    ];
    let found = NOTES.iter().find_map(|(name, note)| Some(format!("{note}{}", words.strip_prefix(name)?)));
    found.unwrap_or_else(|| words.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_counted_tempo_shows_its_note_and_words_stay_words() {
        assert_eq!(tempo("quarter = 96"), "\u{1D15F} = 96");
        assert_eq!(tempo("dotted quarter = c. 60"), "\u{1D15F}. = c. 60");
        assert_eq!(tempo("Allegro, quarter = 96"), "Allegro, quarter = 96");
    }
}
