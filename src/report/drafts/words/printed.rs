//! Which sheets are printed again, which stay, and why.

use super::{kind, layouts};
use crate::check::{Compared, Reader, Reprint, ReprintKind};
use crate::compare::{Fate, Reason, Sheet, Status, Why};
use crate::layout::Layout;
use crate::place::{BarSpan, PageIdx};
use crate::score::Score;
use crate::words::{all_listed, counted, sentence};

/// What has to be printed of a document: "pages 3-4, leaf for leaf"; "a new part, 3 pages"; empty where nothing.
#[must_use]
pub fn sheets(own: &Reprint, compared: &Compared) -> String {
    let (old, new) = layouts(own.reader, compared);
    if let Some(sheets) = &own.new_sheets {
        let count: usize = sheets.iter().map(|sheet| sheet.pages.len()).sum();
        let all = new.is_some_and(|layout| layout.pages.iter().filter(|page| page.span().is_some()).count() <= count);
        return match own.kind {
            ReprintKind::Added => format!("a new part, {}", counted(count, "page")),
            _ if all => format!("all {} of the new draft", counted(count, "page")),
            _ => format!("{} of the new draft", pages(sheets.iter(), new)),
        };
    }
    let touched: Vec<&Sheet> = own.of_fate(Fate::Print).map(|sheet| &sheet.sheet).collect();
    if touched.is_empty() {
        return String::new();
    }
    let stays = own.sheets.sheets.len() > touched.len();
    let more: usize = own.replacements.iter().map(|own| own.pages.len().saturating_sub(own.room)).sum();
    // Half a leaf is left blank; whole ones go.
    let fewer = own.replacements.iter().any(|own| own.pages.len() + 1 < own.room);
    let fits = match more {
        _ if !stays || own.replacements.is_empty() => String::new(),
        0 if fewer => {
            let all: usize = own.replacements.iter().map(|own| own.pages.len()).sum();
            format!(", {} in their place", counted(all, "page"))
        }
        0 => ", leaf for leaf".to_owned(),
        more => format!(", {} more", counted(more, "page")),
    };
    pages(touched.into_iter(), old) + &fits
}

/// "pages 3-4 and 7", "all 4 pages".
fn pages<'a>(sheets: impl Iterator<Item = &'a Sheet>, layout: Option<&Layout>) -> String {
    let Some(layout) = layout else { return String::new() };
    // Leaves that follow each other are one run.
    let mut runs: Vec<(PageIdx, PageIdx)> = Vec::new();
    for page in sheets.flat_map(|sheet| &sheet.pages) {
        match runs.last_mut() {
            Some((_, last)) if last.0 + 1 == page.0 => *last = *page,
            _ => runs.push((*page, *page)),
        }
    }
    let label = |page: PageIdx| layout.page_label(page);
    let words: Vec<String> = runs
        .iter()
        .map(|(first, last)| if first == last { label(*first) } else { format!("{}-{}", label(*first), label(*last)) })
        .collect();
    let noun = if runs.len() == 1 && runs.iter().all(|(first, last)| first == last) { "page" } else { "pages" };
    format!("{noun} {}", all_listed(&words))
}

/// The sheets that stay on the stand: "pages 1-2", "page 5 with pencil".
#[must_use]
pub fn stays(own: &Reprint, compared: &Compared) -> String {
    let (old, _) = layouts(own.reader, compared);
    let of = |fate: Fate| -> Vec<&Sheet> { own.of_fate(fate).map(|sheet| &sheet.sheet).collect() };
    let told = |sheets: Vec<&Sheet>, after: &str| {
        (!sheets.is_empty()).then(|| format!("{}{after}", pages(sheets.into_iter(), old)))
    };
    let all: Vec<String> =
        [told(of(Fate::Keep), ""), told(of(Fate::ByHand), " with a pencil")].into_iter().flatten().collect();
    if all.is_empty() { "nothing".to_owned() } else { all.join("; ") }
}

/// Why: "bars 33 to 39 out, bars 65 to 69 moved"; empty where nothing changed.
#[must_use]
pub fn why(own: &Reprint, compared: &Compared) -> String {
    const MOST: usize = 4;
    let Some((old, new)) = compared.sides() else { return String::new() };
    if own.sheets.sheets.iter().any(|sheet| sheet.fate == Fate::Print && sheet.why.is_empty()) {
        return "written for another transposition".to_owned();
    }
    // Whether the player rests there is told by the errata.
    let mut gathered: Vec<Why> = Vec::new();
    for why in own.sheets.sheets.iter().flat_map(|sheet| &sheet.why) {
        match gathered.last_mut().filter(|before| before.goes_on_with(why)) {
            Some(before) => before.extend(why),
            None => gathered.push(why.clone()),
        }
    }
    // Bars out, in and moved first: they are what everybody asks about.
    gathered.sort_by_key(|why| match why.reason {
        Reason::Edited(_) => 1,
        Reason::SetOtherwise => 2,
        _ => 0,
    });
    let sets: Vec<bool> = gathered.iter().map(|why| why.reason == Reason::SetOtherwise).collect();
    if sets.iter().all(|set| *set) && !sets.is_empty() {
        return "set otherwise".to_owned();
    }
    let mut told: Vec<String> =
        gathered.iter().map(|why| reason(why, &old.checked.score, &new.checked.score)).collect();
    told.dedup();
    let more = told.len().saturating_sub(MOST);
    told.truncate(MOST);
    if more > 0 {
        told.push(format!("{more} more"));
    }
    told.join(", ")
}

/// Why, for whoever has read [`moves`]: "plays in bars that are out, bar 25 signs"; empty where nothing changed.
#[must_use]
pub fn because(own: &Reprint, compared: &Compared) -> String {
    const MOST: usize = 3;
    let Some((old, new)) = compared.sides() else { return String::new() };
    if own.kind == ReprintKind::Added {
        return "new in the score".to_owned();
    }
    let all: Vec<&Why> = own.sheets.sheets.iter().flat_map(|sheet| &sheet.why).collect();
    let plays = |is: &dyn Fn(&Reason) -> bool| all.iter().any(|why| is(&why.reason) && !why.rests);
    let mut places: Vec<&str> = Vec::new();
    let mut place = |is: bool, words: &'static str| {
        if is {
            places.push(words);
        }
    };
    place(plays(&|reason| *reason == Reason::Out), "out");
    place(plays(&|reason| *reason == Reason::In), "new");
    place(plays(&|reason| matches!(reason, Reason::MovedAway | Reason::MovedIn)), "moved");
    let mut told: Vec<String> = Vec::new();
    if !places.is_empty() {
        let reads = if own.reader == Reader::Conductor { "bars" } else { "plays in bars that are" };
        told.push(format!("{reads} {}", all_listed(&places)));
    }
    let edits: Vec<String> = all
        .iter()
        .filter(|why| matches!(why.reason, Reason::Edited(_)))
        .map(|why| reason(why, &old.checked.score, &new.checked.score))
        .collect();
    let more = edits.len().saturating_sub(MOST);
    told.extend(edits.into_iter().take(MOST));
    if more > 0 {
        told.push(format!("{more} more"));
    }
    if told.is_empty() { why(own, compared) } else { told.join(", ") }
}

fn reason(why: &Why, old: &Score, new: &Score) -> String {
    let bars = |span: BarSpan| old.span_label(span);
    let news = why.new_bars.map_or_else(String::new, |span| new.span_label(span));
    match &why.reason {
        Reason::Edited(what) => {
            let names: Vec<&str> = what.iter().map(|what| kind(*what)).collect();
            format!("{} {}", bars(why.bars), all_listed(&names))
        }
        Reason::Out => format!("{} out", bars(why.bars)),
        Reason::In => format!("{} new", counted(why.new_bars.map_or(1, BarSpan::count) as usize, "bar")),
        Reason::MovedAway => format!("{} moved away", bars(why.bars)),
        Reason::MovedIn => format!("{news} moved here"),
        Reason::SetOtherwise => "the rest set otherwise".to_owned(),
    }
}

/// What was taken out, put in and moved: "Bars 33 to 39 are out. Bars 65 to 69 stand at bars 42 to 46 now."; empty where
/// nothing was.
#[must_use]
pub fn moves(compared: &Compared) -> String {
    const MOST: usize = 6;
    let Some((old, new)) = compared.sides() else { return String::new() };
    let (before, after) = (&old.checked.score, &new.checked.score);
    let mut runs: Vec<(Status, Option<BarSpan>, Option<BarSpan>)> = Vec::new();
    for pair in &compared.music.bars {
        let (one, other) = (pair.old.map(BarSpan::one), pair.new.map(BarSpan::one));
        let next = |before: Option<BarSpan>, own: Option<BarSpan>| match (before, own) {
            (Some(before), Some(own)) => before.last.0 + 1 == own.first.0,
            (None, None) => true,
            _ => false,
        };
        match runs.last_mut() {
            Some((status, olds, news)) if *status == pair.status && next(*olds, one) && next(*news, other) => {
                *olds = olds.zip(one).map(|(all, own)| BarSpan::new(all.first, own.last));
                *news = news.zip(other).map(|(all, own)| BarSpan::new(all.first, own.last));
            }
            _ => runs.push((pair.status, one, other)),
        }
    }
    let told = |(status, olds, news): &(Status, Option<BarSpan>, Option<BarSpan>)| {
        let is = |span: &BarSpan| if span.first == span.last { "is" } else { "are" };
        let stand = |span: &BarSpan| if span.first == span.last { "stands" } else { "stand" };
        match (status, olds, news) {
            (Status::Deleted, Some(olds), _) => Some(format!("{} {} out", before.span_label(*olds), is(olds))),
            (Status::Inserted, _, Some(news)) => Some(format!("{} {} new", after.span_label(*news), is(news))),
            (Status::Moved, Some(olds), Some(news)) => {
                Some(format!("{} {} at {} now", before.span_label(*olds), stand(olds), after.span_label(*news)))
            }
            _ => None,
        }
    };
    let all: Vec<String> = runs.iter().filter_map(told).collect();
    let more = all.len().saturating_sub(MOST);
    let mut lines: Vec<String> = all.iter().take(MOST).map(|text| sentence(text) + ".").collect();
    if more > 0 {
        lines.push(format!("And {}.", counted(more, "more passage")));
    }
    lines.join(" ")
}

/// What printed bar numbers are worth, where some are no longer those of the new draft.
#[must_use]
pub fn numbers(compared: &Compared) -> Option<String> {
    let (old, new) = compared.sides()?;
    let stays = |own: &&Reprint| own.sheets.sheets.iter().any(|sheet| sheet.fate != Fate::Print && sheet.numbers);
    compared.reprint.iter().find(stays)?;
    let differs = |pair: &&crate::compare::BarPair| {
        pair.old
            .zip(pair.new)
            .is_some_and(|(one, other)| old.checked.score.label(one) != new.checked.score.label(other))
    };
    let first = compared.music.bars.iter().find(differs)?.old?;
    Some(format!(
        "From bar {} on the new draft has other bar numbers. Sheets that stay keep the old ones: keep them in the new draft, too, \
         or print everything from there.",
        old.checked.score.place_label(first)
    ))
}
