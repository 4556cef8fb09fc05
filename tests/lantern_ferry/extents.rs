//! How far the contents of a staff reach above its top line and below its bottom line, in staff spaces.
//!
//! Stacked outward from the heads: stems, beams, articulations, tuplets, slurs; then octave lines, trills and
//! fermatas, words, tempo and rehearsal marks above; dynamics and hairpins below. Rounded figures of common
//! practice, coarse on purpose.

use rastrum::units::Spaces;

use crate::notation::{Drawn, draw, heights, transposition};
use crate::orchestra::{ALL_STAVES, FL1, Staff, V1};
use crate::score::{Cell, Direction, Item, Mark, Movement};

#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    pub above: Spaces,
    pub below: Spaces,
}

/// One extent for each bar (from 0) and staff.
pub fn table(movement: &Movement) -> Vec<Vec<Extent>> {
    let mut spans = [Spans::default(); ALL_STAVES];
    let bar_of = |bar| (0..ALL_STAVES).map(|staff| cell(movement, bar, staff, &mut spans[staff])).collect();
    (1..=movement.bars()).map(bar_of).collect()
}

/// What is still open at a barline.
#[derive(Clone, Copy, Default)]
struct Spans {
    slurs: u32,
    hairpin: bool,
}

fn cell(movement: &Movement, bar: usize, staff: Staff, spans: &mut Spans) -> Extent {
    let (cell, head) = (movement.cell(bar, staff), movement.head(bar));
    let by = transposition(movement, bar, staff);
    let mut extent = Extent::default();
    let mut octave_line = false;
    for (voice, items) in cell.voices.iter().enumerate() {
        let voice = (cell.voices.len() > 1).then_some(voice);
        for (item, drawn) in items.iter().zip(draw(items, staff, by, head, voice)) {
            octave_line |= item.octave_line != 0;
            let one = item_extent(item, &heights(item, staff, by), &drawn, spans);
            extent = Extent { above: extent.above.max(one.above), below: extent.below.max(one.below) };
        }
    }
    let signed = |mark: &Mark| cell.voices.iter().flatten().any(|item| item.marks.contains(mark));
    let rows_above = [octave_line, signed(&Mark::Trill), signed(&Mark::Fermata), has(cell, is_words)];
    extent.above += Spaces(2.0) * rows_above.iter().filter(|&&row| row).count() as f64;
    if head.tempo.is_some() && (staff == FL1 || staff == V1) {
        extent.above += Spaces(2.5);
    }
    if staff == FL1 && (head.rehearsal.is_some() || head.ending.is_some()) {
        extent.above += Spaces(3.5);
    }
    if head.general_pause {
        extent.above += Spaces(4.0);
    }
    let hairpin = spans.hairpin || has(cell, is_hairpin);
    let dynamic = has(cell, |what| matches!(what, Direction::Dynamic(_)));
    let row_below = match (dynamic, hairpin) {
        (true, _) => Spaces(2.0),
        (false, true) => Spaces(1.5),
        (false, false) => Spaces::ZERO,
    };
    extent.below += row_below;
    for placed in &cell.directions {
        match placed.what {
            Direction::Crescendo | Direction::Diminuendo => spans.hairpin = true,
            Direction::HairpinStop => spans.hairpin = false,
            _ => {}
        }
    }
    extent
}

fn has(cell: &Cell, wanted: impl Fn(&Direction) -> bool) -> bool {
    cell.directions.iter().any(|placed| wanted(&placed.what))
}

fn is_words(what: &Direction) -> bool {
    matches!(what, Direction::Words(_))
}

fn is_hairpin(what: &Direction) -> bool {
    matches!(what, Direction::Crescendo | Direction::Diminuendo)
}

fn item_extent(item: &Item, heights: &[i32], drawn: &Drawn, spans: &mut Spans) -> Extent {
    let (Some(&highest), Some(&lowest)) = (heights.iter().max(), heights.iter().min()) else {
        return Extent::default();
    };
    let beyond = |half_spaces: f64| Spaces(half_spaces / 2.0 - 2.0).max(Spaces::ZERO);
    let (mut above, mut below) = (beyond(f64::from(highest) + 1.0), beyond(1.0 - f64::from(lowest)));
    let further_beams = f64::from(item.value.saturating_sub(3));
    let beam = if drawn.beams.is_empty() { 0.0 } else { 0.5 + 0.75 * further_beams };
    match drawn.stem_up {
        Some(true) => above = above.max(beyond(f64::from(highest + 7).max(0.0) + 2.0 * beam)),
        Some(false) => below = below.max(beyond(f64::from(7 - lowest).max(0.0) + 2.0 * beam)),
        None => {}
    }
    let stem_up = drawn.stem_up.unwrap_or(highest < 0);
    let (stem_side, head_side) = if stem_up { (&mut above, &mut below) } else { (&mut below, &mut above) };
    let articulated = |mark: &&Mark| matches!(mark, Mark::Accent | Mark::Staccato | Mark::Tenuto | Mark::Marcato);
    *head_side += Spaces(1.0) * item.marks.iter().filter(articulated).count() as f64;
    if item.tuplet.is_some() {
        *stem_side += Spaces(1.5);
    }
    let starts = item.marks.contains(&Mark::SlurStart);
    if spans.slurs > 0 || starts {
        *head_side += Spaces(1.5);
    } else if item.tied {
        *head_side += Spaces(1.0);
    }
    spans.slurs += u32::from(starts);
    spans.slurs -= u32::from(item.marks.contains(&Mark::SlurStop)).min(spans.slurs);
    Extent { above, below }
}
