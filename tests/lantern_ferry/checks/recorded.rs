//! The layout as recorded in the XML, held against itself and against the plan.

use rastrum::units::Spaces;
use roxmltree::Node;

use super::{all, child, each_draft, number};
use crate::layout::{SystemLayout, lay_out};
use crate::orchestra::all_staves;
use crate::paper;

/// What the files count in.
const TENTH: Spaces = Spaces(0.1);

#[test]
fn each_system_records_its_staves_and_distances() {
    each_draft(|movement, root| {
        let parts: Vec<Vec<Node>> = all(root, "part").map(|part| all(part, "measure").collect()).collect();
        let pages = lay_out(movement);
        for system in pages.iter().flat_map(|page| &page.systems) {
            let starts: Vec<Node> = parts.iter().map(|bars| bars[system.first_bar - 1]).collect();
            let (staves, distances) = stack(&starts, all_staves(movement.has_bell()).len());
            assert_eq!(staves, system.staves.len(), "bar {}", system.first_bar);
            let expected: Vec<f64> = system.gaps.iter().map(|&gap| gap / TENTH).collect();
            assert!(distances.len() == expected.len(), "bar {}", system.first_bar);
            assert!(distances.iter().zip(&expected).all(|(one, other)| (one - other).abs() < 0.005));
            first_part(starts[0], system);
        }
    });
}

/// Number of printed staves and the distances between them, from the first bar of a system in every part.
fn stack(starts: &[Node], all_staves: usize) -> (usize, Vec<f64>) {
    let hidden = |start: &&Node| {
        let details = start.descendants().filter(|node| node.has_tag_name("staff-details"));
        details.filter(|details| details.attribute("print-object") == Some("no")).count()
    };
    let printed = all_staves - starts.iter().map(|start| hidden(&start)).sum::<usize>();
    let layouts = starts.iter().flat_map(|start| start.descendants()).filter(|node| node.has_tag_name("staff-layout"));
    (printed, layouts.map(|layout| number(layout, "staff-distance")).collect())
}

fn first_part(start: Node, system: &SystemLayout) {
    let layout = child(start, "print").and_then(|print| child(print, "system-layout")).expect("a system layout");
    let top = child(layout, "top-system-distance").is_some();
    let distance = number(layout, if top { "top-system-distance" } else { "system-distance" });
    assert!((distance - system.distance / TENTH).abs() < 0.005);
    let dividers = layout.descendants().filter(|node| node.attribute("print-object") == Some("yes")).count();
    assert_eq!(dividers, if system.divider { 2 } else { 0 });
}

#[test]
fn bar_widths_fill_the_line_in_every_part() {
    each_draft(|movement, root| {
        let line = paper::line_width(movement.staff_mm()) / TENTH;
        let first = all(root, "part").next().expect("a part");
        let width = |measure: roxmltree::Node| measure.attribute("width").and_then(|width| width.parse::<f64>().ok());
        let expected: Vec<_> = all(first, "measure").map(width).collect();
        let (mut room, mut filled) = (0.0_f64, 0.0);
        for measure in all(first, "measure") {
            if let Some(system) = child(measure, "print").and_then(|print| child(print, "system-layout")) {
                assert!(
                    (room - filled).abs() < 0.005,
                    "bar {:?} of movement {}",
                    measure.attribute("number"),
                    movement.number
                );
                room = line - number(child(system, "system-margins").expect("margins"), "left-margin");
                filled = 0.0;
            }
            filled += width(measure).expect("a width");
        }
        assert!((room - filled).abs() < 0.005);
        for part in all(root, "part") {
            assert!(all(part, "measure").map(width).eq(expected.iter().copied()), "{:?}", part.attribute("id"));
        }
    });
}
