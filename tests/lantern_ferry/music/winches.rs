//! Movement I, bars 25 to 48: the winches turn, in three; the strings divide for six bars.

use crate::orchestra::*;
use crate::score::Movement;

const TURNING: &str = "Dm Dm C C Bb Bb F A";
const DIVIDED_BARS: &str = "Dm C Gm Bb A A";
const RETURN: &str = "Dm F C Gm Bb F A A7 Dm Dm";

pub fn write(m: &mut Movement) {
    turning(m);
    divided(m);
    homewards(m);
}

fn turning(m: &mut Movement) {
    m.put(
        V1,
        25,
        "{f} q.A4( eD5 F5 A5) | hG5( qF5) | q.E5( eG5 C5 E5) | hG5( qE5) | q.D5( eF5 Bb5 A5) | hF5( qD5) \
         | eC5( F5 A5 G5 F5 C5) | hE5( qC#5)",
    );
    m.fill(V2, 25, TURNING, "D4", "e@0 @1 @2 @1 @0 @1");
    m.fill(VA, 25, TURNING, "A3", "e@0 @1 @0 @1 @0 @1");
    m.fill(VC, 25, TURNING, "C2", "q@R @2 @2");
    m.fill(CB, 25, TURNING, "E1", "h.@R");
    m.mark(&[V2, VA, VC, CB], 25, 0, "mf");
    m.fill(CL, 25, TURNING, "F4", "q- @0+@1! @0+@1!");
    m.fill(BN, 25, TURNING, "D3", "q- @0+@1! @0+@1!");
    m.fill(HN12, 25, TURNING, "F3", "h.@0+@1");
    m.fill(HN34, 26, "Dm C C Bb Bb F A", "D3", "h.@0+@1");
    m.mark(&[CL, BN, HN12], 25, 0, "mf");
    m.mark(&[HN34], 26, 0, "mf");
    m.put(OB, 29, "{\"a2\"}{mf} q.D5( eF5 Bb5 A5) | hF5( qD5) | eC5( F5 A5 G5 F5 C5) | hE5( qC#5)");
    m.put(TIMP, 25, "{mf} qD3 - - | D3 - -");
    m.fill(PERC2, 25, TURNING, "C5", "q- eC5 C5 q-");
    m.mark(&[PERC2], 25, 0, "p");
    m.mark(&[PERC2], 25, 0, "\"snare drum\"");
}

fn divided(m: &mut Movement) {
    m.fill(V1, 33, DIVIDED_BARS, "A5", "h@0( q@1)");
    m.fill(V1B, 33, DIVIDED_BARS, "D5", "e@0( @1 @0 @1 @0 @1)");
    m.fill(V2, 33, DIVIDED_BARS, "A4", "h@0( q@1)");
    m.fill(V2B, 33, DIVIDED_BARS, "D4", "e@0( @1 @0 @1 @0 @1)");
    m.fill(VA, 33, DIVIDED_BARS, "A3", "h.@0");
    m.fill(VAB, 33, DIVIDED_BARS, "D3", "e@0( @1 @0 @1 @0 @1)");
    m.fill(VC, 33, DIVIDED_BARS, "C2", "h@R( q@1)");
    m.fill(CB, 33, DIVIDED_BARS, "E1", "q@R - -");
    m.mark(&[V1, V2, VA], 33, 0, "\"div.\"");
    m.mark(&[V1, V1B, V2, V2B, VA, VAB, VC, CB], 33, 0, "mp");
    m.hairpin(&[V1, V1B, V2, V2B, VA, VAB, VC], (36, 0), (38, 2), "<");
    m.put(FL1, 35, "{p} qD6( Bb5 G5 | D6 Bb5 F5 | hE5 qA5 | h.C#6)");
    m.put(CL, 35, "{\"1.\"}{p} h.D5( | F5 | E5 | A4)");
    m.fill(HARP_R, 33, DIVIDED_BARS, "F4", "q- @0+@1+@2$ -");
    m.fill(HARP_L, 33, DIVIDED_BARS, "C2", "q@R - @1");
    m.mark(&[HARP_R], 33, 0, "p");
}

fn homewards(m: &mut Movement) {
    m.fill(V1, 39, RETURN, "D5", "e@0( @1 @2 @1 @0 @1)");
    m.fill(V2, 39, RETURN, "F4", "e@1( @0 @1 @0 @1 @0)");
    m.fill(VA, 39, RETURN, "A3", "q@0 @1 @0");
    m.fill(VC, 39, RETURN, "C2", "q@R @2 @2");
    m.fill(CB, 39, RETURN, "E1", "h.@R");
    m.mark(&[V1, V2, VA], 39, 0, "\"unis.\"");
    let strings = [V1, V2, VA, VC, CB];
    m.mark(&strings, 39, 0, "mf");
    m.put(
        HN12,
        40,
        "{\"1.\"}{mf} q.F4( eA4 C5 F5) | hE5( qC5) | q.D5( eBb4 G4 Bb4) | hD5( qF5) | q.C5( eA4 F4 A4) | h.E4(  | G4)",
    );
    m.fill(FL1, 43, "Bb F A A7", "D6", "q.@0( e@1 q@0)");
    m.fill(OB, 43, "Bb F A A7", "A4", "h.@0+@1");
    m.fill(CL, 41, "C Gm Bb F A A7", "E4", "q@0+@1! - @0+@1!");
    m.fill(BN, 41, "C Gm Bb F A A7", "C3", "q@0+@1! - @0+@1!");
    m.mark(&[FL1, OB], 43, 0, "p");
    m.mark(&[CL, BN], 41, 0, "mp");
    m.hairpin(&[V1, V2, VA, VC, CB, FL1, OB, CL, BN], (45, 0), (46, 2), ">");
    m.mark(&strings, 47, 0, "p");
    m.put(EH, 46, "{\"solo\"}{p} q- A4( C#5) | q.D5( eA4 F4 A4 | h.D4)");
    m.put(TIMP, 45, "{p} hA2%3 q- | hA2%3 q- | D3 - - | {pp} h.D3%3");
}
