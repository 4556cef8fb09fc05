//! Words of the casting-off sheet.

use crate::words::all_listed;

/// Lists of players no longer than this are written again rather than pointed at.
pub const SHORT: usize = 24;

/// "oboes, horns and harp"; "none".
pub fn players(names: &[&str]) -> String {
    if names.is_empty() { "none".to_owned() } else { all_listed(names) }
}

/// How far systems are drawn apart or together: "4 % tighter than natural", "2 % tighter to 5 % looser".
pub fn tightness(stretches: impl Iterator<Item = f64>) -> String {
    let percent = stretches.map(|stretch| ((stretch - 1.0) * 100.0).round() as i64);
    let (mut tightest, mut loosest) = (i64::MAX, i64::MIN);
    for percent in percent {
        (tightest, loosest) = (tightest.min(percent), loosest.max(percent));
    }
    match (tightest, loosest) {
        (tightest, loosest) if tightest > loosest => "not known".to_owned(),
        (0, 0) => "natural".to_owned(),
        (tightest, loosest) if tightest == loosest => format!("{} than natural", step(tightest)),
        (0, loosest) => format!("natural to {}", step(loosest)),
        (tightest, 0) => format!("{} to natural", step(tightest)),
        (tightest, loosest) if loosest < 0 => format!("{} to {}", loosest.abs(), step(tightest)),
        (tightest, loosest) if tightest > 0 => format!("{tightest} to {}", step(loosest)),
        (tightest, loosest) => format!("{} to {}", step(tightest), step(loosest)),
    }
}

/// "4 % tighter", "5 % looser".
fn step(percent: i64) -> String {
    format!("{} % {}", percent.abs(), if percent < 0 { "tighter" } else { "looser" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spacing_is_told_against_what_is_natural() {
        for (stretches, words) in [
            (&[][..], "not known"),
            (&[1.001, 0.999], "natural"),
            (&[0.96], "4 % tighter than natural"),
            (&[0.96, 0.98], "2 to 4 % tighter"),
            (&[1.0, 1.05], "natural to 5 % looser"),
            (&[1.0, 0.9], "10 % tighter to natural"),
            (&[1.02, 1.05], "2 to 5 % looser"),
            (&[0.97, 1.05], "3 % tighter to 5 % looser"),
        ] {
            assert_eq!(tightness(stretches.iter().copied()), words);
        }
    }

    #[test]
    fn players_are_listed_and_nobody_is_none() {
        assert_eq!(players(&["Oboe", "Horn", "Harp"]), "Oboe, Horn and Harp");
        assert_eq!(players(&[]), "none");
    }
}
