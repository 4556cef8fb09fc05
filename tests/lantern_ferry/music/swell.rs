//! Movement II, bars 57 to 84: open water; the strings are divided nearly throughout.

use crate::orchestra::*;
use crate::score::Movement;

const WAVES: [(usize, &str); 3] =
    [(57, "D Bm G A D F#m G A Bm"), (66, "Em A F#m Bm Em G A D G"), (75, "D Bm Em G D Bm G Em A7")];
const DIVIDED_WAVES: [(usize, &str); 3] = [(59, "G A D F#m G A Bm"), (66, "Em A F#m Bm Em G A D G"), (75, "D Bm Em G")];
const DIVIDED_PLAYERS: [usize; 6] = [V1, V1B, V2, V2B, VA, VAB];

pub fn write(m: &mut Movement) {
    strings(m);
    winds(m);
    last_bar(m);
}

fn strings(m: &mut Movement) {
    together(m, 57, "D Bm");
    for (bar, chords) in DIVIDED_WAVES {
        m.fill(V1, bar, chords, "A5", "h.@0( q@1)");
        m.fill(V1B, bar, chords, "D5", "e@0( @1 @0 @1 @0 @1 @0 @1)");
        m.fill(V2, bar, chords, "A4", "w@0%3");
        m.fill(V2B, bar, chords, "D4", "e@0( @1 @2 @1 @0 @1 @2 @1)");
        m.fill(VA, bar, chords, "A3", "w@0%3");
        m.fill(VAB, bar, chords, "D3", "h@0( @1)");
        m.fill(VC, bar, chords, "D2", "q@R( @1 @2 @1)");
        m.fill(CB, bar, chords, "E1", "w@R");
    }
    together(m, 79, "D Bm G Em A7");
    m.mark(&[V1, V2, VA, VC, CB], 57, 0, "p");
    m.mark(&[V1, V2, VA], 59, 0, "\"div.\"");
    m.mark(&DIVIDED_PLAYERS, 59, 0, "p");
    m.mark(&[V1, V2, VA], 79, 0, "\"unis.\"");
    let all = [V1, V1B, V2, V2B, VA, VAB, VC, CB];
    m.hairpin(&all, (61, 0), (62, 3), "<");
    m.hairpin(&all, (65, 0), (66, 3), ">");
    m.hairpin(&all, (71, 0), (72, 3), "<");
    m.hairpin(&all, (76, 0), (77, 3), ">");
    m.hairpin(&[V1, V2, VA, VC, CB], (81, 0), (83, 3), "<");
}

fn together(m: &mut Movement, bar: usize, chords: &str) {
    m.fill(V1, bar, chords, "D5", "h.@0( q@1)");
    m.fill(V2, bar, chords, "F#4", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(VA, bar, chords, "D3", "h@0( @1)");
    m.fill(VC, bar, chords, "D2", "q@R( @1 @2 @1)");
    m.fill(CB, bar, chords, "E1", "w@R");
}

fn winds(m: &mut Movement) {
    m.mark(&[FL2], 57, 0, "\"change to flute\"");
    m.put(HN12, 60, "{\"1. solo\"}{mp} h- qA3( D4 | h.F#4 qE4 | C#4 A3 hF#3 | qG3 B3 D4 E4 | h.C#4) q- | hD4( F#4)");
    m.put(CL, 63, "{\"1.\"}{p} wD4( | E4 | hF#4 B4) | = | = | wA4( | F#4) | G4( | B4 | A4)");
    m.put(FL1, 66, "{p} h- qG5( B5 | hA5 E5) | = | = | qB5( G5 E5 G5 | hB5 D6 | wC#6)");
    m.put(FL2, 71, "{\"Flute\"}{p} wG5( | A5 | F#5)");
    m.put(BN, 67, "{\"1.\"}{p} wC#4( | A3) | = | B3( | D4 | C#4 | A3)");
    m.put(EH, 73, "{\"solo\"}{mf} q- A4( D5 E5 | hD5 qB4 G4 | hF#4 A4 | qB4 D5 hF#5 | E5 qB4 G4 | hB4 D5)");
    m.put(HN34, 78, "{p}{\"a2\"} wB3( | A3) | B3( | D4)");
    for (bar, chords) in WAVES {
        m.fill(HARP_R, bar, chords, "F#4", "e- @0( @1 @2 q@3 @2)");
        m.fill(HARP_L, bar, chords, "D2", "q@R @1 h-");
    }
    m.mark(&[HARP_R], 57, 0, "mp");
    m.put(OB, 80, "{\"1. 2.\"} hF#5( B5 | D5 G5) | G5( E5 | C#5 G5)");
    m.put(OB, 80, "wB4 | hB4( D5) | wB4 | A4");
    m.fill(CL, 80, "Bm G Em A7", "E4", "w@0+@1");
    m.fill(BN, 80, "Bm G Em A7", "D3", "w@0+@1");
    m.fill(HN12, 80, "Bm G Em A7", "A3", "w@0+@1");
    m.mark(&[OB, CL, BN, HN12], 80, 0, "p");
    m.hairpin(&[OB, CL, BN, HN12], (81, 0), (83, 3), "<");
    m.put(TIMP, 82, "{p}{<} wE2%3 | A2%3 {/}");
}

/// Together again, and up into the full orchestra.
fn last_bar(m: &mut Movement) {
    m.put(V1, 84, "{mf}{<} sA4 B4 C#5 E5 A5 B5 C#6 E6 A5 B5 C#6 E6 A5 C#6 E6 G6 {/}");
    m.put(V2, 84, "{mf}{<} sA4 A4 C#5 C#5 E5 E5 C#5 C#5 A4 A4 C#5 C#5 E5 E5 G5 G5 {/}");
    m.put(VA, 84, "{mf}{<} eA3 C#4 E4 C#4 A4 E4 C#4 E4 {/}");
    m.put(VC, 84, "{mf}{<} hA2%3 A2%3 {/}");
    m.put(CB, 84, "{mf}{<} hA1%3 A1%3 {/}");
    m.put_all(&[OB, CL], 84, "{mf}{<} wA4+C#5 {/}");
    m.put(BN, 84, "{mf}{<} wA2+E3 {/}");
    m.put(HN12, 84, "{mf}{<} wA3+C#4 {/}");
    m.put(HN34, 84, "{mf}{<} wE3+A3 {/}");
    m.put(TIMP, 84, "{mf}{<} wA2%3 {/}");
    m.put(PERC1, 84, "{mp}{<} wG5%3 {/}");
}
