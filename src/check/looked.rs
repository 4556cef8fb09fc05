//! What is found on the pages of a score, however they were come by.

use super::{Checked, Stage, Unwatched, Watch};
use crate::accepted::{self, Applied, Entry, Lapse};
use crate::casting_off::{self, Basis, ExpectedErrors, House, Proposal, Wishes};
use crate::guidelines::Guidelines;
use crate::join::Fit;
use crate::layout::{Layout, Record};
use crate::metrics::Metrics;
use crate::paper::Paper;
use crate::rules::{self, Case, Finding, Judged, PrintOn};
use crate::score::Score;
use crate::survey::{self, Survey};

/// Pages, and all that they are held against.
pub(super) struct Pages<'a> {
    pub score: &'a Score,
    pub metrics: &'a Metrics,
    pub record: &'a Record,
    pub layout: &'a Layout,
    /// What better pages rest on.
    pub house: &'a House,
    /// How they fit the music, where they are printed ones.
    pub fit: Option<&'a Fit>,
    pub guidelines: &'a Guidelines,
    pub print_on: Option<&'a Paper>,
    pub accepted: &'a [Entry],
}

/// What was found.
pub(super) struct Looked {
    pub survey: Survey,
    pub proposal: Option<Proposal>,
    pub findings: Vec<Finding>,
    pub accepted: Vec<(Finding, Entry)>,
    pub lapsed: Vec<(Entry, Lapse)>,
    pub ran: Vec<&'static str>,
    pub could_not_run: Vec<(&'static str, String)>,
}

impl Pages<'_> {
    pub fn look(&self, watch: &mut dyn Watch) -> Looked {
        let Pages { score, metrics, record, layout, house, fit, guidelines, print_on, accepted } = *self;
        watch.begins(Stage::Surveying);
        let survey = survey::survey(score, layout, &metrics.extents);
        watch.begins(Stage::Proposing);
        let basis = Basis { score, metrics, record, pages: layout, house };
        // Of pages alone nobody knows the music that others would have to hold.
        let proposal = (!score.is_unseen()).then(|| casting_off::propose(&basis, &Wishes::default())).flatten();
        watch.begins(Stage::Judging);
        let print_on = print_on.map(|paper| PrintOn { name: &paper.name, size: (paper.width, paper.height) });
        let case = Case { score, layout, survey: &survey, proposal: proposal.as_ref(), part: None, fit, print_on };
        let Judged { findings, ran, could_not_run, .. } = rules::judge(&case, guidelines);
        let Applied { kept: findings, accepted, lapsed } = accepted::apply(findings, accepted, score);
        Looked { survey, proposal, findings, accepted, lapsed, ran, could_not_run }
    }
}

impl Checked {
    /// The same music on other pages, which nothing records; `house` is what they are set by.
    pub(super) fn on_other_pages(self, layout: Layout, house: House, accepted: &[Entry]) -> Checked {
        let pages = Pages {
            score: &self.score,
            metrics: &self.metrics,
            record: &Record::default(),
            layout: &layout,
            house: &house,
            fit: None,
            guidelines: &self.guidelines,
            print_on: self.print_on.as_ref(),
            accepted,
        };
        let Looked { survey, proposal, findings, accepted, lapsed, ran, could_not_run } = pages.look(&mut Unwatched);
        Checked {
            layout,
            house,
            printed: None,
            is_forecast: true,
            expected: ExpectedErrors::of_forecast(true),
            survey,
            proposal,
            findings,
            accepted,
            lapsed,
            ran,
            could_not_run,
            ..self
        }
    }
}
