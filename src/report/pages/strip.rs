//! All pages of the score as a strip of openings: how full each page is, how many systems it has, where findings
//! are, and what music stands there.

use std::collections::BTreeMap;

use super::greys::{self, Quarters};
use super::{mark, style};
use crate::geometry::Rect;
use crate::layout::{Layout, Page};
use crate::place::PageIdx;
use crate::report::pdf::{
    Align, Canvas, Elem, Face, Grey, Ink, Paint, Points, Tag, TextStyle, at, shortened, text_width,
};
use crate::rules::{Finding, Weight};
use crate::score::Score;
use crate::survey::{Landmark, Opening, Survey};
use crate::units::{Mm, Seconds};
use crate::words;

/// Openings in one row; more make the words beneath unreadable.
const MOST_IN_A_ROW: usize = 16;
/// Rows, however many openings there are.
const MOST_ROWS: usize = 4;
/// White between two openings.
const BETWEEN: Mm = Mm(1.6);
/// Room for page numbers, letters, tempo words and time beneath a row.
const CAPTION: Mm = Mm(12.5);
/// Room for the marks above a row.
const MARKS: Mm = Mm(4.0);

/// What the strip shows.
#[derive(Clone, Copy, Debug)]
pub struct Strip<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    pub survey: &'a Survey,
    pub findings: &'a [Finding],
}

/// What is shown of each page beside its outline.
struct Looks {
    marks: BTreeMap<PageIdx, Vec<Weight>>,
    /// One a page.
    tints: Vec<Paint>,
}

impl Strip<'_> {
    /// Draws the strip into `area` as one figure below `parent`.
    pub fn draw(&self, canvas: &mut Canvas<'_>, parent: Elem, area: Rect) {
        let figure = canvas.element(parent, Tag::Figure { alt: self.in_words(), area });
        let looks = Looks { marks: self.marks(), tints: self.tints() };
        canvas.tagged(figure, |ink| {
            for (opening, slot) in self.survey.openings.iter().zip(self.slots(area)) {
                self.draw_opening(ink, opening, slot, &looks);
            }
        });
    }

    /// One box an opening, rows from the top.
    fn slots(&self, area: Rect) -> Vec<Rect> {
        let count = self.survey.openings.len().max(1);
        let rows = self.rows(area);
        let columns = count.div_ceil(rows).max(6);
        let (width, height) = (area.width() / columns as f64, area.height() / rows as f64);
        (0..count)
            .map(|at| {
                let left = area.left + width * (at % columns) as f64;
                let top = area.top + height * (at / columns) as f64;
                Rect::new(left, top, left + width, top + height)
            })
            .collect()
    }

    /// As many rows as let the pages be drawn largest.
    fn rows(&self, area: Rect) -> usize {
        let count = self.survey.openings.len().max(1);
        let fewest = count.div_ceil(MOST_IN_A_ROW).clamp(1, MOST_ROWS);
        let scale = |rows: usize| {
            let columns = count.div_ceil(rows).max(6);
            self.scale(area.width() / columns as f64, area.height() / rows as f64)
        };
        (fewest..=MOST_ROWS).reduce(|best, rows| if scale(rows) > scale(best) { rows } else { best }).unwrap_or(fewest)
    }

    /// How large the largest page is drawn in a slot of this size.
    fn scale(&self, width: Mm, height: Mm) -> f64 {
        let (widest, highest) = largest(self.layout);
        let room = (width - BETWEEN, height - MARKS - CAPTION);
        (room.0 / (widest * 2.0)).min(room.1 / highest).max(0.0)
    }

    /// How high the strip should be, at most `most`, for pages as large as its width allows in the fewest rows.
    #[must_use]
    pub fn height(&self, width: Mm, most: Mm) -> Mm {
        let count = self.survey.openings.len().max(1);
        let (widest, highest) = largest(self.layout);
        let needed = |rows: usize| {
            let columns = count.div_ceil(rows).max(6);
            let page = (width / columns as f64 - BETWEEN) / (widest * 2.0) * highest.0;
            (Mm(page) + MARKS + CAPTION) * rows as f64
        };
        let fewest = count.div_ceil(MOST_IN_A_ROW).clamp(1, MOST_ROWS);
        (fewest..=MOST_ROWS).map(needed).take_while(|height| *height <= most).fold(needed(fewest).min(most), Mm::max)
    }

    fn draw_opening(&self, ink: &mut Ink<'_>, opening: &Opening, slot: Rect, looks: &Looks) {
        let pages: Vec<(PageIdx, &Page)> =
            opening.pages.iter().filter_map(|&at| Some((at, self.layout.pages.get(at.at())?))).collect();
        let scale = self.scale(slot.width(), slot.height());
        let middle = slot.left + slot.width() / 2.0;
        let top = slot.top + MARKS;
        for &(index, page) in &pages {
            let (width, height) = (page.size.value.0 * scale, page.size.value.1 * scale);
            let left = if page.is_recto() { middle } else { middle - width };
            let paper = Rect::new(left, top, left + width, top + height);
            ink.rect(paper, &Paint::both(Grey::WHITE, style::HAIR));
            if let Some(tint) = looks.tints.get(index.at()) {
                // What a page cannot hold ends at its edge, here as on paper.
                ink.clipped(paper, |ink| draw_systems(ink, page, paper, scale, tint));
            }
            draw_marks(ink, looks.marks.get(&index).map_or(&[], Vec::as_slice), paper);
            let number = TextStyle::new(Face::Regular, Points(6.0));
            ink.text(at(left + width / 2.0, paper.bottom + Mm(2.6)), Align::Centre, &number, &page.label);
        }
        self.draw_caption(ink, opening, Rect { top: top + largest(self.layout).1 * scale + Mm(2.8), ..slot });
    }

    /// Letters and tempo words that begin on the opening, and the time at which it begins.
    fn draw_caption(&self, ink: &mut Ink<'_>, opening: &Opening, below: Rect) {
        let Some(bars) = opening.bars else { return };
        let middle = below.left + below.width() / 2.0;
        let here: Vec<&Landmark> =
            self.survey.timeline.landmarks.iter().filter(|mark| bars.contains(mark.bar)).collect();
        let letters: Vec<&str> = here.iter().filter_map(|mark| mark.rehearsal.as_deref()).collect();
        let bold = TextStyle::new(Face::Bold, Points(6.5));
        ink.text(at(middle, below.top + Mm(2.6)), Align::Centre, &bold, &fitted(&bold, &letters, below.width()));
        let tempos: Vec<String> = here.iter().filter_map(|mark| mark.tempo.as_deref().map(style::tempo)).collect();
        let italic = TextStyle::new(Face::Italic, Points(5.5));
        ink.text(at(middle, below.top + Mm(5.1)), Align::Centre, &italic, &fitted(&italic, &tempos, below.width()));
        if let Some(starts) = self.starts(opening) {
            let small = TextStyle::new(Face::Regular, Points(5.5)).in_grey(style::quiet());
            ink.text(at(middle, below.top + Mm(7.5)), Align::Centre, &small, &starts.clock());
        }
    }

    fn starts(&self, opening: &Opening) -> Option<Seconds> {
        let first = opening.bars?.first;
        let before = self.score.bars.get(..first.at())?;
        before.iter().map(|bar| bar.seconds).sum()
    }

    /// The grey that the middle one of a page's sounding bars has on the maps.
    fn tints(&self) -> Vec<Paint> {
        let quarters = Quarters::of(&self.survey.density);
        let tint =
            |typical: Option<f32>| typical.map_or_else(greys::silent, |typical| greys::tint(quarters.class(typical)));
        self.survey.pages.iter().map(|page| tint(page.typical)).collect()
    }

    /// The heaviest finding first; whole-work findings stand on no page.
    fn marks(&self) -> BTreeMap<PageIdx, Vec<Weight>> {
        let mut marks: BTreeMap<PageIdx, Vec<Weight>> = BTreeMap::new();
        for finding in self.findings {
            let mut pages: Vec<PageIdx> = finding.places.iter().filter_map(|place| place.page).collect();
            pages.dedup();
            for page in pages {
                marks.entry(page).or_default().push(finding.weight);
            }
        }
        marks.values_mut().for_each(|weights| weights.sort());
        marks
    }

    fn in_words(&self) -> String {
        let pages = self.layout.pages.len();
        let marks = self.marks();
        let split = self.layout.pages.iter().filter(|page| page.systems.len() > 1).count();
        let labels: Vec<&str> = marks
            .iter()
            .filter(|(_, weights)| weights.iter().any(|weight| *weight != Weight::Look))
            .filter_map(|(page, _)| self.layout.pages.get(page.at()))
            .map(|page| page.label.as_str())
            .collect();
        // Rows of numbers are nothing to be read out.
        let to_mend = match labels.as_slice() {
            [] => "none has anything to mend".to_owned(),
            [one] => format!("something is to be mended on page {one}"),
            [first, ..] => format!(
                "something is to be mended on {} of them, the first of these is page {first}",
                words::in_words(labels.len())
            ),
        };
        format!("All {pages} pages as facing pairs; {split} hold two systems or more; {to_mend}.")
    }
}

/// Width and height that hold every page; never 0.
fn largest(layout: &Layout) -> (Mm, Mm) {
    let sizes = layout.pages.iter().map(|page| page.size.value);
    sizes.fold((Mm(1.0), Mm(1.0)), |all, size| (all.0.max(size.0), all.1.max(size.1)))
}

/// Tiny marks over a page, the heaviest first; beyond three a plus sign.
fn draw_marks(ink: &mut Ink<'_>, weights: &[Weight], paper: Rect) {
    const SIZE: Mm = Mm(1.5);
    let shown = weights.len().min(3);
    let step = SIZE + Mm(0.5);
    let start = (paper.left + paper.right) / 2.0 - step * (shown as f64 - 1.0) / 2.0;
    for (at_mark, weight) in weights.iter().take(shown).enumerate() {
        mark::plain(ink, at(start + step * at_mark as f64, paper.top - Mm(1.7)), SIZE, *weight);
    }
    if weights.len() > shown {
        let plus = TextStyle::new(Face::Bold, Points(5.0));
        ink.text(at(start + step * shown as f64 - Mm(0.4), paper.top - Mm(1.1)), Align::Left, &plus, "+");
    }
}

fn draw_systems(ink: &mut Ink<'_>, page: &Page, paper: Rect, scale: f64, tint: &Paint) {
    for system in &page.systems {
        let on_strip = |x: Mm, y: Mm| at(paper.left + x * scale, paper.top + y * scale);
        let (from, to) = (on_strip(system.rect.left, system.rect.top), on_strip(system.rect.right, system.rect.bottom));
        ink.rect(Rect::new(from.x, from.y, to.x, to.y), tint);
    }
}

/// As many of the words as fit, the rest told by an ellipsis.
fn fitted<T: AsRef<str>>(style: &TextStyle, words: &[T], room: Mm) -> String {
    let mut text = String::new();
    for (at, word) in words.iter().enumerate() {
        let word = word.as_ref();
        let longer = if at == 0 { word.to_owned() } else { format!("{text}  {word}") };
        if text_width(style.face, style.size, &longer) > room - Mm(0.8) {
            return if at == 0 {
                shortened(style.face, style.size, word, room - Mm(0.8))
            } else {
                format!("{text} …")
            };
        }
        text = longer;
    }
    text
}
