//! Parts with turns made by hand, to hold rules against.

use super::{Case, Finding, Outcome, PartCase, Rule};
use crate::casting_off::part::{Binding, Stand};
use crate::fixture::{quarter, score};
use crate::geometry::{Margins, Rect};
use crate::guidelines::{Guidelines, Request};
use crate::layout::{Known, Layout, Origin, Page, PageKind, PrintedBar, PrintedStaff, Side, StaffRole, System, Told};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::players::end_to_end::EndToEnd;
use crate::players::turning::{Frees, TurnClass, TurnPoint};
use crate::players::{Hands, Player};
use crate::score::{Family, MarkKind, StaffMark};
use crate::survey::{BackwardTurn, Survey, Turn};
use crate::units::{Fraction, Mm, Seconds};

/// Bars on each page.
pub(super) const BARS: u32 = 8;

/// A part of whole pages; odd ones lie on the right and are turned.
pub(super) struct ByHand {
    pub(super) player: Player,
    pub(super) layout: Layout,
    pub(super) turns: Vec<Turn>,
    pub(super) backward: Vec<BackwardTurn>,
    pub(super) points: Vec<TurnPoint>,
    pub(super) whole: EndToEnd,
    pub(super) stand: Stand,
}

impl ByHand {
    /// So many recorded pages of eight bars, four quarters in each; every turn but the last page's is easy.
    pub(super) fn new(family: Family, hands: Hands, pages: u32) -> ByHand {
        let mut music = score(&[("Part", family, 1)], pages * BARS);
        for cell in &mut music.cells {
            cell.events = (0..4).map(|beat| quarter("C5", beat)).collect();
        }
        let player = Player {
            name: "Part".to_owned(),
            family,
            hands,
            number: None,
            staves: vec![StaffId(0)],
            copies: 1,
            music,
            undecided: Vec::new(),
        };
        let points: Vec<TurnPoint> = (0..pages * BARS).map(|bar| point(bar, TurnClass::Easy, 9.0)).collect();
        let turns = (0..pages.saturating_sub(1)).step_by(2).map(|page| turn(page, TurnClass::Easy, 9.0)).collect();
        ByHand {
            player,
            layout: layout(pages),
            turns,
            backward: Vec::new(),
            points,
            whole: EndToEnd::default(),
            stand: stand(),
        }
    }

    /// Gives the turn that ends a page another class and free time, and so the barline.
    pub(super) fn turning(mut self, page: u32, class: TurnClass, free: f64) -> ByHand {
        self.turns.retain(|turn| turn.page != PageIdx(page));
        self.turns.push(turn(page, class, free));
        self.turns.sort_by_key(|turn| turn.page);
        let after = (page + 1) * BARS - 1;
        self.points[after as usize] = point(after, class, free);
        self
    }

    pub(super) fn print(mut self, bar: u32, words: &str) -> ByHand {
        let kind = MarkKind::Words(words.to_owned());
        let mark = StaffMark::new(Fraction::ZERO, kind);
        self.player.music.cells[bar as usize].marks.push(mark);
        self
    }

    /// Pages of our own making.
    pub(super) fn estimated(mut self) -> ByHand {
        self.layout.pages.iter_mut().for_each(|page| page.breaks = Origin::Estimated);
        self
    }

    pub(super) fn outcome<R: Rule>(&self) -> Outcome {
        let guidelines = Guidelines::load(&Request::default()).unwrap_or_else(|errors| panic!("{errors}"));
        let survey = Survey::default();
        let part = PartCase {
            player: &self.player,
            orchestra: &self.player.music,
            blocks: &[],
            turns: &self.turns,
            backward: &self.backward,
            points: &self.points,
            whole: &self.whole,
            stand: &self.stand,
        };
        let case = Case {
            score: &self.player.music,
            layout: &self.layout,
            survey: &survey,
            proposal: None,
            part: Some(part),
            fit: None,
            print_on: None,
        };
        R::with(&guidelines).unwrap().check(&case)
    }

    pub(super) fn findings<R: Rule>(&self) -> Vec<Finding> {
        match self.outcome::<R>() {
            Outcome::Ran(findings) => findings,
            Outcome::CouldNotRun(needs) => panic!("{} needs {needs}", R::NAME),
        }
    }

    pub(super) fn says<R: Rule>(&self) -> Vec<String> {
        self.findings::<R>().into_iter().map(|finding| finding.message).collect()
    }
}

pub(super) fn point(after: u32, class: TurnClass, free: f64) -> TurnPoint {
    TurnPoint {
        after: BarIdx(after),
        silent_before: None,
        silent_after: None,
        free: Some(Seconds(free)),
        needed: Seconds(3.0),
        class: Some(class),
        assumed: None,
        frees: if free > 0.0 { Frees::Rest } else { Frees::Nothing },
        reads: None,
        audible: false,
        alone: false,
        others: Vec::new(),
    }
}

pub(super) fn turn(page: u32, class: TurnClass, free: f64) -> Turn {
    let point = point((page + 1) * BARS - 1, class, free);
    Turn { page: PageIdx(page), point, alternative: None, searched: None, advice: None, half_leaf: None }
}

fn stand() -> Stand {
    Stand {
        binding: Binding::Booklet,
        paper: (Mm(257.0), Mm(364.0)),
        margins: Margins::default(),
        staff_height: Mm(7.5),
        natural_force: 1.0,
        starts: None,
        headed: true,
    }
}

/// One system a page.
fn layout(pages: u32) -> Layout {
    let page = |page: u32| Page {
        size: Known::recorded((Mm(257.0), Mm(364.0))),
        margins: Known::recorded(Margins::default()),
        side: if page.is_multiple_of(2) { Side::Recto } else { Side::Verso },
        label: (page + 1).to_string(),
        kind: PageKind::Music,
        breaks: Origin::Recorded,
        systems: vec![system(page * BARS)],
        texts: Vec::new(),
        seen: None,
    };
    Layout { pages: (0..pages).map(page).collect(), told: Told::default(), ..Layout::default() }
}

fn system(first: u32) -> System {
    let bar = |nth: u32| PrintedBar {
        left: Mm(20.0 + 25.0 * f64::from(nth)),
        right: Mm(45.0 + 25.0 * f64::from(nth)),
        bars: Some(BarSpan::one(BarIdx(first + nth))),
        placed: Origin::Recorded,
    };
    let staff = PrintedStaff {
        staff: Some(StaffId(0)),
        lines: 5,
        top: Mm(40.0),
        height: Mm(7.5),
        role: StaffRole::Normal,
        placed: Origin::Recorded,
        sized: Origin::Recorded,
    };
    System {
        rect: Rect::new(Mm(20.0), Mm(40.0), Mm(220.0), Mm(47.5)),
        staves: vec![staff],
        bars: (0..BARS).map(bar).collect(),
        divider_above: None,
        breaks: Origin::Recorded,
        stretch: None,
    }
}
