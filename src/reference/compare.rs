//! Two houses side by side, in words: few lines, only where the difference would be seen.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Reference, Spread, SystemsAPage};
use crate::geometry::Margins;
use crate::paper::Paper;
use crate::units::{Mm, Spaces};

/// What two layouts differ in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    Page,
    StaffHeight,
    SystemsAPage,
    GapBetweenSystems,
    GapInsideFamilies,
    GapBetweenFamilies,
    BarsASystem,
    Density,
    Margins,
}

/// What the layout named with --like has otherwise.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    pub what: What,
    /// With its unit.
    pub theirs: String,
    /// With its unit.
    pub yours: String,
    /// The difference as a sentence.
    pub words: String,
}

/// More lines nobody compares.
const MOST: usize = 6;
/// From here on a difference is seen (from memory): a share of theirs.
const HEIGHT: f64 = 0.04;
const GAP: f64 = 0.15;
const SHARE: f64 = 0.25;
/// Margins that differ less are the printer's (from memory).
const MARGIN: Mm = Mm(4.0);
/// A page of the same size within this is the same paper.
const PAPER: Mm = Mm(2.0);

/// What matters of the differences, what is seen first coming first; what either does not tell is passed over.
#[must_use]
pub fn differences(theirs: &Reference, yours: &Reference) -> Vec<Difference> {
    let found = [
        page(theirs, yours),
        staff_height(theirs, yours),
        systems_a_page(theirs, yours),
        between_systems(theirs, yours),
        gap(What::GapInsideFamilies, "the staves of a family", theirs.inside_families, yours.inside_families),
        gap(What::GapBetweenFamilies, "two families", theirs.between_families, yours.between_families),
        bars_a_system(theirs, yours),
        density(theirs, yours),
        margins(theirs, yours),
    ];
    found.into_iter().flatten().take(MOST).collect()
}

fn difference(what: What, theirs: String, yours: String, sentence: impl Fn(&str, &str) -> String) -> Difference {
    let words = sentence(&theirs, &yours);
    Difference { what, theirs, yours, words }
}

fn page(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.page?, theirs.page?);
    let apart = (own.0 - other.0).abs().max((own.1 - other.1).abs());
    (apart > PAPER).then(|| {
        difference(What::Page, paper(other), paper(own), |theirs, yours| {
            format!("Their pages are {theirs}; yours {yours}.")
        })
    })
}

fn paper((width, height): (Mm, Mm)) -> String {
    match Paper::nearest(width, height, PAPER) {
        Some(near) => format!("{} {}", near.paper.name, if near.landscape { "lying on its side" } else { "upright" }),
        None => format!("{:.0} x {:.0} mm", width.0, height.0),
    }
}

fn staff_height(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.staff_height?, theirs.staff_height?);
    let millimetres = |height: Mm| format!("{:.1} mm", height.0);
    (differ(other.0, own.0, HEIGHT) && millimetres(own) != millimetres(other)).then(|| {
        difference(What::StaffHeight, millimetres(other), millimetres(own), |theirs, yours| {
            format!("Their staves are {theirs} high; yours {yours}.")
        })
    })
}

/// Among pages with about as many staves, those that are most.
fn systems_a_page(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let own = yours.systems_a_page.iter().max_by_key(|group| group.pages)?;
    let near = |group: &&SystemsAPage| group.staves.abs_diff(own.staves) * 10 <= own.staves;
    let other = theirs.systems_a_page.iter().filter(near).max_by_key(|group| group.pages)?;
    (own.systems.usual != other.systems.usual).then(|| {
        let (theirs, yours) = (systems(other.systems.usual), systems(own.systems.usual));
        difference(What::SystemsAPage, theirs, yours, |theirs, yours| {
            format!("With {} staves they set {theirs} on a page; you {yours}.", own.staves)
        })
    })
}

fn systems(count: u32) -> String {
    match count {
        1 => "one system".to_owned(),
        2 => "two systems".to_owned(),
        3 => "three systems".to_owned(),
        more => format!("{more} systems"),
    }
}

fn between_systems(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.between_systems?.usual, theirs.between_systems?.usual);
    let fullest = theirs.systems_a_page.iter().map(|group| group.systems.usual).max().filter(|most| *most > 1);
    let pages = match fullest {
        Some(2) => "Their pages with two systems keep".to_owned(),
        _ => "They keep".to_owned(),
    };
    gaps_differ(other, own).then(|| {
        difference(What::GapBetweenSystems, spaces(other), spaces(own), |theirs, yours| {
            format!("{pages} {theirs} between systems; yours {yours}.")
        })
    })
}

fn gap(what: What, between: &str, theirs: Option<Spread<Spaces>>, yours: Option<Spread<Spaces>>) -> Option<Difference> {
    let (own, other) = (yours?.usual, theirs?.usual);
    gaps_differ(other, own).then(|| {
        difference(what, spaces(other), spaces(own), |theirs, yours| {
            format!("They keep {theirs} between {between}; yours {yours}.")
        })
    })
}

/// Half a space is hardly seen in any gap (from memory).
fn gaps_differ(theirs: Spaces, yours: Spaces) -> bool {
    differ(theirs.0, yours.0, GAP) && (theirs - yours).abs() > Spaces(0.5) && spaces(theirs) != spaces(yours)
}

/// In halves: nobody sees less.
fn spaces(gap: Spaces) -> String {
    let halves = (gap.0 * 2.0).round() / 2.0;
    format!("{halves} {}", if (halves - 1.0).abs() < 0.01 { "space" } else { "spaces" })
}

fn bars_a_system(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.bars_a_system?.usual, theirs.bars_a_system?.usual);
    let bars = |count: u32| if count == 1 { "1 bar".to_owned() } else { format!("{count} bars") };
    (differ(f64::from(other), f64::from(own), SHARE) && own.abs_diff(other) > 1).then(|| {
        difference(What::BarsASystem, bars(other), bars(own), |theirs, yours| {
            format!("Most of their systems hold about {theirs}; yours {yours}.")
        })
    })
}

fn density(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.density?.nineteen_in_twenty, theirs.density?.nineteen_in_twenty);
    differ(other, own, SHARE).then(|| {
        let symbols = |dense: f64| format!("{dense:.0} symbols");
        difference(What::Density, symbols(other), symbols(own), |theirs, yours| {
            format!("Their fullest bars hold {theirs} on 100 spaces of staff; yours {yours}.")
        })
    })
}

fn margins(theirs: &Reference, yours: &Reference) -> Option<Difference> {
    let (own, other) = (yours.recto?, theirs.recto?);
    let sides = |Margins { left, right, top, bottom }: Margins| {
        [("left", left), ("right", right), ("upper", top), ("lower", bottom)]
    };
    let apart = |((_, own), (_, other)): &((&str, Mm), (&str, Mm))| (*own - *other).abs();
    let pairs = sides(own).into_iter().zip(sides(other)).rev();
    let ((side, own), (_, other)) = pairs.max_by(|one, two| apart(one).0.total_cmp(&apart(two).0))?;
    ((own - other).abs() > MARGIN).then(|| {
        let millimetres = |length: Mm| format!("{:.0} mm", length.0);
        difference(What::Margins, millimetres(other), millimetres(own), |theirs, yours| {
            format!("Their {side} margin on right-hand pages is {theirs}; yours {yours}.")
        })
    })
}

fn differ(theirs: f64, yours: f64, share: f64) -> bool {
    (yours - theirs).abs() > theirs.abs() * share
}
