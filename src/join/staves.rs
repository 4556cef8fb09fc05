//! Whose staves a system shows: those of the score in order, some left out.

use crate::engraved::{self, EngravedPage, EngravedSystem};
use crate::layout::{StaffRole, System};
use crate::place::{BarSpan, StaffId};
use crate::score::Score;

/// A staff left out though it plays; one shown though it is silent; a name that is another's; one that is its own.
const LEFT_OUT: f64 = 6.0;
const SILENT: f64 = 0.2;
const OTHER_NAME: f64 = 2.0;
const OWN_NAME: f64 = -2.0;

/// Tells each staff of a system which one of the score it is; ossias are none.
pub(super) fn tell(system: &mut System, own: &EngravedSystem, page: &EngravedPage, bars: BarSpan, score: &Score) {
    let printed: Vec<usize> = (0..system.staves.len())
        .filter(|at| system.staves.get(*at).is_some_and(|staff| staff.role != StaffRole::Ossia))
        .collect();
    let all = score.staves.len();
    let ids: Vec<StaffId> = if printed.len() == all {
        (0..all).map(|at| StaffId(at as u16)).collect()
    } else if printed.len() < all {
        chosen(&printed, own, page, bars, score)
    } else {
        Vec::new()
    };
    for (at, id) in printed.iter().zip(ids) {
        if let Some(staff) = system.staves.get_mut(*at) {
            staff.staff = Some(id);
        }
    }
}

/// The cheapest choice of as many staves as are printed, in score order; nothing where none fits.
fn chosen(printed: &[usize], own: &EngravedSystem, page: &EngravedPage, bars: BarSpan, score: &Score) -> Vec<StaffId> {
    let (rows, columns) = (printed.len(), score.staves.len());
    let plays: Vec<bool> = (0..columns).map(|at| sounds(score, StaffId(at as u16), bars)).collect();
    let names: Vec<Option<String>> = printed.iter().map(|at| name(own, page, *at)).collect();
    // Costs by printed staves and score staves so far, and whether the last score staff is shown.
    let mut best = vec![vec![(f64::INFINITY, false); columns + 1]; rows + 1];
    if let Some(start) = best.first_mut().and_then(|row| row.first_mut()) {
        *start = (0.0, false);
    }
    let get = |best: &Vec<Vec<(f64, bool)>>, row: usize, column: usize| {
        best.get(row).and_then(|own| own.get(column)).map_or(f64::INFINITY, |own| own.0)
    };
    for row in 0..=rows {
        for column in 1..=columns {
            let plays = plays.get(column - 1).copied().unwrap_or(false);
            let out = get(&best, row, column - 1) + if plays { LEFT_OUT } else { 0.0 };
            let shown = row.checked_sub(1).map_or(f64::INFINITY, |above| {
                let named = names.get(above).and_then(Option::as_deref);
                let cost = of_name(named, StaffId(column as u16 - 1), score) + if plays { 0.0 } else { SILENT };
                get(&best, above, column - 1) + cost
            });
            if let Some(slot) = best.get_mut(row).and_then(|own| own.get_mut(column)) {
                *slot = if shown < out { (shown, true) } else { (out, false) };
            }
        }
    }
    if !get(&best, rows, columns).is_finite() {
        return Vec::new();
    }
    let (mut row, mut ids) = (rows, Vec::new());
    for column in (1..=columns).rev() {
        if best.get(row).and_then(|own| own.get(column)).is_some_and(|own| own.1) {
            ids.push(StaffId(column as u16 - 1));
            row -= 1;
        }
    }
    ids.reverse();
    ids
}

fn sounds(score: &Score, staff: StaffId, bars: BarSpan) -> bool {
    bars.iter().filter_map(|bar| score.cell(bar, staff)).any(|cell| !cell.is_silent())
}

fn name(own: &EngravedSystem, page: &EngravedPage, staff: usize) -> Option<String> {
    words_beside(own, page, staff).map(|words| plain(&words))
}

/// The words beside a staff.
pub(super) fn words_beside(own: &EngravedSystem, page: &EngravedPage, staff: usize) -> Option<String> {
    let rect = own.staves.get(staff)?.rect;
    let room = own.staves.get(staff)?.space() * 2.0;
    let middle = |text: &engraved::EngravedText| (text.rect.top + text.rect.bottom).0 / 2.0;
    let beside =
        |text: &&engraved::EngravedText| rect.top.0 - room <= middle(text) && middle(text) <= rect.bottom.0 + room;
    page.texts.iter().filter(|text| engraved::is_name(text, own)).find(beside).map(|text| text.text.clone())
}

fn plain(text: &str) -> String {
    text.to_lowercase().chars().filter(|letter| letter.is_alphanumeric()).collect()
}

fn of_name(named: Option<&str>, staff: StaffId, score: &Score) -> f64 {
    let Some((named, part)) = named.zip(score.part_of(staff)) else { return 0.0 };
    let own = [&part.name, &part.abbreviation].map(|name| plain(name));
    if own
        .iter()
        .any(|own| !own.is_empty() && (own == named || own.starts_with(named) || named.starts_with(own.as_str())))
    {
        OWN_NAME
    } else {
        OTHER_NAME
    }
}
