//! Reads one file from its bytes to its bars.

use std::collections::BTreeMap;

use roxmltree::Node;

use super::document::{Pieces, Stitched, line_and_column};
use super::draft::{Header, Music, PartDraft};
use super::error::{ReadError, ReadErrorKind, Trouble};
use super::oddities::Oddity;
use super::part::PartReader;
use super::{Input, SourceInfo, container, encoding, finish, header, join, outline, xml};
use crate::limits::Limits;
use crate::remarks::{Remark, RemarkKind};
use crate::score::Part;

/// A file that could be read.
pub(super) struct File {
    pub movement: join::Input,
    pub remarks: Vec<Remark>,
    pub source: SourceInfo,
}

/// Reads one file; all its troubles are told together.
pub(super) fn read_file(number: u16, input: Input<'_>, limits: &Limits) -> Result<File, Vec<ReadError>> {
    let error = |kind, place: Option<(u32, u32)>| {
        let (line, column) = (place.map(|(line, _)| line), place.map(|(_, column)| column));
        ReadError { input: number, file: input.name.to_owned(), line, column, kind }
    };
    let unpacked = container::unpack(input.bytes, limits).map_err(|kind| vec![error(kind, None)])?;
    let (compressed, odd, xml_bytes) = (unpacked.member.is_some(), unpacked.odd, unpacked.xml.len() as u64);
    let text = encoding::decode(unpacked.xml).map_err(|wrong| vec![error(wrong.kind, wrong.place)])?;
    if !text.trim_start().starts_with('<') {
        let is_outline = outline::is_outline(input.name, &text);
        let kind = if is_outline { ReadErrorKind::OutlineAmongScores } else { ReadErrorKind::NotXml };
        return Err(vec![error(kind, None)]);
    }
    let placed = |text: &str, troubles: Vec<Trouble>| -> Vec<ReadError> {
        let place = |trouble: &Trouble| trouble.at.map(|at| line_and_column(text.as_bytes(), at));
        troubles
            .into_iter()
            .map(|trouble| {
                let at = place(&trouble);
                error(trouble.kind, at)
            })
            .collect()
    };
    let pieces = Pieces::of(text, limits).map_err(|(text, trouble)| placed(&text, vec![trouble]))?;
    let (movement, mut remarks) = match Reader::read(number, &pieces, limits) {
        Ok(movement) => movement,
        Err(troubles) => return Err(placed(pieces.text(), troubles)),
    };
    remarks.splice(0..0, odd.map(|odd| Remark::new(RemarkKind::File, number, odd)));
    let header = &movement.header;
    let version = header.version.as_deref().map_or(String::new(), |version| format!(" {version}"));
    let kind = if header.timewise { "timewise" } else { "partwise" };
    let packing = if compressed { ", compressed" } else { "" };
    let source =
        SourceInfo { name: input.name.to_owned(), format: format!("MusicXML{version} {kind}{packing}"), xml_bytes };
    Ok(File { movement, remarks, source })
}

/// The parts of one file while they are read.
struct Reader {
    header: Header,
    music: Music,
    readers: Vec<PartReader>,
    /// The first part of each id.
    ids: BTreeMap<String, usize>,
    troubles: Vec<Trouble>,
}

impl Reader {
    fn read(number: u16, pieces: &Pieces<'_>, limits: &Limits) -> Result<(join::Input, Vec<Remark>), Vec<Trouble>> {
        let framed = pieces.frame(|root| header::header(root, number, limits)).map_err(|trouble| vec![trouble])?;
        let header = framed.map_err(|kind| vec![kind.into()])?;
        let mut reader = Reader::new(header, limits);
        reader.slices(pieces);
        if !reader.troubles.is_empty() {
            return Err(reader.troubles);
        }
        let nothing = if pieces.slices().is_empty() && reader.header.parts.is_empty() {
            Some(ReadErrorKind::NoParts)
        } else if reader.music.bars.is_empty() {
            Some(ReadErrorKind::NoBars)
        } else {
            None
        };
        if let Some(kind) = nothing {
            return Err(vec![kind.into()]);
        }
        Ok(reader.finish(number, pieces.text().as_bytes()))
    }

    fn new(header: Header, limits: &Limits) -> Reader {
        let mut ids = BTreeMap::new();
        for (at, draft) in header.parts.iter().enumerate() {
            ids.entry(draft.part.id.clone()).or_insert(at);
        }
        let readers = header.parts.iter().enumerate().map(|(at, draft)| new_reader(at, &draft.part)).collect();
        let music = Music::new(limits, header.tenth);
        Reader { header, music, readers, ids, troubles: Vec::new() }
    }

    fn slices(&mut self, pieces: &Pieces<'_>) {
        let mut room = Stitched::default();
        for (at, slice) in pieces.slices().iter().enumerate() {
            if self.troubles.len() >= self.music.limits.errors_per_file {
                return;
            }
            let mut progress = None;
            for piece in slice.pieces() {
                let read = pieces.piece(slice, piece, &mut room, |node, shift| {
                    self.music.shift = shift;
                    if self.header.timewise { self.timewise_bar(at, node) } else { self.part(node, &mut progress) }
                });
                if let Err(trouble) = read.and_then(|music| music) {
                    self.troubles.push(trouble);
                    break;
                }
            }
        }
    }

    /// Reads a piece of a part; `progress` holds its place in the list and the number of its bars read so far.
    fn part(&mut self, node: Node<'_, '_>, progress: &mut Option<(usize, usize)>) -> Result<(), Trouble> {
        let (part, mut bars) = match *progress {
            Some(progress) => progress,
            None => (self.part_for(node)?, 0),
        };
        let Some(reader) = self.readers.get_mut(part) else { return Ok(()) };
        for (_, bar) in xml::elements(node).filter(|(name, _)| *name == "measure") {
            reader.read_bar(bars, bar, bar, &mut self.music)?;
            bars += 1;
        }
        *progress = Some((part, bars));
        Ok(())
    }

    fn timewise_bar(&mut self, index: usize, node: Node<'_, '_>) -> Result<(), Trouble> {
        for (_, content) in xml::elements(node).filter(|(name, _)| *name == "part") {
            let id = content.attribute("id").unwrap_or_default();
            let part = match self.ids.get(id) {
                Some(part) => *part,
                None => self.part_for(content)?,
            };
            if let Some(draft) = self.header.parts.get_mut(part) {
                draft.has_music = true;
            }
            if let Some(reader) = self.readers.get_mut(part) {
                // The same part twice in one bar would be a bar of its own.
                if reader.bars() <= index {
                    reader.read_bar(index, node, content, &mut self.music)?;
                }
            }
        }
        Ok(())
    }

    /// The place of the part that `node` is the music of; a part that is not listed comes after those that are.
    fn part_for(&mut self, node: Node<'_, '_>) -> Result<usize, Trouble> {
        let id = node.attribute("id").unwrap_or_default();
        let known = self.ids.get(id).copied();
        let is_free = |at: &usize| self.header.parts.get(*at).is_some_and(|draft| !draft.has_music);
        let at = match known.filter(is_free) {
            Some(at) => at,
            None => {
                let limit = self.music.limits.parts;
                if self.header.parts.len() >= limit {
                    return Err(self.music.trouble(node, ReadErrorKind::TooMany { what: "parts", limit }));
                }
                let oddity = if known.is_some() { Oddity::PartTwice } else { Oddity::PartNotListed };
                self.music.odd(oddity, node, || format!("\"{id}\""));
                let part = Part { id: id.to_owned(), ..Part::default() };
                let at = self.header.parts.len();
                self.readers.push(new_reader(at, &part));
                self.header.parts.push(PartDraft { part, ..PartDraft::default() });
                self.ids.entry(id.to_owned()).or_insert(at);
                at
            }
        };
        if let Some(draft) = self.header.parts.get_mut(at) {
            draft.has_music = true;
        }
        Ok(at)
    }

    fn finish(mut self, number: u16, text: &[u8]) -> (join::Input, Vec<Remark>) {
        let bars = self.music.bars.len();
        for (draft, reader) in self.header.parts.iter_mut().zip(self.readers) {
            let read = reader.bars();
            let name = if draft.part.name.is_empty() { &draft.part.id } else { &draft.part.name };
            if !draft.has_music {
                self.music.oddities.add(Oddity::PartWithoutMusic, None, || name.clone());
            } else if read < bars {
                let oddity = Oddity::UnequalParts;
                self.music.oddities.add(oddity, None, || format!("{name} has {read} of {bars} bars"));
            }
            draft.part.note_elements = reader.note_elements;
            draft.columns = reader.columns;
        }
        let parts = self.header.parts.iter().filter(|draft| draft.has_music).count();
        finish::finish(&mut self.music, parts);
        let oddities = std::mem::take(&mut self.music.oddities);
        let remarks = oddities.into_remarks(number, |at| line_and_column(text, at));
        (join::Input { header: self.header, music: self.music }, remarks)
    }
}

fn new_reader(at: usize, part: &Part) -> PartReader {
    let name = if part.name.is_empty() { &part.id } else { &part.name };
    PartReader::new(u16::try_from(at).unwrap_or(u16::MAX), name)
}
