//! What rules on playing look at, measured in the plainest way on parts of a few bars: one staff, one movement, one line.

use rastrum::casting_off::part::{Binding, Stand};
use rastrum::geometry::Margins;
use rastrum::layout::{Layout, Side};
use rastrum::place::{BarIdx, BarSpan, PageIdx, StaffId};
use rastrum::players::end_to_end::{Breath, Change, ChangeKind, ColdEntry, EndToEnd, HardToCount, Silence};
use rastrum::players::turning::{Frees, TurnClass, TurnPoint};
use rastrum::players::{Hands, Player};
use rastrum::rules::PartCase;
use rastrum::score::{Cell, Event, EventKind, Family, MarkKind, Score};
use rastrum::survey::{Turn, TurnAdvice};
use rastrum::units::{Fraction, Mm, Seconds};

/// A part that is a score of its own, with its turns on its pages.
pub struct Alone {
    player: Player,
    turns: Vec<Turn>,
    points: Vec<TurnPoint>,
    whole: EndToEnd,
    stand: Stand,
}

impl Alone {
    /// `None` for scores of several parts, of several staves, and without time.
    pub fn of(score: &Score, layout: &Layout) -> Option<Alone> {
        let [part] = score.parts.as_slice() else { return None };
        if score.staves.len() != 1 {
            return None;
        }
        let time = Time::of(score)?;
        let hands = match part.family {
            Family::Woodwind | Family::Brass => Hands::Wind,
            Family::Strings => Hands::Section,
            _ => Hands::Unknown,
        };
        let player = Player {
            name: part.name.clone(),
            family: part.family,
            hands,
            number: None,
            staves: vec![StaffId(0)],
            copies: 1,
            music: score.clone(),
            undecided: Vec::new(),
        };
        let points: Vec<TurnPoint> = (0..score.bars.len()).map(|bar| time.point(score, bar)).collect();
        let turned = (0..layout.pages.len().saturating_sub(1)).filter(|at| layout.pages[*at].side == Side::Recto);
        let turns = turned.map(|at| time.turn(score, layout, at, &points)).collect();
        Some(Alone { whole: time.whole(score), player, turns, points, stand: stand(layout) })
    }

    pub fn case(&self) -> PartCase<'_> {
        PartCase {
            player: &self.player,
            blocks: &[],
            turns: &self.turns,
            backward: &[],
            points: &self.points,
            whole: &self.whole,
            stand: &self.stand,
        }
    }
}

fn stand(layout: &Layout) -> Stand {
    let paper = layout.pages.first().map_or((Mm::ZERO, Mm::ZERO), |page| page.size.value);
    Stand {
        binding: Binding::Booklet,
        paper,
        margins: Margins::default(),
        staff_height: Mm(7.5),
        natural_force: 1.0,
        starts: None,
    }
}

/// When bars begin and when notes sound, in seconds from the beginning.
struct Time {
    starts: Vec<f64>,
    notes: Vec<(f64, f64)>,
}

/// What the eye needs ahead of the hand (Furneaux and Land 1999).
const LEAD: f64 = 1.0;

impl Time {
    fn of(score: &Score) -> Option<Time> {
        let mut starts = vec![0.0];
        let mut notes = Vec::new();
        for (bar, cell) in score.bars.iter().zip(&score.cells) {
            let (start, quarter) = (*starts.last()?, bar.seconds?.0 / bar.length.to_f64());
            let at = |onset: Fraction| start + onset.to_f64() * quarter;
            notes.extend(own(cell).map(|event| (at(event.onset), at(event.onset) + event.length.to_f64() * quarter)));
            starts.push(start + bar.seconds?.0);
        }
        Some(Time { starts, notes })
    }

    /// Silence before and after the end of a bar.
    fn around(&self, bar: usize) -> (f64, f64) {
        let at = self.starts[bar + 1];
        let before = self.notes.iter().map(|(_, end)| at - end).filter(|gap| *gap >= 0.0).fold(at, f64::min);
        let after = self.notes.iter().map(|(start, _)| start - at).filter(|gap| *gap >= 0.0).fold(99.0, f64::min);
        (before, after)
    }

    fn point(&self, score: &Score, bar: usize) -> TurnPoint {
        let (before, after) = self.around(bar);
        let free = (before + after - LEAD).max(0.0);
        let class = match free {
            4.0.. => TurnClass::Easy,
            3.0.. => TurnClass::Enough,
            1.5.. => TurnClass::Tight,
            _ => TurnClass::None,
        };
        let words =
            |text: &str| score.cells[bar].marks.iter().any(|mark| mark.kind == MarkKind::Words(text.to_owned()));
        let said = |text: &str| (0..=bar).rev().find(|at| said(&score.cells[*at], text));
        TurnPoint {
            after: BarIdx(bar as u32),
            silent_before: Some(Seconds(before)),
            silent_after: Some(Seconds(after)),
            free: Some(Seconds(free)),
            needed: Seconds(3.0),
            class: Some(class),
            assumed: None,
            frees: if before + after > 0.0 { Frees::Rest } else { Frees::Nothing },
            reads: None,
            audible: words("G.P.")
                || score
                    .marks
                    .iter()
                    .any(|mark| mark.bar.at() == bar && mark.kind == rastrum::score::SystemMarkKind::GeneralPause),
            alone: said("div.") > said("unis."),
            others: Vec::new(),
        }
    }

    fn turn(&self, score: &Score, layout: &Layout, page: usize, points: &[TurnPoint]) -> Turn {
        let last = layout.pages[page].span().unwrap().last;
        let point = points[last.at()].clone();
        let silent = score.cells.iter().skip(last.at() + 1).take_while(|cell| !cell.sounds()).count() as u32;
        let plays_to_the_foot = self.around(last.at()).0 == 0.0;
        let advice = (plays_to_the_foot && silent > 0).then_some(TurnAdvice::RestOverleaf(silent));
        Turn { page: PageIdx(page as u32), point, alternative: None, searched: None, advice }
    }

    fn whole(&self, score: &Score) -> EndToEnd {
        let rests = self.rests(score);
        let cold = rests.iter().filter_map(|rest| self.cold(score, rest)).collect();
        let changes = (0..score.bars.len()).filter_map(|bar| self.change(score, bar)).collect();
        EndToEnd { plays: Vec::new(), rests, cold, breath: self.breath(score), changes }
    }

    fn rests(&self, score: &Score) -> Vec<Silence> {
        let silent: Vec<usize> = (0..score.bars.len()).filter(|bar| !score.cells[*bar].sounds()).collect();
        let runs = silent.chunk_by(|one, next| one + 1 == *next);
        let rest = |bars: &[usize]| {
            let (first, last) = (bars[0], bars[bars.len() - 1]);
            let metres = bars.iter().filter(|bar| **bar > 0 && score.bars[**bar].metre_changes).count() as u16;
            let entry = score.cells.get(last + 1).and_then(|cell| own(cell).next());
            let off = entry.is_some_and(|event| event.onset.den() > 1);
            let mut hard = Vec::new();
            hard.extend((metres > 0).then_some(HardToCount::MetreChanges(metres)));
            hard.extend(off.then_some(HardToCount::OffTheBeat));
            Silence {
                bars: BarSpan::new(BarIdx(first as u32), BarIdx(last as u32)),
                seconds: Some(Seconds(self.starts[last + 1] - self.starts[first])),
                rank: entry.filter(|_| !hard.is_empty()).map(|_| 1),
                hard,
                has_cue: score.cells[last].events.iter().any(|event| event.cue),
                cue: None,
            }
        };
        runs.map(rest).collect()
    }

    fn cold(&self, score: &Score, rest: &Silence) -> Option<ColdEntry> {
        let bar = BarIdx(rest.bars.last.0 + 1);
        let entry = own(score.cells.get(bar.at())?).next()?;
        Some(ColdEntry {
            bar,
            onset: entry.onset,
            silent: rest.seconds?,
            first: None,
            loudness: said(&score.cells[bar.at()], "ff").then_some(2),
            high: false,
            exposed: false,
        })
    }

    /// From the first slur's first bar to its last.
    fn breath(&self, score: &Score) -> Option<Breath> {
        let bar = |edge: fn(&Event) -> u8| score.cells.iter().position(|cell| own(cell).any(|event| edge(event) > 0));
        let (first, last) = (bar(|event| event.slurs.starts)?, bar(|event| event.slurs.stops)?);
        let seconds = Seconds(self.starts[last + 1] - self.starts[first]);
        Some(Breath { bars: BarSpan::new(BarIdx(first as u32), BarIdx(last as u32)), seconds, shared: false })
    }

    fn change(&self, score: &Score, bar: usize) -> Option<Change> {
        let text = score.cells[bar].marks.iter().find_map(|mark| match &mark.kind {
            MarkKind::Words(text) => text.strip_prefix("muta in ").map(|name| (text, name)),
            _ => None,
        });
        let (words, name) = text?;
        let to = (bar..score.bars.len()).find(|at| score.cells[*at].sounds())?;
        let from = (0..bar).rev().find(|at| score.cells[*at].sounds())?;
        let (before, after) = self.around(bar);
        Some(Change {
            kind: ChangeKind::Instrument(name.to_owned()),
            words: words.clone(),
            bar: BarIdx(bar as u32),
            seconds: Some(Seconds(before + after)),
            from: Some(BarIdx(from as u32)),
            to: Some(BarIdx(to as u32)),
        })
    }
}

fn own(cell: &Cell) -> impl Iterator<Item = &Event> {
    cell.events.iter().filter(|event| matches!(event.kind, EventKind::Chord(_)) && !event.cue)
}

/// Whether a word or a dynamic stands in a bar.
fn said(cell: &Cell, text: &str) -> bool {
    cell.marks.iter().any(|mark| match &mark.kind {
        MarkKind::Words(words) | MarkKind::Dynamic(words) => words == text,
        _ => false,
    })
}
