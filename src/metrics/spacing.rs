//! Horizontal spacing: springs and rods.
//!
//! Each bar is a row of columns, one for each moment at which something begins on any staff. A column is a spring with
//! a rod in it: pulled with a force F it is `max(rod, F * spring)` spaces long (Haken and Blostein, ICMC 1995, from
//! memory). All columns of a system are pulled with one force. Force 1 sets a quarter note 3.5 spaces wide; a house
//! has its own natural force, here called `house`, and "stretch" elsewhere is a force over it.
//!
//! Signs that do not stretch (barlines, clefs, keys, metres, repeats) are fixed widths beside the columns.

use crate::place::{BarIdx, BarSpan};
use crate::score::Score;
use crate::units::Spaces;

mod columns;
mod item;
mod material;
mod read;
mod rules;
mod signs;
pub(super) mod sketch;

pub use material::Material;
pub use rules::SpacingRules;

use material::Content;

/// The spacing of all bars of a score.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spacing {
    bars: Vec<BarSpacing>,
    /// Bar by bar; inside a bar by the force from which on they stretch.
    columns: Vec<Column>,
    /// Sums of springs and rods of all columns before; one longer than `columns`.
    springs_before: Vec<f64>,
    rods_before: Vec<f64>,
}

/// What one bar takes, columns apart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BarSpacing {
    /// Barlines, repeats, changes of clef, key and metre, room of accidentals: what no force changes.
    pub fixed: Spaces,
    /// What a system that begins with this bar takes more than the bar inside a system: clefs, keys.
    pub start: Spaces,
    /// What a system that ends just before this bar takes more: a key or metre announced at the line's end.
    pub announced: Spaces,
    /// Index of its first column, and of the one after its last.
    columns: (usize, usize),
}

/// One column of a bar.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Column {
    /// Length at force 1.
    pub spring: Spaces,
    /// No force makes it shorter.
    pub rod: Spaces,
}

impl Column {
    /// The force from which on it stretches.
    fn stretches_from(self) -> f64 {
        if self.spring.0 > 0.0 { self.rod / self.spring } else { f64::INFINITY }
    }
}

impl Spacing {
    /// Length of a quarter note at force 1.
    pub const QUARTER: Spaces = Spaces(rules::QUARTER);

    /// Measures a score by the rules that ship.
    #[must_use]
    pub fn of(score: &Score) -> Spacing {
        Spacing::by(score, &SpacingRules::default())
    }

    /// Measures a score by given rules. Takes time in proportion to its notes.
    #[must_use]
    pub fn by(score: &Score, rules: &SpacingRules) -> Spacing {
        Spacing::from_material(&Material::of(score), rules)
    }

    /// Measures a score that was read before.
    #[must_use]
    pub fn from_material(material: &Material, rules: &SpacingRules) -> Spacing {
        let mut spacing = Spacing::default();
        for bar in &material.bars {
            let first = spacing.columns.len();
            if bar.content == Content::Nothing {
                spacing.bars.push(BarSpacing { columns: (first, first), ..BarSpacing::default() });
                continue;
            }
            let room = columns::add(material, bar, rules, &mut spacing.columns);
            let own = spacing.columns.get_mut(first..).unwrap_or_default();
            own.sort_by(|a, b| a.stretches_from().total_cmp(&b.stretches_from()));
            let signs = bar.signs.spaced(rules);
            let columns = (first, spacing.columns.len());
            spacing.bars.push(BarSpacing { fixed: signs.fixed + room, columns, ..signs });
        }
        spacing.sum_up();
        spacing
    }

    fn sum_up(&mut self) {
        let (mut springs, mut rods) = (0.0, 0.0);
        self.springs_before.push(springs);
        self.rods_before.push(rods);
        for column in &self.columns {
            springs += column.spring.0;
            rods += column.rod.0;
            self.springs_before.push(springs);
            self.rods_before.push(rods);
        }
    }

    /// Number of bars.
    #[must_use]
    pub fn len(&self) -> usize {
        self.bars.len()
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.bars.is_empty()
    }

    /// What a bar takes; nothing outside the score and for the later bars of a multi-bar rest.
    #[must_use]
    pub fn bar(&self, bar: BarIdx) -> BarSpacing {
        self.bars.get(bar.at()).copied().unwrap_or_default()
    }

    /// The columns of a bar, those that stretch most easily first.
    #[must_use]
    pub fn columns(&self, bar: BarIdx) -> &[Column] {
        let (first, end) = self.bar(bar).columns;
        self.columns.get(first..end).unwrap_or_default()
    }

    /// Width of one bar inside a system at a force.
    #[must_use]
    pub fn bar_at(&self, bar: BarIdx, force: f64) -> Spaces {
        let own = self.bar(bar);
        let (springs, rods) = self.split(own, force);
        own.fixed + Spaces(springs * force + rods)
    }

    /// Width of these bars as one system whose house spaces naturally at the force `house`.
    #[must_use]
    pub fn natural_width(&self, span: BarSpan, house: f64) -> Spaces {
        self.width_at(span, house)
    }

    /// Width of these bars as one system at a force. Takes time in proportion to the bars.
    #[must_use]
    pub fn width_at(&self, span: BarSpan, force: f64) -> Spaces {
        self.ends(span) + span.iter().map(|bar| self.bar_at(bar, force)).sum()
    }

    /// The force at which these bars fill `width` as one system; 0 where not even their rods go into it.
    ///
    /// Exact: the width is a convex function of the force, made of straight pieces, and the search comes down along
    /// them from a force that is surely too large.
    #[must_use]
    pub fn force_for(&self, span: BarSpan, width: Spaces) -> f64 {
        let room = width - self.ends(span) - span.iter().map(|bar| self.bar(bar).fixed).sum();
        let all: f64 = span.iter().map(|bar| self.split(self.bar(bar), f64::INFINITY).0).sum();
        if all <= 0.0 || room.0 <= 0.0 {
            return 0.0;
        }
        let mut force = room.0 / all;
        loop {
            let (springs, rods) = span
                .iter()
                .map(|bar| self.split(self.bar(bar), force))
                .fold((0.0, 0.0), |sum, own| (sum.0 + own.0, sum.1 + own.1));
            if springs <= 0.0 {
                return 0.0;
            }
            let next = (room.0 - rods) / springs;
            // Not smaller any more: this is the piece.
            if next.is_nan() || next >= force * (1.0 - 1e-12) {
                return force;
            }
            if next <= 0.0 {
                return 0.0;
            }
            force = next;
        }
    }

    /// What the system takes at its ends besides its bars.
    #[must_use]
    pub fn ends(&self, span: BarSpan) -> Spaces {
        self.bar(span.first).start + self.bar(BarIdx(span.last.0.saturating_add(1))).announced
    }

    /// Of a bar's columns, the springs that stretch at a force and the rods of the others.
    fn split(&self, bar: BarSpacing, force: f64) -> (f64, f64) {
        let (first, end) = bar.columns;
        let columns = self.columns.get(first..end).unwrap_or_default();
        let middle = first + columns.partition_point(|column| column.stretches_from() < force);
        let at = |sums: &[f64], at: usize| sums.get(at).copied().unwrap_or(0.0);
        let springs = at(&self.springs_before, middle) - at(&self.springs_before, first);
        let rods = at(&self.rods_before, end) - at(&self.rods_before, middle);
        (springs, rods)
    }
}

#[cfg(test)]
mod tests;
