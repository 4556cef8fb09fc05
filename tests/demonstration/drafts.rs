//! The first movement's second draft against the first: what tests/lantern_ferry/README.md says of it is what is told.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use rastrum::check::{Compared, DraftFiles, DraftsOptions, Reader, Unwatched, drafts};
use rastrum::compare::{Fate, FoundFate, Status, TurnFate};
use rastrum::read::Input;
use rastrum::rules::Weight;

static COMPARED: LazyLock<Compared> = LazyLock::new(|| {
    let draft = |name: &str, bytes: &'static [u8]| DraftFiles {
        name: name.to_owned(),
        inputs: vec![Input { name: "lantern-ferry-1", bytes }],
        ..DraftFiles::default()
    };
    let given = [
        draft("first", include_bytes!("../../src/demo/lantern-ferry-1.mxl")),
        draft("second", include_bytes!("../../src/demo/lantern-ferry-1-second.mxl")),
    ];
    drafts(&given, &DraftsOptions::default(), &mut Unwatched).expect("two drafts")
});

#[test]
fn bars_are_cut_moved_and_edited_as_written() {
    let music = &COMPARED.music;
    let of = |status: Status| -> Vec<(Option<u32>, Option<u32>)> {
        let own = music.bars.iter().filter(|bar| bar.status == status);
        own.map(|bar| (bar.old.map(|bar| bar.0 + 1), bar.new.map(|bar| bar.0 + 1))).collect()
    };
    assert_eq!(of(Status::Deleted), (33..=39).map(|bar| (Some(bar), None)).collect::<Vec<_>>());
    let block = (65..=69).chain(74..=80).zip(42..=53).map(|(old, new)| (Some(old), Some(new)));
    assert_eq!(of(Status::Moved), block.collect::<Vec<_>>());
    let edited: Vec<Option<u32>> = of(Status::Edited).into_iter().map(|(_, new)| new).collect();
    assert_eq!(edited, [13, 25, 54, 58, 70, 74].map(Some));
    assert_eq!((of(Status::Inserted).len(), music.parts.iter().filter(|part| part.old.is_none()).count()), (0, 1));
}

#[test]
fn eleven_parts_are_printed_and_the_others_need_a_pencil() {
    let name = |reader: Reader| match reader {
        Reader::Conductor => "Score",
        Reader::Player(at) => COMPARED.players[at].name.as_str(),
    };
    let printed: BTreeSet<&str> =
        COMPARED.reprint.iter().filter(|own| own.is_printed()).map(|own| name(own.reader)).collect();
    let expected = [
        "Cellos",
        "Clarinet in B\u{266d} 1",
        "Double basses",
        "English horn in F",
        "Flute 1",
        "Harp",
        "Percussion 1",
        "Percussion 3",
        "Score",
        "Violas",
        "Violins I",
        "Violins II",
    ];
    assert_eq!(printed.into_iter().collect::<Vec<_>>(), expected);
    let others: Vec<_> = COMPARED.reprint.iter().filter(|own| !own.is_printed()).collect();
    assert_eq!(others.len(), 19);
    assert!(others.iter().all(|own| own.of_fate(Fate::ByHand).next().is_some() && !own.sheets.errata.is_empty()));
}

#[test]
fn crowded_places_and_turns_are_told() {
    let count = |fate: FoundFate| {
        let own =
            COMPARED.findings.iter().filter(|(reader, change)| *reader == Reader::Conductor && change.fate == fate);
        own.filter(|(_, change)| change.weight >= Weight::Mend).count()
    };
    assert_eq!((count(FoundFate::Mended), count(FoundFate::New)), (2, 1));
    let turns: Vec<(Reader, TurnFate)> =
        COMPARED.turns.iter().flat_map(|own| own.changes.iter().map(|change| (own.reader, change.fate))).collect();
    assert_eq!(turns, [(Reader::Conductor, TurnFate::Lost)]);
}
