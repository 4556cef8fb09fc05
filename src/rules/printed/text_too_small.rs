//! Words of the music in type that is too small.

use super::PRINTED;
use crate::guidelines::{Guidelines, Limit, Mismatch, Points};
use crate::layout::{PageKind, SeenWords, WordsKind};
use crate::place::{PageIdx, Place};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// The size of the type that instructions are set in.
pub(in crate::rules) struct TextTooSmall {
    score_words: Limit<Points>,
    part_words: Limit<Points>,
}

/// Fewer letters are names of fingers and strings, not words.
const LETTERS: usize = 3;

impl Rule for TextTooSmall {
    const NAME: &'static str = "text-too-small";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(TextTooSmall { score_words: limits.take("score-words")?, part_words: limits.take("part-words")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.seen_pages().next().is_none() {
            return Outcome::CouldNotRun(PRINTED.to_owned());
        }
        let limit = case.limit(&self.score_words, &self.part_words);
        let small: Vec<(PageIdx, &SeenWords)> = case
            .seen_pages()
            .filter(|(_, page, _)| page.kind != PageKind::Part)
            .flat_map(|(at, page, seen)| {
                let music = page.systems.iter().map(|system| system.rect).reduce(|all, own| all.union(&own));
                let near = move |words: &&SeenWords| music.is_some_and(|music| is_of_music(words, &music));
                let own = seen.words.iter().filter(near);
                own.map(move |words| (at, words))
            })
            .filter(|(_, words)| points(words.size) < limit.value.0)
            .collect();
        let least = small.iter().min_by(|a, b| a.1.size.0.total_cmp(&b.1.size.0));
        let Some((at, words)) = least else { return Outcome::Ran(Vec::new()) };
        let found = format!("{:.1} pt", points(words.size));
        let pages = pages(&small);
        let message = format!(
            "{}: \"{}\" stands in type of {found}; words below {} on {}.",
            case.page_words(*at),
            words.text,
            limit.value,
            case.pages_words(&pages),
        );
        let place = |(at, words): &(PageIdx, &SeenWords)| Place { rect: Some(words.rect), ..case.on_page(*at) };
        // Once a page is enough to find them by; what holds nearly throughout is shown where it is worst.
        let throughout = pages.len() * 5 > case.music_pages().count() * 4;
        let shown: Vec<(PageIdx, &SeenWords)> = if throughout {
            vec![(*at, *words)]
        } else {
            small
                .chunk_by(|a, b| a.0 == b.0)
                .filter_map(|page| page.iter().min_by(|a, b| a.1.size.0.total_cmp(&b.1.size.0)).copied())
                .collect()
        };
        let worst = shown.iter().position(|(_, own)| std::ptr::eq(*own, *words));
        let finding = Finding::beyond(limit, case.key(Self::NAME, Scope::Work, None, None), found);
        Outcome::Ran(vec![finding.at(shown.iter().map(place).collect()).worst_at(worst).says(message)])
    }
}

/// Between the music's first staff and its last one, give or take what stands over and under them.
fn is_of_music(words: &SeenWords, music: &crate::geometry::Rect) -> bool {
    let letters = words.text.chars().filter(|letter| letter.is_alphabetic()).count();
    words.kind == WordsKind::Music && letters >= LETTERS && music.grown(Mm(8.0)).overlaps(&words.rect)
}

fn points(size: Mm) -> f64 {
    // Sizes are told in tenths of a point.
    (size / Mm::INCH * 720.0).round() / 10.0
}

fn pages(small: &[(PageIdx, &SeenWords)]) -> Vec<PageIdx> {
    let mut pages: Vec<PageIdx> = small.iter().map(|(at, _)| *at).collect();
    pages.dedup();
    pages
}
