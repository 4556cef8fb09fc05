//! What is said of one bar on one staff where no notes are: by an outline, or by a page that was only looked at.

/// One bar on one staff of an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sketch {
    /// The staff is silent.
    Rests,
    /// The staff plays.
    Plays(Busyness),
    /// It stands on a page, and what it plays was not read.
    Unseen,
}

/// How much a staff plays, in the words of an outline. What they mean in notes is a definition of ours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Busyness {
    /// About one note in a bar.
    Still,
    /// About one note in two beats.
    Calm,
    /// About one note on a beat.
    Moderate,
    /// About two notes on a beat.
    Busy,
    /// Four notes on a beat, or more.
    VeryBusy,
}

impl Busyness {
    /// From the stillest on.
    pub const ALL: [Busyness; 5] =
        [Busyness::Still, Busyness::Calm, Busyness::Moderate, Busyness::Busy, Busyness::VeryBusy];

    /// As an outline writes it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Busyness::Still => "still",
            Busyness::Calm => "calm",
            Busyness::Moderate => "moderate",
            Busyness::Busy => "busy",
            Busyness::VeryBusy => "very busy",
        }
    }

    /// The class of a staff that begins so many notes in a quarter, on average; the limits lie half-way between the
    /// definitions, as ratios.
    #[must_use]
    pub fn of_notes_in_a_quarter(notes: f64) -> Busyness {
        const UP_TO: [f64; 4] = [0.354, 0.707, 1.414, 2.828];
        let class = UP_TO.iter().filter(|limit| notes > **limit).count();
        Busyness::ALL.get(class).copied().unwrap_or(Busyness::VeryBusy)
    }
}

impl Sketch {
    /// How much the staff plays; `None` when it rests.
    #[must_use]
    pub fn busyness(self) -> Option<Busyness> {
        match self {
            Sketch::Rests | Sketch::Unseen => None,
            Sketch::Plays(busyness) => Some(busyness),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_class_holds_what_its_definition_says() {
        let notes = [0.25, 0.5, 1.0, 2.0, 4.0];
        assert_eq!(notes.map(Busyness::of_notes_in_a_quarter), Busyness::ALL);
        assert_eq!(Busyness::of_notes_in_a_quarter(0.0), Busyness::Still);
        assert_eq!(Busyness::of_notes_in_a_quarter(100.0), Busyness::VeryBusy);
    }
}
