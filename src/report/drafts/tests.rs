use super::*;
use crate::check::{DraftFiles, DraftsOptions, PagesOnly, Printed, Reader, ReaderTurns, Unwatched, drafts};
use crate::compare::{FoundChange, FoundFate, Spot, TurnChange, TurnFate};
use crate::join::{Fit, Missing};
use crate::place::{BarIdx, BarSpan};
use crate::read::Input;
use crate::rules::Weight;

/// Parts by name, each with the steps of its bars above C: a bar is two half notes that follow from its step.
type Parts<'a> = &'a [(&'a str, Vec<usize>)];

fn score(parts: Parts<'_>) -> String {
    let head = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    let note = |step: usize| {
        let (name, octave) = (&"CDEFGAB"[step % 7..=step % 7], 4 + step / 7 % 3);
        format!(
            "<note><pitch><step>{name}</step><octave>{octave}</octave></pitch><duration>2</duration><type>half</type></note>"
        )
    };
    let bars = |steps: &[usize]| -> String {
        (1..)
            .zip(steps)
            .map(|(number, step)| {
                let head = if number == 1 { head } else { "" };
                let notes = note(*step) + &note(step * step + 3);
                format!("<measure number=\"{number}\">{head}{notes}</measure>")
            })
            .collect()
    };
    let list: String = (1..)
        .zip(parts)
        .map(|(nth, (name, _))| format!("<score-part id=\"P{nth}\"><part-name>{name}</part-name></score-part>"))
        .collect();
    let music: String =
        (1..).zip(parts).map(|(nth, (_, steps))| format!("<part id=\"P{nth}\">{}</part>", bars(steps))).collect();
    format!("<score-partwise version=\"4.0\"><part-list>{list}</part-list>{music}</score-partwise>")
}

fn compared(old: Parts<'_>, new: Parts<'_>) -> Compared {
    let (old, new) = (score(old), score(new));
    let given = [("old.musicxml", &old), ("new.musicxml", &new)].map(|(name, text)| DraftFiles {
        name: name.to_owned(),
        inputs: vec![Input { name, bytes: text.as_bytes() }],
        ..DraftFiles::default()
    });
    drafts(&given, &DraftsOptions::default(), &mut Unwatched).unwrap()
}

fn draft() -> Vec<(&'static str, Vec<usize>)> {
    vec![("Flute", (2..42).collect()), ("Violoncello", (5..45).collect())]
}

/// What the pages, the turns and the faults of made-up drafts are is no matter here.
fn music_alone(mut own: Compared) -> Compared {
    own.pages = crate::compare::Pages::default();
    own.turns.clear();
    own.findings.clear();
    own
}

fn said(old: Parts<'_>, new: Parts<'_>) -> String {
    words::headline(&music_alone(compared(old, new)))
}

fn change(fate: FoundFate, accepted: bool) -> FoundChange {
    let spot = Spot { page: Some("3".to_owned()), bars: Some(BarSpan::one(BarIdx(11))) };
    FoundChange {
        fate,
        key: String::new(),
        rule: "",
        weight: Weight::Mend,
        says: "Too crowded.".to_owned(),
        old: None,
        new: Some(spot),
        accepted,
    }
}

#[test]
fn the_headline_says_what_changed_and_nothing_else() {
    let old = draft();
    assert_eq!(said(&old, &old), "The music is the same.");
    let of = |bars: &[usize]| -> Vec<(&'static str, Vec<usize>)> {
        old.iter().map(|(name, steps)| (*name, bars.iter().map(|bar| steps[*bar]).collect())).collect()
    };
    let all: Vec<usize> = (0..40).collect();
    let without: Vec<usize> = [&all[..20], &all[27..]].concat();
    assert_eq!(said(&old, &of(&without)), "7 bars out.");
    assert_eq!(said(&of(&without), &old), "7 bars in.");
    let moved: Vec<usize> = [&all[..10], &all[15..30], &all[10..15], &all[30..]].concat();
    assert_eq!(said(&old, &of(&moved)), "5 bars moved.");
    let mut edited = old.clone();
    edited[0].1[12] += 1;
    edited.push(("Glockenspiel", (9..49).collect()));
    assert_eq!(said(&old, &edited), "1 bar edited; one part added.");
    assert_eq!(said(&edited, &old), "1 bar edited; one part dropped.");
}

#[test]
fn the_headline_counts_faults_and_turns_and_leaves_out_what_was_accepted() {
    let mut own = music_alone(compared(&draft(), &draft()));
    own.pages.old.pages = 4;
    own.pages.new.pages = 6;
    for (fate, accepted) in [
        (FoundFate::Mended, false),
        (FoundFate::Mended, false),
        (FoundFate::Mended, false),
        (FoundFate::New, false),
        (FoundFate::New, true),
    ] {
        own.findings.push((Reader::Conductor, change(fate, accepted)));
    }
    let lost = TurnChange { old_after: None, new_after: Some(BarIdx(7)), fate: TurnFate::Lost };
    own.turns.push(ReaderTurns { reader: Reader::Player(1), old: 1, new: 1, changes: vec![lost] });
    assert_eq!(
        words::headline(&own),
        "The music is the same; 2 pages longer; three places mended, one new; Violoncello lost a turn at 8."
    );
    own.pages_only = Some(PagesOnly::NoMusic);
    assert_eq!(words::headline(&own), "Compared as pages alone, since nobody gave the music; 2 pages longer.");
}

#[test]
fn an_excerpt_of_the_pages_is_no_shorter_score() {
    let mut own = compared(&draft(), &draft());
    assert!(!words::caution(&own).contains("excerpt"));
    own.findings.clear();
    own.turns.clear();
    own.pages.new.pages = 0;
    let missing = Missing { bars: BarSpan::new(BarIdx(0), BarIdx(11)), after: None, before: None };
    let fit = Fit { bars_matched: 28, bars_total: 40, pages: Vec::new(), systems: Vec::new(), missing: vec![missing] };
    let printed = Printed { name: "new.pdf".to_owned(), fit: Some(fit), unread: Vec::new() };
    own.drafts.last_mut().unwrap().checked.printed = Some(printed);
    assert_eq!(words::headline(&own), "The music is the same.");
    let told = "The pages of the new draft are an excerpt: 12 bars stand on none of them.";
    assert!(words::caution(&own).starts_with(told), "{}", words::caution(&own));
}

#[test]
fn one_fault_of_several_readers_is_told_once() {
    let own = compared(&draft(), &draft());
    let found = [0, 1].map(|at| (Reader::Player(at), change(FoundFate::New, false)));
    let lines = words::found_by_place(&found.iter().collect::<Vec<_>>(), &own);
    assert_eq!(lines, ["Flute and Violoncello, page 3, bar 12: Too crowded."]);
}

#[test]
fn one_fault_of_several_pages_is_told_once() {
    let own = compared(&draft(), &draft());
    let on = |page: &str, bar: u32| {
        let spot = Spot { page: Some(page.to_owned()), bars: Some(BarSpan::one(BarIdx(bar))) };
        (Reader::Conductor, FoundChange { new: Some(spot), ..change(FoundFate::New, false) })
    };
    let lines = |found: &[(Reader, FoundChange)]| words::found_by_place(&found.iter().collect::<Vec<_>>(), &own);
    assert_eq!(lines(&[on("3", 11), on("4", 15), on("8a", 20)]), ["Score, pages 3, 4 and 8a: Too crowded."]);
    assert_eq!(lines(&[on("3", 11), on("3", 14)]), ["Score, page 3, bar 12 and bar 15: Too crowded."]);
    // Other words are another fault.
    let other = (Reader::Conductor, FoundChange { says: "Too wide.".to_owned(), ..on("4", 15).1 });
    assert_eq!(lines(&[on("3", 11), other]).len(), 2);
}

#[test]
fn the_report_is_finished_whatever_changed() {
    let old = draft();
    let mut new = draft();
    new[0].1.drain(5..9);
    new[1].1.drain(5..9);
    new[1].1[20] += 2;
    let mut found = compared(&old, &new);
    for weight in [Weight::Stop, Weight::Mend, Weight::Look] {
        for (fate, accepted) in [(FoundFate::New, false), (FoundFate::Mended, false), (FoundFate::Kept, true)] {
            found.findings.push((Reader::Player(0), FoundChange { weight, ..change(fate, accepted) }));
        }
    }
    let mut alone = found.clone();
    alone.pages_only = Some(PagesOnly::OtherPieces(0.1));
    alone.music = crate::compare::Music::default();
    alone.matched = crate::compare::Matched::default();
    alone.reprint.clear();
    for own in [&compared(&old, &old), &found, &alone] {
        let document = pages::document(own);
        assert!(document.missing_characters().is_empty());
        assert!(document.finish().unwrap().starts_with(b"%PDF"));
    }
}
