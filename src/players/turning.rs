//! Every barline as a place to turn: what hands and eyes have done before it, and when they are wanted after it.

use super::Player;
use super::clock::{Clock, Moment};
use super::end_to_end::{Change, ChangeKind};
use crate::place::{BarIdx, PartId};
use crate::score::{Family, Score};
use crate::units::Seconds;

mod around;
mod busy;
mod eyes;

pub use around::Around;

use busy::Busy;
use eyes::Reads;

/// The barline that ends a bar, as a place to turn.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnPoint {
    pub after: BarIdx,
    /// Silence of this player up to the barline, and from it on. `None` where the time cannot be known.
    pub silent_before: Option<Seconds>,
    pub silent_after: Option<Seconds>,
    /// What hands and eyes have: from the last thing to do or read before the barline to the first thing to play after
    /// it, less the lead that the eye needs. Never negative; `None` where the time cannot be known.
    pub free: Option<Seconds>,
    /// For the turn itself and for what else has to be done in the same silence (another instrument, a mute, mallets).
    pub needed: Seconds,
    /// `None` where the time cannot be known.
    pub class: Option<TurnClass>,
    /// Where the tempo is assumed: the classes at 80 and at 126 quarters a minute, if they differ. `class` is then that
    /// at 126.
    pub assumed: Option<(TurnClass, TurnClass)>,
    pub frees: Frees,
    /// What must still be read on the old page after the last note.
    pub reads: Option<LastRead>,
    /// The rustle would be heard: everybody is silent, or a pause sign or general pause stands there.
    pub audible: bool,
    /// Nobody plays with this player on the same part there: a solo, a divided passage by player.
    pub alone: bool,
    /// Parts of the full score that sound across the barline, in score order.
    pub others: Vec<PartId>,
}

/// How much time a turn has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TurnClass {
    /// No time: the player stops playing.
    None,
    /// Can be done at a dash.
    Tight,
    Enough,
    Easy,
}

/// What gives the time for a turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Frees {
    /// Nothing: the hands play across the barline.
    Nothing,
    Rest,
    /// The last sound rings on by itself.
    RingsOn,
    /// One hand plays, the other turns.
    OneHand,
    /// A movement ends here, and the next does not follow at once.
    MovementEnds,
}

/// What the eyes need from the old page after the hands are free.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LastRead {
    Cue,
    Fermata,
    GeneralPause,
    /// rit., accel.
    TempoMoves,
    Tempo,
    Metre,
}

/// A turn needs about so long; comfortable is a second more. Common practice: two practitioners.
pub const NEEDED: Seconds = Seconds(3.0);
/// What is comfortable besides what is needed.
pub const COMFORTABLE: Seconds = Seconds(1.0);
/// Half of what is needed can be done at a dash (common practice).
const DASH: f64 = 0.5;
/// The eye is ahead of the hand by about so long, less in quick music and more in slow: Furneaux and Land (1999).
const LEAD: Seconds = Seconds(1.0);
const QUICK_LEAD: Seconds = Seconds(0.7);
const SLOW_LEAD: Seconds = Seconds(1.3);
/// Quarters a minute from which on music counts as quick, and up to which as slow (common practice).
const QUICK: f64 = 120.0;
const SLOW: f64 = 60.0;
/// Tempos between which an assumed one is thought to lie, in quarters a minute; assumed are 100.
const ASSUMED: f64 = 100.0;
const ASSUMED_RANGE: (f64, f64) = (80.0, 126.0);

/// What every barline gives a player for a turn, one entry a bar. `changes` are the player's own.
#[must_use]
pub fn points(player: &Player, around: &Around, changes: &[Change]) -> Vec<TurnPoint> {
    let music = &player.music;
    let clock = Clock::of(music);
    let busy = Busy::of(player, &clock);
    let reads = Reads::of(music, &clock);
    let lengths = music.bars.len() as u32;
    let point = |bar: BarIdx| {
        let barline = clock.end_of(bar);
        let hands = busy.at(bar, barline, &clock);
        let lead = lead(music, BarIdx(bar.0 + 1));
        let read = reads.last_between(hands.free_from, barline);
        let from = read.map_or(hands.free_from, |(moment, _)| Some(moment));
        let before = time(from, Some(barline), &clock, hands.nothing_before);
        let after = time(Some(barline), hands.wanted_at, &clock, hands.nothing_after);
        let lead = if hands.wanted_at.is_some() { lead } else { Seconds::ZERO };
        let free = match (before, after) {
            (Some(before), Some(after)) => Some((before + after - lead).max(Seconds::ZERO)),
            // What is known is more than anybody needs.
            (Some(known), None) | (None, Some(known)) if known - lead >= NEEDED + NEEDED => Some(known - lead),
            _ => None,
        };
        let needed = NEEDED + also_needed(changes, bar, player.family);
        let ends = ends_movement(music, bar);
        let frees = if ends { Frees::MovementEnds } else { hands.frees };
        let class = if ends { Some(TurnClass::Easy) } else { free.map(|free| class(free, needed)) };
        let assumed = free.filter(|_| music.tempo_assumed && !ends).and_then(|free| {
            let at = |tempo: f64| TurnClass::of((free + lead) * (ASSUMED / tempo) - lead, needed);
            let (slow, quick) = (at(ASSUMED_RANGE.0), at(ASSUMED_RANGE.1));
            (slow != quick).then_some((slow, quick))
        });
        TurnPoint {
            after: bar,
            silent_before: time(hands.silent_from, Some(barline), &clock, hands.nothing_before),
            silent_after: after,
            free,
            needed,
            class: assumed.map(|(_, quick)| quick).or(class),
            assumed,
            frees,
            reads: read.map(|(_, what)| what),
            audible: !ends && (around.all_silent(bar) || reads.pause_at(bar)),
            alone: busy.is_solo(bar),
            others: around.sounding_across(bar, &player.staves),
        }
    };
    (0..lengths).map(BarIdx).map(point).collect()
}

/// From one moment to another; where the one is missing there is nothing to do up to the end of the music, and more
/// time than anybody needs.
fn time(from: Option<Moment>, to: Option<Moment>, clock: &Clock, nothing: bool) -> Option<Seconds> {
    match (from, to) {
        (Some(from), Some(to)) => clock.between(from, to),
        _ if nothing => Some(NEEDED + NEEDED),
        _ => None,
    }
}

impl TurnClass {
    /// The class of so much free time where so much is needed.
    #[must_use]
    pub fn of(free: Seconds, needed: Seconds) -> TurnClass {
        class(free, needed)
    }
}

fn class(free: Seconds, needed: Seconds) -> TurnClass {
    // A hair's breadth of rounding decides nothing.
    const HAIR: f64 = 1e-9;
    let at_least = |wanted: Seconds| free.0 >= wanted.0 - HAIR;
    if at_least(needed + COMFORTABLE) {
        TurnClass::Easy
    } else if at_least(needed) {
        TurnClass::Enough
    } else if at_least(needed - NEEDED * DASH) {
        TurnClass::Tight
    } else {
        TurnClass::None
    }
}

/// What has to be changed in the silence around a barline takes its own time.
fn also_needed(changes: &[Change], bar: BarIdx, family: Family) -> Seconds {
    let within = |change: &&Change| {
        change.from.is_none_or(|from| from <= bar) && change.to.is_some_and(|to| bar < to || change.from == Some(bar))
    };
    changes.iter().filter(within).map(|change| takes(&change.kind, family)).sum()
}

/// The least time of a change.
#[must_use]
pub fn takes(kind: &ChangeKind, family: Family) -> Seconds {
    match kind {
        // New Zealand School of Music, Guide to Music Notation (2019), as quoted.
        ChangeKind::Instrument(_) => Seconds(6.0),
        // Common practice, as are all that follow.
        ChangeKind::MuteOn | ChangeKind::MuteOff if family == Family::Strings => Seconds(5.0),
        ChangeKind::MuteOn | ChangeKind::MuteOff => Seconds(3.0),
        ChangeKind::Retuning => Seconds(6.0),
        ChangeKind::Mallets => Seconds(2.0),
        ChangeKind::Pizzicato | ChangeKind::Arco => Seconds(0.5),
    }
}

/// How far the eye is ahead in a bar.
fn lead(music: &Score, bar: BarIdx) -> Seconds {
    let quarters_a_minute = music.bar(bar).and_then(|bar| Some(bar.length.to_f64() * 60.0 / bar.seconds?.0));
    match quarters_a_minute {
        Some(tempo) if tempo >= QUICK => QUICK_LEAD,
        Some(tempo) if tempo <= SLOW => SLOW_LEAD,
        _ => LEAD,
    }
}

/// Whether a movement ends with a bar and the next does not follow at once.
pub(super) fn ends_movement(music: &Score, bar: BarIdx) -> bool {
    music.movements.iter().any(|movement| movement.bars.last == bar) && !eyes::goes_on(music, bar)
}

#[cfg(test)]
mod tests;
