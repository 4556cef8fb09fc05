//! One table of the file: its keys asked for one by one, in the type that is wanted, troubles gathered.

use std::borrow::Cow;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::guidelines::nearest;
use crate::read::error::{ReadErrorKind, Trouble};

/// What is wrong with a file, up to a number that is worth reading.
pub(super) struct Troubles {
    found: Vec<Trouble>,
    most: usize,
}

impl Troubles {
    pub fn new(most: usize) -> Troubles {
        Troubles { found: Vec::new(), most }
    }

    pub fn add(&mut self, at: usize, what: impl Into<String>, hint: &'static str) {
        self.push(Trouble::at(at, ReadErrorKind::Outline { what: what.into(), hint }));
    }

    /// A trouble of the file as a whole.
    pub fn whole(&mut self, what: &str, hint: &'static str) {
        self.push(ReadErrorKind::Outline { what: what.to_owned(), hint }.into());
    }

    pub fn push(&mut self, trouble: Trouble) {
        if !self.is_full() {
            self.found.push(trouble);
        }
    }

    /// Whether no more will be told.
    pub fn is_full(&self) -> bool {
        self.found.len() >= self.most
    }

    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// In order of their place.
    pub fn into_sorted(mut self) -> Vec<Trouble> {
        self.found.sort_by_key(|trouble| trouble.at);
        self.found
    }
}

/// A value and the byte at which it stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Told<T> {
    pub value: T,
    pub at: usize,
}

/// A table, its place, and what it is called in messages.
pub(super) struct Table<'a> {
    table: &'a DeTable<'a>,
    pub at: usize,
}

impl<'a> Table<'a> {
    /// Tells of all keys that are not known.
    pub fn of(table: &'a DeTable<'a>, at: usize, what: &str, known: &[&str], troubles: &mut Troubles) -> Table<'a> {
        for key in table.keys() {
            let name = key.get_ref().as_ref();
            if !known.contains(&name) {
                let near = match nearest(name, known.iter().copied()) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => format!("it has {}", known.join(", ")),
                };
                let what = format!("{what} has no \"{}\": {near}", short(name));
                troubles.add(key.span().start, what, "see the README for what an outline may say");
            }
        }
        Table { table, at }
    }

    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    pub fn value(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.table.get(key)
    }

    /// What stands in the list `key`, in order: tables of `[[key]]`, or anything between brackets.
    pub fn items(&self, key: &str, troubles: &mut Troubles) -> &'a [Spanned<DeValue<'a>>] {
        let Some(value) = self.value(key) else { return &[] };
        match value.get_ref() {
            DeValue::Array(items) => items,
            _ => {
                troubles.add(
                    value.span().start,
                    format!("\"{key}\" must be a list"),
                    "write [[forces]] and [[section]]",
                );
                &[]
            }
        }
    }

    pub fn text(&self, key: &str, troubles: &mut Troubles) -> Option<Told<String>> {
        text(key, self.value(key)?, troubles)
    }

    /// A whole number of these.
    pub fn whole(&self, key: &str, range: std::ops::RangeInclusive<u32>, troubles: &mut Troubles) -> Option<Told<u32>> {
        let value = self.value(key)?;
        let number = number(value.get_ref()).filter(|number| number.fract() == 0.0);
        let inside = number.filter(|number| (f64::from(*range.start())..=f64::from(*range.end())).contains(number));
        let Some(number) = inside else {
            let what = format!("\"{key}\" must be a whole number from {} to {}", range.start(), range.end());
            troubles.add(value.span().start, what, "write the number without quotes");
            return None;
        };
        Some(Told { value: number as u32, at: value.span().start })
    }

    /// A text, or several.
    pub fn texts(&self, key: &str, troubles: &mut Troubles) -> Option<Vec<Told<&'a str>>> {
        let value = self.value(key)?;
        let text =
            |item: &'a Spanned<DeValue<'a>>| Some(Told { value: item.get_ref().as_str()?, at: item.span().start });
        let texts = match value.get_ref() {
            DeValue::Array(items) => items.iter().map(text).collect(),
            _ => text(value).map(|text| vec![text]),
        };
        if texts.is_none() {
            let hint = "write \"all\", or names in brackets: [\"Flute\", \"strings\"]";
            troubles.add(value.span().start, format!("\"{key}\" must be names"), hint);
        }
        texts
    }
}

/// No title or name is longer.
const LONGEST: usize = 200;

/// A number as TOML writes it; `None` for anything else, and for infinities.
pub(super) fn number(value: &DeValue<'_>) -> Option<f64> {
    let plain = |text: &str| text.replace('_', "").parse::<f64>().ok();
    let number = match value {
        DeValue::Integer(number) if number.radix() == 10 => plain(number.as_str()),
        DeValue::Float(number) => plain(number.as_str()),
        _ => None,
    };
    number.filter(|number| number.is_finite())
}

/// A text on one line; `key` is how messages call it.
pub(super) fn text(key: &str, value: &Spanned<DeValue<'_>>, troubles: &mut Troubles) -> Option<Told<String>> {
    let at = value.span().start;
    let Some(text) = value.get_ref().as_str() else {
        troubles.add(at, format!("\"{key}\" must be a text"), "write it between quotes");
        return None;
    };
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() > LONGEST {
        troubles.add(at, format!("\"{key}\" is longer than {LONGEST} letters"), "shorten it");
        return None;
    }
    Some(Told { value: text, at })
}

/// A word of the file in a message.
pub(super) fn short(word: &str) -> Cow<'_, str> {
    const LETTERS: usize = 40;
    match word.char_indices().nth(LETTERS) {
        Some((end, _)) => Cow::Owned(format!("{}...", word.get(..end).unwrap_or_default())),
        None => Cow::Borrowed(word),
    }
}
