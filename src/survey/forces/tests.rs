use super::*;
use crate::guidelines::ForcesStyle;
use crate::score::Family;
use crate::units::Seconds;

fn forces_of(names: &[&str]) -> Forces {
    let part = |name: &&str| crate::score::Part { name: (*name).to_owned(), ..crate::score::Part::default() };
    let score = Score { parts: names.iter().map(part).collect(), ..Score::default() };
    forces(&score)
}

fn dotted(names: &[&str]) -> String {
    forces_of(names).line(ForcesStyle::Dotted, None)
}

#[test]
fn a_symphony_orchestra_reads_as_in_a_catalogue() {
    let names = [
        "Flutes 1, 2",
        "2 Oboes",
        "Clarinet 1 in A",
        "Clarinet 2 in A",
        "Bassoons (2)",
        "Horn 1 in F",
        "Horn 2 in F",
        "Horns 3-4 in E flat",
        "Trumpet I",
        "Trumpet II",
        "Alto Trombone",
        "Tenor Trombone",
        "Bass Trombone",
        "Tuba",
        "Timpani",
        "Percussion 1",
        "Percussion 2",
        "Harp",
        "Violin I",
        "Violin II",
        "Viola",
        "Violoncello",
        "Double Bass",
    ];
    assert_eq!(dotted(&names), "2.2.2.2 - 4.2.3.1 - timp.2perc - hp - str");
    let named = forces_of(&names).line(ForcesStyle::Named, Some(Seconds(701.0)));
    let expected = "2 flutes, 2 oboes, 2 clarinets, 2 bassoons, 4 horns, 2 trumpets, 3 trombones, 1 tuba, timpani, \
                    percussion (2 players), 1 harp, strings; about 11'40\"";
    assert_eq!(named, expected);
}

#[test]
fn only_what_lasts_is_rounded_to_five_seconds() {
    let lasting = |seconds| forces_of(&["Flute"]).line(ForcesStyle::Dotted, Some(Seconds(seconds)));
    assert_eq!(lasting(2.4), "1.0.0.0; about 2 s");
    assert_eq!(lasting(12.6), "1.0.0.0; about 15 s");
}

#[test]
fn german_italian_and_french_names_are_understood() {
    let german = ["2 Fl\u{f6}ten", "1. Oboe", "2. Oboe", "2 H\u{f6}rner", "Pauken", "Bratsche"];
    assert_eq!(dotted(&german), "2.2.0.0 - 2.0.0.0 - timp - va");
    let italian = ["Flauto I", "Flauto II", "Ottavino", "Corno inglese", "Corni 1-4", "Arpa"];
    assert_eq!(dotted(&italian), "2+picc.ca.0.0 - 4.0.0.0 - hp");
    let french = ["2 Fl\u{fb}tes", "Hautbois 1", "Cor anglais", "Basson 1", "Contrebasson", "Altos"];
    assert_eq!(dotted(&french), "2.1+ca.0.1+cbn - va");
}

#[test]
fn a_plural_without_a_number_is_not_counted() {
    assert_eq!(dotted(&["Flutes", "Oboe 1", "Horns"]), "?.1.0.0 - ?.0.0.0");
    let named = forces_of(&["Flutes", "Oboe 1"]).line(ForcesStyle::Named, None);
    assert_eq!(named, "flutes, 1 oboe");
}

#[test]
fn doublings_name_the_player_who_doubles() {
    let mut score = Score::default();
    for (name, instruments) in [("Flute 1", vec!["Flute"]), ("Flute 2", vec!["Flute", "Piccolo"])] {
        let instruments = instruments.into_iter().map(str::to_owned).collect();
        score.parts.push(crate::score::Part { name: name.to_owned(), instruments, ..crate::score::Part::default() });
    }
    let forces = forces(&score);
    assert_eq!(forces.line(ForcesStyle::Dotted, None), "2(II=picc).0.0.0");
    assert_eq!(forces.line(ForcesStyle::Named, None), "2 flutes (2nd also piccolo)");
}

#[test]
fn players_of_another_size_are_counted_apart() {
    let names =
        ["A Clarinet 1", "A Clarinet 2", "A Bass Clarinet", "Bassoon 1", "Contrabassoon", "F Horn 1", "Eb Horn 2"];
    assert_eq!(dotted(&names), "0.0.2+bcl.1+cbn - 2.0.0.0");
}

#[test]
fn fewer_than_five_string_sections_are_named() {
    assert_eq!(dotted(&["Violin 1", "Violin 2", "Viola", "Violoncello"]), "vn I, vn II, va, vc");
    assert_eq!(dotted(&["Violin", "Violin", "Viola", "Violoncelli e Bassi"]), "str");
}

#[test]
fn a_bass_that_sings_is_no_double_bass() {
    let part =
        |name: &str, family| crate::score::Part { name: name.to_owned(), family, ..crate::score::Part::default() };
    let parts = vec![part("Soprano", Family::Voices), part("Bass", Family::Voices), part("Bass", Family::Strings)];
    let score = Score { parts, ..Score::default() };
    assert_eq!(forces(&score).line(ForcesStyle::Dotted, None), "S.B - db");
}

#[test]
fn percussion_instruments_do_not_tell_how_many_play_them() {
    assert_eq!(dotted(&["Triangle", "Bass Drum", "Celesta"]), "perc - cel");
}

#[test]
fn a_score_without_parts_has_no_forces() {
    assert_eq!(forces_of(&[]).line(ForcesStyle::Dotted, Some(Seconds(60.0))), "");
}

#[test]
fn every_part_stands_under_one_instrument_at_least() {
    let forces = forces_of(&["Flute 1", "Flute 2", "Kazoo", "Cello & Bass"]);
    let parts: Vec<(Instrument, usize)> =
        forces.players.iter().map(|entry| (entry.instrument, entry.parts.len())).collect();
    let expected =
        [(Instrument::Flute, 2), (Instrument::Cello, 1), (Instrument::DoubleBass, 1), (Instrument::Other, 1)];
    assert_eq!(parts, expected);
}
