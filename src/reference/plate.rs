//! Typical pages of a reference layout, to be drawn beside one's own: for each number of staves one page.

use std::collections::BTreeMap;

use crate::layout::{Layout, Origin, Page};
use crate::units::Mm;

/// Pages that a reference keeps: more are spread evenly over the numbers of staves.
const MOST: usize = 12;

/// One page: paper, systems, staves, ends of bars.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plate {
    /// Of its fullest system.
    pub staves: u32,
    /// Width, height.
    pub page: (Mm, Mm),
    /// From the top.
    pub systems: Vec<PlateSystem>,
}

/// One system, from the page's top left corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlateSystem {
    pub left: Mm,
    pub right: Mm,
    /// Top line and height of each staff; a single line has no height.
    pub staves: Vec<(Mm, Mm)>,
    /// Right ends of its bars.
    pub bars: Vec<Mm>,
}

impl Plate {
    /// What stands on a page, to a hundredth of a millimetre.
    #[must_use]
    pub fn of(page: &Page) -> Plate {
        let systems = page.systems.iter().map(|system| PlateSystem {
            left: hundredths(system.rect.left),
            right: hundredths(system.rect.right),
            staves: system
                .staves
                .iter()
                .map(|staff| (hundredths(staff.top), hundredths(staff.bottom() - staff.top)))
                .collect(),
            bars: system.bars.iter().map(|bar| hundredths(bar.right)).collect(),
        });
        let (width, height) = page.size.value;
        Plate { staves: fullest(page), page: (hundredths(width), hundredths(height)), systems: systems.collect() }
    }
}

/// For each number of staves the first page with as many systems as most such pages have; the last page of all is left
/// out where there are others, and pages whose staves stand where nobody said.
pub(super) fn plates(layout: &Layout) -> Vec<Plate> {
    let told: Vec<&Page> = layout.pages.iter().filter(|page| is_told(page)).collect();
    let told = told.get(..told.len().saturating_sub(1).max(1)).unwrap_or_default();
    let mut groups: BTreeMap<u32, Vec<&Page>> = BTreeMap::new();
    for page in told {
        groups.entry(fullest(page)).or_default().push(page);
    }
    let all: Vec<Plate> = groups.values().filter_map(|pages| typical(pages)).map(Plate::of).collect();
    let count = all.len();
    if count <= MOST {
        return all;
    }
    (0..MOST).filter_map(|at| all.get(at * (count - 1) / (MOST - 1)).cloned()).collect()
}

/// A first page begins lower, under its title: it stands for others only where there are few.
fn typical<'a>(pages: &[&'a Page]) -> Option<&'a Page> {
    let pages = pages.get(usize::from(pages.len() > 2)..).unwrap_or_default();
    let alike = |page: &Page| pages.iter().filter(|other| other.systems.len() == page.systems.len()).count();
    // Of equally frequent ones the first.
    pages.iter().rev().max_by_key(|page| alike(page)).copied()
}

/// The plate whose number of staves is nearest to that of most pages, with the page of one's own that has it.
#[must_use]
pub fn beside<'a>(plates: &'a [Plate], own: &Layout) -> Option<(&'a Plate, Plate)> {
    let mut counts: BTreeMap<u32, usize> = BTreeMap::new();
    for page in own.pages.iter().filter(|page| !page.systems.is_empty()) {
        *counts.entry(fullest(page)).or_default() += 1;
    }
    // Of equally frequent numbers the larger.
    let staves = counts.iter().max_by_key(|(_, count)| **count).map(|(staves, _)| *staves)?;
    let pages: Vec<&Page> = own.pages.iter().filter(|page| fullest(page) == staves).collect();
    let theirs = plates.iter().min_by_key(|plate| plate.staves.abs_diff(staves))?;
    Some((theirs, Plate::of(typical(&pages)?)))
}

fn fullest(page: &Page) -> u32 {
    page.systems.iter().map(|system| system.staves.len() as u32).max().unwrap_or(0)
}

fn is_told(page: &Page) -> bool {
    let told = |origin: Origin| origin != Origin::Estimated;
    !page.systems.is_empty()
        && told(page.size.origin)
        && page.systems.iter().all(|system| told(system.breaks) && system.staves.iter().all(|staff| told(staff.placed)))
}

fn hundredths(length: Mm) -> Mm {
    Mm((length.0 * 100.0).round() / 100.0)
}
