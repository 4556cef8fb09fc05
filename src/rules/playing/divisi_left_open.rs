//! Sections told to divide and never told to come together again.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, EventKind, Family, MarkKind, Score};
use crate::units::Fraction;
use crate::words::listed;

/// A "div." wants its "unis." before the next double stop.
pub(in crate::rules) struct DivisiLeftOpen {
    weight: Weight,
}

/// What a word says of dividing.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Divides {
    Open,
    Close,
}

impl Rule for DivisiLeftOpen {
    const NAME: &'static str = "divisi-left-open";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(DivisiLeftOpen { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let is_section = case.score.parts.iter().all(|part| part.family == Family::Strings);
        let staves = case.score.staves.len();
        if !is_section || staves != 1 {
            // Sections on several staves are divided by them.
            return Outcome::Ran(Vec::new());
        }
        Outcome::Ran(self.left_open(case).into_iter().chain(self.how_many(case)).collect())
    }
}

impl DivisiLeftOpen {
    fn left_open(&self, case: &Case<'_>) -> Option<Finding> {
        let open: Vec<(BarIdx, BarIdx)> =
            case.score.movements.iter().flat_map(|movement| left_open(case.score, movement.bars)).collect();
        let (first, doubtful) = open.first().copied()?;
        let message = match open.len() {
            1 => format!(
                "\"div.\" at {} is not taken back where one line follows; whether the two notes at {} are divided, nothing says.",
                case.bar_words(first),
                case.bar_words_here(doubtful)
            ),
            several => {
                let bars = open.iter().map(|(bar, _)| case.bar_words(*bar));
                format!(
                    "\"div.\" is {several} times not taken back where one line follows, and two notes come again: {}.",
                    listed(bars)
                )
            }
        };
        let place = |(bar, doubtful): &(BarIdx, BarIdx)| case.on_bars(BarSpan::new(*bar, *doubtful), &[]);
        let key = case.key(Self::NAME, Scope::Bar, None, Some(first));
        let finding = Finding::unlimited(self.weight, key, "\"div.\" without \"unis.\"")
            .asks("\"unis.\" where all play one line again")
            .at(open.iter().map(place).collect())
            .says(message);
        Some(finding)
    }

    /// "div." over chords of three notes and more that do not say in how many.
    fn how_many(&self, case: &Case<'_>) -> Option<Finding> {
        let bars = case.score.all_bars()?;
        let untold: Vec<BarIdx> = bars
            .iter()
            .filter(|bar| case.score.cell(*bar, StaffId(0)).is_some_and(|cell| divides_untold(cell) && has_three(cell)))
            .collect();
        let first = *untold.first()?;
        let at = listed(untold.iter().map(|bar| case.bar_words(*bar)));
        let mut key = case.key(Self::NAME, Scope::Bar, None, Some(first));
        key.nth = 1;
        Some(
            Finding::unlimited(self.weight, key, "\"div.\" without a number")
                .asks("\"div. a 3\", or staves of their own")
                .at(untold.iter().map(|bar| case.on_bars(BarSpan::one(*bar), &[])).collect())
                .says(format!("\"div.\" stands over three notes and more at {at}: in how many, nothing says."))
                .with_remedy("Say in how many the section divides, and by desks or inside them."),
        )
    }
}

/// A word that divides and names no number, in figures or as a word of one of the usual languages.
fn divides_untold(cell: &Cell) -> bool {
    const NUMBERS: [&str; 8] = ["tre", "three", "drei", "trois", "quatt", "four", "vier", "quatre"];
    cell.marks.iter().any(|mark| match &mark.kind {
        MarkKind::Words(text) => {
            let folded = text.to_lowercase();
            let numbered =
                folded.chars().any(|c| c.is_ascii_digit()) || NUMBERS.iter().any(|word| folded.contains(word));
            matches!(divides(text), Some(Divides::Open)) && !numbered
        }
        _ => false,
    })
}

fn has_three(cell: &Cell) -> bool {
    let notes = |event: &crate::score::Event| match &event.kind {
        EventKind::Chord(notes) if event.printed && !event.cue => notes.len(),
        _ => 0,
    };
    cell.events.iter().any(|event| notes(event) >= 3)
}

/// Bars with a "div." that nothing takes back, each with the first bar of two notes after one line was played: are they
/// divided still, or double stops? As long as two notes stand there, or one line from then on, all is plain.
fn left_open(score: &Score, movement: BarSpan) -> Vec<(BarIdx, BarIdx)> {
    let mut found = Vec::new();
    // Where the section divided, and whether it has had one line since.
    let mut open: Option<(BarIdx, bool)> = None;
    for bar in movement.iter() {
        let Some(cell) = score.cell(bar, StaffId(0)) else { break };
        match words(cell).last() {
            Some(Divides::Open) => open = Some((bar, false)),
            Some(Divides::Close) => open = None,
            None => {}
        }
        let Some((from, had_one_line)) = &mut open else { continue };
        if !cell.sounds() {
            continue;
        }
        if is_one_line(cell) {
            *had_one_line |= *from < bar;
        } else if *had_one_line {
            found.push((*from, bar));
            open = None;
        }
    }
    found
}

fn words(cell: &Cell) -> impl Iterator<Item = Divides> {
    cell.marks.iter().filter_map(|mark| match &mark.kind {
        MarkKind::Words(text) => divides(text),
        _ => None,
    })
}

/// In the usual languages.
fn divides(text: &str) -> Option<Divides> {
    let text = text.trim().to_lowercase();
    let first = text.trim_matches(|letter: char| !letter.is_alphanumeric());
    let closing =
        ["unis", "non div", "nicht geteilt", "nicht get", "tutti", "zusammen", "ensemble", "insieme", "tous", "a 1"];
    let opening = ["div", "get.", "geteilt", "get "];
    if closing.iter().any(|word| text.contains(word)) {
        Some(Divides::Close)
    } else if opening.iter().any(|word| text.starts_with(word)) || first == "get" {
        Some(Divides::Open)
    } else {
        None
    }
}

/// Neither chords nor a second voice.
fn is_one_line(cell: &Cell) -> bool {
    let mut last_end: Option<Fraction> = None;
    for event in cell.events.iter().filter(|event| event.printed && !event.cue && !event.length.is_zero()) {
        let EventKind::Chord(notes) = &event.kind else { continue };
        if notes.len() > 1 || last_end.is_some_and(|end| event.onset < end) {
            return false;
        }
        last_end = event.onset.checked_add(event.length);
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{put, quarter, score};
    use crate::score::StaffMark;

    fn say(score: &mut Score, bar: usize, text: &str) {
        let kind = MarkKind::Words(text.to_owned());
        score.cells[bar].marks.push(StaffMark::new(Fraction::ZERO, kind));
    }

    #[test]
    fn two_notes_after_one_line_are_divided_or_double_stops_and_nobody_knows() {
        let mut score = score(&[("Viola", Family::Strings, 1)], 4);
        say(&mut score, 0, "div. a 2");
        for bar in 0..4 {
            put(&mut score, bar, 0, vec![quarter("C4", 0), quarter("E4", 0)]);
        }
        let all = score.all_bars().unwrap();
        assert_eq!(left_open(&score, all), []);
        put(&mut score, 2, 0, vec![quarter("C4", 0)]);
        assert_eq!(left_open(&score, all), [(BarIdx(0), BarIdx(3))]);
        say(&mut score, 2, "unis.");
        assert_eq!(left_open(&score, all), []);
    }

    #[test]
    fn one_line_to_the_end_leaves_no_doubt() {
        let mut score = score(&[("Viola", Family::Strings, 1)], 4);
        say(&mut score, 0, "div.");
        put(&mut score, 0, 0, vec![quarter("C4", 0), quarter("E4", 0)]);
        put(&mut score, 2, 0, vec![quarter("C4", 0)]);
        let all = score.all_bars().unwrap();
        assert_eq!(left_open(&score, all), []);
    }

    #[test]
    fn three_notes_want_a_number() {
        let mut part = crate::rules::tests::ByHand::new(Family::Strings, crate::players::Hands::Section, 1);
        let notes = |steps: &[u8]| {
            let quarter = quarter("C4", 0);
            let EventKind::Chord(one) = &quarter.kind else { return quarter };
            let note = |step: &u8| {
                let pitch = crate::score::Pitch { step: *step, ..one[0].pitch };
                crate::score::Note { pitch, ..one[0].clone() }
            };
            crate::score::Event { kind: EventKind::Chord(steps.iter().map(note).collect()), ..quarter.clone() }
        };
        put(&mut part.player.music, 1, 0, vec![notes(&[0, 2])]);
        put(&mut part.player.music, 3, 0, vec![notes(&[0, 2, 4])]);
        assert_eq!(part.says::<DivisiLeftOpen>(), [""; 0]);
        let part = part.print(1, "div.").print(3, "div.");
        let said = part.says::<DivisiLeftOpen>();
        assert_eq!(said, ["\"div.\" stands over three notes and more at bar 4: in how many, nothing says."]);
        let mut told = part;
        told.player.music.cells[3].marks.clear();
        assert_eq!(told.print(3, "div. a 3").says::<DivisiLeftOpen>(), [""; 0]);
    }

    #[test]
    fn words_about_dividing_are_known_in_the_usual_languages() {
        for open in ["div.", "Div. a 3", "divisi", "get.", "geteilt", "divis\u{e9}s"] {
            assert!(divides(open) == Some(Divides::Open), "{open}");
        }
        for close in ["unis.", "unis", "non div.", "nicht geteilt", "tutti"] {
            assert!(divides(close) == Some(Divides::Close), "{close}");
        }
        assert!(divides("dolce").is_none() && divides("gestopft").is_none());
    }
}
