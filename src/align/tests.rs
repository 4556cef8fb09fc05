use proptest::prelude::*;

use super::*;

/// Bars are letters; a full stop is a silence. Neighbouring letters are half alike.
struct Letters<'a>(&'a [u8], &'a [u8]);

impl Alike for Letters<'_> {
    fn likeness(&self, left: usize, right: usize) -> f64 {
        match self.0[left].abs_diff(self.1[right]) {
            0 => 1.0,
            1 => 0.5,
            _ => 0.0,
        }
    }

    fn weight(&self, left: usize) -> f64 {
        if self.0[left] == b'.' { 0.1 } else { 1.0 }
    }
}

/// "A=A" together, "A-" only left, "-A" only right.
fn told(left: &str, right: &str) -> String {
    let (left, right) = (left.as_bytes(), right.as_bytes());
    let steps = align(left, right, &Letters(left, right));
    let word = |step: &Step| match *step {
        Step::Both(l, r) => format!("{}{}", char::from(left[l]), char::from(right[r])),
        Step::Left(l) => format!("{}-", char::from(left[l])),
        Step::Right(r) => format!("-{}", char::from(right[r])),
    };
    steps.iter().map(word).collect::<Vec<_>>().join(" ")
}

#[test]
fn bars_taken_out_and_put_in_are_found() {
    assert_eq!(told("ABCDEF", "ABEF"), "AA BB C- D- EE FF");
    assert_eq!(told("ABEF", "ABCDEF"), "AA BB -C -D EE FF");
    assert_eq!(told("", "AB"), "-A -B");
}

#[test]
fn a_changed_passage_is_paired_by_likeness() {
    assert_eq!(told("ABMMXYZ", "ABNNXYZ"), "AA BB MN MN XX YY ZZ");
    // The bar that is missing is the one least like what is there.
    assert_eq!(told("ABMTPXY", "ABNQXY"), "AA BB MN T- PQ XX YY");
}

#[test]
fn a_silence_does_not_hold_two_changes_apart() {
    // Transposed by one throughout: the silences stay where they are.
    assert_eq!(told("M.P.S.V", "N.Q.T.W"), "MN .. PQ .. ST .. VW");
    assert_eq!(told("ZZMM..PPZZ", "ZZNN..QQZZ"), "ZZ ZZ MN MN .. .. PQ PQ ZZ ZZ");
}

/// The most that any alignment can have, found by trying all.
fn most(left: &[u8], right: &[u8], letters: &Letters<'_>, l: usize, r: usize) -> f64 {
    if l == left.len() || r == right.len() {
        return 0.0;
    }
    let both = letters.likeness(l, r) + 0.6 + most(left, right, letters, l + 1, r + 1);
    both.max(most(left, right, letters, l + 1, r)).max(most(left, right, letters, l, r + 1))
}

proptest! {
    #[test]
    fn every_bar_appears_once_in_order(left in "[A-D.]{0,12}", right in "[A-D.]{0,12}") {
        let (left, right) = (left.as_bytes(), right.as_bytes());
        let steps = align(left, right, &Letters(left, right));
        let lefts = steps.iter().filter_map(|step| match step { Step::Both(l, _) | Step::Left(l) => Some(*l), Step::Right(_) => None });
        let rights = steps.iter().filter_map(|step| match step { Step::Both(_, r) | Step::Right(r) => Some(*r), Step::Left(_) => None });
        prop_assert!(lefts.eq(0..left.len()));
        prop_assert!(rights.eq(0..right.len()));
    }

    #[test]
    fn a_run_against_itself_is_equal(run in "[A-D.]{0,40}") {
        let run = run.as_bytes();
        let steps = align(run, run, &Letters(run, run));
        prop_assert!(steps.iter().enumerate().all(|(at, step)| *step == Step::Both(at, at)));
    }

    #[test]
    fn a_gap_has_the_most_that_can_be_had(left in "[A-F]{0,5}", right in "[G-L]{0,5}") {
        let (left, right) = (left.as_bytes(), right.as_bytes());
        let letters = Letters(left, right);
        let mut steps = Vec::new();
        gap::fill(0..left.len(), 0..right.len(), &mut |l, r| letters.likeness(l, r), A_PAIR, &mut steps);
        let had: f64 = steps.iter().map(|step| match step { Step::Both(l, r) => letters.likeness(*l, *r) + 0.6, _ => 0.0 }).sum();
        prop_assert!((had - most(left, right, &letters, 0, 0)).abs() < 1e-9);
    }
}
