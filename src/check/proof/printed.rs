//! Printed pages held against the score: which bars stand on them and which do not.

use super::ProofOptions;
use crate::check::parts::printed::measure as measure_parts;
use crate::check::printed::with_music;
use crate::check::{CheckError, PagesFile};
use crate::join::Fit;
use crate::players::Player;
use crate::score::Score;

/// The pages of the score or of one part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedProof {
    /// Name of the file.
    pub file: String,
    /// The player whose part it is; `None` of the score.
    pub player: Option<String>,
    pub fit: Fit,
}

/// The score's pages first, then those of parts in score order.
///
/// # Errors
/// A name that is no part's; pages that cannot be measured.
pub(super) fn printed(
    options: &ProofOptions,
    score: &Score,
    players: &[Player],
) -> Result<Vec<PrintedProof>, Vec<CheckError>> {
    let of_score = |file: &PagesFile| {
        let measured = with_music(file, score, &options.parts.limits).map_err(|error| vec![error])?;
        Ok(PrintedProof { file: file.name.clone(), player: None, fit: measured.printed.fit.unwrap_or_default() })
    };
    let mut all = options.pages.iter().map(of_score).collect::<Result<Vec<_>, Vec<CheckError>>>()?;
    for (at, part) in measure_parts(&options.parts, players)? {
        let player = players.get(at).map(|player| player.name.clone());
        all.push(PrintedProof { file: part.name, player, fit: part.fit });
    }
    Ok(all)
}
