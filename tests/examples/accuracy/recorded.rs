//! Recorded facts against the truth: every field must be equal in every file.

use rastrum::geometry::Margins;
use rastrum::units::Mm;

use super::figure::{Figure, Row};
use super::folder::{Document, Folder, Truth, Work};

/// Compares one field: what is true and what was found, as text.
type Field = (&'static str, fn(&Truth, &Work) -> (String, String));

const FIELDS: &[Field] = &[
    ("parts", |truth, work| both(truth.parts, work.reading.score.parts.len())),
    ("staves", |truth, work| both(truth.staves, work.reading.score.staves.len())),
    ("bars", |truth, work| both(truth.bars, work.reading.score.bars.len())),
    ("note elements", |truth, work| both(truth.note_elements, work.reading.score.note_elements)),
    ("pages", |truth, work| both(truth.pages, work.layout.pages.len())),
    ("systems", |truth, work| both(truth.systems, work.layout.systems().count())),
    ("systems on each page", |truth, work| {
        let found: Vec<usize> = work.layout.pages.iter().map(|page| page.systems.len()).collect();
        (format!("{:?}", truth.systems_on_each_page), format!("{found:?}"))
    }),
    ("first bar of each system", |truth, work| {
        let spans = work.layout.systems().filter_map(|(_, _, system)| system.span());
        let found: Vec<u32> = spans.map(|span| span.first.0).collect();
        (format!("{:?}", truth.first_bar_index_of_each_system), format!("{found:?}"))
    }),
    ("staff height", |truth, work| {
        let found = work.reading.record.staff_heights.first().copied().flatten();
        (thousandths(truth.staff_height_mm), found.map_or_else(not_found, |height| thousandths(height.0)))
    }),
    ("page size", |truth, work| {
        let found = work.layout.pages.first().map(|page| page.size.value);
        let written = |width, height| format!("{} x {}", tenths(width), tenths(height));
        let [width, height] = truth.page_mm;
        (written(width, height), found.map_or_else(not_found, |(width, height)| written(width.0, height.0)))
    }),
    ("margins", |truth, work| {
        let own = &truth.margins_mm;
        let (left, right, top, bottom) = (Mm(own.left), Mm(own.right), Mm(own.top), Mm(own.bottom));
        let recorded = work.reading.record.defaults.first();
        let sides = recorded.map_or([None; 2], |defaults| [defaults.page.even, defaults.page.odd]);
        let truth = margins(&Margins { left, right, top, bottom });
        // The truth names one side; a file whose sides differ records both.
        let found: Vec<String> = sides.iter().flatten().map(margins).collect();
        let equal = found.iter().find(|found| **found == truth).or(found.first()).cloned();
        (truth, equal.unwrap_or_else(not_found))
    }),
];

/// One figure a field.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let mut figures = vec![read(folder)];
    for (name, field) in FIELDS {
        let row = |document: &Document| {
            let truth = &document.truth;
            // A score that could not be read counts as wrong in every field.
            let Some(work) = &document.work else { return Row::new(&truth.file, 0, 1).with_note("not read") };
            let (wanted, found) = field(truth, work);
            let row = Row::new(&truth.file, u64::from(wanted == found), 1);
            if wanted == found { row } else { row.with_note(format!("{found} instead of {wanted}")) }
        };
        let rows = folder.documents.iter().map(row).collect();
        figures.push(Figure::new(format!("recorded {name}"), "files", rows));
    }
    figures
}

fn read(folder: &Folder) -> Figure {
    let rows = folder.documents.iter().map(|document| {
        let row = Row::new(&document.truth.file, u64::from(document.work.is_some()), 1);
        match &document.error {
            Some(error) => row.with_note(error.clone()),
            None => row,
        }
    });
    Figure::new("scores read", "files", rows.collect())
}

fn both(truth: u64, found: impl TryInto<u64>) -> (String, String) {
    (truth.to_string(), found.try_into().map_or_else(|_| not_found(), |found: u64| found.to_string()))
}

fn not_found() -> String {
    "nothing".to_owned()
}

fn margins(margins: &Margins) -> String {
    let [left, right, top, bottom] =
        [margins.left, margins.right, margins.top, margins.bottom].map(|side| tenths(side.0));
    format!("left {left}, right {right}, top {top}, bottom {bottom}")
}

fn tenths(mm: f64) -> String {
    format!("{mm:.1}")
}

fn thousandths(mm: f64) -> String {
    format!("{mm:.3}")
}
