//! Movement I, bars 1 to 24: dark quay, horn calls, a song of the english horn.

use crate::orchestra::*;
use crate::score::Movement;

const QUAY: &str = "Dm Dm Gm Dm Bb Gm Edim A Dm F Gm A";

pub fn write(m: &mut Movement) {
    quay(m);
    song(m);
    gathering(m);
}

fn quay(m: &mut Movement) {
    m.fill(V1, 3, "Gm Dm Bb Gm Edim A Dm F Gm A", "A4", "w@0%3");
    m.fill(V2, 1, QUAY, "E4", "w@0%3");
    m.fill(VA, 1, QUAY, "A3", "w@0%3");
    m.fill(VC, 1, QUAY, "D2", "h.@R( q@R)");
    m.fill(CB, 1, QUAY, "E1", "w@R");
    m.mark(&[V2, VA, VC, CB], 1, 0, "pp");
    m.mark(&[V1], 3, 0, "pp");
    m.hairpin(&[V1, V2, VA], (7, 0), (8, 0), "<");
    m.hairpin(&[V1, V2, VA], (8, 1), (8, 4), ">");

    m.put(HN12, 2, "{\"1.\"}{p} q.D4( eA4 hD5~ | D5 q.C5 eA4) | wA4");
    m.put(HN34, 7, "{\"3.\"}{p} q.E4( eBb4 hD5~ | D5 q.C#5 eA4)");
    m.put(TIMP, 1, "{pp} wD3%3");
    m.put(TIMP, 8, "{pp} wA2%3 | D3%3");
    m.put(PERC1, 1, "{pp}{\"tam-tam\"} wE4");
    m.put(PERC1, 9, "{\"susp. cymbal, soft sticks\"}{pp} wG5%3");
    m.fill(HARP_R, 5, "Bb Gm Edim A Dm F Gm A", "D4", "e-( @0 @1 @2 @3 @2 @1 @0)");
    m.fill(HARP_L, 5, "Bb Gm Edim A Dm F Gm A", "D2", "h@R @1");
    m.mark(&[HARP_R], 5, 0, "p");

    m.put(CL, 5, "{\"1.\"}{pp} qD5( F5 hA5 | G5 qD5 Bb4 | hG4 Bb4) | wA4");
    m.put(BN, 9, "{\"1.\"}{p} hA3( F3 | C4 A3 | Bb3 G3 | wA3)");
    m.put(FL1, 9, "{p} h-  qA5( D6 | C6 F5 hA5 | qBb5 A5 G5 D5 | hE5 C#5)");
    m.put(OB, 11, "{\"1.\"}{p} hBb4( D5 | C#5 E5)");
    m.put(CBN, 9, "{pp} wD2 | F2 | G2 | A2");
}

fn song(m: &mut Movement) {
    m.put(
        EH,
        13,
        "{\"solo\"}{mf} q.D4( eF4 qA4 D5 | hC5 q.G4 eE4) | qD4( F4 Bb4 D5 | C5 eA4 G4 hF4) \
         | q.G4( eBb4 qD5 F5 | hE5 qD5 A4) | eBb4( A4 G4 Bb4 hE5 | qC#5 B4 hA4)",
    );
    m.hairpin(&[EH], (17, 1), (18, 0), "<");
    m.hairpin(&[EH], (18, 1), (19, 0), ">");
    m.fill(V1, 13, "Dm C Bb F", "A4", "w@0");
    m.fill(V1, 17, "Gm Dm Edim A", "D5", "h@0( @1)");
    m.fill(V2, 13, "Dm C Bb F Gm Dm Edim A", "E4", "w@0");
    m.fill(VA, 13, "Dm C Bb F Gm Dm Edim A", "B3", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(VC, 13, "Dm C Bb F Gm Dm Edim A", "C2", "q@R - @R -");
    m.fill(CB, 13, "Dm C Bb F Gm Dm Edim A", "E1", "q@R - h-");
    m.mark(&[VC, CB], 13, 0, "\"pizz.\"");
    m.mark(&[V1, V2, VA, VC, CB], 13, 0, "p");
    m.fill(HARP_R, 13, "Dm C Bb F Gm Dm Edim A", "D4", "q- @0+@1+@2$ - @1+@2+@3$");
    m.fill(HARP_L, 13, "Dm C Bb F Gm Dm Edim A", "C2", "h@R @R");
    m.put(CL, 17, "{\"1.\"}{p} wD4( | F4) | G4( | E4)");
    m.put(FL1, 18, "{p} h- qA5( F5 | G5 Bb5 eD6 C6 Bb5 G5 | wA5)");
    m.put(HN12, 19, "{\"a2\"}{p} wBb3( | A3)");
    m.put(BN, 17, "{\"a2\"}{p} wG3( | F3) | E3( | A3)");
}

fn gathering(m: &mut Movement) {
    let build = "Bb Gm A7 A7";
    m.fill(V1, 21, build, "F5", "e@0%1 @0%1 @1%1 @1%1 @0%1 @0%1 @1%1 @1%1");
    m.fill(V2, 21, build, "A4", "e@0%1 @0%1 @1%1 @1%1 @0%1 @0%1 @1%1 @1%1");
    m.fill(VA, 21, build, "D4", "h@0%3 @1%3");
    m.fill(VC, 21, build, "C3", "h@R%3 @1%3");
    m.fill(CB, 21, build, "E1", "h@R%3 @R%3");
    m.mark(&[VC, CB], 21, 0, "\"arco\"");
    let strings = [V1, V2, VA, VC, CB];
    m.mark(&strings, 21, 0, "p");
    m.hairpin(&strings, (22, 0), (24, 3), "<");
    m.fill(FL1, 21, build, "F5", "h@0( @1)");
    m.fill(FL2, 21, build, "C5", "h@0( @1)");
    m.fill(OB, 21, build, "A4", "h@0+@1( @1+@2)");
    m.fill(EH, 21, build, "D4", "h@0( @1)");
    m.fill(CL, 21, build, "D4", "h@0+@1( @1+@2)");
    m.fill(BN, 21, build, "A2", "w@0+@1");
    m.fill(CBN, 21, build, "F2", "w@0");
    let winds = [FL1, FL2, OB, EH, CL, BN, CBN];
    m.mark(&winds, 21, 0, "p");
    m.hairpin(&winds, (23, 0), (24, 3), "<");
    m.fill(HN12, 23, "A7 A7", "A3", "w@0+@1");
    m.fill(HN34, 23, "A7 A7", "E3", "w@0+@1");
    m.mark(&[HN12, HN34], 23, 0, "p");
    m.hairpin(&[HN12, HN34], (23, 1), (24, 3), "<");
    m.put(TIMP, 23, "{pp} wA2%3 | {<} hA2%3 A2%3 {/}");
    m.put(PERC1, 24, "{pp}{<} wG5%3 {/}");
}
