//! Which file is whose part.

use std::collections::BTreeMap;

use super::lines::Lines;
use crate::check::{CheckError, SetAside};
use crate::layout::Record;
use crate::limits::Limits;
use crate::place::BarSpan;
use crate::proof::whose::{Candidate, Fate, Fingers, assign, named, written_alike};
use crate::read::{self, Input, SourceInfo};
use crate::score::Score;

/// A file of a part, read.
pub(super) struct Part {
    /// Place among the inputs that are parts.
    pub input: usize,
    pub name: String,
    pub source: SourceInfo,
    pub score: Score,
    /// What it records of its pages.
    pub record: Record,
    fingers: Fingers,
}

/// A file that is a player's, and the bars of the score that it holds.
pub(super) struct Own {
    pub file: usize,
    pub bars: BarSpan,
    pub doubt: Option<String>,
}

/// Reads every file by itself; what cannot be read is set aside.
pub(super) fn read(inputs: &[Input<'_>], limits: &Limits, set_aside: &mut Vec<SetAside>) -> Vec<Part> {
    let mut parts = Vec::new();
    for (input, file) in inputs.iter().enumerate() {
        match read::read(&[*file], limits) {
            Err(errors) => set_aside.extend(errors.into_iter().map(|error| SetAside::of(&CheckError::Read(error)))),
            Ok(reading) => {
                let Some(source) = reading.sources.into_iter().next() else { continue };
                let (score, record) = (reading.score, reading.record);
                let fingers = score.all_bars().map_or_else(Fingers::default, |bars| Fingers::of(&score, bars));
                parts.push(Part { input, name: file.name.to_owned(), source, score, record, fingers });
            }
        }
    }
    parts
}

/// Gives the files to the lines, in order of movements; the rest is set aside with the reason.
///
/// # Errors
/// `map` names a part or a file that is not there.
pub(super) fn matched(
    lines: &Lines,
    parts: &[Part],
    map: &[(String, String)],
    score: &Score,
    set_aside: &mut Vec<SetAside>,
) -> Result<BTreeMap<usize, Vec<Own>>, Vec<CheckError>> {
    let forced = forced(lines, parts, map)?;
    let mut candidates = Vec::new();
    for (file, part) in parts.iter().enumerate() {
        for (line, player) in lines.all.iter().enumerate() {
            candidates.extend(of_line(file, part, line, player, forced.get(&file).copied()));
        }
    }
    let mut matched: BTreeMap<usize, Vec<Own>> = BTreeMap::new();
    for (file, fate) in assign(parts.len(), candidates).into_iter().enumerate() {
        let Some(part) = parts.get(file) else { continue };
        let mut aside = |why: String| set_aside.push(SetAside { name: part.name.clone(), why });
        match fate {
            Fate::Part { candidate, doubt } => {
                let doubt = doubt.and_then(|line| lines.all.get(line)).map(|line| line.player.name.clone());
                matched.entry(candidate.player).or_default().push(Own { file, bars: candidate.bars, doubt });
            }
            Fate::Taken { by } => {
                let by = parts.get(by).map_or("", |part| part.name.as_str());
                aside(format!("the same part as {by}, which agrees as well or better"));
            }
            Fate::Stranger => aside(stranger(part, lines, score)),
        }
    }
    for own in matched.values_mut() {
        own.sort_by_key(|own| own.bars);
    }
    Ok(matched)
}

/// What a file could be of one line's, the best bars.
fn of_line(
    file: usize,
    part: &Part,
    line: usize,
    own: &super::lines::OneLine,
    forced: Option<usize>,
) -> Vec<Candidate> {
    const CERTAIN: f64 = 10.0;
    if forced.is_some_and(|only| only != line) {
        return Vec::new();
    }
    let name = part.score.parts.first().map_or(0.0, |first| named(first, &part.name, &own.player));
    let of_span = |(bars, fingers): &(BarSpan, Fingers)| {
        let silent = part.fingers.sounding() == 0 && fingers.sounding() == 0;
        let agreement = if silent && name >= 1.0 { 1.0 } else { part.fingers.agreement(fingers) };
        let written = written_alike(&part.score, &own.player, *bars);
        match forced {
            Some(_) => Some(Candidate { file, player: line, bars: *bars, agreement, score: agreement + CERTAIN }),
            None => Candidate::of(file, line, *bars, agreement, name, written),
        }
    };
    own.spans.iter().filter_map(of_span).collect()
}

/// The line of each file that `map` names.
fn forced(lines: &Lines, parts: &[Part], map: &[(String, String)]) -> Result<BTreeMap<usize, usize>, Vec<CheckError>> {
    let mut forced = BTreeMap::new();
    let mut errors = Vec::new();
    for (file, part) in map {
        let file_at = parts.iter().position(|own| own.name == *file);
        let line = lines.all.iter().position(|line| line.player.name.eq_ignore_ascii_case(part.trim()));
        match (file_at, line) {
            (Some(file), Some(line)) => {
                forced.insert(file, line);
            }
            (None, _) => {
                let names = parts.iter().map(|own| own.name.clone()).collect();
                errors.push(CheckError::UnknownFile { name: file.clone(), names });
            }
            (_, None) => {
                let names = lines.all.iter().map(|line| line.player.name.clone()).collect();
                errors.push(CheckError::UnknownPart { name: part.clone(), names });
            }
        }
    }
    if errors.is_empty() { Ok(forced) } else { Err(errors) }
}

fn stranger(part: &Part, lines: &Lines, score: &Score) -> String {
    let named = part
        .score
        .parts
        .first()
        .and_then(|first| lines.all.iter().find(|line| named(first, &part.name, &line.player) >= 0.5));
    match named {
        Some(line) if part.fingers.sounding() == 0 => {
            format!("has no notes, and {} plays", line.player.name)
        }
        None if part.fingers.sounding() == 0 => "has no notes".to_owned(),
        Some(line) => {
            let what = if score.movements.len() > 1 { "any movement" } else { "it" };
            format!(
                "named like {}, but of another piece or movement: its notes are not those of {what}",
                line.player.name
            )
        }
        None => "no part of this score: another piece or movement".to_owned(),
    }
}
