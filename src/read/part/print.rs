//! Breaks, distances and page sizes that the file records inside the music.

use roxmltree::Node;

use super::PartReader;
use crate::layout::StaffRecord;
use crate::read::draft::Music;
use crate::read::error::Trouble;
use crate::read::page::{page_layout, staff_distance, system_layout};
use crate::read::xml;

impl PartReader {
    pub(super) fn print(&mut self, node: Node<'_, '_>, music: &mut Music) {
        let tenth = music.tenth;
        let mut distances: Vec<(u16, StaffRecord)> = Vec::new();
        let Some(bar) = music.bars.get_mut(self.bar) else { return };
        let record = &mut bar.record;
        for attribute in node.attributes() {
            match attribute.name() {
                "new-system" => join(&mut record.new_system, xml::yes_no(attribute.value())),
                "new-page" => join(&mut record.new_page, xml::yes_no(attribute.value())),
                "page-number" if record.page_number.is_none() => {
                    record.page_number = Some(attribute.value().trim().to_owned());
                }
                _ => {}
            }
        }
        for (name, child) in xml::elements(node) {
            match name {
                "page-layout" => page_layout(child, tenth, &mut record.page),
                "system-layout" => system_layout(child, tenth, &mut record.system),
                "staff-layout" => {
                    let number = child.attribute("number").and_then(|number| number.parse().ok()).unwrap_or(1);
                    let distance = staff_distance(child, tenth);
                    distances.push((number, StaffRecord { distance, ..StaffRecord::default() }));
                }
                "measure-numbering" if record.bar_numbering.is_none() => {
                    record.bar_numbering = Some(xml::text(child).to_owned());
                }
                "measure-numbering" => {}
                other => music.oddities.unread(other),
            }
        }
        for (number, record) in distances {
            // A distance for a staff that the part does not have says nothing.
            if usize::from(number) <= self.columns.len() && record.distance.is_some() {
                record_staff(self, number, record, music);
            }
        }
    }

    /// Records something about the staff of this number, or about all of the part's.
    pub(super) fn record_staves(
        &mut self,
        number: Option<u16>,
        record: StaffRecord,
        music: &mut Music,
    ) -> Result<(), Trouble> {
        let all = 1..=u16::try_from(self.columns.len()).unwrap_or(u16::MAX);
        for number in number.map_or(all, |number| number..=number) {
            record_staff(self, number, record, music);
        }
        Ok(())
    }
}

fn record_staff(reader: &PartReader, number: u16, record: StaffRecord, music: &mut Music) {
    let staff = reader.local(number.saturating_sub(1));
    let Some(bar) = music.bars.get_mut(reader.bar) else { return };
    // What this part has said stands last.
    let mut own = bar.staves.iter_mut().rev().take_while(|(known, _)| known.part == staff.part);
    let Some((_, known)) = own.find(|(known, _)| *known == staff) else {
        bar.staves.push((staff, record));
        return;
    };
    known.distance = record.distance.or(known.distance);
    known.shown = record.shown.or(known.shown);
    known.lines = record.lines.or(known.lines);
    known.scale = record.scale.or(known.scale);
    known.role = record.role.or(known.role);
}

/// One part's "yes" outweighs another's "no".
fn join(known: &mut Option<bool>, said: Option<bool>) {
    if known.is_none() || said == Some(true) {
        *known = said;
    }
}
