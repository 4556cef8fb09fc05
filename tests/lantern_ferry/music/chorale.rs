//! Movement I, bars 49 to 64: a chorale for the loaded boat, first brass, then all.

use crate::orchestra::*;
use crate::score::Movement;

const BRASS: &str = "F C Dm Bb F Gm Bb C";

pub fn write(m: &mut Movement) {
    brass(m);
    all(m);
}

fn brass(m: &mut Movement) {
    m.fill(HN12, 49, BRASS, "A3", "h@0+@1( @1+@2)");
    m.fill(HN34, 49, BRASS, "E3", "h@0+@1( @0+@1)");
    m.fill(TBN, 49, BRASS, "C3", "h@0+@1 @0+@1");
    m.fill(BTBN, 49, BRASS, "A2", "w@0");
    m.fill(TUBA, 49, BRASS, "F1", "w@R");
    m.put(TPT, 52, "{\"1.\"}{mf} qBb4( A4 G4 F4) | hA4( C5 | qBb4 A4 hG4) | D5( F5 | E5 C5)");
    m.mark(&[HN12, HN34, TBN, BTBN, TUBA], 49, 0, "mf");
    m.fill(BN, 49, BRASS, "A2", "h@0+@1 @0+@1");
    m.fill(CBN, 49, BRASS, "F2", "w@R");
    m.fill(VC, 49, BRASS, "F2", "h@R( @1)");
    m.fill(CB, 49, BRASS, "F1", "w@R");
    m.mark(&[BN, CBN, VC, CB], 49, 0, "mf");
    m.fill(V1, 53, "F Gm Bb C", "F5", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(V2, 53, "F Gm Bb C", "C5", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(VA, 53, "F Gm Bb C", "A3", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.mark(&[V1, V2, VA], 53, 0, "mp");
    m.hairpin(&[V1, V2, VA, VC, CB], (55, 0), (56, 3), "<");
    m.hairpin(&[HN12, HN34, TPT, TBN], (55, 1), (56, 3), "<");
    m.put(TIMP, 56, "{p}{<} wC3%3 {/}");
    m.put(PERC1, 56, "{p}{\"susp. cymbal\"}{<} wG5%3 {/}");
}

fn all(m: &mut Movement) {
    let loud = "F C Dm Am";
    m.fill(FL1, 57, loud, "F5", "q@1( @0 @1 @2)");
    m.fill(FL2, 57, loud, "C5", "q@1( @0 @1 @2)");
    m.fill(OB, 57, loud, "A4", "h@0+@1( @1+@2)");
    m.fill(EH, 57, loud, "A3", "h@1( @2)");
    m.fill(CL, 57, loud, "E4", "h@0+@1( @1+@2)");
    m.fill(BN, 57, loud, "A2", "h@0+@1 @0+@1");
    m.fill(CBN, 57, loud, "F2", "h@R @R");
    m.fill(HN12, 57, loud, "A3", "h@0+@1( @1+@2)");
    m.fill(HN34, 57, loud, "F3", "h@0+@1( @0+@1)");
    m.fill(TPT, 57, loud, "E4", "h@0+@1 q@1+@2 @0+@1");
    m.fill(TBN, 57, loud, "C3", "h@0+@1 @0+@1");
    m.fill(BTBN, 57, loud, "A2", "h@0 @0");
    m.fill(TUBA, 57, loud, "F1", "h@R @R");
    m.fill(V1, 57, loud, "F5", "e@0 @1 @0 @1 @2 @1 @0 @1");
    m.fill(V2, 57, loud, "A4", "s@0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1");
    m.fill(VA, 57, loud, "C4", "s@0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1 @0 @0 @1 @1");
    m.fill(VC, 57, loud, "C3", "q@R @1 @R @1");
    m.fill(CB, 57, loud, "F1", "h@R @R");
    m.put(TIMP, 57, "{f} hF2 F2 | C3 C3 | qF2 - h- | qC3 - h-");
    m.put(PERC1, 57, "{mf}{\"tam-tam\"} wE4 | =");
    m.put(PERC2, 57, "{f}{\"clash cymbals\"} hA5 - | =");
    m.fill(HARP_R, 57, loud, "C5", "q@0+@1+@2$ - @1+@2+@3$ -");
    m.fill(HARP_L, 57, loud, "F2", "q@R+@1$ - @R+@2$ -");
    let players = [FL1, FL2, OB, EH, CL, BN, CBN, HN12, HN34, TPT, TBN, BTBN, TUBA, HARP_R, V1, V2, VA, VC, CB];
    m.mark(&players, 57, 0, "f");

    m.mark(&[FL2], 62, 0, "\"change to piccolo\"");

    let falling = "Bb F Gm C";
    m.fill(OB, 61, falling, "A4", "h@0+@1( @0+@1)");
    m.fill(CL, 61, falling, "E4", "w@0+@1");
    m.fill(BN, 61, falling, "A2", "w@0+@1");
    m.fill(HN12, 61, falling, "A3", "w@0+@1");
    m.fill(TBN, 61, "Bb F", "C3", "w@0+@1");
    m.fill(V1, 61, "Bb F", "F5", "h@0( @1)");
    m.fill(V2, 61, "Bb F", "A4", "h@0( @1)");
    m.fill(VA, 61, falling, "C4", "w@0");
    m.fill(VC, 61, falling, "C3", "w@R");
    m.fill(CB, 61, falling, "F1", "w@R");
    m.hairpin(&[OB, CL, BN, HN12, VA, VC, CB], (61, 1), (63, 3), ">");
    m.hairpin(&[TBN, V1, V2], (61, 1), (62, 3), ">");
    m.mark(&[OB, CL, BN, HN12, VA, VC, CB], 64, 0, "p");
}
