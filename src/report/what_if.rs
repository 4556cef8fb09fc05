//! Other papers and staff heights in words, the same on paper and in the terminal.

use crate::casting_off::{TooLarge, WhatIfCell, WhatIfFailure, WhatIfPaper};
use crate::score::Score;
use crate::units::Mm;

/// Above the table.
pub const CAPTION: &str = "The same music on other papers with staves of other heights: about so many pages.";

/// Over its last column.
pub const LARGEST: &str = "all staves fit up to";

/// What [`in_short`] marks.
pub const MARKS: &str = "* several systems on some pages   ! something does not go onto its page";

/// "34", "34 *" where some pages hold several systems, "34 !" where something does not go onto its page.
#[must_use]
pub fn in_short(cell: &WhatIfCell) -> String {
    let mark = match (cell.fails, cell.split_pages) {
        (Some(_), _) => " !",
        (None, 0) => "",
        (None, _) => " *",
    };
    format!("{}{mark}", cell.pages)
}

/// "34", "34, 2 systems on 6", "34, too high at bar 57".
#[must_use]
pub fn cell(cell: &WhatIfCell, score: &Score) -> String {
    if let Some(failure) = cell.fails {
        return format!("{}, {}", cell.pages, failure_in_short(failure, score));
    }
    match (cell.systems_max, cell.split_pages) {
        (0 | 1, _) | (_, 0) => cell.pages.to_string(),
        (most, split) if split == cell.pages => format!("{}, up to {most} systems", cell.pages),
        (2, split) => format!("{}, 2 systems on {split}", cell.pages),
        (most, split) => format!("{}, 2 to {most} systems on {split}", cell.pages),
    }
}

/// "A3", "JIS B4 (yours)".
#[must_use]
pub fn paper(paper: &WhatIfPaper) -> String {
    if paper.is_own { format!("{} (yours)", paper.name) } else { paper.name.clone() }
}

/// "4.8 mm", or that no staves are small enough.
#[must_use]
pub fn largest(height: Option<Mm>) -> String {
    height.map_or_else(|| "no height".to_owned(), |height| height.to_string())
}

/// "The system of bars 57 to 60 on page 12 is higher than the page has room."
#[must_use]
pub fn failure(failure: WhatIfFailure, score: &Score) -> String {
    let (first, last) = (score.label(failure.bars.first), score.label(failure.bars.last));
    let page = failure.page.at() + 1;
    match failure.what {
        TooLarge::System if failure.bars.count() > 1 => {
            format!("The system of bars {first} to {last} on page {page} is higher than the page has room.")
        }
        TooLarge::System => format!("The system of bar {first} on page {page} is higher than the page has room."),
        TooLarge::Bar => format!("Bar {first} on page {page} is wider than the line."),
    }
}

fn failure_in_short(failure: WhatIfFailure, score: &Score) -> String {
    let bar = score.label(failure.bars.first);
    match failure.what {
        TooLarge::System => format!("too high at bar {bar}"),
        TooLarge::Bar => format!("too wide at bar {bar}"),
    }
}

/// Staff heights of the columns, as the first paper has them.
#[must_use]
pub fn heights(papers: &[WhatIfPaper]) -> Vec<String> {
    papers.first().map_or_else(Vec::new, |paper| paper.cells.iter().map(|cell| cell.staff_height.to_string()).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::place::{BarIdx, BarSpan, PageIdx};

    fn of(pages: u32, systems_max: u32, split_pages: u32) -> WhatIfCell {
        let staff_height = Mm(4.5);
        WhatIfCell { staff_height, pages, systems_max, split_pages, stretch_min: None, gap_min: None, fails: None }
    }

    #[test]
    fn a_cell_tells_pages_and_where_they_are_divided() {
        let score = fixture::score(&fixture::QUARTET, 8);
        assert_eq!(cell(&of(34, 1, 0), &score), "34");
        assert_eq!(cell(&of(34, 2, 6), &score), "34, 2 systems on 6");
        assert_eq!(cell(&of(12, 3, 12), &score), "12, up to 3 systems");
    }

    #[test]
    fn a_cell_that_does_not_hold_tells_where() {
        let score = fixture::score(&fixture::QUARTET, 8);
        let bars = BarSpan::new(BarIdx(4), BarIdx(6));
        let fails = WhatIfFailure { page: PageIdx(2), bars, what: TooLarge::System };
        let cell_of = WhatIfCell { fails: Some(fails), ..of(9, 1, 0) };
        assert_eq!(cell(&cell_of, &score), "9, too high at bar 5");
        assert_eq!(in_short(&cell_of), "9 !");
        assert_eq!(failure(fails, &score), "The system of bars 5 to 7 on page 3 is higher than the page has room.");
    }
}
