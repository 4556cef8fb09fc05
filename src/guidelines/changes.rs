//! Guideline sets, house sheets and changes on the command line, taken apart into single changes with
//! their places; what they change is looked up when they are merged.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::error::{Fault, GuidelineError, Place};
use super::lines::Lines;
use super::sheet::one_paragraph;
use super::value::Written;

/// A set or a house sheet.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    pub(super) title: String,
    pub(super) what: String,
    pub(super) extends: Option<(String, Place)>,
    pub(super) changes: Vec<Change>,
}

/// One key set anew.
#[derive(Debug)]
pub(super) struct Change {
    /// A rule, or "house".
    pub(super) rule: String,
    pub(super) rule_place: Place,
    /// A limit, or "severity".
    pub(super) key: String,
    pub(super) key_place: Place,
    pub(super) written: Written,
    pub(super) value_place: Place,
    pub(super) source: Option<String>,
}

/// Takes a sheet apart. What cannot be read is reported in `errors`; the rest is still taken.
pub(super) fn read_sheet(name: &str, text: &str, errors: &mut Vec<GuidelineError>) -> Sheet {
    let (table, syntax) = DeTable::parse_recoverable(text);
    let reader = Reader { lines: Lines::of(name, text) };
    if !syntax.is_empty() {
        errors.extend(syntax.into_iter().map(|error| GuidelineError {
            place: reader.place(error.span().unwrap_or_default()),
            fault: Fault::Syntax(error.message().to_owned()),
            hint: None,
        }));
        // What follows a broken line would only be misread.
        return Sheet::default();
    }
    let mut sheet = Sheet::default();
    for (key, value) in in_order(table.get_ref()) {
        match (key.get_ref().as_ref(), value.get_ref()) {
            ("title", DeValue::String(title)) => sheet.title = one_paragraph(title),
            ("what", DeValue::String(what)) => sheet.what = one_paragraph(what),
            ("extends", DeValue::String(base)) => {
                sheet.extends = Some((base.to_string(), reader.place(value.span())));
            }
            (rule, DeValue::Table(table)) => {
                for (limit, value) in in_order(table) {
                    sheet.changes.extend(reader.change(rule, key.span(), limit, value, errors));
                }
            }
            (word, _) => errors.push(reader.error(
                key.span(),
                Fault::WrongShape(format!("\"{word}\" stands outside any rule")),
                Some("limits stand under the name of their rule: [staff-too-small]".to_owned()),
            )),
        }
    }
    sheet
}

/// Takes `RULE.LIMIT=VALUE` apart.
pub(super) fn read_change(text: &str) -> Result<Change, GuidelineError> {
    let place = Place::Change(text.to_owned());
    let parts = text.split_once('=').and_then(|(name, value)| Some((name.split_once('.')?, value)));
    let Some(((rule, key), value)) = parts else {
        let hint = Some("write RULE.LIMIT=VALUE, such as \"staff-too-small.part-floor=7.2 mm\"".to_owned());
        return Err(GuidelineError { place, fault: Fault::NotAChange, hint });
    };
    Ok(Change {
        rule: rule.trim().to_owned(),
        rule_place: place.clone(),
        key: key.trim().to_owned(),
        key_place: place.clone(),
        written: Written::One(value.trim().to_owned()),
        value_place: place,
        source: None,
    })
}

struct Reader<'a> {
    lines: Lines<'a>,
}

type Entry<'a> = (&'a Spanned<Cow<'a, str>>, &'a Spanned<DeValue<'a>>);

impl Reader<'_> {
    /// `limit = VALUE` or `limit = { value = VALUE, source = TEXT }`.
    fn change(
        &self,
        rule: &str,
        rule_span: Range<usize>,
        limit: &Spanned<Cow<'_, str>>,
        value: &Spanned<DeValue<'_>>,
        errors: &mut Vec<GuidelineError>,
    ) -> Option<Change> {
        let (value, source) = match value.get_ref() {
            DeValue::Table(table) => self.value_and_source(limit, table, errors)?,
            _ => (value, None),
        };
        let Some(written) = written(value.get_ref()) else {
            let fault = Fault::WrongShape(format!("\"{}\" is no value of a limit", self.lines.quote(value.span())));
            errors.push(self.error(value.span(), fault, Some("write a text, a number, true or false".to_owned())));
            return None;
        };
        Some(Change {
            rule: rule.to_owned(),
            rule_place: self.place(rule_span),
            key: limit.get_ref().to_string(),
            key_place: self.place(limit.span()),
            written,
            value_place: self.place(value.span()),
            source,
        })
    }

    fn value_and_source<'t>(
        &self,
        limit: &Spanned<Cow<'_, str>>,
        table: &'t DeTable<'t>,
        errors: &mut Vec<GuidelineError>,
    ) -> Option<(&'t Spanned<DeValue<'t>>, Option<String>)> {
        let (mut value, mut source) = (None, None);
        let before = errors.len();
        for (key, item) in in_order(table) {
            match (key.get_ref().as_ref(), item.get_ref()) {
                ("value", _) => value = Some(item),
                ("source", DeValue::String(text)) => source = Some(text.to_string()),
                (word, _) => {
                    let hint = Some("a limit has a value and, as a text, a source".to_owned());
                    errors.push(self.error(key.span(), Fault::UnknownKey(word.to_owned()), hint));
                }
            }
        }
        if value.is_none() && errors.len() == before {
            let fault = Fault::WrongShape(format!("\"{}\" has no value", limit.get_ref()));
            errors.push(self.error(limit.span(), fault, Some("add value = ...".to_owned())));
        }
        value.map(|value| (value, source))
    }

    fn place(&self, span: Range<usize>) -> Place {
        self.lines.place(span.start)
    }

    fn error(&self, span: Range<usize>, fault: Fault, hint: Option<String>) -> GuidelineError {
        GuidelineError { place: self.place(span), fault, hint }
    }
}

/// A table's entries as they stand in the text, not by name.
fn in_order<'a>(table: &'a DeTable<'a>) -> Vec<Entry<'a>> {
    let mut entries: Vec<Entry<'a>> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

fn written(value: &DeValue<'_>) -> Option<Written> {
    match value {
        DeValue::Array(items) => {
            items.iter().map(|item| word(item.get_ref())).collect::<Option<Vec<String>>>().map(Written::List)
        }
        one => word(one).map(Written::One),
    }
}

fn word(value: &DeValue<'_>) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.to_string()),
        DeValue::Boolean(yes) => Some(yes.to_string()),
        DeValue::Datetime(_) | DeValue::Array(_) | DeValue::Table(_) => None,
    }
}
