//! Other pages for the same music.

use super::super::seed::Seed;
use super::super::text::{after_tag, replaced, value, without};
use super::super::truth::Truth;

/// Where systems and pages break, and how large staves are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pages {
    pub bars_a_system: usize,
    pub systems_a_page: usize,
    /// Of the staves, by their old size.
    pub size: f64,
}

pub fn recast(truth: &mut Truth, seed: &mut Seed) -> bool {
    let size = [0.8, 0.9, 1.1][seed.below(3)];
    truth.pages = Some(Pages { bars_a_system: seed.between(3, 9), systems_a_page: seed.between(1, 2), size });
    true
}

impl Pages {
    /// A bar with the breaks of these pages; those that it had are left out.
    pub fn bar(self, bar: &str, at: usize, is_top: bool) -> String {
        let bar = without(bar, "print");
        if !is_top || at == 0 || !at.is_multiple_of(self.bars_a_system) {
            return bar;
        }
        let is_page = at.is_multiple_of(self.bars_a_system * self.systems_a_page);
        after_tag(&bar, if is_page { "<print new-page=\"yes\"/>" } else { "<print new-system=\"yes\"/>" })
    }

    pub fn head(self, head: &str) -> String {
        replaced(head, "millimeters", |element| {
            let size: f64 = value(element, "millimeters").and_then(|text| text.parse().ok()).unwrap_or(7.0);
            format!("<millimeters>{:.4}</millimeters>", size * self.size)
        })
    }
}
