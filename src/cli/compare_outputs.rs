//! Where the report, the JSON and the summary of a comparison go.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use rastrum::check::Compared;
use rastrum::report;
use rastrum::report::terminal::Look;

use super::args::CompareArgs;
use super::exit::{Failure, Trouble};
use super::files::{self, Output, Target};
use super::terminal;

/// The outputs of one run.
#[derive(Debug)]
pub struct Outputs {
    report: Option<PathBuf>,
    json: Option<PathBuf>,
    /// The JSON goes to standard output.
    json_out: bool,
}

impl Outputs {
    /// As asked for; when nothing was asked for, a report beside the new draft.
    pub fn of(args: &CompareArgs) -> Outputs {
        let json_out = args.json.as_deref().is_some_and(|path| path.as_os_str() == "-");
        let newest = args.drafts.last().map_or(Path::new("-"), PathBuf::as_path);
        let report = match &args.report {
            None if args.json.is_none() => Some(files::beside(newest, "compare")),
            report => report.clone(),
        };
        Outputs { report, json: args.json.clone().filter(|_| !json_out), json_out }
    }

    /// Fails before any work is done when something stands in the way.
    pub fn ready(&self) -> Result<(), Failure> {
        files::no_report_on_standard_output(self.report.as_deref())?;
        let report = self.report.as_deref().map(|path| Target { path, may_replace: report::wrote_pdf });
        let json = self.json.as_deref().map(|path| Target { path, may_replace: report::wrote_json });
        files::ready(&report.into_iter().chain(json).collect::<Vec<_>>())
    }

    /// Writes report and JSON, both or none.
    pub fn write(&self, compared: &Compared) -> Result<(), Failure> {
        let drawn = self.report.is_some().then(|| report::drafts::pdf(compared)).transpose();
        let drawn = drawn.map_err(|error| Trouble::new(format!("the report cannot be drawn: {error}")))?;
        let write_pages = |out: &mut dyn Write| out.write_all(drawn.as_deref().unwrap_or_default());
        let write_json = |out: &mut dyn Write| report::drafts::json(compared, out);
        let report = self.report.as_deref().map(|path| Output { path, fill: &write_pages });
        let json = self.json.as_deref().map(|path| Output { path, fill: &write_json });
        files::write(&report.into_iter().chain(json).collect::<Vec<_>>())
    }

    /// Says what was found: on standard output, or on standard error when the JSON goes to standard output.
    pub fn summarise(&self, compared: &Compared, full: bool) -> Result<(), Failure> {
        if self.json_out {
            terminal::tell(&self.summary(compared, terminal::look(&io::stderr()), full));
            terminal::print_with(|out| report::drafts::json(compared, out))?;
        } else {
            terminal::print(self.summary(compared, terminal::look(&io::stdout()), full).as_bytes())?;
        }
        Ok(())
    }

    fn summary(&self, compared: &Compared, look: Look, full: bool) -> String {
        let written = [&self.report, &self.json].into_iter().flatten().map(|path| path.display().to_string());
        report::drafts::terminal(compared, look, full, &written.collect::<Vec<_>>())
    }
}
