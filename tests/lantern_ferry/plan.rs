//! The casting off, given by hand: which bars stand on which page, in which systems, with which staves.

use rastrum::units::Spaces;

use crate::orchestra::{CB, CL, EH, FL1, HARP_L, HARP_R, HN12, PERC1, Staff, V1, V2, VA, VC, all_staves, full_set};
use crate::score::{Draft, Movement};

mod second_draft;

/// How the gaps of a page are found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gaps {
    /// Each gap holds its contents; what is left over is shared out.
    Fitted,
    /// The page is filled evenly, whatever the staves hold.
    Crowded,
    /// Two systems with these gaps: inside a family, between families, between the systems.
    Fixed { inside: Spaces, between: Spaces, systems: Spaces },
}

#[derive(Clone, Copy, Debug)]
pub enum Shown {
    /// 23 staves, and the added one where there is one.
    Full,
    /// 26 staves.
    Divided,
    /// Only the staves that play.
    Playing(&'static [Staff]),
}

impl Shown {
    pub fn staves(self, with_bell: bool) -> Vec<Staff> {
        match self {
            Shown::Full => full_set(with_bell),
            Shown::Divided => all_staves(with_bell),
            Shown::Playing(staves) => staves.to_vec(),
        }
    }
}

#[derive(Clone, Debug)]
pub struct SystemPlan {
    pub first_bar: usize,
    pub last_bar: usize,
    pub shown: Shown,
    pub divider: bool,
}

#[derive(Clone, Debug)]
pub struct PagePlan {
    pub number: usize,
    pub systems: Vec<SystemPlan>,
    pub gaps: Gaps,
    /// What is wanted between the bottom staff and the bottom margin, where they are not left to the contents.
    pub foot: Option<Spaces>,
    /// The gap below a staff of a page of one system, set whatever stands in it.
    pub pinned: Option<(Staff, Spaces)>,
}

const NIGHT: [&[Staff]; 4] = [
    &[FL1, CL, PERC1, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, CL, HN12, PERC1, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, EH, CL, HARP_R, HARP_L, V1, V2, VA, VC, CB],
    &[FL1, CL, HN12, HARP_R, HARP_L, V1, V2, VA, VC, CB],
];

/// The pages of movement 1, in either draft, or of movement 2.
pub fn pages(movement: &Movement) -> Vec<PagePlan> {
    match (movement.number, movement.draft) {
        (1, Draft::First) => loading(),
        (1, Draft::Second) => second_draft::loading(),
        _ => crossing(),
    }
}

fn loading() -> Vec<PagePlan> {
    use Shown::{Divided, Full};
    let mut pages = one_system(
        1,
        &[
            (1, 5, Full),
            (6, 10, Full),
            (11, 15, Full),
            (16, 20, Full),
            (21, 26, Full),
            (27, 32, Full),
            (33, 38, Divided),
            (39, 44, Full),
            (45, 50, Full),
            (51, 55, Full),
            (56, 60, Full),
            (61, 64, Full),
        ],
    );
    for page in pages.iter_mut().filter(|page| page.number == 5) {
        page.pinned = Some((VA, Spaces(3.5)));
    }
    let well_set = Gaps::Fixed { inside: Spaces(8.0), between: Spaces(10.5), systems: Spaces(18.0) };
    let too_close = Gaps::Fixed { inside: Spaces(8.5), between: Spaces(11.5), systems: Spaces(9.5) };
    pages.push(two_systems(13, [(65, 69, NIGHT[0]), (70, 74, NIGHT[1])], true, well_set));
    pages.push(two_systems(14, [(75, 79, NIGHT[2]), (80, 84, NIGHT[3])], false, too_close));
    pages
}

fn crossing() -> Vec<PagePlan> {
    use Shown::{Divided, Full};
    let mut pages = one_system(
        15,
        &[
            (1, 4, Full),
            (5, 9, Full),
            (10, 14, Full),
            (15, 19, Full),
            (20, 24, Full),
            (25, 30, Full),
            (31, 36, Full),
            (37, 42, Full),
            (43, 48, Full),
            (49, 54, Full),
            (55, 58, Full),
            (59, 63, Divided),
            (64, 68, Divided),
            (69, 73, Divided),
            (74, 78, Divided),
            (79, 83, Full),
            (84, 87, Full),
            (88, 92, Full),
            (93, 96, Full),
            (97, 100, Full),
        ],
    );
    for page in &mut pages {
        match page.number {
            16 => page.foot = Some(Spaces(5.5)),
            17 => page.foot = Some(Spaces(1.5)),
            32 => page.gaps = Gaps::Crowded,
            _ => {}
        }
    }
    pages
}

fn one_system(first_page: usize, systems: &[(usize, usize, Shown)]) -> Vec<PagePlan> {
    let page = |(offset, &(first_bar, last_bar, shown)): (usize, &(usize, usize, Shown))| PagePlan {
        number: first_page + offset,
        systems: vec![SystemPlan { first_bar, last_bar, shown, divider: false }],
        gaps: Gaps::Fitted,
        foot: None,
        pinned: None,
    };
    systems.iter().enumerate().map(page).collect()
}

fn two_systems(number: usize, systems: [(usize, usize, &'static [Staff]); 2], divided: bool, gaps: Gaps) -> PagePlan {
    let system = |(at, (first_bar, last_bar, staves)): (usize, (usize, usize, &'static [Staff]))| SystemPlan {
        first_bar,
        last_bar,
        shown: Shown::Playing(staves),
        divider: divided && at > 0,
    };
    PagePlan { number, systems: systems.into_iter().enumerate().map(system).collect(), gaps, foot: None, pinned: None }
}
