//! A plan of a piece, before its notes: forces, passages, who plays in them and how busily.
//!
//! ```toml
//! title = "A plan"
//!
//! forces = ["Flute 1, 2", "Horn 1, 2", { name = "Sheet of tin", family = "percussion" }, "Harp", "Viola"]
//!
//! [[section]]
//! bars = 24
//! metre = "4/4"
//! tempo = 96
//! who = ["woodwind", "Harp"]
//! busy = "moderate"
//! ```
//!
//! All troubles are told together, each with its line.

use toml::de::DeTable;

use super::document::line_and_column;
use super::error::{ReadError, ReadErrorKind, Trouble};
use super::{Input, Reading, SourceInfo, container, encoding};
use crate::layout::Record;
use crate::limits::Limits;

mod build;
mod forces;
mod instruments;
mod metre;
mod sections;
mod table;
mod tempo;
mod who;

use forces::Forces;
use table::{Table, Told, Troubles};

/// What may stand at the top of an outline.
const KEYS: [&str; 4] = ["title", "composer", "forces", "section"];

/// Whether a text is an outline: by its name's ending, or by its first lines.
pub(super) fn is_outline(name: &str, text: &str) -> bool {
    let ending = name.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("toml"));
    let told = || text.lines().any(|line| ["[[forces]]", "[[section]]"].contains(&line.trim()));
    !text.trim_start().starts_with('<') && (ending || told())
}

/// Reads an outline; `None` when the input is none.
pub(super) fn read(input: Input<'_>, limits: &Limits) -> Option<Result<Reading, Vec<ReadError>>> {
    // Scores are not to be unpacked twice.
    let is_score = input.bytes.starts_with(b"PK") || input.bytes.trim_ascii_start().starts_with(b"<");
    if is_score {
        return None;
    }
    let unpacked = container::unpack(input.bytes, limits).ok().filter(|unpacked| unpacked.member.is_none())?;
    let text = encoding::decode(unpacked.xml).ok()?;
    if !is_outline(input.name, &text) {
        return None;
    }
    if text.len() as u64 > limits.outline_bytes {
        let kind = ReadErrorKind::TooLarge { limit: limits.outline_bytes };
        return Some(Err(placed(input.name, &text, vec![kind.into()])));
    }
    let mut troubles = Troubles::new(limits.errors_per_file);
    let plan = Plan::read(&text, limits, &mut troubles);
    let score = plan.and_then(|plan| if troubles.is_empty() { plan.build(limits, &mut troubles) } else { None });
    let Some(score) = score.filter(|_| troubles.is_empty()) else {
        return Some(Err(placed(input.name, &text, troubles.into_sorted())));
    };
    let record = Record { bars: vec![Default::default(); score.bars.len()], ..Record::default() };
    let source =
        SourceInfo { name: input.name.to_owned(), format: "outline".to_owned(), xml_bytes: input.bytes.len() as u64 };
    Some(Ok(Reading { score, record, remarks: Vec::new(), sources: vec![source] }))
}

fn placed(file: &str, text: &str, troubles: Vec<Trouble>) -> Vec<ReadError> {
    let error = |trouble: Trouble| {
        let place = trouble.at.map(|at| line_and_column(text.as_bytes(), at));
        let (line, column) = (place.map(|(line, _)| line), place.map(|(_, column)| column));
        ReadError { input: 0, file: file.to_owned(), line, column, kind: trouble.kind }
    };
    troubles.into_iter().map(error).collect()
}

/// All that the file says, understood.
struct Plan {
    title: Option<String>,
    composer: Option<String>,
    forces: Forces,
    sections: Vec<sections::Section>,
}

impl Plan {
    /// `None` when there is nothing to go on with; what is wrong is in `troubles`.
    fn read(text: &str, limits: &Limits, troubles: &mut Troubles) -> Option<Plan> {
        let (root, syntax) = DeTable::parse_recoverable(text);
        // What follows from the first one would only confuse.
        if let Some(wrong) = syntax.first() {
            let what = wrong.message().trim().replace('\n', "; ");
            troubles.add(
                wrong.span().map_or(0, |span| span.start),
                what,
                "mend the line; an outline is written in TOML",
            );
            return None;
        }
        let root = Table::of(root.get_ref(), 0, "an outline", &KEYS, troubles);
        let own = |told: Option<Told<String>>| told.map(|told| told.value);
        let (title, composer) = (own(root.text("title", troubles)), own(root.text("composer", troubles)));
        let forces = forces::read(&root, limits, troubles);
        let sections = sections::read(&root, &forces, limits, troubles);
        if forces.all.is_empty() && !root.has("forces") {
            troubles.whole(
                "the outline has no forces",
                "write forces = [\"Flute 1, 2\", \"Harp\"], the lines of the score from the top",
            );
        }
        if sections.is_empty() && !root.has("section") {
            troubles.whole("the outline has no bars", "write [[section]] with bars = 24, or with minutes and a tempo");
        }
        Some(Plan { title, composer, forces, sections })
    }
}
