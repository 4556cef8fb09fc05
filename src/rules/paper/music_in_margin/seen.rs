//! Music in the margin of printed pages, where its ink is seen.

use super::MusicInMargin;
use crate::geometry::Rect;
use crate::layout::{Page, Seen};
use crate::place::{BarSpan, PageIdx, Place};
use crate::rules::{Case, Finding, Rule, Scope};
use crate::units::Mm;

/// One sign that runs on beyond its staves, or that the printer may not reach.
struct Reach {
    page: PageIdx,
    system: Option<u16>,
    staff: Option<u16>,
    rect: Rect,
    /// Beyond the staves' end; 0 where it is only near the edge of the paper.
    beyond: Mm,
    /// From the nearest edge of the paper; negative where it runs off the page.
    from_edge: Mm,
}

/// One finding for all such signs.
pub(super) fn found(rule: &MusicInMargin, case: &Case<'_>) -> Option<Finding> {
    let pages = case.music_pages().filter_map(|(at, page)| Some((at, page, page.seen.as_ref()?)));
    let reaches: Vec<Reach> = pages.flat_map(|(at, page, seen)| reaches(rule, at, page, seen)).collect();
    // What the paper cuts off is worse than what only stands in the margin.
    let worst = reaches.iter().min_by(|a, b| a.from_edge.0.total_cmp(&b.from_edge.0))?;
    let is_cut = worst.from_edge < rule.printer_reach.value;
    let (limit, found) =
        if is_cut { (&rule.printer_reach, worst.from_edge) } else { (&rule.beyond_margin, worst.beyond) };
    let more = if reaches.len() > 1 { format!(" The same at {} places in all.", reaches.len()) } else { String::new() };
    let message = format!("{}: {}.{more}", case.page_words(worst.page), words(case, worst));
    let place = |own: &Reach| place(case, own);
    let bar = place(worst).bars.map(|bars| bars.first);
    let key = case.key(MusicInMargin::NAME, Scope::Bar, staff(case, worst), bar);
    let at = reaches.iter().position(|own| std::ptr::eq(own, worst));
    let places = reaches.iter().map(place).collect();
    Some(Finding::beyond(limit, key, found.rounded().to_string()).at(places).worst_at(at).says(message))
}

fn reaches(rule: &MusicInMargin, at: PageIdx, page: &Page, seen: &Seen) -> Vec<Reach> {
    let (width, height) = page.size.value;
    let from_edge = |rect: &Rect| rect.left.min(rect.top).min(width - rect.right).min(height - rect.bottom).rounded();
    let mut reaches: Vec<Reach> = seen
        .beyond
        .iter()
        .filter_map(|own| {
            let end = page.systems.get(usize::from(own.system))?.rect.right;
            let beyond = (own.rect.right - end).rounded();
            let reach = Reach {
                page: at,
                system: Some(own.system),
                staff: Some(own.staff),
                rect: own.rect,
                beyond,
                from_edge: (width - own.rect.right).rounded(),
            };
            (beyond > rule.beyond_margin.value).then_some(reach)
        })
        .collect();
    // One place a page for all that stands too near an edge; where the music itself does, its margins are narrow.
    let reach = rule.printer_reach.value;
    let own = page.margins.value;
    let narrow = own.left.min(own.right).min(own.top).min(own.bottom) < reach;
    let edge = from_edge(&seen.ink);
    if edge < reach && !narrow && reaches.iter().all(|own| own.from_edge > edge) {
        let rect = near_edges(&seen.ink, page, reach);
        reaches.push(Reach { page: at, system: None, staff: None, rect, beyond: Mm::ZERO, from_edge: edge });
    }
    reaches
}

/// The strip along the edge that is reached.
fn near_edges(ink: &Rect, page: &Page, reach: Mm) -> Rect {
    let (width, height) = page.size.value;
    let on_page =
        Rect::new(ink.left.max(Mm::ZERO), ink.top.max(Mm::ZERO), ink.right.min(width), ink.bottom.min(height));
    let whites = [on_page.top, on_page.left, width - on_page.right, height - on_page.bottom];
    let least = whites.into_iter().fold(width, Mm::min);
    match whites.iter().position(|white| *white == least) {
        Some(0) => Rect { bottom: on_page.top + reach, ..on_page },
        Some(1) => Rect { right: on_page.left + reach, ..on_page },
        Some(2) => Rect { left: on_page.right - reach, ..on_page },
        _ => Rect { top: on_page.bottom - reach, ..on_page },
    }
}

fn staff(case: &Case<'_>, own: &Reach) -> Option<crate::place::StaffId> {
    let system = case.page(own.page)?.systems.get(usize::from(own.system?))?;
    system.staves.get(usize::from(own.staff?))?.staff
}

fn words(case: &Case<'_>, own: &Reach) -> String {
    let edge = if own.from_edge < Mm::ZERO {
        "runs off the paper".to_owned()
    } else {
        format!("stands {:.1} mm from the edge of the paper", own.from_edge.0)
    };
    if own.system.is_none() {
        let words = case.page(own.page).and_then(|page| page.seen.as_ref()).map_or(&[][..], |seen| &seen.words);
        let (width, height) = case.page(own.page).map_or((Mm::ZERO, Mm::ZERO), |page| page.size.value);
        let away = |rect: &Rect| rect.left.min(rect.top).min(width - rect.right).min(height - rect.bottom).0;
        let there = words.iter().filter(|words| words.rect.overlaps(&own.rect));
        let what = there.min_by(|a, b| away(&a.rect).total_cmp(&away(&b.rect)));
        let what = what.map_or_else(|| "something".to_owned(), |words| format!("\"{}\"", words.text));
        return format!("{what} {edge}, where printers may not print");
    }
    let who =
        staff(case, own).map_or_else(|| "music".to_owned(), |staff| format!("music of {}", case.staff_words(staff)));
    format!("{who} runs {:.1} mm into the right margin and {edge}", own.beyond.0)
}

/// The last bar of its system, with the sign itself as its box.
fn place(case: &Case<'_>, own: &Reach) -> Place {
    let system = own.system.and_then(|at| Some((at, case.page(own.page)?.systems.get(usize::from(at))?)));
    let mut place = match system {
        Some((at, system)) => case.on_staves(own.page, at, system, staff(case, own).as_slice()),
        None => case.on_page(own.page),
    };
    if own.system.is_some() {
        place.bars = place.bars.map(|bars| BarSpan::one(bars.last));
    }
    place.rect = Some(own.rect.rounded());
    let says = crate::words::sentence(&format!("{}.", words(case, own)));
    place.with_words(says, "")
}
