//! The choices of a house that no single rule owns.

use super::error::Mismatch;
use super::limit::Limit;
use super::sheet::RuleSheet;
use super::take::Limits;
use crate::paper::Paper;
use crate::units::Mm;

/// `page-rules/house.toml`, as later layers changed it.
#[derive(Clone, Debug, PartialEq)]
pub struct HouseChoices {
    /// Papers expected of scores and of parts.
    pub score_papers: Limit<Vec<Paper>>,
    pub part_papers: Limit<Vec<Paper>>,
    /// The paper a proposal is cast off on when the file names none.
    pub score_paper: Limit<Option<Paper>>,
    pub part_paper: Limit<Option<Paper>>,
    /// The paper pages will be printed on; `None`: their own size.
    pub print_scores_on: Limit<Option<Paper>>,
    pub print_parts_on: Limit<Option<Paper>>,
    /// Staff heights a proposal aims at when the file names none.
    pub score_staff: Limit<Mm>,
    pub part_staff: Limit<Mm>,
    /// From the eye to the page.
    pub conductor_distance: Limit<Mm>,
    pub player_distance: Limit<Mm>,
    pub bar_numbers: Limit<BarNumbering>,
    pub silent_staves: Limit<SilentStaves>,
    pub forces_style: Limit<ForcesStyle>,
}

/// Where bar numbers are expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarNumbering {
    EachSystem,
    EachBar,
}

/// What becomes of silent staves after the first system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SilentStaves {
    /// Only the staves that play are printed.
    LeftOut,
    /// The full set of staves on every page.
    Kept,
}

/// How the line of forces is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ForcesStyle {
    /// "2(II=picc).2.2.2 - 4.2.3.1 - timp.2perc - hp - str"
    Dotted,
    /// "2 flutes (2nd doubling piccolo), 2 oboes, ..."
    Named,
}

impl HouseChoices {
    pub(super) fn read(sheet: &RuleSheet) -> Result<HouseChoices, Mismatch> {
        let mut limits = Limits::of(sheet);
        let choices = HouseChoices {
            score_papers: limits.take("score-papers")?,
            part_papers: limits.take("part-papers")?,
            score_paper: limits.take("score-paper")?,
            part_paper: limits.take("part-paper")?,
            print_scores_on: limits.take("print-scores-on")?,
            print_parts_on: limits.take("print-parts-on")?,
            score_staff: limits.take("score-staff")?,
            part_staff: limits.take("part-staff")?,
            conductor_distance: limits.take("conductor-distance")?,
            player_distance: limits.take("player-distance")?,
            bar_numbers: choice(
                &mut limits,
                "bar-numbers",
                "each bar",
                BarNumbering::EachBar,
                BarNumbering::EachSystem,
            )?,
            silent_staves: choice(&mut limits, "silent-staves", "kept", SilentStaves::Kept, SilentStaves::LeftOut)?,
            forces_style: choice(&mut limits, "forces-style", "named", ForcesStyle::Named, ForcesStyle::Dotted)?,
        };
        limits.finish()?;
        Ok(choices)
    }
}

/// A choice between two: `if_word` when the sheet says `word`, else the other. The sheet lists both words.
fn choice<T>(limits: &mut Limits<'_>, name: &str, word: &str, if_word: T, other: T) -> Result<Limit<T>, Mismatch> {
    let limit: Limit<String> = limits.take(name)?;
    let value = if limit.value == word { if_word } else { other };
    Ok(Limit { value, source: limit.source, weight: limit.weight })
}
