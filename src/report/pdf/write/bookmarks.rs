//! The bookmarks, nested and in the order given.

use lopdf::{Object, ObjectId, dictionary};

use super::super::error::PdfError;
use super::super::outline::{Bookmark, Shown};
use super::File;

/// Gives back the outline's object; `None` when there are no bookmarks.
pub(super) fn add(file: &mut File<'_>) -> Result<Option<ObjectId>, PdfError> {
    let bookmarks = &file.doc.bookmarks;
    if bookmarks.is_empty() {
        return Ok(None);
    }
    let root = file.pdf.new_object_id();
    let level = add_level(file, root, bookmarks)?;
    let mut entries = dictionary! { "Type" => "Outlines", "Count" => level.shown };
    set_ends(&mut entries, &level);
    file.pdf.objects.insert(root, entries.into());
    Ok(Some(root))
}

/// The bookmarks next to each other below one parent.
struct Level {
    ids: Vec<ObjectId>,
    /// How many are seen when the parent is unfolded, with those below them.
    shown: i64,
}

fn add_level(file: &mut File<'_>, parent: ObjectId, bookmarks: &[Bookmark]) -> Result<Level, PdfError> {
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| file.pdf.new_object_id()).collect();
    let mut shown = 0;
    for (index, (bookmark, id)) in bookmarks.iter().zip(&ids).enumerate() {
        let below = add_level(file, *id, &bookmark.children)?;
        let mut entries = dictionary! {
            "Title" => lopdf::text_string(&bookmark.title),
            "Parent" => parent,
            "Dest" => file.destination(&bookmark.target, &bookmark.title)?,
        };
        let neighbours = [("Prev", index.checked_sub(1)), ("Next", index.checked_add(1))];
        for (key, neighbour) in neighbours {
            if let Some(neighbour) = neighbour.and_then(|index| ids.get(index)) {
                entries.set(key, *neighbour);
            }
        }
        shown += 1;
        if !below.ids.is_empty() {
            set_ends(&mut entries, &below);
            match bookmark.shown {
                Shown::Open => {
                    entries.set("Count", below.shown);
                    shown += below.shown;
                }
                Shown::Folded => entries.set("Count", -below.shown),
            }
        }
        file.pdf.objects.insert(*id, entries.into());
    }
    Ok(Level { ids, shown })
}

fn set_ends(entries: &mut lopdf::Dictionary, level: &Level) {
    if let (Some(first), Some(last)) = (level.ids.first(), level.ids.last()) {
        entries.set("First", Object::Reference(*first));
        entries.set("Last", Object::Reference(*last));
    }
}
