//! Measures engraved pages. Families are told by barlines that stop between staves.

use super::measure::{by_staves, margins, most_common, spread};
use super::plate::plates;
use super::{Reference, Spread, SystemsAPage};
use crate::engraved::{self, EngravedPage, EngravedStaff, EngravedSystem};
use crate::layout::Side;
use crate::units::{Mm, Spaces};

impl Reference {
    /// Measures what is drawn on the pages; `title` and `source` say what they are and where they come from.
    #[must_use]
    pub fn of_pages(pages: &[EngravedPage], title: &str, source: &str) -> Reference {
        let music: Vec<&EngravedPage> = pages.iter().filter(|page| !page.systems.is_empty()).collect();
        let layout = engraved::layout(pages);
        let systems = || music.iter().flat_map(|page| &page.systems);
        let five = systems().flat_map(|system| &system.staves).filter(|staff| staff.lines == 5);
        Reference {
            title: title.to_owned(),
            source: source.to_owned(),
            page: most_common(music.iter().map(|page| (hundredths(page.size.0), hundredths(page.size.1)))),
            staff_height: most_common(five.map(|staff| hundredths(staff.rect.height()))),
            inside_families: spaces(systems().flat_map(|system| inside(system, true))),
            between_families: spaces(systems().flat_map(|system| inside(system, false))),
            between_systems: spaces(music.iter().flat_map(|page| between(page))),
            systems_a_page: systems_a_page(&music),
            silent_staves_left_out: left_out(&music),
            recto: margins(&layout, Side::Recto),
            verso: margins(&layout, Side::Verso),
            plates: plates(&layout),
            ..Reference::default()
        }
    }
}

/// As the text has it, so that pages of one size are of one size.
fn hundredths(length: Mm) -> Mm {
    Mm((length.0 * 100.0).round() / 100.0)
}

/// From a staff's bottom line to the next one's top line, in spaces of the larger of the two.
fn gap(above: &EngravedStaff, below: &EngravedStaff) -> Option<f64> {
    let height = above.rect.height().0.max(below.rect.height().0);
    (height > 0.0).then(|| (below.rect.top.0 - above.rect.bottom.0) / (height / 4.0))
}

/// Gaps of a system that barlines run through, or those that they do not.
fn inside(system: &EngravedSystem, joined: bool) -> impl Iterator<Item = f64> {
    let pairs = system.staves.iter().zip(system.staves.iter().skip(1));
    pairs.filter(move |(above, _)| above.joined_below == joined).filter_map(|(above, below)| gap(above, below))
}

fn between(page: &EngravedPage) -> impl Iterator<Item = f64> {
    let pairs = page.systems.iter().zip(page.systems.iter().skip(1));
    pairs.filter_map(|(above, below)| gap(above.staves.last()?, below.staves.first()?))
}

fn spaces(gaps: impl Iterator<Item = f64>) -> Option<Spread<Spaces>> {
    spread(gaps.collect(), Spaces)
}

/// The last page holds what is left and tells nothing.
fn systems_a_page(music: &[&EngravedPage]) -> Vec<SystemsAPage> {
    let told = music.iter().take(music.len().saturating_sub(1));
    by_staves(told.map(|page| page.systems.iter().map(|system| system.staves.len()).collect()))
}

/// Systems of several sizes leave staves out; of a single system nothing is told.
fn left_out(music: &[&EngravedPage]) -> Option<bool> {
    let sizes: Vec<usize> = music.iter().flat_map(|page| &page.systems).map(|system| system.staves.len()).collect();
    (sizes.len() > 1).then(|| sizes.windows(2).any(|pair| matches!(pair, [a, b] if a != b)))
}
