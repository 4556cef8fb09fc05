//! The first movement's second draft against the first: what tests/lantern_ferry/README.md says of it is what is told.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use rastrum::check::{Compared, DraftFiles, DraftsOptions, PartChecked, PartsChecked, Reader, Unwatched, drafts};
use rastrum::compare::{Fate, FoundFate, Status, TurnFate};
use rastrum::place::BarIdx;
use rastrum::players::turning::TurnClass;
use rastrum::read::Input;
use rastrum::report;
use rastrum::report::terminal::Look;
use rastrum::rules::Weight;

static COMPARED: LazyLock<Compared> = LazyLock::new(|| {
    let draft = |name: &str, bytes: &'static [u8]| DraftFiles {
        name: name.to_owned(),
        inputs: vec![Input { name: "lantern-ferry-1", bytes }],
        ..DraftFiles::default()
    };
    let first_parts = [
        ("Harp.mxl", include_bytes!("../../src/demo/first-parts/Harp.mxl").as_slice()),
        ("Violins II.mxl", include_bytes!("../../src/demo/first-parts/Violins II.mxl")),
    ];
    let given = [
        DraftFiles {
            parts: first_parts.map(|(name, bytes)| Input { name, bytes }).to_vec(),
            ..draft("first", include_bytes!("../../src/demo/lantern-ferry-1.mxl"))
        },
        draft("second", include_bytes!("../../src/demo/lantern-ferry-1-second.mxl")),
    ];
    drafts(&given, &DraftsOptions::default(), &mut Unwatched).expect("two drafts")
});

fn name(reader: Reader) -> &'static str {
    match reader {
        Reader::Conductor => "Score",
        Reader::Player(at) => COMPARED.players[at].name.as_str(),
    }
}

fn part(draft: &'static PartsChecked, name: &str) -> &'static PartChecked {
    draft.parts.iter().find(|part| part.player.name == name).expect("a part")
}

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
fn crowded_places_are_told() {
    let count = |fate: FoundFate| {
        let own =
            COMPARED.findings.iter().filter(|(reader, change)| *reader == Reader::Conductor && change.fate == fate);
        own.filter(|(_, change)| change.weight >= Weight::Mend).count()
    };
    assert_eq!((count(FoundFate::Mended), count(FoundFate::New)), (3, 1));
}

#[test]
fn two_players_win_a_turn_and_the_conductor_loses_one() {
    let number = |bar: BarIdx| bar.0 + 1;
    let turns: Vec<_> = COMPARED
        .turns
        .iter()
        .flat_map(|own| own.changes.iter().map(|change| (name(own.reader), change)))
        .map(|(name, own)| (name, own.fate, own.old_after.map(number), own.new_after.map(number)))
        .collect();
    let expected = [
        ("Score", TurnFate::Lost, Some(80), Some(53)),
        ("Harp", TurnFate::Won, Some(76), Some(49)),
        ("Violins II", TurnFate::Won, Some(35), None),
    ];
    assert_eq!(turns, expected);
    let [old, new] = [&COMPARED.drafts[0], &COMPARED.drafts[1]].map(|draft| draft.parts.as_ref().expect("parts"));
    for (name, rule) in [("Harp", "turn-without-time"), ("Violins II", "turn-in-divisi")] {
        let pages = part(old, name).recorded.as_ref().expect("pages of its own");
        let classes: Vec<_> = pages.turns.iter().map(|turn| turn.point.class).collect();
        assert_eq!((pages.layout.pages.len(), classes), (3, vec![Some(TurnClass::None)]), "{name}");
        assert!(part(old, name).findings.iter().any(|finding| finding.rule == rule), "{name}");
        let proposed = &part(new, name).proposed;
        assert_eq!((proposed.pages.layout.pages.len(), proposed.turns.len()), (1, 0), "{name}");
        let mended = COMPARED.findings.iter().any(|(_, own)| own.rule == rule && own.fate == FoundFate::Mended);
        assert!(mended, "{name}");
    }
    assert!(old.set_aside.is_empty(), "{:?}", old.set_aside);
    let told = report::drafts::terminal(&COMPARED, Look::Plain, false, &[]);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("the conductor lost a turn at 53, Harp won a turn and Violins II won a turn."), "{told}");
}
