//! The casting-off sheet: where pages and systems would begin as proposed, for whoever sets the breaks.

use std::collections::BTreeSet;

use super::{heading, paragraph, style};
use crate::check::Checked;
use crate::layout::{Layout, Page, System};
use crate::place::{BarIdx, PartId};
use crate::report::pdf::{Block, Cell, Column, Level, Row, Table, TableStyle};
use crate::score::{Movement, Score};
use crate::units::Mm;
use crate::words::{all_listed, counted};

/// The bookmark's words, and the heading's.
pub const TITLE: &str = "Casting off, as proposed";
/// Set closer to natural than this nobody sees a difference.
const NATURAL: f64 = 0.03;
/// So many players are named one by one, more are counted.
const NAMED: usize = 8;

/// `None` where nothing is proposed, or nothing else than the pages at hand.
pub fn blocks(checked: &Checked) -> Option<Vec<Block>> {
    let proposed = &checked.proposal.as_ref()?.layout;
    if begins(proposed) == begins(&checked.layout) {
        return None;
    }
    let score = &checked.score;
    let mut blocks = vec![heading(Level::One, TITLE, "casting-off"), paragraph(introduction(checked, proposed))];
    for (at, movement) in score.movements.iter().enumerate() {
        let own = |page: &&Page| page.span().is_some_and(|span| movement.bars.contains(span.first));
        let pages: Vec<&Page> = proposed.pages.iter().filter(own).collect();
        if score.movements.len() > 1 {
            let number = format!("Movement {}", at + 1);
            let title = movement.title.as_ref().map_or(number.clone(), |title| format!("{number}: {title}"));
            blocks.push(heading(Level::Two, &title, &format!("casting-off-{}", at + 1)));
        }
        blocks.push(paragraph(beginnings(score, movement, &pages)));
        blocks.push(Block::Table(table(score, &pages)));
    }
    Some(blocks)
}

/// Where pages and systems begin.
fn begins(layout: &Layout) -> Vec<(bool, Option<BarIdx>)> {
    layout.systems().map(|(_, at, system)| (at == 0, system.span().map(|span| span.first))).collect()
}

fn introduction(checked: &Checked, proposed: &Layout) -> String {
    let (now, then) = (checked.layout.pages.len(), proposed.pages.len());
    let against = match (checked.is_forecast, now == then) {
        (false, true) => format!("The same {} as now, divided otherwise.", counted(now, "page")),
        (false, false) => format!("{} instead of {now}.", counted(then, "page")),
        (true, true) => format!("{}, as automatic layout would take.", counted(now, "page")),
        (true, false) => format!("{} instead of the {now} that automatic layout would take.", counted(then, "page")),
    };
    format!(
        "{against} An estimate, worked out from the music; try a page or two before setting all breaks. \
         --write-breaks OUT.mxl writes a copy of the score with these breaks and nothing else changed."
    )
}

/// "Pages begin at 1, 12 and 24; systems also at 6, 18 and 30."
fn beginnings(score: &Score, movement: &Movement, pages: &[&Page]) -> String {
    let label = |system: &System| system.span().map(|span| score.label(span.first).to_owned());
    let firsts: Vec<String> = pages.iter().filter_map(|page| label(page.systems.first()?)).collect();
    let others: Vec<String> = pages.iter().flat_map(|page| page.systems.iter().skip(1)).filter_map(label).collect();
    let systems = match others.as_slice() {
        [] if movement.bars.count() > 1 => "; one system a page.".to_owned(),
        [] => ".".to_owned(),
        others => format!("; systems also at {}.", all_listed(others)),
    };
    format!("Pages begin at {}{systems}", all_listed(&firsts))
}

fn table(score: &Score, pages: &[&Page]) -> Table {
    let rows = pages.iter().flat_map(|page| {
        page.systems.iter().enumerate().map(move |(at, system)| {
            let number = if at == 0 { page.label.clone() } else { String::new() };
            let cells = [bars(score, system), tightness(system), shown(score, pages, system)];
            Row::new(std::iter::once(Cell::head(number)).chain(cells.into_iter().map(Cell::new)))
        })
    });
    Table {
        columns: vec![Column::fixed(Mm(13.0)), Column::fixed(Mm(24.0)), Column::fixed(Mm(24.0)), Column::share(1)],
        head: vec![Row::new(["Page", "Bars", "Set", "Shows"])],
        body: rows.collect(),
        style: TableStyle::new(style::SMALL).spaced(Mm(1.0), Mm(2.0)),
        caption: None,
    }
}

fn bars(score: &Score, system: &System) -> String {
    let Some(span) = system.span() else { return String::new() };
    let (first, last) = (score.label(span.first), score.label(span.last));
    if span.count() == 1 { first.to_owned() } else { format!("{first} to {last}") }
}

/// "naturally", "7 % tighter", "12 % looser".
fn tightness(system: &System) -> String {
    match system.stretch {
        None => String::new(),
        Some(stretch) if (stretch - 1.0).abs() < NATURAL => "naturally".to_owned(),
        Some(stretch) if stretch < 1.0 => format!("{:.0} % tighter", (1.0 - stretch) * 100.0),
        Some(stretch) => format!("{:.0} % looser", (stretch - 1.0) * 100.0),
    }
}

/// Which players of its movement stand on the system. A part that is there with fewer staves, undivided, is there.
fn shown(score: &Score, pages: &[&Page], system: &System) -> String {
    let all: BTreeSet<PartId> = pages.iter().flat_map(|page| &page.systems).flat_map(|own| parts(score, own)).collect();
    let own: BTreeSet<PartId> = parts(score, system).collect();
    let missing: BTreeSet<PartId> = all.difference(&own).copied().collect();
    let (missing, only) = (names(score, &missing), names(score, &own));
    match (missing.len(), only.len()) {
        (0, _) => "all".to_owned(),
        (left_out, shown) if left_out > NAMED && shown > NAMED => format!("{} of {} parts", own.len(), all.len()),
        (left_out, shown) if shown < left_out => format!("only {}", all_listed(&only)),
        _ => format!("without {}", all_listed(&missing)),
    }
}

fn parts<'a>(score: &'a Score, system: &'a System) -> impl Iterator<Item = PartId> + 'a {
    let staves = system.staves.iter().filter_map(|staff| staff.staff);
    staves.filter_map(|staff| score.staves.get(staff.at())).map(|staff| staff.part)
}

/// Short names, neighbours of one name once.
fn names(score: &Score, parts: &BTreeSet<PartId>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for part in parts.iter().filter_map(|part| score.parts.get(part.at())) {
        let short = part.abbreviation.trim();
        let name = if short.is_empty() { part.name.trim() } else { short };
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if names.last() != Some(&name) {
            names.push(name);
        }
    }
    names
}
