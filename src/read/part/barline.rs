//! Barlines, repeats and endings.

use roxmltree::Node;

use super::PartReader;
use crate::read::draft::Music;
use crate::read::error::Trouble;
use crate::read::oddities::Oddity;
use crate::read::xml;
use crate::score::SystemMarkKind;
use crate::units::Fraction;

impl PartReader {
    pub(super) fn barline(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let is_left = match node.attribute("location") {
            Some("left") => true,
            // Dashed and dotted lines inside a bar divide nothing.
            Some("middle") => {
                music.oddities.unread("barline (inside a bar)");
                return Ok(());
            }
            _ => false,
        };
        let onset = if is_left { Fraction::ZERO } else { self.reach };
        let mut style = "";
        for (name, child) in xml::elements(node) {
            match name {
                "bar-style" => style = xml::text(child),
                "repeat" => self.repeat(is_left, child, music)?,
                "ending" => self.ending(child, music)?,
                "fermata" => {
                    let bar = music.bar(self.bar)?;
                    (if is_left { &mut bar.bar.left } else { &mut bar.bar.right }).fermata = true;
                }
                "segno" => self.system_mark(SystemMarkKind::Jump("Segno".to_owned()), onset, Some(0), child, music),
                "coda" => self.system_mark(SystemMarkKind::Jump("Coda".to_owned()), onset, Some(0), child, music),
                other => music.oddities.unread(other),
            }
        }
        let bar = music.bar(self.bar)?;
        let line = if is_left { &mut bar.bar.left } else { &mut bar.bar.right };
        line.is_double |= matches!(style, "light-light" | "heavy-heavy");
        line.is_final |= style == "light-heavy" && !line.repeat;
        Ok(())
    }

    fn repeat(&mut self, is_left: bool, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let forward = node.attribute("direction") == Some("forward");
        if forward != is_left {
            let place = self.describe();
            music.odd(Oddity::RepeatSide, node, || place);
            return Ok(());
        }
        let plays = node.attribute("times").and_then(|times| times.parse::<u32>().ok());
        let bar = music.bar(self.bar)?;
        if forward {
            bar.bar.left.repeat = true;
        } else {
            bar.bar.right.repeat = true;
            bar.bar.right.is_final = false;
            bar.plays = bar.plays.or(plays);
        }
        Ok(())
    }

    fn ending(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let bar = music.bar(self.bar)?;
        match node.attribute("type") {
            Some("start") => {
                let times = ending_times(node.attribute("number").unwrap_or_default());
                bar.ending_starts.get_or_insert(times);
            }
            Some("stop" | "discontinue") => bar.ending_stops = true,
            _ => {}
        }
        Ok(())
    }
}

/// "1, 2" or "1-3" as numbers; empty when it is neither.
fn ending_times(text: &str) -> Vec<u32> {
    /// No music is played through more often.
    const AT_MOST: u32 = 99;
    let number =
        |text: &str| text.trim().trim_end_matches('.').parse::<u32>().ok().filter(|at| (1..=AT_MOST).contains(at));
    let mut times = Vec::new();
    for item in text.split([',', ' ', '/']).filter(|item| !item.is_empty()) {
        let (first, last) = item.split_once('-').unwrap_or((item, item));
        match (number(first), number(last)) {
            (Some(first), Some(last)) => times.extend(first..=last),
            _ => return Vec::new(),
        }
        if times.len() > AT_MOST as usize {
            return Vec::new();
        }
    }
    times
}

#[cfg(test)]
mod tests {
    use super::ending_times;

    #[test]
    fn endings_are_numbered_in_several_ways() {
        assert_eq!(ending_times("1"), [1]);
        assert_eq!(ending_times("1, 2."), [1, 2]);
        assert_eq!(ending_times("1-3"), [1, 2, 3]);
        assert_eq!(ending_times("last"), [0; 0]);
    }
}
