//! Words: letters that stand beside each other on one line, in fonts that words are written in.

use super::EngravedText;
use super::ink::{Drawn, Glyph};

/// Letters of one word stand this near, in sizes of their type.
const WORD: f64 = 0.22;
/// Words of one line of text.
const LINE: f64 = 1.0;
/// Letters of one line stand at one height.
const LEVEL: f64 = 0.1;
/// So many of a font's signs are letters, figures and points where it is one for words.
const SHARE: f64 = 0.75;

/// Which fonts words are written in; those of music have signs of their own, or letters that stand alone.
pub(super) fn fonts(pages: &[Drawn]) -> Vec<bool> {
    let mut counts: Vec<Count> = Vec::new();
    for page in pages {
        let mut last: Option<&Glyph> = None;
        for glyph in &page.glyphs {
            if glyph.font >= counts.len() && glyph.font < usize::from(u16::MAX) {
                counts.resize(glyph.font + 1, Count::default());
            }
            let Some(count) = counts.get_mut(glyph.font) else { continue };
            count.all += 1;
            count.plain += u64::from(glyph.letter.is_some_and(is_plain));
            let pairs = last.is_some_and(|last| last.font == glyph.font && goes_on(last, glyph, WORD));
            count.pairs += u64::from(pairs && glyph.letter.is_some_and(is_plain));
            count.figures += u64::from(glyph.letter.is_some_and(|letter| letter.is_ascii_digit()));
            last = Some(glyph);
        }
    }
    counts.iter().map(Count::is_for_words).collect()
}

#[derive(Clone, Copy, Default)]
struct Count {
    all: u64,
    plain: u64,
    pairs: u64,
    figures: u64,
}

impl Count {
    fn is_for_words(&self) -> bool {
        let plain = self.plain as f64 >= SHARE * self.all as f64;
        // A font of which only the figures are used numbers bars and pages.
        plain && (self.pairs * 4 >= self.all || self.figures == self.all)
    }
}

fn is_plain(letter: char) -> bool {
    letter == ' ' || letter == '\u{a0}' || letter.is_alphanumeric() || ".,;:!?()[]-–—'’\"“”/&=+*©".contains(letter)
}

/// Whether a glyph stands behind another one, `gap` sizes of the type away at the most.
fn goes_on(last: &Glyph, next: &Glyph, gap: f64) -> bool {
    let size = last.size.max(next.size).max(0.001);
    let (dx, dy) = ((next.from.0 - last.to.0) / size, (next.from.1 - last.to.1) / size);
    dy.abs() <= LEVEL && -WORD <= dx && dx <= gap && (last.size - next.size).abs() <= 0.2 * size
}

/// Lines of text in the order in which they are drawn.
pub(super) fn read(page: &Drawn, fonts: &[bool]) -> Vec<EngravedText> {
    let mut lines: Vec<(EngravedText, Glyph)> = Vec::new();
    for glyph in &page.glyphs {
        let Some(letter) = glyph.letter.filter(|_| is_word_font(glyph, fonts)) else { continue };
        if !is_plain(letter) || glyph.size <= 0.0 {
            continue;
        }
        let size = crate::units::Mm(glyph.size);
        match lines.last_mut().filter(|(_, last)| goes_on(last, glyph, LINE)) {
            Some((line, last)) => {
                if !goes_on(last, glyph, WORD) && !line.text.ends_with(' ') {
                    line.text.push(' ');
                }
                line.text.push(letter);
                line.rect = if letter.is_whitespace() { line.rect } else { line.rect.union(&glyph.rect) };
                line.size = line.size.max(size);
                *last = *glyph;
            }
            None if letter.is_whitespace() => {}
            None => lines.push((EngravedText { text: letter.to_string(), rect: glyph.rect, size, role: None }, *glyph)),
        }
    }
    let lines = lines.into_iter().map(|(line, _)| EngravedText { text: line.text.trim().to_owned(), ..line });
    lines.filter(|line| line.text.chars().any(char::is_alphanumeric)).collect()
}

pub(super) fn is_word_font(glyph: &Glyph, fonts: &[bool]) -> bool {
    // What cannot be told apart by its font is told by its letters.
    fonts.get(glyph.font).copied().unwrap_or_else(|| glyph.letter.is_some_and(is_plain))
}
