//! The words that terminal, pages and JSON share.

use crate::check::{PartFile, Proofed, ProofedPart, Verdict};
use crate::guidelines::Weight;
use crate::proof::{Class, Difference};
use crate::score::Score;
use crate::words::{counted, counted_in_words, sentence};

/// In the published JSON.
pub(super) fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "same",
        Verdict::CannotTell => "cannot-tell",
        Verdict::Differs => "differs",
        Verdict::OtherDraft => "other-draft",
        Verdict::NotThere => "not-there",
        Verdict::Tacet => "tacet",
    }
}

/// As a librarian says it, of one part.
pub(super) fn verdict(part: &ProofedPart) -> String {
    match part.verdict {
        Verdict::Same if part.not_there.is_empty() => {
            let otherwise = part.files.iter().any(|file| !file.proof.same.is_empty());
            if otherwise { "the same to the player".to_owned() } else { "the same".to_owned() }
        }
        Verdict::CannotTell if part.not_there.is_empty() => "the same, as far as the score tells".to_owned(),
        Verdict::Same | Verdict::CannotTell => {
            format!("the same; {} without a file", counted(part.not_there.len(), "movement"))
        }
        Verdict::Differs => "differs".to_owned(),
        Verdict::OtherDraft => "of another draft".to_owned(),
        Verdict::NotThere => "not there".to_owned(),
        Verdict::Tacet => "tacet, no part needed".to_owned(),
    }
}

/// What a weight means at the first rehearsal.
pub(super) fn weight(weight: Weight) -> &'static str {
    match weight {
        Weight::Stop => "stops the rehearsal",
        Weight::Mend => "spoils the concert",
        Weight::Look => "polish",
    }
}

/// The beat that a difference begins on, in the score's metre; `None` where it is about whole bars.
pub(super) fn beat(own: &Difference, score: &Score) -> Option<String> {
    own.onset.map(|onset| crate::proof::beat_number(onset, score.bar(own.bars.first)))
}

/// "bar 40, beat 3", "bars 12 to 16"; with the part's own number where that is another.
pub(super) fn place(own: &Difference, file: &PartFile, score: &Score) -> String {
    let bars = score.span_label(own.bars);
    let beat = beat(own, score).map_or_else(String::new, |beat| format!(", beat {beat}"));
    let there = own.part_bars.map(|bars| file.music.label(bars.first).to_owned());
    let other = there.filter(|label| *label != score.label(own.bars.first) && own.class != Class::BarNumbers);
    let other = other.map_or_else(String::new, |label| format!(" ({label} in the part)"));
    format!("{bars}{beat}{other}")
}

/// "Bar 40, beat 3: pitch. Score: F sharp 4. Part: F 4."
pub(super) fn told(own: &Difference, file: &PartFile, score: &Score) -> String {
    format!("{}: {}. Score: {}. Part: {}.", sentence(&place(own, file, score)), own.class.title(), own.score, own.part)
}

/// A difference with its number and the file it is of.
pub(super) type Numbered<'a> = (usize, &'a PartFile, &'a Difference);

/// All differences of a part.
pub(super) fn numbered(part: &ProofedPart) -> impl Iterator<Item = Numbered<'_>> {
    part.files.iter().flat_map(|file| {
        (file.first_number..).zip(&file.proof.differences).map(move |(number, own)| (number, file, own))
    })
}

/// How many parts are how, in one sentence.
pub(super) fn headline(proofed: &Proofed) -> String {
    let Some(alone) = &proofed.alone else { return of_set(proofed) };
    let heavy = alone.iter().filter(|finding| finding.weight >= Weight::Mend).count();
    match (alone.len(), heavy) {
        (0, _) => "The score alone: nothing found that parts would inherit.".to_owned(),
        (all, 0) => format!("The score alone: {} worth a look before parts are made.", counted_in_words(all, "thing")),
        (_, heavy) => format!("The score alone: {} to mend before parts are made.", counted_in_words(heavy, "thing")),
    }
}

fn of_set(proofed: &Proofed) -> String {
    let count = |verdicts: &[Verdict]| proofed.parts.iter().filter(|part| verdicts.contains(&part.verdict)).count();
    let ready = proofed.parts.iter().filter(|part| is_ready(part)).count();
    let all = proofed.parts.iter().filter(|part| part.verdict != Verdict::Tacet).count();
    let mut said = vec![if ready == all && all > 0 {
        format!("All {} may go on the stands", counted(all, "part"))
    } else {
        format!("{ready} of {} may go on the stands", counted(all, "part"))
    }];
    let verb = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let mut add = |count: usize, one: &str, many: &str| {
        if count > 0 {
            said.push(verb(count, one, many));
        }
    };
    add(count(&[Verdict::Differs]), "differs from the score", "differ from the score");
    add(count(&[Verdict::OtherDraft]), "is of another draft", "are of another draft");
    add(count(&[Verdict::CannotTell]), "cannot be told in every bar", "cannot be told in every bar");
    let only_pages = proofed.parts.iter().filter(|part| is_same(part) && !is_ready(part)).count();
    add(only_pages, "is right, but its sheet is to be mended", "are right, but their sheets are to be mended");
    add(count(&[Verdict::NotThere]), "is not there", "are not there");
    format!("{}.", said.join("; "))
}

fn is_same(part: &ProofedPart) -> bool {
    part.verdict == Verdict::Same && part.not_there.is_empty()
}

/// Nothing differs, and nothing of its pages has to be mended.
pub(super) fn is_ready(part: &ProofedPart) -> bool {
    is_same(part) && part.to_mend() == 0
}

/// Sums over all files of a part: bars, notes.
pub(super) fn compared(part: &ProofedPart) -> (u32, u32) {
    part.files.iter().fold((0, 0), |sum, file| (sum.0 + file.proof.bars, sum.1 + file.proof.notes))
}

/// How many differences of each weight: stop, mend, look.
pub(super) fn weights(part: &ProofedPart) -> [usize; 3] {
    let count = |weight: Weight| {
        let all = part.files.iter().flat_map(|file| &file.proof.differences);
        all.filter(|own| own.weight() == weight).count()
    };
    [Weight::Stop, Weight::Mend, Weight::Look].map(count)
}

/// What no comparison sees.
pub(super) const NOT_LOOKED_AT: &str = "bowings and fingerings, whether a cue makes sense, what collides or is hard to \
     read, spelling for the hand, figures and chord symbols, and whether the score itself is right";
