use std::collections::BTreeSet;

use super::*;
use crate::place::{PageIdx, Place};
use crate::report::pdf::Meta;
use crate::rules::{Scope, Weight};

mod made;

use made::{Work, in_gap, work};

const WEIGHTS: [Weight; 3] = [Weight::Stop, Weight::Mend, Weight::Look];

fn drawn(work: &Work, findings: &[Finding], extent: Extent) -> (Drawn, Vec<u8>) {
    let subject = Subject::new(&work.score, &work.layout, &work.survey, findings);
    let mut doc = Document::new(Meta::new("A made-up work", "en-GB"));
    let drawn = write(&mut doc, &Frame::new("A made-up work"), &subject, extent, &BTreeSet::new());
    (drawn, doc.finish().unwrap_or_default())
}

fn text(bytes: &[u8]) -> String {
    let doc = lopdf::Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = doc.get_pages().keys().copied().collect();
    doc.extract_text(&pages).unwrap()
}

/// Forty findings on one page, in turn of each weight.
fn forty() -> Vec<Finding> {
    (0..40).map(|at| in_gap(1, at / 2, (at as u32 % 2) * 2..(at as u32 % 2) * 2 + 1, WEIGHTS[at % 3])).collect()
}

#[test]
fn look() {
    let work = work(6);
    let mut few =
        vec![in_gap(1, 4, 0..6, Weight::Stop), in_gap(1, 12, 2..3, Weight::Mend), in_gap(2, 7, 0..1, Weight::Look)];
    few.push(made::finding(Weight::Mend, Scope::Page, vec![Place::page(PageIdx(2))], "Page 3 is overfull."));
    std::fs::write("/tmp/maps-few.pdf", drawn(&work, &few, Extent::Full).1).unwrap();
    std::fs::write("/tmp/maps-forty.pdf", drawn(&work, &forty(), Extent::Full).1).unwrap();
}
