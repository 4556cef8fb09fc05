//! MusicXML 4.0 from a movement and its layout.

mod bar;
mod barline;
mod credits;
mod direction;
mod head;
mod note;
mod print;
mod xml;

use crate::layout::PageLayout;
use crate::orchestra::parts;
use crate::score::Movement;
use xml::Xml;

/// One partwise document.
pub fn document(movement: &Movement, pages: &[PageLayout]) -> String {
    let mut xml = Xml::new("score-partwise", &[("version", "4.0")]);
    head::write(&mut xml, movement, pages);
    for part in parts(movement.has_bell()) {
        xml.open("part", &[("id", part.id)]);
        bar::write_all(&mut xml, movement, pages, part);
        xml.close();
    }
    xml.finish()
}
