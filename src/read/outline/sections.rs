//! The passages of an outline, in order.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::forces::Forces;
use super::table::{Table, Told, Troubles, number, short};
use super::tempo::{self, Tempo};
use super::{metre, who};
use crate::guidelines::nearest;
use crate::limits::Limits;
use crate::read::error::ReadErrorKind;
use crate::score::{Busyness, Metre, Sketch};

const KEYS: [&str; 10] = ["movement", "mark", "words", "bars", "minutes", "metre", "tempo", "who", "except", "busy"];

/// Bars of one passage; the work as a whole is held to its own limit.
const MOST_BARS: u32 = 200_000;
/// Minutes of one passage.
const MOST_MINUTES: f64 = 1_000.0;

/// One passage: a run of bars of one metre.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Section {
    /// A movement of this title begins; empty for one without a title.
    pub movement: Option<String>,
    /// Its rehearsal mark.
    pub mark: Option<String>,
    /// Its tempo in words.
    pub words: String,
    pub bars: u32,
    pub metre: Metre,
    /// Where it states one.
    pub tempo: Option<Tempo>,
    /// Quarters a minute that its bars and minutes come to, where it states no tempo.
    pub computed: Option<f64>,
    /// By force.
    pub plays: Vec<Sketch>,
}

/// What goes on until a later section says otherwise.
#[derive(Default)]
struct Now {
    metre: Option<Metre>,
    quarters: Option<f64>,
    /// A wrong metre or tempo is told where it stands, not again where it goes on.
    metre_told: bool,
    tempo_told: bool,
}

/// Reads all sections; those that are wrong are left out, and told.
pub(super) fn read(root: &Table<'_>, forces: &Forces, limits: &Limits, troubles: &mut Troubles) -> Vec<Section> {
    let mut now = Now::default();
    let items = root.items("section", troubles);
    // Each has at least a bar.
    if items.len().saturating_mul(forces.all.len()) > limits.cells {
        troubles.push(ReadErrorKind::TooMany { what: "bars times staves", limit: limits.cells }.into());
        return Vec::new();
    }
    items.iter().filter_map(|item| section(item, forces, &mut now, troubles)).collect()
}

fn section(item: &Spanned<DeValue<'_>>, forces: &Forces, now: &mut Now, troubles: &mut Troubles) -> Option<Section> {
    let at = item.span().start;
    let Some(table) = item.get_ref().as_table() else {
        troubles.add(at, "a section must be a table", "write [[section]] on a line of its own, and what it says below");
        return None;
    };
    let table = Table::of(table, at, "a section", &KEYS, troubles);
    now.hear_metre(&table, troubles);
    let tempo = now.hear_tempo(&table, troubles);
    let length = length(&table, now, tempo.is_some(), troubles);
    let plays = plays(&table, forces, troubles);
    let own = |told: Option<Told<String>>| told.map(|told| told.value);
    let mut text = |key| own(table.text(key, troubles));
    let (movement, mark, words) = (text("movement"), text("mark"), text("words").unwrap_or_default());
    let length = length?;
    if length.computed.is_some() {
        now.quarters = length.computed;
    }
    let Length { bars, computed } = length;
    Some(Section { movement, mark, words, bars, metre: now.metre.clone()?, tempo, computed, plays })
}

impl Now {
    fn hear_metre(&mut self, table: &Table<'_>, troubles: &mut Troubles) {
        if let Some(told) = table.text("metre", troubles) {
            let parsed = metre::parse(&told.value);
            if parsed.is_none() {
                let what = format!("\"{}\" is no metre", short(&told.value));
                troubles.add(told.at, what, "write it as \"4/4\" or \"3+2/8\"");
            }
            (self.metre_told, self.metre) = (parsed.is_none(), parsed);
        } else if table.has("metre") {
            self.metre_told = true;
        } else if self.metre.is_none() && !self.metre_told {
            troubles.add(table.at, "no metre is in force here", "write metre = \"4/4\" in the first section");
            self.metre_told = true;
        }
    }

    fn hear_tempo(&mut self, table: &Table<'_>, troubles: &mut Troubles) -> Option<Tempo> {
        let value = table.value("tempo")?;
        let tempo = tempo::parse(value.get_ref());
        if tempo.is_none() {
            let found = match value.get_ref() {
                DeValue::String(text) => format!("\"{}\"", short(text)),
                other => number(other).map_or("this".to_owned(), |number| number.to_string()),
            };
            let hint = "write quarters a minute, tempo = 96, or tempo = \"dotted quarter = 66\"";
            troubles.add(value.span().start, format!("{found} is no tempo"), hint);
        }
        self.tempo_told = tempo.is_none();
        self.quarters = tempo.as_ref().map(|tempo| tempo.quarters);
        tempo
    }
}

/// Bars, and the tempo that bars and minutes come to.
struct Length {
    bars: u32,
    computed: Option<f64>,
}

fn length(table: &Table<'_>, now: &Now, states_tempo: bool, troubles: &mut Troubles) -> Option<Length> {
    let bars = table.whole("bars", 1..=MOST_BARS, troubles);
    let minutes = minutes(table, troubles);
    let quarters = now.metre.as_ref().map(|metre| metre.length.to_f64());
    match (bars, minutes) {
        (Some(bars), None) => Some(Length { bars: bars.value, computed: None }),
        (Some(_), Some(minutes)) if states_tempo => {
            let what = "the section states bars, minutes and a tempo, of which two tell the third";
            troubles.add(minutes.at, what, "leave one of the three out");
            None
        }
        (Some(bars), Some(minutes)) => {
            let computed = quarters.map(|quarters| f64::from(bars.value) * quarters / minutes.value)?;
            if !tempo::is_possible(computed) {
                let what = format!("{} bars in {} minutes is no tempo", bars.value, minutes.value);
                troubles.add(minutes.at, what, "mend the bars or the minutes");
                return None;
            }
            Some(Length { bars: bars.value, computed: Some(computed) })
        }
        (None, Some(minutes)) => {
            let Some(tempo) = now.quarters else {
                if !now.tempo_told {
                    let what = "the section states minutes, but neither bars nor a tempo to count them by";
                    troubles.add(minutes.at, what, "write tempo = 96, or the bars");
                }
                return None;
            };
            let bars = (minutes.value * tempo / quarters?).round();
            Some(Length { bars: bars.clamp(1.0, f64::from(MOST_BARS)) as u32, computed: None })
        }
        (None, None) => {
            if !table.has("bars") && !table.has("minutes") {
                troubles.add(table.at, "the section has no bars", "write bars = 24, or minutes = 1.5 and a tempo");
            }
            None
        }
    }
}

fn minutes(table: &Table<'_>, troubles: &mut Troubles) -> Option<Told<f64>> {
    let value = table.value("minutes")?;
    let at = value.span().start;
    match number(value.get_ref()).filter(|minutes| *minutes > 0.0 && *minutes <= MOST_MINUTES) {
        Some(minutes) => Some(Told { value: minutes, at }),
        None => {
            let what = format!("\"minutes\" must be a number above 0, at most {MOST_MINUTES}");
            troubles.add(at, what, "write the number without quotes: minutes = 1.5");
            None
        }
    }
}

/// By force: whether it plays and how busily. All play moderately unless the section says otherwise.
fn plays(table: &Table<'_>, forces: &Forces, troubles: &mut Troubles) -> Vec<Sketch> {
    let all = !table.has("who");
    let mut playing = vec![all; forces.all.len()];
    for (key, plays) in [("who", true), ("except", false)] {
        for word in table.texts(key, troubles).unwrap_or_default() {
            who::mark(&word, forces, troubles, |at| set(&mut playing, at, plays));
        }
    }
    let mut busy = vec![Busyness::Moderate; forces.all.len()];
    match table.value("busy").map(|value| (value, value.get_ref())) {
        None => {}
        Some((_, DeValue::Table(own))) => each_busyness(own, forces, &mut busy, troubles),
        Some((value, word)) => {
            if let Some(told) = busyness(word, value.span().start, troubles) {
                busy.fill(told);
            }
        }
    }
    playing.iter().zip(busy).map(|(plays, busy)| if *plays { Sketch::Plays(busy) } else { Sketch::Rests }).collect()
}

/// `{ all = "calm", strings = "still", "Violin I" = "busy" }`: what is named more narrowly counts.
fn each_busyness(own: &DeTable<'_>, forces: &Forces, busy: &mut [Busyness], troubles: &mut Troubles) {
    let mut said: Vec<(Vec<usize>, Busyness)> = Vec::new();
    for (key, value) in own {
        let word = Told { value: key.get_ref().as_ref(), at: key.span().start };
        let mut meant = Vec::new();
        who::mark(&word, forces, troubles, |at| meant.push(at));
        if let Some(told) = busyness(value.get_ref(), value.span().start, troubles) {
            said.push((meant, told));
        }
    }
    said.sort_by_key(|(meant, _)| std::cmp::Reverse(meant.len()));
    for (meant, told) in said {
        meant.into_iter().for_each(|at| set(busy, at, told));
    }
}

fn busyness(value: &DeValue<'_>, at: usize, troubles: &mut Troubles) -> Option<Busyness> {
    let word = value.as_str().unwrap_or_default();
    let found = Busyness::ALL.into_iter().find(|busyness| busyness.word() == word);
    if found.is_none() {
        let near = nearest(word, Busyness::ALL.map(Busyness::word));
        let near = near.map_or_else(String::new, |near| format!(": did you mean \"{near}\"?"));
        let what = format!("nothing is \"{}\" busy{near}", short(word));
        troubles.add(at, what, "one of still, calm, moderate, busy, very busy, or a table of names and these words");
    }
    found
}

fn set<T>(list: &mut [T], at: usize, value: T) {
    if let Some(slot) = list.get_mut(at) {
        *slot = value;
    }
}
