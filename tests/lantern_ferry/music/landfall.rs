//! Movement II, bars 85 to 100: the full orchestra, a general pause, and the run to the quay.

use crate::orchestra::*;
use crate::score::Movement;

const SAIL: &str = "D Bm G A";
const RUN: &str = "D G A D Bm G";

const PLAYERS: [usize; 19] =
    [FL1, FL2, OB, EH, CL, BN, CBN, HN12, HN34, TPT, TBN, BTBN, TUBA, HARP_R, V1, V2, VA, VC, CB];

pub fn write(m: &mut Movement) {
    sail(m);
    crest(m);
    run(m);
    quay(m);
}

/// Loud and full, yet each staff keeps to its middle.
fn sail(m: &mut Movement) {
    m.fill(FL1, 85, SAIL, "F#5", "h@0( @1)");
    m.fill(FL2, 85, SAIL, "D5", "h@0( @1)");
    m.fill(OB, 85, SAIL, "A4", "h@0+@1 @0+@1");
    m.fill(EH, 85, SAIL, "A3", "h@1( @2)");
    m.fill(CL, 85, SAIL, "E4", "h@0+@1 @0+@1");
    m.fill(BN, 85, SAIL, "D3", "h@0+@1 @0+@1");
    m.fill(CBN, 85, SAIL, "D2", "w@R");
    m.fill(HN12, 85, SAIL, "A3", "h@0+@1 @0+@1");
    m.fill(HN34, 85, SAIL, "F#3", "h@0+@1 @0+@1");
    m.fill(TPT, 85, SAIL, "D4", "h@0+@1 q@0+@1 @0+@1");
    m.fill(TBN, 85, SAIL, "C3", "h@0+@1 @0+@1");
    m.fill(BTBN, 85, SAIL, "A2", "w@0");
    m.fill(TUBA, 85, SAIL, "G1", "w@R");
    m.put(TIMP, 85, "{f} qD3 - h- | = | wA2%3 | A2%3");
    m.put(PERC1, 85, "{mf}{\"tam-tam\"} wE4 | =");
    m.put(PERC2, 85, "{f}{\"bass drum\"} hF4 - | = | F4 F4 | F4 F4");
    m.fill(HARP_R, 85, SAIL, "A4", "q@0+@1+@2$ - @1+@2+@3$ -");
    m.fill(HARP_L, 85, SAIL, "D3", "h@R @R");
    m.fill(V1, 85, SAIL, "F#5", "q@0 @1 h@1");
    m.fill(V2, 85, SAIL, "A4", "s@0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1");
    m.fill(VA, 85, SAIL, "D4", "s@0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1");
    m.fill(VC, 85, SAIL, "D3", "q@0 @1 @0 @1");
    m.fill(CB, 85, SAIL, "G1", "h@R @R");
    m.mark(&PLAYERS, 85, 0, "f");
    m.hairpin(&PLAYERS, (88, 1), (88, 4), "<");
}

/// High over low on nearly every staff: more than this page can hold.
fn crest(m: &mut Movement) {
    let high =
        "{ff}{\"a tutta forza\"} {<} q.A6^ eF#6> 3[ qD6> F#6> A6> ] {/} | {8va} q.B6^( eD7 hB6) {loco} | {fff} wA6^";
    m.put_all(&[FL1, FL2, V1], 89, high);
    m.put(OB, 89, "{ff}{\"a2\"} {<} q.D6^( eA5) 3[ qF#5> A5> D6> ] {/} | hE6^( B5) | {fff} wC#6^");
    m.put(EH, 89, "{ff}{\"in rilievo\"} {<} h.E3^( qF#3) {/} | hG3^( B3) | {fff} wE3^");
    m.put(CL, 89, "{ff}{\"a2\"} {<} q.A5^ eD6> 3[ qF#5> D6> A5> ] {/} | hG5^( D3) | {fff} wE6^");
    m.put(BN, 89, "{ff}{\"a2\"} {<} hA4^( D2) {/} | q.G4^ eE4> hB1^ | {fff} wA4^");
    m.put(CBN, 89, "{ff} {<} hD1^ D1^ {/} | hD1^( B1) | {fff} wA1^");
    m.put(HN12, 89, "{ff}{\"a2, bells up\"} {<} q.D5^( eE5) hE5^ {/} | q.E5^( eD5) hB2^ | {fff} wE5^");
    m.put(HN34, 89, "{ff}{\"a2, bells up\"} {<} q.D5^( eA4) hD3^ {/} | q.D5^( eB4) hB2^ | {fff} wC#5^");
    m.put(TPT, 89, "{ff}{\"a2\"} {<} q.A5^ eB5> 3[ qC#6> B5> A5> ] {/} | q.B5^ eG5> hG3^ | {fff} wA5^");
    m.put(TBN, 89, "{ff}{\"a2\"} {<} q.A4^ eF#4> hE2^ {/} | q.G4^ eE4> hG2^ | {fff} wA4^");
    m.put(BTBN, 89, "{ff} {<} hD4^( D2) {/} | q.E4^ eD4> hG1^ | {fff} wA1^");
    m.put(TUBA, 89, "{ff} {<} h.D1^ qA1> {/} | hG1^( D1) | {fff} wA1^");
    m.put(TIMP, 89, "{ff} {<} wD3%3 {/} | hG2%3> G2%3> | {fff} wA2%3");
    m.put(PERC1, 89, "{ff}{\"tam-tam, susp. cymbal\"} hE4> G5%3 | {<} wG5%3 {/} | {fff} E4");
    m.put(PERC2, 89, "{ff}{\"clash cymbals, bass drum\"} hA5> F4> | A5> F4> | {fff} wA5");
    m.put(HARP_R, 89, "{ff} hF#6+A6+D7$ D6+F#6+A6$ | G6+B6+D7$ D6+G6+B6$ | {fff} wE6+A6+C#7$");
    m.put(HARP_L, 89, "hD2+A2+D3$ D1+A1$ | G1+D2$ G2+D3+G3$ | wA1+E2$");
    m.put(V2, 89, "{ff}{\"a tutta forza\"} {<} q.F#6^ eD6> 3[ qA5> D6> F#6> ] {/} | q.G6^( eD6) hG3^ | {fff} wE6^");
    m.put(VA, 89, "{ff} {<} q.A5^( eF#5) hD3^ {/} | q.B5^( eG5) hC#3^ | {fff} wA5^");
    m.put(VC, 89, "{ff} {<} q.D5^( eA4) hD2^ {/} | q.B4^( eG4) hD2^ | {fff} wA4^");
    m.put(CB, 89, "{ff} {<} hD2^ A1 {/} | hG1^( D2) | {fff} wA1^");
}

fn run(m: &mut Movement) {
    m.fill(V1, 93, RUN, "D5", "e@0( @1 @2 @1) @0! @1! @2! @1!");
    m.fill(V2, 93, RUN, "A4", "s@0 @0 @0 @0 @1 @1 @1 @1 @0 @0 @0 @0 @1 @1 @1 @1");
    m.fill(VA, 93, RUN, "D4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VC, 93, RUN, "D3", "q@0 @1 @0 @1");
    m.fill(CB, 93, RUN, "G1", "h@R @R");
    m.fill(FL1, 93, RUN, "F#5", "q@0 @1 h@1");
    m.fill(FL2, 93, RUN, "D5", "q@0 @1 h@1");
    m.fill(OB, 93, RUN, "A4", "q@0+@1 @0+@1 h@1+@2");
    m.fill(EH, 93, RUN, "A3", "h@1 @2");
    m.fill(CL, 93, RUN, "E4", "q@0+@1 @0+@1 h@0+@1");
    m.fill(BN, 93, RUN, "D3", "h@0+@1 @0+@1");
    m.fill(CBN, 93, RUN, "D2", "w@R");
    m.fill(HN12, 93, RUN, "A3", "q@0+@1 @0+@1 h@0+@1");
    m.fill(HN34, 93, RUN, "F#3", "q@0+@1 @0+@1 h@0+@1");
    m.fill(TPT, 93, RUN, "D4", "h@0+@1 q@0+@1 @0+@1");
    m.fill(TBN, 93, RUN, "C3", "h@0+@1 @0+@1");
    m.fill(BTBN, 93, RUN, "A2", "w@0");
    m.fill(TUBA, 93, RUN, "G1", "w@R");
    m.mark(&PLAYERS, 93, 0, "f");
    m.put(TIMP, 93, "{f} qD3 - h- | = | qA2 - A2 - | qD3 - h-");
    m.put(PERC2, 93, "{mf}{\"snare drum\"} qC5 sC5 C5 C5 C5 hC5 | q- sC5 C5 C5 C5 hC5 | q- sC5 C5 C5 C5 hC5 | =");
    m.fill(HARP_R, 93, RUN, "A4", "q@0+@1+@2$ - @1+@2+@3$ -");
    m.fill(HARP_L, 93, RUN, "D3", "h@R @R");
}

fn quay(m: &mut Movement) {
    m.put_all(&[FL1, FL2], 99, "sA5 B5 C#6 D6 E6 D6 C#6 B5 hA5 | qF#6> - h-");
    m.put(OB, 99, "hE5+A5 C#5+G5 | qD5+A5> - h-");
    m.put(EH, 99, "hC#5 E4 | qF#4> - h-");
    m.put(CL, 99, "hC#5+E5 A4+G5 | qA4+F#5> - h-");
    m.put(BN, 99, "hA2+E3 A2+G3 | qD3+A3> - h-");
    m.put(CBN, 99, "wA2 | qD2> - h-");
    m.put(HN12, 99, "hC#4+E4 C#4+G4 | qD4+F#4> - h-");
    m.put(HN34, 99, "hA3+C#4 A3+E4 | qA3+D4> - h-");
    m.put(TPT, 99, "hA4+C#5 G4+C#5 | qF#4+D5> - h-");
    m.put(TBN, 99, "hA3+C#4 G3+C#4 | qF#3+D4> - h-");
    m.put(BTBN, 99, "hA2 A2 | qD3> - h-");
    m.put(TUBA, 99, "hA1 A1 | qD2> - h-");
    m.put(TIMP, 99, "{f} wA2%3 | qD3> - h-");
    m.put(PERC1, 99, "{mf}{\"susp. cymbal\"} wG5%3 | =");
    m.put(PERC2, 99, "= | {f} qA5> - h-");
    m.put(HARP_R, 99, "hA4+C#5+E5$ C#5+E5+G5$ | qD5+F#5+A5$ - h-");
    m.put(HARP_L, 99, "hA2+E3 A2 | qD2+A2 - h-");
    m.put(V1, 99, "sA5 G5 E5 C#5 A5 G5 E5 C#5 A5 G5 E5 C#5 A5 B5 C#6 E6 | qD6> - h-");
    m.put(V2, 99, "sE5 C#5 A4 A4 E5 C#5 A4 A4 E5 C#5 A4 A4 C#5 E5 G5 A5 | qF#5> - h-");
    m.put(VA, 99, "eC#4 E4 C#4 E4 C#4 E4 G4 E4 | qF#4> - h-");
    m.put(VC, 99, "qA2 E3 A3 A2 | D3> - h-");
    m.put(CB, 99, "hA1 A1 | qD2> - h-");
}
