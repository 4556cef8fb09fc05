//! How many parts a file lists, without reading its music: a player's part is told from a score by it.

use super::Input;
use super::error::ReadError;
use super::opened::Opened;
use crate::limits::Limits;

/// Number of parts in a file's list; 0 where it has none.
///
/// # Errors
/// The file cannot be unpacked, or is no text.
pub fn parts_listed(number: u16, input: Input<'_>, limits: &Limits) -> Result<usize, ReadError> {
    Ok(count(&Opened::open(number, input, limits)?.text))
}

fn count(text: &str) -> usize {
    let list = text.split_once("<part-list").map_or("", |(_, rest)| rest);
    let list = list.split_once("</part-list").map_or(list, |(list, _)| list);
    let entries = list.split("<score-part").skip(1);
    entries
        .filter(|rest| rest.starts_with(|next: char| next.is_ascii_whitespace() || next == '>' || next == '/'))
        .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_entries_of_the_list_count() {
        assert_eq!(
            count("<part-list><score-part id='a'/><score-part id='b'></score-part></part-list><part id='a'/>"),
            2
        );
        assert_eq!(count("<part-list>\n<score-part\nid='a'/><score-partial/></part-list><score-part >"), 1);
        assert_eq!(count("<score-partwise/>"), 0);
    }
}
