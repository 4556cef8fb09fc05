//! What is in force before a bar of a part: divisions, key, metre, clefs, staves, transposition.

use super::super::text::{Cut, CutPart, attribute, elements, value};

/// Elements of attributes that stay in force, in the order of the format.
const IN_FORCE: [&str; 7] = ["divisions", "key", "time", "staves", "clef", "staff-details", "transpose"];

/// The attributes in force before each bar of each part, as text.
pub struct States(Vec<Vec<String>>);

impl States {
    pub fn of(cut: &Cut) -> States {
        States(cut.parts.iter().map(of_part).collect())
    }

    /// One element that says again what is in force before an old bar of an old part.
    pub fn before(&self, part: usize, bar: usize) -> &str {
        self.0.get(part).and_then(|bars| bars.get(bar)).map_or("", String::as_str)
    }
}

fn of_part(part: &CutPart) -> Vec<String> {
    // Each element with its name and the staff it is for.
    let mut now: Vec<(usize, String, &str)> = Vec::new();
    let mut all = Vec::with_capacity(part.bars.len());
    let mut said = String::new();
    for bar in &part.bars {
        all.push(said.clone());
        let mut changes = false;
        for attributes in elements(bar, "attributes").map(|range| &bar[range]) {
            for (rank, name) in IN_FORCE.into_iter().enumerate() {
                for element in elements(attributes, name).map(|range| &attributes[range]) {
                    // Staves that are hidden for a while are no state of the music.
                    if name == "staff-details" && value(element, "staff-lines").is_none() {
                        continue;
                    }
                    let staff = attribute(element, "number").unwrap_or_default();
                    now.retain(|(own, of, _)| *own != rank || (!staff.is_empty() && of != staff));
                    now.push((rank, staff.to_owned(), element));
                    changes = true;
                }
            }
        }
        if changes {
            now.sort_by(|one, other| (one.0, &one.1).cmp(&(other.0, &other.1)));
            let inside: String = now.iter().map(|(.., element)| *element).collect();
            said = format!("<attributes>{inside}</attributes>");
        }
    }
    all
}
