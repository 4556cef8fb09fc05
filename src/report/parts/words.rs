//! What is said of parts, the same on paper, in the terminal and as JSON. Whole seconds, no rule names, no judgement
//! of the music.

use crate::check::{PartChecked, PartsChecked, Turned};
use crate::place::{BarIdx, BarSpan, PartId};
use crate::players::end_to_end::{Change, ChangeKind, HardToCount, Silence};
use crate::players::turning::{Frees, LastRead, TurnClass, TurnPoint};
use crate::score::{Pitch, Score};
use crate::survey::{Alternative, Turn, TurnAdvice};
use crate::units::Seconds;
use crate::words::{all_listed, counted, listed};

/// "easy", "enough", "tight", "no time".
#[must_use]
pub fn class(class: TurnClass) -> &'static str {
    match class {
        TurnClass::Easy => "easy",
        TurnClass::Enough => "enough",
        TurnClass::Tight => "tight",
        TurnClass::None => "no time",
    }
}

/// The class of a turn in words; "not known" where the time is not.
#[must_use]
pub fn class_of(point: &TurnPoint) -> &'static str {
    point.class.map_or("time not known", class)
}

/// "about 4 s".
#[must_use]
pub fn about(seconds: Seconds) -> String {
    const LONG: f64 = 90.0;
    if seconds.0 > LONG { format!("about {seconds}") } else { format!("about {} s", seconds.0.round() as i64) }
}

/// Whether a player is left with too little time.
#[must_use]
pub fn is_bad(point: &TurnPoint) -> bool {
    matches!(point.class, Some(TurnClass::None | TurnClass::Tight))
}

/// The pages that a part is handed over with: its own, where it has some.
#[must_use]
pub fn turns(part: &PartChecked) -> &[Turn] {
    part.recorded.as_ref().map_or(&part.proposed.turns, |own| &own.turns)
}

/// The turn with the least time; those whose time is not known count as tight.
#[must_use]
pub fn worst(part: &PartChecked) -> Option<&Turn> {
    let rank = |turn: &&Turn| {
        let known = turn.point.free.map_or(f64::INFINITY, |free| free.0);
        (turn.point.class.unwrap_or(TurnClass::Tight), known)
    };
    turns(part).iter().min_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap_or(std::cmp::Ordering::Equal))
}

/// The longest silence between two notes.
#[must_use]
pub fn longest_silence(part: &PartChecked) -> Option<&Silence> {
    let seconds = |silence: &&Silence| silence.seconds.map_or(0.0, |seconds| seconds.0);
    part.whole.rests.iter().max_by(|a, b| seconds(a).total_cmp(&seconds(b)).then(b.bars.first.cmp(&a.bars.first)))
}

/// "After 174: about 2 s of rest: tight, write V.S."
#[must_use]
pub fn turn(turn: &Turn, score: &Score) -> String {
    let point = &turn.point;
    let after = label(point.after, score);
    let advice = match turn.advice {
        Some(TurnAdvice::TurnAtOnce) => ", write V.S.".to_owned(),
        Some(TurnAdvice::RestOverleaf(bars)) => {
            format!(", {} of rest overleaf: print them, or \"time\", at the foot", counted(bars as usize, "bar"))
        }
        None => String::new(),
    };
    if point.frees == Frees::MovementEnds {
        return format!("After {after}: the movement ends; free{advice}.");
    }
    let Some(free) = point.free else {
        return format!("After {after}: time not known; try it{advice}.");
    };
    let gives = match point.frees {
        Frees::Rest => " of rest",
        Frees::RingsOn => ", the last sound rings on",
        Frees::OneHand => ", one hand free",
        Frees::Nothing | Frees::MovementEnds => "",
    };
    let alone = if point.alone { ", solo" } else { "" };
    let needs =
        if point.needed.0 > 3.5 { format!(" (needs {} with the change)", about(point.needed)) } else { String::new() };
    let free = if point.frees == Frees::Nothing && free.0 < 0.5 { "plays on".to_owned() } else { about(free) + gives };
    let said = format!("After {after}: {free}{alone}{needs}: {}{}{advice}", class_of(point), assumed(point));
    // "V.S." has its full stop already.
    if said.ends_with('.') { said } else { said + "." }
}

fn assumed(point: &TurnPoint) -> String {
    point.assumed.map_or_else(String::new, |(slow, quick)| {
        format!(" (no tempo stated: {} at 80 quarters a minute, {} at 126)", class(slow), class(quick))
    })
}

/// What else there is to say of a turn, in sentences.
#[must_use]
pub fn beside(turn: &Turn, score: &Score) -> Vec<String> {
    let point = &turn.point;
    let mut said = Vec::new();
    if let Some(reads) = point.reads.filter(|_| point.frees != Frees::MovementEnds) {
        said.push(format!("{} must still be read before it.", read(reads)));
    }
    if point.audible {
        said.push("Hardly anything sounds: the turn is heard.".to_owned());
    } else if point.frees != Frees::MovementEnds {
        said.push(meanwhile(&point.others, score));
    }
    match (&turn.alternative, turn.searched) {
        (Some(other), _) => said.push(better(other, score)),
        (None, Some(searched)) => {
            said.push(format!(
                "No better place from {} to {}.",
                label(searched.first, score),
                label(searched.last, score)
            ));
        }
        (None, None) => {}
    }
    if let Some(halves) = turn.half_leaf {
        said.push(format!(
            "Or with a half-leaf: its upper half turned after {}, its lower half after {}.",
            label(halves.upper, score),
            label(halves.lower, score)
        ));
    }
    said
}

fn read(reads: LastRead) -> &'static str {
    match reads {
        LastRead::Cue => "A cue",
        LastRead::Fermata => "A pause",
        LastRead::GeneralPause => "The general pause",
        LastRead::TempoMoves => "A change of tempo",
        LastRead::Tempo => "A new tempo",
        LastRead::Metre => "A new metre",
    }
}

fn meanwhile(others: &[PartId], score: &Score) -> String {
    let names: Vec<String> =
        others.iter().filter_map(|part| score.parts.get(part.at())).map(|part| part.name.trim().to_owned()).collect();
    match names.len() {
        0 => "Nobody plays on meanwhile.".to_owned(),
        many if many * 2 > score.parts.len() && many > 4 => "Most of the orchestra plays meanwhile.".to_owned(),
        _ => format!("Meanwhile: {}.", listed(names)),
    }
}

/// "Better after 168: easy, one page more."
fn better(other: &Alternative, score: &Score) -> String {
    let more = |count: i32, noun: &str| match count {
        0 => None,
        _ if count > 0 => Some(format!("{} more", counted(count as usize, noun))),
        _ => Some(format!("{} fewer", counted(count.unsigned_abs() as usize, noun))),
    };
    let price: Vec<String> = [more(other.pages, "page"), more(other.turns, "turn")].into_iter().flatten().collect();
    let price = if price.is_empty() { "at no price".to_owned() } else { all_listed(&price) };
    format!("Better after {}: {}, {price}.", label(other.after, score), class(other.class))
}

/// The printed number of a bar, with its movement where there are several: "174", "II 46".
#[must_use]
pub fn label(bar: BarIdx, score: &Score) -> String {
    score.place_label(bar)
}

/// "bars 12 to 40", "bar 12", "bars I 61 to II 2".
#[must_use]
pub fn bars(span: BarSpan, score: &Score) -> String {
    score.span_label(span)
}

/// "B flat 4": the name of a note, with the octave that middle C begins as 4.
#[must_use]
pub fn pitch(pitch: Pitch) -> String {
    pitch.to_string()
}

/// What makes a silence hard to count: "three changes of metre, a pause, entry off the beat".
#[must_use]
pub fn hard(silence: &Silence) -> String {
    let word = |hard: &HardToCount| match hard {
        HardToCount::Long => "long".to_owned(),
        HardToCount::MetreChanges(many) => match many {
            1 => "a change of metre".to_owned(),
            many => format!("{many} changes of metre"),
        },
        HardToCount::Fermata => "a pause".to_owned(),
        HardToCount::TempoMoves => "a moving tempo".to_owned(),
        HardToCount::GeneralPause => "a general pause".to_owned(),
        HardToCount::OffTheBeat => "entry off the beat".to_owned(),
        HardToCount::EntersAlone => "nobody enters with it".to_owned(),
        HardToCount::LandmarkAfter => "the landmark stands just after the entry".to_owned(),
    };
    all_listed(&silence.hard.iter().map(word).collect::<Vec<_>>())
}

/// "Silent in bars 12 to 54 (about 3'10"): ...; a cue could come from Trombone 1, bars 51 to 54: its first note sounds
/// F 3, written F 3."
#[must_use]
pub fn flagged(silence: &Silence, score: &Score) -> String {
    let time = silence.seconds.map_or(String::new(), |seconds| format!(" ({})", about(seconds)));
    let cue = silence.cue.as_ref().map_or(String::new(), |cue| {
        let (sounding, written) = (pitch(cue.sounding), pitch(cue.written));
        let heard = if sounding == written { sounding } else { format!("{sounding}, written here {written}") };
        format!(
            "; a cue could come from {}, {}, whose first note sounds {heard}",
            cue.name.trim(),
            bars(cue.bars, score)
        )
    });
    format!("Rest in {}{time}: {}{cue}.", bars(silence.bars, score), hard(silence))
}

/// "Bar 120: to piccolo, about 3 s from bar 118 to 121."
#[must_use]
pub fn change(change: &Change, score: &Score) -> String {
    let what = match &change.kind {
        ChangeKind::Instrument(name) => format!("to {name}"),
        ChangeKind::MuteOn => "mute on".to_owned(),
        ChangeKind::MuteOff => "mute off".to_owned(),
        ChangeKind::Mallets => "other sticks".to_owned(),
        ChangeKind::Pizzicato => "to pizzicato".to_owned(),
        ChangeKind::Arco => "to the bow".to_owned(),
        ChangeKind::Retuning => "retuning".to_owned(),
    };
    let time = match (change.seconds, change.from, change.to) {
        (Some(seconds), ..) => about(seconds),
        (None, None, _) => "before the first note".to_owned(),
        (None, _, None) => "nothing follows".to_owned(),
        (None, ..) => "time not known".to_owned(),
    };
    format!("Bar {}: {what}, {time}", label(change.bar, score))
}

/// Names of those who are left with too little time, with their turns: "Violins I (after 60: no time)".
#[must_use]
pub fn left_with_bad_turns(checked: &PartsChecked) -> Vec<String> {
    let one = |part: &PartChecked| {
        let bad: Vec<String> = turns(part)
            .iter()
            .filter(|turn| is_bad(&turn.point))
            .map(|turn| format!("after {}: {}", label(turn.point.after, &checked.score), class_of(&turn.point)))
            .collect();
        (!bad.is_empty()).then(|| format!("{} ({})", part.player.name, listed(bad)))
    };
    checked.parts.iter().filter_map(one).collect()
}

/// Names of those whose part cannot be delivered, with the bars that do not tell.
#[must_use]
pub fn not_deliverable(checked: &PartsChecked) -> Vec<String> {
    let one = |part: &PartChecked| {
        let open = &part.player.undecided;
        let first = open.first()?;
        let places = listed(open.iter().map(|open| bars(open.bars, &checked.score)));
        Some(format!("{} ({places}: {})", part.player.name, first.why))
    };
    checked.parts.iter().filter_map(one).collect()
}

/// The sentence that all stands under.
#[must_use]
pub fn verdict(checked: &PartsChecked) -> String {
    let parts = counted(checked.parts.len(), "part");
    let bad: usize = checked.parts.iter().flat_map(turns).filter(|turn| is_bad(&turn.point)).count();
    let all: usize = checked.parts.iter().map(|part| turns(part).len()).sum();
    let open = not_deliverable(checked).len();
    let turns = match (all, bad) {
        (0, _) => "nobody has to turn".to_owned(),
        (all, 0) => format!("each of the {} has time", counted(all, "turn")),
        (all, bad) => format!(
            "{bad} of {} {} left without enough time",
            counted(all, "turn"),
            if bad == 1 { "is" } else { "are" }
        ),
    };
    let open = match open {
        0 => String::new(),
        _ => format!("; {} cannot be delivered before someone says who plays", counted(open, "part")),
    };
    format!("{parts}: {turns}{open}.")
}

/// Pages and turns of some pages: "7 pages, 3 turns".
#[must_use]
pub fn extent(turned: &Turned) -> String {
    let turns = if turned.turns.is_empty() { "no turn".to_owned() } else { counted(turned.turns.len(), "turn") };
    format!("{}, {turns}", counted(turned.pages.layout.pages.len(), "page"))
}

/// What the figures of all parts rest on, where the score leaves something open; one sentence each.
pub fn notes(score: &Score) -> Vec<String> {
    let mut notes = Vec::new();
    if score.tempo_assumed {
        notes.push("Where no tempo is stated, 100 quarters a minute are assumed.".to_owned());
    }
    let free = (0..).map(BarIdx).zip(&score.bars).filter(|(_, bar)| bar.seconds.is_none());
    let free: Vec<String> = free.map(|(bar, _)| label(bar, score)).collect();
    if !free.is_empty() {
        notes.push(format!("Without metre, so that its time is not known: {}.", counted_bars(free)));
    }
    let open: Vec<String> = never_closed(score).into_iter().map(|bar| label(bar, score)).collect();
    if !open.is_empty() {
        notes
            .push(format!("A repeat begins and never closes, and is taken to be played once: {}.", counted_bars(open)));
    }
    notes
}

fn counted_bars(labels: Vec<String>) -> String {
    format!("{} {}", if labels.len() == 1 { "bar" } else { "bars" }, listed(labels))
}

/// Bars at which a repeat begins that its movement does not close.
fn never_closed(score: &Score) -> Vec<BarIdx> {
    let of_movement = |movement: &crate::score::Movement| {
        let mut open = None;
        for bar in movement.bars.iter() {
            let Some(own) = score.bar(bar) else { break };
            if own.left.repeat {
                open = Some(bar);
            }
            if own.right.repeat {
                open = None;
            }
        }
        open
    };
    score.movements.iter().filter_map(of_movement).collect()
}
