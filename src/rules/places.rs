//! Places, keys and names that every rule needs: where a finding stands on paper, and what it hangs on in the music.

use super::{Case, Key, Scope};
use crate::geometry::Rect;
use crate::layout::{Layout, Page, System};
use crate::place::{BarIdx, BarSpan, PageIdx, Place, StaffId};
use crate::score::{Family, Part};
use crate::units::Mm;
use crate::words::listed;

/// More pages than this are not named one by one where they are more than four of five.
const MANY: usize = 5;

impl<'a> Case<'a> {
    #[must_use]
    pub fn page(&self, page: PageIdx) -> Option<&'a Page> {
        self.layout.pages.get(page.at())
    }

    /// A whole page with its bars.
    #[must_use]
    pub fn on_page(&self, at: PageIdx) -> Place {
        let mut place = self.nowhere();
        let Some(page) = self.page(at) else { return place };
        let (width, height) = page.size.value;
        place.page = Some(at);
        place.rect = Some(Rect::new(Mm::ZERO, Mm::ZERO, width, height).rounded());
        place.bars = page.span();
        place
    }

    /// A whole system.
    #[must_use]
    pub fn on_system(&self, page: PageIdx, at: u16, system: &System) -> Place {
        Place {
            page: Some(page),
            system: Some(at),
            rect: Some(system.rect.rounded()),
            bars: system.span(),
            ..self.nowhere()
        }
    }

    /// Some staves of one system over its whole width.
    #[must_use]
    pub fn on_staves(&self, page: PageIdx, at: u16, system: &System, staves: &[StaffId]) -> Place {
        let mut place = self.on_system(page, at, system);
        place.staves = staves.to_vec();
        if let Some(rect) = place.bars.and_then(|bars| Layout::rect_of(system, bars, staves)) {
            place.rect = Some(rect.rounded());
        }
        place
    }

    /// Some bars of some staves (all when empty), wherever they are printed; the box is that of the first system.
    #[must_use]
    pub fn on_bars(&self, bars: BarSpan, staves: &[StaffId]) -> Place {
        let mut place = Place { bars: Some(bars), staves: staves.to_vec(), ..self.nowhere() };
        if let Some((page, at, system, _)) = self.layout.find(bars.first) {
            place.page = Some(page);
            place.system = Some(at);
            place.rect = Layout::rect_of(system, bars, staves).map(|rect| rect.rounded());
        }
        place
    }

    fn nowhere(&self) -> Place {
        Place { document: self.layout.document, ..Place::default() }
    }

    /// Names a finding. The frame counts `nth` up where several findings would bear one key. What is found in a player's
    /// part bears the player's name, since the parts of a work are accepted in one file.
    #[must_use]
    pub fn key(&self, rule: &'static str, scope: Scope, staff: Option<StaffId>, anchor: Option<BarIdx>) -> Key {
        let player = self.part.map(|part| part.player.name.trim().to_owned()).unwrap_or_default();
        let staff = staff.map_or(player, |staff| self.score.staff_key(staff));
        Key { rule, scope, staff, anchor: anchor.and_then(|bar| self.score.anchor(bar)), nth: 0 }
    }

    /// "page 14", by its printed number.
    #[must_use]
    pub fn page_words(&self, page: PageIdx) -> String {
        format!("page {}", self.layout.page_label(page))
    }

    /// "page 14", "pages 3, 4 and 7", "pages 3, 4, 7 and 12 more"; `pages` in order and without doubles.
    #[must_use]
    pub fn pages_words(&self, pages: &[PageIdx]) -> String {
        match pages {
            [one] => self.page_words(*one),
            _ if self.is_all_pages(pages) => "all pages".to_owned(),
            _ if pages.len() > MANY && pages.len() * 5 > self.music_pages().count() * 4 => {
                "nearly all pages".to_owned()
            }
            _ => {
                format!("pages {}", listed(pages.iter().map(|page| self.layout.page_label(*page))))
            }
        }
    }

    /// "bar 128", with its movement where there are several: "bar 128 of movement 2".
    #[must_use]
    pub fn bar_words(&self, bar: BarIdx) -> String {
        format!("{}{}", self.bar_words_here(bar), self.of_movement(bar))
    }

    fn of_movement(&self, bar: BarIdx) -> String {
        match self.score.movements.iter().position(|movement| movement.bars.contains(bar)) {
            Some(movement) if self.score.movements.len() > 1 => format!(" of movement {}", movement + 1),
            _ => String::new(),
        }
    }

    /// "bars 128-133", with their movement where there are several.
    #[must_use]
    pub fn bars_words(&self, bars: BarSpan) -> String {
        let (first, last) = (self.score.label(bars.first), self.score.label(bars.last));
        if bars.first == bars.last || first.is_empty() || last.is_empty() {
            return self.bar_words(bars.first);
        }
        format!("bars {first}-{last}{}", self.of_movement(bars.first))
    }

    /// "the beginning" for a movement's first bar, else "bar 128".
    #[must_use]
    pub fn start_words(&self, bar: BarIdx) -> String {
        match self.score.anchor(bar) {
            Some((1, 0)) => "the beginning".to_owned(),
            Some((movement, 0)) => format!("the beginning of movement {movement}"),
            _ => self.bar_words(bar),
        }
    }

    /// "bar 128", where it is plain which movement is meant.
    #[must_use]
    pub fn bar_words_here(&self, bar: BarIdx) -> String {
        let label = self.score.label(bar);
        if label.is_empty() { format!("bar {}", bar.0 + 1) } else { format!("bar {label}") }
    }

    /// A staff as a musician calls it: its printed name, with the hand where its part has several staves.
    #[must_use]
    pub fn staff_words(&self, staff: StaffId) -> String {
        self.named(staff, |part| &part.name)
    }

    /// The same by its abbreviation where it has one, as pages after the first print it.
    #[must_use]
    pub fn staff_words_short(&self, staff: StaffId) -> String {
        self.named(staff, |part| if part.abbreviation.is_empty() { &part.name } else { &part.abbreviation })
    }

    fn named(&self, staff: StaffId, name: impl Fn(&'a Part) -> &'a str) -> String {
        let nameless = || format!("staff {} from the top", staff.0 + 1);
        let (Some(own), Some(part)) = (self.score.staves.get(staff.at()), self.score.part_of(staff)) else {
            return nameless();
        };
        let name = name(part).split_whitespace().collect::<Vec<_>>().join(" ");
        let of_part = self.score.staves_of(own.part).count();
        match (name.is_empty(), of_part, own.number) {
            (true, ..) => nameless(),
            (false, 1, _) => name,
            (false, 2, 1) if part.family == Family::Keyboard => format!("{name} (upper staff)"),
            (false, 2, _) if part.family == Family::Keyboard => format!("{name} (lower staff)"),
            // A section's first staff bears its name whether it is divided or not.
            (false, _, 1) => name,
            (false, _, number) => format!("{name} (staff {number})"),
        }
    }
}
