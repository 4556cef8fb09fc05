//! Movement III: what parts are laid out for. Which bar shows what stands in README.md.

use crate::orchestra::*;
use crate::pitch::Transposition;
use crate::score::Movement;

const IN_A: Transposition = Transposition { steps: -2, half_tones: -3, octaves: 0 };

const ADAGIO: &str = "Dm Dm Gm Dm Bb Gm Edim A Dm F Gm A Dm C Bb F Gm Dm Edim A Bb Gm A A";
const DANCE: &str =
    "D D G D A D Em A D G A D Bm Em A D D G D A Bm Em A D D D G D A D Em A D G A D Bm Em A D D G D A Bm Em A D";
const AFTER: &str = "Gm Edim A Dm Bb Gm A A";
const SAIL: &str = "D G A D Bm G Em A D G D A Bm Em A D G D A A";
const HOME: &str = "Dm Dm Gm Dm Bb Gm Edim A Dm F Gm A Dm C Bb F Gm A Dm";

pub fn write(m: &mut Movement) {
    strings(m);
    brass(m);
    changes(m);
    percussion(m);
    harp(m);
    winds(m);
}

/// Violins and lower strings play nearly without a break; the violas put mutes on and are never told to take them off.
fn strings(m: &mut Movement) {
    m.fill(V1, 1, ADAGIO, "A4", "e@1( @0 @1 @2 @1 @0 @1 @2)");
    m.fill(V2, 1, ADAGIO, "E4", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(VA, 1, ADAGIO, "A3", "h@0( @1)");
    m.mark(&[VA], 1, 0, "\"con sord.\"");
    m.fill(VC, 1, ADAGIO, "D2", "h.@R( q@R)");
    m.fill(CB, 1, ADAGIO, "E1", "w@R");
    let all = [V1, V2, VA, VC, CB];
    m.mark(&all, 1, 0, "pp");
    for (bar, chords) in [(25, "Dm Gm C F Bb Gm A Dm"), (37, "Bb Gm A Dm F Gm A A")] {
        m.fill(V1, bar, chords, "D5", "e@0 @1 @2 @1 @0 @1");
        m.fill(V2, bar, chords, "A4", "e@0 @1 @0 @1 @0 @1");
        m.fill(VA, bar, chords, "D4", "q@0 @1 @0");
        m.fill(VC, bar, chords, "D2", "h.@R");
        m.fill(CB, bar, chords, "E1", "h.@R");
    }
    m.fill(V1, 33, "F C Gm Dm", "D5", "e@0 @1 @2 @1 @0 @1 @2 @1");
    m.fill(V2, 33, "F C Gm Dm", "A4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VA, 33, "F C Gm Dm", "D4", "h@0 @1");
    m.fill(VC, 33, "F C Gm Dm", "D2", "w@R");
    m.fill(CB, 33, "F C Gm Dm", "E1", "w@R");
    m.mark(&all, 25, 0, "p");
    m.fill(V1, 45, DANCE, "D5", "e@0( @1) @2! @1! @2! @1!");
    m.fill(V2, 45, DANCE, "A4", "e@0 @1 @0 @1 @0 @1");
    m.fill(VA, 45, DANCE, "D4", "q@0 e@1 q@0 e@1");
    m.fill(VC, 45, DANCE, "D2", "q.@R @1");
    m.fill(CB, 45, DANCE, "E1", "q.@R @R");
    m.mark(&all, 45, 0, "f");
    fog(m);
    m.fill(V1, 121, SAIL, "D5", "e@0 @1 @2 @1 @0 @1 @2 @1");
    m.fill(V2, 121, SAIL, "A4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VA, 121, SAIL, "D4", "h@0 @1");
    m.fill(VC, 121, SAIL, "D2", "h@R @1");
    m.fill(CB, 121, SAIL, "E1", "w@R");
    m.mark(&all, 121, 0, "ff");
    m.fill(V1, 142, HOME, "A4", "w@0");
    m.fill(V2, 142, HOME, "E4", "e@0( @1 @0 @1 @0 @1 @0 @1)");
    m.fill(VA, 142, HOME, "A3", "w@0");
    m.fill(VC, 142, HOME, "D2", "w@R");
    m.fill(CB, 142, HOME, "E1", "w@R");
    m.mark(&all, 142, 0, "pp");
}

/// Tremolo; the second violins have six bars of rest, where they may turn.
fn fog(m: &mut Movement) {
    let before = "Dm Gm Dm A Bb Gm Edim A Dm F Gm";
    let (five, rest) = ("Dm Bb", "A Dm Gm Edim A Dm");
    m.fill(V1, 93, before, "A4", "h@0%3 @1%3");
    m.fill(V1, 104, five, "A4", "h@0%3 @1%3 q@0%3");
    m.fill(V1, 106, rest, "A4", "h@0%3 @1%3");
    m.fill(V1, 113, AFTER, "A4", "h@0%3 @1%3");
    m.fill(V2, 99, "Edim A Dm F Gm", "E4", "h@0%3 @1%3");
    m.fill(V2, 104, five, "E4", "h@0%3 @1%3 q@0%3");
    m.fill(V2, 106, rest, "E4", "h@0%3 @1%3");
    m.fill(V2, 113, AFTER, "E4", "h@0%3 @1%3");
    for (staff, base) in [(VA, "A3"), (VC, "D2"), (CB, "E1")] {
        m.fill(staff, 93, before, base, "w@0");
        m.fill(staff, 104, five, base, "w@0 q-");
        m.fill(staff, 106, rest, base, "w@0");
        m.fill(staff, 113, AFTER, base, "w@0");
    }
    m.mark(&[V1, VA, VC, CB], 93, 0, "pp");
    m.mark(&[V2], 99, 0, "pp");
}

/// A chorale, then silence. The bass trombone comes back alone, off the beat, without a cue and two bars before the
/// letter; the trombones come back with a cue and two bars after it.
fn brass(m: &mut Movement) {
    m.put(TBN, 1, "{pp} wF3+A3~ | F3+A3 | G3+Bb3 | F3+A3");
    m.put(BTBN, 1, "{pp} wD3~ | D3 | G2 | h.D3 q-");
    m.put(TUBA, 1, "{pp} wD2 | D2 | G1 | D2");
    m.put(BTBN, 117, "{ff} q.- eBb2>( hG2) | wA2 | q.- eA2>( hA2) | wA2");
    m.put(TBN, 119, "{\"Hn.\"} eA3? A3? A3? A3? hA3? | eA3? A3? A3? A3? hA3?");
    m.put(TBN, 121, "{ff} wF#3+A3 | G3+B3 | A3+C#4 | F#3+A3 | F#3+B3 | G3+B3 | G3+B3 | E3+A3");
    m.fill(BTBN, 121, "D G A D Bm G Em A", "D2", "w@0");
    m.fill(TUBA, 121, "D G A D Bm G Em A", "D1", "w@0");
    m.mark(&[BTBN, TUBA], 121, 0, "ff");
    m.put(TPT, 121, "{\"a 2\"}{ff} h.D5 qE5 | hD5 B4 | C#5 E5 | wD5");
    horns(m);
}

/// Both pairs play through; all stand still in the general pause. The second pair takes its mutes off in 2 s.
fn horns(m: &mut Movement) {
    m.fill(HN12, 1, ADAGIO, "A3", "e@0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1");
    m.fill(HN12, 25, "Dm Gm C F Bb Gm A Dm", "A3", "q@0+@1 e@0+@1 @0+@1 q@0+@1");
    m.fill(HN12, 33, "F C Gm Dm", "A3", "q@0+@1 @0+@1 h@0+@1");
    m.fill(HN12, 37, "Bb Gm A Dm F Gm A A", "A3", "q@0+@1 e@0+@1 @0+@1 q@0+@1");
    m.fill(HN12, 45, DANCE, "A3", "e@0+@1> @0+@1 @0+@1 @0+@1 @0+@1 @0+@1");
    let before = "Dm Gm Dm A Bb Gm Edim A Dm F Gm";
    m.fill(HN12, 93, before, "A3", "e@0+@1 @0+@1 @0+@1 @0+@1 h@0+@1");
    m.fill(HN12, 104, "Dm Bb", "A3", "w@0+@1 q@0+@1");
    m.fill(HN12, 106, "A Dm Gm Edim A Dm", "A3", "q@0+@1 e@0+@1 @0+@1 h@0+@1");
    m.fill(HN12, 113, AFTER, "A3", "e@0+@1 @0+@1 @0+@1 @0+@1 h@0+@1");
    m.fill(HN12, 121, SAIL, "A3", "e@0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1 @0+@1");
    m.mark(&[HN12], 1, 0, "pp");
    m.mark(&[HN12], 45, 0, "f");
    m.mark(&[HN12], 93, 0, "p");
    m.mark(&[HN12], 121, 0, "ff");
    m.put(HN34, 95, "{\"con sord.\"}{pp} wD4+A3 | C#4+A3 | D4+Bb3");
    // At 54 quarters a minute two quarters take a little over 2 s.
    m.put(HN34, 98, "hD4+Bb3 h- | {\"senza sord.\"}{mf} wBb3+E4 | A3+E4");
    m.fill(HN34, 121, SAIL, "F#3", "h@0+@1 @0+@1");
    m.mark(&[HN34], 121, 0, "ff");
}

/// The second flute has 3 s to take the piccolo; the clarinets change to A and may turn in the same rest.
fn changes(m: &mut Movement) {
    m.fill(FL2, 9, "Dm F Gm A Dm C Bb", "D5", "h@0( @1)");
    m.mark(&[FL2], 9, 0, "p");
    m.put(FL2, 16, "qC5 {\"muta in piccolo\"} h.-");
    m.takes.push((FL2, (17, 44), PICCOLO));
    m.fill(FL2, 17, "Gm Dm Edim A", "D6", "h@0( @1)");
    m.put(FL2, 45, "{\"muta in flute\"} =");
    m.fill(CL, 1, ADAGIO, "E4", "e@0+@1 @0+@1 @1+@2 @1+@2 @0+@1 @0+@1 @1+@2 @1+@2");
    m.mark(&[CL], 1, 0, "pp");
    m.put(CL, 25, "{\"muta in A\"} =");
    m.takes.push((CL, (25, 160), IN_A));
    m.fill(CL, 45, DANCE, "E4", "e@0+@1 @0+@1 @1+@2 @1+@2 @0+@1 @0+@1");
    m.mark(&[CL], 45, 0, "f");
    m.fill(CL, 95, "Dm A Bb Gm Edim A Dm F Gm", "E4", "e@0+@1( @1+@2 @0+@1 @1+@2) h@0+@1");
    m.mark(&[CL], 95, 0, "pp");
    m.fill(CL, 113, AFTER, "E4", "e@0+@1( @1+@2 @0+@1 @1+@2) h@0+@1");
    m.fill(CL, 142, HOME, "E4", "e@0+@1 @0+@1 @1+@2 @1+@2 @0+@1 @0+@1 @1+@2 @1+@2");
    m.mark(&[CL], 142, 0, "pp");
    m.fill(CL, 121, SAIL, "E4", "e@0+@1 @0+@1 @1+@2 @1+@2 @0+@1 @0+@1 @1+@2 @1+@2");
    m.mark(&[CL], 121, 0, "ff");
}

/// The vibraphone gives way to the tam-tam within 1.5 s; a stroke that rings on leaves the hands free to turn.
fn percussion(m: &mut Movement) {
    m.put(PERC1, 1, "{pp} wE4 | = | E4 | =");
    m.put(PERC1, 25, "{p}{\"to vibraphone\"} qC5 D5 E5 | C5 D5 E5 | C5 D5 E5");
    m.put(PERC1, 144, "{p} hC5 D5 | q.C5 {\"to tam-tam\"} e- q- {mf} E4");
    m.put(PERC1, 121, "{ff} wE4 | =");
    m.put(PERC2, 45, "{\"bass drum\"}{f} q.F4 F4 | F4 F4 | h.F4");
    m.put(PERC2, 121, "{ff} hF4 F4 | wF4 | F4 | F4");
    m.put(PERC2, 150, "{pp} wF4 | q- h.F4");
    m.put(TIMP, 1, "{pp} wD3%3 | D3%3 | G2 | D3%3");
    m.fill(TIMP, 9, "D F G A D C D F G D E A", "F2", "q@R e@R @R q@R @R");
    m.mark(&[TIMP], 9, 0, "p");
    m.put(TIMP, 21, "{pp} wBb2%3 | = | A2%3 | A2%3");
    m.fill(TIMP, 25, "D G C F Bb G A D", "F2", "q@R e@R @R q@R");
    m.fill(TIMP, 45, "D D A D A D A A D A A D", "A2", "q.@R @R");
    m.mark(&[TIMP], 45, 0, "f");
    m.fill(TIMP, 69, "D D A D A D A A D A A D A A A D D A D A A A A D", "A2", "q.@R q- e@R");
    m.put(TIMP, 97, "{pp} wA2%3 | = | A2 | A2%3");
    m.fill(TIMP, 121, "D A A D D A A A D A D A A A A D D D A A", "A2", "h@R q@R @R");
    m.mark(&[TIMP], 121, 0, "ff");
    m.put(TIMP, 142, "{pp} wD3%3 | D3%3");
}

/// One hand alone in the dance: the other may turn.
fn harp(m: &mut Movement) {
    m.fill(HARP_R, 1, ADAGIO, "D4", "e-( @0 @1 @2 @3 @2 @1 @0)");
    m.fill(HARP_L, 1, ADAGIO, "D2", "h@R @1");
    m.mark(&[HARP_R], 1, 0, "p");
    m.fill(HARP_L, 45, DANCE, "D3", "e@0 @1 @2 @3 @2 @1");
    m.mark(&[HARP_L], 45, 0, "mf");
    m.fill(HARP_R, 57, "Bm Em A D", "D5", "q.@0+@1+@2$ @1+@2+@3$");
    m.fill(HARP_R, 77, "D G A D Bm Em A D D G D A Bm Em A D", "D5", "q.@0+@1+@2$ @1+@2+@3$");
    m.fill(HARP_R, 142, HOME, "D4", "h@0+@1+@2$ @1+@2+@3$");
    m.fill(HARP_L, 142, HOME, "D2", "w@R");
    m.mark(&[HARP_R], 142, 0, "pp");
}

/// Pairs, told apart by words; in one place of the oboes nothing tells who plays. The english horn has the cadenza; the
/// contrabassoon is tacet.
fn winds(m: &mut Movement) {
    m.put(OB, 13, "{\"1.\"}{p} hD5( F5 | E5 G5 | wF5) | {\"a 2\"}{mf} hC5 A4");
    m.put(OB, 45, "{f} q.F#4+A4 F#4+A4 | F#4+A4 F#4+A4 | G4+B4 G4+B4 | F#4+A4 F#4+A4");
    m.put(OB, 95, "{p} wD5( | C#5 | D5)");
    m.put(OB, 121, "{\"a 2\"}{ff} hD5 F#5 | G5 B5 | A5 E5 | wF#5");
    m.put(BN, 9, "{\"1.\"}{p} hA3( F3 | C4 A3 | Bb3 G3 | wA3)");
    m.fill(BN, 45, "D D G D A D Em A D G A D", "D3", "q.@0+@1 @0+@1");
    m.mark(&[BN], 45, 0, "f");
    m.put(BN, 121, "{\"a 2\"}{ff} hD3 F#3 | G3 B3 | A3 E3 | wF#3");
    m.put(FL1, 13, "{p} hD5( F5 | E5 G5 | wF5)");
    m.fill(FL1, 45, "D D G D A D Em A D G A D", "D5", "e@0( @1) @2! @1! @2! @1!");
    m.mark(&[FL1], 45, 0, "f");
    m.put(EH, 13, "{\"solo\"}{mf} q.D4( eF4 qA4 D5 | hC5 q.G4 eE4) | qD4( F4 Bb4 D5)");
    m.put(EH, 141, "{\"cadenza\"}{p} hD4( q.F4 eA4 D5 C5 A4 G4 hD4*)");
}
