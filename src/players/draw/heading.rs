//! How a part is headed: "Clarinet in B flat 2" from "2 Clarinets in B flat".

/// Plurals of instruments and their singulars, in the four languages.
const SINGULARS: &[(&str, &str)] = &[
    ("flauti", "Flauto"),
    ("oboi", "Oboe"),
    ("clarinetti", "Clarinetto"),
    ("fagotti", "Fagotto"),
    ("corni", "Corno"),
    ("trombe", "Tromba"),
    ("tromboni", "Trombone"),
    ("fl\u{f6}ten", "Fl\u{f6}te"),
    ("oboen", "Oboe"),
    ("klarinetten", "Klarinette"),
    ("fagotte", "Fagott"),
    ("h\u{f6}rner", "Horn"),
    ("trompeten", "Trompete"),
    ("posaunen", "Posaune"),
    ("hautbois", "Hautbois"),
];

/// Single spaces, no line breaks.
pub(super) fn tidy(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The heading of one of several players.
pub(super) fn of_player(name: &str, number: u32) -> String {
    let kept: Vec<String> = name.split_whitespace().filter(|word| !counts(word)).enumerate().map(singular).collect();
    if kept.is_empty() { format!("{} {number}", tidy(name)) } else { format!("{} {number}", kept.join(" ")) }
}

/// "2", "1.2.", "I/II", "(2)", "1-4", "&".
fn counts(word: &str) -> bool {
    let figures = |piece: &str| piece.chars().all(|letter| letter.is_ascii_digit() || matches!(letter, 'I' | 'V'));
    let bare: Vec<&str> =
        word.split(|letter: char| !letter.is_alphanumeric()).filter(|piece| !piece.is_empty()).collect();
    bare.iter().all(|piece| figures(piece)) || matches!(word, "and" | "und" | "e" | "et")
}

fn singular((at, word): (usize, &str)) -> String {
    let lower = word.to_lowercase();
    if let Some((_, singular)) = SINGULARS.iter().find(|(plural, _)| *plural == lower) {
        return (*singular).to_owned();
    }
    match word.strip_suffix('s') {
        Some(stem) if at == 0 && stem.chars().count() > 3 => stem.to_owned(),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_headed_in_the_singular_with_its_number() {
        assert_eq!(of_player("Flutes 1.2", 1), "Flute 1");
        assert_eq!(of_player("2 Clarinets in A", 2), "Clarinet in A 2");
        assert_eq!(of_player("Horn III/IV in F", 3), "Horn in F 3");
        assert_eq!(of_player("H\u{f6}rner (2)", 1), "Horn 1");
        assert_eq!(of_player("Trombe I & II", 2), "Tromba 2");
        assert_eq!(of_player("1.2", 2), "1.2 2");
    }
}
