//! Lines and columns of a sheet.

use super::error::Place;

/// A sheet's text with the bytes its lines begin at.
pub(super) struct Lines<'a> {
    name: &'a str,
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn of(name: &'a str, text: &'a str) -> Lines<'a> {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        Lines { name, text, starts: std::iter::once(0).chain(after_breaks).collect() }
    }

    /// The place of a byte; past the end, the end.
    pub(super) fn place(&self, byte: usize) -> Place {
        let byte = byte.min(self.text.len());
        let line = self.starts.partition_point(|start| *start <= byte);
        let start = self.starts.get(line.saturating_sub(1)).copied().unwrap_or_default();
        let before = self.text.get(start..byte).unwrap_or_default();
        Place::Sheet { name: self.name.to_owned(), line, column: before.chars().count() + 1 }
    }

    /// The first line of a stretch of text, for quoting.
    pub(super) fn quote(&self, span: std::ops::Range<usize>) -> &str {
        self.text.get(span).unwrap_or_default().lines().next().unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let lines = Lines::of("house.toml", "a = 1\n\u{e9}b = 2\n");
        assert_eq!(lines.place(0).to_string(), "house.toml:1:1");
        assert_eq!(lines.place(5).to_string(), "house.toml:1:6");
        assert_eq!(lines.place(6).to_string(), "house.toml:2:1");
        assert_eq!(lines.place(8).to_string(), "house.toml:2:2");
        assert_eq!(lines.place(1000).to_string(), "house.toml:3:1");
        assert_eq!(Lines::of("empty.toml", "").place(0).to_string(), "empty.toml:1:1");
    }
}
