//! Fits the constants of spacing to recorded bar widths.
//!
//! Coordinate descent: each constant in turn takes a step up or down when that makes the widths better; when a round
//! gains little, the steps are halved. No chance is in it, so the same files give the same constants.

use rastrum::metrics::{Material, Spacing, SpacingRules};

use super::bar_widths::{Line, lines, widths};
use super::folder::Work;

/// Rounds over all constants.
const ROUNDS: usize = 16;
/// A round that gains less than this share halves the steps.
const LITTLE: f64 = 0.002;
/// Errors are counted by their size, save that those much below this weigh next to nothing.
const NEGLIGIBLE: f64 = 0.01;
/// Errors beyond this are no worse: what is moved by hand should not bend the rules.
const CAPPED: f64 = 0.25;

/// One constant to be fitted.
pub struct Constant {
    pub name: &'static str,
    pub of: fn(&mut SpacingRules) -> &mut f64,
    /// Where the search begins (from memory or from the handbooks), and its first step.
    from: f64,
    step: f64,
}

macro_rules! constants {
    ($($name:ident $(. $field:tt)? from $from:literal by $step:literal;)*) => {
        /// What is fitted; a multi-bar rest is not, since none is in the files.
        pub const CONSTANTS: &[Constant] = &[$(Constant {
            name: stringify!($name),
            of: |rules| &mut rules.$name$(.$field)?,
            from: $from,
            step: $step,
        }),*];
    };
}

constants! {
    power from 0.5 by 0.05;
    head.0 from 1.6 by 0.3;
    barline.0 from 1.7 by 0.3;
    double_bar.0 from 0.5 by 0.3;
    accidental.0 from 1.2 by 0.3;
    accidental_after_barline.0 from 0.5 by 0.3;
    grace.0 from 1.2 by 0.3;
    arpeggio.0 from 1.0 by 0.3;
    dot.0 from 0.6 by 0.3;
    flag.0 from 1.0 by 0.3;
    second.0 from 1.2 by 0.3;
    ledgers.0 from 0.6 by 0.3;
    syllable_size.0 from 2.0 by 0.3;
    syllable_gap.0 from 0.5 by 0.3;
    empty_bar.0 from 6.0 by 0.3;
    clef_change.0 from 2.5 by 0.3;
    metre_change.0 from 2.5 by 0.3;
    key_change.0 from 1.0 by 0.3;
    repeat.0 from 1.8 by 0.3;
    start.0 from 5.3 by 0.3;
    start_key.0 from 1.0 by 0.3;
    start_metre.0 from 2.7 by 0.3;
}

/// The constants by which the bars of these works come nearest to what is recorded.
pub fn rules(works: &[&Work]) -> SpacingRules {
    let works: Vec<(Material, Vec<Line>)> =
        works.iter().map(|work| (Material::of(&work.reading.score), lines(work))).collect();
    let mut best = SpacingRules::default();
    for constant in CONSTANTS {
        *(constant.of)(&mut best) = constant.from;
    }
    let mut least = misfit(&works, &best);
    let mut scale = 1.0;
    for _ in 0..ROUNDS {
        let before = least;
        for constant in CONSTANTS {
            for step in [scale * constant.step, -scale * constant.step] {
                let mut tried = best;
                let value = (constant.of)(&mut tried);
                *value = (*value + step).max(0.0);
                let misfit = misfit(&works, &tried);
                if misfit < least {
                    (best, least) = (tried, misfit);
                    break;
                }
            }
        }
        if before - least < LITTLE * before {
            scale /= 2.0;
        }
    }
    best
}

/// Mean of the bars' errors, bent at both ends.
fn misfit(works: &[(Material, Vec<Line>)], rules: &SpacingRules) -> f64 {
    let (mut sum, mut count) = (0.0, 0);
    for (material, lines) in works {
        let spacing = Spacing::from_material(material, rules);
        for line in lines {
            for (width, recorded) in widths(&spacing, line).iter().zip(&line.widths) {
                let error = (width - recorded) / recorded;
                sum += (error * error + NEGLIGIBLE * NEGLIGIBLE).sqrt().min(CAPPED);
                count += 1;
            }
        }
    }
    sum / f64::from(count.max(1))
}
