//! The score by itself, before parts are made from it.

use super::Against;
use crate::accepted;
use crate::casting_off::{self, House};
use crate::layout::Record;
use crate::metrics::Metrics;
use crate::rules::{self, Case, Finding};
use crate::score::Score;
use crate::survey;

/// What parts would inherit from the score, but for what may stay.
pub(super) fn findings(score: &Score, record: &Record, against: &Against) -> Vec<Finding> {
    let metrics = Metrics::of(score);
    let layout = casting_off::pages(score, &metrics, record, &House::default());
    let survey = survey::survey(score, &layout, &metrics.extents);
    let case = Case { score, layout: &layout, survey: &survey, proposal: None, part: None, fit: None, print_on: None };
    let judged = rules::judge_music(&case, &against.guidelines);
    accepted::apply(judged.findings, &against.may_stay, score).kept
}
