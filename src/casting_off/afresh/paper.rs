//! The paper that a movement is proposed on: what the file says of its size and margins, without its breaks.

use crate::casting_off::Source;
use crate::geometry::Margins;
use crate::layout::{BarRecord, Record, StaffRecord, SystemRecord};
use crate::place::{BarIdx, BarSpan};
use crate::score::Score;
use crate::units::{Mm, Spaces};

/// A line so short holds no music.
pub(super) const NO_LINE: Mm = Mm(1.0);
/// A title of two lines, where its place is not recorded (common practice).
const TITLE: Mm = Mm(25.0);

/// What remains of a record when its breaks, widths and distances are forgotten: pages, staves, the indents of first and
/// of later systems.
pub(super) fn without_breaks(record: &Record, movements: impl Iterator<Item = BarSpan>) -> Record {
    let mut bars = vec![BarRecord::default(); record.bars.len()];
    let mut defaults: Vec<BarRecord> =
        record.defaults.iter().map(|own| BarRecord { staves: sizes(own), ..own.clone() }).collect();
    for (at, movement) in movements.enumerate() {
        let own = defaults.get_mut(at).map(|own| &mut own.system);
        if let Some((slot, recorded)) = bars.get_mut(movement.first.at()).zip(record.bars.get(movement.first.at())) {
            *slot = beginning(recorded);
            slot.system.left = slot.system.left.or(own.as_ref().and_then(|own| own.left));
            slot.system.right = slot.system.right.or(own.as_ref().and_then(|own| own.right));
        }
        if let Some(own) = own {
            own.left = usual(record, movement, |system| system.left).or(own.left);
            own.right = usual(record, movement, |system| system.right).or(own.right);
        }
    }
    Record { defaults, bars, staff_heights: record.staff_heights.clone() }
}

/// The middle one of the indents that a movement's later systems record: room for short names before them.
fn usual(record: &Record, movement: BarSpan, indent: impl Fn(&SystemRecord) -> Option<Mm>) -> Option<Mm> {
    let later = record.bars.get(movement.first.at() + 1..=movement.last.at())?;
    let mut indents: Vec<Mm> = later.iter().filter_map(|bar| indent(&bar.system)).collect();
    indents.sort_unstable_by(|one, other| one.0.total_cmp(&other.0));
    indents.get(indents.len() / 2).copied()
}

fn beginning(bar: &BarRecord) -> BarRecord {
    BarRecord {
        page_number: bar.page_number.clone(),
        page: bar.page,
        system: SystemRecord { distance: None, dividers: None, ..bar.system },
        staves: sizes(bar),
        bar_numbering: bar.bar_numbering.clone(),
        ..BarRecord::default()
    }
}

fn sizes(bar: &BarRecord) -> Vec<(crate::place::StaffId, StaffRecord)> {
    let size = |own: &StaffRecord| StaffRecord { distance: None, shown: None, ..*own };
    bar.staves.iter().map(|(staff, own)| (*staff, size(own))).collect()
}

/// Between the margins and the indents of a line that begins with a bar; where the two sides of a leaf differ, on the
/// narrower one.
pub(super) fn line_width(source: &Source, first: BarIdx) -> Mm {
    let own = &source.record(first).system;
    let defaults = &source.defaults.system;
    let indents = own.left.or(defaults.left).unwrap_or(Mm::ZERO) + own.right.or(defaults.right).unwrap_or(Mm::ZERO);
    let (width, _) = size(source);
    let line = |margins: &Margins| width - margins.left - margins.right - indents;
    sides(source).iter().map(line).reduce(Mm::min).unwrap_or(width).max(NO_LINE)
}

/// Height between the margins, on the lower of the two sides.
pub(super) fn room(source: &Source) -> Spaces {
    let (_, height) = size(source);
    let room = |margins: &Margins| height - margins.top - margins.bottom;
    let least = sides(source).iter().map(room).reduce(Mm::min).unwrap_or(height);
    spaces(source, least.max(Mm::ZERO))
}

/// From the top margin to the first staff of a movement, where the file or a title asks for more than the music.
pub(super) fn title_room(source: &Source) -> Spaces {
    let record = &source.record(source.movement.bars.first).system;
    let recorded = record.top_distance.or(source.defaults.system.top_distance);
    let has_title = source.movement.title.is_some() || source.score.title.is_some();
    let estimated = if has_title { TITLE } else { Mm::ZERO };
    // A short first page is often set in the middle of its paper: that is not the title's room.
    spaces(source, recorded.unwrap_or(estimated)).min(room(source) * 0.2)
}

fn spaces(source: &Source, length: Mm) -> Spaces {
    if source.staff_height.value > Mm::ZERO { length.in_spaces(source.staff_height.value) } else { Spaces::ZERO }
}

fn size(source: &Source) -> (Mm, Mm) {
    let own = source.record(source.movement.bars.first).page.size.or(source.defaults.page.size);
    own.filter(|size| size.0 > Mm::ZERO && size.1 > Mm::ZERO).unwrap_or(source.house.paper)
}

/// Margins of right-hand and left-hand pages; of one of them where the file tells no more.
fn sides(source: &Source) -> Vec<Margins> {
    let defaults = &source.defaults.page;
    let told: Vec<Margins> = [defaults.odd, defaults.even].into_iter().flatten().collect();
    if told.is_empty() { vec![source.house.margins] } else { told }
}

/// Paper that is asked for instead of the file's own.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Width, height.
    pub paper: Option<(Mm, Mm)>,
    /// On all four sides.
    pub margins: Option<Mm>,
    /// Of a five-line staff.
    pub staff_height: Option<Mm>,
}

/// What files record, on other paper.
#[must_use]
pub fn on_sheet(record: &Record, sheet: &Sheet, score: &Score) -> Record {
    let mut record = record.clone();
    let movements = score.movements.len();
    record.defaults.resize(movements.max(record.defaults.len()), BarRecord::default());
    record.staff_heights.resize(movements.max(record.staff_heights.len()), None);
    for page in record.defaults.iter_mut().chain(&mut record.bars).map(|bar| &mut bar.page) {
        page.size = if sheet.paper.is_some() { None } else { page.size };
        if sheet.margins.is_some() {
            (page.odd, page.even) = (None, None);
        }
    }
    let margins = sheet.margins.map(|side| Margins { left: side, right: side, top: side, bottom: side });
    for page in record.defaults.iter_mut().map(|bar| &mut bar.page) {
        page.size = sheet.paper.or(page.size);
        (page.odd, page.even) = (margins.or(page.odd), margins.or(page.even));
    }
    for height in &mut record.staff_heights {
        *height = sheet.staff_height.or(*height);
    }
    record
}

#[cfg(test)]
mod tests {
    use super::*;

    fn indented(left: Option<Mm>) -> BarRecord {
        BarRecord { system: SystemRecord { left, ..SystemRecord::default() }, ..BarRecord::default() }
    }

    #[test]
    fn later_systems_keep_the_room_that_recorded_ones_leave_for_names() {
        let lefts = [Some(Mm(20.0)), None, Some(Mm(7.0)), Some(Mm(7.0)), Some(Mm(9.0))];
        let record = Record {
            defaults: vec![indented(Some(Mm::ZERO))],
            bars: lefts.into_iter().map(indented).collect(),
            ..Record::default()
        };
        let afresh = without_breaks(&record, [BarSpan::new(BarIdx(0), BarIdx(4))].into_iter());
        assert_eq!(afresh.bars[0].system.left, Some(Mm(20.0)));
        assert_eq!(afresh.defaults[0].system.left, Some(Mm(7.0)));
        assert!(afresh.bars[2].system.left.is_none());
    }

    #[test]
    fn where_no_later_indent_is_recorded_the_defaults_hold() {
        let record =
            Record { defaults: vec![indented(Some(Mm(3.0)))], bars: vec![indented(None); 2], ..Record::default() };
        let afresh = without_breaks(&record, [BarSpan::new(BarIdx(0), BarIdx(1))].into_iter());
        assert_eq!((afresh.bars[0].system.left, afresh.defaults[0].system.left), (Some(Mm(3.0)), Some(Mm(3.0))));
    }
}
