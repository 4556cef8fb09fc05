//! What the guidelines say: of the score alone, and of the pages of the parts. What holds of many parts is told once.

use crate::check::Proofed;
use crate::guidelines::Weight;
use crate::report::blocks::heading;
use crate::report::pages::style;
use crate::report::pdf::{Block, List, ListItem, Numbering, Paragraph, ParagraphStyle, Text};
use crate::rules::Finding;
use crate::units::Mm;
use crate::words::{counted, listed};

/// A finding, and the players whose pages have it.
pub(super) struct OfPages<'a> {
    pub finding: &'a Finding,
    pub players: Vec<String>,
}

/// What is to be mended on the pages, each once however many parts have it.
pub(super) fn to_mend(proofed: &Proofed) -> Vec<OfPages<'_>> {
    let mut all: Vec<OfPages<'_>> = Vec::new();
    for part in &proofed.parts {
        let findings = part.sheet.iter().flat_map(|sheet| &sheet.findings);
        for finding in findings.filter(|finding| finding.weight >= Weight::Mend) {
            let same =
                |own: &&mut OfPages<'_>| own.finding.rule == finding.rule && own.finding.message == finding.message;
            match all.iter_mut().find(same) {
                Some(own) => own.players.push(part.player.name.clone()),
                None => all.push(OfPages { finding, players: vec![part.player.name.clone()] }),
            }
        }
    }
    all.sort_by_key(|own| std::cmp::Reverse((own.finding.weight, own.players.len())));
    all
}

impl OfPages<'_> {
    /// "Oboe 1", "All 14 parts with pages".
    pub fn whose(&self, proofed: &Proofed) -> String {
        let with_pages = proofed.parts.iter().filter(|part| part.sheet.is_some()).count();
        if self.players.len() == with_pages && with_pages > 1 {
            return format!("All {with_pages} parts");
        }
        listed(self.players.iter().cloned())
    }
}

/// Shown on the first sheet.
const MOST: usize = 8;

/// What has to be mended of pages, over the whole set.
pub(super) fn of_pages(proofed: &Proofed) -> Vec<Block> {
    let found = to_mend(proofed);
    if found.is_empty() {
        return Vec::new();
    }
    let more = found.len().saturating_sub(MOST);
    let item = |own: &OfPages<'_>| {
        ListItem::new(
            Text::default()
                .bold(format!("{}.", own.whose(proofed)))
                .then(format!(" {} {}", own.finding.message, own.finding.remedy)),
        )
    };
    let items: Vec<ListItem> = found.iter().take(MOST).map(item).collect();
    let mut blocks = vec![heading("Their sheets: to be mended"), numbered(items)];
    if more > 0 {
        let small = ParagraphStyle::new(style::SMALL).spaced(Mm(0.5), Mm::ZERO);
        blocks.push(Block::Paragraph(Paragraph::new(
            format!("{} with the players.", counted(more, "more thing")),
            small,
        )));
    }
    blocks
}

/// What was found in the score.
pub(super) fn of_score(found: &[Finding]) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (weight, title) in
        [(Weight::Stop, "Stops the rehearsal"), (Weight::Mend, "Spoils the concert"), (Weight::Look, "Worth a look")]
    {
        let own = found.iter().filter(|finding| finding.weight == weight);
        let items: Vec<ListItem> =
            own.map(|finding| ListItem::new(format!("{} {}", finding.message, finding.remedy))).collect();
        if !items.is_empty() {
            blocks.push(heading(title));
            blocks.push(numbered(items));
        }
    }
    blocks
}

fn numbered(items: Vec<ListItem>) -> Block {
    let items = (1..).zip(items).map(|(number, item)| item.labelled(format!("{number}."))).collect();
    Block::List(List {
        numbering: Numbering::Decimal,
        items,
        style: ParagraphStyle::new(style::BODY).spaced(Mm::ZERO, Mm(0.6)),
        hang: Mm(7.0),
        between: Mm(0.5),
    })
}
