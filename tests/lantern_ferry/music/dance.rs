//! Movement II, bars 25 to 56: the deck dances; bars 26 to 33 are repeated.

use crate::orchestra::*;
use crate::score::Movement;

const ROUND: &str = "D D G D A D Em A A D";
const REEL: &str = "Bm G A D Em Bm A D G A D";
const WHIRL: &str = "D G D A Bm Em A D";

pub fn write(m: &mut Movement) {
    round(m);
    reel(m);
    whirl(m);
}

fn round(m: &mut Movement) {
    m.put(
        V1,
        25,
        "{ff}{\"subito\"} eD5> F#5 A5 qB5 eA5 | qF#5 eD5 E5! F#5! A5! | qB5 eG5 D5! G5! B5! | q.A5 F#5 \
         | qE5 eC#5 A4! C#5! E5! | qF#5 eA5 D6( C#6 A5) | G5( F#5 E5) qB4 eE5 | qC#5 eE5 A5( G5 E5) \
         | qE5 eC#5 q.A4 | q.D5 qD5 e-",
    );
    m.fill(V2, 25, ROUND, "A4", "q@0 e@1 q@0 e@1");
    m.fill(VA, 25, ROUND, "D4", "e- @0! @1! - @0! @1!");
    m.fill(VC, 25, ROUND, "D2", "q.@R @1");
    m.fill(CB, 25, ROUND, "E1", "q.@R @R");
    m.fill(OB, 25, ROUND, "A4", "q@0+@1 e@0+@1 q.@1+@2");
    m.fill(CL, 25, ROUND, "E4", "e- @0+@1! @0+@1! - @0+@1! @0+@1!");
    m.fill(BN, 25, ROUND, "D3", "q.@0+@1 @0+@1");
    m.fill(HN12, 25, ROUND, "A3", "q.@0+@1> q@0+@1 e-");
    m.fill(HN34, 25, ROUND, "F#3", "q.@0+@1> q@0+@1 e-");
    m.mark(&[V2, VA, VC, CB, OB, CL, BN, HN12, HN34], 25, 0, "ff");
    m.put(
        FL2,
        27,
        "{f} eD7! B6! G6! D7( B6 G6) | F#6! D6! A6! q.F#6& | = | = | gsD6 eE6( F#6 G6) qE6 e- | C#6( D6 E6) qC#6 e-",
    );
    m.put(FL1, 27, "{f} eD6! B5! G5! D6( B5 G5) | q.A5 A5& | = | = | eE5( F#5 G5) qE5 e- | C#6( D6 E6) qC#6 e-");
    m.put(TIMP, 25, "{f} q.D3> D3 | = | = | D3 A2 | A2> - | D3 - | = | A2 A2 | A2 A2 | D3 qD3 e-");
    m.put(
        PERC2,
        25,
        "{f}{\"snare drum\"} qC5> eC5 C5 C5 C5 | q.C5 C5 | qC5 eC5 C5 C5 C5 | q.C5 C5 | qC5 eC5 C5 C5 C5 | q.C5 C5",
    );
    m.put(PERC1, 25, "{f} h.G5 | =");
}

fn reel(m: &mut Movement) {
    m.put(
        CL,
        36,
        "{\"1. solo\"}{f} qG5( eB5 D6 B5 G5) | A5( G5 E5 C#5 E5 A5) | q.F#5 D5 | eE5( G5 B5 qG5 eE5) \
         | qF#5( eD5 B4 D5 F#5) | E5( F#5 G5 A5 G5 E5) | q.F#5 D5 | eB4! D5! G5! qB5 eG5 \
         | qE5 eC#5 q.A4 | qD5 eF#5 q.D5",
    );
    m.fill(V1, 35, REEL, "D5", "q- e@0! q.-");
    m.fill(V2, 35, REEL, "A4", "q- e@0! q- e@1!");
    m.fill(VA, 35, REEL, "D4", "q- e@0! q- e@1!");
    m.fill(VC, 35, REEL, "D2", "q@R e- q@1 e-");
    m.fill(CB, 35, REEL, "E1", "q@R e- q.-");
    m.mark(&[V1, V2, VA, VC, CB], 35, 0, "\"pizz.\"");
    m.mark(&[V1, V2, VA, VC, CB], 35, 0, "p");
    m.put(OB, 40, "{\"1.\"}{mf} q.B4( F#5 | E5 A5) | F#5( A5) | qG5( eB5 q.D6) | C#6( A5) | qD5( eF#5 q.A5)");
    m.put(BN, 39, "{\"1.\"}{mp} qE3 eB3 q.G3 | qB3 eF#3 q.D3 | A3 E3 | D3 A3 | G3 B3 | A3 C#4 | D3 D3");
    m.put(HN12, 43, "{\"1.\"}{p} h.B3( | A3) | q.A3 qA3 e-");
    m.put(PERC1, 38, "{\"triangle\"}{p} q.E5 - | = | E5 - | = | E5 -");
    m.fill(HARP_R, 35, REEL, "D5", "q@0+@1+@2$ e- q@1+@2 e-");
    m.fill(HARP_L, 35, REEL, "D3", "q.@R -");
    m.mark(&[HARP_R], 35, 0, "mf");
}

fn whirl(m: &mut Movement) {
    m.mark(&[V1, V2, VA, VC, CB], 46, 0, "\"arco\"");
    m.put(
        V1,
        46,
        "{f} eD5( F#5 A5 D6 A5 F#5) | G5( B5 D6 B5 G5 D5) | qF#5 eA5 q.D6 | eC#6( A5 E5 C#5 E5 A5) | qB5 eF#5 q.D5 \
         | eE5( G5 B5 G5 E5 B4) | qC#5 eE5 q.A5 | qF#5 eD5 q.A4",
    );
    m.fill(V2, 46, WHIRL, "A4", "e@0 @1 @0 @1 @0 @1");
    m.fill(VA, 46, WHIRL, "D4", "q@0 e@1 q@0 e@1");
    m.fill(VC, 46, WHIRL, "D2", "q.@R @1");
    m.fill(CB, 46, WHIRL, "E1", "q.@R @R");
    m.fill(OB, 46, WHIRL, "A4", "q@0+@1 e@0+@1 q.@1+@2");
    m.fill(BN, 46, WHIRL, "D3", "q.@0+@1 @0+@1");
    m.fill(HN12, 47, "G D A Bm Em A D", "A3", "q.@0+@1> q@0+@1 e-");
    m.fill(HN34, 47, "G D A Bm Em A D", "F#3", "q.@0+@1> q@0+@1 e-");
    m.fill(CL, 46, WHIRL, "E4", "e@0+@1! @0+@1! @0+@1! q.@1+@2");
    m.fill(FL1, 47, "G D A Bm Em A", "D6", "q@0 e@1 q@0 e-");
    m.mark(&[V2, VA, VC, CB, OB, BN, CL], 46, 0, "f");
    m.mark(&[HN12, HN34, FL1], 47, 0, "f");
    m.put(TPT, 50, "{\"a2\"}{mf} q.F#4 D4 | E4 G4 | A4 qA4 e- | q.F#4 qF#4 e-");
    m.put(TIMP, 47, "{mf} q.G2 - | D3 - | A2 A2 | = | = | A2 A2 | D3 -");
    m.put(PERC2, 46, "{mf} qC5 eC5 C5 C5 C5 | q.C5 C5 | qC5 eC5 C5 C5 C5 | q.C5 C5 | qC5 eC5 C5 C5 C5 | q.C5 C5");

    m.fill(V1, 54, "G A D", "B4", "h.@0");
    m.fill(V2, 54, "G A D", "G4", "h.@0");
    m.fill(VA, 54, "G A D", "D4", "h.@0");
    m.fill(VC, 54, "G A D", "D2", "h.@1");
    m.fill(CL, 54, "G A D", "E4", "h.@0+@1");
    m.mark(&[V1, V2, VA, VC, CL], 54, 0, "mp");
    m.hairpin(&[V1, V2, VA, VC, CL], (54, 1), (56, 2), ">");
}
