//! A score as its composer might have planned it: passages of one metre, who plays in them, and how busily.

use rastrum::place::{BarIdx, BarSpan, PartId};
use rastrum::score::{Busyness, EventKind, Grace, Score, SystemMarkKind};

/// No passage of a plan is longer; shorter ones end where the metre, the tempo or the movement does.
const LONGEST: u32 = 16;
/// A part plays in a passage when it plays in so many of its bars; fewer are an entry before the next one.
const PLAYS_FROM: f64 = 0.25;

/// One passage.
pub struct Section {
    pub bars: BarSpan,
    /// By part; `None` for those who rest.
    pub busy: Vec<Option<Busyness>>,
}

/// All passages in order.
pub fn sections(score: &Score) -> Vec<Section> {
    let mut sections = Vec::new();
    for movement in &score.movements {
        let mut first = movement.bars.first;
        for bar in movement.bars.iter() {
            let next = BarIdx(bar.0 + 1);
            if next > movement.bars.last || next.0 - first.0 >= LONGEST || begins(score, next) {
                let bars = BarSpan::new(first, bar);
                let busy = (0..score.parts.len()).map(|part| busyness(score, PartId(part as u16), bars)).collect();
                sections.push(Section { bars, busy });
                first = next;
            }
        }
    }
    sections
}

fn begins(score: &Score, bar: BarIdx) -> bool {
    let told = |mark: &rastrum::score::SystemMark| {
        let is_landmark = match &mark.kind {
            SystemMarkKind::Tempo { quarters_per_minute, .. } => quarters_per_minute.is_some(),
            SystemMarkKind::Rehearsal(_) => true,
            _ => false,
        };
        mark.bar == bar && is_landmark
    };
    let metre = |bar: BarIdx| score.bar(bar).map(|bar| (bar.metre.clone(), bar.length));
    metre(bar) != metre(BarIdx(bar.0 - 1)) || score.marks.iter().any(told)
}

/// By the notes that its busiest staff begins, over the bars in which it plays.
fn busyness(score: &Score, part: PartId, bars: BarSpan) -> Option<Busyness> {
    let (mut playing, mut notes, mut quarters) = (0_u32, 0_usize, 0.0);
    for bar in bars.iter() {
        let cells = score.staves_of(part).filter_map(|staff| score.cell(bar, staff));
        let most = cells.filter(|cell| cell.sounds()).map(|cell| {
            let mut onsets: Vec<_> = cell
                .events
                .iter()
                .filter(|event| matches!(event.kind, EventKind::Chord(_)) && event.grace == Grace::No)
                .map(|event| event.onset)
                .collect();
            onsets.sort_unstable();
            onsets.dedup();
            onsets.len()
        });
        if let Some(most) = most.max() {
            playing += 1;
            notes += most;
            quarters += score.bar(bar).map_or(0.0, |bar| bar.length.to_f64());
        }
    }
    let plays = playing > 0 && f64::from(playing) >= PLAYS_FROM * f64::from(bars.count());
    plays.then(|| Busyness::of_notes_in_a_quarter(if quarters > 0.0 { notes as f64 / quarters } else { 0.0 }))
}
