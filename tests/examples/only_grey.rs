//! Fails when a rendered report page shows any colour, or nothing at all: `only_grey PAGE.png...`.

use std::process::ExitCode;

fn main() -> ExitCode {
    let mut failed = false;
    for path in std::env::args().skip(1) {
        match look(&path) {
            Ok(()) => {}
            Err(what) => {
                eprintln!("{path}: {what}");
                failed = true;
            }
        }
    }
    if failed { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// Anti-aliased greys may round apart by one step between the channels.
const ROUNDING: u8 = 1;

fn look(path: &str) -> Result<(), String> {
    let picture = image::open(path).map_err(|error| error.to_string())?.into_rgb8();
    let coloured = picture.enumerate_pixels().find(|(_, _, pixel)| {
        let [red, green, blue] = pixel.0;
        red.abs_diff(green) > ROUNDING || green.abs_diff(blue) > ROUNDING
    });
    if let Some((x, y, pixel)) = coloured {
        return Err(format!("colour {:?} at {x}, {y}", pixel.0));
    }
    let inked = picture.pixels().filter(|pixel| pixel.0[0] < 128).count();
    if inked == 0 { Err("an empty page".to_owned()) } else { Ok(()) }
}
