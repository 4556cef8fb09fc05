//! Pages as sheets of paper: size, margins, the number printed on them, the side they lie on.

use super::Source;
use super::lines::Line;
use crate::geometry::Margins;
use crate::layout::{Known, Page, Side};
use crate::score::{Credit, Score};

/// Counts pages through all inputs.
pub(super) struct Sheets<'a> {
    credits: &'a [Credit],
    /// Pages begun so far: input, and the page as that file counts it, from 1.
    begun: Vec<(u16, u32)>,
    /// Number of the last page; 0 before the first.
    number: u32,
    /// Only the first page's number is the file's; the others count on.
    is_afresh: bool,
}

/// MusicXML marks credits that are page numbers so.
const PAGE_NUMBER: &str = "page number";
/// Blank pages that a file may count before its first page of music.
const MOST_BLANKS: u32 = 3;

impl<'a> Sheets<'a> {
    pub fn new(score: &'a Score) -> Sheets<'a> {
        Sheets { credits: &score.credits, begun: Vec::new(), number: 0, is_afresh: false }
    }

    /// For pages that begin with other bars than the file's.
    pub fn afresh(score: &'a Score) -> Sheets<'a> {
        Sheets { is_afresh: true, ..Sheets::new(score) }
    }

    /// Whether the next page would be the first of this input.
    pub fn begins(&self, input: u16) -> bool {
        self.begun.last().is_none_or(|(last, _)| *last != input)
    }

    /// The pages begun so far: input, and the page as that file counts it, from 1.
    pub fn begun(&self) -> &[(u16, u32)] {
        &self.begun
    }

    /// Begins a page with a line.
    pub fn turn(&mut self, source: &Source, line: &Line) -> Page {
        let input = source.movement.input;
        let record = source.record(line.bars.first);
        let within = match self.begun.last() {
            Some((last, page)) if *last == input => page + 1,
            _ => 1 + self.blanks(input, record.page_number.as_deref()),
        };
        let counts_on = self.is_afresh && !self.begun.is_empty();
        self.begun.push((input, within));
        let told = || record.page_number.clone().or_else(|| self.credited(input, within));
        let label = if counts_on { None } else { told() };
        self.number = label.as_deref().and_then(number).unwrap_or(self.number + 1);
        let side = if self.number % 2 == 1 { Side::Recto } else { Side::Verso };

        let size = record.page.size.or(source.defaults.page.size).filter(|size| size.0.0 > 0.0 && size.1.0 > 0.0);
        let size = size.map_or(Known::estimated(source.house.paper), Known::recorded);
        let label = label.unwrap_or_else(|| self.number.to_string());
        Page::empty(size, margins(source, line, side), side, label)
    }

    /// Pages that the file counts before its first page of music: told where the number printed on it stands as text.
    fn blanks(&self, input: u16, first: Option<&str>) -> u32 {
        let stands_at = self.page_numbers(input).find(|credit| Some(credit.text.trim()) == first);
        stands_at.map_or(0, |credit| credit.page.saturating_sub(1)).min(MOST_BLANKS)
    }

    fn page_numbers(&self, input: u16) -> impl Iterator<Item = &Credit> {
        let is_number = move |credit: &&Credit| credit.input == input && credit.kind.as_deref() == Some(PAGE_NUMBER);
        self.credits.iter().filter(is_number)
    }

    /// The page number that stands as text on a page.
    fn credited(&self, input: u16, page: u32) -> Option<String> {
        let text = self.page_numbers(input).find(|credit| credit.page == page)?.text.trim();
        (!text.is_empty()).then(|| text.to_owned())
    }
}

/// The page's own margins, else the defaults of its side. A side that the file leaves out is taken from the other one.
fn margins(source: &Source, line: &Line, side: Side) -> Known<Margins> {
    let own = &source.record(line.bars.first).page;
    let defaults = &source.defaults.page;
    let (told, other) = match side {
        Side::Recto => (own.odd.or(defaults.odd), own.even.or(defaults.even)),
        Side::Verso => (own.even.or(defaults.even), own.odd.or(defaults.odd)),
    };
    told.map_or_else(|| Known::estimated(other.unwrap_or(source.house.margins)), Known::recorded)
}

/// "12", "12a" and "- 12 -" are 12; what bears no number has none.
fn number(label: &str) -> Option<u32> {
    let from = label.trim_start_matches(|c: char| !c.is_ascii_digit());
    let digits: String = from.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().ok()
}
