//! The reprint list: whether touched sheets of the players' parts are named, and no others.

use std::collections::BTreeSet;

use rastrum::check::{Compared, PartChecked, Reader, ReprintKind};
use rastrum::compare::{Fate, Music, Reason, SheetFate, Status, What, Why};
use rastrum::place::BarIdx;

use super::content::sounds;
use super::judge::Judged;
use super::truth::{NewPart, Truth};

/// Touched sheets and those of them that are named, untouched ones and those of them that are named.
#[derive(Clone, Debug, Default)]
pub struct Named {
    pub touched: u64,
    pub named: u64,
    pub untouched: u64,
    pub in_vain: u64,
    pub wrong: Vec<String>,
}

/// A bar of the new draft: the old one that it is, and whether it moved.
type Place = (Option<usize>, bool);

pub fn named(compared: &Compared, truth: &Truth, judged: &Judged) -> Named {
    let mut all = Named::default();
    let Some((old, _)) = compared.sides() else { return all };
    let places = places(truth, &compared.music, judged);
    let olds: &[PartChecked] = old.parts.as_ref().map_or(&[], |parts| &parts.parts);
    for (at, part) in olds.iter().enumerate() {
        let is_tacet = part.player.music.cells.iter().all(|cell| !cell.sounds());
        // Desks of one section have parts of their own in some scores.
        let own: BTreeSet<usize> =
            part.player.staves.iter().map(|staff| old.checked.score.staves[staff.at()].part.at()).collect();
        let seeded: Vec<&NewPart> =
            truth.parts.iter().filter(|part| part.is.is_some_and(|is| own.contains(&is))).collect();
        if is_tacet || seeded.len() < own.len() {
            continue;
        }
        let reprint = compared.reprint.iter().find(|reprint| match reprint.reader {
            Reader::Player(player) => compared.players[player].old == Some(at) && reprint.kind == ReprintKind::Both,
            Reader::Conductor => false,
        });
        let Some(reprint) = reprint else {
            all.touched += 1;
            all.wrong.push(format!("{}: not in both drafts", part.player.name));
            continue;
        };
        let sheets = reprint.sheets.sheets.iter();
        let (spans, told): (Vec<(usize, usize)>, Vec<&SheetFate>) =
            sheets.filter_map(|own| own.sheet.bars.map(|bars| ((bars.first.at(), bars.last.at()), own))).unzip();
        let anew: Vec<usize> =
            seeded.iter().filter(|part| part.transposed.is_some()).filter_map(|part| part.is).collect();
        let score = &old.checked.score;
        // Of a desk that is written anew among others, the sheets on which it plays.
        let edited = |bar| {
            own.iter().any(|part| truth.is_edited(bar, *part)) || anew.iter().any(|part| sounds(score, bar, *part))
        };
        let touched = Touched::of(&spans, &places, edited, anew.len() == own.len());
        touched.count(&part.player.name, &spans, &told, &mut all);
    }
    all
}

/// What became of each bar. Where two tellings are equally right, as when two blocks change places, or one of two equal
/// bars is out, it is the one that was told.
fn places(truth: &Truth, music: &Music, judged: &Judged) -> Vec<Place> {
    let seeded: Vec<Place> = truth.bars.iter().map(|bar| (bar.is, bar.moved)).collect();
    let mut told: Vec<Place> = vec![(None, false); seeded.len()];
    for pair in &music.bars {
        if let Some(new) = pair.new {
            told[new.at()] = (pair.old.map(BarIdx::at), pair.status == Status::Moved);
        }
    }
    let count = |places: &[Place], moved: bool| places.iter().filter(|own| own.0.is_some() && own.1 == moved).count();
    let stay: Vec<usize> = told.iter().filter(|own| !own.1).filter_map(|own| own.0).collect();
    let as_right = judged.right == judged.cells
        && stay.is_sorted()
        && count(&told, true) <= count(&seeded, true)
        && count(&told, false) >= count(&seeded, false);
    if as_right { told } else { seeded }
}

/// Sheets of one player that the truth touches.
#[derive(Debug)]
struct Touched {
    sure: Vec<bool>,
    /// Neighbours with something put in between them: one of each pair is.
    either: Vec<(usize, usize)>,
}

impl Touched {
    fn of(sheets: &[(usize, usize)], places: &[Place], edited: impl Fn(usize) -> bool, all: bool) -> Touched {
        let mut touched = Touched { sure: vec![all; sheets.len()], either: Vec::new() };
        let on = |bar: usize| sheets.iter().position(|(first, last)| (*first..=*last).contains(&bar));
        let mut stay = BTreeSet::new();
        // The last bar that kept its place, and whether anything was put in after it.
        let (mut before, mut pending) = (None, false);
        for place in places {
            let (Some(bar), false) = *place else {
                pending = true;
                continue;
            };
            stay.insert(bar);
            if edited(bar) {
                touched.touch(on(bar));
            }
            if pending {
                touched.seam(before.and_then(on), on(bar));
            }
            (before, pending) = (Some(bar), false);
        }
        if pending {
            touched.touch(before.and_then(on));
        }
        let last = sheets.last().map_or(0, |(_, last)| last + 1);
        for bar in (0..last).filter(|bar| !stay.contains(bar)) {
            touched.touch(on(bar));
        }
        touched
    }

    fn touch(&mut self, sheet: Option<usize>) {
        sheet.into_iter().for_each(|sheet| self.sure[sheet] = true);
    }

    fn seam(&mut self, before: Option<usize>, after: Option<usize>) {
        match (before, after) {
            (Some(one), Some(other)) if one != other => self.either.push((one, other)),
            (one, other) => self.touch(one.or(other)),
        }
    }

    fn count(&self, name: &str, spans: &[(usize, usize)], told: &[&SheetFate], all: &mut Named) {
        let named = |at: usize| told[at].fate != Fate::Keep;
        for (at, own) in told.iter().enumerate() {
            let is_open = self.either.iter().any(|pair| pair.0 == at || pair.1 == at) || is_over_all(own);
            let is_wrong = if self.sure[at] {
                all.touched += 1;
                all.named += u64::from(named(at));
                !named(at)
            } else if !is_open {
                all.untouched += 1;
                all.in_vain += u64::from(named(at));
                named(at)
            } else {
                false
            };
            if is_wrong {
                let (bars, touched) = (spans[at], self.sure[at]);
                all.wrong.push(format!("{name}: sheet of bars {bars:?}, touched {touched}, told {:?}", own.why));
            }
        }
        for (one, other) in self.either.iter().filter(|pair| !self.sure[pair.0] && !self.sure[pair.1]) {
            all.touched += 1;
            all.named += u64::from(named(*one) || named(*other));
            if !(named(*one) || named(*other)) {
                all.wrong.push(format!("{name}: nothing named at the seam of {:?}, {:?}", spans[*one], spans[*other]));
            }
        }
    }
}

/// Whether a sheet is named for what stands over the whole orchestra alone: a tempo goes with the part that it is printed
/// over, and where parts come, go and change places that is not judged.
fn is_over_all(sheet: &SheetFate) -> bool {
    let over = |what: &What| matches!(what, What::Metre | What::Barlines | What::Landmarks | What::Tempo);
    let is_over = |why: &Why| matches!(&why.reason, Reason::Edited(what) if what.iter().all(over));
    !sheet.why.is_empty() && sheet.why.iter().all(is_over)
}

#[cfg(test)]
mod tests {
    use super::Touched;

    const SHEETS: [(usize, usize); 3] = [(0, 3), (4, 7), (8, 9)];

    fn touched(bars: &[isize], edited: &[usize]) -> (Vec<bool>, Vec<(usize, usize)>) {
        // Bars from 1, negative ones moved, 0 put in.
        let place = |bar: &isize| ((*bar != 0).then(|| bar.unsigned_abs() - 1), *bar < 0);
        let places: Vec<_> = bars.iter().map(place).collect();
        let touched = Touched::of(&SHEETS, &places, |bar| edited.contains(&bar), false);
        (touched.sure, touched.either)
    }

    #[test]
    fn a_sheet_is_touched_by_what_happens_on_it_or_at_a_seam_in_it() {
        let none = Vec::new();
        assert_eq!(touched(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10], &[5]), (vec![false, true, false], none.clone()));
        assert_eq!(touched(&[1, 2, 3, 4, 5, 7, 8, 9, 10], &[]), (vec![false, true, false], none.clone()));
        assert_eq!(touched(&[1, 2, 0, 3, 4, 5, 6, 7, 8, 9, 10], &[]), (vec![true, false, false], none.clone()));
        assert_eq!(touched(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 0], &[]), (vec![false, false, true], none.clone()));
        assert_eq!(touched(&[1, -9, 2, 3, 4, 5, 6, 7, 8, 10], &[]), (vec![true, false, true], none));
        let seam = touched(&[1, 2, 3, 4, 0, 0, 5, 6, 7, 8, 9, 10], &[]);
        assert_eq!(seam, (vec![false, false, false], vec![(0, 1)]));
    }
}
