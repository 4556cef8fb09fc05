//! How many players a part's name tells of: "Flutes 1, 2", "2 Flutes", "Horns (4)", "Fl. I/II".

/// What the numbers in a name say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Count {
    /// Which players of the instrument, counted from 1.
    Ordinals(Vec<u32>),
    /// How many, without saying which.
    Players(u32),
    /// A name in the singular.
    One,
    /// A plural without a number.
    Untold,
}

/// No section of single players is larger: larger numbers are years, opus numbers, metronome marks.
const MOST: u32 = 24;

/// Reads the numbers of a name.
pub(super) fn count(name: &str) -> Count {
    if let Some(players) = bracketed(name).or_else(|| leading(name)) {
        return Count::Players(players);
    }
    let ordinals = ordinals(name);
    if !ordinals.is_empty() {
        return Count::Ordinals(ordinals);
    }
    if is_plural(name) { Count::Untold } else { Count::One }
}

/// "Clarinets in A (2)".
fn bracketed(name: &str) -> Option<u32> {
    let inside = name.split('(').nth(1)?.split(')').next()?.trim();
    sensible(inside.parse().ok()?)
}

/// "2 Flutes", "4 Hörner", "Due flauti"; not "1. Flöte" or "1st Flute", which name a player.
fn leading(name: &str) -> Option<u32> {
    let first = name.split_whitespace().next()?;
    let written = ["one", "two", "three", "four", "five", "six"];
    let german = ["ein", "zwei", "drei", "vier", "f\u{fc}nf", "sechs"];
    let italian = ["uno", "due", "tre", "quattro", "cinque", "sei"];
    let lower = first.to_lowercase();
    for words in [written, german, italian] {
        if let Some(at) = words.iter().position(|word| *word == lower) {
            return Some(at as u32 + 1);
        }
    }
    name.split_whitespace().nth(1)?;
    sensible(first.parse().ok()?)
}

fn sensible(number: u32) -> Option<u32> {
    (1..=MOST).contains(&number).then_some(number)
}

/// "1, 2", "1-4", "I/II", "1.2.", "1 & 2", "1st".
fn ordinals(name: &str) -> Vec<u32> {
    let mut ordinals: Vec<u32> = Vec::new();
    let mut up_to = None;
    for token in tokens(name) {
        match token {
            Token::Dash => up_to = ordinals.last().copied(),
            Token::Number(number) => {
                let from = up_to.take().filter(|from| *from < number).map_or(number, |from| from + 1);
                ordinals.extend(from..=number);
            }
            Token::Word => up_to = None,
        }
    }
    ordinals.sort_unstable();
    ordinals.dedup();
    ordinals
}

enum Token {
    Number(u32),
    Dash,
    Word,
}

fn tokens(name: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut rest = name.char_indices().peekable();
    while let Some((start, c)) = rest.next() {
        if matches!(c, '-' | '\u{2013}') {
            tokens.push(Token::Dash);
        } else if c.is_alphanumeric() {
            let mut end = start + c.len_utf8();
            while let Some((at, next)) = rest.next_if(|(_, next)| next.is_alphanumeric()) {
                end = at + next.len_utf8();
            }
            tokens.push(name.get(start..end).and_then(number).map_or(Token::Word, Token::Number));
        }
    }
    tokens
}

fn number(word: &str) -> Option<u32> {
    let digits = word.trim_end_matches(|c: char| c.is_alphabetic());
    let ending = word.strip_prefix(digits).unwrap_or_default();
    if !digits.is_empty() {
        let ordinal = ["", "st", "nd", "rd", "th", "er", "re", "o", "a"].contains(&ending);
        return digits.parse().ok().filter(|_| ordinal).and_then(sensible);
    }
    roman(word)
}

/// Roman numerals from I to XII; C and D are keys of instruments.
fn roman(word: &str) -> Option<u32> {
    const NUMERALS: [&str; 12] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];
    NUMERALS.iter().position(|numeral| *numeral == word).map(|at| at as u32 + 1)
}

/// Plurals in the four languages, by the endings of instrument names.
fn is_plural(name: &str) -> bool {
    const SINGULAR: &[&str] = &["hautbois", "cors", "timbales", "bass", "contrabass", "brass"];
    const PLURAL: &[&str] = &[
        "flauti",
        "oboi",
        "clarinetti",
        "fagotti",
        "corni",
        "trombe",
        "tromboni",
        "violini",
        "viole",
        "violoncelli",
        "contrabbassi",
        "floten",
        "oboen",
        "klarinetten",
        "fagotte",
        "horner",
        "trompeten",
        "posaunen",
        "arpe",
        "harfen",
        "cors",
    ];
    let first = name.split(|c: char| !c.is_alphabetic()).find(|word| word.chars().count() > 2).unwrap_or_default();
    let first: String = first.to_lowercase().replace('\u{f6}', "o");
    if PLURAL.contains(&first.as_str()) || first == "hautbois" {
        return true;
    }
    first.ends_with('s') && !SINGULAR.contains(&first.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_after_a_name_tell_which_players() {
        assert_eq!(count("Flutes 1, 2"), Count::Ordinals(vec![1, 2]));
        assert_eq!(count("Fl. I/II"), Count::Ordinals(vec![1, 2]));
        assert_eq!(count("Horns 1-4 in F"), Count::Ordinals(vec![1, 2, 3, 4]));
        assert_eq!(count("1. Fl\u{f6}te"), Count::Ordinals(vec![1]));
        assert_eq!(count("Corno III in C"), Count::Ordinals(vec![3]));
        assert_eq!(count("1st Trumpet"), Count::Ordinals(vec![1]));
    }

    #[test]
    fn numbers_before_a_name_or_in_brackets_tell_how_many() {
        assert_eq!(count("2 Flutes"), Count::Players(2));
        assert_eq!(count("Clarinets in A (2)"), Count::Players(2));
        assert_eq!(count("Due flauti"), Count::Players(2));
    }

    #[test]
    fn a_plural_alone_does_not_tell_how_many() {
        assert_eq!(count("Flutes"), Count::Untold);
        assert_eq!(count("H\u{f6}rner"), Count::Untold);
        assert_eq!(count("Trumpet in C"), Count::One);
        assert_eq!(count("Double Bass"), Count::One);
    }
}
