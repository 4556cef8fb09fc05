//! Entries that come cold: after a long silence, and high, loud or very soft, or with few others.

use super::everyone::Everyone;
use super::line::Line;
use super::{ColdEntry, Silence, pitch};
use crate::place::BarIdx;
use crate::players::{Hands, Player};
use crate::score::Pitch;
use crate::units::Seconds;

/// From memory; information, no limit.
const SILENT: Seconds = Seconds(60.0);
const MOST: usize = 3;
/// With at most so many other parts an entry is heard.
const FEW: usize = 3;
/// Of a part's own range, from here up is high.
const HIGH: f64 = 0.85;

/// At most three, those that ask most first.
pub(super) fn entries(silences: &[Silence], line: &Line, everyone: &Everyone, player: &Player) -> Vec<ColdEntry> {
    // The drums of one player have no register to speak of.
    let is_struck = matches!(player.hands, Hands::Timpani | Hands::Percussion);
    let range = range(line).filter(|_| !is_struck);
    let mut entries: Vec<(u32, ColdEntry)> = silences
        .iter()
        .filter_map(|silence| {
            let silent = silence.seconds.filter(|seconds| *seconds >= SILENT)?;
            let bar = BarIdx(silence.bars.last.0 + 1);
            let own = line.at(bar);
            let (onset, first) = own.first?;
            let high = first.zip(range).is_some_and(|(first, range)| is_high(first, range));
            let with = everyone.others(&player.staves).filter(|part| everyone.at(bar, *part).sounds).count();
            let exposed = with <= FEW;
            let extreme = own.loudness.is_some_and(|level| level >= 2 || level <= -3);
            let weight = u32::from(high) * 2 + u32::from(exposed) + u32::from(extreme);
            let entry = ColdEntry { bar, onset, silent, first, loudness: own.loudness, high, exposed };
            (weight >= 2).then_some((weight, entry))
        })
        .collect();
    entries.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.silent.0.total_cmp(&a.1.silent.0)));
    entries.into_iter().take(MOST).map(|(_, entry)| entry).collect()
}

fn range(line: &Line) -> Option<(i32, i32)> {
    let ranges = line.bars.iter().filter_map(|bar| bar.level.range);
    let ends = ranges.map(|(low, high)| (pitch::half_tones(low), pitch::half_tones(high)));
    ends.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)))
}

fn is_high(first: Pitch, (low, high): (i32, i32)) -> bool {
    high > low && f64::from(pitch::half_tones(first) - low) >= HIGH * f64::from(high - low)
}
