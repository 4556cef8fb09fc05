//! A score that says no more than its pages: whose staves there are, and how many bars.
//!
//! Pages without music are looked at by the rules that need none; these need staves and bars to name places by.

use crate::engraved::{self, EngravedPage, EngravedSystem};
use crate::layout::{Layout, Origin, PageKind};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::score::{Bar, Cell, Family, Movement, Part, Position, Score, Sketch, Staff, SystemMark, SystemMarkKind};
use crate::units::Fraction;

use super::staves;

/// The pages, with bars counted on and staves named by the words beside them; and the score that goes with them.
#[must_use]
pub fn alone(pages: &[EngravedPage]) -> (Score, Layout) {
    let mut layout = engraved::layout(pages);
    let mut score = Score { parts: parts(pages), ..Score::default() };
    score.staves = (0..score.parts.len()).map(|at| Staff { part: PartId(at as u16), number: 1 }).collect();
    score.title = engraved::title(pages);
    for (page, engraved) in layout.pages.iter_mut().zip(pages) {
        let is_score = page.kind == PageKind::Music;
        for (system, own) in page.systems.iter_mut().zip(&engraved.systems).filter(|_| is_score) {
            let first = score.bars.len() as u32;
            number(&mut score.bars, engraved, own);
            landmarks(&mut score.marks, engraved, own, first);
            for (printed, bar) in system.bars.iter_mut().zip(first..) {
                printed.bars = Some(BarSpan::one(BarIdx(bar)));
            }
            let last = (score.bars.len() as u32).saturating_sub(1);
            staves::tell(system, own, engraved, BarSpan::new(BarIdx(first), BarIdx(last.max(first))), &score);
            system.breaks = Origin::MEASURED;
        }
    }
    if let Some(bars) = score.all_bars() {
        score.movements = vec![Movement { title: None, bars, input: 0, parts: Vec::new() }];
    }
    let unseen = Cell { sketch: Some(Sketch::Unseen), ..Cell::default() };
    score.cells = vec![unseen; score.bars.len() * score.staves.len()];
    (score, layout)
}

/// One bar for each that is printed, numbered on from the number at the system.
fn number(bars: &mut Vec<Bar>, page: &EngravedPage, system: &EngravedSystem) {
    let printed = system.number.and_then(|at| page.texts.get(at)).map(|text| text.text.as_str());
    let figures = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>().parse::<u32>().ok();
    let last = bars.last().and_then(|bar| bar.label.parse::<u32>().ok());
    let mut next = printed.and_then(figures).unwrap_or_else(|| last.map_or(1, |last| last.saturating_add(1)));
    for own in &system.bars {
        bars.push(Bar { label: next.to_string(), times_played: 1, ..Bar::default() });
        next = next.saturating_add(own.holds);
    }
}

/// Rehearsal marks, each at the bar that it stands over; `first` is the bar that the system begins with.
fn landmarks(marks: &mut Vec<SystemMark>, page: &EngravedPage, system: &EngravedSystem, first: u32) {
    let rect = system.rect();
    let near = |text: &engraved::EngravedText| {
        let away = |other: &EngravedSystem| (other.rect().top - text.rect.bottom).0;
        let below = page.systems.iter().map(away).filter(|away| *away >= 0.0).fold(f64::INFINITY, f64::min);
        (rect.top - text.rect.bottom).0 <= below && rect.top >= text.rect.bottom
    };
    let own = page.texts.iter().filter(|text| text.role == Some(engraved::TextRole::Landmark) && near(text));
    let mut found: Vec<(u32, String)> = own
        .map(|text| {
            let passed = system.bars.iter().take_while(|bar| bar.right < text.rect.right).count();
            (first + passed.min(system.bars.len().saturating_sub(1)) as u32, text.text.clone())
        })
        .collect();
    found.sort();
    marks.extend(found.into_iter().map(|(bar, text)| SystemMark {
        bar: BarIdx(bar),
        onset: Fraction::ZERO,
        kind: SystemMarkKind::Rehearsal(text),
        over: vec![StaffId(0)],
        at: Position::default(),
    }));
}

/// One part a staff of the largest system, named by the words beside it there.
fn parts(pages: &[EngravedPage]) -> Vec<Part> {
    let systems = || pages.iter().flat_map(|page| page.systems.iter().map(move |system| (page, system)));
    let most = systems().map(|(_, system)| system.staves.len()).max().unwrap_or(0);
    let largest = systems().find(|(_, system)| system.staves.len() == most);
    let name = |at: usize| largest.and_then(|(page, system)| staves::words_beside(system, page, at));
    (0..most)
        .map(|at| Part {
            id: format!("staff-{}", at + 1),
            name: name(at).unwrap_or_else(|| format!("staff {}", at + 1)),
            family: Family::Unknown,
            ..Part::default()
        })
        .collect()
}
