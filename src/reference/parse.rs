//! A reference layout from the text of its file.

use serde::Deserialize;

use super::{Density, Plate, PlateSystem, Reference, ReferenceError, Spread, SystemsAPage};
use crate::geometry::Margins;
use crate::units::{Mm, Spaces};

/// Reads a reference layout; `file` is how messages name it.
///
/// # Errors
/// Broken TOML, an unknown key, a length that is no length.
pub fn parse(file: &str, text: &str) -> Result<Reference, ReferenceError> {
    let error = |at: usize, what: &str| {
        let line = text.get(..at).unwrap_or_default().matches('\n').count() + 1;
        ReferenceError { file: file.to_owned(), line, what: what.trim().replace('\n', "; ") }
    };
    let sheet: Sheet =
        toml::from_str(text).map_err(|wrong| error(wrong.span().map_or(0, |span| span.start), wrong.message()))?;
    sheet.lengths().find(|(_, length)| !(0.0..=5000.0).contains(length)).map_or(Ok(()), |(key, length)| {
        let at = text.lines().position(|line| line.trim_start().starts_with(key)).unwrap_or(0);
        let at = text.split_inclusive('\n').take(at).map(str::len).sum();
        Err(error(at, &format!("{key} cannot be {length}")))
    })?;
    Ok(sheet.reference())
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Sheet {
    title: String,
    source: String,
    page: Option<PageSize>,
    #[serde(default)]
    margins_mm: Sides,
    #[serde(default)]
    staves: Staves,
    systems: Option<Systems>,
    #[serde(default)]
    systems_a_page: Vec<Group>,
    density: Option<DensitySheet>,
    #[serde(default)]
    plates: Vec<PlateSheet>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PlateSheet {
    staves: u32,
    page_mm: (f64, f64),
    systems: Vec<PlateSystemSheet>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PlateSystemSheet {
    left: f64,
    right: f64,
    staves_mm: Vec<(f64, f64)>,
    bars_mm: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PageSize {
    width_mm: f64,
    height_mm: f64,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Sides {
    right_hand: Option<FourSides>,
    left_hand: Option<FourSides>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct FourSides {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Staves {
    height_mm: Option<f64>,
    gap_inside_families_spaces: Option<Three<f64>>,
    gap_between_families_spaces: Option<Three<f64>>,
    gap_between_systems_spaces: Option<Three<f64>>,
    natural_spacing_spaces: Option<f64>,
    silent_staves_left_out: Option<bool>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Systems {
    bars: Three<u32>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    staves: u32,
    pages: u32,
    systems: Three<u32>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct Three<T> {
    tight: T,
    usual: T,
    wide: T,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct DensitySheet {
    half: f64,
    three_quarters: f64,
    nineteen_in_twenty: f64,
}

impl Sheet {
    /// Every length that a wrong file could make absurd, with its key. Gaps may be negative: staves can overlap.
    fn lengths(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let page = self.page.iter().flat_map(|page| [("width-mm", page.width_mm), ("height-mm", page.height_mm)]);
        let margins = [self.margins_mm.right_hand, self.margins_mm.left_hand].into_iter().flatten();
        let margins = margins.flat_map(|sides| {
            [("left", sides.left), ("right", sides.right), ("top", sides.top), ("bottom", sides.bottom)]
        });
        let height = self.staves.height_mm.map(|height| ("height-mm", height));
        let spacing = self.staves.natural_spacing_spaces.map(|spacing| ("natural-spacing-spaces", spacing));
        page.chain(margins).chain(height).chain(spacing).chain(self.plates.iter().flat_map(PlateSheet::lengths))
    }

    fn reference(self) -> Reference {
        let spaces = |gap: Option<Three<f64>>| gap.map(|gap| three(gap, Spaces));
        Reference {
            title: self.title,
            source: self.source,
            page: self.page.map(|page| (Mm(page.width_mm), Mm(page.height_mm))),
            recto: self.margins_mm.right_hand.map(margins),
            verso: self.margins_mm.left_hand.map(margins),
            staff_height: self.staves.height_mm.map(Mm),
            inside_families: spaces(self.staves.gap_inside_families_spaces),
            between_families: spaces(self.staves.gap_between_families_spaces),
            between_systems: spaces(self.staves.gap_between_systems_spaces),
            systems_a_page: self.systems_a_page.into_iter().map(group).collect(),
            bars_a_system: self.systems.map(|systems| three(systems.bars, |bars| bars)),
            natural_spacing: self.staves.natural_spacing_spaces.map(Spaces),
            silent_staves_left_out: self.staves.silent_staves_left_out,
            plates: self.plates.into_iter().map(PlateSheet::plate).collect(),
            density: self.density.map(|density| Density {
                half: density.half,
                three_quarters: density.three_quarters,
                nineteen_in_twenty: density.nineteen_in_twenty,
            }),
        }
    }
}

impl PlateSheet {
    fn lengths(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let page = [("page-mm", self.page_mm.0), ("page-mm", self.page_mm.1)];
        let systems = self.systems.iter().flat_map(|system| {
            let ends = [("left", system.left), ("right", system.right)];
            let staves = system.staves_mm.iter().flat_map(|(top, high)| [("staves-mm", *top), ("staves-mm", *high)]);
            ends.into_iter().chain(staves).chain(system.bars_mm.iter().map(|end| ("bars-mm", *end)))
        });
        page.into_iter().chain(systems)
    }

    fn plate(self) -> Plate {
        let system = |own: PlateSystemSheet| PlateSystem {
            left: Mm(own.left),
            right: Mm(own.right),
            staves: own.staves_mm.into_iter().map(|(top, high)| (Mm(top), Mm(high))).collect(),
            bars: own.bars_mm.into_iter().map(Mm).collect(),
        };
        let page = (Mm(self.page_mm.0), Mm(self.page_mm.1));
        Plate { staves: self.staves, page, systems: self.systems.into_iter().map(system).collect() }
    }
}

fn margins(sides: FourSides) -> Margins {
    Margins { left: Mm(sides.left), right: Mm(sides.right), top: Mm(sides.top), bottom: Mm(sides.bottom) }
}

fn group(group: Group) -> SystemsAPage {
    SystemsAPage { staves: group.staves, pages: group.pages, systems: three(group.systems, |systems| systems) }
}

fn three<A, B>(values: Three<A>, unit: impl Fn(A) -> B) -> Spread<B> {
    Spread { tight: unit(values.tight), usual: unit(values.usual), wide: unit(values.wide) }
}
