//! Values as they are written in rule sheets, house sheets and on the command line: "4.2 mm", "5 spaces",
//! "8 s", "2 %", "1.2 times", "12 pt", 24, yes, a word of a given choice, papers.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::{Serialize, SerializeSeq, Serializer};

use crate::paper::Paper;
use crate::units::{Mm, Seconds, Spaces};

mod reading;
mod typed;

pub use typed::{FromValue, Percent, Points, Times};

/// A value with its unit.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Length(Mm),
    Spaces(Spaces),
    Time(Seconds),
    Percent(Percent),
    Times(Times),
    TextSize(Points),
    Count(u32),
    YesNo(bool),
    /// One of the words the rule sheet lists as its choices.
    Word(String),
    /// `None`: the page's own size.
    Paper(Option<Paper>),
    Papers(Vec<Paper>),
}

/// The unit of a [`Value`]; a limit keeps the kind its rule sheet gave it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Length,
    Spaces,
    Time,
    Percent,
    Times,
    TextSize,
    Count,
    YesNo,
    Word,
    Paper,
    Papers,
}

/// A value's text before its kind is known: one word, or a list.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Written {
    One(String),
    List(Vec<String>),
}

/// Why a text is no value of its kind, and how to write it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Misfit {
    pub(super) what: String,
    pub(super) hint: String,
}

/// Written for a paper that is not chosen: printed on the size the page has.
const OWN_SIZE: &str = "as the page";

impl Value {
    #[must_use]
    pub fn kind(&self) -> Kind {
        match self {
            Value::Length(_) => Kind::Length,
            Value::Spaces(_) => Kind::Spaces,
            Value::Time(_) => Kind::Time,
            Value::Percent(_) => Kind::Percent,
            Value::Times(_) => Kind::Times,
            Value::TextSize(_) => Kind::TextSize,
            Value::Count(_) => Kind::Count,
            Value::YesNo(_) => Kind::YesNo,
            Value::Word(_) => Kind::Word,
            Value::Paper(_) => Kind::Paper,
            Value::Papers(_) => Kind::Papers,
        }
    }
}

impl Kind {
    /// "a length in mm", for messages.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Kind::Length => "a length in mm",
            Kind::Spaces => "a distance in staff spaces",
            Kind::Time => "a time in seconds",
            Kind::Percent => "a share in per cent",
            Kind::Times => "a ratio",
            Kind::TextSize => "a text size in points",
            Kind::Count => "a whole number",
            Kind::YesNo => "yes or no",
            Kind::Word => "one of the words to choose from",
            Kind::Paper => "a paper",
            Kind::Papers => "a list of papers",
        }
    }
}

impl fmt::Display for Value {
    /// As one writes it in a house sheet: "4.2 mm", "24", "yes", "A3, JIS B4".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Value::Length(Mm(number)) => write!(f, "{} mm", plain(*number)),
            Value::Spaces(Spaces(number)) => write!(f, "{} spaces", plain(*number)),
            Value::Time(Seconds(number)) => write!(f, "{} s", plain(*number)),
            Value::Percent(share) => write!(f, "{share}"),
            Value::Times(ratio) => write!(f, "{ratio}"),
            Value::TextSize(size) => write!(f, "{size}"),
            Value::Count(count) => write!(f, "{count}"),
            Value::YesNo(true) => f.write_str("yes"),
            Value::YesNo(false) => f.write_str("no"),
            Value::Word(word) => f.write_str(word),
            Value::Paper(None) => f.write_str(OWN_SIZE),
            Value::Paper(Some(paper)) => f.write_str(&paper.name),
            Value::Papers(papers) => {
                let names: Vec<&str> = papers.iter().map(|paper| paper.name.as_ref()).collect();
                f.write_str(&names.join(", "))
            }
        }
    }
}

impl Serialize for Value {
    /// As a house sheet would hold it: a number, `true`, a list of names, or a text with its unit.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Value::Count(count) => serializer.serialize_u32(*count),
            Value::YesNo(yes) => serializer.serialize_bool(*yes),
            Value::Papers(papers) => {
                let mut names = serializer.serialize_seq(Some(papers.len()))?;
                for paper in papers {
                    names.serialize_element(&paper.name)?;
                }
                names.end()
            }
            _ => serializer.collect_str(self),
        }
    }
}

impl JsonSchema for Value {
    fn schema_name() -> Cow<'static, str> {
        "Value".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "A value as a house sheet holds it: \"4 mm\", 24, true, [\"A3\", \"JIS B4\"]",
            "type": ["string", "integer", "boolean", "array"],
            "items": { "type": "string" }
        })
    }
}

/// At most three decimals, none that say nothing.
fn plain(number: f64) -> String {
    let text = format!("{number:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
