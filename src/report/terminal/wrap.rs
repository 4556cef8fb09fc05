//! Text broken into lines.

/// Columns of the narrowest terminal in common use.
const COLUMNS: usize = 80;

/// A paragraph with a hanging indent.
#[derive(Clone, Copy, Debug)]
pub struct Paragraph<'a> {
    /// What stands before the first line's text.
    pub lead: &'a str,
    /// Columns before the text of every further line.
    pub indent: usize,
    pub text: &'a str,
}

impl<'a> Paragraph<'a> {
    #[must_use]
    pub fn flush(text: &'a str) -> Paragraph<'a> {
        Paragraph { lead: "", indent: 0, text }
    }
}

/// Broken between words to 80 columns, without a final line end. A word longer than a line is broken where it
/// must be; control characters, which a title could smuggle into the terminal, are left out.
#[must_use]
pub fn wrapped(paragraph: &Paragraph<'_>) -> String {
    let room = COLUMNS.saturating_sub(paragraph.indent).max(1);
    let mut lines = paragraph.lead.to_owned();
    let mut column = paragraph.lead.chars().count();
    let mut line_is_empty = true;
    for word in paragraph.text.split_whitespace() {
        let word: Vec<char> = word.chars().filter(|letter| !letter.is_control()).collect();
        for piece in word.chunks(room) {
            let space = usize::from(!line_is_empty);
            if column + space + piece.len() > COLUMNS && !line_is_empty {
                lines.push('\n');
                lines.extend(std::iter::repeat_n(' ', paragraph.indent));
                column = paragraph.indent;
            } else if space == 1 {
                lines.push(' ');
                column += 1;
            }
            lines.extend(piece);
            column += piece.len();
            line_is_empty = false;
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn further_lines_hang_under_the_text() {
        let text = "word ".repeat(20);
        let lines = wrapped(&Paragraph { lead: "  1 * ", indent: 6, text: &text });
        assert_eq!(lines, format!("  1 * {}\n      {}", ["word"; 15].join(" "), ["word"; 5].join(" ")));
    }

    #[test]
    fn a_title_cannot_move_the_cursor() {
        assert_eq!(wrapped(&Paragraph::flush("a\u{1b}[2Jb")), "a[2Jb");
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_the_terminal(text in "[a-z ]{0,400}", indent in 0usize..12) {
            let lead = " ".repeat(indent);
            let lines = wrapped(&Paragraph { lead: &lead, indent, text: &text });
            prop_assert!(lines.lines().all(|line| line.chars().count() <= COLUMNS));
        }
    }
}
