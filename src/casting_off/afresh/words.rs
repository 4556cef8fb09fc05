//! A proposal's notes as sentences.

use super::Proposal;
use super::notes::{GivenUp, ProposalNote, Saved, Split};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::score::Score;
use crate::units::Spaces;

/// Names told one by one.
const NAMED: usize = 5;

impl ProposalNote {
    /// One or two sentences for a musician.
    #[must_use]
    pub fn words(&self, score: &Score, proposal: &Proposal) -> String {
        match self {
            ProposalNote::Split(split) => split_words(score, proposal, split),
            ProposalNote::Saved(saved) => saved_words(score, saved),
            ProposalNote::Overfull { page, bars } => format!(
                "{}: even one system is too high for {}; larger paper or smaller staves are needed.",
                bars_words(score, *bars),
                page_words(proposal, *page)
            ),
        }
    }
}

fn split_words(score: &Score, proposal: &Proposal, split: &Split) -> String {
    let first = split.systems.first().map(|system| system.bars.first).unwrap_or_default();
    let last = split.systems.last().map(|system| system.bars.last).unwrap_or_default();
    let count = count_words(split.systems.len());
    let staves: Vec<String> = split.systems.iter().map(|system| system.staves.len().to_string()).collect();
    let divider = if split.has_divider { " with a divider" } else { "" };
    format!(
        "{}: {count} systems on {}, of {} staves, {} apart{divider}.{}",
        bars_words(score, BarSpan::new(first, last)),
        page_words(proposal, split.page),
        listed(&staves),
        halves(split.gap),
        given_up_words(score, &split.given_up)
    )
}

fn saved_words(score: &Score, saved: &Saved) -> String {
    let pages = |count: u32| if count == 1 { "1 page".to_owned() } else { format!("{count} pages") };
    format!(
        "{} fit on {} instead of {}.{}",
        bars_words(score, saved.bars),
        pages(saved.after),
        saved.before,
        given_up_words(score, &saved.given_up)
    )
}

fn given_up_words(score: &Score, given_up: &[GivenUp]) -> String {
    if given_up.is_empty() {
        return String::new();
    }
    let one = |own: &GivenUp| match own {
        GivenUp::LeftOut(staves) => format!("{} left out", staves_words(score, staves)),
        GivenUp::Tighter(stretch) => format!("set up to {:.0} % tighter than natural", (1.0 - stretch) * 100.0),
        GivenUp::Closer(gap) => format!("staves as close as {}", halves(*gap)),
    };
    format!(" The price: {}.", given_up.iter().map(one).collect::<Vec<_>>().join("; "))
}

/// To half a space: the estimate knows no better.
fn halves(gap: Spaces) -> Spaces {
    Spaces((gap.0 * 2.0).round() / 2.0)
}

fn count_words(count: usize) -> String {
    match count {
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        more => more.to_string(),
    }
}

fn page_words(proposal: &Proposal, page: PageIdx) -> String {
    let label = proposal.layout.pages.get(page.at()).map_or("", |page| page.label.as_str());
    if label.is_empty() { format!("page {}", page.0 + 1) } else { format!("page {label}") }
}

/// "Bars 12-19 of movement 2".
fn bars_words(score: &Score, bars: BarSpan) -> String {
    let number = |bar: BarIdx| match score.label(bar) {
        "" => (bar.0 + 1).to_string(),
        label => label.to_owned(),
    };
    let movement = score.movements.iter().position(|movement| movement.bars.contains(bars.first));
    let of = match movement {
        Some(at) if score.movements.len() > 1 => format!(" of movement {}", at + 1),
        _ => String::new(),
    };
    if bars.first == bars.last {
        format!("Bar {}{of}", number(bars.first))
    } else {
        format!("Bars {}-{}{of}", number(bars.first), number(bars.last))
    }
}

/// "Flute, Oboe and 3 more staves".
fn staves_words(score: &Score, staves: &[StaffId]) -> String {
    let mut names: Vec<String> = Vec::new();
    for staff in staves {
        let name = score.part_of(*staff).map_or("", |part| part.name.trim()).to_owned();
        let name = if name.is_empty() { format!("staff {}", staff.0 + 1) } else { name };
        if names.last() != Some(&name) {
            names.push(name);
        }
    }
    if names.len() > NAMED + 1 {
        let more = names.len() - NAMED;
        names.truncate(NAMED);
        return format!("{} and {more} more", names.join(", "));
    }
    listed(&names)
}

fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
