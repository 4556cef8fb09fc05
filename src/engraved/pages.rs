//! Measured pages as the page model has them.

use std::collections::BTreeMap;

use super::{EngravedPage, EngravedStaff, EngravedSystem, EngravedText, TextRole, kinds};
use crate::geometry::{Margins, Rect};
use crate::layout::{
    Beyond, Known, Layout, Origin, Page, PageKind, PageText, PrintedBar, PrintedStaff, Seen, SeenWords, Side, System,
    Told, WordsKind,
};
use crate::units::Mm;

/// What ends so near the staves' end is no overhang: a barline is as thick as this.
const END: f64 = 0.6;
/// Words so near the left of a staff name it.
const NAME: f64 = 40.0;

/// The pages, not yet matched with any music: bars and staves are counted, not known.
#[must_use]
pub fn layout(pages: &[EngravedPage]) -> Layout {
    let usual = usual_height(pages);
    let mut label = None;
    let mut side = None;
    let kinds = kinds::kinds(pages);
    let mut all = Vec::with_capacity(pages.len());
    for (page, kind) in pages.iter().zip(kinds) {
        let printed = texts(page, TextRole::PageNumber).next().map(|text| bare(&text.text));
        let counted =
            label.as_deref().and_then(|last: &str| last.parse::<u32>().ok()).map(|last| (last + 1).to_string());
        let own = printed.or(counted).unwrap_or_default();
        let number: Option<u32> = own.parse().ok();
        let by_number = number.map(|number| if number % 2 == 1 { Side::Recto } else { Side::Verso });
        let own_side = by_number.or(side.map(Side::other)).unwrap_or(Side::Recto);
        all.push(self::page(page, kind, own.clone(), own_side, usual));
        (label, side) = (Some(own), Some(own_side));
    }
    Layout { told: told(pages), pages: all, ..Layout::default() }
}

fn bare(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

fn texts(page: &EngravedPage, role: TextRole) -> impl Iterator<Item = &EngravedText> {
    page.texts.iter().filter(move |text| text.role == Some(role))
}

/// Of most staves, to a hundredth of a millimetre.
fn usual_height(pages: &[EngravedPage]) -> Mm {
    let mut heights: BTreeMap<i64, usize> = BTreeMap::new();
    for staff in pages.iter().flat_map(EngravedPage::staves).filter(|staff| staff.lines == 5) {
        *heights.entry((staff.rect.height().0 * 100.0).round() as i64).or_default() += 1;
    }
    let most = heights.iter().max_by_key(|(_, count)| **count).map(|(height, _)| *height);
    most.map_or(Mm(super::USUAL_SPACE * 4.0), |height| Mm(height as f64 / 100.0))
}

fn page(page: &EngravedPage, kind: PageKind, label: String, side: Side, usual: Mm) -> Page {
    Page {
        size: Known::measured((page.size.0.rounded(), page.size.1.rounded())),
        margins: Known::measured(margins(page)),
        side,
        label,
        kind,
        breaks: Origin::MEASURED,
        systems: page.systems.iter().map(|own| system(own, usual)).collect(),
        texts: page.texts.iter().filter_map(heading).collect(),
        seen: Some(seen(page)),
    }
}

/// The sides are those of the staves; above and below, the music's own ink counts, not what stands around it.
fn margins(page: &EngravedPage) -> Margins {
    let Some(music) = page.systems.iter().map(EngravedSystem::rect).reduce(|all, own| all.union(&own)) else {
        return Margins::default();
    };
    let left = page.systems.iter().map(|own| own.rect().left).reduce(Mm::min).unwrap_or(music.left);
    let words = page.texts.iter().filter(|text| matches!(text.role, None | Some(TextRole::BarNumber)));
    let ink = page.signs.iter().copied().chain(words.map(|text| text.rect));
    // Signs that belong to no system are borders, or stand in the heading.
    let is_near = |rect: &Rect| rect.bottom.0 > music.top.0 - 15.0 && rect.top.0 < music.bottom.0 + 15.0;
    let ink = ink.filter(is_near).fold(music, |all, own| all.union(&own));
    Margins {
        left: tenths(left),
        right: tenths(page.size.0 - music.right),
        top: tenths(ink.top),
        bottom: tenths(page.size.1 - ink.bottom),
    }
}

/// Margins are not drawn: lines as thick as staff lines and the rounding of files leave no more of them.
fn tenths(length: Mm) -> Mm {
    Mm((length.0 * 10.0).round() / 10.0)
}

fn system(own: &EngravedSystem, usual: Mm) -> System {
    let bars = own.bars.iter().map(|bar| PrintedBar {
        left: bar.left.rounded(),
        right: bar.right.rounded(),
        bars: None,
        placed: Origin::MEASURED,
    });
    System {
        rect: own.rect().rounded(),
        staves: own.staves.iter().map(|own| staff(own, usual)).collect(),
        bars: bars.collect(),
        divider_above: own.divider_above,
        breaks: Origin::MEASURED,
        stretch: None,
    }
}

fn staff(own: &EngravedStaff, usual: Mm) -> PrintedStaff {
    // Of a single line no height can be seen.
    let (height, sized) = match own.lines {
        0 | 1 => (usual, Origin::Estimated),
        lines => (own.rect.height() * (4.0 / f64::from(lines - 1)), Origin::MEASURED),
    };
    PrintedStaff {
        staff: None,
        lines: own.lines,
        top: own.rect.top.rounded(),
        height: height.rounded(),
        role: own.role,
        placed: Origin::MEASURED,
        sized,
    }
}

/// What stands outside the music, by the words that rules know.
fn heading(text: &EngravedText) -> Option<PageText> {
    let kind = match text.role? {
        TextRole::PageNumber => Some("page number"),
        TextRole::RunningHead => Some("running head"),
        TextRole::Heading => None,
        TextRole::BarNumber | TextRole::Landmark => return None,
    };
    let words = if text.role == Some(TextRole::PageNumber) { bare(&text.text) } else { text.text.clone() };
    let rect = Some(text.rect.rounded());
    Some(PageText { text: words, kind: kind.map(str::to_owned), rect, placed: Origin::MEASURED })
}

fn seen(page: &EngravedPage) -> Seen {
    let words = page.texts.iter().map(|text| SeenWords {
        text: text.text.clone(),
        rect: text.rect.rounded(),
        size: text.size.rounded(),
        kind: words_kind(page, text),
    });
    Seen {
        ink: page.ink.unwrap_or_default().rounded(),
        words: words.collect(),
        staff_line: page.staff_line,
        missing_fonts: page.missing_fonts.clone(),
        lies: page.lies,
        beyond: page.systems.iter().zip(0..).flat_map(|(own, at)| beyond(page, own, at)).collect(),
    }
}

fn words_kind(page: &EngravedPage, text: &EngravedText) -> WordsKind {
    match text.role {
        _ if super::numbers::number(&text.text).is_some() => WordsKind::Number,
        Some(TextRole::RunningHead | TextRole::Heading) => WordsKind::Around,
        _ if page.systems.iter().any(|system| is_name(text, system)) => WordsKind::Name,
        _ => WordsKind::Music,
    }
}

/// Signs and words of a system's staves that run on beyond their right end: of each staff the farthest.
fn beyond(page: &EngravedPage, system: &EngravedSystem, at: u16) -> Vec<Beyond> {
    let own = system.rect();
    let end = own.right.0 + END;
    let words = page.texts.iter().filter(|text| text.role.is_none()).map(|text| text.rect);
    let runs_on = |rect: &Rect| rect.right.0 > end && rect.left.0 < own.right.0 && rect.left > own.left;
    let mut farthest: BTreeMap<u16, Rect> = BTreeMap::new();
    for rect in page.signs.iter().copied().chain(words).filter(runs_on) {
        let middle = (rect.top + rect.bottom) / 2.0;
        // Nearer to another system's staves it is that one's matter.
        let away = |staff: &EngravedStaff| (staff.rect.top - middle).max(middle - staff.rect.bottom).max(Mm::ZERO).0;
        let nearest = |system: &EngravedSystem| system.staves.iter().map(away).fold(f64::INFINITY, f64::min);
        if page.systems.iter().any(|other| nearest(other) < nearest(system)) {
            continue;
        }
        let staff = system.staves.iter().zip(0..).min_by(|a, b| away(a.0).total_cmp(&away(b.0)));
        let Some((_, staff)) = staff else { continue };
        let own = farthest.entry(staff).or_insert(rect);
        if rect.right > own.right {
            *own = rect;
        }
    }
    farthest.into_iter().map(|(staff, rect)| Beyond { system: at, staff, rect: rect.rounded() }).collect()
}

/// Bar numbers and names at later systems, where most of them have some, or none at all.
fn told(pages: &[EngravedPage]) -> Told {
    let later: Vec<(&EngravedPage, &EngravedSystem)> =
        pages.iter().flat_map(|page| page.systems.iter().map(move |own| (page, own))).skip(1).collect();
    let share = |has: &dyn Fn(&(&EngravedPage, &EngravedSystem)) -> bool| {
        let with = later.iter().filter(|own| has(own)).count();
        // Fewer than half are no rule and no proof that there are none.
        match (later.is_empty(), with * 2 >= later.len(), with) {
            (true, ..) | (_, false, 1..) => None,
            (_, told, _) => Some(told),
        }
    };
    Told {
        bar_numbers: share(&|(_, system)| system.number.is_some()),
        names_on_later_systems: share(&|(page, system)| page.texts.iter().any(|text| is_name(text, system))),
    }
}

/// Words left of the staves, beside one of them.
pub(crate) fn is_name(text: &EngravedText, system: &EngravedSystem) -> bool {
    let own = system.rect();
    let middle = (text.rect.top + text.rect.bottom) / 2.0;
    let beside = own.top.0 - 1.0 <= middle.0 && middle.0 <= own.bottom.0 + 1.0;
    let is_word = text.text.chars().any(char::is_alphabetic);
    is_word && beside && text.rect.right < own.left && text.rect.right.0 > own.left.0 - NAME
}
