//! A figure: so many of so many, file by file.

use std::fmt;

use serde::Serialize;

/// One figure over all files.
#[derive(Debug, Serialize)]
pub struct Figure {
    pub name: String,
    /// What is counted: "files", "staves".
    pub of_what: &'static str,
    pub numerator: u64,
    pub denominator: u64,
    /// What numerator and denominator do not show: "max 0.020 mm".
    pub note: Option<String>,
    pub rows: Vec<Row>,
}

/// One file's share.
#[derive(Debug, Serialize)]
pub struct Row {
    pub file: String,
    pub numerator: u64,
    pub denominator: u64,
    pub note: Option<String>,
}

impl Figure {
    /// The rows added up.
    pub fn new(name: impl Into<String>, of_what: &'static str, rows: Vec<Row>) -> Figure {
        let numerator = rows.iter().map(|row| row.numerator).sum();
        let denominator = rows.iter().map(|row| row.denominator).sum();
        Figure { name: name.into(), of_what, numerator, denominator, note: None, rows }
    }

    pub fn with_note(mut self, note: impl Into<String>) -> Figure {
        self.note = Some(note.into());
        self
    }
}

impl Row {
    pub fn new(file: &str, numerator: u64, denominator: u64) -> Row {
        Row { file: file.to_owned(), numerator, denominator, note: None }
    }

    pub fn with_note(mut self, note: impl Into<String>) -> Row {
        self.note = Some(note.into());
        self
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let share = if self.denominator > 0 { 100.0 * self.numerator as f64 / self.denominator as f64 } else { 0.0 };
        write!(f, "{}: {} of {} {} ({share:.1} %)", self.name, self.numerator, self.denominator, self.of_what)?;
        if let Some(note) = &self.note {
            write!(f, "; {note}")?;
        }
        writeln!(f)?;
        for row in &self.rows {
            write!(f, "  {:34} {:>6} of {:>6}", row.file, row.numerator, row.denominator)?;
            if let Some(note) = &row.note {
                write!(f, "  {note}")?;
            }
            writeln!(f)?;
        }
        Ok(())
    }
}

/// The value that `share` of the sorted values do not exceed; NaN of none.
pub fn percentile(sorted: &[f64], share: f64) -> f64 {
    let rank = (sorted.len() as f64 * share).ceil() as usize;
    sorted.get(rank.saturating_sub(1)).copied().unwrap_or(f64::NAN)
}
