//! The parts of the third movement against their score: each is what its table says (tests/lantern_ferry/README.md).

use std::path::Path;

use rastrum::check::{ProofOptions, Proofed, Unwatched, Verdict, proof};
use rastrum::proof::Class;
use rastrum::read::Input;

fn proofed() -> Proofed {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/demo");
    let mut paths: Vec<_> =
        std::fs::read_dir(folder.join("parts")).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.insert(0, folder.join("lantern-ferry-3.mxl"));
    let contents: Vec<(String, Vec<u8>)> = paths
        .iter()
        .map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read(path).unwrap()))
        .collect();
    let inputs: Vec<Input<'_>> = contents.iter().map(|(name, bytes)| Input { name, bytes }).collect();
    proof(&inputs, &ProofOptions::default(), &mut Unwatched).unwrap()
}

#[test]
fn every_part_is_what_was_made_of_it() {
    let proofed = proofed();
    let of = |verdict: Verdict| -> Vec<&str> {
        let parts = proofed.parts.iter().filter(|part| part.verdict == verdict);
        parts.map(|part| part.player.name.as_str()).collect()
    };
    assert_eq!(of(Verdict::NotThere), ["Trombone 1"]);
    assert_eq!(of(Verdict::Tacet), ["Contrabassoon"]);
    assert_eq!(of(Verdict::CannotTell), ["Oboe 1", "Oboe 2"]);
    assert_eq!(of(Verdict::OtherDraft), ["Violins I"]);
    assert_eq!(
        of(Verdict::Differs),
        ["Clarinet in B\u{266d} 1", "Bassoon 1", "Horn in F 1", "Horn in F 4", "Tuba", "Violins II", "Cellos"]
    );
    assert_eq!(of(Verdict::Same).len(), 17);
    assert!(proofed.set_aside.is_empty(), "{:?}", proofed.set_aside);
}

#[test]
fn each_fault_is_one_line_where_it_was_put() {
    let proofed = proofed();
    let told: Vec<(String, Class, u32, u32)> = proofed
        .differences()
        .filter(|(part, ..)| part.verdict == Verdict::Differs)
        .map(|(part, _, own)| (part.player.name.clone(), own.class, own.bars.first.0 + 1, own.bars.last.0 + 1))
        .collect();
    let expected = [
        ("Clarinet in B\u{266d} 1", Class::Passage, 123, 130),
        ("Bassoon 1", Class::MissingBars, 47, 50),
        ("Horn in F 1", Class::Landmark, 130, 130),
        ("Horn in F 4", Class::Words, 95, 95),
        ("Tuba", Class::RestCount, 9, 24),
        ("Tuba", Class::RestAcrossLandmark, 9, 32),
        ("Violins II", Class::BarNumbers, 92, 160),
        ("Cellos", Class::Tempo, 93, 93),
    ];
    let expected = expected.map(|(name, class, first, last)| (name.to_owned(), class, first, last));
    assert_eq!(told, expected);
}

#[test]
fn the_harp_is_respelt_and_the_oboes_have_one_open_place() {
    let proofed = proofed();
    let file = |name: &str| {
        let part = proofed.parts.iter().find(|part| part.player.name == name).unwrap();
        &part.files[0].proof
    };
    assert_eq!(file("Harp").same.len(), 1);
    assert!(file("Harp").same[0].what.contains("spelt otherwise"));
    for name in ["Oboe 1", "Oboe 2"] {
        let open = &file(name).cannot_tell;
        assert_eq!((open.len(), open[0].bars.first.0 + 1, open[0].bars.last.0 + 1), (1, 95, 97), "{name}");
    }
}
