//! Copies of open scores in which other bars begin systems and pages, read again.

use std::io::{Cursor, Read as _};

use rastrum::casting_off::{self, House};
use rastrum::layout::{BarRecord, Record, StaffRecord};
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::read::{Input, Reading, read};
use rastrum::write_breaks::{Begins, Packing, begins, write_breaks};

use crate::open_scores::{data, scores};

/// Every system break one bar later or earlier and every third gone; a page break at every other break that is left.
fn shifted(record: &Record, by: isize) -> Record {
    let mut new = record.clone();
    for bar in &mut new.bars {
        (bar.new_system, bar.new_page) = (None, None);
    }
    let breaks = record.bars.iter().enumerate().skip(1);
    let breaks = breaks.filter(|(_, bar)| bar.new_system == Some(true) || bar.new_page == Some(true));
    for (nth, (at, _)) in breaks.enumerate().filter(|(nth, _)| nth % 3 != 2) {
        let at = at.saturating_add_signed(by);
        let Some(bar) = new.bars.get_mut(at).filter(|_| at > 0) else { continue };
        if nth % 2 == 0 { bar.new_page = Some(true) } else { bar.new_system = Some(true) }
    }
    new
}

/// Breaks taken out. Where a file hides staves and never shows them again, its breaks decide how long they are hidden.
fn without_breaks(mut record: Record) -> Record {
    let shown = |staff: &StaffRecord| staff.shown.is_some();
    for bar in &mut record.bars {
        (bar.new_system, bar.new_page) = (None, None);
        bar.staves.retain_mut(|(_, staff)| {
            let was_shown = shown(staff);
            staff.shown = None;
            !was_shown || *staff != StaffRecord::default()
        });
    }
    record
}

fn one(bytes: &[u8]) -> Reading {
    read(&[Input { name: "one", bytes }], &Limits::default()).unwrap()
}

#[test]
fn a_copy_of_an_open_score_differs_in_its_breaks_and_in_nothing_else() {
    let Some(folder) = data() else { return };
    let mut breaks_set = 0;
    for (at, path) in scores(&folder).iter().enumerate() {
        let name = path.display();
        let bytes = std::fs::read(path).unwrap();
        let old = one(&bytes);
        let (by, packing) = if at % 2 == 0 { (1, Packing::Compressed) } else { (-1, Packing::Plain) };
        let record = shifted(&old.record, by);
        let pages = casting_off::pages(&old.score, &Metrics::of(&old.score), &record, &House::default());
        let wanted = begins(&old.score, &pages);
        let input = Input { name: "one", bytes: &bytes };
        let copy = write_breaks(&[input], &old.score, &pages, packing, &Limits::default()).unwrap().remove(0);
        let new = one(&copy);
        assert_eq!(new.score, old.score, "{name}");
        let found: Vec<Begins> = new
            .record
            .bars
            .iter()
            .map(|bar| match (bar.new_page, bar.new_system) {
                (Some(true), _) => Begins::Page,
                (_, Some(true)) => Begins::System,
                _ => Begins::Nothing,
            })
            .collect();
        assert_eq!(found[1..], wanted[1..], "{name}");
        breaks_set += wanted.iter().filter(|begins| **begins != Begins::Nothing).count();
        assert_eq!(without_breaks(new.record), without_breaks(old.record.clone()), "{name}");
    }
    assert!(breaks_set > 700, "only {breaks_set} breaks were set");
}

#[test]
fn a_copy_with_the_breaks_that_a_score_has_is_the_score_byte_for_byte() {
    let Some(folder) = data() else { return };
    for path in scores(&folder) {
        let bytes = std::fs::read(&path).unwrap();
        let old = one(&bytes);
        let pages = casting_off::pages(&old.score, &Metrics::of(&old.score), &old.record, &House::default());
        let breaks = |bar: &BarRecord| bar.new_page == Some(true) || bar.new_system == Some(true);
        let recorded = old.record.bars.iter().skip(1).map(breaks);
        if !recorded.eq(begins(&old.score, &pages).iter().skip(1).map(|begins| *begins != Begins::Nothing)) {
            println!("not all breaks are recorded: {}", path.display());
            continue;
        }
        let input = Input { name: "one", bytes: &bytes };
        let copy = write_breaks(&[input], &old.score, &pages, Packing::Plain, &Limits::default()).unwrap().remove(0);
        assert!(members(&bytes).contains(&copy), "{}", path.display());
    }
}

fn members(bytes: &[u8]) -> Vec<Vec<u8>> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let all = 0..archive.len();
    all.map(|at| {
        let mut bytes = Vec::new();
        archive.by_index(at).unwrap().read_to_end(&mut bytes).unwrap();
        bytes
    })
    .collect()
}
