//! The sentences that a musician reads first, the same on the report's first sheet and in the terminal.

use std::collections::BTreeSet;

use crate::check::Checked;
use crate::layout::Origin;
use crate::place::{PageIdx, Place};
use crate::rules::{Finding, Scope, Weight};
use crate::units::Mm;
use crate::units::Seconds;
use crate::words;

mod outline;
mod printed;

/// One sentence on the whole: "Three places to mend before printing; 37 of 44 pages are clean."
#[must_use]
pub fn sentence(checked: &Checked) -> String {
    let count = |weight| checked.findings.iter().filter(|finding| finding.weight == weight).count();
    let (stop, mend, look) = (count(Weight::Stop), count(Weight::Mend), count(Weight::Look));
    let faults = match (stop, mend) {
        (0, 0) => {
            let more = if look == 0 { "nothing to mend" } else { "nothing that must be mended" };
            return format!("In what could be checked, {more} was found.");
        }
        (stop, 0) => {
            format!("{} that would stop the rehearsal", words::sentence(&words::counted_in_words(stop, "fault")))
        }
        (0, mend) => format!("{} to mend before printing", words::sentence(&words::counted_in_words(mend, "place"))),
        (stop, mend) => format!(
            "{} that would stop the rehearsal and {} more to mend before printing",
            words::sentence(&words::counted_in_words(stop, "fault")),
            words::in_words(mend)
        ),
    };
    let pages = checked.layout.pages.len();
    if pages == 0 {
        return format!("{faults}.");
    }
    let touched = pages_to_mend(checked).len();
    let clean = pages.saturating_sub(touched);
    let throughout = checked.findings.iter().any(|finding| finding.weight != Weight::Look && holds_throughout(finding));
    match (clean, throughout) {
        (0, _) => format!("{faults}; every page is touched."),
        (_, true) if clean == pages => format!("{faults}, on every page."),
        (_, true) => format!("{faults}; apart from what holds throughout, {clean} of {pages} pages are clean."),
        (_, false) if clean == pages => format!("{faults}; no single page stands out."),
        (_, false) => format!("{faults}; {clean} of {pages} pages are clean."),
    }
}

/// A fault of the whole work, told at its first page.
#[must_use]
pub fn holds_throughout(finding: &Finding) -> bool {
    let is_corner = |place: &Place| place.rect.is_none_or(|rect| rect.left <= Mm::ZERO && rect.top <= Mm::ZERO);
    let is_first = |place: &Place| place.page.is_none_or(|page| page.0 == 0);
    finding.key.scope == Scope::Work && matches!(finding.places.as_slice(), [one] if is_corner(one) && is_first(one))
}

/// How many findings are more than worth a look; they stand first.
#[must_use]
pub fn to_mend(checked: &Checked) -> usize {
    checked.findings.iter().filter(|finding| finding.weight != Weight::Look).count()
}

/// Pages with anything to mend at a certain place.
#[must_use]
pub fn pages_to_mend(checked: &Checked) -> BTreeSet<PageIdx> {
    let heavy = checked.findings.iter().filter(|finding| finding.weight != Weight::Look && !holds_throughout(finding));
    heavy.flat_map(|finding| finding.places.iter().filter_map(|place| place.page)).collect()
}

/// What else there is: "12 more are worth a look; 3 were accepted earlier; 7 checks could not be made."
#[must_use]
pub fn lesser(checked: &Checked) -> String {
    let look = checked.findings.iter().filter(|finding| finding.weight == Weight::Look).count();
    let mut parts = Vec::new();
    if look > 0 {
        parts.push(format!("{look} {} worth a look", if look == 1 { "is" } else { "are" }));
    }
    if !checked.accepted.is_empty() {
        let accepted = checked.accepted.len();
        parts.push(format!("{accepted} {} accepted earlier", if accepted == 1 { "was" } else { "were" }));
    }
    if !checked.could_not_run.is_empty() {
        parts.push(format!("{} could not be made", words::counted(checked.could_not_run.len(), "check")));
    }
    if parts.is_empty() { String::new() } else { format!("{}.", words::sentence(&parts.join("; "))) }
}

/// Who plays, how long, and what the length counts: "1.1.1.1; about 11'40" with repeats". Empty when nothing of it is
/// known.
#[must_use]
pub fn forces(checked: &Checked) -> String {
    let score = &checked.score;
    if score.is_unseen() {
        return match score.staves.len() {
            1 => "One staff".to_owned(),
            most => format!("Systems of up to {most} staves"),
        };
    }
    let (duration, free) = score.duration_in_metre();
    let line = checked.forces((duration > Seconds::ZERO).then_some(duration));
    if line.is_empty() || duration <= Seconds::ZERO {
        return line;
    }
    let repeats = if score.bars.iter().any(|bar| bar.times_played > 1) { " with repeats" } else { "" };
    let guess = match (score.tempo_assumed, score.movements.len()) {
        (false, _) => "",
        (true, 0 | 1) => " (a guess: no tempo is stated)",
        (true, _) => " (partly a guess: a movement states no tempo)",
    };
    let cadenzas = match free {
        0 => String::new(),
        _ => format!(", and the time of {} without metre", words::counted(free, "bar")),
    };
    format!("{line}{repeats}{cadenzas}{guess}")
}

/// "34 pages"; of a forecast "about 34 pages, give or take 2". `None` where there are no pages.
#[must_use]
pub fn page_count(checked: &Checked) -> Option<String> {
    let pages = checked.layout.pages.len();
    let counted = words::counted(pages, "page");
    let said = match (checked.expected, pages_off(checked)) {
        (Some(_), Some((half, _))) => format!("about {counted}, give or take {half}"),
        (Some(_), None) => format!("about {counted}"),
        (None, _) => counted,
    };
    (pages > 0).then_some(said)
}

/// How far forecasts go wrong: "Half of such estimates came within 2 pages, nine in ten within 5." `None` of the files'
/// own pages, and of too few to speak of.
#[must_use]
pub fn expected(checked: &Checked) -> Option<String> {
    let (half, most) = pages_off(checked)?;
    let pages = |count| words::counted(count, "page");
    Some(if half == most {
        format!("Nine in ten such estimates came within {}.", pages(most))
    } else {
        format!("Half of such estimates came within {}, nine in ten within {most}.", pages(half))
    })
}

/// Pages that half of such forecasts, and nine in ten, came within.
fn pages_off(checked: &Checked) -> Option<(usize, usize)> {
    // Forecasts of scores were judged; an outline says for itself that it is rougher.
    let pages = checked.layout.pages.len();
    if checked.score.is_outline() {
        return None;
    }
    let (half, most) = checked.expected?.pages.of_count(pages);
    (half < pages).then_some((half, most))
}

/// What the pages rest on: "Pages as the file records them."
#[must_use]
pub fn basis(checked: &Checked) -> String {
    if checked.score.is_outline() {
        return outline::basis(checked);
    }
    if let Some(printed) = checked.printed.as_ref().filter(|_| !checked.is_forecast) {
        return printed::basis(checked, printed);
    }
    let origins = Basis::of(checked);
    let estimated: Vec<&str> = [
        (origins.pages, "page size and margins"),
        (origins.breaks, "breaks"),
        (origins.widths, "widths of bars"),
        (origins.distances, "distances between staves"),
    ]
    .into_iter()
    .filter_map(|(origin, what)| (origin == Some(Origin::Estimated)).then_some(what))
    .collect();
    match estimated.as_slice() {
        [] => "Pages as the file records them.".to_owned(),
        all if all.len() == 4 => {
            format!("The file records no pages: these are a rough estimate. {}", lowered(checked)).trim_end().to_owned()
        }
        some if checked.is_forecast => {
            format!("These pages are a forecast: {} are a rough estimate.", words::all_listed(some))
        }
        some => format!(
            "Pages as the file records them; {} are not all recorded and partly a rough estimate.",
            words::all_listed(some)
        ),
    }
}

/// Why the estimated staves are smaller than the house would have them.
fn lowered(checked: &Checked) -> String {
    let (used, wished) = (checked.house.staff_height, checked.guidelines.house().score_staff.value);
    if checked.is_forecast && used < wished {
        format!("Staves are {used} high, since with {wished} they would not all go onto a page.")
    } else {
        String::new()
    }
}

/// The weakest origin of each kind of value.
struct Basis {
    pages: Option<Origin>,
    breaks: Option<Origin>,
    widths: Option<Origin>,
    distances: Option<Origin>,
}

impl Basis {
    fn of(checked: &Checked) -> Basis {
        let pages = &checked.layout.pages;
        let systems = || pages.iter().flat_map(|page| &page.systems);
        Basis {
            pages: Origin::weakest(pages.iter().flat_map(|page| [page.size.origin, page.margins.origin])),
            breaks: Origin::weakest(systems().map(|system| system.breaks)),
            widths: Origin::weakest(systems().flat_map(|system| system.bars.iter().map(|bar| bar.placed))),
            distances: Origin::weakest(systems().flat_map(|system| system.staves.iter().map(|staff| staff.placed))),
        }
    }
}
