//! From drawn sheets to a PDF file.

use lopdf::{Dictionary, Document, Object, Stream, dictionary};

use super::faces::Faces;
use super::sheet::Sheet;

/// The same bytes for the same sheets: nothing in the file tells when it was made.
pub fn assemble(sheets: Vec<Sheet>, faces: &Faces) -> Result<Vec<u8>, String> {
    let mut document = Document::with_version("1.7");
    let tree = document.new_object_id();
    let fonts = faces.embedded(&mut document)?;
    let fonts = document.add_object(fonts);
    let mut kids = Vec::new();
    for sheet in sheets {
        let content = document.add_object(Stream::new(Dictionary::new(), sheet.content.into_bytes()));
        let media = box_of(&sheet.points);
        let mut resources = dictionary! { "Font" => fonts };
        if let Some(form) = sheet.form {
            let head = dictionary! { "Type" => "XObject", "Subtype" => "Form", "BBox" => media.clone() };
            let form = document.add_object(Stream::new(head, form.into_bytes()));
            resources.set("XObject", dictionary! { "Staves" => form });
        }
        let mut page = dictionary! {
            "Type" => "Page", "Parent" => tree, "MediaBox" => media, "Contents" => content, "Resources" => resources,
        };
        if sheet.turned {
            page.set("Rotate", 90);
        }
        kids.push(Object::Reference(document.add_object(page)));
    }
    let count = kids.len() as i64;
    let pages = dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count };
    document.objects.insert(tree, Object::Dictionary(pages));
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => tree });
    let info = document.add_object(dictionary! { "Title" => Object::string_literal("Lantern Ferry") });
    document.trailer.set("Root", catalog);
    document.trailer.set("Info", info);
    document.compress();
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(|error| error.to_string())?;
    Ok(bytes)
}

fn box_of((width, height): &(f64, f64)) -> Object {
    let rounded = |points: f64| Object::Real(((points * 100.0).round() / 100.0) as f32);
    Object::Array(vec![Object::Integer(0), Object::Integer(0), rounded(*width), rounded(*height)])
}
