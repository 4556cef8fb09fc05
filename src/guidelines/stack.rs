//! Orders a guideline set and house sheets so that each lies on what it extends.

use super::changes::{Change, Sheet, read_sheet};
use super::error::{Fault, GuidelineError, Place};
use super::limit::{SetIn, Source};
use super::nearest::{did_you_mean, listed};
use super::{DEFAULT_SET, HouseSheet, Request, nearest, shipped};

/// Sheets in the order they are laid on the rule sheets.
pub(super) struct Stacked {
    /// The guideline set at the bottom.
    pub(super) set: String,
    pub(super) layers: Vec<(Layer, Sheet)>,
}

/// Who makes a change.
pub(super) enum Layer {
    Set(String),
    House(String),
    CommandLine,
}

/// Reads a request's sheets and orders them. Troubles go to `errors`; the sheets that could be read are
/// returned all the same, so that their own troubles are found too.
pub(super) fn stack(request: &Request, errors: &mut Vec<GuidelineError>) -> Stacked {
    let mut stack =
        Stack { request, errors, base: None, laid: Vec::new(), standing_on: Vec::new(), layers: Vec::new() };
    stack.build();
    Stacked { set: stack.base.unwrap_or_else(|| DEFAULT_SET.to_owned()), layers: stack.layers }
}

impl Layer {
    pub(super) fn set_in(&self, change: &Change) -> SetIn {
        match (self, &change.key_place) {
            (Layer::Set(set), _) => SetIn::Set(set.clone()),
            (Layer::House(name), Place::Sheet { line, .. }) => SetIn::HouseSheet { name: name.clone(), line: *line },
            _ => SetIn::CommandLine,
        }
    }

    pub(super) fn source(&self, change: &Change) -> Source {
        let text = change.source.as_deref();
        match self {
            Layer::Set(set) => Source::set(set, text),
            Layer::House(_) | Layer::CommandLine => Source::house(self.set_in(change), text),
        }
    }
}

struct Stack<'a> {
    request: &'a Request,
    errors: &'a mut Vec<GuidelineError>,
    base: Option<String>,
    /// House sheets already in place, by name.
    laid: Vec<String>,
    /// The chain being followed, to notice a circle.
    standing_on: Vec<String>,
    layers: Vec<(Layer, Sheet)>,
}

impl Stack<'_> {
    fn build(&mut self) {
        if let Some(set) = &self.request.set {
            self.lay_set(&set.clone(), &Place::SetAskedFor);
        }
        for sheet in &self.request.sheets {
            self.lay_house_sheet(sheet);
        }
        if self.base.is_none() && self.errors.is_empty() {
            self.lay_set(DEFAULT_SET, &Place::SetAskedFor);
        }
    }

    fn lay_set(&mut self, set: &str, asked_at: &Place) {
        if let Some(base) = &self.base {
            if base != set && self.request.set.is_none() {
                let fault = Fault::TwoSets(base.clone(), set.to_owned());
                self.errors.push(GuidelineError { place: asked_at.clone(), fault, hint: None });
            }
            return;
        }
        let Some((name, text)) = shipped::SETS.iter().find(|(name, _)| *name == set) else {
            let hint = nearest(set, shipped::SETS.iter().map(|(name, _)| *name));
            self.errors.push(GuidelineError {
                place: asked_at.clone(),
                fault: Fault::UnknownSet(set.to_owned()),
                hint: Some(hint.map_or_else(list_of_sets, did_you_mean)),
            });
            return;
        };
        let sheet = read_sheet(&format!("{name}.toml"), text, self.errors);
        self.base = Some((*name).to_owned());
        self.layers.insert(0, (Layer::Set((*name).to_owned()), sheet));
    }

    fn lay_house_sheet(&mut self, house: &HouseSheet) {
        if self.laid.contains(&house.name) {
            return;
        }
        let sheet = read_sheet(&house.name, &house.text, self.errors);
        self.standing_on.push(house.name.clone());
        if let Some((base, place)) = &sheet.extends {
            self.lay_base(base, place);
        }
        self.standing_on.pop();
        self.laid.push(house.name.clone());
        self.layers.push((Layer::House(house.name.clone()), sheet));
    }

    fn lay_base(&mut self, base: &str, place: &Place) {
        let known_set = shipped::SETS.iter().any(|(name, _)| *name == base);
        let sheet = self.request.sheets.iter().find(|sheet| sheet.name == base);
        match sheet {
            _ if known_set => self.lay_set(base, place),
            Some(_) if self.standing_on.iter().any(|name| name == base) => {
                let mut chain = self.standing_on.clone();
                chain.push(base.to_owned());
                let fault = Fault::Cycle(chain.join(" extends "));
                self.errors.push(GuidelineError { place: place.clone(), fault, hint: None });
            }
            Some(sheet) => self.lay_house_sheet(sheet),
            None => {
                let names = shipped::SETS.iter().map(|(name, _)| *name);
                let near = nearest(base, names.chain(self.request.sheets.iter().map(|sheet| sheet.name.as_str())));
                self.errors.push(GuidelineError {
                    place: place.clone(),
                    fault: Fault::UnknownBase(base.to_owned()),
                    hint: Some(near.map_or_else(list_of_sets, did_you_mean)),
                });
            }
        }
    }
}

fn list_of_sets() -> String {
    listed("the guideline sets are", shipped::SETS.iter().map(|(name, _)| *name))
}
