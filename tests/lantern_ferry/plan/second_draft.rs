//! The casting off of the first movement's second draft.

use rastrum::units::Spaces;

use super::{Gaps, PagePlan, Shown, one_system, two_systems};
use crate::orchestra::{
    BELL, BN, CB, CL, EH, FL1, HARP_L, HARP_R, HN12, HN34, OB, PERC1, PERC2, Staff, TIMP, V1, V2, VA, VC,
};

const WINCHES: [&[Staff]; 2] = [
    &[OB, CL, BN, HN12, HN34, TIMP, PERC2, V1, V2, VA, VC, CB],
    &[FL1, OB, EH, CL, BN, HN12, TIMP, V1, V2, VA, VC, CB],
];
const NIGHT: [&[Staff]; 4] = [
    &[FL1, CL, PERC1, BELL, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, EH, CL, BELL, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, CL, HN12, PERC1, BELL, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, HN12, HARP_R, HARP_L, V1, V2, VA, VC, CB],
];

pub fn loading() -> Vec<PagePlan> {
    use Shown::Full;
    let mut pages = one_system(1, &[(1, 5, Full), (6, 10, Full), (11, 15, Full), (16, 19, Full), (20, 25, Full)]);
    let crowded = Gaps::Fixed { inside: Spaces(3.7), between: Spaces(4.8), systems: Spaces(30.0) };
    let well_set = Gaps::Fixed { inside: Spaces(7.0), between: Spaces(8.8), systems: Spaces(13.5) };
    pages.push(two_systems(6, [(26, 32, WINCHES[0]), (33, 41, WINCHES[1])], true, crowded));
    pages.push(two_systems(7, [(42, 47, NIGHT[0]), (48, 53, NIGHT[1])], true, well_set));
    pages.extend(one_system(8, &[(54, 59, Full), (60, 64, Full), (65, 69, Full)]));
    pages.push(two_systems(11, [(70, 73, NIGHT[2]), (74, 77, NIGHT[3])], true, well_set));
    pages
}
