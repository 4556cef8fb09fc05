//! The maps in words, for those who hear the report: what each drawn page shows.

use super::Subject;
use super::choose::Opening;
use super::spots::Spot;
use crate::layout::Origin;
use crate::place::{BarSpan, PageIdx};
use crate::report::pages::mark;

/// "Pages 14 and 15", "Page 1".
#[must_use]
pub fn title(subject: &Subject<'_>, pages: &[PageIdx]) -> String {
    let labels: Vec<String> = pages.iter().map(|page| subject.layout.page_label(*page)).collect();
    match labels.as_slice() {
        [one] => format!("Page {one}"),
        _ => format!("Pages {}", labels.join(" and ")),
    }
}

/// What of these pages is no more than an estimate; empty when the file records all that is drawn.
#[must_use]
pub fn estimated(subject: &Subject<'_>, pages: &[PageIdx]) -> &'static str {
    let pages = || pages.iter().filter_map(|page| subject.layout.pages.get(page.at()));
    let systems = || pages().flat_map(|page| &page.systems);
    let staves = || systems().flat_map(|system| &system.staves);
    let mut breaks = pages().map(|page| page.breaks).chain(systems().map(|system| system.breaks));
    if breaks.any(|origin| origin == Origin::Estimated) {
        "Page and line breaks are estimated."
    } else if staves().any(|staff| staff.placed == Origin::Estimated) {
        "Distances between staves are partly estimated."
    } else {
        ""
    }
}

/// "Pages 14 and 15. Page 14: 1 system of 23 staves, bars 101 to 106; finding 2 (square) at bar 103. ..."
#[must_use]
pub fn picture(subject: &Subject<'_>, opening: &Opening) -> String {
    let pages = opening.pages.iter().map(|page| {
        let spots: Vec<&Spot> = opening.spots.iter().filter(|spot| spot.page == *page).collect();
        let marked: Vec<String> = spots.iter().map(|spot| marked(subject, spot)).collect();
        let findings = match marked.len() {
            0 => "no finding".to_owned(),
            1 => format!("finding {}", marked.concat()),
            _ => format!("findings {}", marked.join(", ")),
        };
        format!("Page {}: {}; {findings}.", subject.layout.page_label(*page), systems(subject, *page))
    });
    let title = if opening.pages.len() > 1 { format!("{}. ", title(subject, &opening.pages)) } else { String::new() };
    title + &pages.collect::<Vec<_>>().join(" ")
}

fn systems(subject: &Subject<'_>, page: PageIdx) -> String {
    let Some(page) = subject.layout.pages.get(page.at()) else { return String::new() };
    let staves: Vec<usize> = page.systems.iter().map(|system| system.staves.len()).collect();
    let most = staves.iter().copied().max().unwrap_or_default();
    let systems = match staves.len() {
        0 => return "no music".to_owned(),
        1 => format!("1 system of {most} staves"),
        count if staves.iter().all(|staves| *staves == most) => format!("{count} systems of {most} staves"),
        count => format!("{count} systems of up to {most} staves"),
    };
    page.span().map_or(systems.clone(), |span| format!("{systems}, {}", bars(subject, span)))
}

fn marked(subject: &Subject<'_>, spot: &Spot) -> String {
    let place = spot.bars.filter(|_| spot.rect.is_some());
    let place = place.map_or(String::new(), |span| format!(" at {}", bars(subject, span)));
    format!("{} ({}){place}", spot.number, mark::shape(spot.weight))
}

fn bars(subject: &Subject<'_>, span: BarSpan) -> String {
    let (first, last) = (subject.score.label(span.first), subject.score.label(span.last));
    if span.first == span.last { format!("bar {first}") } else { format!("bars {first} to {last}") }
}
