//! The terminal: what changed in a sentence, then the reprint list, 80 columns wide.

use super::words;
use crate::check::{Compared, Reader, Reprint, ReprintKind};
use crate::compare::{Fate, FoundChange, FoundFate};
use crate::report::terminal::{Look, Paragraph, wrapped};
use crate::words::counted;

/// Names longer than this are cut.
const NAME: usize = 24;
/// Lines of the errata slip, and new findings, that are told; the report has the rest.
const MOST: usize = 6;

pub(super) fn words(compared: &Compared, look: Look, full: bool, written: &[String]) -> String {
    let bold = |text: String| if look == Look::Styled { format!("\x1b[1m{text}\x1b[0m") } else { text };
    let mut text = bold(wrapped(&Paragraph::flush(&words::headline(compared)))) + "\n";
    text.push_str(&list(compared));
    text.push_str(&slip(compared, if full { usize::MAX } else { MOST }));
    text.push_str(&found(compared, if full { usize::MAX } else { MOST }));
    if compared.trend.len() > 2 {
        text.push_str(&trend(compared));
    }
    for file in written {
        text.push_str(&format!("\nWritten: {file}"));
    }
    if !written.is_empty() {
        text.push('\n');
    }
    text
}

/// One line a document that has to be printed.
fn list(compared: &Compared) -> String {
    let touched: Vec<&Reprint> = compared.reprint.iter().filter(|own| own.is_touched()).collect();
    if compared.reprint.is_empty() {
        return String::new();
    }
    let moves = words::moves(compared);
    let mut text = String::new();
    if !moves.is_empty() {
        text.push_str(&format!("\n{}\n", wrapped(&Paragraph::flush(&moves))));
    }
    text.push_str("\nTo be printed again:\n");
    let printed: Vec<&&Reprint> = touched.iter().filter(|own| own.is_printed()).collect();
    if printed.is_empty() {
        text.push_str("  nothing\n");
    }
    for own in &printed {
        let name: String = words::document(own.reader, compared).chars().take(NAME).collect();
        let lead = format!("  {name:<NAME$} ");
        let said = format!("{}; {}", words::sheets(own, compared), words::because(own, compared));
        let said = said.trim_end_matches("; ").to_owned();
        text.push_str(&wrapped(&Paragraph { lead: &lead, indent: NAME + 3, text: &said }));
        text.push('\n');
    }
    let dropped = touched.iter().filter(|own| own.kind == ReprintKind::Dropped);
    for own in dropped {
        text.push_str(&format!(
            "  {}: no longer in the score; take it off the stand\n",
            words::document(own.reader, compared)
        ));
    }
    let by_hand = compared.reprint.iter().filter(|own| !own.is_printed() && own.of_fate(Fate::ByHand).next().is_some());
    let by_hand = by_hand.count();
    let stay = compared.reprint.iter().filter(|own| !own.is_touched()).count();
    let mut rest = Vec::new();
    if by_hand > 0 {
        rest.push(format!("{} can be mended by hand", counted(by_hand, "document")));
    }
    if stay > 0 {
        rest.push(format!("{} stay as they are", counted(stay, "document")));
    }
    if !rest.is_empty() {
        text.push_str(&wrapped(&Paragraph::flush(&format!("{}.", crate::words::sentence(&rest.join("; "))))));
        text.push('\n');
    }
    if let Some(numbers) = words::numbers(compared) {
        text.push_str(&wrapped(&Paragraph::flush(&numbers)));
        text.push('\n');
    }
    text
}

/// What is written in by hand.
fn slip(compared: &Compared, most: usize) -> String {
    let lines = words::slip(compared);
    if lines.is_empty() {
        return String::new();
    }
    let mut text = String::from("\nTo be written in by hand:\n");
    for line in lines.iter().take(most) {
        text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: line }));
        text.push('\n');
    }
    if lines.len() > most {
        text.push_str(&format!("  and {} (--full, or the report)\n", counted(lines.len() - most, "line")));
    }
    text
}

/// New places of faults.
fn found(compared: &Compared, most: usize) -> String {
    let is_new = |(_, change): &&(Reader, FoundChange)| change.fate == FoundFate::New && !change.accepted;
    let new = words::found_by_place(&compared.findings.iter().filter(is_new).collect::<Vec<_>>(), compared);
    if new.is_empty() {
        return String::new();
    }
    let mut text = String::from("\nNew in this draft:\n");
    for line in new.iter().take(most) {
        text.push_str(&wrapped(&Paragraph { lead: "  ", indent: 4, text: line }));
        text.push('\n');
    }
    if new.len() > most {
        text.push_str(&format!("  and {} (--full, or the report)\n", counted(new.len() - most, "more place")));
    }
    text
}

fn trend(compared: &Compared) -> String {
    let mut text = format!(
        "\n  {:<NAME$} {:>5} {:>5} {:>6} {:>5} {:>5} {:>5}\n",
        "draft", "bars", "pages", "staves", "stop", "mend", "turns"
    );
    for row in &compared.trend {
        let name: String = row.name.chars().take(NAME).collect();
        let height = row.pages.staff_height.map_or_else(|| "-".to_owned(), |(least, _)| format!("{:.1}", least.0));
        let bad = row.bad_turns.map_or_else(|| "-".to_owned(), |(bad, all)| format!("{bad}/{all}"));
        let [stop, mend, _] = row.findings;
        text.push_str(&format!(
            "  {name:<NAME$} {:>5} {:>5} {height:>6} {stop:>5} {mend:>5} {bad:>5}\n",
            row.bars, row.pages.pages
        ));
    }
    text.push_str("  (staves in mm; turns of players that leave too little time, of all)\n");
    text
}
