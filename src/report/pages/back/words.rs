//! The words of the last sheets.

use std::collections::BTreeMap;

use crate::accepted::{Entry, Lapse};
use crate::check::Checked;
use crate::remarks::Remark;
use crate::rules::Finding;
use crate::words;

/// How the layout that was named is set otherwise; `None` when none was named.
pub fn like(checked: &Checked) -> Option<Vec<String>> {
    let differences = checked.like.as_ref()?;
    if differences.is_empty() {
        return Some(vec!["It is set no otherwise, as far as both files tell.".to_owned()]);
    }
    Some(differences.iter().map(|difference| difference.words.clone()).collect())
}

/// A sentence, then one line for each thing that was missing: "Page numbers missing. Needed: page numbers as printed."
pub fn not_checked(checked: &Checked) -> Vec<String> {
    if checked.could_not_run.is_empty() {
        return vec!["Every check of the guidelines could be made.".to_owned()];
    }
    if checked.score.is_outline() {
        return vec![format!(
            "This is an outline: {} need the notes, or pages that someone has laid out.",
            words::counted(checked.could_not_run.len(), "check")
        )];
    }
    let mut texts = vec!["Whether any of these faults is there, the file does not tell:".to_owned()];
    let mut by_need: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (rule, needs) in &checked.could_not_run {
        let title = checked.guidelines.rule(rule).map_or(*rule, |sheet| sheet.title.as_str());
        by_need.entry(needs).or_default().push(title);
    }
    let line = |(needs, titles): (&str, Vec<&str>)| format!("{}. Needed: {needs}.", titles.join("; "));
    texts.extend(by_need.into_iter().map(line));
    texts
}

/// "Page 12: flute staff small on purpose (the librarian, 3 May 2026)".
pub fn accepted(checked: &Checked) -> Vec<String> {
    let line = |(finding, entry): &(Finding, Entry)| {
        format!("{} Accepted by {} on {}: {}", finding.message, entry.who, entry.when, entry.why)
    };
    checked.accepted.iter().map(line).collect()
}

/// Accepted findings whose music has changed since.
pub fn lapsed(checked: &Checked) -> Vec<String> {
    let line = |(entry, lapse): &(Entry, Lapse)| format!("\"{}\", accepted by {}: {lapse}.", entry.why, entry.who);
    checked.lapsed.iter().map(line).collect()
}

/// The files' oddities, with their line.
pub fn remarks(checked: &Checked) -> Vec<String> {
    let several = checked.sources.len() > 1;
    let line = |remark: &Remark| {
        let file = checked.sources.get(usize::from(remark.input)).filter(|_| several);
        let file = file.map_or_else(String::new, |source| format!("{}, ", source.name));
        match remark.line {
            Some(line) => format!("{file}line {line}: {}", remark.message),
            None => format!("{file}{}", remark.message),
        }
    };
    checked.remarks.iter().map(line).collect()
}

/// What the numbers of the report are, for whoever asks.
pub fn figures(checked: &Checked) -> Vec<String> {
    let mut texts = vec![
        "Lengths are millimetres on the paper of the file. A space is the distance between two staff lines, a quarter \
         of the staff's height. A gap is measured from the bottom line of one staff to the top line of the next; what \
         its notes and signs need is worked out bar by bar from the music, and is an estimate."
            .to_owned(),
        "An opening (spread) is what lies before the conductor between two turns: one page, or two facing pages."
            .to_owned(),
        density(checked).to_owned(),
    ];
    let tempo = if checked.score.tempo_assumed {
        "The file states no tempo: times are for 100 quarters a minute and only a guess."
    } else {
        "Times follow the tempo marks of the file, or what it gives for playback; fermatas and freedom are not counted."
    };
    texts.push(tempo.to_owned());
    texts
}

fn density(checked: &Checked) -> &'static str {
    if checked.score.is_outline() {
        return "Density, how much there is to read, is not known: an outline has no notes. Grey on the maps shows who \
                plays.";
    }
    "Density counts what there is to read: noteheads, rests, accidentals, signs, words, against the length of staff \
     that sounds. It is grey on the maps; no published norm exists, and none is claimed."
}

/// The usual cautions.
pub fn cautions() -> [&'static str; 4] {
    [
        "Guidelines differ from house to house. The house's own sheet, its librarian and the conductor come first.",
        "What is said here was computed from the music file. It says nothing of collisions, spelling or wrong notes: a \
         proof-reader must still read every page.",
        "If the pages were laid out again after the file was written, the two no longer match.",
        "A mark is a question to whoever made the page, not a verdict.",
    ]
}
