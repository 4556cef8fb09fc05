//! Signs at single notes: articulation, technique, ornaments.

/// Which signs stand at a note; each at most once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Signs(u64);

/// What a sign is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SignKind {
    /// How a note is struck or joined: "staccato".
    Articulation,
    /// How it is fingered, bowed, blown: "up bow".
    Technique,
    /// What is added to it: "trill mark".
    Ornament,
}

/// The names of MusicXML 4.0 (articulations, technical, ornaments), in its order; a sign is its place in this table.
const NAMES: [(SignKind, &str); 62] = {
    use SignKind::{Articulation as A, Ornament as O, Technique as T};
    [
        (A, "accent"),
        (A, "strong-accent"),
        (A, "staccato"),
        (A, "tenuto"),
        (A, "detached-legato"),
        (A, "staccatissimo"),
        (A, "spiccato"),
        (A, "scoop"),
        (A, "plop"),
        (A, "doit"),
        (A, "falloff"),
        (A, "breath-mark"),
        (A, "caesura"),
        (A, "stress"),
        (A, "unstress"),
        (A, "soft-accent"),
        (A, "other-articulation"),
        (T, "up-bow"),
        (T, "down-bow"),
        (T, "harmonic"),
        (T, "open-string"),
        (T, "thumb-position"),
        (T, "fingering"),
        (T, "pluck"),
        (T, "double-tongue"),
        (T, "triple-tongue"),
        (T, "stopped"),
        (T, "snap-pizzicato"),
        (T, "fret"),
        (T, "string"),
        (T, "hammer-on"),
        (T, "pull-off"),
        (T, "bend"),
        (T, "tap"),
        (T, "heel"),
        (T, "toe"),
        (T, "fingernails"),
        (T, "hole"),
        (T, "arrow"),
        (T, "handbell"),
        (T, "brass-bend"),
        (T, "flip"),
        (T, "smear"),
        (T, "open"),
        (T, "half-muted"),
        (T, "harmon-mute"),
        (T, "golpe"),
        (T, "other-technical"),
        (O, "trill-mark"),
        (O, "turn"),
        (O, "delayed-turn"),
        (O, "inverted-turn"),
        (O, "delayed-inverted-turn"),
        (O, "vertical-turn"),
        (O, "inverted-vertical-turn"),
        (O, "shake"),
        (O, "mordent"),
        (O, "inverted-mordent"),
        (O, "schleifer"),
        (O, "haydn"),
        (O, "other-ornament"),
        (O, "tremolo"),
    ]
};

impl Signs {
    pub const NONE: Signs = Signs(0);

    /// The sign of a MusicXML name; none for a name that is no sign.
    #[must_use]
    pub fn named(name: &str) -> Signs {
        NAMES.iter().position(|(_, own)| *own == name).map_or(Signs::NONE, |at| Signs(1 << at))
    }

    #[must_use]
    pub fn and(self, other: Signs) -> Signs {
        Signs(self.0 | other.0)
    }

    #[must_use]
    pub fn without(self, other: Signs) -> Signs {
        Signs(self.0 & !other.0)
    }

    #[must_use]
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Those of one kind.
    #[must_use]
    pub fn of(self, kind: SignKind) -> Signs {
        let all = NAMES.iter().enumerate().filter(|(_, (own, _))| *own == kind);
        Signs(all.fold(0, |mask, (at, _)| mask | self.0 & (1 << at)))
    }

    /// Their names in words: "up bow".
    pub fn names(self) -> impl Iterator<Item = String> {
        let all = NAMES.iter().enumerate().filter(move |(at, _)| self.0 & (1 << at) != 0);
        all.map(|(_, (_, name))| name.trim_end_matches("-mark").replace('-', " "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_are_told_apart_by_kind_and_named_in_words() {
        let signs = Signs::named("up-bow").and(Signs::named("trill-mark")).and(Signs::named("accent"));
        assert_eq!(signs.names().collect::<Vec<_>>(), ["accent", "up bow", "trill"]);
        assert_eq!(signs.of(SignKind::Technique), Signs::named("up-bow"));
        assert_eq!(signs.without(signs.of(SignKind::Articulation)).names().count(), 2);
        assert!(Signs::named("slur").is_empty());
    }
}
