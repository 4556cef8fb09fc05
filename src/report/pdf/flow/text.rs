//! A text whose pieces may differ in face and may lead somewhere.

use super::super::outline::Target;
use super::super::style::Face;

/// Text to be wrapped: pieces in the face of its block, in another face, or with a link.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text {
    pub(super) pieces: Vec<Piece>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) text: String,
    /// `None`: that of the block.
    pub(super) face: Option<Face>,
    pub(super) link: Option<(Target, String)>,
}

impl Text {
    #[must_use]
    pub fn new(text: impl Into<String>) -> Text {
        Text::default().then(text)
    }

    /// Goes on in the face of the block.
    #[must_use]
    pub fn then(self, text: impl Into<String>) -> Text {
        self.piece(text.into(), None, None)
    }

    #[must_use]
    pub fn bold(self, text: impl Into<String>) -> Text {
        self.piece(text.into(), Some(Face::Bold), None)
    }

    #[must_use]
    pub fn italic(self, text: impl Into<String>) -> Text {
        self.piece(text.into(), Some(Face::Italic), None)
    }

    /// Text that leads to `target`; `says` is read out in its place.
    #[must_use]
    pub fn link(self, text: impl Into<String>, target: Target, says: impl Into<String>) -> Text {
        self.piece(text.into(), None, Some((target, says.into())))
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.pieces.iter().all(|piece| piece.text.is_empty())
    }

    fn piece(mut self, text: String, face: Option<Face>, link: Option<(Target, String)>) -> Text {
        self.pieces.push(Piece { text, face, link });
        self
    }
}

impl From<&str> for Text {
    fn from(text: &str) -> Text {
        Text::new(text)
    }
}

impl From<String> for Text {
    fn from(text: String) -> Text {
        Text::new(text)
    }
}
