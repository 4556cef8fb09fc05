//! What changed, in words that paper, terminal and JSON share.

use crate::check::{Compared, Draft, PagesOnly, PartChecked, Reader, Reprint, ReprintKind};
use crate::compare::{Fate, FoundChange, FoundFate, Reason, Sheet, Status, TurnFate, Why};
use crate::layout::Layout;
use crate::place::{BarSpan, PageIdx};
use crate::rules::Weight;
use crate::score::Score;
use crate::words::{all_listed, counted, in_words, listed, sentence};

/// One sentence on the whole.
#[must_use]
pub fn headline(compared: &Compared) -> String {
    let mut clauses: Vec<String> = Vec::new();
    if let Some(why) = compared.pages_only {
        clauses.push(match why {
            PagesOnly::NoMusic => "compared as pages alone, since nobody gave the music".to_owned(),
            PagesOnly::OtherPieces(share) => {
                format!("two different pieces: {:.0} % of the music is alike; compared as pages alone", share * 100.0)
            }
            PagesOnly::NoCommonPart => "no part of the one is in the other; compared as pages alone".to_owned(),
        });
    }
    let pages: Vec<String> = [length(compared), height(compared)].into_iter().flatten().collect();
    if !pages.is_empty() {
        clauses.push(pages.join(", "));
    }
    if compared.pages_only.is_none() {
        clauses.push(music(compared));
    }
    clauses.extend([findings(compared), turns(compared)].into_iter().flatten());
    if clauses.is_empty() {
        clauses.push("nothing changed".to_owned());
    }
    sentence(&clauses.join("; ")) + "."
}

/// "2 pages longer".
fn length(compared: &Compared) -> Option<String> {
    let (old, new) = (compared.pages.old.pages, compared.pages.new.pages);
    match old.abs_diff(new) {
        0 => None,
        by => Some(format!("{} {}", counted(by, "page"), if new > old { "longer" } else { "shorter" })),
    }
}

/// "staves of 4.5 mm for 4.2 mm".
fn height(compared: &Compared) -> Option<String> {
    let (old, new) = (compared.pages.old.usual_staff?, compared.pages.new.usual_staff?);
    let told = ((new - old).0.abs() >= 0.05).then(|| format!("staves of {:.1} mm for {:.1} mm", new.0, old.0));
    told
}

/// "7 bars out, 12 moved, 6 edited; one part added".
fn music(compared: &Compared) -> String {
    let music = &compared.music;
    if music.is_same() {
        return "the music is the same".to_owned();
    }
    let edited = music.bars.iter().filter(|bar| bar.status == Status::Edited && bar.is_edited()).count();
    let counts = [
        (music.count(Status::Deleted), "out"),
        (music.count(Status::Inserted), "in"),
        (music.count(Status::Moved), "moved"),
        (edited, "edited"),
    ];
    let mut bars: Vec<String> = Vec::new();
    for (count, word) in counts.into_iter().filter(|(count, _)| *count > 0) {
        let number = if bars.is_empty() { counted(count, "bar") } else { count.to_string() };
        bars.push(format!("{number} {word}"));
    }
    let parts = |is: &dyn Fn(&crate::compare::PartPair) -> bool| music.parts.iter().filter(|part| is(part)).count();
    let of_parts = [
        (parts(&|part| part.old.is_none()), "added"),
        (parts(&|part| part.new.is_none()), "dropped"),
        (parts(&|part| part.renamed), "renamed"),
        (parts(&|part| part.reordered), "elsewhere in the score"),
        (parts(&|part| part.retransposed), "written for another transposition"),
    ];
    let told = of_parts.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> =
        told.map(|(count, word)| format!("{} {word}", crate::words::counted_in_words(count, "part"))).collect();
    let told = [bars.join(", "), parts.join(", ")];
    let told: Vec<&str> = told.iter().map(String::as_str).filter(|text| !text.is_empty()).collect();
    if told.is_empty() { "only stems and beams differ in the music".to_owned() } else { told.join("; ") }
}

/// "three places mended, one new": of those to be mended.
fn findings(compared: &Compared) -> Option<String> {
    let count = |fate: FoundFate| {
        let own = compared.findings.iter().filter(|(_, change)| change.fate == fate && !change.accepted);
        own.filter(|(_, change)| change.weight >= Weight::Mend).count()
    };
    let (mended, new) = (count(FoundFate::Mended), count(FoundFate::New));
    let places = |count: usize| crate::words::counted_in_words(count, "place");
    match (mended, new) {
        (0, 0) => None,
        (0, new) => Some(format!("{} to mend new", places(new))),
        (mended, 0) => Some(format!("{} mended, none new", places(mended))),
        (mended, new) => Some(format!("{} mended, {} new", places(mended), in_words(new))),
    }
}

/// "Cellos lost a turn at 88; the conductor won one".
fn turns(compared: &Compared) -> Option<String> {
    let score = &compared.sides()?.1.checked.score;
    let mut told = Vec::new();
    for own in &compared.turns {
        let of = |fate: TurnFate| own.changes.iter().filter(move |change| change.fate == fate);
        let (lost, won) = (of(TurnFate::Lost).count(), of(TurnFate::Won).count());
        let who = match own.reader {
            Reader::Conductor => "the conductor".to_owned(),
            Reader::Player(_) => document(own.reader, compared),
        };
        if lost > 0 {
            let bars: Vec<String> =
                of(TurnFate::Lost).filter_map(|change| Some(score.place_label(change.new_after?))).collect();
            let turns = if lost == 1 { "a turn".to_owned() } else { format!("{} turns", in_words(lost)) };
            told.push(format!("{who} lost {turns} at {}", listed(bars)));
        }
        if won > 0 {
            told.push(format!(
                "{who} won {}",
                if won == 1 { "a turn".to_owned() } else { format!("{} turns", in_words(won)) }
            ));
        }
    }
    (!told.is_empty()).then(|| listed(told))
}

/// Whose document it is: "Score", or the player's name.
#[must_use]
pub fn document(reader: Reader, compared: &Compared) -> String {
    match reader {
        Reader::Conductor => "Score".to_owned(),
        Reader::Player(at) => compared.players.get(at).map_or_else(String::new, |player| player.name.clone()),
    }
}

/// The pages of one document in the old and in the new draft.
#[must_use]
pub fn layouts(reader: Reader, compared: &Compared) -> (Option<&Layout>, Option<&Layout>) {
    let Some((old, new)) = compared.sides() else { return (None, None) };
    match reader {
        Reader::Conductor => (Some(&old.checked.layout), Some(&new.checked.layout)),
        Reader::Player(at) => {
            let player = compared.players.get(at);
            let (one, other) = (player.and_then(|own| own.old), player.and_then(|own| own.new));
            (layout(old, one), layout(new, other))
        }
    }
}

fn layout(draft: &Draft, part: Option<usize>) -> Option<&Layout> {
    draft.parts.as_ref()?.parts.get(part?).map(PartChecked::layout)
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
    let more: usize = own.replacements.iter().map(|own| own.needed.saturating_sub(own.room)).sum();
    let fits = match more {
        _ if !stays || own.replacements.is_empty() => String::new(),
        0 => ", leaf for leaf".to_owned(),
        more => format!(", {} more", counted(more, "page")),
    };
    pages(touched.into_iter(), old) + &fits
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
        let next = |one: Option<BarSpan>, other: Option<BarSpan>| match (one, other) {
            (Some(one), Some(other)) => one.last.0 + 1 == other.first.0,
            (None, None) => true,
            _ => false,
        };
        let goes_on = |before: &&mut Why| {
            let here = matches!(why.reason, Reason::In | Reason::MovedIn);
            before.reason == why.reason
                && next(before.new_bars, why.new_bars)
                && (here || next(Some(before.bars), Some(why.bars)))
        };
        match gathered.last_mut().filter(goes_on) {
            Some(before) => {
                before.bars.last = why.bars.last;
                before.new_bars =
                    before.new_bars.zip(why.new_bars).map(|(one, other)| BarSpan::new(one.first, other.last));
            }
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

/// The errata slip: "Clarinet 2, bar 143, beat 3: F sharp for F".
#[must_use]
pub fn slip(compared: &Compared) -> Vec<String> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let score = &old.checked.score;
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    for own in &compared.reprint {
        for erratum in &own.sheets.errata {
            let comma = if erratum.onset.is_some() { ", " } else { ": " };
            let text = format!("bar {}{comma}{}", score.place_label(erratum.old_bar), erratum.text);
            let who = document(own.reader, compared);
            match lines.iter_mut().find(|(known, _)| *known == text) {
                Some((_, names)) => names.push(who),
                None => lines.push((text, vec![who])),
            }
        }
    }
    lines.into_iter().map(|(text, names)| format!("{}, {text}", listed(names))).collect()
}

/// One place of a finding: "Score, page 14, bar 75: ...".
#[must_use]
pub fn found(reader: Reader, change: &FoundChange, compared: &Compared) -> String {
    let Some((old, new)) = compared.sides() else { return String::new() };
    let (spot, score) = match (&change.new, &change.old) {
        (Some(spot), _) => (Some(spot), &new.checked.score),
        (None, spot) => (spot.as_ref(), &old.checked.score),
    };
    let page = spot.and_then(|spot| spot.page.clone()).map(|page| format!("page {page}"));
    let bars = spot.and_then(|spot| spot.bars).map(|bars| score.span_label(bars));
    let place: Vec<String> = [Some(document(reader, compared)), page, bars].into_iter().flatten().collect();
    format!("{}: {}", place.join(", "), change.says)
}

/// The same by player, each line once for each.
#[must_use]
pub fn slip_by_player(compared: &Compared) -> Vec<(String, Vec<String>)> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let score = &old.checked.score;
    let mut all: Vec<(String, Vec<String>)> = Vec::new();
    for own in compared.reprint.iter().filter(|own| !own.sheets.errata.is_empty()) {
        let lines: Vec<String> = own
            .sheets
            .errata
            .iter()
            .map(|erratum| {
                let comma = if erratum.onset.is_some() { ", " } else { ": " };
                format!("Bar {}{comma}{}", score.place_label(erratum.old_bar), erratum.text)
            })
            .collect();
        let who = document(own.reader, compared);
        // Players with the same lines share a slip.
        match all.iter_mut().find(|(_, known)| *known == lines) {
            Some((names, _)) => *names = format!("{names}, {who}"),
            None => all.push((who, lines)),
        }
    }
    all
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

/// The name of a part, the new one where there is one.
#[must_use]
pub fn part_name(part: &crate::compare::PartPair, compared: &Compared) -> String {
    let Some((old, new)) = compared.sides() else { return String::new() };
    let name = |draft: &Draft, id: Option<crate::place::PartId>| {
        id.and_then(|id| draft.checked.score.parts.get(id.at())).map(|part| part.name.clone())
    };
    name(new, part.new).or_else(|| name(old, part.old)).unwrap_or_default()
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
    format!(
        "{pages}Sheets of parts are those of their files, or those that are proposed for the old draft. Notes are compared at \
         sounding pitch; bars (measures) bear the printed numbers of the draft that is spoken of. House sheets, librarians and \
         players come first."
    )
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

/// What differs between two pages, in one line.
#[must_use]
pub fn pair(pair: &crate::compare::PagePair, old: &crate::layout::Page, new: &crate::layout::Page) -> String {
    let systems = |page: &crate::layout::Page| counted(page.systems.len(), "system");
    let mut told = vec![format!("{} in common", counted(pair.common, "bar"))];
    if old.systems.len() != new.systems.len() {
        told.push(format!("{} for {}", systems(new), systems(old)));
    }
    let staves = |page: &crate::layout::Page| page.systems.iter().map(|system| system.staves.len()).sum::<usize>();
    if staves(old) != staves(new) {
        told.push(format!("{} for {} staves", staves(new), staves(old)));
    }
    sentence(&told.join("; ")) + "."
}

/// A kind of change as a musician calls it.
#[must_use]
pub fn kind(what: crate::compare::What) -> &'static str {
    match what {
        crate::compare::What::Landmarks => "letters",
        crate::compare::What::Signs => "signs at the notes",
        other => other.name(),
    }
}
