//! Pages of the newest draft that can stay as they were printed, with new ones cast off between them.

use super::Draft;
use super::in_place::{Replacement, house_of};
use super::readers::{PlayerPair, Reader, part};
use super::reprint::Reprint;
use crate::accepted::Entry;
use crate::casting_off::part::Stand;
use crate::check::parts::one::{Own, Whole};
use crate::compare::{Fate, Matched, Run, Sheets};
use crate::layout::{Layout, Page, PrintedBar, System};
use crate::place::{BarIdx, BarSpan, PageIdx};

/// Findings that were accepted in the newest draft.
pub(super) struct Accepted {
    pub score: Vec<Entry>,
    pub parts: Vec<Entry>,
}

/// Lays the newest draft out anew: old pages where nothing but a pencil is needed, new ones between them. Parts with pages of
/// their own are left as they are.
pub(super) fn keep(
    old: &Draft,
    mut new: Draft,
    matched: &Matched,
    players: &[PlayerPair],
    reprint: &[Reprint],
    accepted: &Accepted,
) -> Draft {
    let score = reprint.iter().find(|own| own.reader == Reader::Conductor && own.can_stay());
    if let Some(layout) = score.and_then(|own| layout(&old.checked.layout, own, matched)) {
        let house = house_of(&old.checked);
        new.checked = new.checked.on_other_pages(layout, house, &accepted.score);
    }
    let Some(mut parts) = new.parts.take() else { return new };
    let whole = Whole::of(&new.checked.score, &new.checked.guidelines, &accepted.parts).plain();
    for own in reprint.iter().filter(|own| own.can_stay()) {
        let Reader::Player(player) = own.reader else { continue };
        let Some(pair) = players.get(player) else { continue };
        let Some((before, at)) = part(old, pair.old).zip(pair.new) else { continue };
        let Some(own_part) = parts.parts.get(at) else { continue };
        let Some(layout) = layout(before.layout(), own, matched) else { continue };
        let first = layout.pages.first().map(|page| page.side);
        let stand = Stand { starts: first, ..own_part.stand.clone() };
        let kept = whole.on_stand(own_part.player.clone(), stand, Own::Kept(layout), &mut parts);
        if let Some((slot, kept)) = parts.parts.get_mut(at).zip(kept) {
            *slot = kept;
        }
    }
    new.parts = Some(parts);
    new
}

/// Old pages and new ones in order; `None` where some bars would stand nowhere.
fn layout(old: &Layout, own: &Reprint, matched: &Matched) -> Option<Layout> {
    let mut layout = Layout { pages: Vec::new(), ..old.clone() };
    let mut runs = own.sheets.runs.iter().zip(&own.replacements).peekable();
    for (at, sheet) in own.sheets.sheets.iter().enumerate() {
        if sheet.fate == Fate::Print {
            let Some((run, replacement)) = runs.next_if(|(run, _)| run.first == at) else { continue };
            layout.pages.extend(replaced(old, own, run, replacement));
        } else {
            let pages = sheet.sheet.pages.iter().filter_map(|page| old.pages.get(page.at()));
            let mut pages: Vec<Page> = pages.cloned().collect();
            remain(&mut pages, at, &own.sheets, matched);
            layout.pages.extend(pages);
        }
    }
    let shown: usize = layout.pages.iter().flat_map(bars).map(|span| span.count() as usize).sum();
    (shown == own.sheets.owner.len()).then_some(layout)
}

fn bars(page: &Page) -> impl Iterator<Item = BarSpan> {
    page.systems.iter().flat_map(|system| &system.bars).filter_map(|bar| bar.bars)
}

/// New pages with the sides and numbers of those whose place they take. Leaves that hold nothing any more go; where the new
/// pages are more, leaves are put in behind, with the last number and letters: 8a, 8b. What is left over of a leaf stays
/// blank, so that everything after it lies as it did.
fn replaced(old: &Layout, own: &Reprint, run: &Run, replacement: &Replacement) -> Vec<Page> {
    let page = |at: &PageIdx| old.pages.get(at.at());
    let mut new = replacement.pages.iter().cloned();
    let mut pages: Vec<Page> = Vec::new();
    for sheet in own.sheets.sheets.get(run.first..=run.last).unwrap_or_default() {
        if new.len() == 0 {
            break;
        }
        for old in sheet.sheet.pages.iter().filter_map(page) {
            let page = new.next().unwrap_or_else(|| blank(old));
            pages.push(Page { side: old.side, label: old.label.clone(), ..page });
        }
    }
    let Some(last) = pages.last().cloned() else { return pages };
    let mut letters = 'a'..='z';
    let mut label = || letters.next().map_or_else(|| last.label.clone(), |letter| format!("{}{letter}", last.label));
    let mut side = last.side;
    for page in new {
        side = side.other();
        pages.push(Page { side, label: label(), ..page });
    }
    let next = own.sheets.sheets.get(run.last + 1).and_then(|sheet| sheet.sheet.pages.first()).and_then(page);
    if let Some(next) = next.filter(|next| next.side == side && side != last.side) {
        pages.push(Page { side: side.other(), label: label(), ..blank(next) });
    }
    pages
}

fn blank(page: &Page) -> Page {
    Page { systems: Vec::new(), texts: Vec::new(), seen: None, ..page.clone() }
}

/// The same pages with the bars of the new draft; a rest that is counted otherwise holds what belongs to it now.
fn remain(pages: &mut [Page], sheet: usize, sheets: &Sheets, matched: &Matched) {
    let own = sheets.owner.iter().zip(0_u32..).filter(|(own, _)| **own == sheet).map(|(_, bar)| BarIdx(bar));
    let Some(whole) = own.map(BarSpan::one).reduce(|all, one| BarSpan::new(all.first, one.last)) else { return };
    let mut next = whole.first;
    for system in pages.iter_mut().flat_map(|page| &mut page.systems) {
        system.bars.retain_mut(|bar| {
            let now = bar.bars.and_then(|span| span.iter().filter_map(|bar| matched.stays(bar)).max());
            let Some(last) = now.filter(|last| *last >= next) else { return false };
            bar.bars = Some(BarSpan::new(next, last));
            next = BarIdx(last.0 + 1);
            true
        });
    }
    let systems = pages.iter_mut().flat_map(|page| &mut page.systems).filter(|system| !system.bars.is_empty());
    if let Some(last) = systems.last().and_then(last_bar)
        && let Some(span) = &mut last.bars
    {
        span.last = span.last.max(whole.last);
    }
    for page in pages {
        page.systems.retain(|system| !system.bars.is_empty());
    }
}

fn last_bar(system: &mut System) -> Option<&mut PrintedBar> {
    system.bars.last_mut()
}

#[cfg(test)]
mod tests;
