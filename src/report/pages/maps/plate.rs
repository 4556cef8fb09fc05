//! A page drawn small: paper, staves, barlines, brackets, and how much there is to read in each bar.

use crate::geometry::Rect;
use crate::layout::{Page, System};
use crate::place::PageIdx;
use crate::report::pdf::Ink;
use crate::units::Mm;

use super::Subject;
use super::view::View;

mod barlines;
mod brackets;
mod labels;
mod lines;
mod names;
mod paper;
mod staves;
mod tint;

use labels::Label;

/// A page ready to be drawn.
#[derive(Debug)]
pub struct Plate<'a> {
    subject: &'a Subject<'a>,
    index: PageIdx,
    page: &'a Page,
    view: View,
    labels: Vec<Label>,
}

impl<'a> Plate<'a> {
    /// `None` when the document has no such page.
    #[must_use]
    pub fn new(subject: &'a Subject<'a>, index: PageIdx, view: View) -> Option<Plate<'a>> {
        let page = subject.layout.pages.get(index.at())?;
        let mut labels = labels::of(subject, page, &view);
        labels.push(labels::page_number(page, &view));
        let on_paper = |label: &Label| label.area.bottom < view.paper.bottom;
        labels.extend(page.systems.iter().flat_map(|system| names::of(subject, system, &view)).filter(on_paper));
        Some(Plate { subject, index, page, view, labels })
    }

    #[must_use]
    pub fn index(&self) -> PageIdx {
        self.index
    }

    #[must_use]
    pub fn view(&self) -> &View {
        &self.view
    }

    /// What no mark may cover: staves, brackets, divider marks and the paper's edges.
    #[must_use]
    pub fn taken(&self) -> Vec<Rect> {
        let systems = self.page.systems.iter();
        let staves = systems.clone().flat_map(|system| system.staves.iter().map(|staff| self.staff_box(system, staff)));
        let brackets = systems.clone().map(|system| brackets::area(system, &self.view));
        let dividers = systems.flat_map(|system| lines::divider_area(self.page, system, &self.view));
        staves.chain(brackets).chain(dividers).chain(edges(&self.view.paper)).collect()
    }

    /// Words on the page, which marks may not cover either, and leaders should not cross.
    pub fn words(&self) -> impl Iterator<Item = Rect> {
        self.labels.iter().map(|label| label.area)
    }

    pub fn draw(&self, ink: &mut Ink<'_>) {
        paper::draw(ink, self.page, &self.view, &self.words().collect::<Vec<_>>());
        // What a page cannot hold ends at its edge, here as on paper.
        ink.clipped(self.view.paper, |ink| {
            for system in &self.page.systems {
                tint::draw(ink, self.subject, system, &self.view);
                staves::draw(ink, system, &self.view);
                barlines::draw(ink, self.subject.score, system, &self.view);
                brackets::draw(ink, self.subject.score, system, &self.view);
                lines::draw_divider(ink, self.page, system, &self.view);
            }
        });
        self.labels.iter().for_each(|label| label.draw(ink));
    }

    fn staff_box(&self, system: &System, staff: &crate::layout::PrintedStaff) -> Rect {
        self.view.rect(&Rect::new(system.rect.left, staff.top, system.rect.right, staff.top + staff.height))
    }
}

/// The four edges of a box, as boxes without width.
#[must_use]
pub fn edges(rect: &Rect) -> [Rect; 4] {
    let Rect { left, top, right, bottom } = *rect;
    [
        Rect::new(left, top, right, top),
        Rect::new(left, bottom, right, bottom),
        Rect::new(left, top, left, bottom),
        Rect::new(right, top, right, bottom),
    ]
    .map(|edge| edge.grown(Mm(0.05)))
}
