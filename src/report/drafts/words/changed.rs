//! What became of pages, parts and findings.

use super::{document, headline, part_name, without_page};
use crate::check::{Compared, Reader};
use crate::compare::{FoundChange, PagePair};
use crate::layout::Page;
use crate::place::BarSpan;
use crate::units::Mm;
use crate::words::{all_listed, counted, listed};

/// Places of findings: "Score, page 14, bar 75: ...". What stands at one place of several readers' parts is told once, and so
/// is what is said in the same words of several pages of one document.
#[must_use]
pub fn found_by_place(all: &[&(Reader, FoundChange)], compared: &Compared) -> Vec<String> {
    let mut said: Vec<(Reader, Vec<&FoundChange>)> = Vec::new();
    for (reader, change) in all {
        let same = |(known, places): &&mut (Reader, Vec<&FoundChange>)| {
            known == reader && places.iter().all(|own| own.fate == change.fate && own.says == change.says)
        };
        match said.iter_mut().find(same) {
            Some((_, places)) => places.push(change),
            None => said.push((*reader, vec![change])),
        }
    }
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for (reader, places) in said {
        let there = found_there(&places, compared);
        let who = document(reader, compared);
        match told.iter_mut().find(|(known, _)| *known == there) {
            Some((_, readers)) => readers.push(who),
            None => told.push((there, vec![who])),
        }
    }
    told.into_iter().map(|(there, readers)| listed(readers) + &there).collect()
}

/// ", page 14, bar 75: ...", or ", pages 2, 3 and 9: ...", of places with the same words.
fn found_there(places: &[&FoundChange], compared: &Compared) -> String {
    let Some((old, new)) = compared.sides() else { return String::new() };
    let spots = places.iter().filter_map(|change| match (&change.new, &change.old) {
        (Some(spot), _) => Some((spot, &new.checked.score)),
        (None, spot) => spot.as_ref().map(|spot| (spot, &old.checked.score)),
    });
    let spots: Vec<_> = spots.collect();
    let mut pages: Vec<String> = spots.iter().filter_map(|(spot, _)| spot.page.clone()).collect();
    pages.dedup();
    let page = match pages.as_slice() {
        [] => String::new(),
        [page] => format!(", page {page}"),
        _ => format!(", pages {}", listed(pages.iter().cloned())),
    };
    // Bars of several pages would tell nothing that the pages do not.
    let bars = spots.iter().filter(|_| pages.len() < 2).filter_map(|(spot, score)| Some(score.span_label(spot.bars?)));
    let bars: Vec<String> = bars.collect();
    let bars = if bars.is_empty() { String::new() } else { format!(", {}", listed(bars)) };
    format!("{page}{bars}: {}", places.first().map_or("", |change| change.says.as_str()))
}

/// What the rulers show, for those who hear it.
#[must_use]
pub fn rulers(compared: &Compared) -> String {
    let (old, new) = (compared.pages.old.pages, compared.pages.new.pages);
    format!(
        "The music of both drafts on one axis, with {} of the old draft above and {} of the new one below. {}",
        counted(old, "page"),
        counted(new, "page"),
        headline(compared)
    )
}

/// "set 8 % tighter", "natural".
#[must_use]
pub fn stretch(stretch: f64) -> String {
    let percent = ((stretch - 1.0) * 100.0).round();
    match percent {
        _ if percent == 0.0 => "natural".to_owned(),
        tighter if tighter < 0.0 => format!("{:.0} % tighter", -tighter),
        looser => format!("{looser:.0} % looser"),
    }
}

/// "Denser: bars 12 to 30. Less dense: bars 40 to 52."
#[must_use]
pub fn density(compared: &Compared) -> String {
    let Some((_, new)) = compared.sides() else { return String::new() };
    let of = |denser: bool| -> Vec<String> {
        let own = compared.pages.density.iter().filter(|own| (own.new > own.old) == denser);
        own.map(|own| new.checked.score.span_label(own.bars)).collect()
    };
    let told = |title: &str, bars: Vec<String>| (!bars.is_empty()).then(|| format!("{title}: {}.", listed(bars)));
    let all: Vec<String> = [told("Denser", of(true)), told("Less dense", of(false))].into_iter().flatten().collect();
    format!("{} Bars that were put in or taken out change no density.", all.join(" "))
}

/// What became of the parts, one line each.
#[must_use]
pub fn parts(compared: &Compared) -> Vec<String> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let mut lines = Vec::new();
    for part in &compared.music.parts {
        let name = part_name(part, compared);
        let was = part.old.and_then(|id| old.checked.score.parts.get(id.at())).map_or("", |part| part.name.as_str());
        let mut told = Vec::new();
        let mut tell = |is: bool, words: String| {
            if is {
                told.push(words);
            }
        };
        tell(part.old.is_none(), "added".to_owned());
        tell(part.new.is_none(), "dropped".to_owned());
        tell(part.renamed, format!("was called {was}"));
        tell(part.reordered, "stands elsewhere in the score".to_owned());
        tell(part.retransposed, "written for another transposition".to_owned());
        if !told.is_empty() {
            lines.push(format!("{name}: {}.", all_listed(&told)));
        }
    }
    lines
}

/// What the figures rest on, and who comes first.
#[must_use]
pub fn caution(compared: &Compared) -> String {
    let estimated = [&compared.pages.old, &compared.pages.new]
        .iter()
        .any(|own| own.footing == Some(crate::layout::Origin::Estimated));
    let pages = if estimated { "Pages that no file records are estimates. " } else { "" };
    let music = if compared.pages_only.is_some() {
        ""
    } else {
        "Sheets of parts are those of their files, or those that are proposed for the old draft. Notes are compared at sounding \
         pitch; bars (measures) bear the printed numbers of the draft that is spoken of. "
    };
    let excerpts: Vec<String> = compared
        .sides()
        .map(|(old, new)| [("old", old), ("new", new)])
        .into_iter()
        .flatten()
        .filter(|(_, draft)| without_page(draft) > 0)
        .map(|(whose, draft)| {
            let bars = counted(without_page(draft) as usize, "bar");
            let stand = if without_page(draft) == 1 { "stands" } else { "stand" };
            format!("The pages of the {whose} draft are an excerpt: {bars} {stand} on none of them. ")
        })
        .collect();
    let excerpts = excerpts.concat();
    format!("{excerpts}{pages}{music}House sheets, librarians and players come first.")
}

/// What differs between two pages, in one line: "6 bars in common, 10 others on the new page; 2 systems for 1 system".
#[must_use]
pub fn pair(pair: &PagePair, old: &Page, new: &Page, compared: &Compared) -> String {
    let mut told = Vec::new();
    if compared.pages_only.is_none() {
        let count = |page: &Page| -> usize {
            let bars = page.systems.iter().flat_map(|system| &system.bars).filter_map(|bar| bar.bars);
            bars.map(|bars| bars.count() as usize).sum()
        };
        let others = |page: &Page, which: &str| {
            let others = count(page).saturating_sub(pair.common);
            (others > 0).then(|| format!("{others} only on the {which} page"))
        };
        let common = Some(format!("{} in common", counted(pair.common, "bar")));
        let all: Vec<String> = [common, others(old, "old"), others(new, "new")].into_iter().flatten().collect();
        told.push(all.join(", "));
    }
    let systems = |page: &Page| counted(page.systems.len(), "system");
    if old.systems.len() != new.systems.len() {
        told.push(format!("{} for {}", systems(new), systems(old)));
    }
    let staves = |page: &Page| page.systems.iter().map(|system| system.staves.len()).sum::<usize>();
    if staves(old) != staves(new) {
        told.push(format!("{} staves in all for {}", staves(new), staves(old)));
    }
    let height =
        |page: &Page| page.systems.iter().flat_map(|system| &system.staves).map(|staff| staff.height).reduce(Mm::max);
    if let Some((old, new)) = height(old).zip(height(new)).filter(|(old, new)| (*new - *old).0.abs() >= 0.05) {
        told.push(format!("{:.1} mm high for {:.1} mm", new.0, old.0));
    }
    let Some((_, draft)) = compared.sides() else { return String::new() };
    let span = new.span().filter(|_| compared.pages_only.is_none());
    for (denser, word) in [(true, "denser"), (false, "less dense")] {
        let own = compared.pages.density.iter().filter(|own| (own.new > own.old) == denser);
        let met = own.filter_map(|own| common_bars(own.bars, span?));
        let bars: Vec<String> = met.map(|bars| draft.checked.score.span_label(bars)).collect();
        if !bars.is_empty() {
            told.push(format!("{word} at {}", listed(bars)));
        }
    }
    if told.is_empty() {
        told.push("staves stand elsewhere on the paper".to_owned());
    }
    told.join("; ") + "."
}

/// The bars that two stretches share.
fn common_bars(one: BarSpan, other: BarSpan) -> Option<BarSpan> {
    let (first, last) = (one.first.max(other.first), one.last.min(other.last));
    (first <= last).then(|| BarSpan::new(first, last))
}
