//! Where the report, the JSON, the copies and the summary of a check go.

use std::io::Write;
use std::path::{Path, PathBuf};

use rastrum::check::Checked;
use rastrum::read::Input;
use rastrum::report;
use rastrum::report::pages::{self, Extent};
use rastrum::report::terminal::{Look, Summary};

use super::annotated::AnnotatedCopy;
use super::args::CheckArgs;
use super::breaks::Breaks;
use super::exit::Failure;
use super::files::{Output, Target};
use super::outputs::{Outputs, Written};

/// The outputs of one check.
#[derive(Debug)]
pub struct CheckOutputs {
    own: Outputs,
    breaks: Option<Breaks>,
    copy: Option<AnnotatedCopy>,
    /// Pages are proposed for other paper or staves than the file's.
    other_sheet: bool,
    extent: Extent,
}

impl CheckOutputs {
    /// As asked for; when nothing was asked for, a report beside the (first) score.
    pub fn of(args: &CheckArgs, score: &Path) -> Result<CheckOutputs, Failure> {
        let pages = &args.pages;
        Ok(CheckOutputs {
            own: Outputs::of(args.report.as_deref(), args.json.as_deref(), score, "check"),
            breaks: args.write_breaks.as_deref().map(|out| Breaks::of(out, args.scores.len())).transpose()?,
            copy: AnnotatedCopy::of(args)?,
            other_sheet: pages.paper.is_some() || pages.margins.is_some() || pages.staff.is_some(),
            extent: if args.full { Extent::Full } else { Extent::Short },
        })
    }

    /// Fails before any work is done when something stands in the way.
    pub fn ready(&self) -> Result<(), Failure> {
        self.breaks.as_ref().map_or(Ok(()), Breaks::ready)?;
        let copies = self.copies().map(|path| Target { path, may_replace: |_| false });
        self.own.ready(self.copy.as_ref().map(AnnotatedCopy::target).into_iter().chain(copies))
    }

    /// Writes report, JSON and copies of `inputs` with the proposed breaks, all or none.
    pub fn write(&self, checked: &Checked, inputs: &[Input<'_>], pages: Option<&[u8]>) -> Result<(), Failure> {
        let copies = self.breaks.as_ref().map(|breaks| breaks.copies(inputs, checked)).transpose()?;
        let copies = copies.unwrap_or_default();
        let annotated = self.copy.as_ref().map(|copy| copy.write(checked, pages, self.extent)).transpose()?;
        let fills: Vec<_> = copies.iter().map(|copy| move |out: &mut dyn Write| out.write_all(copy)).collect();
        let copies = self.copies().zip(&fills).map(|(path, fill)| Output { path, fill });
        let write_notes = |out: &mut dyn Write| out.write_all(annotated.as_deref().unwrap_or_default());
        let noted = self.copy.as_ref().map(|copy| Output { path: &copy.path, fill: &write_notes });
        let pdf = || pages::write(checked, self.extent);
        let written = Written { pdf: &pdf, json: &|out| report::json(checked, out) };
        self.own.write(&written, noted.into_iter().chain(copies).collect())
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(&self, checked: &Checked) -> Result<(), Failure> {
        self.own.summarise(&|out| report::json(checked, out), |look| self.summary(checked, look))
    }

    /// Places of the copies.
    fn copies(&self) -> impl Iterator<Item = &Path> {
        self.breaks.iter().flat_map(|breaks| &breaks.paths).map(PathBuf::as_path)
    }

    fn summary(&self, checked: &Checked, look: Look) -> String {
        let copies = self.copy.as_ref().map(|copy| copy.path.as_path()).into_iter().chain(self.copies());
        let written = self.own.paths().chain(copies).map(|path| path.display().to_string()).collect();
        let mut words = Summary { look, extent: self.extent, written }.words(checked);
        if self.breaks.is_some() && self.other_sheet {
            words
                .push_str("The copy has the proposed breaks only: set its paper, margins and staff height yourself.\n");
        }
        words
    }
}
