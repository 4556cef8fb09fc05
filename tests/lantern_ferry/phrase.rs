//! The compact text in which the music is written.
//!
//! Items are parted by blanks: an optional note value (`w h q e s t`, whole to thirty-second, dots after it;
//! kept until changed), pitches (`D5`, `Bb3+F4`; sounding) or `-` for a rest, and marks: `>` accent, `!` staccato,
//! `_` tenuto, `^` marcato, `(` `)` slur, `~` tie, `*` fermata, `&` trill, `$` arpeggio, `%3` tremolo of three strokes, `?` a cue.
//! `g` before a value makes a grace note, `3[ .. ]` a tuplet, `=` a silent bar, `|` a barline. Braces hold
//! directions: `{pp}` a dynamic, `{<}` `{>}` `{/}` hairpins, `{8va}` `{loco}` an octave line, `{"pizz."}` words.

use crate::pitch::Pitch;
use crate::score::{Cell, Direction, Item, Kind, Mark, Place, Placed, QUARTER, Tuplet};

/// Reads a phrase into bars of the given lengths, each of which it must fill exactly.
pub fn parse(text: &str, lengths: &[u32]) -> Vec<Cell> {
    let mut reader =
        Reader { value: 2, dots: 0, tuplet: None, octave_line: 0, at: 0, items: Vec::new(), directions: Vec::new() };
    let mut cells = Vec::new();
    for token in tokens(text).iter().chain([&"|".to_owned()]) {
        let length = *lengths.get(cells.len()).expect("a phrase ends within its movement");
        if token == "|" {
            assert_eq!(reader.at, length, "bar {} of phrase {text:?}", cells.len() + 1);
            cells.push(reader.end_bar());
        } else {
            reader.read(token, length);
        }
    }
    cells
}

/// Reads what stands between braces.
pub fn direction(text: &str) -> Direction {
    match text {
        "<" => Direction::Crescendo,
        ">" => Direction::Diminuendo,
        "/" => Direction::HairpinStop,
        "8va" => Direction::OctaveUp,
        "loco" => Direction::OctaveStop,
        _ if text.starts_with('"') => Direction::Words(text.trim_matches('"').to_owned()),
        _ => Direction::Dynamic(text.to_owned()),
    }
}

/// Splits at blanks, but keeps what stands between braces together.
fn tokens(text: &str) -> Vec<String> {
    let mut tokens = vec![String::new()];
    let mut braced = false;
    for c in text.chars() {
        match c {
            '{' => {
                tokens.push("{".to_owned());
                braced = true;
            }
            '}' => {
                tokens.push(String::new());
                braced = false;
            }
            c if c.is_whitespace() && !braced => tokens.push(String::new()),
            c => tokens.last_mut().expect("never empty").push(c),
        }
    }
    tokens.retain(|token| !token.is_empty());
    tokens
}

struct Reader {
    value: u32,
    dots: u32,
    tuplet: Option<Tuplet>,
    octave_line: i32,
    at: u32,
    items: Vec<Item>,
    directions: Vec<Placed>,
}

impl Reader {
    fn end_bar(&mut self) -> Cell {
        self.at = 0;
        let items = std::mem::take(&mut self.items);
        Cell { voices: vec![items], directions: std::mem::take(&mut self.directions) }
    }

    fn read(&mut self, token: &str, bar_length: u32) {
        if let Some(what) = token.strip_prefix('{') {
            let what = direction(what);
            match what {
                Direction::OctaveUp => self.octave_line = 1,
                Direction::OctaveStop => self.octave_line = 0,
                _ => {}
            }
            self.directions.push(Placed { at: self.at, what, place: Place::default() });
        } else if let Some(count) = token.strip_suffix('[') {
            let actual = count.parse().expect("a tuplet's number");
            let normal = match actual {
                2 => 3,
                3 => 2,
                _ => 4,
            };
            self.tuplet = Some(Tuplet { actual, normal, starts: true, stops: false });
        } else if token == "]" {
            if let Some(tuplet) = self.items.last_mut().and_then(|item| item.tuplet.as_mut()) {
                tuplet.stops = true;
            }
            self.tuplet = None;
        } else if token == "=" {
            let item = Item {
                kind: Kind::BarRest,
                units: bar_length,
                value: 0,
                dots: 0,
                tuplet: None,
                marks: Vec::new(),
                tied: false,
                octave_line: 0,
            };
            self.at += bar_length;
            self.items.push(item);
        } else {
            self.item(token);
        }
    }

    fn item(&mut self, token: &str) {
        let (grace, mut rest) = token.strip_prefix('g').map_or((false, token), |rest| (true, rest));
        if let Some(value) = rest.chars().next().and_then(|c| "whqest".find(c)) {
            rest = &rest[1..];
            self.value = u32::try_from(value).expect("one of six");
            self.dots = 0;
            while let Some(after) = rest.strip_prefix('.') {
                rest = after;
                self.dots += 1;
            }
        }
        let body_length = rest.find(|c: char| !(c.is_ascii_alphanumeric() || "#+-".contains(c))).unwrap_or(rest.len());
        let (body, signs) = rest.split_at(body_length);
        let kind = if body == "-" {
            Kind::Rest
        } else {
            let read = |name| Pitch::parse(name).unwrap_or_else(|| panic!("no pitch: {token:?}"));
            Kind::Notes(body.split('+').map(read).collect())
        };
        let mut item = Item {
            kind,
            units: if grace { 0 } else { self.units() },
            value: self.value,
            dots: self.dots,
            tuplet: self.tuplet,
            marks: Vec::new(),
            tied: false,
            octave_line: self.octave_line,
        };
        sign(&mut item, signs);
        self.at += item.units;
        if let Some(tuplet) = self.tuplet.as_mut() {
            tuplet.starts = false;
        }
        self.items.push(item);
    }

    fn units(&self) -> u32 {
        let plain = (4 * QUARTER) >> self.value;
        let dotted = match self.dots {
            0 => plain,
            1 => plain * 3 / 2,
            _ => plain * 7 / 4,
        };
        self.tuplet.map_or(dotted, |tuplet| dotted * tuplet.normal / tuplet.actual)
    }
}

fn sign(item: &mut Item, signs: &str) {
    let mut signs = signs.chars();
    while let Some(c) = signs.next() {
        item.marks.push(match c {
            '>' => Mark::Accent,
            '!' => Mark::Staccato,
            '_' => Mark::Tenuto,
            '^' => Mark::Marcato,
            '(' => Mark::SlurStart,
            ')' => Mark::SlurStop,
            '*' => Mark::Fermata,
            '&' => Mark::Trill,
            '?' => Mark::Cue,
            '$' => Mark::Arpeggio,
            '%' => Mark::Tremolo(signs.next().and_then(|digit| digit.to_digit(10)).expect("strokes after %")),
            '~' => {
                item.tied = true;
                continue;
            }
            other => panic!("unknown mark {other:?}"),
        });
    }
}
