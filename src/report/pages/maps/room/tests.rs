use proptest::collection::vec;
use proptest::prelude::*;

use super::*;

fn rect(left: f64, top: f64, width: f64, height: f64) -> Rect {
    Rect::new(Mm(left), Mm(top), Mm(left + width), Mm(top + height))
}

/// A page of `count` staves on a sheet, with room on both sides of them.
fn staves(count: usize) -> Vec<Rect> {
    (0..count).map(|staff| rect(30.0, 12.0 + staff as f64 * 5.0, 60.0, 1.4)).collect()
}

fn seated(area: Rect, taken: &[Rect], targets: &[Rect]) -> Vec<Option<Seat>> {
    let mut room = Room::new(area, taken);
    targets.iter().map(|target| room.seat(target)).collect()
}

fn inside(outer: &Rect, inner: &Rect) -> bool {
    let eps = Mm(1e-6);
    outer.left <= inner.left + eps
        && inner.right <= outer.right + eps
        && outer.top <= inner.top + eps
        && inner.bottom <= outer.bottom + eps
}

#[test]
fn a_mark_sits_beside_its_target_when_there_is_room() {
    let target = rect(50.0, 50.0, 10.0, 1.0);
    let seat = seated(rect(0.0, 0.0, 120.0, 120.0), &[], &[target])[0].unwrap();
    assert_eq!(seat.leader, None);
}

#[test]
fn a_mark_sits_in_a_gap_that_is_high_enough() {
    let taken = [rect(20.0, 40.0, 80.0, 2.0), rect(20.0, 47.0, 80.0, 2.0)];
    let gap = rect(20.0, 42.0, 80.0, 5.0);
    let seat = seated(rect(0.0, 0.0, 120.0, 120.0), &taken, &[gap])[0].unwrap();
    assert!(inside(&gap, &seat.mark), "{seat:?}");
}

#[test]
fn a_mark_goes_to_the_margin_along_the_lines_of_the_music() {
    let taken = staves(20);
    let gap = rect(50.0, 38.4, 10.0, 3.6);
    let seat = seated(rect(18.0, 5.0, 84.0, 115.0), &taken, &[gap])[0].unwrap();
    let (from, to) = seat.leader.unwrap();
    assert!((from.y - to.y).abs() < Mm(1e-6), "{seat:?}");
}

#[test]
fn forty_marks_on_one_page_all_find_room() {
    let taken = staves(23);
    let targets: Vec<Rect> =
        (0..40).map(|n| rect(40.0 + f64::from(n % 4) * 10.0, 13.4 + f64::from(n / 2) * 5.0, 8.0, 3.6)).collect();
    let seats = seated(rect(18.0, 5.0, 84.0, 128.0), &taken, &targets);
    assert!(seats.iter().all(Option::is_some));
    assert_sound(&seats, &taken, rect(18.0, 5.0, 84.0, 128.0));
}

#[test]
fn a_mark_does_not_sit_in_the_box_of_another() {
    let (high, low) = (rect(20.0, 30.0, 60.0, 5.0), rect(20.0, 36.0, 60.0, 1.0));
    let mut room = Room::new(rect(0.0, 0.0, 120.0, 120.0), &[rect(20.0, 35.0, 60.0, 1.0), rect(20.0, 37.0, 60.0, 1.0)]);
    [high, low].iter().for_each(|target| room.own(target));
    let seat = room.seat(&low).unwrap();
    assert!(!seat.mark.overlaps(&high), "{seat:?}");
    assert!(inside(&high, &room.seat(&high).unwrap().mark), "its own box is open to it");
}

#[test]
fn a_leader_runs_around_words() {
    let target = rect(60.0, 60.0, 4.0, 0.5);
    let staves = [rect(20.0, 40.0, 90.0, 19.0), rect(20.0, 61.5, 90.0, 19.0)];
    let seat = |words: Option<Rect>| {
        let mut room = Room::new(rect(0.0, 0.0, 130.0, 120.0), &staves);
        words.iter().for_each(|words| room.keep_legible(words));
        room.seat(&target).unwrap()
    };
    let words = rect(22.0, 59.5, 8.0, 1.5);
    let (free, around) = (seat(None).leader.unwrap(), seat(Some(words)).leader.unwrap());
    assert!(crosses(free, &words) && !crosses(around, &words), "{free:?} {around:?}");
}

#[test]
fn where_there_is_no_room_no_mark_is_seated() {
    let area = rect(0.0, 0.0, 20.0, 20.0);
    assert_eq!(seated(area, &[area], &[rect(5.0, 5.0, 2.0, 2.0)]), [None]);
    assert_eq!(seated(rect(0.0, 0.0, 2.0, 2.0), &[], &[area]), [None]);
}

#[test]
fn no_number_is_no_room_and_no_panic() {
    let nan = Mm(f64::NAN);
    let broken = Rect::new(nan, nan, nan, nan);
    assert_eq!(seated(broken, &[broken], &[broken]), [None]);
    seated(rect(0.0, 0.0, 30.0, 30.0), &[broken], &[broken]);
    seated(rect(0.0, 0.0, 1e9, 30.0), &[], &[]);
}

fn assert_sound(seats: &[Option<Seat>], taken: &[Rect], area: Rect) {
    let marks: Vec<Rect> = seats.iter().flatten().map(|seat| seat.mark).collect();
    for (at, mark) in marks.iter().enumerate() {
        assert!(inside(&area, mark), "{mark:?} outside");
        assert!(marks.iter().skip(at + 1).all(|other| !mark.overlaps(other)), "two marks at {mark:?}");
        assert!(taken.iter().all(|rect| !mark.overlaps(rect)), "{mark:?} covers a staff");
    }
}

fn boxes(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Rect>> {
    let one = (0.0..100.0, 0.0..100.0, 0.0..60.0, 0.0..20.0);
    vec(one.prop_map(|(left, top, width, height)| rect(left, top, width, height)), count)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn marks_never_cover_each_other_or_a_staff_and_stay_on_the_sheet(taken in boxes(0..24), targets in boxes(1..30)) {
        let area = rect(0.0, 0.0, 90.0, 90.0);
        assert_sound(&seated(area, &taken, &targets), &taken, area);
    }

    #[test]
    fn the_same_page_gets_the_same_marks(taken in boxes(0..12), targets in boxes(1..12)) {
        let area = rect(0.0, 0.0, 80.0, 80.0);
        prop_assert_eq!(seated(area, &taken, &targets), seated(area, &taken, &targets));
    }
}
