//! Multi-bar rests of the part: they end where the player counts anew, and cover nothing that is played.

use super::side::{Both, Pairs, Spot};
use super::texts::landmark_words;
use super::{Class, Proof};
use crate::words::{all_listed, counted};

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let (of_line, of_part) = (landmark_words(&both.line), landmark_words(&both.part));
    for first in 0..both.part.count() {
        let Some(count) = both.part.bar(first).and_then(|bar| bar.multi_bar_rest).filter(|count| *count > 1) else {
            continue;
        };
        let end = (first + count as usize).min(both.part.count());
        let silent = (first..end).take_while(|bar| both.part.is_silent(*bar)).count();
        let line = |part: usize| pairs.line_near(part);
        let spot = |last: usize| Spot {
            bars: both.line.span(line(first), line(last).max(line(first))),
            part_bars: Some(both.part.span(first, last)),
            onset: None,
        };
        if silent < count as usize {
            let told = format!("a rest of {} printed over them", counted(count as usize, "bar"));
            let there = format!("{} of rest", counted(silent, "bar"));
            found.differs(Class::RestCount, spot(first + silent.saturating_sub(1)), there, told);
            continue;
        }
        let mut crossed: Vec<String> = Vec::new();
        for part in first + 1..end {
            let of_line = pairs.to_line.get(part).copied().flatten().and_then(|line| of_line.get(line));
            // What the part lost, or has elsewhere, is told of the landmark.
            let own = of_part.get(part);
            let words = of_line.into_iter().flatten().filter(|word| own.is_some_and(|own| own.contains(word)));
            for word in words {
                let place = format!("{word} at bar {}", both.part.bar(part).map_or("", |bar| bar.label.as_str()));
                if !crossed.contains(&place) {
                    crossed.push(place);
                }
            }
        }
        if !crossed.is_empty() {
            let told = format!("one rest of {}", counted(count as usize, "bar"));
            found.differs(Class::RestAcrossLandmark, spot(end - 1), all_listed(&crossed), told);
        }
    }
}
