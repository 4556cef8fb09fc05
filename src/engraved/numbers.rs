//! What texts are by their places: numbers of pages and bars, running heads, headings.

use std::collections::BTreeMap;

use super::kinds::kinds;
use super::{EngravedPage, EngravedStaff, EngravedSystem, EngravedText, TextRole};
use crate::geometry::Rect;
use crate::layout::PageKind;

/// A bar number stands so near the left end of its system, in spaces: before it, behind it.
const ALONG: (f64, f64) = (9.0, 7.0);
/// Above the first line or under the last one.
const ABOVE: f64 = 9.0;
/// The music's own words stand nearer to its first and last staff, in spaces.
const FAR: f64 = 7.0;
/// A running head stands at one height, in millimetres.
const SAME_HEIGHT: f64 = 3.0;

/// Gives each text its role.
pub(super) fn tell(pages: &mut [EngravedPage]) {
    // Parts behind a score have numbers of their own.
    let kinds = kinds(pages);
    let mut from = 0;
    for run in kinds.chunk_by(|a, b| (*a == PageKind::Part) == (*b == PageKind::Part)) {
        page_numbers(pages.get_mut(from..from + run.len()).unwrap_or_default());
        from += run.len();
    }
    bar_numbers(pages);
    running_heads(pages);
    headings(pages);
    landmarks(pages);
}

/// One capital letter, or the same one twice, above the first staff of a system and larger than the words of the page.
fn landmarks(pages: &mut [EngravedPage]) {
    for page in pages {
        let mut sizes: Vec<f64> =
            page.texts.iter().filter(|text| text.role.is_none()).map(|text| text.size.0).collect();
        sizes.sort_by(f64::total_cmp);
        let usual = sizes.get(sizes.len() / 2).copied().unwrap_or_default();
        let is_mark = |text: &EngravedText| {
            let mut letters = text.text.chars();
            let first = letters.next().filter(char::is_ascii_uppercase);
            let stands = page.systems.iter().any(|system| stands_above(&text.rect, system));
            first.is_some() && letters.all(|letter| Some(letter) == first) && text.text.len() <= 2 && stands
        };
        let marks: Vec<bool> =
            page.texts.iter().map(|text| text.role.is_none() && text.size.0 >= usual && is_mark(text)).collect();
        for (text, _) in page.texts.iter_mut().zip(marks).filter(|(_, is_mark)| *is_mark) {
            text.role = Some(TextRole::Landmark);
        }
    }
}

fn stands_above(rect: &Rect, system: &EngravedSystem) -> bool {
    let own = system.rect();
    let space = system.staves.first().map_or(1.0, EngravedStaff::space);
    let above = own.top.0 - 2.0 * ABOVE * space <= rect.bottom.0 && rect.bottom.0 <= own.top.0;
    above && own.left.0 - ALONG.0 * space <= rect.left.0 && rect.right <= own.right
}

/// The largest words of the first page that has some outside the music.
#[must_use]
pub fn title(pages: &[EngravedPage]) -> Option<String> {
    let largest = |page: &EngravedPage| {
        let headings = page.texts.iter().filter(|text| text.role == Some(TextRole::Heading));
        headings.reduce(|most, own| if own.size > most.size { own } else { most }).map(|text| text.text.clone())
    };
    pages.iter().find_map(largest)
}

/// The figures of a text that is a number and nothing else; brackets around it do not count.
pub(super) fn number(text: &str) -> Option<u32> {
    let bare = text.trim_matches(|letter: char| "()[]-–—. ".contains(letter));
    let is_figures = !bare.is_empty() && bare.len() <= 5 && bare.bytes().all(|byte| byte.is_ascii_digit());
    is_figures.then(|| bare.parse().ok()).flatten()
}

fn is_outside(rect: &Rect, page: &EngravedPage) -> bool {
    let music = page.systems.iter().map(EngravedSystem::rect).reduce(|all, own| all.union(&own));
    music.is_none_or(|music| rect.bottom < music.top || rect.top > music.bottom)
}

/// Numbers above or below all music that grow with the pages: most pages agree how far they are from the pages' places.
fn page_numbers(pages: &mut [EngravedPage]) {
    let candidates: Vec<Vec<(usize, i64)>> = pages.iter().zip(0i64..).map(|(page, at)| of_page(page, at)).collect();
    let mut votes: BTreeMap<i64, usize> = BTreeMap::new();
    for own in &candidates {
        let mut offsets: Vec<i64> = own.iter().map(|(_, offset)| *offset).collect();
        offsets.sort_unstable();
        offsets.dedup();
        for offset in offsets {
            *votes.entry(offset).or_default() += 1;
        }
    }
    // Of several the smallest shift. One number is no row: it may as well be that of a bar.
    let best = votes.iter().max_by_key(|(offset, votes)| (**votes, -offset.abs()));
    let Some((best, votes)) = best.map(|(offset, votes)| (*offset, *votes)) else { return };
    let is_row = votes >= 2;
    if !is_row && pages.len() > 2 {
        return;
    }
    for (page, own) in pages.iter_mut().zip(candidates) {
        let is_clear = |at: usize| {
            let rect = page.texts.get(at).map(|text| text.rect);
            is_row || rect.is_some_and(|rect| !page.systems.iter().any(|system| stands_at(&rect, system)))
        };
        let own = own.iter().filter(|(at, offset)| *offset == best && is_clear(*at));
        let farthest = own.max_by(|(a, _), (b, _)| {
            let off = |at: usize| page.texts.get(at).map_or(0.0, |text| from_middle(text, page));
            off(*a).total_cmp(&off(*b))
        });
        if let Some(text) = farthest.map(|(at, _)| *at).and_then(|at| page.texts.get_mut(at)) {
            text.role = Some(TextRole::PageNumber);
        }
    }
}

/// Numbers outside the music, with what is left when the page's place is taken away.
fn of_page(page: &EngravedPage, at: i64) -> Vec<(usize, i64)> {
    let texts = page.texts.iter().enumerate().filter(|(_, text)| is_outside(&text.rect, page));
    texts.filter_map(|(own, text)| Some((own, i64::from(number(&text.text)?) - at))).collect()
}

fn from_middle(text: &EngravedText, page: &EngravedPage) -> f64 {
    let middle = f64::midpoint(text.rect.top.0, text.rect.bottom.0);
    (middle - page.size.1.0 / 2.0).abs()
}

/// At the left of each system: the numbers that make the longest growing row through the file.
fn bar_numbers(pages: &mut [EngravedPage]) {
    let mut candidates: Vec<(usize, usize, usize, u32)> = Vec::new();
    for (page_at, page) in pages.iter().enumerate() {
        for (text_at, text) in page.texts.iter().enumerate().filter(|(_, text)| text.role.is_none()) {
            let Some(number) = number(&text.text) else { continue };
            let systems = page.systems.iter().enumerate().filter(|(_, system)| stands_at(&text.rect, system));
            let nearest = systems.min_by(|(_, a), (_, b)| away(&text.rect, a).total_cmp(&away(&text.rect, b)));
            if let Some((system_at, _)) = nearest {
                candidates.push((page_at, system_at, text_at, number));
            }
        }
    }
    // Texts come in the order of drawing, which need not be that of the systems.
    candidates.sort_unstable();
    for at in growing(&candidates) {
        let Some((page_at, system_at, text_at, _)) = candidates.get(at).copied() else { continue };
        let Some(page) = pages.get_mut(page_at) else { continue };
        if let Some(text) = page.texts.get_mut(text_at) {
            text.role = Some(TextRole::BarNumber);
        }
        if let Some(system) = page.systems.get_mut(system_at) {
            system.number = Some(text_at);
        }
    }
}

/// How far above or below a system, where numbers rarely stand; 0 beside it.
fn away(rect: &Rect, system: &EngravedSystem) -> f64 {
    let own = system.rect();
    let space = system.staves.first().map_or(1.0, EngravedStaff::space);
    let below = (rect.top - own.bottom).0;
    let below = if below > 0.0 { below + ABOVE * space } else { 0.0 };
    (own.top - rect.bottom).0.max(below).max(0.0)
}

fn stands_at(rect: &Rect, system: &EngravedSystem) -> bool {
    let own = system.rect();
    let space = system.staves.first().map_or(1.0, EngravedStaff::space);
    let along = own.left.0 - ALONG.0 * space <= rect.left.0 && rect.left.0 <= own.left.0 + ALONG.1 * space;
    let above = own.top.0 - ABOVE * space <= rect.bottom.0 && rect.bottom.0 <= own.top.0 + space;
    let below = own.bottom.0 <= rect.top.0 && rect.top.0 <= own.bottom.0 + ABOVE * space;
    let before = rect.right.0 <= own.left.0 && own.top.0 <= rect.top.0 && rect.bottom.0 <= own.bottom.0;
    along && (above || below || before)
}

/// The longest run of candidates with one a system whose numbers grow; a new movement may begin at 1 again.
fn growing(candidates: &[(usize, usize, usize, u32)]) -> Vec<usize> {
    let mut best: Vec<(f64, Option<usize>)> = Vec::with_capacity(candidates.len());
    for (at, own) in candidates.iter().enumerate() {
        let mut found = (1.0, None);
        let from = at.saturating_sub(200);
        for (before, (earlier, (length, _))) in candidates.iter().zip(&best).enumerate().skip(from) {
            let is_other = (earlier.0, earlier.1) != (own.0, own.1);
            let step = if own.3 > earlier.3 { 1.0 } else { -2.0 };
            if is_other && length + step > found.0 {
                found = (length + step, Some(before));
            }
        }
        best.push(found);
    }
    let mut at = best.iter().enumerate().max_by(|a, b| a.1.0.total_cmp(&b.1.0)).map(|(at, _)| at);
    let mut chosen = Vec::new();
    while let Some(own) = at {
        chosen.push(own);
        at = best.get(own).and_then(|(_, before)| *before);
    }
    chosen.reverse();
    chosen
}

/// Words that stand at one height of several pages, on one of them at least far from the music.
fn running_heads(pages: &mut [EngravedPage]) {
    let mut rows: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for (page_at, page) in pages.iter().enumerate() {
        for (text_at, text) in page.texts.iter().enumerate() {
            let is_words =
                text.role.is_none() && text.text.chars().filter(|letter| letter.is_alphabetic()).count() >= 3;
            if is_words && is_outside(&text.rect, page) {
                let row = Row { page: page_at, text: text_at, top: text.rect.top.0, is_far: is_far(&text.rect, page) };
                rows.entry(text.text.to_lowercase()).or_default().push(row);
            }
        }
    }
    for row in rows.values() {
        for own in row {
            let alike = |other: &&Row| other.page != own.page && (other.top - own.top).abs() <= SAME_HEIGHT;
            if !row.iter().filter(alike).any(|other| other.is_far) {
                continue;
            }
            if let Some(text) = pages.get_mut(own.page).and_then(|page| page.texts.get_mut(own.text)) {
                text.role = Some(TextRole::RunningHead);
            }
        }
    }
}

/// The same words on one page.
struct Row {
    page: usize,
    text: usize,
    top: f64,
    is_far: bool,
}

/// Everything on pages without music, and what stands above the tempo of the first system or under the last one.
fn headings(pages: &mut [EngravedPage]) {
    for page in pages {
        let far: Vec<bool> = page.texts.iter().map(|text| is_far(&text.rect, page)).collect();
        for (text, far) in page.texts.iter_mut().zip(far) {
            if far && text.role.is_none() {
                text.role = Some(TextRole::Heading);
            }
        }
    }
}

/// Farther from all music than its own words stand.
fn is_far(rect: &Rect, page: &EngravedPage) -> bool {
    let space = page.staves().map(EngravedStaff::space).next().unwrap_or(1.0);
    let first = page.systems.first().map(EngravedSystem::rect);
    let last = page.systems.last().map(EngravedSystem::rect);
    let above = first.is_none_or(|own| rect.bottom.0 < own.top.0 - FAR * space);
    above || last.is_some_and(|own| rect.top.0 > own.bottom.0 + FAR * space)
}
