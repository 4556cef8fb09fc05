//! Outlines: what is read from small ones, and every trouble word for word.

use rastrum::limits::Limits;
use rastrum::read::{Input, read};

use crate::dump::dump;

#[test]
fn an_outline_is_read_as_its_snapshot_says() {
    for name in ["forces", "who-plays", "lengths"] {
        let path = format!("{}/tests/fixtures/outlines/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let bytes = std::fs::read(path).unwrap();
        let reading = read(&[Input { name: "plan.toml", bytes: &bytes }], &Limits::default()).unwrap();
        assert!(reading.score.is_outline());
        let settings = {
            let mut settings = insta::Settings::clone_current();
            settings.set_snapshot_path("../fixtures/outlines/read");
            settings.set_prepend_module_to_snapshot(false);
            settings.set_omit_expression(true);
            settings
        };
        settings.bind(|| insta::assert_snapshot!(name, dump(&reading)));
    }
}

fn errors_within(text: &str, limits: &Limits) -> Vec<String> {
    let errors = read(&[Input { name: "plan.toml", bytes: text.as_bytes() }], limits).unwrap_err();
    for error in &errors {
        assert!(error.kind.hint().is_some(), "no hint: {error}");
    }
    errors.iter().map(ToString::to_string).collect()
}

fn error(text: &str) -> String {
    let errors = errors_within(text, &Limits::default());
    assert_eq!(errors.len(), 1, "{errors:?}");
    errors.into_iter().next().unwrap()
}

/// A flute and two violins; sections begin on line 7.
fn section(lines: &str) -> String {
    let forces = ["Flute", "Violin I", "Violin II"].map(|name| format!("[[forces]]\nname = \"{name}\"\n"));
    format!("{}[[section]]\n{lines}\n", forces.concat())
}

#[test]
fn an_outline_is_known_by_its_ending_or_by_its_first_table() {
    let text = section("bars = 1\nmetre = \"4/4\"");
    for name in ["plan.toml", "plan.TOML", "standard input", "plan.txt"] {
        assert!(read(&[Input { name, bytes: text.as_bytes() }], &Limits::default()).is_ok(), "{name}");
    }
}

#[test]
fn nothing_to_play_or_nobody_to_play_it() {
    assert_eq!(
        errors_within("title = \"Void\"\n", &Limits::default()),
        ["plan.toml: the outline has no forces", "plan.toml: the outline has no bars"]
    );
    assert_eq!(error(&section("metre = \"4/4\"")), "plan.toml:7:1: the section has no bars");
    assert_eq!(error("[[section]]\nbars = 1\nmetre = \"4/4\"\n"), "plan.toml: the outline has no forces");
    assert_eq!(
        errors_within("[[forces]]\n[[section]]\nbars = 1\nmetre = \"4/4\"", &Limits::default()),
        ["plan.toml:1:1: an entry of the forces has no name"]
    );
}

#[test]
fn an_unknown_instrument_is_named_with_the_nearest_known() {
    let forces = |name: &str| format!("[[forces]]\nname = \"{name}\"\n[[section]]\nbars = 1\nmetre = \"4/4\"\n");
    assert_eq!(error(&forces("Obeo")), "plan.toml:2:8: the instrument \"Obeo\" is not known: did you mean \"Oboe\"?");
    assert_eq!(error(&forces("Electronics")), "plan.toml:2:8: the instrument \"Electronics\" is not known");
    let family = "[[forces]]\nname = \"Tape\"\nfamily = \"tapes\"\n[[section]]\nbars = 1\nmetre = \"4/4\"\n";
    assert_eq!(error(family), "plan.toml:3:10: no family is called \"tapes\"");
    let strings = "[[forces]]\nname = \"Viola\"\nplayers = 12\n[[section]]\nbars = 1\nmetre = \"4/4\"\n";
    assert_eq!(error(strings), "plan.toml:3:11: \"Viola\" has no number of players");
}

#[test]
fn forces_are_names_or_tables() {
    let one = "[[section]]\nbars = 1\nmetre = \"4/4\"\n";
    assert_eq!(
        error(&format!("forces = [\"Flute\", 3]\n{one}")),
        "plan.toml:1:20: an entry of the forces must be a name or a table"
    );
    assert_eq!(error(&format!("forces = \"Flute\"\n{one}")), "plan.toml:1:10: \"forces\" must be a list");
    assert_eq!(
        error(&format!("forces = [\"Flute\", \"Violun II\"]\n{one}")),
        "plan.toml:1:20: the instrument \"Violun II\" is not known: did you mean \"Violin\"?"
    );
    assert_eq!(error("forces = [\"Flute\"]\nsection = [1]\n"), "plan.toml:2:12: a section must be a table");
}

#[test]
fn who_plays_must_be_in_the_forces() {
    assert_eq!(
        error(&section("bars = 1\nmetre = \"4/4\"\nwho = [\"Violn\", \"Flute\"]")),
        "plan.toml:10:8: \"Violn\" is not in the forces: did you mean \"Violin I\"?"
    );
    assert_eq!(
        error(&section("bars = 1\nmetre = \"4/4\"\nexcept = \"Tuba\"")),
        "plan.toml:10:10: \"Tuba\" is not in the forces"
    );
    assert_eq!(
        error(&section("bars = 1\nmetre = \"4/4\"\nbusy = { brass = \"calm\" }")),
        "plan.toml:10:10: \"brass\" is not in the forces"
    );
    assert_eq!(error(&section("bars = 1\nmetre = \"4/4\"\nwho = 3")), "plan.toml:10:7: \"who\" must be names");
}

#[test]
fn metres_tempos_and_lengths_that_cannot_be() {
    assert_eq!(error(&section("bars = 1\nmetre = \"4/3\"")), "plan.toml:9:9: \"4/3\" is no metre");
    assert_eq!(error(&section("bars = 1")), "plan.toml:7:1: no metre is in force here");
    assert_eq!(error(&section("bars = 1\nmetre = \"4/4\"\ntempo = 0")), "plan.toml:10:9: 0 is no tempo");
    assert_eq!(
        error(&section("bars = 1\nmetre = \"4/4\"\ntempo = \"brisk\"")),
        "plan.toml:10:9: \"brisk\" is no tempo"
    );
    assert_eq!(
        error(&section("bars = 0\nmetre = \"4/4\"")),
        "plan.toml:8:8: \"bars\" must be a whole number from 1 to 200000"
    );
    assert_eq!(
        error(&section("minutes = 1\nmetre = \"4/4\"")),
        "plan.toml:8:11: the section states minutes, but neither bars nor a tempo to count them by"
    );
    assert_eq!(
        error(&section("minutes = 1\nbars = 3\ntempo = 60\nmetre = \"4/4\"")),
        "plan.toml:8:11: the section states bars, minutes and a tempo, of which two tell the third"
    );
    assert_eq!(
        error(&section("minutes = -1\ntempo = 60\nmetre = \"4/4\"")),
        "plan.toml:8:11: \"minutes\" must be a number above 0, at most 1000"
    );
    assert_eq!(
        error(&section("minutes = 900\nbars = 1\nmetre = \"4/4\"")),
        "plan.toml:8:11: 1 bars in 900 minutes is no tempo"
    );
}

#[test]
fn unknown_keys_and_words_are_named_with_the_nearest() {
    assert_eq!(
        error(&section("bars = 1\nmeter = \"4/4\"\nmetre = \"4/4\"")),
        "plan.toml:9:1: a section has no \"meter\": did you mean \"metre\"?"
    );
    assert_eq!(
        error(&section("bars = 1\nmetre = \"4/4\"\nbusy = \"bussy\"")),
        "plan.toml:10:8: nothing is \"bussy\" busy: did you mean \"busy\"?"
    );
    assert_eq!(
        error(&format!("colour = 1\n{}", section("bars = 1\nmetre = \"4/4\""))),
        "plan.toml:1:1: an outline has no \"colour\": it has title, composer, forces, section"
    );
    assert_eq!(error(&section("bars = = 1")), "plan.toml:8:8: extra `=`, expected nothing");
}

#[test]
fn all_troubles_are_told_together_and_in_order() {
    let text = section("bars = \"many\"\nmetre = \"4/5\"\n[[section]]\nbars = 3\nwho = [\"Tuba\"]\ntempo = -3");
    assert_eq!(
        errors_within(&text, &Limits::default()),
        [
            "plan.toml:8:8: \"bars\" must be a whole number from 1 to 200000",
            "plan.toml:9:9: \"4/5\" is no metre",
            "plan.toml:12:8: \"Tuba\" is not in the forces",
            "plan.toml:13:9: -3 is no tempo",
        ]
    );
}

#[test]
fn an_outline_keeps_to_the_limits_of_all_works() {
    let text = section("bars = 10\nmetre = \"4/4\"");
    let limits = Limits::default();
    let too_many = |limits: Limits| errors_within(&text, &limits);
    assert_eq!(too_many(Limits { bars: 9, ..limits }), ["plan.toml: more than 9 bars"]);
    assert_eq!(too_many(Limits { cells: 29, ..limits }), ["plan.toml: more than 29 bars times staves"]);
    assert_eq!(too_many(Limits { parts: 2, ..limits }), ["plan.toml: more than 2 parts"]);
    let movements = section("movement = \"I\"\nbars = 1\nmetre = \"4/4\"\n[[section]]\nmovement = \"II\"\nbars = 1");
    assert_eq!(errors_within(&movements, &Limits { movements: 1, ..limits }), ["plan.toml: more than 1 movements"]);
    let long = format!("{text}# {}", "-".repeat(1 << 20));
    assert_eq!(errors_within(&long, &limits), ["plan.toml: the music is larger than 1 MB when unpacked"]);
    assert!(read(&[Input { name: "plan.toml", bytes: text.as_bytes() }], &Limits { bars: 10, ..limits }).is_ok());
}

#[test]
fn an_outline_stands_alone() {
    let text = section("bars = 10\nmetre = \"4/4\"");
    let input = Input { name: "plan.toml", bytes: text.as_bytes() };
    let errors = read(&[input, input], &Limits::default()).unwrap_err();
    let texts: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(texts, ["plan.toml: this is an outline, which stands for a whole work by itself"; 2]);
}

/// Nothing is asserted of what comes out but that something does: an outline, or troubles with hints.
#[test]
fn no_damage_to_an_outline_is_fatal() {
    let whole = include_str!("../fixtures/outlines/salt-road.toml");
    let try_out = |text: &[u8]| match read(&[Input { name: "plan.toml", bytes: text }], &Limits::default()) {
        Ok(reading) => assert!(!reading.score.bars.is_empty()),
        Err(errors) => assert!(!errors.is_empty() && errors.iter().all(|error| error.kind.hint().is_some())),
    };
    for end in (0..whole.len()).step_by(7) {
        try_out(&whole.as_bytes()[..end]);
    }
    let lines: Vec<&str> = whole.lines().collect();
    for left_out in 0..lines.len() {
        let rest = lines.iter().enumerate().filter(|(at, _)| *at != left_out).map(|(_, line)| format!("{line}\n"));
        try_out(rest.collect::<String>().as_bytes());
    }
    let values = ["-1", "1e300", "nan", "\"\"", "[]", "[[]]", "{}", "1979-05-27", "true", "99999999999999999999"];
    for value in values {
        for at in 0..lines.len() {
            let damaged = lines.iter().enumerate().map(|(other, line)| match line.split_once(" = ") {
                Some((key, _)) if other == at => format!("{key} = {value}\n"),
                _ => format!("{line}\n"),
            });
            try_out(damaged.collect::<String>().as_bytes());
        }
    }
}
