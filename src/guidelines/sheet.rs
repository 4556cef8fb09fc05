//! Rule sheets: what a rule holds a page against, and why, in a librarian's words.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use toml::Spanned;

use super::error::{Fault, GuidelineError};
use super::limit::{Limit, SetIn, Source, Weight};
use super::lines::Lines;
use super::value::{FromValue, Value, Written};

/// A rule as the guidelines in force have it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct RuleSheet {
    /// The rule's name, in lower case with hyphens; also its file's.
    pub name: String,
    /// The fault, as a musician would name it.
    pub title: String,
    pub applies_to: Vec<Document>,
    /// The heaviest a finding of this rule may weigh; `None` is off.
    pub severity: Option<Weight>,
    /// The layer that set the severity last.
    pub severity_set_in: SetIn,
    /// What the rule cannot do without, beyond the score.
    pub needs: Option<Needs>,
    /// Said once a piece, however often it occurs.
    pub once_a_piece: bool,
    pub what: String,
    pub why: String,
    pub remedy: String,
    /// Who asks for it; the limits name their own sources.
    pub source: Source,
    /// In the order of the sheet.
    pub values: Vec<SheetValue>,
}

/// One limit of a rule sheet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SheetValue {
    pub name: String,
    pub meaning: String,
    pub value: Value,
    pub source: Source,
    /// What a finding beyond this limit weighs; see [`Limit::weight`].
    pub weight: Weight,
    /// The words a value of words may take; else empty.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub choices: Vec<String>,
    /// The weight the sheet gives this limit, when lighter than the rule's.
    #[serde(skip)]
    pub(super) own_weight: Option<Weight>,
}

/// What a rule looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Document {
    Score,
    Part,
    /// The notes of a score by themselves, before parts are made from it.
    Music,
}

/// What a rule needs beyond the score and its recorded pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Needs {
    /// Pages measured in a PDF or a scan.
    #[serde(rename = "measured pages")]
    MeasuredPages,
}

impl RuleSheet {
    #[must_use]
    pub fn applies(&self, document: Document) -> bool {
        self.applies_to.contains(&document)
    }

    #[must_use]
    pub fn value(&self, limit: &str) -> Option<&SheetValue> {
        self.values.iter().find(|value| value.name == limit)
    }

    /// Reads a shipped sheet.
    pub(super) fn parse(name: &str, text: &str) -> Result<RuleSheet, GuidelineError> {
        let file_name = format!("{name}.toml");
        let lines = Lines::of(&file_name, text);
        let at =
            |byte: usize, fault: Fault, hint: Option<String>| GuidelineError { place: lines.place(byte), fault, hint };
        let sheet: SheetFile = toml::from_str(text).map_err(|error| {
            at(error.span().map_or(0, |span| span.start), Fault::Syntax(error.message().to_owned()), None)
        })?;
        let mut values: Vec<(usize, SheetValue)> = Vec::new();
        for (key, value) in sheet.values {
            let start = key.span().start;
            let read = value.read(key.into_inner());
            values.push((start, read.map_err(|(what, hint)| at(start, Fault::Misfit(what), Some(hint)))?));
        }
        values.sort_by_key(|(start, _)| *start);
        Ok(RuleSheet {
            name: name.to_owned(),
            title: sheet.title,
            applies_to: sheet.applies_to,
            severity: sheet.severity.weight(),
            severity_set_in: SetIn::RuleSheet,
            needs: sheet.needs,
            once_a_piece: sheet.once_a_piece,
            what: one_paragraph(&sheet.what),
            why: one_paragraph(&sheet.why),
            remedy: one_paragraph(&sheet.remedy),
            source: Source::sheet(&one_paragraph(&sheet.source)),
            values: values.into_iter().map(|(_, value)| value).collect(),
        })
    }

    /// Settles what each limit weighs, once all layers have spoken. A severity that the house set itself
    /// is not held down by a limit's source.
    pub(super) fn weigh(&mut self) {
        let heaviest = self.severity.unwrap_or(Weight::Look);
        let by_the_house = matches!(self.severity_set_in, SetIn::HouseSheet { .. } | SetIn::CommandLine);
        for value in &mut self.values {
            let allowed = if by_the_house { Weight::Stop } else { value.source.standing.heaviest() };
            value.weight = value.own_weight.unwrap_or(heaviest).min(heaviest).min(allowed);
        }
    }
}

impl SheetValue {
    /// This limit read in unit `T`; `None` when it has another.
    #[must_use]
    pub fn limit<T: FromValue>(&self) -> Option<Limit<T>> {
        let value = T::from_value(&self.value)?;
        Some(Limit { value, source: self.source.clone(), weight: self.weight })
    }
}

/// A rule sheet as it stands in its file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct SheetFile {
    title: String,
    applies_to: Vec<Document>,
    severity: Severity,
    source: String,
    what: String,
    why: String,
    remedy: String,
    needs: Option<Needs>,
    #[serde(default)]
    once_a_piece: bool,
    #[serde(default)]
    values: BTreeMap<Spanned<String>, ValueFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ValueFile {
    value: toml::Value,
    source: String,
    meaning: String,
    severity: Option<Weight>,
    #[serde(default)]
    choices: Vec<String>,
}

/// The word for a rule's weight, or "off".
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Severity {
    Stop,
    Mend,
    Look,
    Off,
}

impl Severity {
    pub(super) fn from_word(word: &str) -> Option<Severity> {
        match word {
            "stop" => Some(Severity::Stop),
            "mend" => Some(Severity::Mend),
            "look" => Some(Severity::Look),
            "off" => Some(Severity::Off),
            _ => None,
        }
    }

    pub(super) fn weight(self) -> Option<Weight> {
        match self {
            Severity::Stop => Some(Weight::Stop),
            Severity::Mend => Some(Weight::Mend),
            Severity::Look => Some(Weight::Look),
            Severity::Off => None,
        }
    }
}

impl ValueFile {
    fn read(self, name: String) -> Result<SheetValue, (String, String)> {
        let written = match &self.value {
            toml::Value::Array(items) => Written::List(items.iter().map(as_text).collect()),
            one => Written::One(as_text(one)),
        };
        let value = Value::first(&written, &self.choices).map_err(|misfit| (misfit.what, misfit.hint))?;
        Ok(SheetValue {
            name,
            meaning: one_paragraph(&self.meaning),
            value,
            source: Source::sheet(&one_paragraph(&self.source)),
            weight: Weight::Look,
            choices: self.choices,
            own_weight: self.severity,
        })
    }
}

fn as_text(value: &toml::Value) -> String {
    match value {
        toml::Value::String(text) => text.clone(),
        toml::Value::Integer(number) => number.to_string(),
        toml::Value::Float(number) => number.to_string(),
        toml::Value::Boolean(yes) => yes.to_string(),
        // No value is a date or a table: an empty text fits no kind and is refused.
        toml::Value::Datetime(_) | toml::Value::Array(_) | toml::Value::Table(_) => String::new(),
    }
}

/// The lines of a sheet's text joined.
pub(super) fn one_paragraph(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
