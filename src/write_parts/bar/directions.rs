//! Directions of the player's staves: without what the staff says to others who share it.

use super::BarWriter;
use crate::read::Element;
use crate::score::{MarkKind, StaffMark};
use crate::write_parts::overhead::staff_of;
use crate::write_parts::tag;

impl<'a> BarWriter<'_, 'a> {
    /// The direction as far as it concerns the player; `nth` counts those of the part's bar.
    pub(super) fn direction(&mut self, element: &Element<'a>, nth: u32) {
        let Some(line) = self.line_of(staff_of(element)) else { return };
        let of_others = self.of_others(line, nth);
        let tells = |child: &Element<'_>| is_kept(child, &of_others) && child.name == "direction-type";
        let children = element.children();
        if children.iter().any(tells) || children.iter().any(|child| child.name == "sound") && of_others.is_empty() {
            let text = self.on_own_staff(element, line, &of_others);
            self.here();
            self.pen.write(&text);
        }
    }

    /// Elements in which this direction says something that the player's line is without.
    fn of_others(&self, line: usize, nth: u32) -> Vec<&'static str> {
        let (job, place) = (self.job, self.job.place);
        let Some(own) = job.own.lines.get(line) else { return Vec::new() };
        let Some(staff) = job.player.staves.get(own.at()) else { return Vec::new() };
        let said = place.score.cell(job.bar, *staff).map_or(&[][..], |cell| &cell.marks);
        let kept = job.player.music.cell(job.bar, *own).map_or(&[][..], |cell| &cell.marks);
        let is_of_this = |mark: &&StaffMark| mark.nth == Some(nth);
        let lost = said.iter().filter(is_of_this).filter(|mark| !kept.contains(mark));
        lost.filter_map(|mark| element_of(&mark.kind)).collect()
    }

    pub(super) fn on_own_staff(&self, element: &Element<'a>, line: usize, without: &[&str]) -> String {
        let mut content = String::new();
        let mut children = element.children();
        // Some programs write the staff after the sound, where it may not stand.
        children.sort_by_key(|child| child.name == "sound");
        for child in children.iter().filter(|child| is_kept(child, without)) {
            let text = match (child.name, self.number(line)) {
                ("staff", None) => continue,
                ("staff", Some(number)) => tag::around(child.head, &number.to_string()),
                _ => child.whole.to_owned(),
            };
            content.push_str(child.before);
            content.push_str(&text);
        }
        let end = element.inner.get(element.inner.trim_ascii_end().len()..).unwrap_or_default();
        tag::around(element.head, &(content + end))
    }
}

/// Whether a child of a direction says nothing of what these elements say.
fn is_kept(child: &Element<'_>, without: &[&str]) -> bool {
    child.name != "direction-type" || !child.children().iter().any(|inside| without.contains(&inside.name))
}

/// How a direction says it; `None` for ends of lines, which all who share a staff have.
fn element_of(kind: &MarkKind) -> Option<&'static str> {
    Some(match kind {
        MarkKind::Dynamic(_) => "dynamics",
        MarkKind::HairpinStart { .. } | MarkKind::HairpinStop { .. } => "wedge",
        MarkKind::Words(_) => "words",
        MarkKind::OctaveLineStart { .. } | MarkKind::OctaveLineStop { .. } => "octave-shift",
        MarkKind::PedalStart | MarkKind::PedalStop => "pedal",
        MarkKind::LineStart { .. } | MarkKind::LineStop { .. } => return None,
        MarkKind::Figures(_) | MarkKind::ChordSymbol => return None,
    })
}
