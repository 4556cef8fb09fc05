//! Where a cue into an entry could come from: a part that sounds loudest or with fewest others, moves, begins clearly
//! after a rest of its own, and runs up to the bar before the entry (common practice).

use super::everyone::Everyone;
use super::{CueFrom, pitch};
use crate::place::{BarIdx, BarSpan, PartId};
use crate::players::Player;

/// A cue of so many bars is enough to be sure (Gould, Behind Bars, pp. 569-571, as quoted, asks for no length; from
/// memory).
const LONGEST: u32 = 4;

/// The passage that leads best into the bar after a silence; `None` where nobody sounds with a pitch.
pub(super) fn cue_into(player: &Player, silence: BarSpan, everyone: &Everyone) -> Option<CueFrom> {
    let best = everyone
        .others(&player.staves)
        .filter_map(|part| {
            let bars = passage(part, silence, everyone)?;
            Some((clearness(part, bars, everyone), part, bars))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    let (_, part, bars) = best?;
    let sounding = everyone.at(bars.first, part).first?;
    let entry = player.music.cells.get((silence.last.at() + 1) * player.music.staves.len())?;
    let written = pitch::written(sounding, entry.transposition);
    Some(CueFrom { part, name: everyone.name(part).to_owned(), bars, sounding, written })
}

/// The last bars of the silence in which a part sounds without a break up to its end, at most four, beginning where
/// it begins to sound if it does so among them.
fn passage(part: PartId, silence: BarSpan, everyone: &Everyone) -> Option<BarSpan> {
    let earliest = silence.last.0.saturating_sub(LONGEST - 1).max(silence.first.0);
    let mut first = None;
    for bar in (earliest..=silence.last.0).rev().map(BarIdx) {
        let own = everyone.at(bar, part);
        if !own.sounds {
            break;
        }
        if own.first.is_some() {
            first = Some(bar);
        }
    }
    first.map(|first| BarSpan::new(first, silence.last))
}

fn clearness(part: PartId, bars: BarSpan, everyone: &Everyone) -> f64 {
    let notes: f64 = bars.iter().map(|bar| f64::from(everyone.at(bar, part).notes)).sum();
    // Moving, but not so fast that it cannot be read small.
    let moves = (notes / f64::from(bars.count()) / 4.0).min(1.5);
    let loud = bars.iter().filter_map(|bar| everyone.at(bar, part).loudness).max().map_or(0.0, f64::from);
    let together = everyone.others(&[]).filter(|other| everyone.at(bars.last, *other).sounds).count().max(1) as f64;
    let begins = bars.first.0 > 0 && !everyone.at(BarIdx(bars.first.0 - 1), part).sounds;
    moves + loud * 0.5 + 2.0 / together + f64::from(u8::from(begins)) * 1.5 + f64::from(bars.count()) * 0.2
}
