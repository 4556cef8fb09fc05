//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use rastrum::casting_off::Staves;
use rastrum::casting_off::part::Binding;
use rastrum::check::Asked;
use rastrum::layout::Side;
use rastrum::rules::Weight;
use rastrum::units::Mm;

mod compare;

pub use compare::CompareArgs;

/// Tells, before anything is printed, whether a conductor can follow the score.
///
/// Reads a score as MusicXML, holds its pages against engraving guidelines, and writes a report that shows
/// what to mend first and where. `rastrum SCORE` alone checks a score; `rastrum demo` shows it on an example.
#[derive(Debug, Parser)]
#[command(name = "rastrum", version, max_term_width = 80)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true, arg_required_else_help = true)]
#[command(after_help = "Exit code 0: nothing to mend; 1: something to mend; 2: could not work.\n\
    Guidelines are advice: your house sheet, your librarian and your players come first.")]
pub struct Cli {
    #[command(subcommand)]
    pub command: Option<Command>,
    #[command(flatten)]
    pub check: CheckArgs,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write an example score and check it
    Demo(DemoArgs),
    /// Check a score; several files are the movements of one work
    Check(CheckArgs),
    /// Lay out the players' parts: turns where hands are free, and each part from end to end
    Parts(PartsArgs),
    /// Hold parts against their score, bar by bar; without parts, look through the score alone
    Proof(ProofArgs),
    /// Hold two drafts against each other: what changed, and which sheets must be printed again
    Compare(CompareArgs),
    /// Let findings stand: they do not come back until their music changes
    Accept(AcceptArgs),
    /// Measure how a score, or an engraved PDF, is set and write it as a reference layout
    Measure(MeasureArgs),
    /// List the rules, or show one with its limits and their sources
    Rules(RulesArgs),
    /// Print the JSON schema of what --json writes
    Schema(SchemaArgs),
    /// Print completions for a shell
    Completions { shell: Shell },
    /// Print the manual page
    Man,
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Folder to write it into; made when it does not exist
    #[arg(default_value = "lantern-ferry")]
    pub folder: PathBuf,
}

#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which command's
    #[arg(value_enum, default_value = "check")]
    pub of: SchemaOf,
}

/// The commands that write JSON of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    Check,
    Parts,
    Proof,
    Compare,
}

#[derive(Debug, Default, Args)]
pub struct CheckArgs {
    /// MusicXML files (.mxl, .musicxml, .xml), movements in order, or an outline (.toml); - reads standard input. A
    /// PDF alone is looked at without music
    #[arg(required = true, value_name = "SCORE|PAGES.pdf")]
    pub scores: Vec<PathBuf>,
    /// The printed pages of the score: they are measured, matched with the music bar by bar, and checked in place of
    /// those that the files record
    #[arg(long = "pages", value_name = "PAGES.pdf")]
    pub printed: Option<PathBuf>,
    /// Write a copy of the printed pages with the findings on them as notes
    #[arg(long, value_name = "OUT.pdf")]
    pub annotate: Option<PathBuf>,
    /// Append so many of the report's first sheets to that copy
    #[arg(long, value_name = "N", requires = "annotate", default_value_t = 0, hide_default_value = true)]
    pub sheets: usize,
    /// Where to write the report [default: NAME-check.pdf beside the score]
    #[arg(long, value_name = "REPORT.pdf")]
    pub report: Option<PathBuf>,
    /// Write everything that was found as JSON; - writes it to standard output
    #[arg(long, value_name = "REPORT.json")]
    pub json: Option<PathBuf>,
    /// Write a copy of the score in which systems and pages begin as proposed, and nothing else is changed; OUT-1,
    /// OUT-2 ... when the score is several files
    #[arg(long, value_name = "OUT.musicxml|.mxl")]
    pub write_breaks: Option<PathBuf>,
    /// Say in words how a reference layout (by name or file), another score, or the PDF of one is set otherwise; forecast
    /// and proposed pages are spaced as it is
    #[arg(long, value_name = "NAME|FILE")]
    pub like: Option<PathBuf>,
    #[command(flatten)]
    pub pages: PagesArgs,
    #[command(flatten)]
    pub house: HouseArgs,
    /// Exit with 1 when something of this weight or more is found: stop, mend, look
    #[arg(long, value_name = "WEIGHT", default_value = "mend", hide_possible_values = true)]
    pub fail_on: FailOn,
    /// Show every finding, lesser ones too
    #[arg(long)]
    pub full: bool,
    /// Print the CPU seconds of each stage as JSON on standard error
    #[arg(long)]
    pub timings: bool,
}

/// Pages other than those that the files record.
#[derive(Debug, Default, Args)]
#[command(next_help_heading = "Other pages")]
pub struct PagesArgs {
    /// Forget the recorded breaks: the pages that automatic layout will make
    #[arg(long)]
    pub forecast: bool,
    /// As --forecast, but with the systems that are recorded
    #[arg(long)]
    pub keep_systems: bool,
    /// Forecast them on this paper, as in A3, "JIS B4" or "9 x 12 in"
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Forecast them with these margins on all sides, as in 15mm
    #[arg(long, value_name = "WIDTH", value_parser = millimetres)]
    pub margins: Option<Mm>,
    /// Forecast them with staves of this height, as in 4.5mm
    #[arg(long, value_name = "HEIGHT", value_parser = millimetres)]
    pub staff: Option<Mm>,
    /// Staves shown: full, playing (silent staves are left out) or as-recorded
    #[arg(long, value_name = "WHICH", hide_possible_values = true)]
    pub staves: Option<Shown>,
    /// Show how many pages other papers and staff heights would make
    #[arg(long)]
    pub what_if: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Shown {
    Full,
    Playing,
    AsRecorded,
}

impl From<&PagesArgs> for Asked {
    fn from(args: &PagesArgs) -> Asked {
        Asked {
            forecast: args.forecast,
            keep_systems: args.keep_systems,
            staves: args.staves.map(|shown| match shown {
                Shown::Full => Staves::Full,
                Shown::Playing => Staves::Playing,
                Shown::AsRecorded => Staves::AsRecorded,
            }),
            paper: args.paper.clone(),
            margins: args.margins,
            staff_height: args.staff,
            what_if: args.what_if,
        }
    }
}

/// "4.5mm", "4.5 mm" or "4.5".
fn millimetres(text: &str) -> Result<Mm, String> {
    let number = text.trim().strip_suffix("mm").unwrap_or(text).trim();
    let length = number.parse().ok().filter(|length: &f64| length.is_finite());
    length.map(Mm).ok_or_else(|| "not a length in millimetres, as in 4.5mm".to_owned())
}

#[derive(Debug, Default, Args)]
pub struct PartsArgs {
    /// MusicXML files of the score, movements in order; then, if you have them, files of parts, which are looked at
    /// as they are
    #[arg(required = true, value_name = "SCORE|PART")]
    pub files: Vec<PathBuf>,
    /// Where to write the report [default: NAME-parts.pdf beside the score]
    #[arg(long, value_name = "REPORT.pdf")]
    pub report: Option<PathBuf>,
    /// Write everything that was found as JSON; - writes it to standard output
    #[arg(long, value_name = "REPORT.json")]
    pub json: Option<PathBuf>,
    /// Only this part, by its name or the beginning of it; may be said again for others
    #[arg(long, visible_alias = "only", value_name = "NAME")]
    pub part: Vec<String>,
    /// The printed pages of a part, as in "Violin 1=violin-1.pdf": they are measured, matched with its music and looked
    /// at; may be said again for others
    #[arg(long = "pages", value_name = "NAME=PAGES.pdf", value_parser = printed_part)]
    pub printed: Vec<(String, PathBuf)>,
    /// A list (TOML) of which staves make which part, where the score does not tell
    #[arg(long, value_name = "LIST.toml")]
    pub list: Option<PathBuf>,
    /// Set them like a reference layout (by name or file) or like another part: its paper, margins, staves and spacing,
    /// as far as no other option says otherwise
    #[arg(long, value_name = "NAME|FILE")]
    pub like: Option<PathBuf>,
    /// Write each part as MusicXML with these pages, systems and multi-bar rests into a folder
    #[arg(long, value_name = "FOLDER")]
    pub write_breaks: Option<PathBuf>,
    #[command(flatten)]
    pub house: HouseArgs,
    /// Exit with 1 when something of this weight or more is found: stop, mend, look
    #[arg(long, value_name = "WEIGHT", default_value = "mend", hide_possible_values = true)]
    pub fail_on: FailOn,
    /// Print the CPU seconds of each stage as JSON on standard error
    #[arg(long)]
    pub timings: bool,
    #[command(flatten)]
    pub stand: StandArgs,
}

#[derive(Debug, Default, Args)]
pub struct ProofArgs {
    /// MusicXML files of the score, movements in order; then files of its parts, or folders of them
    #[arg(required = true, value_name = "SCORE|PART")]
    pub files: Vec<PathBuf>,
    /// Where to write the report [default: NAME-proof.pdf beside the score]
    #[arg(long, value_name = "REPORT.pdf")]
    pub report: Option<PathBuf>,
    /// Write everything that was found as JSON; - writes it to standard output
    #[arg(long, value_name = "REPORT.json")]
    pub json: Option<PathBuf>,
    /// Say whose part a file is, as in "part-07.mxl=Horn in F 2"; may be said again for others
    #[arg(long, value_name = "FILE=PART", value_parser = mapping)]
    pub map: Vec<(String, String)>,
    /// Printed pages of the score, as in score.pdf, or of a part, as in "Violin 1=violin-1.pdf": which bars stand on them,
    /// and which do not; may be said again for others
    #[arg(long = "pages", value_name = "[NAME=]PAGES.pdf", value_parser = printed_pages)]
    pub printed: Vec<(Option<String>, PathBuf)>,
    /// Only this part, by its name or the beginning of it; may be said again for others
    #[arg(long, visible_alias = "only", value_name = "NAME")]
    pub part: Vec<String>,
    /// A list (TOML) of which staves make which part, where the score does not tell
    #[arg(long, value_name = "LIST.toml")]
    pub list: Option<PathBuf>,
    #[command(flatten)]
    pub house: HouseArgs,
    /// Exit with 1 when something of this weight or more is found: stop, mend, look
    #[arg(long, value_name = "WEIGHT", default_value = "mend", hide_possible_values = true)]
    pub fail_on: FailOn,
    /// Tell every difference, polish too
    #[arg(long)]
    pub full: bool,
    /// How the sheets hang together: booklet, cover, loose, taped, tablet
    #[arg(long, value_name = "HOW", default_value = "booklet", hide_possible_values = true)]
    pub bound: Bound,
    /// The side that the music begins on [default: whichever makes better turns]
    #[arg(long, value_name = "left|right", hide_possible_values = true)]
    pub starts: Option<Starts>,
    /// Print the CPU seconds of each stage as JSON on standard error
    #[arg(long)]
    pub timings: bool,
}

/// "FILE=PART"; names of files may hold the sign, names of parts do not.
fn mapping(text: &str) -> Result<(String, String), String> {
    let (file, part) = text.rsplit_once('=').ok_or("not a file and a part, as in horn.mxl=\"Horn in F 2\"")?;
    Ok((file.trim().to_owned(), part.trim().to_owned()))
}

/// "NAME=PAGES.pdf"; names of parts do not hold the sign.
fn printed_part(text: &str) -> Result<(String, PathBuf), String> {
    let (part, file) = text.split_once('=').ok_or("not a part and a file, as in \"Violin 1=violin-1.pdf\"")?;
    Ok((part.trim().to_owned(), PathBuf::from(file.trim())))
}

/// The same, or a file alone.
fn printed_pages(text: &str) -> Result<(Option<String>, PathBuf), String> {
    Ok(match printed_part(text) {
        Ok((part, file)) => (Some(part), file),
        Err(_) => (None, PathBuf::from(text)),
    })
}

/// What the parts are printed on, and how they lie on the stand.
#[derive(Debug, Default, Args)]
#[command(next_help_heading = "On the stand")]
pub struct StandArgs {
    /// How the sheets hang together: booklet, cover (a booklet in a cover: music begins on the left), loose (sheets,
    /// three beside each other), taped (a strip, three beside each other), tablet
    #[arg(long, value_name = "HOW", default_value = "booklet", hide_possible_values = true)]
    pub bound: Bound,
    /// The side that the music begins on [default: whichever makes better turns]
    #[arg(long, value_name = "left|right", hide_possible_values = true)]
    pub starts: Option<Starts>,
    /// Their paper, as in "JIS B4" or "10 x 13 in" [default: the house's]
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Their margins on all sides, as in 20mm
    #[arg(long, value_name = "WIDTH", value_parser = millimetres)]
    pub margins: Option<Mm>,
    /// Height of their staves, as in 7.5mm; 9mm with --part is one player's large print
    #[arg(long, value_name = "HEIGHT", value_parser = millimetres)]
    pub staff: Option<Mm>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Bound {
    #[default]
    Booklet,
    Cover,
    Loose,
    Taped,
    Tablet,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Starts {
    Left,
    Right,
}

impl From<Bound> for Binding {
    fn from(bound: Bound) -> Binding {
        match bound {
            Bound::Booklet => Binding::Booklet,
            Bound::Cover => Binding::Cover,
            Bound::Loose => Binding::Loose,
            Bound::Taped => Binding::Taped,
            Bound::Tablet => Binding::Tablet,
        }
    }
}

impl From<Starts> for Side {
    fn from(starts: Starts) -> Side {
        match starts {
            Starts::Left => Side::Verso,
            Starts::Right => Side::Recto,
        }
    }
}

/// What a score is held against.
#[derive(Debug, Default, Args)]
pub struct HouseArgs {
    /// Guideline set to hold it against, by name or as a file (a house sheet)
    #[arg(long = "for", value_name = "SET|FILE")]
    pub guidelines: Option<String>,
    /// Set one limit, as in staff-too-small.score-floor="4.2 mm"
    #[arg(long = "set", value_name = "RULE.LIMIT=VALUE")]
    pub limits: Vec<String>,
    /// Paper that it will be printed on, as in A4, "JIS B4" or "9 x 12 in"
    #[arg(long, value_name = "PAPER")]
    pub print_on: Option<String>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum FailOn {
    /// What stops the rehearsal
    Stop,
    /// What is to be mended before the concert
    #[default]
    Mend,
    /// What is worth a look
    Look,
}

#[derive(Debug, Args)]
pub struct AcceptArgs {
    /// The report that --json wrote
    #[arg(value_name = "REPORT.json")]
    pub report: PathBuf,
    /// Numbers of the findings to accept, as the report numbers them
    #[arg(required = true, value_name = "N")]
    pub numbers: Vec<usize>,
    /// Why they may stay
    #[arg(long, value_name = "TEXT")]
    pub why: String,
    /// Who says so [default: the name you are logged in by]
    #[arg(long, value_name = "WHO")]
    pub by: Option<String>,
    /// The (first) score file, when it does not stand beside the report
    #[arg(long, value_name = "SCORE")]
    pub score: Option<PathBuf>,
    /// As for the check that wrote the report
    #[command(flatten)]
    pub house: HouseArgs,
}

#[derive(Debug, Args)]
pub struct MeasureArgs {
    /// MusicXML files with recorded pages, movements in order, or one PDF of engraved pages
    #[arg(required = true, value_name = "SCORE")]
    pub scores: Vec<PathBuf>,
    /// Where to write the reference layout
    #[arg(short, long, value_name = "NAME.toml")]
    pub output: PathBuf,
    /// Where these pages come from: publisher, edition, who made the file
    #[arg(long, value_name = "TEXT")]
    pub source: String,
}

#[derive(Debug, Args)]
pub struct RulesArgs {
    /// One rule
    pub name: Option<String>,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

impl FailOn {
    #[must_use]
    pub fn weight(self) -> Weight {
        match self {
            FailOn::Stop => Weight::Stop,
            FailOn::Mend => Weight::Mend,
            FailOn::Look => Weight::Look,
        }
    }
}
