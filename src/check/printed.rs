//! Printed pages: a PDF beside the score, or all that there is.

use super::CheckError;
use crate::engraved::{self, EngravedPage, is_pdf};
use crate::geometry::Margins;
use crate::join::{self, Fit};
use crate::layout::{BarRecord, Layout, PageRecord, Record, Side};
use crate::limits::Limits;
use crate::read::{Input, SourceInfo};
use crate::score::Score;
use crate::units::Mm;

/// The file of printed pages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PagesFile {
    /// As messages shall name it.
    pub name: String,
    pub bytes: Vec<u8>,
}

/// The printed pages that a check is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Printed {
    /// Name of the file.
    pub name: String,
    /// How they fit the music; `None` where there is none.
    pub fit: Option<Fit>,
    /// Pages, counted from 0, that ask for more than the limits allow and were not looked at.
    pub unread: Vec<u32>,
}

/// Pages for which there is music or, alone, a score that says no more than they do.
pub(super) struct Measured {
    pub printed: Printed,
    pub layout: Layout,
}

/// The one input that is a PDF, where there is no other.
pub(super) fn alone<'a>(inputs: &[Input<'a>]) -> Option<Input<'a>> {
    match inputs {
        [one] if is_pdf(one.bytes) => Some(*one),
        _ => None,
    }
}

pub(super) fn measure(name: &str, bytes: &[u8], limits: &Limits) -> Result<Vec<EngravedPage>, CheckError> {
    engraved::measure(bytes, limits).map_err(|error| CheckError::Pages { file: name.to_owned(), error })
}

/// Pages without music.
pub(super) fn without_music(input: Input<'_>, limits: &Limits) -> Result<(Score, Measured, SourceInfo), CheckError> {
    let pages = measure(input.name, input.bytes, limits)?;
    let (score, layout) = join::alone(&pages);
    let format = format!("PDF, {} measured", crate::words::counted(pages.len(), "page"));
    let source = SourceInfo { name: input.name.to_owned(), format, xml_bytes: 0 };
    let printed = Printed { name: input.name.to_owned(), fit: None, unread: unread(&pages) };
    Ok((score, Measured { printed, layout }, source))
}

/// Pages of a score.
pub(super) fn with_music(file: &PagesFile, score: &Score, limits: &Limits) -> Result<Measured, CheckError> {
    let pages = measure(&file.name, &file.bytes, limits)?;
    let joined = join::join(&pages, score);
    let printed = Printed { name: file.name.clone(), fit: Some(joined.fit), unread: unread(&pages) };
    Ok(Measured { printed, layout: joined.layout })
}

fn unread(pages: &[EngravedPage]) -> Vec<u32> {
    pages.iter().zip(0..).filter(|(page, _)| page.is_unread).map(|(_, at)| at).collect()
}

/// What a file of these pages would have recorded: paper, margins and staves, so that better pages are proposed on the
/// same sheet.
pub(super) fn record(layout: &Layout, score: &Score) -> Record {
    let mut record = Record { bars: vec![BarRecord::default(); score.bars.len()], ..Record::default() };
    for movement in &score.movements {
        let own = layout.pages.iter().filter(|page| page.span().is_some_and(|span| movement.bars.contains(span.first)));
        let sides = |side: Side| -> Option<Margins> {
            own.clone().filter(|page| page.side == side).map(|page| page.margins.value).reduce(least)
        };
        let heights = own.clone().flat_map(|page| page.systems.iter().flat_map(|system| &system.staves));
        let height = heights.filter(|staff| staff.lines == 5).map(|staff| staff.height).reduce(Mm::max);
        let (odd, even) = (sides(Side::Recto), sides(Side::Verso));
        let page =
            PageRecord { size: own.clone().next().map(|page| page.size.value), odd: odd.or(even), even: even.or(odd) };
        record.defaults.push(BarRecord { page, ..BarRecord::default() });
        record.staff_heights.push(height);
    }
    record
}

fn least(one: Margins, other: Margins) -> Margins {
    Margins {
        left: one.left.min(other.left),
        right: one.right.min(other.right),
        top: one.top.min(other.top),
        bottom: one.bottom.min(other.bottom),
    }
}
