//! The text of a second draft, put together by its truth.

use std::borrow::Cow;

use super::edits::pitch;
use super::edits::state::States;
use super::text::{Cut, Entry, after_tag, attribute, replaced, without};
use super::truth::{NewPart, Truth};

/// Writes it.
pub fn text(cut: &Cut, states: &States, truth: &Truth) -> String {
    let mut out = truth.pages.map_or_else(|| cut.head.to_owned(), |pages| pages.head(cut.head));
    for entry in list(cut, truth) {
        out.push_str(&entry);
    }
    out.push_str("</part-list>");
    for (at, part) in truth.parts.iter().enumerate() {
        let id = part.id.as_deref().unwrap_or(cut.parts[part.source].id);
        out.push_str(&format!("<part id=\"{id}\">"));
        for bar in 0..truth.bars.len() {
            out.push_str(&cell(cut, states, truth, bar, at));
        }
        out.push_str("</part>");
    }
    out.push_str("</score-partwise>");
    out
}

/// Brackets stay between the places of the list that they stood at; those around nothing are left out.
fn list<'a>(cut: &Cut<'a>, truth: &Truth) -> Vec<Cow<'a, str>> {
    let own: Vec<String> = truth.parts.iter().map(|part| entry(cut, part)).collect();
    let mut left = own.into_iter();
    let slots = cut.list.iter().filter(|entry| matches!(entry, Entry::Part(_))).count();
    // What the list is longer by stands after the last bracket, what it is shorter by is missing from its last ones.
    let mut all: Vec<(bool, Cow<'a, str>)> = Vec::new();
    for entry in &cut.list {
        match entry {
            Entry::Group(text) => all.push((true, Cow::Borrowed(*text))),
            Entry::Part(_) => all.extend(left.next().map(|part| (false, Cow::Owned(part)))),
        }
    }
    all.extend(left.map(|part| (false, Cow::Owned(part))));
    if truth.parts.len() < slots {
        drop_empty(&mut all);
    }
    all.into_iter().map(|(_, text)| text).collect()
}

fn drop_empty(all: &mut Vec<(bool, Cow<str>)>) {
    let of = |text: &str, name: &str| attribute(text, name).map(str::to_owned);
    let pairs = |one: &(bool, Cow<str>), other: &(bool, Cow<str>)| {
        let kinds = (of(&one.1, "type"), of(&other.1, "type"));
        let is_around_nothing = kinds == (Some("start".to_owned()), Some("stop".to_owned()));
        one.0 && other.0 && is_around_nothing && of(&one.1, "number") == of(&other.1, "number")
    };
    while let Some(at) = (1..all.len()).find(|at| pairs(&all[at - 1], &all[*at])) {
        all.drain(at - 1..=at);
    }
}

fn entry(cut: &Cut, part: &NewPart) -> String {
    let source = &cut.parts[part.source];
    let mut text = source.entry.to_owned();
    if let Some(name) = &part.name {
        for display in ["part-name-display", "part-abbreviation-display"] {
            text = without(&text, display);
        }
        text = replaced(&text, "part-name", |_| format!("<part-name>{name}</part-name>"));
        let short: String = name.chars().take(4).collect();
        text = replaced(&text, "part-abbreviation", |_| format!("<part-abbreviation>{short}.</part-abbreviation>"));
    }
    match &part.id {
        Some(id) => renamed(&text, source.id, id),
        None => text,
    }
}

/// Another id for a part and its instruments.
fn renamed(text: &str, old: &str, new: &str) -> String {
    text.replace(&format!("id=\"{old}\""), &format!("id=\"{new}\""))
        .replace(&format!("id=\"{old}-"), &format!("id=\"{new}-"))
}

/// One bar of one part of the copy.
fn cell<'c>(cut: &Cut<'c>, states: &States, truth: &'c Truth, at: usize, to: usize) -> Cow<'c, str> {
    let (bar, part) = (truth.bars[at], &truth.parts[to]);
    let edited = bar.is.zip(part.is).and_then(|cell| truth.edits.get(&cell));
    let mut text: Cow<'c, str> =
        edited.map_or(Cow::Borrowed(cut.parts[part.source].bars[bar.source]), |edited| Cow::Borrowed(&*edited.text));
    if bar.shift + part.shift != 0 {
        text = Cow::Owned(pitch::shifted(&text, bar.shift + part.shift));
    }
    if truth.is_seam(at) {
        text = Cow::Owned(after_tag(&text, states.before(part.source, bar.source)));
    }
    if let Some(pages) = truth.pages {
        text = Cow::Owned(pages.bar(&text, at, to == 0));
    }
    if let Some(by) = part.transposed {
        text = Cow::Owned(pitch::transposed(&text, by));
        if at == 0 {
            let (steps, half_tones) = (-by.steps, -by.half_tones);
            let transpose = format!(
                "<transpose><diatonic>{steps}</diatonic><chromatic>{half_tones}</chromatic></transpose></attributes>"
            );
            text = Cow::Owned(text.replacen("</attributes>", &transpose, 1));
        }
    }
    if truth.has_other_bars() {
        text = Cow::Owned(numbered(&text, at + 1));
    }
    match &part.id {
        Some(id) => Cow::Owned(renamed(&text, cut.parts[part.source].id, id)),
        None => text,
    }
}

fn numbered(bar: &str, number: usize) -> String {
    match (bar.find(" number=\""), attribute(bar, "number")) {
        (Some(at), Some(old)) => format!("{} number=\"{number}\"{}", &bar[..at], &bar[at + 10 + old.len()..]),
        _ => bar.to_owned(),
    }
}
