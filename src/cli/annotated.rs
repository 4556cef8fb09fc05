//! The copy of printed pages with the findings on them.

use std::path::PathBuf;

use rastrum::annotate::{self, Sheets, annotate};
use rastrum::check::Checked;
use rastrum::limits::Limits;
use rastrum::report;
use rastrum::report::pages::{self, Extent};

use super::args::CheckArgs;
use super::exit::{Failure, Trouble};
use super::files::Target;
use super::terminal;

/// Where it goes, and what is appended to it.
#[derive(Debug)]
pub struct AnnotatedCopy {
    pub path: PathBuf,
    sheets: usize,
}

impl AnnotatedCopy {
    /// `None` where none is asked for.
    pub fn of(args: &CheckArgs) -> Result<Option<AnnotatedCopy>, Failure> {
        let Some(path) = args.annotate.clone() else { return Ok(None) };
        let is_pdf = |path: &PathBuf| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
        if args.printed.is_none() && !args.scores.iter().all(is_pdf) {
            let hint = "name the PDF of the printed pages behind --pages";
            return Err(Trouble::new("--annotate writes onto printed pages".to_owned()).hint(hint).into());
        }
        Ok(Some(AnnotatedCopy { path, sheets: args.sheets }))
    }

    pub fn target(&self) -> Target<'_> {
        Target { path: &self.path, may_replace: annotate::wrote }
    }

    /// The copy; what the file loses by it is told.
    pub fn write(&self, checked: &Checked, pages: Option<&[u8]>, extent: Extent) -> Result<Vec<u8>, Failure> {
        let name = checked.printed.as_ref().filter(|_| !checked.is_forecast).map(|printed| printed.name.as_str());
        let (Some(name), Some(pages)) = (name, pages) else {
            let hint = "leave out --forecast and what goes with it";
            return Err(Trouble::new("a forecast has no printed pages to write onto".to_owned()).hint(hint).into());
        };
        let drawn = (self.sheets > 0).then(|| pages::write(checked, extent)).transpose();
        let drawn = drawn.map_err(|error| Trouble::new(format!("the report cannot be drawn: {error}")))?;
        let sheets = drawn.as_deref().map(|pdf| Sheets { pdf, count: self.sheets });
        let annotated = annotate(pages, &report::notes(checked), sheets, &Limits::default())
            .map_err(|error| Trouble::new(format!("{name}: {error}")).hint(error.hint()))?;
        for loss in &annotated.lost {
            terminal::tell(&format!("note: in the copy of {name} {loss}\n"));
        }
        Ok(annotated.bytes)
    }
}
