//! A part along its time: when it plays, how loud, how high, and the rests that are hard to count.

use super::words;
use crate::check::{PartChecked, PartsChecked};
use crate::geometry::Rect;
use crate::place::BarIdx;
use crate::report::pages::style;
use crate::report::pdf::{Align, Drawing, Face, Grey, Paint, Points, TextStyle, at, text_width};
use crate::units::{Mm, Seconds};

const HEIGHT: Mm = Mm(30.0);
/// Room for letters and time above the rows.
const HEAD: Mm = Mm(7.0);
/// Height of the row of loudness; the rest is that of pitch.
const LOUDNESS: Mm = Mm(11.0);
/// Room for the names of the rows.
const NAMES: Mm = Mm(20.0);

/// Width of a quarter whose time is not known, in seconds: that of a hundred a minute.
const FREE_QUARTER: f64 = 0.6;

/// The picture; `None` where there is no music. Bars without metre are as wide as their notes, and hatched.
pub(super) fn drawing(part: &PartChecked, checked: &PartsChecked) -> Option<Drawing> {
    let timeline = &checked.timeline;
    let starts: Vec<f64> = starts(checked);
    let end = starts.last().copied().filter(|end| *end > 0.0)?;
    let free = free_bars(checked, &starts);
    let length = length(checked);
    let loudest: Vec<Bar> = bars(part, &starts);
    let flags: Vec<(f64, f64, u16)> = part
        .whole
        .rests
        .iter()
        .filter_map(|rest| {
            Some((start(&starts, rest.bars.first), start(&starts, BarIdx(rest.bars.last.0 + 1)), rest.rank?))
        })
        .collect();
    let letters: Vec<(f64, String, bool)> = timeline
        .landmarks
        .iter()
        .filter_map(|mark| {
            let text = mark.movement.clone().or_else(|| mark.rehearsal.clone())?;
            Some((start(&starts, mark.bar), text, mark.movement.is_some()))
        })
        .collect();
    let alt = in_words(part, checked);
    let draw = move |ink: &mut crate::report::pdf::Ink<'_>, area: Rect| {
        let left = area.left + NAMES;
        let x = |seconds: f64| left + (area.right - left) * (seconds / end);
        let small = TextStyle::new(Face::Regular, Points(6.0)).in_grey(style::quiet());
        let (top, middle) = (area.top + HEAD, area.top + HEAD + LOUDNESS);
        ink.text(at(area.left, top + LOUDNESS / 2.0 + Mm(0.8)), Align::Left, &small, "plays, how loud");
        ink.text(at(area.left, (middle + area.bottom) / 2.0 + Mm(0.8)), Align::Left, &small, "how high");
        ink.rect(Rect::new(left, top, area.right, middle), &Paint::stroke(style::HAIR.in_grey(style::quiet())));
        ink.rect(Rect::new(left, middle, area.right, area.bottom), &Paint::stroke(style::HAIR.in_grey(style::quiet())));
        for (from, to) in &free {
            ink.hatch(Rect::new(x(*from), top, x(*to), area.bottom), Mm(0.8), &style::HAIR.in_grey(style::quiet()));
        }
        for bar in &loudest {
            let (from, to) = (x(bar.from), x(bar.to));
            let high = LOUDNESS * bar.loud;
            ink.rect(Rect::new(from, middle - high, to, middle), &Paint::fill(Grey::BLACK));
            if let Some((low, top)) = bar.range {
                let room = area.bottom - middle - Mm(1.0);
                let y = |share: f64| area.bottom - Mm(0.5) - room * share;
                ink.rect(Rect::new(from, y(top) - Mm(0.2), to, y(low) + Mm(0.2)), &Paint::fill(style::quiet()));
            }
        }
        for (from, to, rank) in &flags {
            let bold = TextStyle::new(Face::Bold, Points(7.0));
            let area = Rect::new(x(*from), top, x(*to), middle);
            ink.hatch(area, Mm(1.2), &style::HAIR.in_grey(style::quiet()));
            ink.text(at((area.left + area.right) / 2.0, top + Mm(3.2)), Align::Centre, &bold, &rank.to_string());
        }
        let mut free = left;
        for (seconds, text, is_movement) in &letters {
            let face = if *is_movement { Face::Italic } else { Face::Bold };
            let look = TextStyle::new(face, Points(6.5));
            let place = x(*seconds);
            let width = text_width(look.face, look.size, text);
            if place >= free && place + width <= area.right + Mm(2.0) {
                ink.text(at(place, top - Mm(1.2)), Align::Left, &look, text);
                free = place + width + Mm(1.0);
            }
        }
        ink.text(at(area.right, area.top + Mm(2.2)), Align::Right, &small, &length);
    };
    Some(Drawing::new(HEIGHT, alt, draw).spaced(Mm(3.0), Mm(1.0)))
}

/// One bar that plays; loudness and pitches as shares of their rows.
struct Bar {
    from: f64,
    to: f64,
    loud: f64,
    range: Option<(f64, f64)>,
}

fn bars(part: &PartChecked, starts: &[f64]) -> Vec<Bar> {
    let levels = || part.whole.plays.iter().flat_map(|passage| passage.bars.iter().zip(&passage.levels));
    let ends =
        levels().filter_map(|(_, level)| level.range).map(|(low, high)| (low.quarter_tones(), high.quarter_tones()));
    let (low, high) = ends.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1))).unwrap_or((0, 1));
    let span = f64::from((high - low).max(1));
    let share = |tone: i32| f64::from(tone - low) / span;
    levels()
        .map(|(bar, level)| Bar {
            from: start(starts, bar),
            to: start(starts, BarIdx(bar.0 + 1)),
            // Without a dynamic half the row.
            loud: level.loudness.map_or(0.5, |loud| (f64::from(loud) + 5.0) / 9.0),
            range: level.range.map(|(low, high)| (share(low.quarter_tones()), share(high.quarter_tones()))),
        })
        .collect()
}

fn starts(checked: &PartsChecked) -> Vec<f64> {
    let mut now = 0.0;
    let mut starts = vec![now];
    for bar in &checked.score.bars {
        now += bar.seconds.map_or(bar.length.to_f64() * FREE_QUARTER, |seconds| seconds.0);
        starts.push(now);
    }
    starts
}

/// From, to.
fn free_bars(checked: &PartsChecked, starts: &[f64]) -> Vec<(f64, f64)> {
    let bars = (0..).map(BarIdx).zip(&checked.score.bars).filter(|(_, bar)| bar.seconds.is_none());
    bars.map(|(bar, _)| (start(starts, bar), start(starts, BarIdx(bar.0 + 1)))).collect()
}

/// Played straight through: "7'50\"", "5'54\" and 1 bar without metre".
fn length(checked: &PartsChecked) -> String {
    let known: Seconds = checked.score.bars.iter().filter_map(|bar| bar.seconds).sum();
    match checked.score.bars.iter().filter(|bar| bar.seconds.is_none()).count() {
        0 => known.clock(),
        free => format!("{} and {} without metre (hatched)", known.clock(), crate::words::counted(free, "bar")),
    }
}

fn start(starts: &[f64], bar: BarIdx) -> f64 {
    starts.get(bar.at()).or(starts.last()).copied().unwrap_or_default()
}

fn in_words(part: &PartChecked, checked: &PartsChecked) -> String {
    let played: Vec<String> =
        part.whole.plays.iter().map(|passage| words::bars(passage.bars, &checked.score)).collect();
    let ranked = part.whole.rests.iter().filter(|rest| rest.rank.is_some()).count();
    let hard = crate::words::counted(ranked, "rest");
    format!("{} along its time. Plays in {}. {hard} hard to count.", part.player.name, crate::words::listed(played))
}
