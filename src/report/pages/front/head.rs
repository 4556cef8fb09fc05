//! The head of the first sheet: the work, its forces, what the pages rest on, and one sentence on the whole.

use super::LINE;
use crate::check::Checked;
use crate::geometry::Rect;
use crate::report::pages::style;
use crate::report::pdf::{Align, Canvas, Elem, Face, Ink, Line, Tag, TextStyle, at, wrap};
use crate::report::verdict;
use crate::units::Mm;

/// Title, forces, length, what the pages rest on, and the verdict, in lines.
pub(super) struct Head {
    title: Vec<Line>,
    composer: Option<String>,
    facts: Vec<Vec<Line>>,
    verdict: Vec<Line>,
}

const TITLE_LINE: Mm = Mm(8.5);
/// Below the title, whose letters reach down.
const TITLE_GAP: Mm = Mm(1.6);
const VERDICT_LINE: Mm = Mm(5.8);
const FACT_GAP: Mm = Mm(0.7);

impl Head {
    pub(super) fn of(checked: &Checked) -> Head {
        let width = style::content().width();
        let title = checked.score.title.as_deref().unwrap_or("Untitled score");
        let facts = facts(checked);
        Head {
            title: wrap(title, &style::TITLE, width - Mm(60.0)).into_iter().take(2).collect(),
            composer: checked.score.composer.clone(),
            facts: facts.iter().map(|fact| wrap(fact, &style::BODY, width).into_iter().take(2).collect()).collect(),
            verdict: wrap(&verdict::sentence(checked), &style::VERDICT, width),
        }
    }

    pub(super) fn height(&self) -> Mm {
        let facts: usize = self.facts.iter().map(Vec::len).sum();
        TITLE_LINE * self.title.len() as f64
            + (LINE + FACT_GAP) * facts as f64
            + VERDICT_LINE * self.verdict.len() as f64
            + TITLE_GAP
            + Mm(8.0)
    }

    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, section: Elem, area: Rect) {
        let mut y = area.top - Mm(1.5);
        let heading = canvas.element(section, Tag::H1);
        canvas.tagged(heading, |ink| lines(ink, area.left, &mut y, TITLE_LINE, &style::TITLE, &self.title));
        y += TITLE_GAP;
        if let Some(composer) = &self.composer {
            let by = canvas.element(section, Tag::P);
            let look = style::BODY.in_face(Face::Italic);
            canvas.tagged(by, |ink| ink.text(at(area.right, area.top + Mm(7.0)), Align::Right, &look, composer));
        }
        for fact in &self.facts {
            let paragraph = canvas.element(section, Tag::P);
            canvas.tagged(paragraph, |ink| lines(ink, area.left, &mut y, LINE + FACT_GAP, &style::BODY, fact));
        }
        y += Mm(2.5);
        let paragraph = canvas.element(section, Tag::P);
        canvas.tagged(paragraph, |ink| {
            lines(ink, area.left, &mut y, VERDICT_LINE, &style::VERDICT, &self.verdict);
        });
    }
}

/// Sets lines one below the other and moves `y` to the last baseline.
fn lines(ink: &mut Ink<'_>, left: Mm, y: &mut Mm, line: Mm, look: &TextStyle, lines: &[Line]) {
    for text in lines {
        *y += line;
        ink.text(at(left, *y), Align::Left, look, &text.text);
    }
}

/// Movements, forces and length, the pages and what they rest on.
fn facts(checked: &Checked) -> Vec<String> {
    let score = &checked.score;
    let mut facts = Vec::new();
    if score.movements.len() > 1 {
        let titles: Vec<String> = score
            .movements
            .iter()
            .enumerate()
            .map(|(at, movement)| movement.title.clone().unwrap_or_else(|| format!("movement {}", at + 1)))
            .collect();
        facts.push(titles.join("  ·  "));
    }
    let forces = verdict::forces(checked);
    if !forces.is_empty() {
        facts.push(forces);
    }
    facts.push(format!("{} {}", pages_in_words(checked), verdict::basis(checked)));
    facts.extend(verdict::expected(checked));
    facts
}

/// "44 pages of 257 x 364 mm; staves 4.2 mm; one system a page, two on 6 pages."
fn pages_in_words(checked: &Checked) -> String {
    let pages = &checked.layout.pages;
    let bars = match checked.score.bars.len() {
        1 => "1 bar (measure)".to_owned(),
        bars => format!("{bars} bars (measures)"),
    };
    let Some(first) = pages.first() else { return format!("{bars}.") };
    let (width, height) = first.size.value;
    let split = pages.iter().filter(|page| page.systems.len() > 1).count();
    let systems = match split {
        0 => "one system a page".to_owned(),
        _ if split == pages.len() => "two systems a page or more".to_owned(),
        _ => format!("two systems or more on {split} of them"),
    };
    let staff = first.systems.first().and_then(|system| system.staves.iter().map(|staff| staff.height).reduce(Mm::max));
    let staves = staff.map_or_else(String::new, |height| format!("staves {height}; "));
    let count = verdict::page_count(checked).unwrap_or_default();
    let comma = if checked.expected.is_some() { "," } else { "" };
    format!("{bars} on {count}{comma} of {:.0} x {:.0} mm; {staves}{systems}.", width.0, height.0)
}
