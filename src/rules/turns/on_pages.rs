//! Turns as places and in words.

use crate::casting_off::part::Binding;
use crate::place::{BarSpan, Place};
use crate::players::Hands;
use crate::players::turning::{TurnClass, TurnPoint};
use crate::rules::pages::is_told;
use crate::rules::{Case, PartCase};
use crate::survey::{Alternative, Turn};
use crate::units::Seconds;
use crate::words::{all_listed, counted_in_words, sentence};

impl<'a> PartCase<'a> {
    /// Turns that a hand makes; a screen needs none.
    pub(super) fn turns_by_hand(&self) -> impl Iterator<Item = &'a Turn> + use<'a> {
        let by_hand = self.is_turned_by_hand();
        self.turns.iter().filter(move |_| by_hand)
    }

    pub(super) fn is_turned_by_hand(&self) -> bool {
        self.stand.binding != Binding::Tablet
    }

    /// Two at a desk share the part, and one of them can turn.
    pub(super) fn has_partner(&self, point: &TurnPoint) -> bool {
        self.player.hands == Hands::Section && !point.alone
    }
}

impl<'a> Case<'a> {
    /// Turns by hand at page ends that the file records: on pages of our own making nothing is printed yet. `None`
    /// where no page end is recorded.
    pub(super) fn told_turns(&self, part: &PartCase<'a>) -> Option<Vec<&'a Turn>> {
        let case = *self;
        let is_recorded = |turn: &&Turn| case.page(turn.page).is_some_and(|page| is_told(page.breaks));
        let all: Vec<&Turn> = part.turns_by_hand().collect();
        let told: Vec<&Turn> = all.iter().copied().filter(is_recorded).collect();
        (all.is_empty() || !told.is_empty()).then_some(told)
    }

    /// The bar before the turn.
    pub(super) fn on_turn(&self, turn: &Turn, says: impl AsRef<str>) -> Place {
        self.on_bars(BarSpan::one(turn.point.after), &[]).with_words(sentence(says.as_ref()), "")
    }

    /// "after bar 174 (page 3)".
    pub(super) fn turn_words(&self, turn: &Turn) -> String {
        format!("after {} ({})", self.bar_words(turn.point.after), self.page_words(turn.page))
    }

    /// "Break the page after bar 170 instead: enough time, at the price of one page more."
    pub(super) fn better_turn(&self, other: &Alternative) -> String {
        let time = match other.class {
            TurnClass::Easy => "easily enough time",
            TurnClass::Enough => "enough time",
            TurnClass::Tight => "a little time",
            TurnClass::None => "no more time",
        };
        let price = |more: i32, noun: &str| {
            let count = usize::try_from(more).ok().filter(|count| *count > 0)?;
            Some(format!("{} more", counted_in_words(count, noun)))
        };
        let prices: Vec<String> =
            [price(other.pages, "page"), price(other.turns, "turn")].into_iter().flatten().collect();
        let price = match prices.is_empty() {
            true => String::new(),
            false => format!(", at the price of {}", all_listed(&prices)),
        };
        format!("Break the page after {} instead: {time}{price}.", self.bar_words(other.after))
    }
}

/// "no time", "about 2 s".
pub(super) fn time_words(free: Option<Seconds>) -> String {
    match free {
        Some(free) if free.0 >= 0.5 => format!("about {free}"),
        _ => "no time".to_owned(),
    }
}

/// Which turn has the least time; the first of several.
pub(super) fn shortest(turns: &[&Turn]) -> Option<usize> {
    let free = |turn: &Turn| turn.point.free.unwrap_or(Seconds::ZERO).0;
    let turns = turns.iter().enumerate();
    turns.min_by(|(_, one), (_, other)| free(one).total_cmp(&free(other))).map(|(at, _)| at)
}
