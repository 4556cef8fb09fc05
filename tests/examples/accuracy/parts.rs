//! How the players' parts of the open scores turn, what shared staves do not tell, and how near the pages of parts come
//! to engraved ones.
//!
//! Turns: JIS B4, staves of 7 mm (strings, timpani, percussion, harp 8), margins of 20 mm, the side to start on free.
//! Barlines after turning pages are counted, the last page is not turned. Beside them the same music filled page by page.

use std::collections::BTreeMap;

use rastrum::check::{PartChecked, PartsChecked, PartsOptions, Turned, Unwatched, parts};
use rastrum::guidelines::Request;
use rastrum::metrics::Spacing;
use rastrum::players::turning::TurnClass;
use rastrum::read::Input;
use rastrum::reference::Reference;
use rastrum::score::{Cell, Family};
use rastrum::survey::Turn;
use rastrum::units::Mm;

use super::figure::{Figure, Row, percentile};
use super::folder::{Folder, Truth, Work, read_text};

/// Silence alone that counts as enough.
const SILENCE: f64 = 3.0;

pub fn figures(folder: &Folder) -> Vec<Figure> {
    let checked: Vec<(&Truth, &Work, PartsChecked)> = folder
        .works()
        .filter(|(truth, _)| truth.file.contains("orchestra"))
        .filter_map(|(truth, work)| Some((truth, work, of_file(folder, &truth.file, &jis_b4())?)))
        .collect();
    let without_lyrics: Vec<_> = checked.iter().filter(|(_, work, _)| !has_lyrics(work)).collect();
    let winds =
        |part: &PartChecked| matches!(part.player.family, Family::Woodwind | Family::Brass | Family::Percussion);
    let strings = |part: &PartChecked| part.player.family == Family::Strings;
    let mut figures = turns("winds, brass and percussion", &without_lyrics, &winds);
    let all: Vec<_> = checked.iter().collect();
    figures.extend(turns("strings", &all, &strings));
    figures.push(undecided(&checked));
    figures.push(engraved(folder));
    figures.push(like_a_sibling(folder));
    figures
}

fn jis_b4() -> PartsOptions {
    let changes = vec!["house.part-staff=7 mm".to_owned()];
    PartsOptions {
        guidelines: Request { changes, ..Request::default() },
        paper: Some("JIS B4".to_owned()),
        margins: Some(Mm(20.0)),
        ..PartsOptions::default()
    }
}

fn of_file(folder: &Folder, file: &str, options: &PartsOptions) -> Option<PartsChecked> {
    let bytes = std::fs::read(folder.path.join(file)).ok()?;
    parts(&[Input { name: file, bytes: &bytes }], options, &mut Unwatched).ok()
}

fn has_lyrics(work: &Work) -> bool {
    let sung = |cell: &Cell| cell.events.iter().any(|event| !event.lyrics.is_empty());
    work.reading.score.cells.iter().any(sung)
}

type Checked<'a> = &'a (&'a Truth, &'a Work, PartsChecked);

/// Easy or enough by hands and eyes, by silence alone, and the same of filled pages; pages beside filled ones.
fn turns(who: &str, checked: &[Checked<'_>], wanted: &dyn Fn(&PartChecked) -> bool) -> Vec<Figure> {
    let by_hands = |turn: &Turn| matches!(turn.point.class, Some(TurnClass::Easy | TurnClass::Enough));
    let by_silence = |turn: &Turn| {
        let point = &turn.point;
        let silent = point.silent_before.zip(point.silent_after).map(|(before, after)| (before + after).0);
        silent.is_none_or(|silent| silent >= SILENCE)
    };
    let (mut rows, mut silence, mut pages) = (Vec::new(), Vec::new(), Vec::new());
    let mut sums = [0_usize; 4];
    for (truth, _, checked) in checked {
        let own: Vec<&PartChecked> = checked.parts.iter().filter(|part| wanted(part)).collect();
        let count = |pages: &dyn Fn(&PartChecked) -> &Turned, good: &dyn Fn(&Turn) -> bool| {
            let all: Vec<&Turn> = own.iter().flat_map(|part| &pages(part).turns).collect();
            (all.iter().filter(|turn| good(turn)).count() as u64, all.len() as u64)
        };
        let (good, all) = count(&|part| of(part, true), &by_hands);
        let (filled_good, filled_all) = count(&|part| of(part, false), &by_hands);
        let bad: Vec<String> = own
            .iter()
            .filter(|part| part.proposed.turns.iter().any(|turn| !by_hands(turn)))
            .map(|part| part.player.name.clone())
            .collect();
        let left = if bad.is_empty() { String::new() } else { format!("; left with a bad turn: {}", bad.join(", ")) };
        rows.push(Row::new(&truth.file, good, all).with_note(format!("filled {filled_good} of {filled_all}{left}")));
        let (quiet, _) = count(&|part| of(part, true), &by_silence);
        let (filled_quiet, _) = count(&|part| of(part, false), &by_silence);
        silence.push(Row::new(&truth.file, quiet, all).with_note(format!("filled {filled_quiet} of {filled_all}")));
        let length = |own: &[&PartChecked], best: bool| -> usize {
            own.iter().map(|part| of(part, best).pages.layout.pages.len()).sum()
        };
        let (ours, theirs) = (length(&own, true), length(&own, false));
        pages.push(Row::new(&truth.file, ours as u64, theirs as u64));
        let more = [filled_good as usize, filled_all as usize, filled_quiet as usize, all as usize];
        sums.iter_mut().zip(more).for_each(|(sum, more)| *sum += more);
    }
    let [filled_good, filled_all, filled_quiet, all] = sums;
    vec![
        Figure::new(format!("turns of {who} with enough time by hands and eyes"), "turns", rows)
            .with_note(format!("filled page by page {filled_good} of {filled_all}; turns {all} against {filled_all}")),
        Figure::new(format!("turns of {who} with 3 s of silence"), "turns", silence)
            .with_note(format!("filled page by page {filled_quiet} of {filled_all}")),
        Figure::new(format!("pages of {who}, of those that filling takes"), "pages", pages),
    ]
}

fn of(part: &PartChecked, proposed: bool) -> &Turned {
    if proposed { &part.proposed } else { &part.filled }
}

/// Bars of shared staves in which something sounds and nobody can tell who plays.
fn undecided(checked: &[(&Truth, &Work, PartsChecked)]) -> Figure {
    let mut rows = Vec::new();
    for (truth, work, checked) in checked {
        let score = &work.reading.score;
        let mut shared = BTreeMap::new();
        for part in checked.parts.iter().filter(|part| part.player.number.is_some()) {
            for staff in &part.player.staves {
                shared.entry(*staff).or_insert(&part.player.undecided);
            }
        }
        let sounding = |staff| {
            let cells = (0..score.bars.len() as u32).map(rastrum::place::BarIdx);
            cells.filter(|bar| score.cell(*bar, staff).is_some_and(Cell::sounds)).count() as u64
        };
        let all: u64 = shared.keys().map(|staff| sounding(*staff)).sum();
        let open: u64 = shared.values().flat_map(|open| open.iter()).map(|open| u64::from(open.bars.count())).sum();
        let players = checked.parts.len();
        rows.push(
            Row::new(&truth.file, open, all).with_note(format!("{players} parts, {} shared staves", shared.len())),
        );
    }
    Figure::new("bars of shared staves that do not tell who plays", "bars", rows)
}

/// One row of `pages-truth-all.csv`.
struct Engraved {
    file: String,
    pages: u64,
    systems: u64,
    staff: f64,
}

fn truths(folder: &Folder) -> Vec<Engraved> {
    let text = read_text(&folder.path.join("pages-truth-all.csv")).unwrap_or_default();
    let row = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let [file, pages, _, systems, staff] = fields.as_slice() else { return None };
        let systems = systems.split_whitespace().filter_map(|count| count.parse::<u64>().ok()).sum();
        Some(Engraved { file: (*file).to_owned(), pages: pages.parse().ok()?, systems, staff: staff.parse().ok()? })
    };
    text.lines().filter_map(row).filter(|own| own.file.contains("/part-")).collect()
}

/// Systems and pages of the quartets' parts, filled on A4 as they are engraved.
/// Pages and systems of an engraved part as filled here; at a force of its own where one is given.
fn filled(folder: &Folder, (work, part): (&str, &str), staff: f64, force: Option<f64>) -> Option<(u64, u64)> {
    let like = |force| Reference { natural_spacing: Some(Spacing::QUARTER * force), ..Reference::default() };
    let options = PartsOptions {
        paper: Some("A4".to_owned()),
        margins: Some(Mm(15.0)),
        staff_height: Some(Mm(staff)),
        like: force.map(like),
        ..PartsOptions::default()
    };
    let checked = of_file(folder, &format!("{work}/score.mxl"), &options)?;
    let at = ["violin-1", "violin-2", "viola", "violoncello"].iter().position(|name| part.starts_with(name))?;
    let layout = &checked.parts.get(at)?.filled.pages.layout;
    Some((layout.pages.len() as u64, layout.systems().count() as u64))
}

/// Natural forces tried for a sibling.
fn forces() -> impl Iterator<Item = f64> {
    (22..=40).map(|step| f64::from(step) * 0.025)
}

/// Each part set like each other part of its quartet, whose force is taken from its count of systems.
fn like_a_sibling(folder: &Folder) -> Figure {
    struct Part {
        work: String,
        systems: f64,
        /// By force.
        counts: Vec<f64>,
    }
    let parts: Vec<Part> = truths(folder)
        .iter()
        .filter_map(|truth| {
            let (work, part) = truth.file.split_once("/part-")?;
            let count =
                |force| filled(folder, (work, part), truth.staff, Some(force)).map(|(_, systems)| systems as f64);
            let counts: Option<Vec<f64>> = forces().map(count).collect();
            Some(Part { work: work.to_owned(), systems: truth.systems as f64, counts: counts? })
        })
        .collect();
    // The middle one of the forces that come nearest.
    let force_of = |part: &Part| {
        let off = |count: &f64| (count - part.systems).abs();
        let least = part.counts.iter().map(off).fold(f64::INFINITY, f64::min);
        let best: Vec<usize> = (0..part.counts.len()).filter(|at| off(&part.counts[*at]) <= least).collect();
        best[best.len() / 2]
    };
    let (mut rows, mut off) = (Vec::new(), Vec::new());
    for (at, part) in parts.iter().enumerate() {
        let siblings = parts.iter().enumerate().filter(|(other, sibling)| *other != at && sibling.work == part.work);
        let shares: Vec<f64> =
            siblings.map(|(_, sibling)| (part.counts[force_of(sibling)] / part.systems - 1.0).abs()).collect();
        rows.push(Row::new(
            &part.work,
            shares.iter().filter(|share| **share <= 0.04).count() as u64,
            shares.len() as u64,
        ));
        off.extend(shares);
    }
    off.sort_by(f64::total_cmp);
    let note = format!("systems median {:.1} % off", 100.0 * percentile(&off, 0.5));
    Figure::new("engraved parts like a sibling, systems within 4 %", "pairs", rows).with_note(note)
}

fn engraved(folder: &Folder) -> Figure {
    let (mut rows, mut off) = (Vec::new(), Vec::new());
    let (mut exact, mut within) = (0, 0);
    for truth in truths(folder) {
        let Some((work, part)) = truth.file.split_once("/part-") else { continue };
        let Some((pages, systems)) = filled(folder, (work, part), truth.staff, None) else { continue };
        let systems = systems as f64;
        let share = systems / truth.systems as f64 - 1.0;
        off.push(share.abs());
        exact += u32::from(pages == truth.pages);
        within += u32::from(pages.abs_diff(truth.pages) <= 1);
        let note = format!(
            "{pages} pages for {}, {systems} systems for {}: {:+.0} %",
            truth.pages,
            truth.systems,
            100.0 * share
        );
        rows.push(Row::new(&truth.file, u64::from(pages.abs_diff(truth.pages) <= 1), 1).with_note(note));
    }
    off.sort_by(f64::total_cmp);
    let note = format!(
        "systems median {:.1} % off; pages exact in {exact}, within one in {within}",
        100.0 * percentile(&off, 0.5)
    );
    Figure::new("engraved parts whose pages are within one", "parts", rows).with_note(note)
}
