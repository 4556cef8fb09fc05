//! A reference layout as the text of a TOML file.

use std::fmt::{Display, Write};

use super::{Plate, PlateSystem, Reference, Spread};
use crate::geometry::Margins;

/// The arguments of the command that writes a file anew.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Regenerate {
    /// Files or paths as the user gave them.
    pub scores: Vec<String>,
    pub output: String,
}

const FIRST_LINE: &str = "# A reference layout measured by rastrum. To measure it anew:";

/// Whether these bytes are a file that [`write()`] made.
#[must_use]
pub fn is_ours(bytes: &[u8]) -> bool {
    bytes.starts_with(FIRST_LINE.as_bytes())
}

/// The whole text. Lengths are rounded: millimetres to hundredths, staff spaces and densities to tenths.
#[must_use]
pub fn write(reference: &Reference, by: &Regenerate) -> String {
    let mut out = Toml(String::new());
    let scores: Vec<String> = by.scores.iter().map(|score| quoted(score)).collect();
    let source = quoted(&reference.source);
    out.line(FIRST_LINE);
    out.line(&format!("# rastrum measure {} -o {} --source {source}", scores.join(" "), quoted(&by.output)));
    out.line("#\n# tight, usual, wide: a tenth, half, nine tenths of what was measured is not above.\n");
    out.value("title", quoted(&reference.title));
    out.value("source", source);
    out.page(reference);
    out.staves(reference);
    out.systems(reference);
    if let Some(density) = reference.density {
        out.line("\n# Symbols on 100 spaces of sounding staff, a bar of a staff at a time.\n[density]");
        out.value("half", tenths(density.half));
        out.value("three-quarters", tenths(density.three_quarters));
        out.value("nineteen-in-twenty", tenths(density.nineteen_in_twenty));
    }
    reference.plates.iter().for_each(|plate| out.plate(plate));
    out.0
}

struct Toml(String);

impl Toml {
    fn line(&mut self, line: &str) {
        self.0.push_str(line);
        self.0.push('\n');
    }

    fn value(&mut self, name: &str, value: impl Display) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.0, "{name} = {value}");
    }

    fn page(&mut self, reference: &Reference) {
        if let Some((width, height)) = reference.page {
            self.line("\n[page]");
            self.value("width-mm", hundredths(width.0));
            self.value("height-mm", hundredths(height.0));
        }
        for (name, margins) in [("right-hand", reference.recto), ("left-hand", reference.verso)] {
            let Some(Margins { left, right, top, bottom }) = margins else { continue };
            self.line(&format!("\n[margins-mm.{name}]"));
            for (side, length) in [("left", left), ("right", right), ("top", top), ("bottom", bottom)] {
                self.value(side, hundredths(length.0));
            }
        }
    }

    fn staves(&mut self, reference: &Reference) {
        self.line("\n[staves]");
        if let Some(height) = reference.staff_height {
            self.value("height-mm", hundredths(height.0));
        }
        for (name, gap) in [
            ("gap-inside-families", reference.inside_families),
            ("gap-between-families", reference.between_families),
            ("gap-between-systems", reference.between_systems),
        ] {
            if let Some(gap) = gap {
                self.value(&format!("{name}-spaces"), spread(gap, |spaces| tenths(spaces.0)));
            }
        }
        if let Some(spacing) = reference.natural_spacing {
            self.value("natural-spacing-spaces", hundredths(spacing.0));
        }
        if let Some(left_out) = reference.silent_staves_left_out {
            self.value("silent-staves-left-out", left_out);
        }
    }

    fn plate(&mut self, plate: &Plate) {
        self.line("\n[[plates]]");
        self.value("staves", plate.staves);
        self.value("page-mm", format!("[{}, {}]", hundredths(plate.page.0.0), hundredths(plate.page.1.0)));
        self.line("systems = [");
        for PlateSystem { left, right, staves, bars } in &plate.systems {
            self.line(&format!("    {{ left = {}, right = {}, staves-mm = [", hundredths(left.0), hundredths(right.0)));
            for row in staves.chunks(6) {
                let row: Vec<String> =
                    row.iter().map(|(top, high)| format!("[{}, {}]", hundredths(top.0), hundredths(high.0))).collect();
                self.line(&format!("        {},", row.join(", ")));
            }
            self.line("    ], bars-mm = [");
            for row in bars.chunks(12) {
                let row: Vec<String> = row.iter().map(|end| hundredths(end.0)).collect();
                self.line(&format!("        {},", row.join(", ")));
            }
            self.line("    ] },");
        }
        self.line("]");
    }

    fn systems(&mut self, reference: &Reference) {
        if let Some(bars) = reference.bars_a_system {
            self.line("\n[systems]");
            self.value("bars", spread(bars, |bars| bars.to_string()));
        }
        for group in &reference.systems_a_page {
            self.line("\n[[systems-a-page]]");
            self.value("staves", group.staves);
            self.value("pages", group.pages);
            self.value("systems", spread(group.systems, |systems| systems.to_string()));
        }
    }
}

fn spread<T>(spread: Spread<T>, number: impl Fn(T) -> String) -> String {
    let Spread { tight, usual, wide } = spread;
    format!("{{ tight = {}, usual = {}, wide = {} }}", number(tight), number(usual), number(wide))
}

fn tenths(value: f64) -> String {
    format!("{value:.1}")
}

fn hundredths(value: f64) -> String {
    format!("{value:.2}")
}

/// A basic string of TOML, which a shell understands as well.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => quoted.extend(['\\', letter]),
            letter if letter.is_control() => quoted.push(' '),
            letter => quoted.push(letter),
        }
    }
    quoted + "\""
}
