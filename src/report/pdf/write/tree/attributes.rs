//! What an element says beyond its role: scope of headers, columns covered, words for a picture.

use lopdf::{Dictionary, Object, dictionary};

use super::super::super::tag::{Numbering, Scope, Tag};
use super::super::rectangle;
use super::Objects;
use crate::units::Mm;

pub(super) fn add(entries: &mut Dictionary, tag: &Tag, page_height: Option<Mm>, objects: &Objects) {
    match tag {
        Tag::L(numbering) => {
            let style = match numbering {
                Numbering::None => "None",
                Numbering::Bullet => "Disc",
                Numbering::Decimal => "Decimal",
            };
            entries.set("A", dictionary! { "O" => "List", "ListNumbering" => style });
        }
        Tag::Th { scope, columns } => {
            let scope = match scope {
                Scope::Row => "Row",
                Scope::Column => "Column",
                Scope::Both => "Both",
            };
            let mut table = dictionary! { "O" => "Table", "Scope" => scope };
            span(&mut table, *columns);
            entries.set("A", table);
        }
        Tag::Td { columns, headers } => {
            let mut table = dictionary! { "O" => "Table" };
            span(&mut table, *columns);
            let headers: Vec<Object> = headers.iter().filter_map(|header| objects.name(*header)).collect();
            if !headers.is_empty() {
                table.set("Headers", headers);
            }
            if table.len() > 1 {
                entries.set("A", table);
            }
        }
        Tag::Figure { alt, area } => {
            entries.set("Alt", lopdf::text_string(alt));
            if let Some(height) = page_height {
                entries.set(
                    "A",
                    dictionary! { "O" => "Layout", "Placement" => "Block", "BBox" => rectangle(*area, height) },
                );
            }
        }
        _ => {}
    }
}

fn span(table: &mut Dictionary, columns: u16) {
    if columns > 1 {
        table.set("ColSpan", i64::from(columns));
    }
}
