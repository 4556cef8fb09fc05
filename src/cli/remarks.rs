//! Oddities of the files, told on standard error.

use rastrum::check::Checked;
use rastrum::remarks::{Remark, RemarkKind};

use super::terminal;

/// More than this nobody reads here; the report lists them all.
const MOST: usize = 5;

/// Tells the first few, and how many more there are. What is merely not read changes nothing for whoever stands at
/// the terminal, and is left to the report.
pub fn tell(checked: &Checked) {
    let told: Vec<&Remark> = checked.remarks.iter().filter(|remark| remark.kind != RemarkKind::Unread).collect();
    let mut text: String = told.iter().take(MOST).map(|remark| line(remark, checked)).collect();
    let more = told.len().saturating_sub(MOST);
    if more > 0 {
        text.push_str(&format!("note: {more} more oddities of the files stand at the end of the report\n"));
    }
    terminal::tell(&text);
}

fn line(remark: &Remark, checked: &Checked) -> String {
    let file = checked.sources.get(usize::from(remark.input)).map_or("", |source| source.name.as_str());
    let place = match (remark.line, remark.column) {
        (Some(line), Some(column)) => format!(":{line}:{column}"),
        _ => String::new(),
    };
    let message: String = remark.message.chars().filter(|letter| !letter.is_control()).collect();
    format!("note: {file}{place}: {message}\n")
}
