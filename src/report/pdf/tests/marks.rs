//! What stands in the pages' content.

use lopdf::Object;

use super::read::is_tag;
use super::{read, written};

/// Operators that leave a mark (ISO 32000-1, table 51).
const PAINTING: [&str; 18] =
    ["S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "Tj", "TJ", "'", "\"", "EI", "BI", "ID"];

#[test]
fn every_mark_is_tagged_or_an_artifact() {
    let pdf = written();
    let mut marks = 0;
    for page in 0..pdf.pages.len() {
        let mut open: Vec<bool> = Vec::new();
        for operation in pdf.operations(page) {
            match operation.operator.as_str() {
                "BDC" => {
                    let properties = operation.operands[1].as_dict().unwrap();
                    open.push(is_tag(&operation, b"Artifact") || properties.has(b"MCID"));
                }
                "EMC" => assert!(open.pop().is_some()),
                painting if PAINTING.contains(&painting) => {
                    assert!(open.contains(&true), "{operation:?} on page {page}");
                    marks += 1;
                }
                _ => {}
            }
        }
        assert!(open.is_empty());
    }
    assert!(marks > 300, "{marks}");
}

#[test]
fn tagged_sequences_and_artifacts_are_never_inside_each_other() {
    let pdf = written();
    let mut depth = 0;
    for operation in pdf.all_operations() {
        match operation.operator.as_str() {
            "BDC" if !is_tag(&operation, b"Span") => {
                assert_eq!(depth, 0, "{operation:?}");
                depth += 1;
            }
            "BDC" => depth += 1,
            "EMC" => depth -= 1,
            _ => {}
        }
    }
}

#[test]
fn pages_are_black_and_grey() {
    let coloured = ["rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN"];
    let operations = written().all_operations();
    assert!(operations.iter().any(|operation| operation.operator == "g"));
    assert!(operations.iter().all(|operation| !coloured.contains(&operation.operator.as_str())));
}

#[test]
fn all_fonts_are_embedded_subsets_that_give_their_characters_back() {
    let pdf = written();
    let fonts = pdf.dict(pdf.dict(pdf.page(0).get(b"Resources").unwrap()).get(b"Font").unwrap());
    let mut names = Vec::new();
    for (_, font) in fonts {
        let font = pdf.dict(font);
        let name = read::name(font, b"BaseFont");
        let (letters, face) = name.split_once('+').unwrap();
        assert!(letters.len() == 6 && letters.bytes().all(|letter| letter.is_ascii_uppercase()), "{name}");
        assert!(pdf.file.dereference(font.get(b"ToUnicode").unwrap()).unwrap().1.as_stream().is_ok(), "{name}");
        let descendant = pdf.dict(&pdf.array(font.get(b"DescendantFonts").unwrap())[0]);
        let descriptor = pdf.dict(descendant.get(b"FontDescriptor").unwrap());
        let program = pdf.file.dereference(descriptor.get(b"FontFile2").unwrap()).unwrap().1;
        let length = program.as_stream().unwrap().get_plain_content().unwrap().len();
        assert!((500..20_000).contains(&length), "{name}: {length} bytes");
        assert_eq!(descriptor.get(b"CapHeight").unwrap().as_i64().unwrap(), 714, "{name}");
        names.push(face.to_owned());
    }
    names.sort();
    let all = ["NotoMusic-Regular", "NotoSans-Bold", "NotoSans-Italic", "NotoSans-Regular", "NotoSansSymbols-Regular"];
    assert_eq!(names, all);
}

#[test]
fn widths_in_the_file_are_those_text_is_measured_by() {
    let pdf = written();
    let fonts = pdf.dict(pdf.dict(pdf.page(0).get(b"Resources").unwrap()).get(b"Font").unwrap());
    let font = pdf.dict(fonts.get(b"Italic").unwrap());
    let descendant = pdf.dict(&pdf.array(font.get(b"DescendantFonts").unwrap())[0]);
    let mut widths = Vec::new();
    for entry in pdf.array(descendant.get(b"W").unwrap()) {
        if let Object::Array(run) = entry {
            widths.extend(run.iter().map(|width| width.as_i64().unwrap()));
        }
    }
    let used = "stands in the middle, Sample italic";
    let mut expected: Vec<i64> = used
        .chars()
        .collect::<std::collections::BTreeSet<char>>()
        .into_iter()
        .map(|char| super::super::fonts::char_width(super::super::Face::Italic, char).into())
        .collect();
    widths.sort_unstable();
    expected.sort_unstable();
    assert_eq!(widths, expected);
}
