//! The structure tree and the ways back to it.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Object, ObjectId};

use super::{read, written};

#[test]
fn every_element_knows_its_parent() {
    let pdf = written();
    let elements = pdf.elements();
    let mut seen = 0;
    for elem in &elements {
        for kid in &elem.kids {
            if let Object::Reference(child) = kid {
                let parent = pdf.file.get_dictionary(*child).unwrap().get(b"P").unwrap().as_reference().unwrap();
                assert_eq!(parent, elem.id);
                seen += 1;
            }
        }
    }
    assert_eq!(seen, elements.len() - 1);
    assert_eq!(elements[0].role, "Document");
}

#[test]
fn marks_and_elements_point_at_each_other() {
    let pdf = written();
    let parents = pdf.pairs(pdf.structure_root().get(b"ParentTree").unwrap(), b"Nums");
    let mut held: BTreeMap<(ObjectId, i64), ObjectId> = BTreeMap::new();
    for elem in pdf.elements() {
        for kid in &elem.kids {
            let (page, number) = match kid {
                Object::Integer(number) => (elem.entries.get(b"Pg").unwrap(), *number),
                Object::Dictionary(kid) if kid.has(b"MCID") => {
                    (kid.get(b"Pg").unwrap(), kid.get(b"MCID").unwrap().as_i64().unwrap())
                }
                _ => continue,
            };
            assert_eq!(held.insert((page.as_reference().unwrap(), number), elem.id), None);
        }
    }
    let mut in_content = BTreeSet::new();
    for (index, page) in pdf.pages.iter().enumerate() {
        let key = pdf.page(index).get(b"StructParents").unwrap();
        let (_, elements) = parents.iter().find(|(found, _)| *found == key).unwrap();
        let elements = pdf.array(elements);
        for operation in pdf.operations(index).iter().filter(|operation| operation.operator == "BDC") {
            if let Ok(number) = operation.operands[1].as_dict().unwrap().get(b"MCID") {
                let number = number.as_i64().unwrap();
                let elem = elements[usize::try_from(number).unwrap()].as_reference().unwrap();
                assert_eq!(held[&(*page, number)], elem);
                let role = read::name(pdf.file.get_dictionary(elem).unwrap(), b"S");
                assert_eq!(operation.operands[0].as_name().unwrap(), role.as_bytes());
                in_content.insert((*page, number));
            }
        }
    }
    assert_eq!(in_content, held.keys().copied().collect());
}

#[test]
fn elements_without_marks_are_not_written() {
    let pdf = written();
    assert_eq!(pdf.count("Part"), 0);
    for elem in pdf.elements() {
        assert!(!elem.kids.is_empty() || elem.role == "TD", "{}", elem.role);
    }
}

#[test]
fn an_element_may_go_on_over_a_page_break() {
    let pdf = written();
    let elements = pdf.elements();
    let cell = elements.iter().find(|elem| elem.kids.iter().any(|kid| kid.as_dict().is_ok_and(|kid| kid.has(b"MCID"))));
    assert_eq!(cell.unwrap().role, "TD");
}

#[test]
fn figures_have_words_and_a_box() {
    let pdf = written();
    let elements = pdf.elements();
    let figure = elements.iter().find(|elem| elem.role == "Figure").unwrap();
    assert!(read::string(&figure.entries, b"Alt").starts_with("A staff with a treble clef"));
    let layout = pdf.dict(figure.entries.get(b"A").unwrap());
    let numbers: Vec<f32> =
        pdf.array(layout.get(b"BBox").unwrap()).iter().map(|number| number.as_float().unwrap()).collect();
    // 20 mm, 297 - 185 mm, 190 mm, 297 - 85 mm in points.
    assert_eq!(numbers, [56.693, 317.48, 538.583, 600.945]);
}

#[test]
fn header_cells_say_what_they_head() {
    let pdf = written();
    let scopes: Vec<String> = pdf
        .elements()
        .iter()
        .filter(|elem| elem.role == "TH")
        .map(|elem| read::name(pdf.dict(elem.entries.get(b"A").unwrap()), b"Scope"))
        .collect();
    assert_eq!(scopes.iter().filter(|scope| *scope == "Column").count(), 4 * (2 + 4), "the table goes over four pages");
    assert_eq!(scopes.iter().filter(|scope| *scope == "Row").count(), 60);
}

#[test]
fn notes_can_be_found_by_name() {
    let pdf = written();
    let names = pdf.pairs(pdf.structure_root().get(b"IDTree").unwrap(), b"Names");
    let note = pdf.elements().into_iter().find(|elem| elem.role == "Note").unwrap();
    assert_eq!(names, [(note.entries.get(b"ID").unwrap(), &Object::Reference(note.id))]);
}
