//! The score that an outline plans.

use super::Plan;
use super::forces::Force;
use super::sections::Section;
use super::table::Troubles;
use crate::limits::Limits;
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::read::error::ReadErrorKind;
use crate::read::{groups, seconds};
use crate::score::{
    Bar, Barline, Cell, Family, Group, GroupSymbol, Movement, Part, Score, Staff, SystemMark, SystemMarkKind,
};
use crate::units::Fraction;

impl Plan {
    /// `None` when it is larger than any work; that is told.
    pub fn build(self, limits: &Limits, troubles: &mut Troubles) -> Option<Score> {
        let staves: usize = self.forces.all.iter().map(|force| usize::from(force.staves)).sum();
        let bars = self.sections.iter().map(|section| section.bars as usize).fold(0, usize::saturating_add);
        let movements = self.sections.iter().filter(|section| section.movement.is_some()).count();
        let caps = [
            ("movements", movements, limits.movements),
            ("staves", staves, usize::from(u16::MAX)),
            ("bars", bars, limits.bars),
            ("bars times staves", bars.saturating_mul(staves), limits.cells),
        ];
        if let Some((what, _, limit)) = caps.into_iter().find(|(_, found, limit)| found > limit) {
            troubles.push(ReadErrorKind::TooMany { what, limit }.into());
            return None;
        }
        let mut score = Score { title: self.title, composer: self.composer, ..Score::default() };
        score.parts = self.forces.all.iter().zip(1..).map(|(force, number)| part(force, number)).collect();
        for (at, force) in self.forces.all.iter().enumerate() {
            let part = PartId(at as u16);
            score.staves.extend((1..=force.staves).map(|number| Staff { part, number }));
        }
        score.groups = groups::nested(brackets(&self.forces.all));
        score.bars.reserve_exact(bars);
        score.cells.reserve_exact(bars * staves);
        for section in &self.sections {
            add(section, &self.forces.all, &mut score);
        }
        end_movement(&mut score);
        score.tempo_assumed = seconds::fill(&mut score.bars, &score.movements, &score.marks);
        Some(score)
    }
}

fn part(force: &Force, number: u32) -> Part {
    Part {
        id: format!("P{number}"),
        name: force.name.clone(),
        abbreviation: force.abbreviation.clone(),
        family: force.family,
        ..Part::default()
    }
}

/// Brackets over neighbours of one family, braces over the staves of one player (common practice).
fn brackets(forces: &[Force]) -> Vec<Group> {
    let mut groups = Vec::new();
    let mut first = 0;
    for family in forces.chunk_by(|one, other| one.family == other.family) {
        let last = first + family.len() - 1;
        let over = |first: usize, last: usize, symbol| Group {
            first: PartId(first as u16),
            last: PartId(last as u16),
            symbol,
            name: String::new(),
            joins_barlines: Some(true),
            level: 0,
        };
        let is_family = !matches!(family.first().map(|force| force.family), Some(Family::Keyboard | Family::Unknown));
        if is_family && last > first {
            groups.push(over(first, last, GroupSymbol::Bracket));
        }
        let players = (first..).zip(family).filter(|(_, force)| force.staves > 1);
        groups.extend(players.map(|(at, _)| over(at, at, GroupSymbol::Brace)));
        first = last + 1;
    }
    groups
}

fn add(section: &Section, forces: &[Force], score: &mut Score) {
    let first = BarIdx(score.bars.len() as u32);
    if section.movement.is_some() || score.movements.is_empty() {
        end_movement(score);
        let title = section.movement.clone().filter(|title| !title.is_empty());
        score.movements.push(Movement { title, bars: BarSpan::one(first), input: 0, parts: Vec::new() });
    }
    let movement_first = score.movements.last().map_or(first, |movement| movement.bars.first);
    let begins = movement_first == first;
    let changes = begins || score.bars.last().and_then(|bar| bar.metre.as_ref()) != Some(&section.metre);
    for bar in first.0..first.0 + section.bars {
        score.bars.push(Bar {
            label: (bar - movement_first.0 + 1).to_string(),
            length: section.metre.length,
            metre: Some(section.metre.clone()),
            metre_changes: changes && bar == first.0,
            times_played: 1,
            ..Bar::default()
        });
        for (force, sketch) in forces.iter().zip(&section.plays) {
            let cell = Cell { sketch: Some(*sketch), ..Cell::default() };
            score.cells.extend(std::iter::repeat_n(cell, usize::from(force.staves)));
        }
    }
    if let Some(movement) = score.movements.last_mut() {
        movement.bars.last = BarIdx(first.0 + section.bars - 1);
    }
    score.marks.extend(marks(section, first));
}

fn end_movement(score: &mut Score) {
    if let Some(bar) = score.bars.last_mut() {
        bar.right = Barline { is_final: true, ..Barline::default() };
    }
}

fn marks(section: &Section, bar: BarIdx) -> Vec<SystemMark> {
    let mark = |kind, over| SystemMark { bar, onset: Fraction::ZERO, kind, over, at: Default::default() };
    let top = || vec![StaffId(0)];
    let mut marks = Vec::new();
    if let Some(text) = section.mark.clone().filter(|text| !text.is_empty()) {
        marks.push(mark(SystemMarkKind::Rehearsal(text), top()));
    }
    let quarters_per_minute = section.tempo.as_ref().map(|tempo| tempo.quarters).or(section.computed);
    let metronome = section.tempo.as_ref().map(|tempo| tempo.mark.clone());
    let is_printed = metronome.is_some() || !section.words.is_empty();
    if is_printed || quarters_per_minute.is_some() {
        let kind = SystemMarkKind::Tempo { words: section.words.clone(), metronome, quarters_per_minute };
        // A tempo that only follows from bars and minutes is not printed.
        marks.push(mark(kind, if is_printed { top() } else { Vec::new() }));
    }
    marks
}
