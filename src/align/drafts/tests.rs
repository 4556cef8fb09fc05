use proptest::prelude::*;
use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::*;

/// Bars are letters; a full stop is a silence. Neighbouring letters are half alike.
struct Letters<'a>(&'a [u64], &'a [u64]);

impl Likeness for Letters<'_> {
    fn likeness(&mut self, left: usize, right: usize) -> f64 {
        match self.0[left].abs_diff(self.1[right]) {
            0 => 1.0,
            1 => 0.5,
            _ => 0.0,
        }
    }

    fn sounds(&self, left: usize) -> bool {
        self.0[left] != u64::from(b'.')
    }
}

fn keys(text: &str) -> Vec<u64> {
    text.bytes().map(u64::from).collect()
}

fn aligned(left: &[u64], right: &[u64]) -> Drafts {
    drafts(left, right, &mut Letters(left, right))
}

/// "A=A" together, "A-" only left, "-A" only right; then what was moved.
fn told(left: &str, right: &str) -> String {
    let found = aligned(&keys(left), &keys(right));
    let (left, right) = (left.as_bytes(), right.as_bytes());
    let word = |step: &Step| match *step {
        Step::Both(l, r) => format!("{}{}", char::from(left[l]), char::from(right[r])),
        Step::Left(l) => format!("{}-", char::from(left[l])),
        Step::Right(r) => format!("-{}", char::from(right[r])),
    };
    let steps = found.steps.iter().map(word).collect::<Vec<_>>().join(" ");
    let moved: Vec<String> = found.moved.iter().map(|(l, r)| format!("{l}>{r}")).collect();
    if moved.is_empty() { steps } else { format!("{steps} | {}", moved.join(" ")) }
}

#[test]
fn bars_taken_out_and_put_in_are_found() {
    assert_eq!(told("ABCDEF", "ABEF"), "AA BB C- D- EE FF");
    assert_eq!(told("ABEF", "ABCDEF"), "AA BB -C -D EE FF");
    assert_eq!(told("", "AB"), "-A -B");
}

#[test]
fn a_bar_that_was_changed_keeps_its_place() {
    assert_eq!(told("ABMXY", "ABNXY"), "AA BB MN XX YY");
    // One bar for one: rewritten. Other music of another length: taken out and put in.
    assert_eq!(told("ABDXY", "ABTXY"), "AA BB DT XX YY");
    assert_eq!(told("ABDXY", "ABTRXY"), "AA BB D- -T -R XX YY");
    // In music that repeats one bar, the changed one is not a bar out and a bar in.
    assert_eq!(told("AXXXXB", "AXYXXB"), "AA XX XY XX XX BB");
}

#[test]
fn music_written_out_twice_stays_where_it_stands() {
    assert_eq!(told("PABCDABCDQ", "PABCDZZABCDQ"), "PP AA BB CC DD -Z -Z AA BB CC DD QQ");
    // Of two equal passages one is gone; which of them, nobody can tell.
    assert_eq!(told("PABCDABCDQ", "PABCDQ").matches('-').count(), 4);
}

#[test]
fn blocks_that_stand_elsewhere_are_moved() {
    assert_eq!(told("ABCDEFGH", "ABFGHCDE"), "AA BB C- D- E- FF GG HH -C -D -E | 2>5 3>6 4>7");
    assert_eq!(told("ABCDEFGHIJ", "ABGHCDEFIJ"), "AA BB -G -H CC DD EE FF G- H- II JJ | 6>2 7>3");
    // With a change inside, and written another way round: the shorter one is said to have moved.
    assert_eq!(told("ABCDEFGHIJKLMN", "ABHIJKLMNCQEFG").split(" | ").nth(1), Some("2>9 4>11 5>12 6>13"));
    assert_eq!(told("ABCDEFGHIJKLMN", "ABHIJKLMNCEEFG").split(" | ").nth(1), Some("2>9 3>10 4>11 5>12 6>13"));
}

#[test]
fn silences_alone_are_no_block() {
    assert_eq!(aligned(&keys("A..BC"), &keys("ABC..")).moved, []);
}

/// A passage with bars taken out, put in and changed; each letter once.
fn edited() -> impl Strategy<Value = (Vec<u64>, Vec<u64>)> {
    let edits = proptest::collection::vec((0_u8..10, 0_u64..4), 1..60);
    edits.prop_map(|edits| {
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for (at, (kind, count)) in (0..).zip(edits) {
            let own = 1000 + at * 10;
            match kind {
                0 => left.extend((0..count).map(|by| own + by)),
                1 => right.extend((0..count).map(|by| own + by)),
                _ => {
                    left.push(own);
                    right.push(own);
                }
            }
        }
        (left, right)
    })
}

proptest! {
    #[test]
    fn every_bar_appears_once_in_order(left in "[A-E.]{0,14}", right in "[A-E.]{0,14}") {
        let (left, right) = (keys(&left), keys(&right));
        let found = aligned(&left, &right);
        let lefts = found.steps.iter().filter_map(|step| match step { Step::Both(l, _) | Step::Left(l) => Some(*l), Step::Right(_) => None });
        let rights = found.steps.iter().filter_map(|step| match step { Step::Both(_, r) | Step::Right(r) => Some(*r), Step::Left(_) => None });
        prop_assert!(lefts.eq(0..left.len()));
        prop_assert!(rights.eq(0..right.len()));
        for (l, r) in &found.moved {
            prop_assert!(found.steps.contains(&Step::Left(*l)) && found.steps.contains(&Step::Right(*r)));
        }
    }

    #[test]
    fn a_draft_against_itself_is_equal(run in "[A-D.]{0,60}") {
        let run = keys(&run);
        let found = aligned(&run, &run);
        prop_assert!(found.moved.is_empty());
        prop_assert!(found.steps.iter().enumerate().all(|(at, step)| *step == Step::Both(at, at)));
    }

    /// Against a general diff: where no bar stands twice, as many bars are equal as in the longest common subsequence.
    #[test]
    fn as_many_bars_are_equal_as_can_be((left, right) in edited()) {
        let found = aligned(&left, &right);
        let equal = found.steps.iter().filter(|step| matches!(step, Step::Both(l, r) if left[*l] == right[*r])).count();
        let ops = capture_diff_slices(Algorithm::Myers, &left, &right);
        let longest: usize = ops.iter().map(|op| match op { DiffOp::Equal { len, .. } => *len, _ => 0 }).sum();
        prop_assert_eq!(equal, longest);
    }

    /// Where bars stand many times, a passage out and a passage in cost no more bars their partners than they must.
    #[test]
    fn repeated_bars_keep_their_partners(run in "[A-F]{8,60}", out in 0_usize..50, length in 0_usize..8, put in "[P-Z]{0,8}", at in 0_usize..50) {
        let left = keys(&run);
        let mut right = left.clone();
        right.drain(out.min(right.len())..(out + length).min(right.len()));
        let at = at.min(right.len());
        right.splice(at..at, keys(&put));
        let found = aligned(&left, &right);
        let equal = found.steps.iter().filter(|step| matches!(step, Step::Both(l, r) if left[*l] == right[*r])).count();
        let ops = capture_diff_slices(Algorithm::Myers, &left, &right);
        let longest: usize = ops.iter().map(|op| match op { DiffOp::Equal { len, .. } => *len, _ => 0 }).sum();
        prop_assert!(equal + found.moved.len() + 1 >= longest, "{equal} equal, {} moved of {longest}", found.moved.len());
    }
}
