use super::*;
use crate::compare::{Music, music};
use crate::fixture;
use crate::layout::Layout;
use crate::place::{PageIdx, Place};
use crate::rules::Key;

/// One finding about the whole work, on some pages of four bars each; `everywhere` in place of them all.
fn finding(pages: &[u32], everywhere: bool) -> Finding {
    let place = |page: &u32| Place {
        page: Some(PageIdx(*page)),
        bars: Some(BarSpan::new(BarIdx(page * 4), BarIdx(page * 4 + 3))),
        everywhere,
        ..Place::default()
    };
    let rule = "families-not-separated";
    let key = Key { rule, scope: Scope::Work, staff: String::new(), anchor: None, nth: 0 };
    Finding {
        key,
        rule,
        weight: Weight::Look,
        places: pages.iter().map(place).collect(),
        worst: 0,
        found: String::new(),
        limit: String::new(),
        source: String::new(),
        message: String::new(),
        remedy: String::new(),
    }
}

/// New, kept, mended.
fn counts(old: &Finding, new: &Finding) -> [usize; 3] {
    let score = fixture::score(&fixture::QUARTET, 16);
    let layout = Layout::default();
    let same: Music = music(&score, &score);
    let matched = Matched::of(&same);
    let of = |finding: &Finding| vec![finding.clone()];
    let (old, new) = (of(old), of(new));
    let side = |findings| Found { score: &score, layout: &layout, findings, accepted: &[] };
    let changes = found(&side(&old), &side(&new), &matched, &str::to_owned);
    [FoundFate::New, FoundFate::Kept, FoundFate::Mended]
        .map(|fate| changes.iter().filter(|change| change.fate == fate).count())
}

#[test]
fn what_stands_on_all_pages_is_the_same_on_some_of_them() {
    assert_eq!(counts(&finding(&[0], true), &finding(&[1, 2, 3], false)), [0, 3, 0]);
    assert_eq!(counts(&finding(&[1, 2, 3], false), &finding(&[0], true)), [0, 1, 0]);
    assert_eq!(counts(&finding(&[0], true), &finding(&[0], true)), [0, 1, 0]);
}

#[test]
fn single_pages_are_each_their_own() {
    assert_eq!(counts(&finding(&[1], false), &finding(&[1, 2, 3], false)), [2, 1, 0]);
    assert_eq!(counts(&finding(&[1, 2], false), &finding(&[3], false)), [0, 1, 1]);
}
