//! What follows from the notes once they stand on a staff: heights, stems and beams.

use crate::orchestra::{FL2, PICCOLO, Staff, clef_of, part_of};
use crate::pitch::{Pitch, Transposition};
use crate::score::{BarHead, Item, Kind, Movement, QUARTER};

/// Beam number (from 1) and the word MusicXML has for this note's share in it.
pub type Beam = (u32, &'static str);

#[derive(Clone, Debug, Default)]
pub struct Drawn {
    /// `None` for rests and whole notes.
    pub stem_up: Option<bool>,
    pub beams: Vec<Beam>,
}

/// The transposition in force: the second flute's changes when it takes the piccolo.
pub fn transposition(movement: &Movement, bar: usize, staff: Staff) -> Transposition {
    let taken = movement.takes.iter().find(|(of, (from, to), _)| *of == staff && (*from..=*to).contains(&bar));
    match (movement.piccolo, taken) {
        (Some((from, to)), _) if staff == FL2 && (from..=to).contains(&bar) => PICCOLO,
        (_, Some((_, _, by))) => *by,
        _ => part_of(staff).transposition,
    }
}

/// Heights of the written heads in half spaces from the middle line, octave lines taken into account.
pub fn heights(item: &Item, staff: Staff, by: Transposition) -> Vec<i32> {
    let place = |pitch: &Pitch| pitch.written(by).steps() - 7 * item.octave_line - clef_of(staff).middle_line();
    match &item.kind {
        Kind::Notes(pitches) => pitches.iter().map(place).collect(),
        _ => Vec::new(),
    }
}

/// Stems and beams of one voice in one bar; of two voices the first has all stems up.
pub fn draw(items: &[Item], staff: Staff, by: Transposition, head: &BarHead, voice: Option<usize>) -> Vec<Drawn> {
    let mut drawn = vec![Drawn::default(); items.len()];
    for group in groups(items, head) {
        let all: Vec<i32> = group.iter().flat_map(|&index| heights(&items[index], staff, by)).collect();
        let (highest, lowest) = (all.iter().max().copied().unwrap_or(0), all.iter().min().copied().unwrap_or(0));
        let up = voice.map_or(highest + lowest < 0, |voice| voice == 0);
        for (place, &index) in group.iter().enumerate() {
            drawn[index].stem_up = (items[index].value > 0 && !all.is_empty()).then_some(up);
            drawn[index].beams = if group.len() > 1 { beams(items, &group, place) } else { Vec::new() };
        }
    }
    drawn
}

/// Items beamed together share a group; every other item is a group of its own.
fn groups(items: &[Item], head: &BarHead) -> Vec<Vec<usize>> {
    let beat = if head.metre.1 == 8 { QUARTER * 3 / 2 } else { QUARTER };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let (mut at, mut open_beat) = (0, None);
    for (index, item) in items.iter().enumerate() {
        let beamed = matches!(item.kind, Kind::Notes(_)) && item.value >= 3 && item.units > 0;
        let here = beamed.then_some(at / beat);
        match groups.last_mut() {
            Some(group) if beamed && open_beat == here => group.push(index),
            _ => groups.push(vec![index]),
        }
        open_beat = here;
        at += item.units;
    }
    groups
}

fn beams(items: &[Item], group: &[usize], place: usize) -> Vec<Beam> {
    let count = |at: usize| group.get(at).map_or(0, |&index| items[index].value - 2);
    let word = |level: u32| {
        let before = place > 0 && count(place - 1) >= level;
        let after = count(place + 1) >= level;
        match (before, after) {
            (true, true) => "continue",
            (true, false) => "end",
            (false, true) => "begin",
            (false, false) if place == 0 => "forward hook",
            (false, false) => "backward hook",
        }
    };
    (1..=count(place)).map(|level| (level, word(level))).collect()
}
