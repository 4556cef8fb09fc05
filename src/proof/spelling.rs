//! The same sounds spelt otherwise: harmless, and one line however many they are.

use super::Proof;
use super::side::{Both, Pairs};
use crate::place::BarSpan;
use crate::words::counted;

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let mut bars: Option<BarSpan> = None;
    let (mut respelt, mut all) = (0, 0);
    for pair in &pairs.both {
        let (Some(line), Some(part)) = (both.line.heard.get(pair.0), both.part.heard.get(pair.1)) else { continue };
        if line.notes.len() != part.notes.len() {
            continue;
        }
        let same = line.notes.iter().zip(&part.notes).filter(|(line, part)| line.key() == part.key());
        let own = same.filter(|(line, part)| line.sounding != part.sounding).count();
        all += line.notes.len();
        if own > 0 {
            respelt += own;
            let here = both.line.idx(pair.0);
            bars = Some(bars.map_or(BarSpan::one(here), |bars| BarSpan::new(bars.first, here)));
        }
    }
    if let Some(bars) = bars {
        let all_of_them = if respelt == all { "all " } else { "" };
        Proof::tell(
            &mut found.same,
            bars,
            &format!("{all_of_them}{} spelt otherwise, the same in sound", counted(respelt, "note")),
        );
    }
}
