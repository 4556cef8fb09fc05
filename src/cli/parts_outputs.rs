//! Where the report, the JSON and the summary of the parts go.

use std::io::Write;
use std::path::Path;

use rastrum::check::PartsChecked;
use rastrum::read::Input;
use rastrum::report;
use rastrum::report::terminal::Look;

use super::args::PartsArgs;
use super::exit::Failure;
use super::files::Output;
use super::outputs::{Outputs, Written};
use super::part_files::PartFiles;

/// The outputs of one run.
#[derive(Debug)]
pub struct PartsOutputs {
    own: Outputs,
    parts: Option<PartFiles>,
}

impl PartsOutputs {
    /// As asked for; when nothing was asked for, a report beside the (first) score.
    pub fn of(args: &PartsArgs, score: &Path) -> PartsOutputs {
        let own = Outputs::of(args.report.as_deref(), args.json.as_deref(), score, "parts");
        PartsOutputs { own, parts: args.write_breaks.as_deref().map(PartFiles::of) }
    }

    /// Fails before any work is done when something stands in the way.
    pub fn ready(&self) -> Result<(), Failure> {
        self.parts.as_ref().map_or(Ok(()), PartFiles::ready)?;
        self.own.ready([])
    }

    /// Writes report, JSON and parts, all or none.
    pub fn write(&self, inputs: &[Input<'_>], checked: &PartsChecked) -> Result<(), Failure> {
        let pdf = || report::parts::pdf(checked);
        let written = Written { pdf: &pdf, json: &|out| report::parts::json(checked, out) };
        let Some(folder) = &self.parts else { return self.own.write(&written, Vec::new()) };
        let parts = folder.parts(inputs, checked)?;
        let fills: Vec<_> = parts.iter().map(|part| |out: &mut dyn Write| out.write_all(&part.bytes)).collect();
        let parts = parts.iter().zip(&fills).map(|(part, fill)| Output { path: &part.path, fill });
        folder.with_folder(|| self.own.write(&written, parts.collect()))
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(&self, checked: &PartsChecked) -> Result<(), Failure> {
        self.own.summarise(&|out| report::parts::json(checked, out), |look| self.summary(checked, look))
    }

    fn summary(&self, checked: &PartsChecked, look: Look) -> String {
        let folder = self.parts.iter().map(|parts| parts.folder.display().to_string());
        report::parts::terminal(checked, look, &self.own.names().into_iter().chain(folder).collect::<Vec<_>>())
    }
}
