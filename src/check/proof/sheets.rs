//! The sheets themselves: turns, staff height, margins as recorded.

use super::matched::Part;
use super::{Against, PartFile};
use crate::check::parts::files::PartFiles;
use crate::check::parts::one::Whole;
use crate::check::parts::options::Stands;
use crate::check::{PartsOptions, SetAside, SheetChecked};
use crate::players::Player;
use crate::read::{self, Input};
use crate::score::Score;

/// What judging the pages of parts needs.
pub(super) struct Sheets<'a> {
    whole: Whole<'a>,
    stands: &'a Stands,
    inputs: &'a [Input<'a>],
    parts: &'a [Part],
    options: &'a PartsOptions,
}

/// Rules that say of a part what the proof has said better.
const SAID: [&str; 4] =
    ["cue-not-what-is-played", "cue-ends-too-soon", "multi-bar-rest-not-split", "parts-of-unequal-length"];

impl<'a> Sheets<'a> {
    pub fn of(
        score: &'a Score,
        against: &'a Against,
        inputs: &'a [Input<'a>],
        parts: &'a [Part],
        options: &'a PartsOptions,
    ) -> Sheets<'a> {
        let whole = Whole::of(score, &against.guidelines, &against.accepted);
        Sheets { whole, stands: &against.stands, inputs, parts, options }
    }

    /// The pages of a player's files; `None` where there are no files.
    pub fn judge(
        &self,
        player: &Player,
        files: &[PartFile],
        numbers: &[usize],
    ) -> Option<Result<SheetChecked, SetAside>> {
        if files.is_empty() {
            return None;
        }
        let names: Vec<String> = files.iter().map(|file| file.name.clone()).collect();
        let alone = numbers.first().filter(|_| numbers.len() == 1);
        let own = match alone.and_then(|number| self.parts.iter().find(|part| part.input == *number)) {
            Some(part) => PartFiles { names, score: part.score.clone(), record: part.record.clone() },
            // Movements are one part only when they are read together.
            None => {
                let inputs = numbers.iter().filter_map(|number| self.inputs.get(*number).copied());
                let reading = read::read(&inputs.collect::<Vec<_>>(), &self.options.limits).ok()?;
                PartFiles { names, score: reading.score, record: reading.record }
            }
        };
        let mut sheet = if own.score.bars.len() == self.whole.bars() {
            self.whole.sheet(player, self.stands, own)
        } else {
            // Some bars or movements are not there: its pages are judged for themselves.
            let music = own.score.clone();
            self.whole.of_other(&music).sheet(player, self.stands, own)
        };
        if let Ok(sheet) = &mut sheet {
            sheet.findings.retain(|finding| !SAID.contains(&finding.rule));
        }
        Some(sheet)
    }
}
