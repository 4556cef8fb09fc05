//! Staves too near the edge of the paper.

use std::collections::BTreeMap;

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::layout::{Page, Side};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;
use crate::words::listed;

/// The margins that a page sets; the inner one is the binding's own matter.
pub(in crate::rules) struct NarrowMargin {
    printer_reach: Limit<Mm>,
    score: Sides,
    part: Sides,
}

struct Sides {
    side: Limit<Mm>,
    top: Limit<Mm>,
    bottom: Limit<Mm>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Edge {
    Top,
    Outer,
    Bottom,
}

impl Rule for NarrowMargin {
    const NAME: &'static str = "narrow-margin";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(NarrowMargin {
                printer_reach: limits.take("printer-reach")?,
                score: Sides {
                    side: limits.take("score-side")?,
                    top: limits.take("score-top")?,
                    bottom: limits.take("score-bottom")?,
                },
                part: Sides {
                    side: limits.take("part-side")?,
                    top: limits.take("part-top")?,
                    bottom: limits.take("part-bottom")?,
                },
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_margins().next().is_none() {
            return Outcome::CouldNotRun("recorded margins".to_owned());
        }
        let sides = if case.is_part() { &self.part } else { &self.score };
        let mut narrow: BTreeMap<Edge, Mm> = BTreeMap::new();
        let mut pages: Vec<PageIdx> = Vec::new();
        for (at, page) in case.told_margins() {
            for (edge, white) in whites(page) {
                if white < sides.of(edge).value {
                    narrow.entry(edge).and_modify(|least| *least = least.min(white)).or_insert(white);
                    pages.push(at);
                }
            }
        }
        pages.dedup();
        let Some((edge, least)) = narrow.iter().min_by(|one, other| one.1.0.total_cmp(&other.1.0)) else {
            return Outcome::Ran(Vec::new());
        };
        let is_cut = *least < self.printer_reach.value;
        let limit = if is_cut { &self.printer_reach } else { sides.of(*edge) };
        let edges = listed(narrow.iter().map(|(edge, white)| format!("{} {white}", edge.words())));
        let cut = if is_cut { "; office printers may not reach that near the edge" } else { "" };
        let message = format!("Margins of {}: {edges}{cut}.", case.pages_words(&pages));
        let finding = Finding::beyond(limit, case.key(Self::NAME, Scope::Work, None, None), least.to_string());
        Outcome::Ran(vec![finding.at(case.on_pages(&pages)).says(message)])
    }
}

impl Sides {
    fn of(&self, edge: Edge) -> &Limit<Mm> {
        match edge {
            Edge::Top => &self.top,
            Edge::Outer => &self.side,
            Edge::Bottom => &self.bottom,
        }
    }
}

impl Edge {
    fn words(self) -> &'static str {
        match self {
            Edge::Top => "top",
            Edge::Outer => "outer",
            Edge::Bottom => "bottom",
        }
    }
}

/// Music that reaches beyond a margin is another fault.
fn whites(page: &Page) -> [(Edge, Mm); 3] {
    let margins = page.margins.value;
    let outer = match page.side {
        Side::Recto => margins.right,
        Side::Verso => margins.left,
    };
    [(Edge::Top, margins.top.rounded()), (Edge::Outer, outer.rounded()), (Edge::Bottom, margins.bottom.rounded())]
}
