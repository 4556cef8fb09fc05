//! Several inputs as the movements of one work: parts matched, bars counted on.

use std::vec::IntoIter;

use super::draft::{BarDraft, Header, LocalStaff, MarkDraft, Music};
use super::error::ReadErrorKind;
use super::groups;
use super::marks;
use super::matching::Matching;
use super::seconds;
use crate::layout::{BarRecord, Record, StaffRecord};
use crate::limits::Limits;
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::score::{Bar, Cell, MarkKind, Movement, Part, Score, Staff, StaffMark, SystemMark, SystemMarkKind};

/// One input, read to its end.
pub(super) struct Input {
    pub header: Header,
    pub music: Music,
}

/// Where the parts and staves of one input stand in the work.
struct Places {
    parts: Vec<PartId>,
    /// The first staff of every part of the work.
    first_staff: Vec<u16>,
}

impl Places {
    fn part(&self, local: usize) -> Option<PartId> {
        self.parts.get(local).copied()
    }

    fn staff(&self, local: LocalStaff) -> Option<StaffId> {
        let part = self.part(usize::from(local.part))?;
        self.first_staff.get(part.at()).and_then(|first| first.checked_add(local.number)).map(StaffId)
    }
}

/// Joins all inputs, of which there is at least one with a bar.
pub(super) fn join(inputs: Vec<Input>, limits: &Limits) -> Result<(Score, Record), ReadErrorKind> {
    let mut matching = Matching::default();
    let slots: Vec<Vec<usize>> = inputs.iter().map(|input| matching.add(&input.header.parts)).collect();
    let (parts, order) = matching.finish();
    let mut score = Score { parts: parts.iter().map(|(part, _)| part.clone()).collect(), ..Score::default() };
    let mut first_staff = Vec::with_capacity(parts.len());
    for (at, (_, staves)) in parts.iter().enumerate() {
        first_staff.push(u16::try_from(score.staves.len()).unwrap_or(u16::MAX));
        let part = PartId(u16::try_from(at).unwrap_or(u16::MAX));
        score.staves.extend((1..=*staves).map(|number| Staff { part, number }));
    }
    let too_many = |what, limit| Err(ReadErrorKind::TooMany { what, limit });
    if score.staves.len() > usize::from(u16::MAX) {
        return too_many("staves", usize::from(u16::MAX));
    }
    let bars: usize = inputs.iter().map(|input| input.music.bars.len()).sum();
    if bars > limits.bars {
        return too_many("bars", limits.bars);
    }
    if bars.saturating_mul(score.staves.len()) > limits.cells {
        return too_many("bars times staves", limits.cells);
    }
    score.cells.reserve_exact(bars * score.staves.len());
    score.bars.reserve_exact(bars);
    let mut tops = Vec::with_capacity(inputs.len());
    let mut work = Work { score, record: Record::default(), marks: Vec::new() };
    work.record.bars.reserve_exact(bars);
    for (at, (input, slots)) in inputs.into_iter().zip(slots).enumerate() {
        let parts: Vec<PartId> = slots.iter().filter_map(|slot| order.get(*slot).copied()).collect();
        let top = parts.iter().min().and_then(|part| first_staff.get(part.at())).copied();
        tops.push(StaffId(top.unwrap_or_default()));
        work.add(u16::try_from(at).unwrap_or(u16::MAX), input, &Places { parts, first_staff: first_staff.clone() });
    }
    let Work { mut score, record, marks: found } = work;
    score.groups = groups::nested(score.groups);
    score.marks = marks::join(found);
    keep_to_their_staves(&mut score, &tops);
    score.tempo_assumed = seconds::fill(&mut score.bars, &score.movements, &score.marks);
    Ok((score, record))
}

/// Words that could be a tempo ("breit"), but stand neither over the top staff nor with a count, are an instruction
/// to the players whose staff they stand over. `tops` are the top staves of the movements.
fn keep_to_their_staves(score: &mut Score, tops: &[StaffId]) {
    let Score { marks, cells, movements, staves, .. } = score;
    marks.retain(|mark| {
        let SystemMarkKind::Tempo { words, metronome: None, quarters_per_minute: None } = &mark.kind else {
            return true;
        };
        let movement = movements.iter().position(|movement| movement.bars.contains(mark.bar));
        let top = movement.and_then(|at| tops.get(at)).copied();
        if mark.over.is_empty() || top.is_none_or(|top| mark.over.contains(&top)) {
            return true;
        }
        for staff in &mark.over {
            if let Some(cell) = cells.get_mut(mark.bar.at() * staves.len() + staff.at()) {
                let at = cell.marks.partition_point(|other| other.onset <= mark.onset);
                let kind = MarkKind::Words(words.clone());
                cell.marks.insert(at, StaffMark { at: mark.at, ..StaffMark::new(mark.onset, kind) });
            }
        }
        false
    });
}

/// The work as it grows.
struct Work {
    score: Score,
    record: Record,
    marks: Vec<SystemMark>,
}

impl Work {
    fn add(&mut self, number: u16, input: Input, places: &Places) {
        let Input { mut header, music } = input;
        let first = u32::try_from(self.score.bars.len()).unwrap_or(u32::MAX);
        let count = u32::try_from(music.bars.len()).unwrap_or(u32::MAX);
        let Some(last) = count.checked_sub(1).and_then(|more| first.checked_add(more)) else { return };
        let span = BarSpan::new(BarIdx(first), BarIdx(last));
        self.titles(&mut header);
        let (title, parts) = (header.movement_title.take(), places.parts.clone());
        self.score.movements.push(Movement { title, bars: span, input: number, parts });
        self.score.concert_pitch = self.score.concert_pitch.or(header.concert_pitch);
        self.score.credits.append(&mut header.credits);
        self.score.groups.extend(header.groups.drain(..).filter_map(|group| {
            let inside = (group.first.at()..=group.last.at()).filter_map(|local| places.part(local));
            let (first, last) = inside.fold((None, None), |(first, last), part: PartId| {
                (Some(first.map_or(part, |known: PartId| known.min(part))), last.max(Some(part)))
            });
            Some(crate::score::Group { first: first?, last: last?, ..group })
        }));
        self.record.staff_heights.push(header.staff_height);
        let defaults = self.defaults(&mut header, places);
        self.record.defaults.push(defaults);
        for part in &header.parts {
            self.score.note_elements += part.part.note_elements;
        }
        self.cells(header, places, music.bars.len());
        self.marks.extend(music.marks.into_iter().filter_map(|mark| placed(mark, first, places)));
        for draft in music.bars {
            let (bar, record) = placed_bar(draft, places);
            self.score.bars.push(bar);
            self.record.bars.push(record);
        }
    }

    fn titles(&mut self, header: &mut Header) {
        if self.score.movements.is_empty() {
            self.score.title = header.work_title.take().or_else(|| header.movement_title.clone());
        }
        if self.score.composer.is_none() {
            self.score.composer = header.composer.take();
        }
    }

    fn defaults(&self, header: &mut Header, places: &Places) -> BarRecord {
        let mut defaults = std::mem::take(&mut header.defaults);
        for (at, staff) in self.score.staves.iter().enumerate() {
            if !places.parts.contains(&staff.part) {
                continue;
            }
            // What is said of this number outweighs what is said of all.
            let distances = &header.default_distances;
            let distance = distances.get(&Some(staff.number)).or_else(|| distances.get(&None)).copied();
            if let (Some(_), Ok(at)) = (distance, u16::try_from(at)) {
                defaults.staves.push((StaffId(at), StaffRecord { distance, ..StaffRecord::default() }));
            }
        }
        defaults
    }

    /// Cells from columns to bars; staves that the input does not have hold silent cells.
    fn cells(&mut self, header: Header, places: &Places, bars: usize) {
        let mut columns: Vec<Option<IntoIter<Cell>>> = Vec::new();
        columns.resize_with(self.score.staves.len(), || None);
        for (local, part) in header.parts.into_iter().enumerate() {
            let Ok(part_number) = u16::try_from(local) else { continue };
            for (number, column) in (0_u16..).zip(part.columns) {
                let staff = places.staff(LocalStaff { part: part_number, number });
                if let Some(place) = staff.and_then(|staff| columns.get_mut(staff.at())) {
                    *place = Some(column.into_iter());
                }
            }
        }
        let mut held: Vec<Cell> = Vec::new();
        held.resize_with(columns.len(), Cell::default);
        let before = self.score.cells.len().checked_sub(columns.len());
        if let Some(last) = before.and_then(|from| self.score.cells.get(from..)) {
            for (held, cell) in held.iter_mut().zip(last) {
                *held = silent_like(cell);
            }
        }
        for _ in 0..bars {
            for (column, held) in columns.iter_mut().zip(&mut held) {
                let cell = column.as_mut().and_then(Iterator::next);
                if let Some(cell) = &cell {
                    (held.clef, held.key, held.transposition) = (cell.clef, cell.key, cell.transposition);
                }
                self.score.cells.push(cell.unwrap_or_else(|| silent_like(held)));
            }
        }
    }
}

fn silent_like(cell: &Cell) -> Cell {
    Cell { clef: cell.clef, key: cell.key, transposition: cell.transposition, ..Cell::default() }
}

fn placed(mark: MarkDraft, first: u32, places: &Places) -> Option<SystemMark> {
    let over = mark.staff.and_then(|staff| places.staff(staff)).into_iter().collect();
    Some(SystemMark {
        bar: BarIdx(first.checked_add(mark.bar)?),
        onset: mark.onset,
        kind: mark.kind,
        over,
        at: mark.at,
    })
}

fn placed_bar(draft: BarDraft, places: &Places) -> (Bar, BarRecord) {
    let mut record = draft.record;
    let staves = draft.staves.into_iter().filter_map(|(staff, record)| Some((places.staff(staff)?, record)));
    record.staves = staves.collect();
    record.staves.sort_by_key(|(staff, _)| *staff);
    (draft.bar, record)
}

/// A part of the work and its number of staves.
pub(super) type WorkPart = (Part, u16);
