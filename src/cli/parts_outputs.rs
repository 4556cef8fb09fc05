//! Where the report, the JSON and the summary of the parts go.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use rastrum::check::PartsChecked;
use rastrum::read::Input;
use rastrum::report;
use rastrum::report::terminal::Look;

use super::args::PartsArgs;
use super::exit::{Failure, Trouble};
use super::files::{self, Output, Target};
use super::part_files::PartFiles;
use super::terminal;

/// The outputs of one run.
#[derive(Debug)]
pub struct PartsOutputs {
    report: Option<PathBuf>,
    json: Option<PathBuf>,
    /// The JSON goes to standard output.
    json_out: bool,
    parts: Option<PartFiles>,
}

impl PartsOutputs {
    /// As asked for; when nothing was asked for, a report beside the (first) score.
    pub fn of(args: &PartsArgs, score: &Path) -> PartsOutputs {
        let json_out = args.json.as_deref().is_some_and(|path| path.as_os_str() == "-");
        let report = match &args.report {
            None if args.json.is_none() => Some(files::beside(score, "parts")),
            report => report.clone(),
        };
        let json = args.json.clone().filter(|_| !json_out);
        PartsOutputs { report, json, json_out, parts: args.write_breaks.as_deref().map(PartFiles::of) }
    }

    /// Fails before any work is done when something stands in the way.
    pub fn ready(&self) -> Result<(), Failure> {
        files::no_report_on_standard_output(self.report.as_deref())?;
        if let Some(parts) = &self.parts {
            parts.ready()?;
        }
        let report = self.report.as_deref().map(|path| Target { path, may_replace: report::wrote_pdf });
        let json = self.json.as_deref().map(|path| Target { path, may_replace: report::wrote_json });
        files::ready(&report.into_iter().chain(json).collect::<Vec<_>>())
    }

    /// Writes report, JSON and parts, all or none.
    pub fn write(&self, inputs: &[Input<'_>], checked: &PartsChecked) -> Result<(), Failure> {
        let drawn = self.report.is_some().then(|| report::parts::pdf(checked)).transpose();
        let drawn = drawn.map_err(|error| Trouble::new(format!("the report cannot be drawn: {error}")))?;
        let write_pages = |out: &mut dyn Write| out.write_all(drawn.as_deref().unwrap_or_default());
        let write_json = |out: &mut dyn Write| report::parts::json(checked, out);
        let report = self.report.as_deref().map(|path| Output { path, fill: &write_pages });
        let json = self.json.as_deref().map(|path| Output { path, fill: &write_json });
        let Some(folder) = &self.parts else {
            return files::write(&report.into_iter().chain(json).collect::<Vec<_>>());
        };
        let parts = folder.parts(inputs, checked)?;
        let fills: Vec<_> = parts.iter().map(|part| |out: &mut dyn Write| out.write_all(&part.bytes)).collect();
        let parts = parts.iter().zip(&fills).map(|(part, fill)| Output { path: &part.path, fill });
        let all: Vec<Output<'_>> = report.into_iter().chain(json).chain(parts).collect();
        folder.with_folder(|| files::write(&all))
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(&self, checked: &PartsChecked) -> Result<(), Failure> {
        if self.json_out {
            terminal::tell(&self.summary(checked, terminal::look(&io::stderr())));
            terminal::print_with(|out| report::parts::json(checked, out))?;
        } else {
            terminal::print(self.summary(checked, terminal::look(&io::stdout())).as_bytes())?;
        }
        Ok(())
    }

    fn summary(&self, checked: &PartsChecked, look: Look) -> String {
        let written = [&self.report, &self.json].into_iter().flatten().map(|path| path.display().to_string());
        let folder = self.parts.iter().map(|parts| parts.folder.display().to_string());
        report::parts::terminal(checked, look, &written.chain(folder).collect::<Vec<_>>())
    }
}
