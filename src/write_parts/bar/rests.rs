//! Rests where other players' notes stood.

use super::BarWriter;
use crate::read::Element;
use crate::units::Fraction;
use crate::write_parts::gaps::{Stretch, uncovered};
use crate::write_parts::note::value_of;

impl<'a> BarWriter<'_, 'a> {
    /// Rests where another player's note stood and nothing of the player's own sounds.
    pub(super) fn fill(&mut self, line: usize, stretch: Stretch, note: &Element<'a>) {
        let Some(filled) = self.filled.get_mut(line).filter(|filled| !filled.is_empty()) else { return };
        let gaps = uncovered(stretch, filled);
        filled.extend(&gaps);
        for gap in gaps {
            if gap.0 == stretch.0 {
                self.pen.go_to(gap.0);
                self.figures();
            }
            let value = if gap == stretch { value_of(note) } else { String::new() };
            let voice = note.child("voice").map_or("", |voice| voice.whole);
            self.rest(gap, "<rest/>", voice, &value, line);
        }
    }

    /// Writes the figures of what comes next.
    pub(super) fn figures(&mut self) {
        for figures in std::mem::take(&mut self.figures) {
            self.pen.write(figures);
        }
    }

    fn rest(&mut self, (from, to): Stretch, rest: &str, voice: &str, value: &str, line: usize) {
        let length = to.checked_sub(from).unwrap_or(Fraction::ZERO);
        let ticks = self.pen.ticks(length);
        let staff = self.number(line).map_or_else(String::new, |staff| format!("<staff>{staff}</staff>"));
        self.pen.go_to(from);
        self.pen.write(&format!("<note>{rest}<duration>{ticks}</duration>{voice}{value}{staff}</note>"));
        self.pen.took(length);
    }

    /// A bar's rest on each staff that has nothing else.
    pub(super) fn whole_bar_rests(&mut self, is_missing: bool) {
        let length = self.job.place.score.bar(self.job.bar).map_or(Fraction::ZERO, |bar| bar.length);
        for line in 0..self.filled.len() {
            let is_empty = self.filled.get(line).is_some_and(Vec::is_empty);
            let lacks = self.job.is_rest || is_missing || self.dropped.get(line).copied().unwrap_or(false);
            if is_empty && lacks && length > Fraction::ZERO {
                let voice = format!("<voice>{}</voice>", line * 4 + 1);
                self.rest((Fraction::ZERO, length), "<rest measure=\"yes\"/>", &voice, "", line);
            }
        }
    }
}
