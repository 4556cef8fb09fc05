//! Pitches with their spelling, transposition, and chord symbols.

/// A spelled pitch; middle C is octave 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pitch {
    /// 0 for C to 6 for B.
    pub step: i32,
    pub alter: i32,
    pub octave: i32,
}

/// How far an instrument sounds from what is written, in steps of the scale and in half tones.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Transposition {
    pub steps: i32,
    pub half_tones: i32,
    pub octaves: i32,
}

const STEP_NAMES: &str = "CDEFGAB";
const HALF_TONES: [i32; 7] = [0, 2, 4, 5, 7, 9, 11];

impl Pitch {
    /// Reads `F#4`, `Bb3`, `C5`.
    pub fn parse(text: &str) -> Option<Pitch> {
        let step = STEP_NAMES.find(text.chars().next()?)?;
        let rest = text.get(1..)?;
        let octave = rest.trim_start_matches(['#', 'b']);
        let signs = &rest[..rest.len() - octave.len()];
        let alter = signs.chars().map(|sign| if sign == '#' { 1 } else { -1 }).sum();
        Some(Pitch { step: i32::try_from(step).ok()?, alter, octave: octave.parse().ok()? })
    }

    pub fn name(self) -> String {
        let sign = if self.alter >= 0 { "#" } else { "b" };
        format!("{}{}{}", self.letter(), sign.repeat(self.alter.unsigned_abs() as usize), self.octave)
    }

    pub fn letter(self) -> char {
        STEP_NAMES.chars().nth(self.step as usize).unwrap_or('C')
    }

    /// Half tones above the C below all octaves.
    pub fn half_tones(self) -> i32 {
        self.octave * 12 + HALF_TONES[self.step as usize] + self.alter
    }

    /// Steps of the scale above the C of octave 0.
    pub fn steps(self) -> i32 {
        self.octave * 7 + self.step
    }

    pub fn moved(self, steps: i32, half_tones: i32) -> Pitch {
        let target = self.steps() + steps;
        let natural = Pitch { step: target.rem_euclid(7), alter: 0, octave: target.div_euclid(7) };
        Pitch { alter: self.half_tones() + half_tones - natural.half_tones(), ..natural }
    }

    /// What is written for this sounding pitch.
    pub fn written(self, by: Transposition) -> Pitch {
        self.moved(-by.steps - 7 * by.octaves, -by.half_tones - 12 * by.octaves)
    }
}

impl Transposition {
    /// Sharps (or, below 0, flats) added to the sounding key by the written key.
    pub fn key_change(self) -> i32 {
        let written_c = Pitch { step: 0, alter: 0, octave: 4 }.moved(-self.steps, -self.half_tones);
        [0, 2, 4, -1, 1, 3, 5][written_c.step as usize] + 7 * written_c.alter
    }
}

/// The tones of a chord symbol (`Dm`, `A7`, `Edim`, `Bb`), from the lowest one not below `base` upwards.
pub fn chord_tones(symbol: &str, base: Pitch) -> Vec<Pitch> {
    let root_length = 1 + symbol[1..].chars().take_while(|c| matches!(c, '#' | 'b')).count();
    let root = Pitch::parse(&format!("{}0", &symbol[..root_length])).expect("a chord symbol begins with its root");
    let offsets: &[(i32, i32)] = match &symbol[root_length..] {
        "" => &[(0, 0), (2, 4), (4, 7)],
        "m" => &[(0, 0), (2, 3), (4, 7)],
        "dim" => &[(0, 0), (2, 3), (4, 6)],
        "7" => &[(0, 0), (2, 4), (4, 7), (6, 10)],
        "m7" => &[(0, 0), (2, 3), (4, 7), (6, 10)],
        "maj7" => &[(0, 0), (2, 4), (4, 7), (6, 11)],
        "sus" => &[(0, 0), (3, 5), (4, 7)],
        other => panic!("unknown chord quality {other:?}"),
    };
    let mut tones: Vec<Pitch> = (0..9)
        .flat_map(|octave| offsets.iter().map(move |&(steps, half)| root.moved(steps + 7 * octave, half + 12 * octave)))
        .filter(|tone| tone.half_tones() >= base.half_tones())
        .collect();
    tones.sort_by_key(|tone| tone.half_tones());
    tones
}

/// The chord's root, the lowest one not below `base`.
pub fn chord_root(symbol: &str, base: Pitch) -> Pitch {
    let tones = chord_tones(symbol, base);
    let letter = symbol.chars().next();
    *tones.iter().find(|tone| Some(tone.letter()) == letter).expect("every chord has its root in each octave")
}
