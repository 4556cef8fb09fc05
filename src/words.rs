//! Small pieces of running text that rules and reports share.

/// "1 bar", "3 bars": a count with its noun.
#[must_use]
pub fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

/// "one bar", "three bars", "14 bars": the same in running text.
#[must_use]
pub fn counted_in_words(count: usize, noun: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{} {noun}{plural}", in_words(count))
}

/// "no", "three", "14": numbers up to twelve as running text has them.
#[must_use]
pub fn in_words(count: usize) -> String {
    const WORDS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    WORDS.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

/// "3", "3 and 4", "3, 4 and 7": everything there is.
#[must_use]
pub fn all_listed<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// The same, cut where nobody reads on: "3, 4, 7, 8 and 12 more".
#[must_use]
pub fn listed(items: impl IntoIterator<Item = String>) -> String {
    const SHOWN: usize = 4;
    let mut items: Vec<String> = items.into_iter().collect();
    if items.len() > SHOWN + 1 {
        let more = items.len() - SHOWN;
        items.truncate(SHOWN);
        items.push(format!("{more} more"));
    }
    all_listed(&items)
}

/// With a capital, to begin a sentence.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(count: usize) -> String {
        listed((1..=count).map(|n| n.to_string()))
    }

    #[test]
    fn long_lists_are_cut_where_nobody_reads_on() {
        assert_eq!(words(0), "");
        assert_eq!(words(1), "1");
        assert_eq!(words(2), "1 and 2");
        assert_eq!(words(5), "1, 2, 3, 4 and 5");
        assert_eq!(words(14), "1, 2, 3, 4 and 10 more");
    }

    #[test]
    fn a_sentence_begins_with_a_capital_whatever_the_alphabet() {
        assert_eq!(sentence("page 3"), "Page 3");
        assert_eq!(sentence("über"), "Über");
        assert_eq!(sentence(""), "");
    }

    #[test]
    fn one_bar_is_no_bars() {
        assert_eq!(counted(1, "bar"), "1 bar");
        assert_eq!(counted(2, "bar"), "2 bars");
    }

    #[test]
    fn small_numbers_are_words_and_large_ones_figures() {
        assert_eq!(counted_in_words(1, "place"), "one place");
        assert_eq!(counted_in_words(12, "place"), "twelve places");
        assert_eq!(counted_in_words(13, "place"), "13 places");
    }
}
