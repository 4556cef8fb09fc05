//! Widths of bars, each system scaled to its recorded length.
//!
//! Left out are last systems of movements, systems of one bar and systems with multi-bar rests. Orchestral files are
//! judged with constants fitted on the other half of them, all others with constants fitted on all orchestral files.

use rastrum::metrics::{Material, Spacing, SpacingRules};
use rastrum::place::{BarIdx, BarSpan};
use rastrum::units::{Mm, Spaces};

use super::figure::{Figure, Row, percentile};
use super::fit;
use super::folder::{Folder, Truth, Work};

/// Within this share of its recorded width a bar counts as met.
const WITHIN: f64 = 0.05;
/// Constants ship rounded to hundredths.
const AS_SHIPPED: f64 = 0.005_001;
/// The files that constants are fitted on.
const FITTED_ON: &str = "orchestra/";
const QUARTETS: &str = "quartets/";

/// A system with its recorded widths.
pub struct Line {
    pub bars: BarSpan,
    pub widths: Vec<f64>,
}

/// Errors of bars, and of their shares in their systems.
#[derive(Default)]
struct Errors {
    /// Against the recorded width.
    relative: Vec<f64>,
    of_shares: f64,
    /// Of shares that are all equal.
    of_equal: f64,
}

/// Half by half, the other files, and the constants.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (fitted_on, others): (Vec<_>, Vec<_>) =
        folder.works().partition(|(truth, _)| truth.file.starts_with(FITTED_ON));
    let (quartets, others): (Vec<_>, Vec<_>) =
        others.into_iter().partition(|(truth, _)| truth.file.starts_with(QUARTETS));
    let [odd, even] = halves(fitted_on.clone());
    let by_odd = rules(&odd);
    let by_even = rules(&even);
    let by_all = rules(&fitted_on);
    vec![
        figure("odd orchestral files by constants of the even ones", &odd, &by_even),
        figure("even orchestral files by constants of the odd ones", &even, &by_odd),
        both("all orchestral files, each by constants of the other half", &[(&odd, &by_even), (&even, &by_odd)]),
        figure("quartets by constants of all orchestral files", &quartets, &by_all),
        figure("other files by constants of all orchestral files", &others, &by_all),
        constants(&by_all),
    ]
}

type Named<'a> = (&'a Truth, &'a Work);

/// In order of their names: the first, third, ... and the second, fourth, ...
pub fn halves<'a>(mut works: Vec<Named<'a>>) -> [Vec<Named<'a>>; 2] {
    works.sort_by(|a, b| a.0.file.cmp(&b.0.file));
    let half = |of: usize| works.iter().skip(of).step_by(2).copied().collect();
    [half(0), half(1)]
}

fn rules(works: &[Named]) -> SpacingRules {
    let works: Vec<&Work> = works.iter().map(|(_, work)| *work).collect();
    fit::rules(&works)
}

fn figure(name: &str, works: &[Named], rules: &SpacingRules) -> Figure {
    both(name, &[(works, rules)])
}

fn both(name: &str, groups: &[(&[Named], &SpacingRules)]) -> Figure {
    let mut all = Errors::default();
    let mut rows = Vec::new();
    for (works, rules) in groups {
        for (truth, work) in *works {
            let spacing = Spacing::from_material(&Material::of(&work.reading.score), rules);
            let mut own = Errors::default();
            for line in lines(work) {
                own.add(&line, &widths(&spacing, &line));
            }
            rows.push(own.row(&truth.file));
            all.join(own);
        }
    }
    rows.sort_by(|a, b| a.file.cmp(&b.file));
    Figure::new(format!("bar widths within {:.0} %: {name}", WITHIN * 100.0), "bars", rows).with_note(all.note())
}

/// The recorded systems that widths are judged by, in spaces.
pub fn lines(work: &Work) -> Vec<Line> {
    let score = &work.reading.score;
    let usable = |bars: BarSpan| {
        let ends_movement = score.movements.iter().any(|movement| movement.bars.last == bars.last);
        let rests = bars.iter().filter_map(|bar| score.bar(bar)).any(|bar| bar.multi_bar_rest.is_some_and(|n| n > 1));
        bars.count() > 1 && !ends_movement && !rests
    };
    let spans = work.layout.systems().filter_map(|(_, _, system)| system.span()).filter(|bars| usable(*bars));
    spans.filter_map(|bars| Some(Line { bars, widths: recorded(work, bars)? })).collect()
}

fn recorded(work: &Work, bars: BarSpan) -> Option<Vec<f64>> {
    let movement = work.reading.score.movements.iter().position(|movement| movement.bars.contains(bars.first))?;
    let height = work.reading.record.staff_heights.get(movement).copied().flatten()?;
    let width = |bar: BarIdx| work.reading.record.bars.get(bar.at())?.width.filter(|width| *width > Mm::ZERO);
    bars.iter().map(|bar| Some(width(bar)?.in_spaces(height).0)).collect()
}

/// What the bars of a line are said to measure, all of them together as long as recorded.
pub fn widths(spacing: &Spacing, line: &Line) -> Vec<f64> {
    let total: f64 = line.widths.iter().sum();
    let force = spacing.force_for(line.bars, Spaces(total));
    let mut widths: Vec<f64> = line.bars.iter().map(|bar| spacing.bar_at(bar, force).0).collect();
    if let Some(first) = widths.first_mut() {
        *first += spacing.bar(line.bars.first).start.0;
    }
    if let Some(last) = widths.last_mut() {
        *last += spacing.bar(BarIdx(line.bars.last.0 + 1)).announced.0;
    }
    // Where the rods alone are longer than the line, all is cut in proportion.
    let sum: f64 = widths.iter().sum();
    widths.iter().map(|width| width * total / sum).collect()
}

impl Errors {
    fn add(&mut self, line: &Line, widths: &[f64]) {
        let total: f64 = line.widths.iter().sum();
        let equal = total / line.widths.len() as f64;
        for (width, recorded) in widths.iter().zip(&line.widths) {
            self.relative.push((width - recorded).abs() / recorded);
            self.of_shares += ((width - recorded) / total).powi(2);
            self.of_equal += ((recorded - equal) / total).powi(2);
        }
    }

    fn join(&mut self, other: Errors) {
        self.relative.extend(other.relative);
        self.of_shares += other.of_shares;
        self.of_equal += other.of_equal;
    }

    fn note(&self) -> String {
        let mut sorted = self.relative.clone();
        sorted.sort_by(f64::total_cmp);
        let at = |share| 100.0 * percentile(&sorted, share);
        let explained = 1.0 - self.of_shares / self.of_equal;
        format!("median {:.2} %, p90 {:.1} %, worst {:.0} %, R2 {explained:.3}", at(0.5), at(0.9), at(1.0))
    }

    fn row(&self, file: &str) -> Row {
        let met = self.relative.iter().filter(|error| **error <= WITHIN).count();
        Row::new(file, met as u64, self.relative.len() as u64).with_note(self.note())
    }
}

/// The constants that ship are those fitted on all orchestral files.
fn constants(fitted: &SpacingRules) -> Figure {
    let (mut fitted, mut shipped) = (*fitted, SpacingRules::default());
    let rows = fit::CONSTANTS.iter().map(|constant| {
        let (found, ships) = (*(constant.of)(&mut fitted), *(constant.of)(&mut shipped));
        let same = (found - ships).abs() <= AS_SHIPPED;
        Row::new(constant.name, u64::from(same), 1).with_note(format!("fitted {found:.3}, ships {ships:.3}"))
    });
    Figure::new("spacing constants that ship as fitted on all orchestral files", "constants", rows.collect())
}
