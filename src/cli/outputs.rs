//! Where a report, its JSON and the summary go, whatever they are about.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use rastrum::report;
use rastrum::report::pdf::PdfError;
use rastrum::report::terminal::Look;

use super::exit::{Failure, Trouble};
use super::files::{self, Output, Target};
use super::terminal;

/// Report and JSON of one run.
#[derive(Debug)]
pub struct Outputs {
    report: Option<PathBuf>,
    json: Json,
}

#[derive(Debug)]
enum Json {
    No,
    File(PathBuf),
    StandardOutput,
}

/// What is written: the report, drawn when it is wanted, and the JSON.
pub struct Written<'a> {
    pub pdf: &'a dyn Fn() -> Result<Vec<u8>, PdfError>,
    pub json: &'a dyn Fn(&mut dyn Write) -> io::Result<()>,
}

impl Outputs {
    /// As asked for; when nothing was asked for, a report beside the music: its name and `kind`.
    pub fn of(report: Option<&Path>, json: Option<&Path>, music: &Path, kind: &str) -> Outputs {
        let report = match report {
            None if json.is_none() => Some(files::beside(music, kind)),
            report => report.map(Path::to_owned),
        };
        let json = match json {
            None => Json::No,
            Some(path) if path.as_os_str() == "-" => Json::StandardOutput,
            Some(path) => Json::File(path.to_owned()),
        };
        Outputs { report, json }
    }

    /// Fails before any work is done when something stands in the way, of these or of `more`.
    pub fn ready<'a>(&'a self, more: impl IntoIterator<Item = Target<'a>>) -> Result<(), Failure> {
        files::no_report_on_standard_output(self.report.as_deref())?;
        let report = self.report.as_deref().map(|path| Target { path, may_replace: report::wrote_pdf });
        let json = self.json.file().map(|path| Target { path, may_replace: report::wrote_json });
        files::ready(&report.into_iter().chain(json).chain(more).collect::<Vec<_>>())
    }

    /// Writes report, JSON and what is wanted `more`, all or none.
    pub fn write(&self, written: &Written<'_>, more: Vec<Output<'_>>) -> Result<(), Failure> {
        let drawn = self.report.is_some().then(written.pdf).transpose();
        let drawn = drawn.map_err(|error| Trouble::new(format!("the report cannot be drawn: {error}")))?;
        let write_pages = |out: &mut dyn Write| out.write_all(drawn.as_deref().unwrap_or_default());
        let report = self.report.as_deref().map(|path| Output { path, fill: &write_pages });
        let json = self.json.file().map(|path| Output { path, fill: written.json });
        files::write(&report.into_iter().chain(json).chain(more).collect::<Vec<_>>())
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(
        &self,
        json: &dyn Fn(&mut dyn Write) -> io::Result<()>,
        words: impl Fn(Look) -> String,
    ) -> Result<(), Failure> {
        if let Json::StandardOutput = self.json {
            terminal::tell(&words(terminal::look(&io::stderr())));
            terminal::print_with(json)?;
        } else {
            terminal::print(words(terminal::look(&io::stdout())).as_bytes())?;
        }
        Ok(())
    }

    /// Places of both.
    pub fn paths(&self) -> impl Iterator<Item = &Path> {
        self.report.as_deref().into_iter().chain(self.json.file())
    }

    /// The same, to be read.
    pub fn names(&self) -> Vec<String> {
        self.paths().map(|path| path.display().to_string()).collect()
    }
}

impl Json {
    fn file(&self) -> Option<&Path> {
        match self {
            Json::File(path) => Some(path),
            Json::No | Json::StandardOutput => None,
        }
    }
}
