//! The one entry: files and options in, everything that was found out. Never touches files, clock or environment.

use crate::accepted::{self, Entry, Lapse};
use crate::casting_off::{self, Basis, ExpectedErrors, House, Proposal, Sheet, WhatIf};
use crate::engraved;
use crate::guidelines::{Guidelines, Request};
use crate::layout::Layout;
use crate::limits::Limits;
use crate::metrics::Metrics;
use crate::paper::Paper;
use crate::read::{self, Input, Reading, SourceInfo};
use crate::reference::{Difference, Reference, differences};
use crate::remarks::Remark;
use crate::rules::Finding;
use crate::score::Score;
use crate::survey::Survey;
use crate::units::Seconds;

mod drafts;
mod error;
mod footing;
mod looked;
mod parts;
mod printed;
mod proof;
mod stage;

use footing::{Footing, Wanted};
use looked::{Looked, Pages};
use printed::Measured;

pub use drafts::{
    Compared, Draft, DraftFiles, DraftsOptions, PagesOnly, PlayerPair, Reader, ReaderTurns, Replacement, Reprint,
    ReprintKind, TrendRow, drafts,
};
pub use error::CheckError;
pub use footing::Asked;
pub use parts::{
    PartChecked, PartsChecked, PartsListFile, PartsOptions, RecordedPart, SetAside, SheetChecked, Turned, parts,
};
pub use printed::{PagesFile, Printed};
pub use proof::{PartFile, PrintedProof, ProofOptions, Proofed, ProofedPart, Verdict, proof};
pub use stage::{Stage, Unwatched, Watch};

/// What a score is held against.
#[derive(Clone, Debug, Default)]
pub struct Options {
    pub guidelines: Request,
    /// Paper that it will be printed on, by name or size.
    pub print_on: Option<String>,
    /// The file of accepted findings, when there is one.
    pub accepted: Option<AcceptedFile>,
    /// A layout to say the differences from.
    pub like: Option<Reference>,
    /// Printed pages of the score, to be looked at in place of those that its files record.
    pub pages: Option<PagesFile>,
    pub asked: Asked,
    pub limits: Limits,
}

/// Findings accepted before, as their file has them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AcceptedFile {
    /// As messages shall name it.
    pub name: String,
    pub text: String,
}

/// Everything that was found.
#[derive(Clone, Debug)]
pub struct Checked {
    /// The input files, in order of movements.
    pub sources: Vec<SourceInfo>,
    pub score: Score,
    /// How high and how wide its music is.
    pub metrics: Metrics,
    pub layout: Layout,
    /// The pages are printed ones, measured; `None` where they are the files' own or a forecast.
    pub printed: Option<Printed>,
    /// The pages are a forecast, not the files' own.
    pub is_forecast: bool,
    /// How far such forecasts were off; `None` of the files' own pages.
    pub expected: Option<ExpectedErrors>,
    /// What the casting off rests on.
    pub house: House,
    /// Pages that would be better; `None` where there is no music or no room for it.
    pub proposal: Option<Proposal>,
    /// Other papers and staff heights, where asked for.
    pub what_if: Option<WhatIf>,
    pub survey: Survey,
    /// What to mend first comes first; the first is number 1 wherever findings are numbered.
    pub findings: Vec<Finding>,
    /// Found as well, but accepted before, each with the entry that says so.
    pub accepted: Vec<(Finding, Entry)>,
    /// Entries that accept nothing any more.
    pub lapsed: Vec<(Entry, Lapse)>,
    /// Rules that ran.
    pub ran: Vec<&'static str>,
    /// Rules that the files tell too little for, with what they would need, in words.
    pub could_not_run: Vec<(&'static str, String)>,
    /// Oddities of the files.
    pub remarks: Vec<Remark>,
    /// What it was held against.
    pub guidelines: Guidelines,
    pub print_on: Option<Paper>,
    /// How the layout that was named is set otherwise; `None` when none was.
    pub like: Option<Vec<Difference>>,
    /// That layout itself.
    pub named: Option<Reference>,
}

impl Checked {
    /// The line of forces as the house writes it, with the length of the work when `duration` is given.
    #[must_use]
    pub fn forces(&self, duration: Option<Seconds>) -> String {
        self.survey.forces.line(self.guidelines.house().forces_style.value, duration)
    }
}

/// Reads the movements of one work, finds its pages, and holds them against the guidelines.
///
/// # Errors
/// Everything that keeps it from working: options and files alike.
pub fn check(inputs: &[Input<'_>], options: &Options, watch: &mut dyn Watch) -> Result<Checked, Vec<CheckError>> {
    let against = Against::of(options);
    watch.begins(Stage::Reading);
    let reading = read_all(inputs, options);
    let (against, (reading, measured)) = match (against, reading) {
        (Ok(against), Ok(reading)) => (against, reading),
        (against, reading) => {
            let mut errors = against.err().unwrap_or_default();
            errors.extend(reading.err().into_iter().flatten());
            return Err(errors);
        }
    };
    against.judge(reading, measured, watch).map_err(|error| vec![error])
}

/// The music and its printed pages, where there are any; of a PDF alone what its pages tell of the music.
fn read_all(inputs: &[Input<'_>], options: &Options) -> Result<(Reading, Option<Measured>), Vec<CheckError>> {
    if let Some(pdf) = printed::alone(inputs) {
        let (score, measured, source) = printed::without_music(pdf, &options.limits).map_err(|error| vec![error])?;
        let record = printed::record(&measured.layout, &score);
        return Ok((Reading { score, record, remarks: Vec::new(), sources: vec![source] }, Some(measured)));
    }
    if inputs.iter().any(|input| engraved::is_pdf(input.bytes)) {
        return Err(vec![CheckError::PagesAmongScores]);
    }
    let in_reading = |errors: Vec<read::ReadError>| errors.into_iter().map(CheckError::Read).collect::<Vec<_>>();
    let mut reading = read::read(inputs, &options.limits).map_err(in_reading)?;
    let Some(file) = &options.pages else { return Ok((reading, None)) };
    let measured = printed::with_music(file, &reading.score, &options.limits).map_err(|error| vec![error])?;
    reading.record = printed::record(&measured.layout, &reading.score);
    Ok((reading, Some(measured)))
}

/// What a file of accepted findings says; nothing where there is none.
fn accepted(file: Option<&AcceptedFile>) -> Result<Vec<Entry>, Vec<CheckError>> {
    let Some(file) = file else { return Ok(Vec::new()) };
    let in_file = |error| CheckError::Accepted { file: file.name.clone(), error };
    accepted::parse(&file.text).map_err(|wrong| wrong.into_iter().map(in_file).collect())
}

/// The options, understood.
struct Against<'a> {
    guidelines: Guidelines,
    like: Option<&'a Reference>,
    print_on: Option<Paper>,
    accepted: Vec<Entry>,
    asked: Asked,
    sheet: Sheet,
}

impl<'a> Against<'a> {
    fn of(options: &'a Options) -> Result<Against<'a>, Vec<CheckError>> {
        let mut errors = Vec::new();
        let guidelines = Guidelines::load(&options.guidelines)
            .map_err(|wrong| errors.extend(wrong.0.into_iter().map(CheckError::Guidelines)));
        let print_on = options.print_on.as_deref().and_then(|name| {
            let paper = Paper::find(name);
            if paper.is_none() {
                errors.push(CheckError::UnknownPaper(name.to_owned()));
            }
            paper
        });
        let accepted = accepted(options.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
        let asked = options.asked.clone();
        let sheet = asked.sheet().map_err(|wrong| errors.extend(wrong));
        match (guidelines, accepted, sheet) {
            (Ok(guidelines), Ok(accepted), Ok(sheet)) if errors.is_empty() => {
                Ok(Against { guidelines, like: options.like.as_ref(), print_on, accepted, asked, sheet })
            }
            _ => Err(errors),
        }
    }

    fn judge(self, reading: Reading, measured: Option<Measured>, watch: &mut dyn Watch) -> Result<Checked, CheckError> {
        let Reading { score, record, remarks, sources } = reading;
        watch.begins(Stage::CastingOff);
        let metrics = Metrics::of(&score);
        let house = footing::house(self.guidelines.house());
        let wanted = Wanted { like: self.like, asked: &self.asked, sheet: &self.sheet };
        let (pages, printed) = measured.map(|own| (own.layout, own.printed)).unzip();
        let Footing { layout, record, house, filling, is_forecast, expected } =
            Footing::find(&score, &metrics, record, house, &wanted, pages)?;
        watch.begins(Stage::Comparing);
        let filled = Basis { score: &score, metrics: &metrics, record: &record, pages: &layout, house: &filling };
        let what_if = (self.asked.what_if && !score.is_unseen())
            .then(|| casting_off::what_if(&filled, &self.guidelines.house().score_papers.value));
        let print_on = self.print_on.or_else(|| self.guidelines.house().print_scores_on.value.clone());
        let pages = Pages {
            score: &score,
            metrics: &metrics,
            record: &record,
            layout: &layout,
            house: &house,
            fit: printed.as_ref().and_then(|printed| printed.fit.as_ref()),
            guidelines: &self.guidelines,
            print_on: print_on.as_ref(),
            accepted: &self.accepted,
        };
        let Looked { survey, proposal, findings, accepted, lapsed, ran, could_not_run } = pages.look(watch);
        let like = self.like.map(|theirs| {
            let yours = Reference::of(&score, &layout, &survey, &metrics.spacing, "");
            differences(theirs, &yours)
        });
        let (named, guidelines) = (self.like.cloned(), self.guidelines);
        Ok(Checked {
            sources,
            score,
            metrics,
            layout,
            printed,
            is_forecast,
            expected,
            house,
            proposal,
            what_if,
            survey,
            findings,
            accepted,
            lapsed,
            ran,
            could_not_run,
            remarks,
            guidelines,
            print_on,
            like,
            named,
        })
    }
}

#[cfg(test)]
mod tests;
