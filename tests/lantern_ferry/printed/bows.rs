//! What hangs on notes: ties, slurs, articulation, pauses, trills and broken chords.

use std::collections::BTreeMap;

use rastrum::geometry::Rect;
use rastrum::score::EventKind;
use rastrum::units::Mm;

use super::line::{Line, Placed};
use super::paint::{Paint, Point};

const FERMATA: char = '\u{1D110}';
/// A slur is so many boxes to what stands beside it.
const PIECES: i32 = 8;
const TRILL: char = '\u{1D196}';

/// All of it; `ends` are the left and right end of the music on this system.
pub fn draw(paint: &mut Paint, line: &mut Line, ends: (Mm, Mm)) {
    for at in 0..line.events.len() {
        articulation(paint, line, at);
        broken_chord(paint, line, at);
    }
    ties(paint, line, ends);
    slurs(paint, line, ends);
    for at in 0..line.events.len() {
        over_the_note(paint, line, at);
    }
}

/// On the side of the heads.
fn articulation(paint: &mut Paint, line: &mut Line, at: usize) {
    let (staff, thick) = (line.staff, line.fine.stem * 1.2);
    let space = staff.space();
    let own = &mut line.events[at];
    let names: Vec<String> = own.event.signs.names().collect();
    let above = !own.up || own.voice == (0, 2);
    let way = if above { -1.0 } else { 1.0 };
    let x = own.centre();
    for name in ["staccato", "tenuto", "accent", "strong accent"] {
        if !names.iter().any(|own| own == name) {
            continue;
        }
        let edge = if above { own.top } else { own.bottom };
        let y = edge + space * (0.55 * way);
        match name {
            "staccato" => paint.dot((x, y), space * 0.2),
            "tenuto" => paint.stroke((x - space * 0.6, y), (x + space * 0.6, y), thick),
            "accent" => {
                let y = y + space * (0.15 * way);
                let (left, right, half) = (x - space * 0.75, x + space * 0.75, space * 0.4);
                paint.strokes(&[(left, y - half), (right, y), (left, y + half)], thick);
            }
            _ => {
                let y = y + space * (0.3 * way);
                let (half, high) = (space * 0.45, space * 0.6);
                paint.strokes(&[(x - half, y - high * way), (x, y + high * way), (x + half, y - high * way)], thick);
            }
        }
        let more = if name == "staccato" || name == "tenuto" { 0.3 } else { 0.8 };
        own.reach(y + space * (more * way));
    }
}

/// A wavy line before the chord.
fn broken_chord(paint: &mut Paint, line: &Line, at: usize) {
    let own = &line.events[at];
    if !own.event.arpeggio {
        return;
    }
    let space = line.staff.space();
    let has_signs = matches!(&own.event.kind, EventKind::Chord(notes) if notes.iter().any(|note| note.accidental));
    let x = own.x - space * if has_signs { 2.3 } else { 0.9 };
    let (top, bottom) = (line.staff.y(own.highest() + 1), line.staff.y(own.lowest() - 1));
    let waves = ((bottom - top) / (space * 0.5)).ceil().max(2.0) as usize;
    let step = (bottom - top) / waves as f64;
    let points: Vec<Point> =
        (0..=waves).map(|nth| (x + space * if nth % 2 == 0 { 0.18 } else { -0.18 }, top + step * nth as f64)).collect();
    paint.strokes(&points, line.fine.stem * 1.6);
}

fn ties(paint: &mut Paint, line: &Line, (left_end, right_end): (Mm, Mm)) {
    let space = line.staff.space();
    for (at, own) in line.events.iter().enumerate() {
        let EventKind::Chord(notes) = &own.event.kind else { continue };
        for (nth, (note, height)) in notes.iter().zip(&own.heights).enumerate() {
            // The upper notes of a chord bend up, the lower ones down; one note bends away from its stem.
            let up = if notes.len() > 1 { 2 * nth >= notes.len() } else { !own.up };
            let up = if own.voice.1 > 1 { own.voice.0 == 0 } else { up };
            let y = line.staff.y(*height) + space * if up { -0.55 } else { 0.55 };
            let from = own.x + own.width + space * 0.1;
            if note.tie_starts {
                let next = line.after(at).filter(|next| next.heights.contains(height));
                let to = next.map_or(right_end, |next| next.x - space * 0.1);
                bow(paint, (from, y), (to, y), up, space * 0.9, space);
            }
            let begins_here = line.events.iter().take(at).any(|other| other.event.voice == own.event.voice);
            if note.tie_stops && !begins_here {
                bow(paint, (left_end, y), (own.x - space * 0.1, y), up, space * 0.8, space);
            }
        }
    }
}

fn slurs(paint: &mut Paint, line: &mut Line, (left_end, right_end): (Mm, Mm)) {
    // By voice: where the slur began.
    let mut open: BTreeMap<u16, Option<usize>> = BTreeMap::new();
    let mut found: Vec<(Option<usize>, Option<usize>, u16)> = Vec::new();
    for (at, own) in line.events.iter().enumerate().filter(|(_, own)| own.is_chord()) {
        let voice = own.event.voice;
        if own.event.slurs.stops > 0 {
            found.push((open.remove(&voice).flatten(), Some(at), voice));
        }
        if own.event.slurs.starts > 0 {
            open.insert(voice, Some(at));
        }
    }
    found.extend(open.into_iter().map(|(voice, from)| (from, None, voice)));
    for (from, to, voice) in found {
        slur(paint, line, (from, to, voice), (left_end, right_end));
    }
}

fn slur(
    paint: &mut Paint,
    line: &mut Line,
    (from, to, voice): (Option<usize>, Option<usize>, u16),
    (left_end, right_end): (Mm, Mm),
) {
    let space = line.staff.space();
    let first = from.unwrap_or(0);
    let last = to.unwrap_or(line.events.len().saturating_sub(1));
    let under: Vec<usize> =
        (first..=last).filter(|at| line.events[*at].event.voice == voice && line.events[*at].is_chord()).collect();
    let (Some(one), Some(other)) = (under.first(), under.last()) else { return };
    let inner = |at: usize| &line.events[at];
    // Below where all stems go up; of two voices the upper one has its slurs above.
    let up = match inner(*one).voice {
        (0, 2..) => true,
        (_, 2..) => false,
        _ => !under.iter().all(|at| inner(*at).up),
    };
    let way = if up { -1.0 } else { 1.0 };
    let edge = |own: &Placed| if up { own.top } else { own.bottom } + space * (0.5 * way);
    let (start, end) = match (from, to) {
        (Some(_), Some(_)) => {
            ((inner(*one).centre(), edge(inner(*one))), (inner(*other).centre(), edge(inner(*other))))
        }
        (Some(_), None) => ((inner(*one).centre(), edge(inner(*one))), (right_end, edge(inner(*other)))),
        _ => ((left_end, edge(inner(*other))), (inner(*other).centre(), edge(inner(*other)))),
    };
    // High enough for all between: a curve goes three quarters of the way to its handles.
    let level = |x: Mm| start.1 + (end.1 - start.1) * ((x - start.0) / (end.0 - start.0)).clamp(0.0, 1.0);
    let needed = under.iter().map(|at| (edge(inner(*at)) - level(inner(*at).centre())) * way);
    let most = needed.fold(Mm(0.0), Mm::max) + (end.0 - start.0) * 0.06;
    let height = most.max(space * 0.9).min(space * 4.0);
    bow(paint, start, end, up, height / 0.75, space);
    // What it takes up, piece by piece: words keep clear of it.
    let piece = (end.0 - start.0) / f64::from(PIECES);
    for nth in 0..PIECES {
        let left = start.0 + piece * f64::from(nth);
        let middle = (f64::from(nth) + 0.5) / f64::from(PIECES);
        let peak = height * (way * 4.0 * middle * (1.0 - middle)).clamp(-1.0, 1.0);
        let y = level(left + piece / 2.0) + peak;
        line.taken.push(Rect::new(left, y - space * 0.2, left + piece, y + space * 0.2));
    }
}

/// Thin at its ends, thicker in the middle.
fn bow(paint: &mut Paint, from: Point, to: Point, up: bool, height: Mm, space: Mm) {
    let length = to.0 - from.0;
    if length < space * 0.4 {
        return;
    }
    let way = if up { -1.0 } else { 1.0 };
    let inset = (length * 0.25).min(space * 4.0);
    let handle = |x: Mm, y: Mm, height: Mm| (x, y + height * way);
    let inner = height - space * 0.28;
    paint.curved(
        from,
        &[
            [handle(from.0 + inset, from.1, height), handle(to.0 - inset, to.1, height), to],
            [handle(to.0 - inset, to.1, inner), handle(from.0 + inset, from.1, inner), from],
        ],
    );
}

/// Pauses and trills.
fn over_the_note(paint: &mut Paint, line: &mut Line, at: usize) {
    let staff = line.staff;
    let space = staff.space();
    let own = &mut line.events[at];
    let size = staff.height * 0.8;
    if own.event.fermata {
        let y = own.top.min(staff.top) - space * 0.6;
        // The sign stands 0.648 above its baseline and is 0.66 wide.
        paint.glyph(FERMATA, size, (own.centre() - size * 0.38, y + size * 0.648));
        own.reach(y - space * 1.5);
    }
    if own.event.signs.names().any(|name| name == "trill") {
        let y = own.top.min(staff.top) - space * 0.6;
        paint.glyph(TRILL, size, (own.x - size * 0.05, y + size * 0.35));
        own.reach(y - space * 1.6);
    }
}
