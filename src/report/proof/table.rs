//! The terminal: one line a player, 80 columns, then what differs as the player meets it.

use super::{findings, printed, words};
use crate::check::{Proofed, ProofedPart, Verdict};
use crate::guidelines::Weight;
use crate::report::terminal::{Look, Paragraph, wrapped};
use crate::words::counted;

/// Names longer than this are cut.
const NAME: usize = 24;
/// Differences told of one part; the report has the rest.
const MOST: usize = 6;
/// Of a part of another draft.
const MOST_OF_A_DRAFT: usize = 2;

pub(super) fn words(proofed: &Proofed, look: Look, full: bool, written: &[String]) -> String {
    let bold = |text: String| if look == Look::Styled { format!("\x1b[1m{text}\x1b[0m") } else { text };
    let mut text = bold(wrapped(&Paragraph::flush(&words::headline(proofed)))) + "\n";
    match &proofed.alone {
        Some(found) => alone(found, full, &mut text),
        None => {
            text.push_str(&format!("\n  {:<NAME$} {:>5} {:>6}  {}\n", "part", "bars", "notes", "against the score"));
            for part in &proofed.parts {
                text.push_str(row(part).trim_end());
                text.push('\n');
            }
            for part in &proofed.parts {
                differences(part, proofed, full, &bold, &mut text);
            }
            pages(proofed, &bold, &mut text);
        }
    }
    if !proofed.printed.is_empty() {
        text.push_str(&format!("\n{}\n", bold("The printed pages".to_owned())));
        for line in printed::lines(proofed) {
            text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: &line }));
            text.push('\n');
        }
    }
    if !proofed.set_aside.is_empty() {
        text.push_str(&format!("\n{}\n", bold("Set aside".to_owned())));
        for aside in &proofed.set_aside {
            text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: &aside.to_string() }));
            text.push('\n');
        }
    }
    let caution = match proofed.alone {
        Some(_) => "House sheet, librarian and players come first.".to_owned(),
        None => format!("Not looked at: {}. A second reader and the players come first.", words::NOT_LOOKED_AT),
    };
    text.push_str(&format!("\n{}\n", wrapped(&Paragraph::flush(&caution))));
    for path in written {
        text.push_str(&format!("Written: {path}\n"));
    }
    text
}

fn row(part: &ProofedPart) -> String {
    let name: String = part.player.name.chars().take(NAME).collect();
    let (bars, notes) = words::compared(part);
    let [stop, mend, look] = words::weights(part);
    let counts: Vec<String> = [(stop, "stop"), (mend, "mend"), (look, "polish")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    let mut said = words::verdict(part);
    if !counts.is_empty() && part.verdict != Verdict::OtherDraft {
        said = format!("{said}: {}", counts.join(", "));
    }
    let pages = part.to_mend();
    if pages > 0 {
        said = format!("{said}; sheet: {pages} to mend");
    }
    if part.files.is_empty() {
        format!("  {name:<NAME$} {:>5} {:>6}  {said}", "-", "-")
    } else {
        format!("  {name:<NAME$} {bars:>5} {notes:>6}  {said}")
    }
}

/// What differs in one part, and what cannot be told.
fn differences(part: &ProofedPart, proofed: &Proofed, full: bool, bold: &dyn Fn(String) -> String, text: &mut String) {
    let score = &proofed.score;
    let all = words::numbered(part);
    let (told, lesser): (Vec<_>, Vec<_>) = all.partition(|(.., own)| full || own.weight() >= Weight::Mend);
    let most = match part.verdict {
        _ if full => usize::MAX,
        Verdict::OtherDraft => MOST_OF_A_DRAFT,
        _ => MOST,
    };
    let mut lines: Vec<String> = told
        .iter()
        .take(most)
        .map(|(number, file, own)| format!("{number}. {}", words::told(own, file, score)))
        .collect();
    let more = told.len().saturating_sub(most) + lesser.len();
    if more > 0 {
        lines.push(format!("{} more; the report and --full tell {}.", more, if more == 1 { "it" } else { "them" }));
    }
    for file in &part.files {
        lines.extend(file.proof.cannot_tell.iter().map(|told| {
            format!("{}: cannot be told: {}.", crate::words::sentence(&score.span_label(told.bars)), told.what)
        }));
        if let Some(other) = &file.doubt {
            lines.push(format!("{} could as well be the part of {other}; --map FILE=PART settles it.", file.name));
        }
    }
    if !part.files.is_empty() {
        lines.extend(part.not_there.iter().map(|bars| format!("No file for {}.", score.span_label(*bars))));
    }
    let accepted: usize = part.files.iter().map(|file| file.accepted.len()).sum();
    if accepted > 0 {
        lines.push(format!("{} accepted earlier.", counted(accepted, "difference")));
    }
    if lines.is_empty() {
        return;
    }
    text.push_str(&format!("\n{}\n", bold(part.player.name.clone())));
    for line in lines {
        text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: &line }));
        text.push('\n');
    }
}

/// What is to be mended of pages, each once however many parts have it.
fn pages(proofed: &Proofed, bold: &dyn Fn(String) -> String, text: &mut String) {
    let found = findings::to_mend(proofed);
    if found.is_empty() {
        return;
    }
    text.push_str(&format!("\n{}\n", bold("Their sheets".to_owned())));
    for own in found.iter().take(MOST) {
        let line = format!("{}: {}", own.whose(proofed), own.finding.message);
        text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: &line }));
        text.push('\n');
    }
    if found.len() > MOST {
        text.push_str(&format!("  {} in the report.\n", counted(found.len() - MOST, "more thing")));
    }
}

fn alone(found: &[crate::rules::Finding], full: bool, text: &mut String) {
    let told = found.iter().filter(|finding| full || finding.weight >= Weight::Mend);
    for (number, finding) in (1..).zip(told) {
        let lead = format!("{number:>3} ");
        let said = format!("{} {}", finding.message, finding.remedy);
        text.push_str(&format!("\n{}\n", wrapped(&Paragraph { lead: &lead, indent: 4, text: &said })));
    }
    let lesser = found.iter().filter(|finding| finding.weight < Weight::Mend).count();
    if lesser > 0 && !full {
        text.push_str(&format!(
            "\n{} worth a look; --full tells {}.\n",
            counted(lesser, "more thing"),
            if lesser == 1 { "it" } else { "them" }
        ));
    }
}
