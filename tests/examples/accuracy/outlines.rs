//! How near the pages of a plan come to those of its notes: a plan is made of each orchestral score, written, read
//! back, and both are estimated on the same paper.

use std::fmt::Write;

use rastrum::casting_off::{self, House};
use rastrum::layout::Record;
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::read::{self, Input, Reading};
use rastrum::score::{Busyness, Score};

use super::figure::{Figure, Row, percentile};
use super::folder::Folder;

#[path = "outlines/sections.rs"]
mod sections;

use sections::Section;

/// Pages further off than this share are a miss.
const NEAR: f64 = 0.15;

/// Pages from the plan against pages from the notes.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (mut rows, mut off) = (Vec::new(), Vec::new());
    for (truth, work) in folder.works().filter(|(truth, _)| truth.file.contains("orchestra")) {
        let score = &work.reading.score;
        let plan = match planned(score) {
            Ok(plan) => plan,
            Err(why) => {
                rows.push(Row::new(&truth.file, 0, 1).with_note(why));
                continue;
            }
        };
        let (notes, plan) = (pages(score), pages(&plan.score));
        let share = plan.exact / notes.exact - 1.0;
        off.push(share.abs());
        let note = format!(
            "{} pages in {} systems from the plan, {} in {} from the notes: {:+.0} %",
            plan.pages,
            plan.systems,
            notes.pages,
            notes.systems,
            100.0 * share
        );
        rows.push(Row::new(&truth.file, u64::from(share.abs() <= NEAR), 1).with_note(note));
    }
    off.sort_by(f64::total_cmp);
    let note = format!(
        "median {:.0} %, p90 {:.0} %, farthest {:.0} % off",
        100.0 * percentile(&off, 0.5),
        100.0 * percentile(&off, 0.9),
        100.0 * off.last().copied().unwrap_or(f64::NAN)
    );
    vec![Figure::new("pages of a plan within 15 % of those of its notes", "files", rows).with_note(note)]
}

fn planned(score: &Score) -> Result<Reading, String> {
    let text = text(score, &sections::sections(score));
    read::read(&[Input { name: "plan.toml", bytes: text.as_bytes() }], &Limits::default())
        .map_err(|errors| errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
}

/// What is estimated of one score.
struct Pages {
    pages: usize,
    systems: usize,
    /// Pages, the last one as far as it is filled: small works would otherwise only be near or far by whole pages.
    exact: f64,
}

/// On the house's paper, with nothing recorded.
fn pages(score: &Score) -> Pages {
    let layout = casting_off::pages(score, &Metrics::of(score), &Record::default(), &House::default());
    let filled = layout.pages.last().map_or(0.0, |page| {
        let (top, foot) = (page.margins.value.top, page.size.value.1 - page.margins.value.bottom);
        page.systems.last().map_or(0.0, |system| ((system.rect.bottom - top) / (foot - top)).min(1.0))
    });
    let pages = layout.pages.len();
    Pages { pages, systems: layout.systems().count(), exact: pages as f64 - 1.0 + filled }
}

/// The plan as a person would write it, but for the names: parts of open scores share theirs.
fn text(score: &Score, sections: &[Section]) -> String {
    let mut out = String::new();
    for (at, part) in score.parts.iter().enumerate() {
        let staves = score.staves.iter().filter(|staff| staff.part.at() == at).count();
        let family = serde_json::to_string(&part.family).unwrap_or_default().replace("unknown", "other");
        let _ = write!(out, "[[forces]]\nname = \"{}\"\nfamily = {family}\nstaves = {staves}\n", name(at));
    }
    for section in sections {
        let _ = write!(out, "\n[[section]]\nbars = {}\n", section.bars.count());
        let bar = score.bar(section.bars.first);
        if score.movements.iter().any(|movement| movement.bars.first == section.bars.first) {
            out.push_str("movement = \"\"\n");
        }
        if let Some(bar) = bar {
            // A bar's length counts, also of a pick-up, in sixteenths.
            let _ = writeln!(out, "metre = \"{}/32\"", (bar.length.to_f64() * 8.0).round());
        }
        let playing = |busy: &Option<Busyness>| busy.is_some();
        let who: Vec<String> = section
            .busy
            .iter()
            .enumerate()
            .filter(|(_, busy)| playing(busy))
            .map(|(at, _)| format!("\"{}\"", name(at)))
            .collect();
        let busy = section.busy.iter().enumerate();
        let busy: Vec<String> =
            busy.filter_map(|(at, busy)| Some(format!("\"{}\" = \"{}\"", name(at), (*busy)?.word()))).collect();
        let _ = writeln!(out, "who = [{}]\nbusy = {{ {} }}", who.join(", "), busy.join(", "));
    }
    out
}

/// Letters, since numbers at the end of a name count its players.
fn name(part: usize) -> String {
    let letter = |digit: usize| char::from(b'a' + (digit % 26) as u8);
    format!("line {}{}{}", letter(part / 676), letter(part / 26), letter(part))
}
