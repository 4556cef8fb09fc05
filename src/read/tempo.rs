//! Metronome marks as quarters a minute.

use roxmltree::Node;

use super::oddities::Oddities;
use super::xml;
use crate::score::MetronomeMark;
use crate::units::Fraction;

/// A `metronome` element.
#[derive(Debug)]
pub(super) struct Metronome {
    pub mark: MetronomeMark,
    pub printed: bool,
    /// `None` for a beat set equal to another beat, or a count that is no number.
    pub quarters_per_minute: Option<f64>,
    /// It gives a count, but no number.
    pub unreadable: bool,
}

/// Reads "beat = count" and "beat = beat"; `None` when there is no beat.
pub(super) fn metronome(node: Node<'_, '_>, oddities: &mut Oddities) -> Option<Metronome> {
    let mut beats: Vec<Beat<'_>> = Vec::new();
    let mut per_minute = "";
    for (name, child) in xml::elements(node) {
        match name {
            "beat-unit" => beats.push(Beat { unit: xml::text(child), dots: 0 }),
            "beat-unit-dot" => {
                let beat = beats.last_mut()?;
                beat.dots = (beat.dots + 1).min(3);
            }
            "per-minute" => per_minute = xml::text(child),
            other => oddities.unread(other),
        }
    }
    let beat = beats.first()?.length()?;
    // Which of two equated beats is the old one is a matter of style: the new tempo is not known from the mark.
    let text = match beats.get(1) {
        Some(other) => format!("{}{}", "dotted ".repeat(usize::from(other.dots)), other.unit),
        None => xml::tidy(per_minute),
    };
    let quarters_per_minute = count(per_minute).map(|count| count * beat.to_f64()).and_then(plausible);
    let printed = node.attribute("print-object") != Some("no");
    let unreadable = beats.len() == 1 && quarters_per_minute.is_none();
    Some(Metronome { mark: MetronomeMark { beat, per_minute: text }, printed, quarters_per_minute, unreadable })
}

/// A note value as a metronome mark writes it.
struct Beat<'a> {
    unit: &'a str,
    dots: u8,
}

impl Beat<'_> {
    /// In quarters.
    fn length(&self) -> Option<Fraction> {
        // n dots make it 2 - 1 / 2^n times as long.
        beat_unit(self.unit)?.checked_mul(Fraction::new((2 << self.dots) - 1, 1 << self.dots)?)
    }
}

/// A tempo that music can have; anything else is no tempo.
pub(super) fn plausible(quarters_per_minute: f64) -> Option<f64> {
    (1.0..=2000.0).contains(&quarters_per_minute).then_some(quarters_per_minute)
}

/// The beats of "96", "c. 60", "MM = 88", "50-55" (its middle), "132 (120)" (its first).
fn count(text: &str) -> Option<f64> {
    let text = text.replace(',', ".");
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let (first, rest) = leading_number(text.get(start..)?)?;
    let rest = rest.trim_start();
    let other = ["-", "\u{2013}", "\u{2014}", "\u{2012}"].iter().find_map(|dash| rest.strip_prefix(dash));
    match other.and_then(|rest| leading_number(rest.trim_start())) {
        Some((last, _)) => Some((first + last) / 2.0),
        None => Some(first),
    }
}

fn leading_number(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, rest) = text.split_at_checked(end)?;
    Some((number.trim_end_matches('.').parse().ok()?, rest))
}

fn beat_unit(name: &str) -> Option<Fraction> {
    match name {
        "long" => Fraction::new(16, 1),
        "breve" => Fraction::new(8, 1),
        "whole" => Fraction::new(4, 1),
        "half" => Fraction::new(2, 1),
        "quarter" => Fraction::new(1, 1),
        "eighth" => Fraction::new(1, 2),
        "16th" => Fraction::new(1, 4),
        "32nd" => Fraction::new(1, 8),
        "64th" => Fraction::new(1, 16),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_read_as_players_read_them() {
        assert_eq!(count("96"), Some(96.0));
        assert_eq!(count("c. 60"), Some(60.0));
        assert_eq!(count("50-55"), Some(52.5));
        assert_eq!(count("50 \u{2013} 55"), Some(52.5));
        assert_eq!(count("MM = 88"), Some(88.0));
        assert_eq!(count("132 (120)"), Some(132.0));
        assert_eq!(count("60."), Some(60.0));
        assert_eq!(count("fast"), None);
    }
}
