//! Where the report, the JSON and the summary go.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use rastrum::check::Checked;
use rastrum::read::Input;
use rastrum::report;
use rastrum::report::pages::{self, Extent};
use rastrum::report::terminal::{Look, Summary};

use super::annotated::AnnotatedCopy;
use super::args::CheckArgs;
use super::breaks::Breaks;
use super::exit::{Failure, Trouble};
use super::files::{self, Output, Target};
use super::terminal;

/// The outputs of one check.
#[derive(Debug)]
pub struct Outputs {
    report: Option<PathBuf>,
    json: Json,
    breaks: Option<Breaks>,
    copy: Option<AnnotatedCopy>,
    /// Pages are proposed for other paper or staves than the file's.
    other_sheet: bool,
    extent: Extent,
}

#[derive(Debug)]
enum Json {
    No,
    File(PathBuf),
    StandardOutput,
}

impl Outputs {
    /// As asked for; when nothing was asked for, a report beside the (first) score.
    pub fn of(args: &CheckArgs, score: &Path) -> Result<Outputs, Failure> {
        let json = match &args.json {
            None => Json::No,
            Some(path) if path.as_os_str() == "-" => Json::StandardOutput,
            Some(path) => Json::File(path.clone()),
        };
        let report = match &args.report {
            None if args.json.is_none() => Some(files::beside(score, "check")),
            report => report.clone(),
        };
        let breaks = args.write_breaks.as_deref().map(|out| Breaks::of(out, args.scores.len())).transpose()?;
        let pages = &args.pages;
        let other_sheet = pages.paper.is_some() || pages.margins.is_some() || pages.staff.is_some();
        let copy = AnnotatedCopy::of(args)?;
        Ok(Outputs {
            report,
            json,
            breaks,
            copy,
            other_sheet,
            extent: if args.full { Extent::Full } else { Extent::Short },
        })
    }

    /// Fails before any work is done when something stands in the way.
    pub fn ready(&self) -> Result<(), Failure> {
        files::no_report_on_standard_output(self.report.as_deref())?;
        self.breaks.as_ref().map_or(Ok(()), Breaks::ready)?;
        let copies = self.copies().map(|path| Target { path, may_replace: |_| false });
        let report = self.report.as_deref().map(|path| Target { path, may_replace: report::wrote_pdf });
        let json = self.json.file().map(|path| Target { path, may_replace: report::wrote_json });
        let annotated = self.copy.as_ref().map(AnnotatedCopy::target);
        files::ready(&report.into_iter().chain(json).chain(annotated).chain(copies).collect::<Vec<_>>())
    }

    /// Writes report, JSON and copies of `inputs` with the proposed breaks, all or none.
    pub fn write(&self, checked: &Checked, inputs: &[Input<'_>], pages: Option<&[u8]>) -> Result<(), Failure> {
        let copies = self.breaks.as_ref().map(|breaks| breaks.copies(inputs, checked)).transpose()?;
        let copies = copies.unwrap_or_default();
        let annotated = self.copy.as_ref().map(|copy| copy.write(checked, pages, self.extent)).transpose()?;
        let drawn = self.report.is_some().then(|| pages::write(checked, self.extent)).transpose();
        let drawn = drawn.map_err(|error| Trouble::new(format!("the report cannot be drawn: {error}")))?;
        let write_pages = |out: &mut dyn Write| out.write_all(drawn.as_deref().unwrap_or_default());
        let write_json = |out: &mut dyn Write| report::json(checked, out);
        let report = self.report.as_deref().map(|path| Output { path, fill: &write_pages });
        let json = self.json.file().map(|path| Output { path, fill: &write_json });
        let fills: Vec<_> = copies.iter().map(|copy| move |out: &mut dyn Write| out.write_all(copy)).collect();
        let copies = self.copies().zip(&fills).map(|(path, fill)| Output { path, fill });
        let write_notes = |out: &mut dyn Write| out.write_all(annotated.as_deref().unwrap_or_default());
        let noted = self.copy.as_ref().map(|copy| Output { path: &copy.path, fill: &write_notes });
        files::write(&report.into_iter().chain(json).chain(noted).chain(copies).collect::<Vec<_>>())
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(&self, checked: &Checked) -> Result<(), Failure> {
        if let Json::StandardOutput = self.json {
            terminal::tell(&self.summary(checked, terminal::look(&io::stderr())));
            terminal::print_with(|out| report::json(checked, out))?;
        } else {
            terminal::print(self.summary(checked, terminal::look(&io::stdout())).as_bytes())?;
        }
        Ok(())
    }

    /// Places of the copies.
    fn copies(&self) -> impl Iterator<Item = &Path> {
        self.breaks.iter().flat_map(|breaks| &breaks.paths).map(PathBuf::as_path)
    }

    fn summary(&self, checked: &Checked, look: Look) -> String {
        let written = self.report.as_deref().into_iter().chain(self.json.file());
        let written = written.chain(self.copy.as_ref().map(|copy| copy.path.as_path())).chain(self.copies());
        let summary =
            Summary { look, extent: self.extent, written: written.map(|path| path.display().to_string()).collect() };
        let mut words = summary.words(checked);
        if self.breaks.is_some() && self.other_sheet {
            words
                .push_str("The copy has the proposed breaks only: set its paper, margins and staff height yourself.\n");
        }
        words
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
