//! The music of "Lantern Ferry": an invented piece in two movements, played without a break, and a third.

mod chorale;
mod crossing;
mod dance;
mod landfall;
mod loading;
mod night;
mod second_draft;
mod swell;
mod watch;
mod winches;

use crate::score::{Movement, Tempo};

/// D minor / F major, then D major.
pub fn movements() -> [Movement; 2] {
    [first(), second()]
}

fn first() -> Movement {
    let mut m = Movement::new(1, "Loading by lamplight", -1, 84);
    m.metre_from(25, (3, 4));
    m.metre_from(49, (4, 4));
    tempo(&mut m, 1, "Lento", 60);
    tempo(&mut m, 25, "Andante con moto", 84);
    tempo(&mut m, 49, "Largamente", 72);
    tempo(&mut m, 65, "Tempo I, notturno", 60);
    rehearsal(&mut m, &[(9, "A"), (17, "B"), (25, "C"), (39, "D"), (49, "E"), (57, "F"), (65, "G"), (75, "H")]);
    double_barlines(&mut m, &[24, 48, 64]);
    loading::write(&mut m);
    winches::write(&mut m);
    chorale::write(&mut m);
    night::write(&mut m);
    m
}

fn second() -> Movement {
    let mut m = Movement::new(2, "The crossing", 2, 100);
    m.metre_from(25, (6, 8));
    m.metre_from(57, (4, 4));
    m.piccolo = Some((1, 56));
    tempo(&mut m, 1, "Allegro vivo", 132);
    m.head_mut(25).tempo = Some(Tempo { words: "Deck dance", dotted: true, beats_a_minute: 92 });
    tempo(&mut m, 57, "Open water", 104);
    tempo(&mut m, 85, "Largamente, in full sail", 108);
    tempo(&mut m, 93, "Tempo primo", 132);
    rehearsal(&mut m, &[(7, "I"), (17, "J"), (25, "K"), (36, "L"), (46, "M"), (57, "N"), (85, "O"), (93, "P")]);
    double_barlines(&mut m, &[24, 56, 84, 92]);
    m.head_mut(26).repeat_starts = true;
    m.head_mut(33).ending = Some(1);
    m.head_mut(33).repeat_stops = true;
    m.head_mut(34).ending = Some(2);
    m.head_mut(92).general_pause = true;
    crossing::write(&mut m);
    dance::write(&mut m);
    swell::write(&mut m);
    landfall::write(&mut m);
    m
}

/// The first movement as it was written anew.
pub fn second_draft() -> Movement {
    second_draft::of(first())
}

/// The third movement: for the players' parts, without pages.
pub fn watch() -> Movement {
    let mut m = Movement::new(3, "Harbour watch", -1, 160);
    for (bar, metre) in [
        (25, (3, 4)),
        (33, (4, 4)),
        (37, (3, 4)),
        (45, (6, 8)),
        (93, (4, 4)),
        (104, (5, 4)),
        (106, (4, 4)),
        (141, (8, 4)),
        (142, (4, 4)),
    ] {
        m.metre_from(bar, metre);
    }
    m.head_mut(141).free = true;
    tempo(&mut m, 1, "Adagio", 60);
    tempo(&mut m, 25, "Con moto", 72);
    m.head_mut(45).tempo = Some(Tempo { words: "Capstan dance", dotted: true, beats_a_minute: 88 });
    tempo(&mut m, 93, "Fog", 54);
    tempo(&mut m, 121, "Largamente", 66);
    tempo(&mut m, 142, "Tempo I", 60);
    rehearsal(&mut m, &[(9, "Q"), (25, "R"), (45, "S"), (69, "T"), (93, "U"), (119, "V"), (130, "W"), (142, "X")]);
    double_barlines(&mut m, &[24, 44, 120, 141]);
    m.head_mut(45).repeat_starts = true;
    m.head_mut(91).ending = Some(1);
    m.head_mut(91).repeat_stops = true;
    m.head_mut(92).ending = Some(2);
    m.head_mut(112).general_pause = true;
    watch::write(&mut m);
    m
}

fn tempo(m: &mut Movement, bar: usize, words: &'static str, beats_a_minute: u32) {
    m.head_mut(bar).tempo = Some(Tempo { words, dotted: false, beats_a_minute });
}

fn rehearsal(m: &mut Movement, marks: &[(usize, &'static str)]) {
    for &(bar, letter) in marks {
        m.head_mut(bar).rehearsal = Some(letter);
    }
}

fn double_barlines(m: &mut Movement, bars: &[usize]) {
    for &bar in bars {
        m.head_mut(bar).double_barline = true;
    }
}
