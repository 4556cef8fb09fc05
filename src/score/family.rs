//! Families of the orchestra, in score order.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A family, in the order of the score from the top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    Woodwind,
    Brass,
    /// Timpani and percussion.
    Percussion,
    /// Harp, piano, celesta, organ, guitar.
    Keyboard,
    Voices,
    Strings,
    #[default]
    Unknown,
}
