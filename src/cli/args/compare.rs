//! What can be said of drafts.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use rastrum::rules::Weight;

use super::{Bound, HouseArgs, PagesArgs, Starts, printed_pages};

#[derive(Debug, Default, Args)]
pub struct CompareArgs {
    /// Drafts from the oldest to the newest, each a MusicXML file, or a folder with the movements of a score and, if you have
    /// them, files of its parts. The first is held against the last. Two PDFs are compared as pages alone
    #[arg(required = true, num_args = 2.., value_name = "OLD NEW")]
    pub drafts: Vec<PathBuf>,

    /// Printed pages of the old score, as in score.pdf, or of a part, as in "Violin 1=violin-1.pdf"; may be said again for
    /// others
    #[arg(long, value_name = "[NAME=]PAGES.pdf", value_parser = printed_pages)]
    pub old_pages: Vec<(Option<String>, PathBuf)>,

    /// The same of the new score and its parts
    #[arg(long, value_name = "[NAME=]PAGES.pdf", value_parser = printed_pages)]
    pub new_pages: Vec<(Option<String>, PathBuf)>,

    /// Files of parts of the old draft, as they lie on the stands: a folder or a file; may be said again for others
    #[arg(long, value_name = "FOLDER|PART")]
    pub old_parts: Vec<PathBuf>,

    /// The same of the new draft
    #[arg(long, value_name = "FOLDER|PART")]
    pub new_parts: Vec<PathBuf>,

    /// Keep every page that can be kept: cast off only what changed, between pages that stay as they were
    #[arg(long)]
    pub keep_pages: bool,

    /// Where to write the report [default: NAME-compare.pdf beside the new draft]
    #[arg(long, value_name = "REPORT.pdf")]
    pub report: Option<PathBuf>,

    /// Write everything that was found as JSON; - writes it to standard output
    #[arg(long, value_name = "REPORT.json")]
    pub json: Option<PathBuf>,

    #[command(flatten)]
    pub pages: PagesArgs,

    /// A list (TOML) of which staves make which part, where the score does not tell
    #[arg(long, value_name = "LIST.toml")]
    pub list: Option<PathBuf>,

    /// How the sheets of parts hang together: booklet, cover, loose, taped, tablet
    #[arg(long, value_name = "HOW", default_value = "booklet", hide_possible_values = true)]
    pub bound: Bound,

    /// The side that parts begin on [default: whichever makes better turns]
    #[arg(long, value_name = "left|right", hide_possible_values = true)]
    pub starts: Option<Starts>,

    #[command(flatten)]
    pub house: HouseArgs,

    /// Exit with 1 when the new draft has new findings of this weight or more: worse (those to be mended), stop, mend, look
    #[arg(long, value_name = "WEIGHT", default_value = "worse", hide_possible_values = true)]
    pub fail_on: FailOnNew,

    /// Tell every line of the errata slip and every new finding
    #[arg(long)]
    pub full: bool,

    /// Print the CPU seconds of each stage as JSON on standard error
    #[arg(long)]
    pub timings: bool,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum FailOnNew {
    /// What is to be mended before the concert
    #[default]
    Worse,
    Stop,
    Mend,
    Look,
}

impl FailOnNew {
    #[must_use]
    pub fn weight(self) -> Weight {
        match self {
            FailOnNew::Stop => Weight::Stop,
            FailOnNew::Worse | FailOnNew::Mend => Weight::Mend,
            FailOnNew::Look => Weight::Look,
        }
    }
}
