//! Notes bar by bar: missing, too many, of another pitch or length, elsewhere in the bar, ties.

use super::heard::{HeardNote, sounded};
use super::side::{Both, Pairs, Spot};
use super::words::{self, InPart};
use super::{Class, Proof, open};
use crate::units::Fraction;
use crate::words::listed;

mod matched;

use matched::{Matched, matched};

/// Several bars of faults on end are one, and so are this many faults in one bar.
const A_PASSAGE: usize = 3;
const MANY: usize = 4;

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let mut passages = Passages { both, shifted: Vec::new(), other: Vec::new() };
    for pair in &pairs.both {
        let (Some(line), Some(part)) = (both.line.heard.get(pair.0), both.part.heard.get(pair.1)) else { continue };
        found.bars += 1;
        found.notes += line.notes.len() as u32;
        if line.unwritten || part.unwritten {
            let told = "slashes or a bar-repeat sign on one side";
            Proof::tell(&mut found.same, both.line.span(pair.0, pair.0), told);
            continue;
        }
        found.playing.0 += u32::from(!line.notes.is_empty());
        if let Some(why) = both.open(pair.0) {
            open::compare(both, *pair, why, found);
            continue;
        }
        if line.notes.is_empty() && part.notes.is_empty() {
            continue;
        }
        let is_same = bar(both, *pair, &line.notes, &part.notes, &mut passages, found);
        found.playing.1 += u32::from(is_same && !line.notes.is_empty());
    }
    for (line, _) in pairs.to_part.iter().enumerate().filter(|(_, part)| part.is_none()) {
        found.playing.0 += u32::from(!both.line.is_silent(line));
    }
    passages.close(found);
}

/// Whether a bar has the same notes.
fn bar(
    both: &Both<'_>,
    pair: (usize, usize),
    line: &[HeardNote],
    part: &[HeardNote],
    passages: &mut Passages<'_, '_>,
    found: &mut Proof,
) -> bool {
    let own = matched(line, part);
    if own.is_same() {
        ties(both, pair, &own, found);
        return true;
    }
    if sounded(line).iter().map(HeardNote::key).eq(sounded(part).iter().map(HeardNote::key)) {
        Proof::tell(&mut found.same, both.line.span(pair.0, pair.0), "ties instead of longer notes, or the other way");
        return true;
    }
    if let Some(interval) = shift(line, part) {
        passages.shift(pair, interval, line, part);
    } else if own.faults() * 2 > line.len().max(part.len()) || own.faults() >= MANY {
        passages.differ(pair, own);
    } else {
        single(both, pair, &own, found);
    }
    false
}

/// All notes so many quarter tones higher or lower in the part, and nothing else.
fn shift(line: &[HeardNote], part: &[HeardNote]) -> Option<i32> {
    let first = part.first()?.height.checked_sub(line.first()?.height)?;
    let same = |(line, part): (&HeardNote, &HeardNote)| {
        let place = (line.onset, line.grace, line.length) == (part.onset, part.grace, part.length);
        place && part.height - line.height == first && !line.is_unpitched()
    };
    (line.len() == part.len() && first != 0 && line.iter().zip(part).all(same)).then_some(first)
}

fn ties(both: &Both<'_>, pair: (usize, usize), own: &Matched, found: &mut Proof) {
    let in_part = InPart::of(both, pair.1);
    for (line, part) in &own.same {
        if line.tie_starts != part.tie_starts {
            let words =
                |ties: bool| if ties { format!("{} tied on", in_part.pitch(line)) } else { "no tie".to_owned() };
            let spot = both.pair(pair, Some(line.onset));
            found.differs(Class::Tie, spot, words(line.tie_starts), words(part.tie_starts));
        }
    }
}

/// Each fault of a bar.
fn single(both: &Both<'_>, pair: (usize, usize), own: &Matched, found: &mut Proof) {
    ties(both, pair, own, found);
    let in_part = InPart::of(both, pair.1);
    let bar = both.line.bar(pair.0);
    let mut tell = |class, onset: Fraction, score: String, part: String| {
        found.differs(class, both.pair(pair, Some(onset)), score, part);
    };
    for (line, part) in &own.pitches {
        tell(Class::Pitch, line.onset, in_part.pitch(line), in_part.pitch(part));
    }
    for (line, part) in &own.lengths {
        let words = |note: &HeardNote| format!("{}, {}", in_part.pitch(note), words::length(note.length));
        tell(Class::Length, line.onset, words(line), words(part));
    }
    for (line, part) in &own.places {
        let words = |note: &HeardNote| format!("{} on {}", in_part.pitch(note), words::beat(note.onset, bar));
        tell(Class::Place, line.onset.min(part.onset), words(line), words(part));
    }
    let names = |notes: &[HeardNote]| {
        let name = |note: &HeardNote| {
            let grace = if note.grace > 0 { "grace note " } else { "" };
            format!("{grace}{} on {}", in_part.pitch(note), words::beat(note.onset, bar))
        };
        listed(notes.iter().map(name))
    };
    if let Some(first) = own.missing.first() {
        tell(Class::MissingNote, first.onset, names(&own.missing), "not there".to_owned());
    }
    if let Some(first) = own.extra.first() {
        tell(Class::ExtraNote, first.onset, "not there".to_owned(), names(&own.extra));
    }
}

/// Faults that run on over several bars.
struct Passages<'b, 'a> {
    both: &'b Both<'a>,
    shifted: Vec<Shifted>,
    other: Vec<((usize, usize), Matched)>,
}

struct Shifted {
    first: (usize, usize),
    last: (usize, usize),
    interval: i32,
    notes: usize,
    /// The first note of both.
    from: (HeardNote, HeardNote),
}

impl Passages<'_, '_> {
    /// Joins the passage before where only silence and the same shift stand between.
    fn shift(&mut self, pair: (usize, usize), interval: i32, line: &[HeardNote], part: &[HeardNote]) {
        let both = self.both;
        let silent = |from: usize, to: usize| (from + 1..to).all(|bar| both.line.is_silent(bar));
        match self.shifted.last_mut() {
            Some(last) if last.interval == interval && silent(last.last.0, pair.0) => {
                last.last = pair;
                last.notes += line.len();
            }
            _ => {
                let Some(from) = line.first().copied().zip(part.first().copied()) else { return };
                self.shifted.push(Shifted { first: pair, last: pair, interval, notes: line.len(), from });
            }
        }
    }

    fn differ(&mut self, pair: (usize, usize), own: Matched) {
        self.other.push((pair, own));
    }

    fn close(self, found: &mut Proof) {
        let both = self.both;
        for own in &self.shifted {
            let in_part = InPart::of(both, own.first.1);
            let (line, part) = (in_part.pitch(&own.from.0), in_part.pitch(&own.from.1));
            if own.notes == 1 {
                found.differs(Class::Pitch, both.pair(own.first, Some(own.from.0.onset)), line, part);
                continue;
            }
            let way = if own.interval < 0 { "lower" } else { "higher" };
            let told = format!("{} {way} throughout, from {part}", words::interval(own.interval));
            found.differs(Class::Passage, passage(both, own.first, own.last), format!("from {line}"), told);
        }
        let mut rest = self.other.as_slice();
        while let Some((first, own)) = rest.first() {
            let run = rest.windows(2).take_while(|pair| matches!(pair, [a, b] if a.0.0 + 1 == b.0.0)).count() + 1;
            let (run, after) = rest.split_at(run.min(rest.len()));
            rest = after;
            if run.len() < A_PASSAGE && run.iter().all(|(_, own)| own.faults() < MANY) {
                run.iter().for_each(|(pair, own)| single(both, *pair, own, found));
                continue;
            }
            let last = run.last().map_or(*first, |(pair, _)| *pair);
            let (notes, kept) =
                run.iter().fold((0, 0), |(notes, kept), (_, own)| (notes + own.line, kept + own.same.len()));
            let in_part = InPart::of(both, first.1);
            let from = |note: Option<HeardNote>| {
                note.map_or("rests".to_owned(), |note| format!("from {}", in_part.pitch(&note)))
            };
            let told = format!("{}; {kept} of {notes} notes are the same", from(own.first_of_part));
            found.differs(Class::Passage, passage(both, *first, last), from(own.first_of_line), told);
        }
    }
}

fn passage(both: &Both<'_>, first: (usize, usize), last: (usize, usize)) -> Spot {
    Spot { bars: both.line.span(first.0, last.0), part_bars: Some(both.part.span(first.1, last.1)), onset: None }
}
