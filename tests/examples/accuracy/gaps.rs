//! Recorded gaps between staves against what the music in them is said to need.
//!
//! Programs that set music leave room for their contents: where a recorded gap is smaller than needed, the estimate of
//! what is needed is too large there. How near the two are is told by the ratio's percentiles, so that an estimate of
//! nothing would show.

use rastrum::layout::Origin;
use rastrum::survey::{Gap, GapKind};

use super::figure::{Figure, Row, percentile};
use super::folder::{Folder, Work};

/// Gaps inside systems and between systems.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let inside = |gap: &Gap| gap.kind != GapKind::Systems;
    let between = |gap: &Gap| gap.kind == GapKind::Systems;
    let figures = [
        figure(folder, "recorded staff gaps that hold what they need", inside),
        figure(folder, "recorded system gaps that hold what they need", between),
    ];
    figures.into_iter().filter(|figure| figure.denominator > 0).collect()
}

fn figure(folder: &Folder, name: &str, wanted: impl Fn(&Gap) -> bool) -> Figure {
    let mut all = Vec::new();
    let rows = folder.works().map(|(truth, work)| {
        let gaps: Vec<&Gap> = work.survey.gaps.iter().filter(|gap| wanted(gap) && is_recorded(work, gap)).collect();
        let good = gaps.iter().filter(|gap| gap.clearance().0 >= 0.0).count();
        let mut ratios: Vec<f64> = gaps.iter().filter_map(|gap| ratio(gap)).collect();
        ratios.sort_by(f64::total_cmp);
        all.extend_from_slice(&ratios);
        Row::new(&truth.file, good as u64, gaps.len() as u64).with_note(note(&ratios))
    });
    let rows = rows.collect();
    all.sort_by(f64::total_cmp);
    Figure::new(name, "gaps", rows).with_note(note(&all))
}

fn is_recorded(work: &Work, gap: &Gap) -> bool {
    let system = work.layout.pages.get(gap.page.at()).and_then(|page| page.systems.get(usize::from(gap.system)));
    let staff = system.and_then(|system| system.staves.iter().find(|staff| staff.staff == Some(gap.lower)));
    staff.is_some_and(|staff| staff.placed == Origin::Recorded)
}

/// Needed over recorded; `None` where nothing stands in the gap.
fn ratio(gap: &Gap) -> Option<f64> {
    let needed = gap.tightest?.needed;
    (gap.height.0 > 0.0).then(|| needed / gap.height)
}

fn note(ratios: &[f64]) -> String {
    let at = |share| percentile(ratios, share);
    format!("needed/recorded: median {:.2}, p90 {:.2}, p95 {:.2}, p99 {:.2}", at(0.5), at(0.9), at(0.95), at(0.99))
}
