//! Front pages that leave out what the librarian needs months before.

use crate::guidelines::{Guidelines, Limit, Mismatch, Weight};
use crate::place::{PageIdx, Place};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Family, Score};
use crate::survey::Instrument;
use crate::words::listed;

/// What is looked for on the pages before the music.
pub(in crate::rules) struct FrontPageIncomplete {
    wants_forces: Limit<bool>,
    wants_percussion_list: Limit<bool>,
    wants_duration: Limit<bool>,
}

/// Words that such a page uses for its duration, its forces and its percussion.
const DURATION: &[&str] = &["duration", "dauer", "durée", "durata", "minutes", "minuten", "min"];
const FORCES: &[&str] = &["instrumentation", "orchestration", "besetzung", "forces", "organico", "effectif"];
const PERCUSSION: &[&str] = &["percussion", "schlagzeug", "batterie", "percussione"];
/// So many names of instruments are a list of forces.
const LISTED: usize = 4;

impl Rule for FrontPageIncomplete {
    const NAME: &'static str = "front-page-incomplete";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(FrontPageIncomplete {
                wants_forces: limits.take("wants-forces")?,
                wants_percussion_list: limits.take("wants-percussion-list")?,
                wants_duration: limits.take("wants-duration")?,
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let text = front_text(case);
        let tells =
            |words: &[&str]| text.split(|letter: char| !letter.is_alphanumeric()).any(|word| words.contains(&word));
        let (forces, percussion, duration) =
            (tells(FORCES) || lists_instruments(case.score, &text), tells(PERCUSSION), tells(DURATION));
        if !forces && !percussion && !duration {
            return Outcome::CouldNotRun("the pages before the music".to_owned());
        }
        let wanted = [
            (&self.wants_forces, forces, "the forces"),
            (&self.wants_percussion_list, percussion || !has_percussion(case), "the percussion instruments"),
            (&self.wants_duration, duration, "the duration"),
        ];
        let missing: Vec<_> = wanted.into_iter().filter(|(limit, told, _)| limit.value && !told).collect();
        let Some((first, _, _)) = missing.first() else { return Outcome::Ran(Vec::new()) };
        let names = listed(missing.iter().map(|(_, _, name)| (*name).to_owned()));
        let verb = if missing.len() == 1 && !names.ends_with('s') { "is" } else { "are" };
        let weight = missing.iter().map(|(limit, _, _)| limit.weight).fold(Weight::Look, Weight::max);
        let key = case.key(Self::NAME, Scope::Work, None, None);
        let finding = Finding { weight, ..Finding::beyond(first, key, format!("without {names}")) };
        let place = case.layout.pages.first().map_or_else(Place::default, |_| case.on_page(PageIdx(0)));
        let message = format!("{} {verb} not told on the front pages.", names);
        Outcome::Ran(vec![finding.asks(names).at(vec![place]).says(message)])
    }
}

/// All that is printed before the second page of music, in lower case.
fn front_text(case: &Case<'_>) -> String {
    let second = case.music_pages().nth(1).map_or(case.layout.pages.len(), |(at, _)| at.at());
    let texts = case.layout.pages.iter().take(second).flat_map(|page| &page.texts);
    texts.map(|text| text.text.to_lowercase()).collect::<Vec<_>>().join("\n")
}

fn lists_instruments(score: &Score, text: &str) -> bool {
    let names = score.parts.iter().map(|part| part.name.trim().to_lowercase());
    let mut named: Vec<String> = names.filter(|name| name.len() > 2 && text.contains(name)).collect();
    named.sort();
    named.dedup();
    named.len() >= LISTED
}

/// Percussion other than timpani.
fn has_percussion(case: &Case<'_>) -> bool {
    let drums = case.score.parts.iter().any(|part| part.family == Family::Percussion);
    drums && case.survey.forces.players.iter().any(|entry| entry.instrument == Instrument::Percussion)
}
