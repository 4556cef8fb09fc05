//! Movement II, bars 1 to 24: cast off.

use rastrum::units::Spaces;

use crate::orchestra::*;
use crate::score::{Movement, Place};

const CAST_OFF: &str = "D D G A D Bm";
const UNDER_WAY: &str = "G A D Bm Em A D G Em A";
const ROUNDING: &str = "Bm G D A Em Bm A A7";

pub fn write(m: &mut Movement) {
    cast_off(m);
    under_way(m);
    rounding(m);
    edge_of_the_page(m);
}

fn cast_off(m: &mut Movement) {
    m.put(
        V1,
        1,
        "{f} eD5> A4! D5! F#5! A5> F#5! D5! A4! | qD6> eA5! F#5! hD5 | eB4> D5! G5! B5! qG5 D5 \
         | eC#5> E5! A5! C#6! qA5 E5 | hD6( qA5 F#5) | eB5( A5 F#5 D5) qB4 D5",
    );
    m.fill(V2, 1, CAST_OFF, "A4", "s@0 @0 @0 @0 e@1 @1 s@0 @0 @0 @0 e@1 @1");
    m.fill(VA, 1, CAST_OFF, "D4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VC, 1, CAST_OFF, "D2", "q@R e@R @1 q@R @1");
    m.fill(CB, 1, CAST_OFF, "E1", "q@R - @R -");
    m.mark(&[V2, VA, VC, CB], 1, 0, "f");
    m.fill(FL1, 1, CAST_OFF, "F#5", "e@0! - @1! - q@1 -");
    m.put(FL2, 3, "{\"Piccolo\"}{f} eB5! D6! G6! B6! qG6 - | eA5! C#6! E6! C#6! qA5 - | hA6 q- - | =");
    m.fill(OB, 1, CAST_OFF, "A4", "e@0+@1! - @0+@1! - q@1+@2 -");
    m.fill(CL, 1, CAST_OFF, "D4", "e@0+@1! - @0+@1! - q@1+@2 -");
    m.fill(BN, 1, CAST_OFF, "D3", "e@0+@1! - @0+@1! - q@0+@1 -");
    m.mark(&[FL1, OB, CL, BN], 1, 0, "f");
    m.put(HN12, 1, "{\"senza sord.\"} w- | {f} hA3+D4 q- A3+D4> | hB3+D4 - | C#4+E4 - | wA3+D4 | B3+D4");
    m.put(HN34, 2, "{f} hF#3+A3 q- F#3+A3> | hG3+B3 - | A3+C#4 - | wF#3+A3 | F#3+B3");
    m.put(TPT, 2, "{f}{\"a2\"} q- eD4> D4! qF#4 A4 | hB4 - | A4 -");
    m.put(TIMP, 1, "{f} qD3> - h- | D3> q- D3 | = | hA2%3 - | qD3 - h-");
    m.put(PERC2, 1, "{mf}{\"snare drum\"} s- C5 C5 C5 qC5 - C5");
    m.put(PERC1, 3, "{mf}{\"susp. cymbal\"} wG5%3");
}

fn under_way(m: &mut Movement) {
    m.fill(V1, 7, UNDER_WAY, "D5", "e@0( @1 @2 @1) @0! @1! @2! @1!");
    m.fill(V2, 7, UNDER_WAY, "A4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VA, 7, UNDER_WAY, "D4", "q@0( @1 @0 @1)");
    m.fill(VC, 7, UNDER_WAY, "D2", "h@R( @1)");
    m.fill(CB, 7, UNDER_WAY, "E1", "h@R @R");
    m.mark(&[V1, V2, VA, VC, CB], 7, 0, "mf");
    m.put(
        OB,
        8,
        "{\"1.\"}{mf} q.A5( eE5 hC#5) | q.D5( eF#5 hA5) | q.B5( eF#5 hD5) | eE5( G5 B5 G5 qE5 G5) | hA5( E5) \
         | q.F#5( eA5 hD5) | B4( D5) | eE5( F#5 G5 B5 hG5) | A5( C#5)",
    );
    m.fill(CL, 9, "D Bm Em A D G Em A", "D4", "w@0+@1");
    m.fill(BN, 9, "D Bm Em A D G Em A", "D3", "q@0+@1! - @0+@1! -");
    m.mark(&[CL, BN], 9, 0, "p");
    m.fill(HN12, 13, "D G Em A", "A3", "w@0+@1");
    m.mark(&[HN12], 13, 0, "p");
    m.fill(HARP_R, 8, "A D Bm Em A D G Em A", "D4", "q@0+@1+@2$ - @1+@2+@3$ -");
    m.fill(HARP_L, 8, "A D Bm Em A D G Em A", "D2", "h@R @1");
    m.mark(&[HARP_R], 8, 0, "mf");
    m.put(PERC1, 8, "{\"triangle\"}{p} q- E5 - E5 | - E5 - E5 | - E5 - E5");
}

fn rounding(m: &mut Movement) {
    m.fill(V1, 17, ROUNDING, "F#5", "q@0> e@0! @1! q@1> e@1! @0!");
    m.fill(V2, 17, ROUNDING, "A4", "s@0 @0 @0 @0 @1 @1 @1 @1 @0 @0 @0 @0 @1 @1 @1 @1");
    m.fill(VA, 17, ROUNDING, "D4", "e@0 @1 @0 @1 @0 @1 @0 @1");
    m.fill(VC, 17, ROUNDING, "D2", "e@R @R @1 @R @R @R @1 @R");
    m.fill(CB, 17, ROUNDING, "E1", "q@R @R @R @R");
    m.fill(FL1, 17, ROUNDING, "F#5", "h@0( @1)");
    m.fill(OB, 17, ROUNDING, "A4", "h@0+@1( @1+@2)");
    m.fill(CL, 17, ROUNDING, "E4", "h@0+@1( @1+@2)");
    m.fill(BN, 17, ROUNDING, "D3", "q@0+@1 @0+@1 @0+@1 @0+@1");
    m.fill(HN12, 18, "G D A Em Bm A A7", "A3", "h@0+@1 @0+@1");
    m.fill(HN34, 18, "G D A Em Bm A A7", "F#3", "h@0+@1 @0+@1");
    let players = [V1, V2, VA, VC, CB, FL1, OB, CL, BN];
    m.mark(&players, 17, 0, "f");
    m.mark(&[HN12, HN34], 18, 0, "mf");
    let fading = [FL1, OB, CL, BN, HN12, HN34, V1, V2, VA, VC, CB];
    m.hairpin(&fading, (23, 0), (24, 2), ">");
    m.mark(&fading, 24, 3, "p");
    m.put(TBN, 19, "{\"a2\"}{mf} hD3 A3 | wC#4");
    m.put(TIMP, 17, "{mf} = | = | qD3 - h- | qA2 - h- | = | = | {mf}{>} wA2%3 | A2%3 {/}");
    m.put(PERC2, 20, "{mf} hC5%3 C5%3 | q- sC5 C5 C5 C5 h-");
}

/// Marks just inside the margins on one page and beyond them on the facing one.
fn edge_of_the_page(m: &mut Movement) {
    let across = |past_bar_end| Place { past_bar_end: Some(Spaces(past_bar_end)), y: None };
    let down = |y| Place { past_bar_end: None, y: Some(Spaces(y)) };
    m.mark(&[VA], 8, 1, "<");
    m.mark_placed(&[VA], 9, 3, "/", across(-1.5));
    m.mark_placed(&[VC], 9, 3, "f", across(-2.5));
    m.mark_placed(&[CB], 8, 2, "f", down(-7.5));
    m.mark(&[VA, VC, CB], 10, 0, "mf");
    m.mark(&[VA], 13, 1, "<");
    m.mark_placed(&[VA], 14, 3, "/", across(2.2));
    m.mark_placed(&[VC], 14, 3, "f", across(1.8));
    m.mark_placed(&[CB], 12, 2, "f", down(-7.5));
}
