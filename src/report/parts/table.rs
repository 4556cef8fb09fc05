//! The terminal: one line a player, 80 columns, then who is left with what.

use super::found::{self, Found};
use super::words;
use crate::check::{PartChecked, PartsChecked};
use crate::report::terminal::{Look, Paragraph, wrapped};
use crate::rules::Weight;
use crate::words::{counted, listed};

/// Names longer than this are cut.
const NAME: usize = 26;
/// Findings told here; the report has the rest.
const MOST: usize = 8;

pub(super) fn words(checked: &PartsChecked, look: Look, written: &[String]) -> String {
    let bold = |text: String| if look == Look::Styled { format!("\x1b[1m{text}\x1b[0m") } else { text };
    let mut text = bold(wrapped(&Paragraph::flush(&words::verdict(checked)))) + "\n\n";
    text.push_str(&format!(
        "  {:<NAME$} {:>5} {:>5}  {:<20} {}\n",
        "part", "pages", "turns", "worst turn", "longest rest"
    ));
    for part in &checked.parts {
        text.push_str(row(part, checked).trim_end());
        text.push('\n');
    }
    let mut told = Vec::new();
    let bad = words::left_with_bad_turns(checked);
    if !bad.is_empty() {
        told.push(format!("Too little time to turn: {}.", listed(bad)));
    }
    let open = words::not_deliverable(checked);
    if !open.is_empty() {
        told.push(format!("Not deliverable, the shared staff does not tell: {}.", listed(open)));
    }
    told.extend(findings(checked));
    for paragraph in told {
        text.push('\n');
        text.push_str(&wrapped(&Paragraph::flush(&paragraph)));
        text.push('\n');
    }
    text.push_str("\nPages and seconds are estimates; house sheet, librarian and players come first.\n");
    for note in words::notes(&checked.score) {
        text.push_str(&wrapped(&Paragraph::flush(&note)));
        text.push('\n');
    }
    for path in written {
        text.push_str(&format!("Written: {path}\n"));
    }
    text
}

fn row(part: &PartChecked, checked: &PartsChecked) -> String {
    let name: String = part.player.name.chars().take(NAME).collect();
    let pages = part.layout().pages.len();
    let worst = match words::worst(part) {
        None if part.recorded.is_none() && !part.proposed.pages.fold_outs.is_empty() => "a page folds out".to_owned(),
        None => "-".to_owned(),
        Some(turn) => {
            format!("{}, after {}", words::class_of(&turn.point), words::label(turn.point.after, &checked.score))
        }
    };
    let silence = if part.whole.plays.is_empty() {
        "tacet".to_owned()
    } else {
        words::longest_silence(part).and_then(|rest| rest.seconds).map_or("-".to_owned(), |seconds| seconds.to_string())
    };
    format!("  {name:<NAME$} {pages:>5} {:>5}  {worst:<20} {silence}", words::turns(part).len())
}

/// What is to be mended, the heaviest first; turns stand in the table already.
fn findings(checked: &PartsChecked) -> Vec<String> {
    let mut found = found::all(checked);
    found.retain(|found| found.finding.weight >= Weight::Mend && !found.finding.rule.starts_with("turn-"));
    found.sort_by_key(|found| std::cmp::Reverse(found.finding.weight));
    let more = found.len().saturating_sub(MOST);
    let one = |found: &Found<'_>| format!("{}. {}: {}", found.number, found.part.player.name, found.finding.message);
    let mut told: Vec<String> = found.iter().take(MOST).map(one).collect();
    if more > 0 {
        told.push(format!("{} more in the report.", counted(more, "finding")));
    }
    let sum = |of: fn(&PartChecked) -> usize| checked.parts.iter().map(of).sum::<usize>();
    let (accepted, lapsed) = (sum(|part| part.accepted.len()), sum(|part| part.lapsed.len()));
    if accepted > 0 {
        told.push(format!("{} accepted earlier.", counted(accepted, "finding")));
    }
    if lapsed > 0 {
        told.push(format!("{} accepted earlier, but no longer so; the report says why.", counted(lapsed, "finding")));
    }
    told
}
