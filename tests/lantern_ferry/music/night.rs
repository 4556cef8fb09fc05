//! Movement I, bars 65 to 84: night on the water, few players; then without a break into the crossing.

use crate::orchestra::*;
use crate::score::Movement;

const STILL: &str = "Dm Dm Gm Dm Bb Bb Gm A Dm Dm";
const DRIFT: &str = "F Dm Gm Bb Dm Gm Dm Bb";

pub fn write(m: &mut Movement) {
    strings(m);
    winds(m);
    m.mark(&[FL1, V1, CB], 84, 2, "\"attacca\"");
}

fn strings(m: &mut Movement) {
    m.fill(V1, 65, STILL, "D5", "w@0%3");
    m.fill(V2, 65, STILL, "A4", "w@0%3");
    m.fill(VA, 65, STILL, "F3", "w@0");
    m.fill(VC, 65, STILL, "D2", "w@R");
    m.fill(CB, 65, STILL, "E1", "q@R - h-");
    m.mark(&[V1, V2], 65, 0, "\"con sord.\"");
    m.mark(&[CB], 65, 0, "\"pizz.\"");
    m.mark(&[V1, V2, VA, VC, CB], 65, 0, "pp");
    m.fill(V1, 75, DRIFT, "C5", "w@0");
    m.fill(V2, 75, DRIFT, "A4", "w@0");
    m.fill(VA, 75, DRIFT, "F3", "w@0");
    m.fill(VC, 75, DRIFT, "C3", "h@R( @1)");
    m.fill(CB, 75, DRIFT, "E1", "q@R - h-");
    m.mark(&[V1, V2], 83, 0, "\"senza sord.\"");
    m.put(VC, 83, "{ppp} wA2 | A2");
    m.put(CB, 83, "{\"arco\"}{ppp} wA1 | A1");
}

fn winds(m: &mut Movement) {
    m.put(FL1, 66, "{\"solo\"}{p} q- A5( eF5 E5 qD5 | hBb5 qA5 G5 | wF5)");
    m.put(FL1, 71, "{p} q.D6( eC6 Bb5 A5 G5 F5 | hE5 q.C#5 eE5 | wD5)");
    m.put(CL, 68, "{\"1.\"}{pp} h- qA4( D5 | wF5~ | F5) | hG4( Bb4 | A4 C#5)");
    m.put(HN12, 70, "{\"1. con sord.\"}{pp} q.F4( eC5 hF5) | = | wE4 | D4");
    m.put(PERC1, 65, "{\"triangle\"}{pp} q- E5 h-");
    m.put(PERC1, 73, "{\"tam-tam\"}{ppp} wE4");
    m.fill(HARP_R, 65, STILL, "D5", "h- q- e@0( @1)");
    m.fill(HARP_L, 65, STILL, "D3", "q@R @1 h-");
    m.mark(&[HARP_R], 65, 0, "pp");

    m.put(EH, 76, "{\"solo\"}{p} q- D4( F4 A4 | hBb4 qA4 G4 | hF4 D4) | q.A4( eF4 hD4)");
    m.put(FL1, 78, "{pp} h- qF5( Bb5 | wA5) | h- qG5( D5 | wA5)");
    m.put(CL, 76, "{\"1.\"}{pp} wD5( | Bb4) | = | F4( | G4)");
    m.put(HN12, 81, "{pp} wD4( | F4)");
    m.fill(HARP_R, 75, DRIFT, "C5", "e@0( @1 @2 @1) h-");
    m.fill(HARP_L, 75, DRIFT, "D3", "h@R q- @1");
    m.put(HARP_R, 83, "{ppp} q- A4+C#5+E5$ h- | =");
}
