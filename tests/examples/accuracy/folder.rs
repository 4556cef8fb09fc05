//! The scores of a folder, read and laid out, with the truth about them.

use std::path::{Path, PathBuf};

use rastrum::casting_off::{self, House};
use rastrum::layout::Layout;
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::read::{self, Input, Reading};
use rastrum::survey::{self, Survey};
use serde::Deserialize;

/// A folder of scores.
pub struct Folder {
    pub path: PathBuf,
    pub documents: Vec<Document>,
}

/// One score.
pub struct Document {
    pub truth: Truth,
    /// `None` when it could not be read.
    pub work: Option<Work>,
    /// Why it could not be read.
    pub error: Option<String>,
}

/// What rastrum makes of a score.
pub struct Work {
    pub reading: Reading,
    pub metrics: Metrics,
    pub layout: Layout,
    pub survey: Survey,
}

/// One entry of `recorded-truth.json`, written by an independent program.
#[derive(Debug, Deserialize)]
pub struct Truth {
    /// Path of the score in the folder.
    pub file: String,
    pub parts: u64,
    pub staves: u64,
    pub bars: u64,
    pub note_elements: u64,
    pub pages: u64,
    pub systems: u64,
    pub systems_on_each_page: Vec<u64>,
    pub staff_height_mm: f64,
    pub page_mm: [f64; 2],
    pub margins_mm: TrueMargins,
    pub first_bar_index_of_each_system: Vec<u64>,
}

/// Margins in millimetres.
#[derive(Debug, Deserialize)]
pub struct TrueMargins {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Folder {
    /// Reads the truth and every score that it names.
    pub fn open(path: PathBuf) -> Result<Folder, String> {
        let text = read_text(&path.join("recorded-truth.json"))?;
        let truths: Vec<Truth> =
            serde_json::from_str(&text).map_err(|error| format!("recorded-truth.json: {error}"))?;
        let documents = truths.into_iter().map(|truth| Document::open(&path, truth)).collect();
        Ok(Folder { path, documents })
    }

    /// The documents that could be read.
    pub fn works(&self) -> impl Iterator<Item = (&Truth, &Work)> {
        self.documents.iter().filter_map(|document| Some((&document.truth, document.work.as_ref()?)))
    }
}

impl Document {
    fn open(folder: &Path, truth: Truth) -> Document {
        match work(folder, &truth) {
            Ok(work) => Document { truth, work: Some(work), error: None },
            Err(error) => Document { truth, work: None, error: Some(error) },
        }
    }
}

fn work(folder: &Path, truth: &Truth) -> Result<Work, String> {
    let bytes = std::fs::read(folder.join(&truth.file)).map_err(|error| error.to_string())?;
    let input = Input { name: &truth.file, bytes: &bytes };
    let reading = read::read(&[input], &Limits::default())
        .map_err(|errors| errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))?;
    let metrics = Metrics::of(&reading.score);
    let layout = casting_off::pages(&reading.score, &metrics, &reading.record, &House::default());
    let survey = survey::survey(&reading.score, &layout, &metrics.extents);
    Ok(Work { reading, metrics, layout, survey })
}

/// A text file, or why it cannot be read.
pub fn read_text(path: &Path) -> Result<String, String> {
    std::fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))
}
