//! Small scores, made up for these tests.

use std::fmt::Write;

/// Two players, `bars` bars, on a page with staves of `staff` millimetres.
pub fn duet(bars: usize, staff: f64) -> String {
    duet_beginning_on(bars, staff, "C")
}

/// The same, its first note another.
pub fn duet_beginning_on(bars: usize, staff: f64, step: &str) -> String {
    let part = |id: &str, clef: &str, step: &str| {
        let mut part = format!("<part id=\"{id}\">\n");
        for bar in 1..=bars {
            let step = if bar == 1 { step } else { "D" };
            let _ = writeln!(part, "<measure number=\"{bar}\" width=\"200\">");
            if bar == 1 {
                let _ = writeln!(
                    part,
                    "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time>{clef}\
                     </attributes><direction><sound tempo=\"60\"/></direction>"
                );
            }
            let _ = writeln!(
                part,
                "<note><pitch><step>{step}</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note>\
                 </measure>"
            );
        }
        part + "</part>\n"
    };
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<score-partwise version=\"4.0\">\n\
         <work><work-title>A Duet for Tests</work-title></work>\n\
         <defaults><scaling><millimeters>{staff}</millimeters><tenths>40</tenths></scaling>\
         <page-layout><page-height>{height}</page-height><page-width>{width}</page-width>\
         <page-margins type=\"both\"><left-margin>100</left-margin><right-margin>100</right-margin>\
         <top-margin>100</top-margin><bottom-margin>100</bottom-margin></page-margins></page-layout></defaults>\n\
         <part-list><score-part id=\"P1\"><part-name>Flute</part-name></score-part>\
         <score-part id=\"P2\"><part-name>Violoncello</part-name></score-part></part-list>\n{flute}{cello}\
         </score-partwise>\n",
        height = 364.0 * 40.0 / staff,
        width = 257.0 * 40.0 / staff,
        flute = part("P1", "<clef><sign>G</sign><line>2</line></clef>", step),
        cello = part("P2", "<clef><sign>F</sign><line>4</line></clef>", "D"),
    )
}
