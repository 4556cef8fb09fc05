use super::*;
use crate::geometry::Rect;
use crate::layout::{Known, Layout, Origin, Page, PageKind, PrintedStaff, Side, StaffRole, System};

fn house() -> Reference {
    let spread = |usual| Some(Spread { tight: Spaces(usual - 1.0), usual: Spaces(usual), wide: Spaces(usual + 2.0) });
    let side = Mm(15.0);
    let margins = Margins { left: side, right: side, top: side, bottom: side };
    Reference {
        title: "A \"small\" suite".to_owned(),
        source: "made up".to_owned(),
        page: Some((Mm(297.0), Mm(420.0))),
        recto: Some(margins),
        verso: Some(Margins { left: Mm(20.0), ..margins }),
        staff_height: Some(Mm(5.0)),
        inside_families: spread(5.5),
        between_families: spread(7.5),
        between_systems: spread(9.0),
        systems_a_page: vec![SystemsAPage { staves: 12, pages: 30, systems: Spread { tight: 1, usual: 2, wide: 2 } }],
        bars_a_system: Some(Spread { tight: 3, usual: 5, wide: 8 }),
        natural_spacing: Some(Spaces(3.5)),
        silent_staves_left_out: Some(true),
        density: Some(Density { half: 38.0, three_quarters: 43.0, nineteen_in_twenty: 60.0 }),
        plates: vec![Plate {
            staves: 2,
            page: (Mm(297.0), Mm(420.0)),
            systems: vec![PlateSystem {
                left: Mm(15.0),
                right: Mm(282.0),
                staves: vec![(Mm(30.0), Mm(5.0)), (Mm(42.5), Mm(5.0))],
                bars: vec![Mm(150.25), Mm(282.0)],
            }],
        }],
    }
}

fn by() -> Regenerate {
    Regenerate { scores: vec!["suite.mxl".to_owned()], output: "suite.toml".to_owned() }
}

#[test]
fn what_was_written_reads_back() {
    let text = write(&house(), &by());
    assert!(is_ours(text.as_bytes()) && !is_ours(b"title = \"mine\""));
    assert!(text.contains("# rastrum measure \"suite.mxl\" -o \"suite.toml\" --source \"made up\"\n"), "{text}");
    assert_eq!(parse("suite.toml", &text).unwrap(), house());
    let bare = Reference { title: String::new(), source: String::new(), ..Reference::default() };
    assert_eq!(parse("bare.toml", &write(&bare, &by())).unwrap(), bare);
}

#[test]
fn what_is_wrong_is_told_with_its_line() {
    let wrong = |text: &str| parse("house.toml", text).unwrap_err().to_string();
    assert!(wrong("title = \"a\"\nsource = \"b\"\npaeg = 1\n").starts_with("house.toml:3: unknown field `paeg`"));
    let text = write(&house(), &by()).replace("width-mm = 297.00", "width-mm = -1.0");
    let line = text.lines().position(|line| line.starts_with("width-mm")).unwrap() + 1;
    assert_eq!(wrong(&text), format!("house.toml:{line}: width-mm cannot be -1"));
}

/// A page of some systems with so many staves each, 20 mm apart.
fn page(systems: &[usize]) -> Page {
    let system = |(at, staves): (usize, &usize)| {
        let staff = |nth: usize| PrintedStaff {
            staff: None,
            lines: 5,
            top: Mm((at * 10 + nth) as f64 * 20.0),
            height: Mm(6.0),
            role: StaffRole::Normal,
            placed: Origin::MEASURED,
            sized: Origin::MEASURED,
        };
        System {
            rect: Rect::new(Mm(15.0), Mm(0.0), Mm(195.0), Mm(200.0)),
            staves: (0..*staves).map(staff).collect(),
            bars: Vec::new(),
            divider_above: None,
            breaks: Origin::MEASURED,
            stretch: None,
        }
    };
    Page {
        size: Known::measured((Mm(210.0), Mm(297.0))),
        margins: Known::measured(Margins::default()),
        side: Side::Recto,
        label: String::new(),
        kind: PageKind::Music,
        breaks: Origin::MEASURED,
        systems: systems.iter().enumerate().map(system).collect(),
        texts: Vec::new(),
        seen: None,
    }
}

#[test]
fn each_number_of_staves_has_its_page_and_the_nearest_is_shown() {
    let pages = vec![page(&[4]), page(&[4, 4]), page(&[10]), page(&[4, 3]), page(&[4, 4, 4]), page(&[1])];
    let theirs = plate::plates(&Layout { pages, ..Layout::default() });
    let told: Vec<(u32, usize)> = theirs.iter().map(|plate| (plate.staves, plate.systems.len())).collect();
    // Of the pages of four staves most have two systems; the last page of all does not count.
    assert_eq!(told, [(4, 2), (10, 1)]);
    let mine = Layout { pages: vec![page(&[9]), page(&[9]), page(&[3])], ..Layout::default() };
    let (plate, own) = beside(&theirs, &mine).expect("a page beside mine");
    assert_eq!((plate.staves, own.staves), (10, 9));
    assert_eq!(own.systems[0].staves[1], (Mm(20.0), Mm(6.0)));
    assert!(beside(&[], &mine).is_none());
}

#[test]
fn a_house_does_not_differ_from_itself() {
    assert_eq!(differences(&house(), &house()), []);
    assert_eq!(differences(&house(), &Reference::default()), []);
}

#[test]
fn differences_are_said_in_words_few_and_seen_first_first() {
    let spread = |usual| Some(Spread { tight: usual, usual, wide: usual });
    let yours = Reference {
        page: Some((Mm(210.0), Mm(297.0))),
        staff_height: Some(Mm(4.2)),
        between_systems: spread(Spaces(5.1)),
        inside_families: spread(Spaces(5.8)),
        systems_a_page: vec![SystemsAPage { staves: 13, pages: 3, systems: Spread { tight: 3, usual: 3, wide: 3 } }],
        bars_a_system: Some(Spread { tight: 6, usual: 8, wide: 9 }),
        recto: house().verso,
        ..house()
    };
    let words: Vec<String> = differences(&house(), &yours).into_iter().map(|difference| difference.words).collect();
    assert_eq!(
        words,
        [
            "Their pages are A3 upright; yours A4 upright.",
            "Their staves are 5.0 mm high; yours 4.2 mm.",
            "With 13 staves they set two systems on a page; you three systems.",
            "Their pages with two systems keep 9 spaces between systems; yours 5 spaces.",
            "Most of their systems hold about 5 bars; yours 8 bars.",
            "Their left margin on right-hand pages is 15 mm; yours 20 mm.",
        ]
    );
}
