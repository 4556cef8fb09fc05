//! Tempos: a number of quarters a minute, or "dotted quarter = 66".

use toml::de::DeValue;

use super::table::number;
use crate::score::MetronomeMark;
use crate::units::Fraction;

/// A tempo as printed and in quarters a minute.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tempo {
    pub mark: MetronomeMark,
    pub quarters: f64,
}

/// `None` when it is none.
pub(super) fn parse(value: &DeValue<'_>) -> Option<Tempo> {
    let (beat, count) = match value {
        DeValue::String(text) => {
            let (beat, count) = text.split_once('=')?;
            (self::beat(beat.trim())?, count.trim().parse().ok()?)
        }
        other => (Fraction::new(1, 1)?, number(other)?),
    };
    let quarters = count * beat.to_f64();
    is_possible(quarters).then(|| Tempo { mark: MetronomeMark { beat, per_minute: count.to_string() }, quarters })
}

/// Whether music can have so many quarters a minute.
pub(super) fn is_possible(quarters: f64) -> bool {
    (1.0..=2000.0).contains(&quarters)
}

/// "quarter", "dotted half".
fn beat(words: &str) -> Option<Fraction> {
    let (name, is_dotted) = match words.strip_prefix("dotted ") {
        Some(name) => (name.trim(), true),
        None => (words, false),
    };
    let (num, den) = match name {
        "sixteenth" => (1, 4),
        "eighth" => (1, 2),
        "quarter" => (1, 1),
        "half" => (2, 1),
        "whole" => (4, 1),
        _ => return None,
    };
    if is_dotted { Fraction::new(num * 3, den * 2) } else { Fraction::new(num, den) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarters(text: &str) -> Option<f64> {
        parse(&DeValue::String(text.into())).map(|tempo| tempo.quarters)
    }

    #[test]
    fn a_beat_other_than_the_quarter_is_named() {
        assert_eq!(quarters("dotted quarter = 60"), Some(90.0));
        assert_eq!(quarters("half=40"), Some(80.0));
        assert_eq!(quarters("eighth = 100.5"), Some(50.25));
        for wrong in ["", "fast", "quarter", "quarter = 0", "quarter = -5", "quarter = inf", "breve = 20"] {
            assert_eq!(quarters(wrong), None, "{wrong}");
        }
    }
}
