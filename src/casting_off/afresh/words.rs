//! A proposal's notes as sentences.

use super::notes::{GivenUp, ProposalNote, Saved, Split};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::score::Score;
use crate::units::Spaces;
use crate::words::{all_listed, counted_in_words, in_words, listed};

impl ProposalNote {
    /// One or two sentences for a musician.
    #[must_use]
    pub fn words(&self, score: &Score) -> String {
        match self {
            ProposalNote::Split(split) => split_words(score, split),
            ProposalNote::Saved(saved) => saved_words(score, saved),
            ProposalNote::Overfull { bars, .. } => format!(
                "{}: even one system is too high for a page; larger paper or smaller staves are needed.",
                bars_words(score, *bars)
            ),
        }
    }
}

impl Split {
    /// "two systems of 11 and 12 staves, 16.5 spaces apart".
    #[must_use]
    pub fn systems_words(&self) -> String {
        let counts: Vec<String> = self.systems.iter().map(|system| system.staves.len().to_string()).collect();
        let staves = match counts.as_slice() {
            [one, others @ ..] if others.iter().all(|other| other == one) => format!("{one} staves each"),
            all => format!("{} staves", all_listed(all)),
        };
        format!("{} of {staves}, {} apart", counted_in_words(counts.len(), "system"), halves(self.gap))
    }
}

fn split_words(score: &Score, split: &Split) -> String {
    let bars = split.bars().map_or_else(String::new, |bars| bars_words(score, bars));
    let divider = if split.has_divider { " and a divider between them" } else { "" };
    let given_up = given_up_words(score, &split.given_up);
    format!("{bars} on one page: {}{divider}.{given_up}", split.systems_words())
}

fn saved_words(score: &Score, saved: &Saved) -> String {
    format!(
        "{} on {} instead of {}.{}",
        bars_words(score, saved.bars),
        counted_in_words(saved.after as usize, "page"),
        in_words(saved.before as usize),
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

/// "Flute, Oboe and 3 more".
fn staves_words(score: &Score, staves: &[StaffId]) -> String {
    let mut names: Vec<String> = Vec::new();
    for staff in staves {
        let name = score.part_of(*staff).map_or("", |part| part.name.as_str());
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let name = if name.is_empty() { format!("staff {} from the top", staff.0 + 1) } else { name };
        if names.last() != Some(&name) {
            names.push(name);
        }
    }
    listed(names)
}
