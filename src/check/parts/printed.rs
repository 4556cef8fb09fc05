//! Printed pages of parts, each measured and joined with its player's line.

use std::collections::BTreeMap;

use super::{PartsOptions, wanted};
use crate::check::{CheckError, printed};
use crate::join::{Fit, join};
use crate::layout::Layout;
use crate::players::Player;

/// The pages of one part.
pub(in crate::check) struct PrintedPart {
    /// Name of the file.
    pub name: String,
    pub layout: Layout,
    pub fit: Fit,
}

/// By the index of the player.
///
/// # Errors
/// A name that is no part's, or more than one; pages that cannot be measured.
pub(in crate::check) fn measure(
    options: &PartsOptions,
    players: &[Player],
) -> Result<BTreeMap<usize, PrintedPart>, Vec<CheckError>> {
    let (mut measured, mut errors) = (BTreeMap::new(), Vec::new());
    for (name, file) in &options.pages {
        let at = match wanted(players, std::slice::from_ref(name)).as_deref() {
            Ok([one]) => *one,
            Ok(several) => {
                let names =
                    several.iter().filter_map(|at| players.get(*at)).map(|player| player.name.clone()).collect();
                errors.push(CheckError::UnknownPart { name: name.clone(), names });
                continue;
            }
            Err(wrong) => {
                errors.extend_from_slice(wrong);
                continue;
            }
        };
        let Some(player) = players.get(at) else { continue };
        match printed::measure(&file.name, &file.bytes, &options.limits) {
            Ok(pages) => {
                let joined = join(&pages, &player.music);
                let part = PrintedPart { name: file.name.clone(), layout: joined.layout, fit: joined.fit };
                measured.insert(at, part);
            }
            Err(error) => errors.push(error),
        }
    }
    if errors.is_empty() { Ok(measured) } else { Err(errors) }
}
