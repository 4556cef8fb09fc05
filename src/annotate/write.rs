//! Writes the changed file: as an update after the bytes that were there (ISO 32000-1, 7.5.6), or anew.

use std::collections::BTreeMap;

use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, Writer};

use super::AnnotateError;
use super::changes::Changes;

/// A comment before the last lines of every file that rastrum wrote, then the number of bytes that were there before.
const MARK: &str = "%rastrum";

/// Entries of a trailer that tell of its own table, or of a lock that is gone.
const OF_TABLE: [&[u8]; 12] = [
    b"Type",
    b"W",
    b"Index",
    b"Filter",
    b"DecodeParms",
    b"F",
    b"FFilter",
    b"FDecodeParms",
    b"Length",
    b"Prev",
    b"XRefStm",
    b"Encrypt",
];

/// `before` stands at the beginning as it is; `base` bytes of it precede the header, from which readers count.
pub(super) fn update(
    before: &[u8],
    base: usize,
    changes: &Changes<'_>,
    marked: bool,
) -> Result<Vec<u8>, AnnotateError> {
    let document = changes.document;
    let mut file = File { bytes: before.to_vec(), base, entries: BTreeMap::new() };
    if !before.ends_with(b"\n") {
        file.bytes.push(b'\n');
    }
    for (id, object) in &changes.objects {
        file.object(*id, object)?;
    }
    let mut trailer = trailer(document);
    trailer.set("Prev", i64::try_from(document.xref_start).map_err(|_| AnnotateError::Full)?);
    let mark = marked.then(|| format!("{MARK} {}", before.len()));
    file.finish(document.reference_table.cross_reference_type, trailer, changes.last(), mark.as_deref())
}

/// Every object once; streams keep their bytes.
pub(super) fn anew(changes: &Changes<'_>, marked: bool) -> Result<Vec<u8>, AnnotateError> {
    let document = changes.document;
    let version: String = document.version.chars().filter(|letter| letter.is_ascii_digit() || *letter == '.').collect();
    let mut bytes = format!("%PDF-{version}\n%").into_bytes();
    // Says that the file is not text.
    bytes.extend([0xE2, 0xE3, 0xCF, 0xD3, b'\n']);
    let mut file = File { bytes, base: 0, entries: BTreeMap::from([NONE_FREE]) };
    let mut objects: BTreeMap<ObjectId, &Object> = document.objects.iter().map(|(id, object)| (*id, object)).collect();
    objects.extend(changes.objects.iter().map(|(id, object)| (*id, object)));
    for (id, object) in objects {
        match object {
            _ if id.0 == 0 || tells_of_file(object) => {}
            Object::Stream(stream) => file.object(id, &measured(stream)?)?,
            _ => file.object(id, object)?,
        }
    }
    let mark = marked.then_some(MARK);
    file.finish(XrefType::CrossReferenceTable, trailer(document), changes.last(), mark)
}

/// How many bytes stood before rastrum's update, if it was the last to write this file.
pub(super) fn before(bytes: &[u8]) -> Option<usize> {
    let said = mark(bytes)?.strip_prefix(MARK.as_bytes())?;
    let number: usize = std::str::from_utf8(said).ok()?.trim_start().parse().ok()?;
    (number > 0 && number < bytes.len()).then_some(number)
}

/// Whether rastrum was the last to write this file.
pub(super) fn is_marked(bytes: &[u8]) -> bool {
    mark(bytes).is_some_and(|line| line == MARK.as_bytes()) || before(bytes).is_some()
}

/// The line before the last three.
fn mark(bytes: &[u8]) -> Option<&[u8]> {
    let mut lines = bytes.strip_suffix(b"\n%%EOF\n")?.rsplit(|byte| *byte == b'\n');
    let (_, keyword, mark) = (lines.next()?, lines.next()?, lines.next()?);
    (keyword == b"startxref").then_some(mark)
}

/// Object streams, tables and the like describe the file as it was; their contents are written out.
fn tells_of_file(object: &Object) -> bool {
    object.type_name().is_ok_and(|name| [b"ObjStm".as_slice(), b"XRef", b"Linearized"].contains(&name))
        || object.as_dict().is_ok_and(|dict| dict.has(b"Linearized"))
}

/// Its length may have been wrong, stand elsewhere, or be that of a locked stream.
fn measured(stream: &Stream) -> Result<Object, AnnotateError> {
    let mut stream = stream.clone();
    stream.dict.set("Length", i64::try_from(stream.content.len()).map_err(|_| AnnotateError::Full)?);
    Ok(stream.into())
}

fn trailer(document: &Document) -> Dictionary {
    let mut trailer = Dictionary::new();
    for (key, value) in document.trailer.iter().filter(|(key, _)| !OF_TABLE.contains(&key.as_slice())) {
        trailer.set(key.clone(), value.clone());
    }
    trailer
}

struct File {
    bytes: Vec<u8>,
    base: usize,
    /// By object number.
    entries: BTreeMap<u32, Entry>,
}

/// A line of the table.
#[derive(Clone, Copy)]
struct Entry {
    offset: u32,
    generation: u16,
    /// n: in use; f: free.
    kind: char,
}

/// The list of free objects, without any.
const NONE_FREE: (u32, Entry) = (0, Entry { offset: 0, generation: 65535, kind: 'f' });

/// Entries of neighbouring numbers.
struct Run {
    first: u32,
    entries: Vec<Entry>,
}

impl File {
    /// From the header, as tables tell places.
    fn offset(&self) -> Result<u32, AnnotateError> {
        u32::try_from(self.bytes.len().saturating_sub(self.base)).map_err(|_| AnnotateError::Full)
    }

    fn object(&mut self, id: ObjectId, object: &Object) -> Result<(), AnnotateError> {
        let entry = Entry { offset: self.offset()?, generation: id.1, kind: 'n' };
        self.entries.insert(id.0, entry);
        self.text(&format!("{} {} obj\n", id.0, id.1));
        self.write(object);
        self.text("\nendobj\n");
        Ok(())
    }

    fn finish(
        mut self,
        table: XrefType,
        mut trailer: Dictionary,
        last: u32,
        mark: Option<&str>,
    ) -> Result<Vec<u8>, AnnotateError> {
        let start = self.offset()?;
        match table {
            XrefType::CrossReferenceTable => {
                trailer.set("Size", i64::from(last) + 1);
                self.table();
                self.text("trailer\n");
                self.write(&trailer.into());
                self.text("\n");
            }
            XrefType::CrossReferenceStream => {
                let id = last.checked_add(1).ok_or(AnnotateError::Full)?;
                trailer.set("Size", i64::from(id) + 1);
                self.entries.insert(id, Entry { offset: start, generation: 0, kind: 'n' });
                let stream = self.stream(trailer);
                self.object((id, 0), &stream)?;
            }
        }
        if let Some(mark) = mark {
            self.text(&format!("{mark}\n"));
        }
        self.text(&format!("startxref\n{start}\n%%EOF\n"));
        Ok(self.bytes)
    }

    /// A table of twenty bytes an entry (7.5.4).
    fn table(&mut self) {
        // A table has to have entries.
        if self.entries.is_empty() {
            self.entries.extend([NONE_FREE]);
        }
        self.text("xref\n");
        for run in self.runs() {
            self.text(&format!("{} {}\n", run.first, run.entries.len()));
            for Entry { offset, generation, kind } in run.entries {
                self.text(&format!("{offset:010} {generation:05} {kind} \n"));
            }
        }
    }

    /// The same as a stream (7.5.8), for an update: none of its objects is free.
    fn stream(&self, mut trailer: Dictionary) -> Object {
        let (mut index, mut content) = (Vec::new(), Vec::new());
        for run in self.runs() {
            index.extend([i64::from(run.first), run.entries.len() as i64].map(Object::Integer));
            for entry in run.entries {
                content.push(1);
                content.extend(entry.offset.to_be_bytes());
                content.extend(entry.generation.to_be_bytes());
            }
        }
        trailer.set("Type", "XRef");
        trailer.set("W", [1, 4, 2].map(Object::Integer).to_vec());
        trailer.set("Index", index);
        Stream::new(trailer, content).into()
    }

    fn runs(&self) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for (id, entry) in &self.entries {
            match runs.last_mut() {
                Some(run) if u32::try_from(run.entries.len()).is_ok_and(|many| *id - run.first == many) => {
                    run.entries.push(*entry);
                }
                _ => runs.push(Run { first: *id, entries: vec![*entry] }),
            }
        }
        runs
    }

    fn write(&mut self, object: &Object) {
        // Writing into memory cannot fail.
        let _ = Writer::write_object(&mut self.bytes, object);
    }

    fn text(&mut self, text: &str) {
        self.bytes.extend_from_slice(text.as_bytes());
    }
}
