//! Parts and bars.

use super::*;
use crate::compare::What;

/// A part of both drafts, or of one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    /// Null: added.
    pub old_index: Option<PartId>,
    /// Null: dropped.
    pub new_index: Option<PartId>,
    pub old_name: Option<String>,
    pub new_name: Option<String>,
    pub renamed: bool,
    /// It stands elsewhere among the others.
    pub reordered: bool,
    /// Written for another transposition at the same pitch.
    pub retransposed: bool,
}

/// A bar of both drafts, or of one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Bar {
    /// Null: inserted.
    pub old_index: Option<BarIdx>,
    /// Null: deleted.
    pub new_index: Option<BarIdx>,
    /// As printed.
    pub old_label: Option<String>,
    pub new_label: Option<String>,
    /// "equal", "edited", "inserted", "deleted" or "moved".
    pub status: String,
    /// "notes", "rhythm", "cues", "dynamics", "words", "signs", "clef", "key", "metre", "barlines", "landmarks", "tempo",
    /// "layout" (stems, beams, reminders: the same to the player).
    pub what: Vec<String>,
    /// The parts that it changed in.
    pub parts: Vec<BarOfPart>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BarOfPart {
    /// Index among `parts`.
    pub part: u32,
    pub what: Vec<String>,
}

pub(super) fn parts(compared: &Compared) -> Vec<Part> {
    let Some((old, new)) = compared.sides() else { return Vec::new() };
    let name = |draft: &Draft, id: Option<PartId>| {
        id.and_then(|id| draft.checked.score.parts.get(id.at())).map(|part| part.name.clone())
    };
    let part = |pair: &compare::PartPair| Part {
        old_index: pair.old,
        new_index: pair.new,
        old_name: name(old, pair.old),
        new_name: name(new, pair.new),
        renamed: pair.renamed,
        reordered: pair.reordered,
        retransposed: pair.retransposed,
    };
    compared.music.parts.iter().map(part).collect()
}

pub(super) fn bars(compared: &Compared) -> Vec<Bar> {
    let Some((old, new)) = compared.sides() else { return Vec::new() };
    let label = |draft: &Draft, bar: Option<BarIdx>| bar.map(|bar| draft.checked.score.label(bar).to_owned());
    let names = |what: &[What]| what.iter().map(|what| what.name().to_owned()).collect::<Vec<_>>();
    let bar = |pair: &compare::BarPair| Bar {
        old_index: pair.old,
        new_index: pair.new,
        old_label: label(old, pair.old),
        new_label: label(new, pair.new),
        status: pair.status.name().to_owned(),
        what: names(&pair.what()),
        parts: pair
            .cells
            .iter()
            .map(|cell| BarOfPart { part: u32::try_from(cell.part).unwrap_or(u32::MAX), what: names(&cell.what) })
            .collect(),
    };
    compared.music.bars.iter().map(bar).collect()
}
