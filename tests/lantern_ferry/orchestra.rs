//! The orchestra: its parts, their staves, families, names, clefs and transpositions.

use crate::pitch::Transposition;

/// Index of a staff in score order, hidden ones counted too.
pub type Staff = usize;

pub const FL1: Staff = 0;
pub const FL2: Staff = 1;
pub const OB: Staff = 2;
pub const EH: Staff = 3;
pub const CL: Staff = 4;
pub const BN: Staff = 5;
pub const CBN: Staff = 6;
pub const HN12: Staff = 7;
pub const HN34: Staff = 8;
pub const TPT: Staff = 9;
pub const TBN: Staff = 10;
pub const BTBN: Staff = 11;
pub const TUBA: Staff = 12;
pub const TIMP: Staff = 13;
pub const PERC1: Staff = 14;
pub const PERC2: Staff = 15;
pub const HARP_R: Staff = 16;
pub const HARP_L: Staff = 17;
pub const V1: Staff = 18;
pub const V1B: Staff = 19;
pub const V2: Staff = 20;
pub const V2B: Staff = 21;
pub const VA: Staff = 22;
pub const VAB: Staff = 23;
pub const VC: Staff = 24;
pub const CB: Staff = 25;
/// The staves of the orchestra.
pub const STAVES: usize = 26;
/// Added in the second draft of the first movement; it stands below the other percussion.
pub const BELL: Staff = 26;
/// With the added one.
pub const ALL_STAVES: usize = 27;

/// The staves that stand only where the strings divide.
pub const DIVIDED: [Staff; 3] = [V1B, V2B, VAB];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    Woodwind,
    Brass,
    Percussion,
    Harp,
    Strings,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clef {
    Treble,
    Alto,
    Bass,
    Percussion,
}

impl Clef {
    /// The written step on the middle line, counted from the C of octave 0.
    pub fn middle_line(self) -> i32 {
        match self {
            Clef::Treble | Clef::Percussion => 34,
            Clef::Alto => 28,
            Clef::Bass => 22,
        }
    }
}

/// One part: a line of the part list.
pub struct Part {
    pub id: &'static str,
    pub name: &'static str,
    pub short: &'static str,
    pub family: Family,
    pub transposition: Transposition,
    /// First staff and the clef of each.
    pub first: Staff,
    pub clefs: &'static [Clef],
    /// Unpitched instruments: id, name, place on the staff.
    pub unpitched: &'static [(&'static str, &'static str, &'static str)],
}

const fn sounding(steps: i32, half_tones: i32, octaves: i32) -> Transposition {
    Transposition { steps, half_tones, octaves }
}

const AS_WRITTEN: Transposition = sounding(0, 0, 0);
const IN_B_FLAT: Transposition = sounding(-1, -2, 0);
const IN_F: Transposition = sounding(-4, -7, 0);
const OCTAVE_LOWER: Transposition = sounding(0, 0, -1);
/// What the second flute's part becomes while it plays piccolo.
pub const PICCOLO: Transposition = sounding(0, 0, 1);

const ONE_TREBLE: &[Clef] = &[Clef::Treble];
const ONE_BASS: &[Clef] = &[Clef::Bass];

const fn part(
    id: &'static str,
    names: (&'static str, &'static str),
    family: Family,
    transposition: Transposition,
    first: Staff,
    clefs: &'static [Clef],
) -> Part {
    Part { id, name: names.0, short: names.1, family, transposition, first, clefs, unpitched: &[] }
}

const TAM_TAM_PLAYER: &[(&str, &str, &str)] =
    &[("P15-I1", "Tam-tam", "E4"), ("P15-I2", "Suspended cymbal", "G5"), ("P15-I3", "Triangle", "E5")];
const DRUM_PLAYER: &[(&str, &str, &str)] =
    &[("P16-I1", "Bass drum", "F4"), ("P16-I2", "Snare drum", "C5"), ("P16-I3", "Clash cymbals", "A5")];

/// All parts in score order.
pub const PARTS: &[Part] = &[
    part("P1", ("Flute 1", "Fl. 1"), Family::Woodwind, AS_WRITTEN, FL1, ONE_TREBLE),
    part("P2", ("Flute 2 (Piccolo)", "Fl. 2"), Family::Woodwind, AS_WRITTEN, FL2, ONE_TREBLE),
    part("P3", ("Oboes 1.2", "Ob. 1.2"), Family::Woodwind, AS_WRITTEN, OB, ONE_TREBLE),
    part("P4", ("English horn in F", "E. hn."), Family::Woodwind, IN_F, EH, ONE_TREBLE),
    part("P5", ("Clarinets 1.2 in B\u{266d}", "Cl. 1.2"), Family::Woodwind, IN_B_FLAT, CL, ONE_TREBLE),
    part("P6", ("Bassoons 1.2", "Bn. 1.2"), Family::Woodwind, AS_WRITTEN, BN, ONE_BASS),
    part("P7", ("Contrabassoon", "C. bn."), Family::Woodwind, OCTAVE_LOWER, CBN, ONE_BASS),
    part("P8", ("Horns 1.2 in F", "Hn. 1.2"), Family::Brass, IN_F, HN12, ONE_TREBLE),
    part("P9", ("Horns 3.4 in F", "Hn. 3.4"), Family::Brass, IN_F, HN34, ONE_TREBLE),
    part("P10", ("Trumpets 1.2 in B\u{266d}", "Tpt. 1.2"), Family::Brass, IN_B_FLAT, TPT, ONE_TREBLE),
    part("P11", ("Trombones 1.2", "Tbn. 1.2"), Family::Brass, AS_WRITTEN, TBN, ONE_BASS),
    part("P12", ("Bass trombone", "B. tbn."), Family::Brass, AS_WRITTEN, BTBN, ONE_BASS),
    part("P13", ("Tuba", "Tba."), Family::Brass, AS_WRITTEN, TUBA, ONE_BASS),
    part("P14", ("Timpani", "Timp."), Family::Percussion, AS_WRITTEN, TIMP, ONE_BASS),
    Part {
        unpitched: TAM_TAM_PLAYER,
        ..part("P15", ("Percussion 1", "Perc. 1"), Family::Percussion, AS_WRITTEN, PERC1, &[Clef::Percussion])
    },
    Part {
        unpitched: DRUM_PLAYER,
        ..part("P16", ("Percussion 2", "Perc. 2"), Family::Percussion, AS_WRITTEN, PERC2, &[Clef::Percussion])
    },
    part("P17", ("Harp", "Hp."), Family::Harp, AS_WRITTEN, HARP_R, &[Clef::Treble, Clef::Bass]),
    part("P18", ("Violins I", "Vln. I"), Family::Strings, AS_WRITTEN, V1, &[Clef::Treble, Clef::Treble]),
    part("P19", ("Violins II", "Vln. II"), Family::Strings, AS_WRITTEN, V2, &[Clef::Treble, Clef::Treble]),
    part("P20", ("Violas", "Vla."), Family::Strings, AS_WRITTEN, VA, &[Clef::Alto, Clef::Alto]),
    part("P21", ("Cellos", "Vc."), Family::Strings, AS_WRITTEN, VC, ONE_BASS),
    part("P22", ("Double basses", "Db."), Family::Strings, OCTAVE_LOWER, CB, ONE_BASS),
];

const BELL_PLAYER: &[(&str, &str, &str)] = &[("P23-I1", "Ship's bell", "B4")];

/// The line that the second draft adds.
pub const BELL_PART: &Part = &Part {
    unpitched: BELL_PLAYER,
    ..part("P23", ("Percussion 3", "Perc. 3"), Family::Percussion, AS_WRITTEN, BELL, &[Clef::Percussion])
};

/// All parts in score order, with the added one or without.
pub fn parts(with_bell: bool) -> impl Iterator<Item = &'static Part> {
    let above = PARTS.iter().filter(|part| part.first <= PERC2);
    let below = PARTS.iter().filter(|part| part.first > PERC2);
    above.chain(with_bell.then_some(BELL_PART)).chain(below)
}

/// The part a staff belongs to.
pub fn part_of(staff: Staff) -> &'static Part {
    let holds = |part: &&Part| (part.first..part.first + part.clefs.len()).contains(&staff);
    parts(true).find(holds).expect("every staff has its part")
}

pub fn clef_of(staff: Staff) -> Clef {
    let part = part_of(staff);
    part.clefs[staff - part.first]
}

/// The staff's name in lists of facts: "Vln. I", "Vln. I (2)".
pub fn staff_name(staff: Staff) -> String {
    let part = part_of(staff);
    if staff == part.first { part.short.to_owned() } else { format!("{} ({})", part.short, staff - part.first + 1) }
}

/// Every staff in score order, those of divided strings too.
pub fn all_staves(with_bell: bool) -> Vec<Staff> {
    parts(with_bell).flat_map(|part| part.first..part.first + part.clefs.len()).collect()
}

/// Every staff of the undivided orchestra: 23 of 26.
pub fn full_set(with_bell: bool) -> Vec<Staff> {
    all_staves(with_bell).into_iter().filter(|staff| !DIVIDED.contains(staff)).collect()
}
