//! What is said of printed pages: what they are, and how they fit the music.

use crate::check::{Checked, Printed};
use crate::join::Fit;
use crate::words;

/// "These are the printed pages, measured in score.pdf; each of the 438 bars was found on them."
pub fn basis(checked: &Checked, printed: &Printed) -> String {
    let fitting = match &printed.fit {
        None => "Without the music, only what needs none was looked at.".to_owned(),
        Some(fit) => fits(checked, fit),
    };
    let unread = match printed.unread.len() {
        0 => String::new(),
        count => format!(
            " {} of them could not be looked at: they ask for too much.",
            words::sentence(&words::in_words(count))
        ),
    };
    format!("These are the printed pages, measured in {}. {fitting}{unread}", printed.name)
}

fn fits(checked: &Checked, fit: &Fit) -> String {
    let total = words::counted(fit.bars_total as usize, "bar");
    if fit.bars_matched == fit.bars_total && fit.is_whole() {
        return format!("Each of the music's {total} was found on them.");
    }
    let held: Vec<_> = fit.systems.iter().filter_map(|system| system.bars).collect();
    let span = held.first().zip(held.last()).map(|(first, last)| {
        let label = |bar| checked.score.label(bar);
        format!(", from bar {} to bar {}", label(first.first), label(last.last))
    });
    format!("{} of the music's {total} were found on them{}.", fit.bars_matched, span.unwrap_or_default())
}
