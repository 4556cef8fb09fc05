//! One line to set a part's pages by: "Break after 88, 176, 251; V.S. at 176; cue at 233; starts on the left."

use super::words;
use crate::check::PartChecked;
use crate::layout::Side;
use crate::score::Score;
use crate::survey::TurnAdvice;
use crate::words::counted;

/// The line for the proposed pages.
pub(super) fn line(part: &PartChecked, score: &Score) -> String {
    let turned = &part.proposed;
    let pages = &turned.pages.layout.pages;
    let ends: Vec<String> = pages
        .iter()
        .take(pages.len().saturating_sub(1))
        .filter_map(|page| page.span())
        .map(|span| words::label(span.last, score))
        .collect();
    let mut said = vec![if ends.is_empty() {
        "One page, no break".to_owned()
    } else {
        format!("Break after {}", ends.join(", "))
    }];
    let at_once: Vec<String> = turned
        .turns
        .iter()
        .filter(|turn| turn.advice == Some(TurnAdvice::TurnAtOnce))
        .map(|turn| words::label(turn.point.after, score))
        .collect();
    if !at_once.is_empty() {
        said.push(format!("V.S. at {}", at_once.join(", ")));
    }
    let cues: Vec<String> = part
        .whole
        .rests
        .iter()
        .filter_map(|rest| rest.cue.as_ref())
        .map(|cue| words::label(cue.bars.first, score))
        .collect();
    if !cues.is_empty() {
        said.push(format!("cue at {}", cues.join(", ")));
    }
    if turned.pages.starts == Side::Verso {
        let fewer = part.filled.turns.len() as i64 - turned.turns.len() as i64;
        let gain = if fewer > 0 { format!(": {} fewer", counted(fewer as usize, "turn")) } else { String::new() };
        said.push(format!("starts on the left after a cover{gain}"));
    }
    for page in &turned.pages.blank {
        said.push(format!("page {} left empty", page.0 + 1));
    }
    for page in &turned.pages.fold_outs {
        said.push(format!("page {} folds out", page.0 + 1));
    }
    format!("{}.", said.join("; "))
}

/// What filling the pages would have made, for comparison.
pub(super) fn beside_filling(part: &PartChecked) -> String {
    let bad = part.filled.turns.iter().filter(|turn| words::is_bad(&turn.point)).count();
    let bad = if bad == 0 { String::new() } else { format!(", {bad} of them without enough time") };
    format!("Filled page by page it would be {}{bad}.", words::extent(&part.filled))
}
