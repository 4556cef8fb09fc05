//! A gap between two staves measured out as in a drawing: two arrows, its height in spaces and millimetres, what is
//! wanted, and a hatching where what stands in it comes closest.

use super::Subject;
use super::choose::Opening;
use super::pens;
use super::sheet::BESIDE;
use super::spots::Spot;
use super::stage::Sheet;
use super::view::View;
use super::words::{kept_together, limit};
use crate::geometry::Rect;
use crate::layout::{Origin, System};
use crate::place::PageIdx;
use crate::report::pdf::{
    Align, Artifact, Document, Face, Grey, Ink, Paint, Path, Points, Tag, TextStyle, at, cap_height, text_width, wrap,
};
use crate::survey::{Gap, GapKind};
use crate::units::Mm;

/// The measured gap, on its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// The two staff lines, and the end of the system.
    top: Mm,
    bottom: Mm,
    staves_end: Mm,
    /// Where the arrows stand.
    x: Mm,
    /// "3 spaces = 3.2 mm", "wanted: 4 mm" and the like; the first is set in bold.
    phrases: Vec<String>,
    /// The bar where contents come closest, from staff line to staff line.
    hatched: Option<Rect>,
    about: Option<usize>,
}

const TYPE: Points = Points(7.0);
const LINE: Mm = Mm(3.1);
/// From the paper's edge to the arrows.
const OUT: Mm = Mm(7.5);
/// From the arrows to the words.
const WORDS: Mm = Mm(1.8);

impl Dimension {
    /// The gap that the first finding on the page is about; failing that, the one that its contents leave least white.
    /// `None` when nothing is known to stand in any gap.
    #[must_use]
    pub fn tightest(subject: &Subject<'_>, worst: &Opening, page: PageIdx, view: &View) -> Option<Dimension> {
        let systems = &subject.layout.pages.get(page.at())?.systems;
        let gaps = || subject.survey.gaps_of(page).filter(|gap| gap.height > Mm::ZERO && is_known(systems, gap));
        let mut found: Vec<&Spot> = worst.spots.iter().collect();
        found.sort_by_key(|spot| spot.number);
        let judged = found.iter().find_map(|spot| Some((gaps().find(|gap| is_in(spot, gap))?, Some(*spot))));
        let tightest = || {
            let filled = gaps().filter(|gap| gap.tightest.is_some() && gap.kind != GapKind::Systems);
            Some((filled.min_by(|one, other| one.clearance().0.total_cmp(&other.clearance().0))?, None))
        };
        let (gap, about) = judged.or_else(tightest)?;
        let system = systems.get(usize::from(gap.system))?;
        let limit = about.and_then(|spot| wanted(subject, spot));
        let about = about.map(|spot| spot.number);
        let mut phrases = vec![format!("{} = {}", gap.spaces, gap.height.in_tenths())];
        phrases.extend(limit.map(|limit| format!("wanted: {limit}")));
        phrases.extend(gap.tightest.filter(|tightest| tightest.needed >= Mm(0.5)).map(|tightest| {
            let bar = subject.score.label(tightest.bar);
            // Computed from the notes, not measured: tenths of a millimetre would say too much.
            format!("what stands in it takes about {:.0} mm at bar {bar}", tightest.needed.0)
        }));
        Some(Dimension {
            top: view.y(gap.top),
            bottom: view.y(gap.top + gap.height),
            staves_end: view.x(system.rect.right),
            x: view.paper.right + OUT,
            phrases,
            hatched: hatched(system, gap).map(|area| view.rect(&area)),
            about,
        })
    }

    /// The number of the finding that its gap is about.
    #[must_use]
    pub fn about(&self) -> Option<usize> {
        self.about
    }

    /// What no mark may cover: the arrows with their words, and the lines that lead to them.
    #[must_use]
    pub fn taken(&self) -> Vec<Rect> {
        let lead = Rect::new(self.staves_end, self.top, self.x + Mm(1.0), self.bottom);
        let arrows = Rect::new(self.x, self.top, self.x, self.bottom).grown(Mm(4.0));
        [Some(lead), Some(arrows), self.hatched, Some(self.words())].into_iter().flatten().collect()
    }

    /// As a sentence.
    #[must_use]
    pub fn told(&self) -> String {
        format!("Measured out: {}.", self.phrases.join("; "))
    }

    fn lines(&self) -> Vec<(TextStyle, String)> {
        let set = |(at, phrase): (usize, &String)| {
            let style = TextStyle::new(if at == 0 { Face::Bold } else { Face::Regular }, TYPE);
            let lines = wrap(&kept_together(phrase), &style, BESIDE - OUT - WORDS);
            lines.into_iter().map(move |line| (style, line.text)).collect::<Vec<_>>()
        };
        self.phrases.iter().enumerate().flat_map(set).collect()
    }

    fn words(&self) -> Rect {
        let lines = self.lines();
        let widths = lines.iter().map(|(style, line)| text_width(style.face, style.size, line));
        let width = widths.fold(Mm::ZERO, Mm::max);
        let middle = (self.top + self.bottom) / 2.0;
        let half = LINE * lines.len() as f64 / 2.0;
        let left = self.x + WORDS;
        Rect::new(left, middle - half, left + width, middle + half)
    }
}

/// Draws it over the page, and its words beside.
pub fn draw(doc: &mut Document, sheet: Sheet, dimension: &Dimension) {
    let text = doc.element(sheet.section, Tag::P);
    let mut canvas = doc.page(sheet.page);
    canvas.artifact(Artifact::Layout, |ink| lines(ink, dimension));
    canvas.tagged(text, |ink| {
        let words = dimension.words();
        let mut y = words.top + LINE / 2.0 + cap_height(Face::Regular, TYPE) / 2.0;
        for (style, line) in dimension.lines() {
            ink.text(at(words.left, y), Align::Left, &style, &format!("{line} "));
            y += LINE;
        }
    });
}

fn lines(ink: &mut Ink<'_>, dimension: &Dimension) {
    let Dimension { top, bottom, staves_end, x, .. } = *dimension;
    if let Some(area) = dimension.hatched {
        ink.hatch(area, Mm(0.6), &pens::black(Mm(0.1)));
    }
    for y in [top, bottom] {
        ink.line(at(staves_end + Mm(0.4), y), at(x + Mm(0.8), y), &pens::black(Mm(0.1)));
    }
    // Small gaps are measured from outside, so that the arrows do not hide them.
    let (reach, head) = (Mm(3.5), Mm(1.2));
    for (tip, out) in [(top, -1.0), (bottom, 1.0)] {
        ink.line(at(x, tip), at(x, tip + reach * out), &pens::black(Mm(0.14)));
        let base = tip + head * out;
        let arrow = [at(x, tip), at(x - Mm(0.4), base), at(x + Mm(0.4), base)];
        ink.path(&Path::polygon(&arrow), &Paint::fill(Grey::BLACK));
    }
}

/// Whether the file tells how high the gap is: an estimate is not measured out.
fn is_known(systems: &[System], gap: &Gap) -> bool {
    let lower = systems
        .get(usize::from(gap.system))
        .and_then(|system| system.staves.iter().find(|staff| staff.staff == Some(gap.lower)));
    lower.is_some_and(|staff| staff.placed != Origin::Estimated)
}

/// What is wanted at this very place, or everywhere.
fn wanted<'a>(subject: &Subject<'a>, spot: &Spot) -> Option<&'a str> {
    let finding = subject.findings.get(spot.number.checked_sub(1)?)?;
    let here = finding.places.get(spot.place).and_then(|place| place.here.as_ref());
    here.map(|here| here.wanted.as_str()).filter(|wanted| !wanted.is_empty()).or_else(|| limit(finding))
}

/// Whether a finding is about this gap.
fn is_in(spot: &Spot, gap: &Gap) -> bool {
    const SLACK: Mm = Mm(0.5);
    let inside = |rect: Rect| rect.top >= gap.top - SLACK && rect.bottom <= gap.top + gap.height + SLACK;
    spot.rect.is_some_and(inside)
}

fn hatched(system: &System, gap: &Gap) -> Option<Rect> {
    let bar = gap.tightest?.bar;
    let printed = system.bars.iter().find(|printed| printed.bars.is_some_and(|bars| bars.contains(bar)))?;
    Some(Rect::new(printed.left, gap.top, printed.right, gap.top + gap.height))
}
