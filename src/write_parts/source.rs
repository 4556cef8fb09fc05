//! One file as its parts, and these as their bars.

use std::collections::BTreeMap;

use crate::read::{Element, elements};

/// The text of one file, taken apart.
pub(super) struct Source<'a> {
    /// The root's start tag.
    pub root: &'a str,
    /// What stands before the music.
    pub head: Vec<Element<'a>>,
    /// As the reader counts them: in the order of the list, those that are not listed after them.
    pub parts: Vec<SourcePart<'a>>,
}

#[derive(Default)]
pub(super) struct SourcePart<'a> {
    /// Its entry in the list of parts.
    pub listed: Option<Element<'a>>,
    pub bars: Vec<SourceBar<'a>>,
    has_music: bool,
}

/// The music of one part in one bar.
#[derive(Clone, Copy, Default)]
pub(super) struct SourceBar<'a> {
    /// The start tag that bears the bar's number.
    pub head: &'a str,
    pub inner: &'a str,
}

impl<'a> Source<'a> {
    pub fn of(text: &'a str) -> Source<'a> {
        let root = elements(text).into_iter().next();
        let mut source = Source { root: root.map_or("", |root| root.head), head: Vec::new(), parts: Vec::new() };
        let mut ids = BTreeMap::new();
        let mut bar = 0;
        for element in root.map(|root| root.children()).unwrap_or_default() {
            match (root.map_or("", |root| root.name), element.name) {
                (_, "part-list") => {
                    source.list(&element, &mut ids);
                    source.head.push(element);
                }
                ("score-partwise", "part") => source.part(&element, &mut ids),
                ("score-timewise", "measure") => {
                    source.bar(&element, bar, &mut ids);
                    bar += 1;
                }
                _ => source.head.push(element),
            }
        }
        source
    }

    /// The bars of the longest part.
    pub fn bars(&self) -> usize {
        self.parts.iter().map(|part| part.bars.len()).max().unwrap_or(0)
    }

    fn list(&mut self, list: &Element<'a>, ids: &mut BTreeMap<&'a str, usize>) {
        for listed in list.children().into_iter().filter(|child| child.name == "score-part") {
            ids.entry(listed.attribute("id").unwrap_or_default()).or_insert(self.parts.len());
            self.parts.push(SourcePart { listed: Some(listed), ..SourcePart::default() });
        }
    }

    fn part(&mut self, element: &Element<'a>, ids: &mut BTreeMap<&'a str, usize>) {
        let at = self.place_of(element, ids, true);
        let Some(part) = self.parts.get_mut(at) else { return };
        let bars = element.children().into_iter().filter(|child| child.name == "measure");
        part.bars = bars.map(|bar| SourceBar { head: bar.head, inner: bar.inner }).collect();
    }

    fn bar(&mut self, measure: &Element<'a>, bar: usize, ids: &mut BTreeMap<&'a str, usize>) {
        for content in measure.children().into_iter().filter(|child| child.name == "part") {
            let at = self.place_of(&content, ids, false);
            let Some(part) = self.parts.get_mut(at).filter(|part| part.bars.len() <= bar) else { continue };
            part.bars.resize(bar, SourceBar::default());
            part.bars.push(SourceBar { head: measure.head, inner: content.inner });
        }
    }

    /// The place of the part that an element is the music of; `once` when a second one is a part of its own.
    fn place_of(&mut self, element: &Element<'a>, ids: &mut BTreeMap<&'a str, usize>, once: bool) -> usize {
        let id = element.attribute("id").unwrap_or_default();
        let is_free = |at: &usize| !once || self.parts.get(*at).is_some_and(|part| !part.has_music);
        let at = ids.get(id).copied().filter(is_free).unwrap_or_else(|| {
            self.parts.push(SourcePart::default());
            ids.entry(id).or_insert(self.parts.len() - 1);
            self.parts.len() - 1
        });
        if let Some(part) = self.parts.get_mut(at) {
            part.has_music = true;
        }
        at
    }
}
