//! What stands over other staves of the score and holds for this part, too.

use super::BarWriter;
use crate::place::StaffId;
use crate::read::Element;
use crate::score::{Barline, SystemMarkKind};
use crate::write_parts::line::Place;
use crate::write_parts::overhead::side_of;

impl<'w, 'a> BarWriter<'w, 'a> {
    /// What is said before the bar's first note.
    pub(super) fn begin(&mut self, inner: &str) {
        if self.job.begins.rest > 1 {
            let bars = self.job.begins.rest;
            self.pen.write(&format!(
                "<attributes><measure-style><multiple-rest>{bars}</multiple-rest></measure-style></attributes>"
            ));
        }
        if !self.job.leads {
            return;
        }
        let Place { score, overhead, .. } = self.job.place;
        let from = score.marks.partition_point(|mark| mark.bar < self.job.bar);
        let marks = score.marks.get(from..).unwrap_or_default().iter();
        let mut written: Vec<String> = Vec::new();
        for mark in marks.take_while(|mark| mark.bar == self.job.bar) {
            let texts = match (mark.over.first(), &mark.kind) {
                (None, SystemMarkKind::Tempo { quarters_per_minute: Some(tempo), .. })
                    if !inner.contains(" tempo=") =>
                {
                    vec![format!("<sound tempo=\"{tempo}\"/>")]
                }
                (Some(staff), kind) if !mark.over.iter().any(|staff| self.is_own(*staff)) => {
                    let place = self.job.place.of_staff(*staff);
                    place.map_or_else(Vec::new, |place| overhead.marks(self.job.at, mark.onset, kind, place))
                }
                _ => continue,
            };
            for text in texts {
                if !written.contains(&text) {
                    self.pen.go_to(mark.onset);
                    self.pen.write(&text);
                    written.push(text);
                }
            }
        }
    }

    fn is_own(&self, staff: StaffId) -> bool {
        self.job.player.staves.contains(&staff)
    }

    /// The barline of another part, where the own one is missing or lacks the fermata.
    pub(super) fn fuller_barline(&mut self, side: &'static str, inside: &[Element<'a>]) -> Option<&'w str> {
        let bar = self.job.place.score.bar(self.job.bar)?;
        let line = if side == "left" { bar.left } else { bar.right };
        let own = inside.iter().find(|element| element.name == "barline" && side_of(element) == side);
        let lacks = match own {
            None => line != Barline::default() || bar.ending.is_some(),
            Some(own) => line.fermata && own.child("fermata").is_none(),
        };
        let found = lacks.then(|| self.job.place.overhead.barline(self.job.at, side, line.fermata)).flatten();
        self.replaced.extend(found.map(|_| side));
        found
    }
}
