//! Mistakes, made in the text of a part. Bars count from 1.

use std::ops::RangeInclusive;

/// A part's text, bar by bar.
pub struct Bars {
    head: String,
    /// `None` where somebody left a bar out.
    bars: Vec<Option<String>>,
    tail: String,
}

/// A pitch: step from C = 0, half tones of its sign, octave.
pub type Pitch = (i32, i32, i32);

const STEPS: &str = "CDEFGAB";
const NATURAL: [i32; 7] = [0, 2, 4, 5, 7, 9, 11];

/// As an instrument in B flat reads what stands in C.
pub fn tone_lower(pitch: Pitch) -> Pitch {
    moved(pitch, -1, -2)
}

pub fn step_higher(pitch: Pitch) -> Pitch {
    moved(pitch, 1, 2)
}

pub fn third_lower(pitch: Pitch) -> Pitch {
    moved(pitch, -2, -3)
}

/// Flats as sharps and sharps as flats, the same in sound.
pub fn respelt(pitch: Pitch) -> Pitch {
    match pitch.1 {
        0 => pitch,
        sign => moved(pitch, sign, 0),
    }
}

fn moved((step, alter, octave): Pitch, steps: i32, half_tones: i32) -> Pitch {
    let height = octave * 12 + NATURAL[step as usize] + alter + half_tones;
    let place = octave * 7 + step + steps;
    let (octave, step) = (place.div_euclid(7), place.rem_euclid(7));
    (step, height - octave * 12 - NATURAL[step as usize], octave)
}

impl Bars {
    pub fn of(text: &str) -> Bars {
        let mut pieces = text.split("<measure ");
        let head = pieces.next().unwrap_or_default().to_owned();
        let mut bars = Vec::new();
        let mut tail = String::new();
        for piece in pieces {
            let (bar, after) = piece.split_once("</measure>").unwrap_or((piece, ""));
            bars.push(Some(format!("<measure {bar}</measure>")));
            tail = after.to_owned();
        }
        Bars { head, bars, tail }
    }

    pub fn text(&self) -> String {
        let bars: Vec<&str> = self.bars.iter().flatten().map(String::as_str).collect();
        format!("{}{}{}", self.head, bars.join("\n    "), self.tail)
    }

    pub fn lose(&mut self, bars: RangeInclusive<usize>) {
        bars.for_each(|bar| self.bars[bar - 1] = None);
    }

    fn change(&mut self, bar: usize, change: impl FnOnce(&str) -> String) {
        if let Some(text) = &mut self.bars[bar - 1] {
            *text = change(text);
        }
    }

    /// Takes out the direction that holds these words.
    fn cut(&mut self, words: &str, bar: usize) -> String {
        let text = self.bars[bar - 1].clone().unwrap_or_default();
        let at = text.find(words).unwrap_or_else(|| panic!("no {words} in bar {bar}: {text}"));
        let start = text[..at].rfind("<direction").and_then(|_| text[..at].rfind("<direction ")).unwrap_or(0);
        let end = at + text[at..].find("</direction>").unwrap_or(0) + "</direction>".len();
        self.bars[bar - 1] = Some(format!("{}{}", &text[..start], &text[end..]));
        text[start..end].to_owned()
    }

    pub fn lose_direction(&mut self, words: &str, bar: usize) {
        self.cut(words, bar);
    }

    pub fn move_direction(&mut self, words: &str, from: usize, to: usize) {
        let mark = self.cut(words, from);
        self.change(to, |text| {
            let at = text.find("<note").unwrap_or(text.len());
            format!("{}{mark}\n      {}", &text[..at], &text[at..])
        });
    }

    /// Numbers of bars from one on, by so many higher.
    pub fn number_from(&mut self, first: usize, by: i32) {
        for bar in first..=self.bars.len() {
            self.change(bar, |text| {
                let (before, rest) = text.split_once("number=\"").expect("a numbered bar");
                let (number, after) = rest.split_once('"').expect("a numbered bar");
                match number.parse::<i32>() {
                    Ok(number) => format!("{before}number=\"{}\"{after}", number + by),
                    Err(_) => text.to_owned(),
                }
            });
        }
    }

    /// The number of the first page; nothing is said where it is 1 anyway.
    pub fn number_pages_from(&mut self, first: u32) {
        if first != 1 {
            self.change(1, |text| text.replacen('>', &format!(">\n   <print page-number=\"{first}\"/>"), 1));
        }
    }

    /// Two rests as one of `count` bars, one too few.
    pub fn count_one_short(&mut self, first: usize, second: usize, count: u32) {
        let counted = |text: &str, new: Option<u32>| {
            let (before, rest) = text.split_once("<measure-style>").expect("a multi-bar rest");
            let (_, after) = rest.split_once("</measure-style>").expect("a multi-bar rest");
            let style = new.map(|bars| format!("<measure-style><multiple-rest>{bars}</multiple-rest></measure-style>"));
            format!("{before}{}{after}", style.unwrap_or_default())
        };
        self.change(first, |text| counted(text, Some(count)));
        self.change(second, |text| counted(text, None));
        self.lose(second - 2..=second - 2);
    }

    /// Other pitches for all notes of some bars.
    pub fn repitch(&mut self, bars: RangeInclusive<usize>, to: impl Fn(Pitch) -> Pitch) {
        for bar in bars {
            self.change(bar, |text| {
                let mut out = String::new();
                let mut rest = text;
                while let Some((before, note)) = rest.split_once("<pitch>") {
                    let (pitch, after) = note.split_once("</pitch>").expect("a pitch ends");
                    let new = to(read(pitch));
                    out.push_str(before);
                    out.push_str(&written(new));
                    rest = after;
                }
                out.push_str(rest);
                out
            });
        }
    }
}

fn read(pitch: &str) -> Pitch {
    let of = |name: &str| {
        let (_, rest) = pitch.split_once(&format!("<{name}>"))?;
        rest.split_once("</").map(|(text, _)| text.trim())
    };
    let step = STEPS.find(of("step").unwrap_or("C")).unwrap_or(0) as i32;
    let number = |name: &str| of(name).and_then(|text| text.parse().ok()).unwrap_or(0);
    (step, number("alter"), number("octave"))
}

fn written((step, alter, octave): Pitch) -> String {
    let step = &STEPS[step as usize..=step as usize];
    let alter = if alter == 0 { String::new() } else { format!("<alter>{alter}</alter>") };
    format!("<pitch><step>{step}</step>{alter}<octave>{octave}</octave></pitch>")
}
