//! Pages, turns, findings, and the row of a draft.

use super::*;
use crate::check::TrendRow;
use crate::compare::TurnFate;

/// The pages of one draft in numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Figures {
    /// Pages with music.
    pub pages: u32,
    pub systems: u32,
    /// Pages with two systems or more.
    pub split_pages: u32,
    /// Smallest and largest five-line staff.
    pub staff_height_mm: Option<(f64, f64)>,
    /// The middle one, in spaces.
    pub gap_in_family: Option<f64>,
    pub gap_between_families: Option<f64>,
    pub gap_between_systems: Option<f64>,
    /// The middle one of the systems: width over natural width.
    pub stretch: Option<f64>,
    /// The middle one of the pages' dense ends, symbols per 100 spaces of sounding staff.
    pub density: Option<f64>,
    /// How the pages were found: "recorded", "measured", "estimated" ...
    pub footing: Option<String>,
}

/// A page of the new draft, and the page that held most of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PagePair {
    pub old_page: Option<PageIdx>,
    pub new_page: Option<PageIdx>,
    /// Bars that stand on both.
    pub bars_in_common: u32,
    /// How much they differ, from 0 up.
    pub differs: f64,
}

/// Bars in a row that are denser, or less dense, than they were.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Density {
    pub old_bars: BarSpan,
    pub new_bars: BarSpan,
    /// Symbols per 100 spaces of sounding staff, mean of the bars.
    pub old: f64,
    pub new: f64,
}

/// A turn that leaves too little time, or did.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Turn {
    /// "score", or the player's name.
    pub document: String,
    /// "won", "lost" or "still-bad".
    pub change: String,
    /// The bar that it follows; null where there is no such bar.
    pub old_after: Option<BarIdx>,
    pub new_after: Option<BarIdx>,
}

/// One place of a finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FoundPlace {
    /// "score", or the player's name.
    pub document: String,
    pub key: String,
    /// "new", "kept" or "mended".
    pub status: String,
    pub rule: String,
    pub weight: Weight,
    /// Somebody let it stand, in either draft.
    pub accepted: bool,
    /// As printed.
    pub old_page: Option<String>,
    pub new_page: Option<String>,
    pub old_bars: Option<BarSpan>,
    pub new_bars: Option<BarSpan>,
    pub message: String,
}

/// A draft in numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Trend {
    pub name: String,
    pub bars: u32,
    pub parts: u32,
    pub figures: Figures,
    pub stop: u32,
    pub mend: u32,
    pub look: u32,
    /// Players' turns that leave too little time, and all; null without parts.
    pub bad_turns: Option<u32>,
    pub turns: Option<u32>,
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

impl Figures {
    pub(super) fn of(own: &compare::Figures) -> Figures {
        let [family, families, systems] = own.gaps.map(|gap| gap.map(|gap| rounded(gap.0)));
        Figures {
            pages: count(own.pages),
            systems: count(own.systems),
            split_pages: count(own.split),
            staff_height_mm: own.staff_height.map(|(least, most)| (rounded(least.0), rounded(most.0))),
            gap_in_family: family,
            gap_between_families: families,
            gap_between_systems: systems,
            stretch: own.stretch.map(rounded),
            density: own.density.map(rounded),
            footing: own.footing.map(|footing| footing.name().to_owned()),
        }
    }
}

impl PagePair {
    pub(super) fn of(own: &compare::PagePair) -> PagePair {
        PagePair {
            old_page: own.old,
            new_page: own.new,
            bars_in_common: count(own.common),
            differs: rounded(own.differs),
        }
    }
}

impl Density {
    pub(super) fn of(own: &compare::DensityChange) -> Density {
        Density { old_bars: own.old_bars, new_bars: own.bars, old: rounded(own.old), new: rounded(own.new) }
    }
}

impl Trend {
    pub(super) fn of(row: &TrendRow) -> Trend {
        let [stop, mend, look] = row.findings.map(count);
        Trend {
            name: row.name.clone(),
            bars: count(row.bars),
            parts: count(row.parts),
            figures: Figures::of(&row.pages),
            stop,
            mend,
            look,
            bad_turns: row.bad_turns.map(|(bad, _)| count(bad)),
            turns: row.bad_turns.map(|(_, all)| count(all)),
        }
    }
}

pub(super) fn turns(compared: &Compared) -> Vec<Turn> {
    let mut all = Vec::new();
    for own in &compared.turns {
        all.extend(own.changes.iter().map(|change| {
            Turn {
                document: document(own.reader, compared),
                change: match change.fate {
                    TurnFate::Won => "won",
                    TurnFate::Lost => "lost",
                    TurnFate::StillBad => "still-bad",
                }
                .to_owned(),
                old_after: change.old_after,
                new_after: change.new_after,
            }
        }));
    }
    all
}

pub(super) fn findings(compared: &Compared) -> Vec<FoundPlace> {
    let one = |(reader, change): &(Reader, compare::FoundChange)| {
        let page = |spot: &Option<compare::Spot>| spot.as_ref().and_then(|spot| spot.page.clone());
        let bars = |spot: &Option<compare::Spot>| spot.as_ref().and_then(|spot| spot.bars);
        FoundPlace {
            document: document(*reader, compared),
            key: change.key.clone(),
            status: change.fate.name().to_owned(),
            rule: change.rule.to_owned(),
            weight: change.weight,
            accepted: change.accepted,
            old_page: page(&change.old),
            new_page: page(&change.new),
            old_bars: bars(&change.old),
            new_bars: bars(&change.new),
            message: change.says.clone(),
        }
    };
    compared.findings.iter().map(one).collect()
}
