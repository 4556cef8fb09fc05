//! Reads written values, and says how a misfit should be written.

use super::{Kind, Misfit, OWN_SIZE, Percent, Points, Times, Value, Written};
use crate::guidelines::nearest;
use crate::paper::{PAPERS, Paper};
use crate::units::{Mm, Seconds, Spaces};

/// Larger numbers are slips of the pen in any unit.
const LARGEST: f64 = 1_000_000.0;

impl Value {
    /// Reads a value of a given kind.
    ///
    /// # Errors
    /// Says what does not fit, and how to write it.
    pub(in crate::guidelines) fn read(kind: Kind, written: &Written, choices: &[String]) -> Result<Value, Misfit> {
        let text = match (kind, written) {
            (Kind::Papers, written) => return papers(written).map(Value::Papers),
            (_, Written::One(text)) => text.trim(),
            (_, Written::List(_)) => return Err(misfit("a list", kind)),
        };
        let value = match kind {
            Kind::Length => length(text).map(Value::Length),
            Kind::Spaces => measure(text, &["spaces", "space", "sp"]).map(|n| Value::Spaces(Spaces(n))),
            Kind::Time => measure(text, &["s", "seconds", "second"]).map(|n| Value::Time(Seconds(n))),
            Kind::Percent => measure(text, &["%"]).map(|n| Value::Percent(Percent(n))),
            Kind::Times => measure(text, &["times", ""]).map(|n| Value::Times(Times(n))),
            Kind::TextSize => measure(text, &["pt", "points"]).map(|n| Value::TextSize(Points(n))),
            Kind::Count => text.parse().ok().map(Value::Count),
            Kind::YesNo => yes_no(text).map(Value::YesNo),
            Kind::Word => return word(text, choices).map(Value::Word),
            Kind::Paper => return one_paper(text).map(Value::Paper),
            Kind::Papers => return papers(written).map(Value::Papers),
        };
        value.ok_or_else(|| misfit(&format!("\"{text}\""), kind))
    }

    /// Reads a rule sheet's own value: its writing tells its kind.
    pub(in crate::guidelines) fn first(written: &Written, choices: &[String]) -> Result<Value, Misfit> {
        if !choices.is_empty() {
            return Value::read(Kind::Word, written, choices);
        }
        if let Written::List(_) = written {
            return Value::read(Kind::Papers, written, choices);
        }
        let told_by_writing = [
            Kind::Length,
            Kind::Spaces,
            Kind::Time,
            Kind::Percent,
            Kind::TextSize,
            Kind::Count,
            Kind::YesNo,
            Kind::Times,
        ];
        told_by_writing
            .into_iter()
            .find_map(|kind| Value::read(kind, written, choices).ok())
            .map_or_else(|| Value::read(Kind::Paper, written, choices), Ok)
    }
}

/// A number and its unit, split where the number ends: ("4.2", "mm").
fn split(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let number: f64 = text.get(..end)?.parse().ok()?;
    (number <= LARGEST).then_some((number, text.get(end..)?.trim()))
}

fn measure(text: &str, units: &[&str]) -> Option<f64> {
    let (number, unit) = split(text)?;
    units.contains(&unit).then_some(number)
}

fn length(text: &str) -> Option<Mm> {
    let (number, unit) = split(text)?;
    let unit = match unit {
        "mm" => Mm(1.0),
        "cm" => Mm(10.0),
        "m" => Mm(1000.0),
        "in" | "inch" | "inches" => Mm::INCH,
        _ => return None,
    };
    Some((unit * number).rounded())
}

fn yes_no(text: &str) -> Option<bool> {
    match text {
        "yes" | "true" => Some(true),
        "no" | "false" => Some(false),
        _ => None,
    }
}

fn word(text: &str, choices: &[String]) -> Result<String, Misfit> {
    if choices.iter().any(|choice| choice == text) {
        return Ok(text.to_owned());
    }
    let listed: Vec<String> = choices.iter().map(|choice| format!("\"{choice}\"")).collect();
    let hint = match nearest(text, choices.iter().map(String::as_str)) {
        Some(choice) => format!("did you mean \"{choice}\"?"),
        None => format!("write one of {}", listed.join(", ")),
    };
    Err(Misfit { what: format!("\"{text}\" is not among the words to choose from"), hint })
}

fn one_paper(text: &str) -> Result<Option<Paper>, Misfit> {
    if text == OWN_SIZE {
        return Ok(None);
    }
    Paper::find(text).map(Some).ok_or_else(|| {
        let hint = match nearest(text, PAPERS.iter().map(|paper| paper.name.as_ref())) {
            Some(name) => format!("did you mean \"{name}\"? A size of your own reads \"270 x 360 mm\""),
            None => "write a name such as \"JIS B4\", or a size: \"270 x 360 mm\"".to_owned(),
        };
        Misfit { what: format!("\"{text}\" is not a paper"), hint }
    })
}

/// A list, or on the command line names between commas.
fn papers(written: &Written) -> Result<Vec<Paper>, Misfit> {
    let names: Vec<&str> = match written {
        Written::One(text) => text.split(',').map(str::trim).collect(),
        Written::List(names) => names.iter().map(String::as_str).collect(),
    };
    if names.is_empty() {
        return Err(Misfit { what: "an empty list of papers".to_owned(), hint: how_to_write(Kind::Papers).to_owned() });
    }
    let own_size = || Misfit { what: format!("\"{OWN_SIZE}\" in a list of papers"), hint: "name the paper".to_owned() };
    names.into_iter().map(|name| one_paper(name)?.ok_or_else(own_size)).collect()
}

fn misfit(what: &str, kind: Kind) -> Misfit {
    Misfit { what: format!("{what} is not {}", kind.words()), hint: how_to_write(kind).to_owned() }
}

fn how_to_write(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "write it in mm, cm, m or in: \"4 mm\", \"0.5 in\"",
        Kind::Spaces => "write it in spaces of the staff: \"5 spaces\"",
        Kind::Time => "write it in seconds: \"8 s\"",
        Kind::Percent => "write it in per cent: \"5 %\"",
        Kind::Times => "write it as a factor: \"1.2 times\"",
        Kind::TextSize => "write it in points: \"12 pt\"",
        Kind::Count => "write a whole number: 24",
        Kind::YesNo => "write true or false",
        Kind::Word => "write one word",
        Kind::Paper => "write a paper's name: \"JIS B4\"",
        Kind::Papers => "write their names in a list: [\"A3\", \"JIS B4\"]",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(kind: Kind, text: &str) -> Result<Value, Misfit> {
        Value::read(kind, &Written::One(text.to_owned()), &[])
    }

    #[test]
    fn lengths_are_read_in_millimetres_centimetres_metres_and_inches() {
        for (text, mm) in [("4.0 mm", 4.0), ("70 cm", 700.0), ("0.7 m", 700.0), ("0.5 in", 12.7), ("4mm", 4.0)] {
            assert_eq!(read(Kind::Length, text), Ok(Value::Length(Mm(mm))), "{text}");
        }
    }

    #[test]
    fn points_are_no_length_on_paper_and_the_hint_says_how_to_write_one() {
        let misfit = read(Kind::Length, "4 pt").unwrap_err();
        assert_eq!(misfit.what, "\"4 pt\" is not a length in mm");
        assert_eq!(misfit.hint, "write it in mm, cm, m or in: \"4 mm\", \"0.5 in\"");
    }

    #[test]
    fn a_number_without_its_unit_is_refused() {
        assert!(read(Kind::Length, "4.2").is_err());
        assert!(read(Kind::Percent, "0.05").is_err());
        assert_eq!(read(Kind::Times, "1.2"), Ok(Value::Times(Times(1.2))));
    }

    #[test]
    fn negative_endless_and_broken_numbers_are_refused() {
        for text in ["-4 mm", "inf mm", "nan mm", "1e9 mm", "9999999 mm", "4,2 mm", ". mm", "4.2.1 mm", "mm", ""] {
            assert!(read(Kind::Length, text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_word_off_the_list_gets_the_nearest_choice() {
        let choices = ["dotted".to_owned(), "named".to_owned()];
        let misfit = Value::read(Kind::Word, &Written::One("doted".to_owned()), &choices).unwrap_err();
        assert_eq!(misfit.hint, "did you mean \"dotted\"?");
        let misfit = Value::read(Kind::Word, &Written::One("abbreviated".to_owned()), &choices).unwrap_err();
        assert_eq!(misfit.hint, "write one of \"dotted\", \"named\"");
    }

    #[test]
    fn the_writing_of_a_sheets_own_value_tells_its_kind() {
        let first = |text: &str| Value::first(&Written::One(text.to_owned()), &[]).map(|value| value.kind());
        for (text, kind) in [
            ("4.0 mm", Kind::Length),
            ("5 spaces", Kind::Spaces),
            ("8 s", Kind::Time),
            ("2 %", Kind::Percent),
            ("1.2 times", Kind::Times),
            ("12 pt", Kind::TextSize),
            ("24", Kind::Count),
            ("yes", Kind::YesNo),
            ("JIS B4", Kind::Paper),
            ("as the page", Kind::Paper),
        ] {
            assert_eq!(first(text), Ok(kind), "{text}");
        }
        assert!(first("foolscap").is_err());
    }

    #[test]
    fn a_value_reads_back_as_it_is_written() {
        for text in
            ["6.35 mm", "0.15 spaces", "1.5 s", "2 %", "1.2 times", "12 pt", "24", "no", "9 x 12 in", "as the page"]
        {
            let value = Value::first(&Written::One(text.to_owned()), &[]).unwrap();
            assert_eq!(value.to_string(), text);
        }
        let papers = read(Kind::Papers, "A3, jis b4, 270 x 360 mm").unwrap();
        assert_eq!(papers.to_string(), "A3, JIS B4, 270 x 360 mm");
    }
}
