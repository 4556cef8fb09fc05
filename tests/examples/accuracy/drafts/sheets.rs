//! The reprint list: whether touched sheets of the players' parts are named, and no others.

use rastrum::casting_off::part::{Binding, PartBasis, Stand, propose};
use rastrum::compare::{self, Fate, Hand, Music, OwnLine, Printed};
use rastrum::geometry::Margins;
use rastrum::metrics::Metrics;
use rastrum::players::blocks::blocks;
use rastrum::players::changes::changes;
use rastrum::players::turning::{self, Around};
use rastrum::players::{self, Player};
use rastrum::score::Score;
use rastrum::units::Mm;

use super::judge::contents;
use super::plan::Plan;

/// Touched sheets and those of them that are named, untouched ones and those of them that are named.
#[derive(Clone, Copy, Debug, Default)]
pub struct Named {
    pub touched: u64,
    pub named: u64,
    pub untouched: u64,
    pub named_in_vain: u64,
}

pub fn named(old: &Score, new: &Score, plan: &Plan, music: &Music) -> Named {
    let (ours, theirs) = (players::draw(old, None).players, players::draw(new, None).players);
    let around = Around::of(old);
    let mut all = Named::default();
    for (at, part) in plan.parts.iter().enumerate() {
        let Some(was) = part.is else { continue };
        let of = |players: &'_ [Player], score: &Score, part: usize| -> Vec<usize> {
            let own =
                |player: &Player| player.staves.first().is_some_and(|staff| score.staves[staff.at()].part.at() == part);
            (0..players.len()).filter(|at| own(&players[*at])).collect()
        };
        for (one, other) in of(&ours, old, was).into_iter().zip(of(&theirs, new, at)) {
            player(&ours[one], &theirs[other], plan, part.transposed.is_some(), music, &around, &mut all);
        }
    }
    all
}

fn player(old: &Player, new: &Player, plan: &Plan, transposed: bool, music: &Music, around: &Around, all: &mut Named) {
    let (old_blocks, new_blocks) = (blocks(&old.music), blocks(&new.music));
    if old.music.cells.iter().chain(&new.music.cells).all(|cell| !cell.sounds()) {
        return;
    }
    let side = Mm(20.0);
    let stand = Stand {
        binding: Binding::Booklet,
        paper: (Mm(257.0), Mm(364.0)),
        margins: Margins { left: side, right: side, top: side, bottom: side },
        staff_height: Mm(7.0),
        natural_force: 0.73,
        starts: None,
        headed: true,
    };
    let metrics = Metrics::of(&old.music);
    let points = turning::points(old, around, &changes(old));
    let basis = PartBasis { player: old, metrics: &metrics, blocks: &old_blocks, points: &points, stand: &stand };
    let Some(pages) = propose(&basis) else { return };
    let edits = compare::line(&OwnLine::of(&old.music), &OwnLine::of(&new.music), music);
    let hand = Hand { old: &old.music, new: &new.music, old_blocks: &old_blocks, new_blocks: &new_blocks };
    let printed = Printed { layout: &pages.layout, binding: Binding::Booklet, edits: &edits, hand: &hand };
    let found = compare::sheets(&printed, music);
    let sheets: Vec<(usize, usize)> =
        found.sheets.iter().filter_map(|own| own.sheet.bars).map(|bars| (bars.first.at(), bars.last.at())).collect();
    let (sure, either) = touched(&old.music, &new.music, plan, transposed, &sheets);
    let told: Vec<bool> =
        found.sheets.iter().filter(|own| own.sheet.bars.is_some()).map(|own| own.fate != Fate::Keep).collect();
    for (at, told) in told.iter().enumerate() {
        if sure[at] {
            all.touched += 1;
            all.named += u64::from(*told);
        } else if !either.iter().any(|(one, other)| *one == at || *other == at) {
            all.untouched += 1;
            all.named_in_vain += u64::from(*told);
        }
    }
    // Of two sheets with something put in between them one has to be named.
    for (one, other) in either {
        all.touched += 1;
        all.named += u64::from(told[one] || told[other]);
    }
}

/// Which sheets the plan touches for one player, and pairs of sheets of which it touches one or the other.
fn touched(
    old: &Score,
    new: &Score,
    plan: &Plan,
    transposed: bool,
    sheets: &[(usize, usize)],
) -> (Vec<bool>, Vec<(usize, usize)>) {
    let mut sure = vec![transposed; sheets.len()];
    let mut either = Vec::new();
    let on = |bar: usize| sheets.iter().position(|(first, last)| (*first..=*last).contains(&bar));
    let mut kept = vec![false; old.bars.len()];
    // The last bar that kept its place.
    let mut before: Option<usize> = None;
    let mut pending = false;
    for (at, bar) in plan.bars.iter().enumerate() {
        match bar.is {
            Some(is) if !bar.moved => {
                kept[is] = true;
                if contents(old, is, 0) != contents(new, at, 0)
                    && let Some(sheet) = on(is)
                {
                    sure[sheet] = true;
                }
                if pending {
                    let sides = (before.and_then(on), on(is));
                    match sides {
                        (Some(one), Some(other)) if one != other => either.push((one, other)),
                        (Some(one), _) | (None, Some(one)) => sure[one] = true,
                        _ => {}
                    }
                    pending = false;
                }
                before = Some(is);
            }
            _ => pending = true,
        }
    }
    if pending && let Some(sheet) = before.and_then(on) {
        sure[sheet] = true;
    }
    for bar in (0..old.bars.len()).filter(|bar| !kept[*bar]) {
        if let Some(sheet) = on(bar) {
            sure[sheet] = true;
        }
    }
    either.retain(|(one, other)| !sure[*one] && !sure[*other]);
    (sure, either)
}
