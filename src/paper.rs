//! Papers that scores and parts are printed on, by name and by size.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::Serialize;

use crate::units::Mm;

/// A sheet of paper, upright: `width <= height`.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Paper {
    pub name: Cow<'static, str>,
    pub width: Mm,
    pub height: Mm,
    /// The standard that fixes the size, or "common practice".
    pub source: Cow<'static, str>,
}

/// A paper found by its size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    pub paper: &'static Paper,
    /// The page lies on its long side.
    pub landscape: bool,
}

/// Every paper known by name, the musicians' ones and the offices'.
pub static PAPERS: [Paper; 11] = [
    known("A3", 297.0, 420.0, ISO),
    known("A4", 210.0, 297.0, ISO),
    known("A5", 148.0, 210.0, ISO),
    known("B4", 250.0, 353.0, ISO),
    known("B5", 176.0, 250.0, ISO),
    known("JIS B4", 257.0, 364.0, "JIS P 0138"),
    known("8.5 x 11 in", 215.9, 279.4, INCHES),
    known("9 x 12 in", 228.6, 304.8, INCHES),
    known("9.5 x 12.5 in", 241.3, 317.5, INCHES),
    known("10 x 13 in", 254.0, 330.2, INCHES),
    known("11 x 17 in", 279.4, 431.8, INCHES),
];

/// Other words for some of [`PAPERS`], as [`plain`] writes them.
const OTHER_NAMES: [(&str, &str); 8] = [
    ("letter", "8.5x11"),
    ("usletter", "8.5x11"),
    ("tabloid", "11x17"),
    ("ledger", "11x17"),
    ("b4jis", "jisb4"),
    ("isob4", "b4"),
    ("isob5", "b5"),
    ("isoa4", "a4"),
];

const ISO: &str = "ISO 216";
const INCHES: &str = "inch size, common practice";

/// Pages larger than this on any side are no paper (posters are larger; scores are not).
const LARGEST_SIDE: Mm = Mm(2000.0);

impl Paper {
    /// A paper by its name, whatever the case and the spaces ("jis b4", "9×12", "Letter"), or by its size
    /// ("270 x 360 mm", "9.75 x 12.75 in"). A bare "B4" is the ISO size. `None` when it is neither.
    #[must_use]
    pub fn find(name: &str) -> Option<Paper> {
        let wanted = plain(name);
        let wanted = OTHER_NAMES.iter().find(|(other, _)| *other == wanted).map_or(wanted.as_str(), |(_, name)| name);
        PAPERS.iter().find(|paper| plain(&paper.name) == wanted).cloned().or_else(|| Paper::by_measure(name))
    }

    /// The paper of [`PAPERS`] that differs least from a page, either way round, and by no more than
    /// `tolerance` on either side.
    #[must_use]
    pub fn nearest(width: Mm, height: Mm, tolerance: Mm) -> Option<Nearest> {
        let landscape = width > height;
        let farthest = |paper: &Paper| paper.difference(width, height).rounded();
        let mut best: Option<(&'static Paper, Mm)> = None;
        for paper in &PAPERS {
            let off = farthest(paper);
            if off <= tolerance && best.is_none_or(|(_, least)| off < least) {
                best = Some((paper, off));
            }
        }
        best.map(|(paper, _)| Nearest { paper, landscape })
    }

    /// How far a page is from this paper, either way round: the larger of the two sides' differences.
    #[must_use]
    pub fn difference(&self, width: Mm, height: Mm) -> Mm {
        let (short, long) = (width.min(height), width.max(height));
        (short - self.width).abs().max((long - self.height).abs())
    }

    /// "270 x 360 mm" or "9.75 x 12.75 in", either way round.
    fn by_measure(text: &str) -> Option<Paper> {
        let text = text.trim().to_lowercase().replace('×', "x");
        let (numbers, unit) = if let Some(numbers) = text.strip_suffix("mm") {
            (numbers, Mm(1.0))
        } else {
            (text.strip_suffix("in")?, Mm::INCH)
        };
        let (one, other) = numbers.split_once('x')?;
        let side = |text: &str| -> Option<Mm> {
            let number: f64 = text.trim().parse().ok()?;
            let side = (unit * number).rounded();
            (side > Mm::ZERO && side <= LARGEST_SIDE).then_some(side)
        };
        let (one, other) = (side(one)?, side(other)?);
        let (width, height) = (one.min(other), one.max(other));
        let name = format!("{} x {} mm", width.0, height.0);
        Some(Paper { name: Cow::Owned(name), width, height, source: Cow::Borrowed("a size of one's own") })
    }
}

const fn known(name: &'static str, width: f64, height: f64, source: &'static str) -> Paper {
    Paper { name: Cow::Borrowed(name), width: Mm(width), height: Mm(height), source: Cow::Borrowed(source) }
}

/// A paper's name without case, spaces, quotes, brackets, and without the word for inches.
fn plain(name: &str) -> String {
    let name: String = name
        .to_lowercase()
        .chars()
        .map(|c| if c == '×' { 'x' } else { c })
        .filter(|c| !c.is_whitespace() && !"\"'()-_".contains(*c))
        .collect();
    let bare = name.trim_end_matches("inches").trim_end_matches("inch").trim_end_matches("in");
    if bare.ends_with(|c: char| c.is_ascii_digit()) { bare.to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(name: &str) -> Paper {
        Paper::find(name).unwrap_or_else(|| panic!("no paper {name}"))
    }

    fn sides(name: &str) -> (f64, f64) {
        (named(name).width.0, named(name).height.0)
    }

    /// ISO 216: A0 is one square metre, B0 the mean of A0 and twice A0, the sides as 1 to the square root of
    /// 2, every further size half of the last, rounded down to whole millimetres.
    fn iso(short_side_of_zero: f64, size: u32) -> (f64, f64) {
        let root = libm::sqrt(2.0);
        let (mut short, mut long) = (short_side_of_zero.round(), (short_side_of_zero * root).round());
        for _ in 0..size {
            (short, long) = ((long / 2.0).floor(), short);
        }
        (short, long)
    }

    #[test]
    fn the_a_series_is_one_square_metre_halved_as_iso_216_says() {
        let short_side_of_a0 = 1000.0 / libm::pow(2.0, 0.25);
        assert_eq!(sides("A3"), iso(short_side_of_a0, 3));
        assert_eq!(sides("A4"), iso(short_side_of_a0, 4));
        assert_eq!(sides("A5"), iso(short_side_of_a0, 5));
    }

    #[test]
    fn the_b_series_is_one_metre_wide_and_halved_as_iso_216_says() {
        assert_eq!(sides("B4"), iso(1000.0, 4));
        assert_eq!(sides("B5"), iso(1000.0, 5));
    }

    #[test]
    fn the_japanese_b_series_holds_half_as_much_again_as_the_a_series() {
        // JIS P 0138: JIS B0 is 1030 x 1456 mm, 1.5 square metres, halved and rounded down as in ISO 216.
        let (mut short, mut long) = (1030.0_f64, 1456.0_f64);
        assert!((short * long / 1.5e6 - 1.0).abs() < 0.001);
        for _ in 0..4 {
            (short, long) = ((long / 2.0).floor(), short);
        }
        assert_eq!(sides("JIS B4"), (short, long));
    }

    #[test]
    fn inch_papers_are_as_many_times_25_4_millimetres() {
        for (name, short, long) in
            [("letter", 8.5, 11.0), ("9x12", 9.0, 12.0), ("9.5x12.5", 9.5, 12.5), ("10x13", 10.0, 13.0)]
        {
            let (width, height) = ((Mm::INCH * short).rounded(), (Mm::INCH * long).rounded());
            assert_eq!((named(name).width, named(name).height), (width, height), "{name}");
        }
        assert_eq!(named("Tabloid"), named("11 x 17 in"));
    }

    #[test]
    fn a_paper_is_found_however_its_name_is_written() {
        for name in ["9x12", "9 × 12", "9\" x 12\"", "9 x 12 in", "9X12 inches"] {
            assert_eq!(named(name).name, "9 x 12 in", "{name}");
        }
        for name in ["jis b4", "JIS-B4", "B4 (JIS)"] {
            assert_eq!(named(name).name, "JIS B4", "{name}");
        }
        assert_eq!(named("b4").width, Mm(250.0));
    }

    #[test]
    fn a_size_of_ones_own_is_a_paper_too() {
        assert_eq!(sides("360 x 270 mm"), (270.0, 360.0));
        assert_eq!(named("9.75 x 12.75 in").width, Mm(247.65));
        for nonsense in ["", "x", "0 x 0 mm", "-1 x 5 mm", "nan x 3 mm", "1e9 x 1 in", "foolscap"] {
            assert_eq!(Paper::find(nonsense), None, "{nonsense}");
        }
    }

    #[test]
    fn a_page_is_matched_to_the_nearest_paper_either_way_round() {
        let tolerance = Mm(1.0);
        let upright = Paper::nearest(Mm(256.6), Mm(364.2), tolerance).map(|n| (n.paper.name.as_ref(), n.landscape));
        assert_eq!(upright, Some(("JIS B4", false)));
        let lying = Paper::nearest(Mm(420.0), Mm(297.0), tolerance).map(|n| (n.paper.name.as_ref(), n.landscape));
        assert_eq!(lying, Some(("A3", true)));
        assert_eq!(Paper::nearest(Mm(253.0), Mm(358.0), tolerance), None);
    }

    #[test]
    fn a_page_just_at_the_tolerance_still_matches() {
        assert!(Paper::nearest(Mm(211.0), Mm(297.0), Mm(1.0)).is_some());
        assert!(Paper::nearest(Mm(211.01), Mm(297.0), Mm(1.0)).is_none());
    }
}
