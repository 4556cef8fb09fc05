//! CPU time of measuring printed pages and of writing notes onto them, beside one bare pass over their content.

use std::path::{Path, PathBuf};
use std::time::Instant;

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::kurbo::Rect;
use hayro_interpret::{Context, DummyDevice, InterpreterCache, InterpreterSettings, TransformExt, interpret_page};
use rastrum::annotate::{Note, annotate};
use rastrum::engraved::{EngravedPage, measure};
use rastrum::limits::Limits;

use super::bare_parse::cpu_time::cpu_seconds;
use super::figure::{Figure, Outcome, median};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;
/// The most that either should take, in bare passes.
const MEASURING: f64 = 3.0;
const ANNOTATING: f64 = 1.0;

/// Over all PDFs of vector graphics beside the scores' folder, taken together.
pub fn figures(scores: &[Score], _: &WorkFolder) -> Outcome<Vec<Figure>> {
    let folder = scores.first().and_then(|score| score.path.parent()?.parent()).ok_or("no score to measure")?;
    let files: Vec<Vec<u8>> = pdfs(folder)?.iter().map(std::fs::read).collect::<Result<_, _>>()?;
    let (mut measuring, mut annotating) = (Vec::new(), Vec::new());
    for _ in 0..RUNS {
        let (mut bare, mut measured, mut annotated) = (0.0, 0.0, 0.0);
        for bytes in &files {
            bare += seconds(|| pass(bytes))?;
            let mut pages = Vec::new();
            measured += seconds(|| {
                pages = measure(bytes, &Limits::default())?;
                Ok(())
            })?;
            let notes = notes(&pages);
            annotated += seconds(|| Ok(annotate(bytes, &notes, None, &Limits::default()).map(drop)?))?;
        }
        measuring.push((measured, bare));
        annotating.push((annotated, bare));
    }
    let figure = |name: &str, pairs: &[(f64, f64)], goal| -> Outcome<Figure> {
        let (own, bare) = median(pairs, |(own, bare)| own / bare)?;
        Ok(Figure {
            name: format!("CPU, {name} {} files of printed pages", files.len()),
            value: own / bare,
            goal,
            unit: " bare passes",
            from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", own * 1e3, bare * 1e3),
        })
    };
    Ok(vec![figure("measuring", &measuring, MEASURING)?, figure("annotating", &annotating, ANNOTATING)?])
}

fn pdfs(folder: &Path) -> Outcome<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in folder.join("quartets").read_dir()? {
        files.push(entry?.path().join("score.pdf"));
    }
    files.push(folder.join("pages/ballet-score.pdf"));
    files.retain(|path| path.exists());
    files.sort();
    Ok(files)
}

fn seconds(work: impl FnOnce() -> Outcome<()>) -> Outcome<f64> {
    let start = Instant::now();
    let before = cpu_seconds(start);
    work()?;
    Ok(cpu_seconds(start) - before)
}

/// The content of all pages interpreted and nothing done with it.
fn pass(bytes: &[u8]) -> Outcome<()> {
    let pdf = Pdf::new(bytes.to_vec()).map_err(|_| "not a PDF")?;
    let (cache, settings) = (InterpreterCache::new(), InterpreterSettings::default());
    for page in pdf.pages().iter() {
        let (width, height) = page.render_dimensions();
        let area = Rect::new(0.0, 0.0, f64::from(width), f64::from(height));
        let mut context =
            Context::new(page.initial_transform(true).to_kurbo(), area, &cache, page.xref(), settings.clone());
        interpret_page(page, &mut context, &mut DummyDevice);
    }
    Ok(())
}

/// One on the first staff of each page.
fn notes(pages: &[EngravedPage]) -> Vec<Note> {
    let staves = pages.iter().enumerate().filter_map(|(page, own)| Some((page, own.staves().next()?.rect)));
    let note = |(page, rect)| Note {
        page,
        rect: Some(rect),
        number: 1,
        name: "staff".to_owned(),
        title: "A staff.".to_owned(),
        text: "Nothing to do.".to_owned(),
        heavy: true,
    };
    staves.map(note).collect()
}
