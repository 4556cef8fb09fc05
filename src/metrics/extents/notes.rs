//! Noteheads, ledger lines, stems, and what is fixed to notes.
//!
//! Heights are in spaces from the outer line; "position" counts half spaces up from the middle line.

use super::marks::Lines;
use super::skyline::{Skyline, Where};
use crate::place::{BarIdx, StaffId};
use crate::score::{Cell, Event, EventKind, Grace, Note, Score, Stem};

/// Middle line to outer line.
const HALF_STAFF: f32 = 2.0;
/// Half a notehead.
const HALF_HEAD: f32 = 0.5;
/// Stems span an octave (common practice).
const STEM: f32 = 3.5;
/// Away from the staff they lose so much for each space (from memory) ...
const SHORTENED: f32 = 0.25;
/// ... down to a sixth (common practice); grace notes have no longer ones.
const SHORTEST_STEM: f32 = 2.5;
/// Every beam after the second lengthens the stem (from memory).
const FURTHER_BEAM: f32 = 0.75;
/// Heights of what is stacked on notes (from memory).
const ARTICULATION: f32 = 1.0;
const ORNAMENT: f32 = 1.8;
const FERMATA: f32 = 2.0;
const TUPLET: f32 = 1.5;
const SLUR: f32 = 1.0;
const LYRIC_LINE: f32 = 2.2;

/// Adds everything that hangs on notes.
pub(super) fn add(score: &Score, staff: StaffId, lines: &Lines, skyline: &mut Skyline) {
    let mut slurs: Vec<OpenSlur> = Vec::new();
    for bar in (0..score.bars.len()).map(|bar| BarIdx(bar as u32)) {
        let Some(cell) = score.cell(bar, staff) else { continue };
        let several_voices = has_several_voices(cell);
        for event in cell.events.iter().filter(|event| event.printed) {
            let EventKind::Chord(notes) = &event.kind else {
                add_fermata(event, bar, skyline);
                continue;
            };
            let Some(chord) = Chord::of(event, notes, cell, lines.octaves_at(bar, event.onset)) else { continue };
            let slurred = follow_slurs(&mut slurs, event, chord, several_voices);
            add_chord(event, chord, bar, several_voices, slurred, skyline);
        }
        add_lyrics(cell, bar, skyline);
    }
}

/// A chord's outer notes and where its stem goes.
#[derive(Clone, Copy)]
struct Chord {
    /// Positions in half spaces above the middle line.
    top: i32,
    bottom: i32,
    stem: Option<Where>,
}

impl Chord {
    fn of(event: &Event, notes: &[Note], cell: &Cell, octaves: i32) -> Option<Chord> {
        let middle = cell.clef_at(event.onset).middle_line_steps() + 7 * octaves;
        let position = |note: &Note| note.pitch.steps() - middle;
        let top = notes.iter().map(position).max()?;
        let bottom = notes.iter().map(position).min()?;
        let stemless = event.value.halvings.is_some_and(|halvings| halvings <= 0);
        let stem = match event.stem {
            Stem::None => None,
            _ if stemless => None,
            Stem::Up => Some(Where::Above),
            Stem::Down => Some(Where::Below),
            Stem::Unknown if event.grace != Grace::No || top + bottom < 0 => Some(Where::Above),
            Stem::Unknown => Some(Where::Below),
        };
        Some(Chord { top, bottom, stem })
    }

    /// How far the heads reach beyond an outer line.
    fn heads(self, side: Where) -> f32 {
        let position = if side == Where::Above { self.top } else { -self.bottom };
        position as f32 / 2.0 - HALF_STAFF + HALF_HEAD
    }

    /// How far the stem reaches beyond an outer line: an octave from the outermost head, at least to the middle line;
    /// a stem that points away from the staff is shorter.
    fn stem_end(self, side: Where, event: &Event) -> f32 {
        let head = self.heads(side) - HALF_HEAD;
        let outwards = (head + HALF_STAFF).max(0.0);
        let length = match event.grace {
            Grace::No => (STEM - SHORTENED * outwards).max(SHORTEST_STEM),
            _ => SHORTEST_STEM,
        };
        let beams = f32::from(event.beams.saturating_sub(2)) * FURTHER_BEAM;
        (head + length + beams).max(-HALF_STAFF)
    }

    /// The side of the heads, where articulations and slurs stand.
    fn head_side(self) -> Where {
        if self.stem == Some(Where::Above) { Where::Below } else { Where::Above }
    }
}

fn has_several_voices(cell: &Cell) -> bool {
    let mut voices = cell.events.iter().filter(|event| event.printed && matches!(event.kind, EventKind::Chord(_)));
    let Some(first) = voices.next() else { return false };
    voices.any(|event| event.voice != first.voice)
}

fn add_chord(
    event: &Event,
    chord: Chord,
    bar: BarIdx,
    several_voices: bool,
    slurred: Option<Where>,
    sky: &mut Skyline,
) {
    let part = sky.part(bar, event.onset);
    let (mut above, mut below) = (chord.heads(Where::Above), chord.heads(Where::Below));
    match chord.stem {
        Some(Where::Above) => above = chord.stem_end(Where::Above, event),
        Some(Where::Below) => below = chord.stem_end(Where::Below, event),
        None => {}
    }
    // Of two voices on a staff each keeps its marks on its own side, which is the side of its stem.
    let mark_side = if several_voices { chord.stem.unwrap_or(Where::Above) } else { chord.head_side() };
    let slot = |side: Where, height: f32, above: &mut f32, below: &mut f32| match side {
        Where::Above => *above += height,
        Where::Below => *below += height,
    };
    slot(mark_side, f32::from(event.articulations) * ARTICULATION, &mut above, &mut below);
    if let Some(side) = slurred {
        slot(side, SLUR, &mut above, &mut below);
    }
    if event.tuplet_starts {
        slot(chord.stem.unwrap_or(Where::Above), TUPLET, &mut above, &mut below);
    }
    if event.ornaments > 0 {
        above = above.max(0.0) + ORNAMENT;
    }
    if event.fermata {
        above = above.max(0.0) + FERMATA;
    }
    sky.reach(Where::Above, part, above);
    sky.reach(Where::Below, part, below);
}

fn add_fermata(event: &Event, bar: BarIdx, skyline: &mut Skyline) {
    if event.fermata {
        let part = skyline.part(bar, event.onset);
        skyline.reach(Where::Above, part, FERMATA);
    }
}

fn add_lyrics(cell: &Cell, bar: BarIdx, skyline: &mut Skyline) {
    let verses = cell.events.iter().flat_map(|event| &event.lyrics).map(|syllable| syllable.verse).max().unwrap_or(0);
    if verses > 0 {
        let run = skyline.run_of_bar(bar);
        skyline.stack(Where::Below, run, f32::from(verses) * LYRIC_LINE);
    }
}

/// A slur that has begun: it keeps its side to the end.
struct OpenSlur {
    voice: u16,
    side: Where,
    count: u8,
}

/// The side on which a slur passes this event.
fn follow_slurs(open: &mut Vec<OpenSlur>, event: &Event, chord: Chord, several_voices: bool) -> Option<Where> {
    if event.slurs.starts > 0 {
        let side = if several_voices { chord.stem.unwrap_or(Where::Above) } else { chord.head_side() };
        match open.iter_mut().find(|slur| slur.voice == event.voice) {
            Some(slur) => slur.count = slur.count.saturating_add(event.slurs.starts),
            None => open.push(OpenSlur { voice: event.voice, side, count: event.slurs.starts }),
        }
    }
    let at = open.iter().position(|slur| slur.voice == event.voice)?;
    let slur = open.get_mut(at)?;
    let side = slur.side;
    slur.count = slur.count.saturating_sub(event.slurs.stops);
    if slur.count == 0 {
        open.swap_remove(at);
    }
    Some(side)
}
