//! What is measured on engraved pages, as lines of text: page, kind of box, its four edges in millimetres, words.
//!
//!     cargo run --release --example measured_boxes -- PAGES.pdf

use rastrum::engraved::{EngravedPage, measure};
use rastrum::geometry::Rect;
use rastrum::limits::Limits;

fn main() {
    let Some(path) = std::env::args().nth(1) else {
        eprintln!("usage: measured_boxes PAGES.pdf");
        std::process::exit(2);
    };
    let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let pages = measure(&bytes, &Limits::default()).unwrap_or_else(|error| panic!("{path}: {error}"));
    for (page, number) in pages.iter().zip(1..) {
        tell(page, number);
    }
}

fn tell(page: &EngravedPage, number: usize) {
    let line = |kind: &str, rect: &Rect, words: &str| {
        let Rect { left, top, right, bottom } = rect;
        println!("{number}\t{kind}\t{:.2}\t{:.2}\t{:.2}\t{:.2}\t{words}", left.0, top.0, right.0, bottom.0);
    };
    let (width, height) = page.size;
    let fonts = page.missing_fonts.join(", ");
    line("page", &Rect { right: width, bottom: height, ..Rect::default() }, &format!("{:?} {fonts}", page.staff_line));
    if let Some(ink) = page.ink {
        line("ink", &ink, "");
    }
    for (system, nth) in page.systems.iter().zip(1..) {
        let label = system.number.and_then(|at| page.texts.get(at)).map_or("-", |text| text.text.as_str());
        line("system", &system.rect(), &format!("{nth}: number {label}, divider {:?}", system.divider_above));
        for staff in &system.staves {
            line("staff", &staff.rect, &format!("{} {:?} {}", staff.lines, staff.role, staff.joined_below));
        }
        for bar in &system.bars {
            let rect = Rect { left: bar.left, right: bar.right, ..system.rect() };
            line("bar", &rect, &format!("{} heads, {} bars", bar.heads, bar.holds));
        }
    }
    for text in &page.texts {
        line("text", &text.rect, &format!("{:?} {:.1} {}", text.role, text.size.0, text.text));
    }
}
