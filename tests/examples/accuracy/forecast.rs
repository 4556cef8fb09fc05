//! Pages cast off afresh: what is forgotten of a recorded layout, and what is kept of it.

use rastrum::casting_off::{self, Basis, House, Staves, Wishes};
use rastrum::layout::{Layout, Page, System};
use rastrum::place::BarIdx;
use rastrum::read::Reading;

use super::folder::{Folder, Truth, Work};

/// The folder of orchestral scores.
const ORCHESTRA: &str = "orchestra/";
/// The folder of string quartets.
const QUARTETS: &str = "quartets/";
/// Systems that show this share of the staves show nearly all.
const NEARLY_ALL: f64 = 0.9;

/// The file's paper, margins, staff height and shown staves; breaks, widths and distances forgotten.
pub fn forecast(work: &Work, natural_force: f64, wishes: &Wishes) -> Option<Layout> {
    forecast_spread(work, natural_force, 1.0, wishes)
}

/// The same with gaps so many times the usual ones.
pub fn forecast_spread(work: &Work, natural_force: f64, spread: f64, wishes: &Wishes) -> Option<Layout> {
    let house = House { natural_force, ..as_recorded() }.spread(spread);
    casting_off::forecast(&basis(work, &house), wishes)
}

/// The recorded systems, on pages whose gaps are so many times the usual ones.
pub fn keeping_systems(work: &Work, spread: f64, page_breaks: Vec<BarIdx>) -> Option<Layout> {
    let wishes = Wishes { page_breaks, ..Wishes::keeping_systems(&work.layout) };
    casting_off::forecast(&basis(work, &as_recorded().spread(spread)), &wishes)
}

/// How far apart the house of the recorded pages sets staves, told by those of its pages that `counts` names.
pub fn natural_spread(work: &Work, counts: impl Fn(usize) -> bool) -> Option<f64> {
    casting_off::natural_spread(&basis(work, &as_recorded()), counts)
}

fn as_recorded() -> House {
    House { staves: Staves::AsRecorded, ..House::default() }
}

fn basis<'a>(work: &'a Work, house: &'a House) -> Basis<'a> {
    let Reading { score, record, .. } = &work.reading;
    Basis { score, metrics: &work.metrics, record, pages: &work.layout, house }
}

/// The natural force that a score's first so many recorded systems are set with.
pub fn calibrated(work: &Work, systems: usize) -> Option<f64> {
    casting_off::natural_force_of(&work.reading.score, recorded(work).take(systems), &work.metrics.spacing)
}

/// The natural force that the systems of some recorded pages are set with.
pub fn natural_force_from(work: &Work, pages: &[Page]) -> Option<f64> {
    let systems = pages.iter().flat_map(|page| &page.systems);
    casting_off::natural_force_of(&work.reading.score, systems, &work.metrics.spacing)
}

/// The recorded systems.
pub fn recorded(work: &Work) -> impl Iterator<Item = &System> {
    work.layout.systems().map(|(_, _, system)| system)
}

/// First bars of a layout's systems.
pub fn starts(layout: &Layout) -> Vec<BarIdx> {
    layout.systems().filter_map(|(_, _, system)| system.span()).map(|span| span.first).collect()
}

/// Orchestral scores by name, those apart whose systems leave out many staves: these are made to show few of them, and
/// end where others begin to play.
pub fn orchestra(folder: &Folder) -> Vec<(&Truth, &Work)> {
    let mut works: Vec<(&Truth, &Work)> = folder.works().filter(|(truth, _)| is_orchestra(truth)).collect();
    works.retain(|(truth, work)| {
        let shown: usize = recorded(work).map(|system| system.staves.len()).sum();
        shown as f64 >= NEARLY_ALL * truth.staves as f64 * recorded(work).count() as f64
    });
    works.sort_by(|(one, _), (other, _)| one.file.cmp(&other.file));
    works
}

/// Whether a score is one of the orchestral ones.
pub fn is_orchestra(truth: &Truth) -> bool {
    truth.file.starts_with(ORCHESTRA)
}

/// Quartets by name.
pub fn quartets(folder: &Folder) -> Vec<(&Truth, &Work)> {
    let mut works: Vec<(&Truth, &Work)> = folder.works().filter(|(truth, _)| is_quartet(truth)).collect();
    works.sort_by(|(one, _), (other, _)| one.file.cmp(&other.file));
    works
}

/// Whether a score is one of the quartets.
pub fn is_quartet(truth: &Truth) -> bool {
    truth.file.starts_with(QUARTETS)
}

/// The natural force of scores like this one: the middle one of those in the other half of its folder.
pub fn force_of_others(folder: &Folder, works: &[(&Truth, &Work)], file: &str) -> Option<f64> {
    let own = half(folder, file);
    let others = works.iter().filter(|(other, _)| half(folder, &other.file) != own);
    middle(others.filter_map(|(_, other)| calibrated(other, usize::MAX)).collect())
}

/// The half of its folder that a file is in: every second one by name. What is fitted on one half is judged on the
/// other.
fn half(folder: &Folder, file: &str) -> usize {
    let group = |file: &str| file.split('/').next().map(str::to_owned);
    let mut files: Vec<&str> = folder.documents.iter().map(|document| document.truth.file.as_str()).collect();
    files.retain(|other| group(other) == group(file));
    files.sort_unstable();
    files.iter().position(|own| *own == file).unwrap_or(0) % 2
}

fn middle(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}
