//! The parts of the third movement as somebody made them for the first rehearsal: most are right, some are not
//! (README.md says which).

use rastrum::check::{PartsOptions, Unwatched, parts};
use rastrum::limits::Limits;
use rastrum::read::Input;
use rastrum::write_parts::{WantedPart, write_parts};

mod edit;
pub mod first;

use edit::Bars;

/// Nobody made a file of it.
const ABSENT: &str = "Trombone 1";

/// Name and document of each part that was made.
pub fn documents(score: &str) -> Result<Vec<(String, String)>, String> {
    let inputs = [Input { name: "lantern-ferry-3", bytes: score.as_bytes() }];
    let checked = parts(&inputs, &PartsOptions::default(), &mut Unwatched).map_err(|errors| format!("{errors:?}"))?;
    let wanted: Vec<WantedPart<'_>> = checked.parts.iter().map(WantedPart::of).collect();
    let written =
        write_parts(&inputs, &checked.score, &wanted, &Limits::default()).map_err(|errors| format!("{errors:?}"))?;
    let mut documents = Vec::new();
    for (part, written) in checked.parts.iter().zip(written) {
        let name = part.player.name.replace('\u{266d}', "b");
        let is_tacet = part.whole.plays.is_empty();
        let Some(Some(bytes)) = written.files.into_iter().next() else { continue };
        if is_tacet || name == ABSENT {
            continue;
        }
        let text = String::from_utf8(bytes).map_err(|error| error.to_string())?;
        documents.push((name.clone(), as_somebody_made_it(&name, &text)));
    }
    Ok(documents)
}

/// With the fault of its part.
fn as_somebody_made_it(name: &str, text: &str) -> String {
    let mut bars = Bars::of(text);
    match name {
        "Bassoon 1" => bars.lose(47..=50),
        "Clarinet in Bb 1" => bars.repitch(123..=130, edit::tone_lower),
        "Horn in F 1" => bars.move_direction("<rehearsal", 130, 131),
        "Cellos" => bars.lose_direction("Fog", 93),
        "Tuba" => bars.count_one_short(9, 25, 23),
        "Horn in F 4" => bars.lose_direction("con sord.", 95),
        "Violins II" => bars.number_from(92, -1),
        "Harp" => bars.repitch(1..=160, edit::respelt),
        "Violins I" => {
            for (nth, bar) in (26..=44).chain(122..=134).enumerate() {
                bars.repitch(bar..=bar, if nth % 2 == 0 { edit::step_higher } else { edit::third_lower });
            }
            bars.lose(70..=73);
        }
        _ => {}
    }
    bars.text()
}
