//! The XML itself, read back.

use std::collections::BTreeSet;
use std::path::Path;

use super::{DOCUMENTS, all, child, each_document, each_draft, inflated, number, text};

const COMMITTED: [&[u8]; 4] = [
    include_bytes!("../../../src/demo/lantern-ferry-1.mxl"),
    include_bytes!("../../../src/demo/lantern-ferry-2.mxl"),
    include_bytes!("../../../src/demo/lantern-ferry-3.mxl"),
    include_bytes!("../../../src/demo/lantern-ferry-1-second.mxl"),
];

#[test]
fn the_committed_files_hold_what_the_program_writes() {
    let others = [crate::without_pages(), crate::second_draft()];
    for (bytes, document) in COMMITTED.iter().zip(DOCUMENTS.iter().chain(&others)) {
        assert!(inflated(bytes) == *document, "run the program again into src/demo");
        assert!(bytes.len() < 150_000, "{} bytes", bytes.len());
        let packed = crate::container::compressed(document).expect("packs");
        assert_eq!(packed, crate::container::compressed(document).expect("packs"), "the same bytes each time");
    }
}

#[test]
fn the_committed_parts_hold_what_the_program_writes() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/demo");
    let of_third = crate::parts::documents(&crate::without_pages()).expect("parts");
    let of_first = crate::parts::first::documents(&DOCUMENTS[0]).expect("parts");
    for (folder, parts) in [("parts", of_third), ("first-parts", of_first)] {
        assert_eq!(std::fs::read_dir(demo.join(folder)).expect("a folder").count(), parts.len(), "{folder}");
        for (name, document) in parts {
            let bytes = std::fs::read(demo.join(folder).join(format!("{name}.mxl"))).expect("a file");
            assert!(inflated(&bytes) == document, "{name}: run the program again into src/demo");
        }
    }
}

#[test]
fn every_voice_fills_every_bar() {
    each_draft(|movement, root| {
        for part in all(root, "part") {
            let mut bar_length = 0.0;
            for measure in all(part, "measure") {
                if let Some(time) = child(measure, "attributes").and_then(|attributes| child(attributes, "time")) {
                    bar_length = number(time, "beats") * 96.0 / number(time, "beat-type");
                }
                let sounding =
                    |note: &roxmltree::Node| child(*note, "grace").is_none() && child(*note, "chord").is_none();
                let voices: BTreeSet<_> = all(measure, "note").filter_map(|note| text(note, "voice")).collect();
                for voice in voices {
                    let in_voice =
                        all(measure, "note").filter(sounding).filter(|note| text(*note, "voice") == Some(voice));
                    let length: f64 = in_voice.map(|note| number(note, "duration")).sum();
                    let place = (movement.number, part.attribute("id"), measure.attribute("number"), voice);
                    assert_eq!(length, bar_length, "{place:?}");
                }
            }
        }
    });
}

#[test]
fn parts_and_instruments_are_declared_once_and_used() {
    each_draft(|_, root| {
        let list = child(root, "part-list").expect("a part list");
        let declared: Vec<_> = all(list, "score-part").filter_map(|part| part.attribute("id")).collect();
        let written: Vec<_> = all(root, "part").filter_map(|part| part.attribute("id")).collect();
        assert_eq!(declared, written);
        let ids = |tag: &'static str| {
            root.descendants().filter(move |node| node.has_tag_name(tag)).filter_map(|node| node.attribute("id"))
        };
        let instruments: BTreeSet<_> = ids("score-instrument").collect();
        assert_eq!(instruments.len(), ids("score-instrument").count());
        assert!(ids("instrument").all(|id| instruments.contains(id)));
        let unpitched = root.descendants().filter(|node| node.has_tag_name("unpitched"));
        assert!(unpitched.filter_map(|node| node.parent()).all(|note| child(note, "instrument").is_some()));
    });
}

#[test]
fn slurs_hairpins_tuplets_and_octave_lines_open_and_close_in_turn() {
    each_draft(|movement, root| {
        for part in all(root, "part") {
            let mut open = BTreeSet::new();
            for node in part.descendants() {
                let tag = node.tag_name().name();
                if !["slur", "wedge", "tuplet", "octave-shift"].contains(&tag) {
                    continue;
                }
                let holder = node.ancestors().find(|node| node.has_tag_name("note") || node.has_tag_name("direction"));
                let line = holder.map(|holder| (tag, text(holder, "staff"), text(holder, "voice")));
                let fits = if node.attribute("type") == Some("stop") { open.remove(&line) } else { open.insert(line) };
                let bar = node.ancestors().find_map(|node| node.attribute("width").and(node.attribute("number")));
                assert!(fits, "{line:?} in bar {bar:?} of {:?}, movement {}", part.attribute("id"), movement.number);
            }
            assert!(open.is_empty(), "{open:?} in {:?} of movement {}", part.attribute("id"), movement.number);
        }
    });
}

#[test]
fn every_tie_arrives() {
    each_draft(|movement, root| {
        for part in all(root, "part") {
            let ends = |kind| {
                part.descendants()
                    .filter(|node| node.has_tag_name("tie"))
                    .filter(|node| node.attribute("type") == Some(kind))
                    .count()
            };
            assert_eq!(ends("start"), ends("stop"), "{:?} of movement {}", part.attribute("id"), movement.number);
        }
    });
}

#[test]
fn the_first_movement_ends_with_attacca() {
    each_document(|movement, root| {
        let last = root.descendants().rfind(|node| node.has_tag_name("direction")).expect("a direction");
        let says_so = last.descendants().any(|node| node.text() == Some("attacca"));
        assert_eq!(says_so, movement == 1);
    });
}

#[test]
fn names_players_and_duration_stand_on_the_first_page() {
    each_document(|movement, root| {
        let words: Vec<&str> = all(root, "credit").filter_map(|credit| text(credit, "credit-words")).collect();
        let front =
            words.iter().any(|words| words.contains("Duration")) && words.iter().any(|words| words.contains("4 horns"));
        assert_eq!(front, movement == 1);
        let pages = all(root, "credit").filter(|credit| text(*credit, "credit-type") == Some("page number")).count();
        assert_eq!(pages, [14, 20][movement - 1]);
    });
}
