//! What hangs on a note: slurs, ties, articulations, ornaments, tremolo, fermatas.

use roxmltree::Node;

use super::note::ReadNote;
use crate::read::draft::Music;
use crate::read::xml;
use crate::score::Signs;

impl ReadNote {
    pub(super) fn notations(&mut self, node: Node<'_, '_>, music: &mut Music) {
        for (name, child) in xml::elements(node) {
            match name {
                "tied" => self.tie(child),
                "slur" => {
                    let slurs = &mut self.event.slurs;
                    match child.attribute("type") {
                        Some("start") => slurs.starts = slurs.starts.saturating_add(1),
                        Some("stop") => slurs.stops = slurs.stops.saturating_add(1),
                        _ => {}
                    }
                }
                "tuplet" => self.event.tuplet_starts |= child.attribute("type") == Some("start"),
                "articulations" | "technical" => {
                    for (name, _) in xml::elements(child) {
                        self.event.articulations = self.event.articulations.saturating_add(1);
                        self.event.signs = self.event.signs.and(Signs::named(name));
                    }
                }
                "ornaments" => self.ornaments(child, music),
                "fermata" => self.event.fermata = true,
                "arpeggiate" | "non-arpeggiate" => self.event.arpeggio = true,
                "dynamics" => self.dynamic(dynamics(child), child, music.tenth),
                other => music.oddities.unread(other),
            }
        }
    }

    fn ornaments(&mut self, node: Node<'_, '_>, music: &mut Music) {
        for (name, child) in xml::elements(node) {
            match name {
                "tremolo" => {
                    // Three strokes are a tremolo without measure.
                    let strokes = xml::whole::<u8>(child).filter(|strokes| *strokes <= 8).unwrap_or(3);
                    self.event.tremolo = self.event.tremolo.max(strokes);
                    self.event.signs = self.event.signs.and(Signs::named(name));
                    self.event.tremolo_between |= child.attribute("type") == Some("start");
                }
                // The line belongs to a trill; its accidental to the ornament beside it.
                "wavy-line" | "accidental-mark" => {}
                "trill-mark"
                | "turn"
                | "delayed-turn"
                | "inverted-turn"
                | "delayed-inverted-turn"
                | "vertical-turn"
                | "inverted-vertical-turn"
                | "shake"
                | "mordent"
                | "inverted-mordent"
                | "schleifer"
                | "haydn"
                | "other-ornament" => {
                    self.event.ornaments = self.event.ornaments.saturating_add(1);
                    self.event.signs = self.event.signs.and(Signs::named(name));
                }
                other => music.oddities.unread(other),
            }
        }
    }
}

/// The letters of a `dynamics` element: "mf", "sfz", or the file's own words.
pub(super) fn dynamics(node: Node<'_, '_>) -> String {
    let mut text = String::new();
    for (name, child) in xml::elements(node) {
        text.push_str(if name == "other-dynamics" { child.text().unwrap_or_default() } else { name });
    }
    xml::tidy(&text)
}
