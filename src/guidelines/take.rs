//! Hands a rule its limits, each in the unit the rule expects, and sees that none is left over.

use std::collections::BTreeSet;

use super::error::Mismatch;
use super::limit::{Limit, Weight};
use super::sheet::RuleSheet;
use super::value::FromValue;

/// The limits of one rule, to be taken one by one.
pub struct Limits<'a> {
    sheet: &'a RuleSheet,
    taken: BTreeSet<String>,
}

impl<'a> Limits<'a> {
    pub(super) fn of(sheet: &'a RuleSheet) -> Limits<'a> {
        Limits { sheet, taken: BTreeSet::new() }
    }

    /// The limit called `name`, in unit `T`.
    ///
    /// # Errors
    /// The sheet has no such limit, or it has another unit.
    pub fn take<T: FromValue>(&mut self, name: &str) -> Result<Limit<T>, Mismatch> {
        let rule = || self.sheet.name.clone();
        let value = self.sheet.value(name).ok_or_else(|| Mismatch::NoLimit { rule: rule(), limit: name.to_owned() })?;
        let limit = value.limit().ok_or_else(|| Mismatch::OtherUnit {
            rule: rule(),
            limit: name.to_owned(),
            found: value.value.kind().words(),
            wanted: T::KIND.words(),
        })?;
        self.taken.insert(name.to_owned());
        Ok(limit)
    }

    /// What a finding of this rule weighs where no limit is at stake. A rule that is off is never asked;
    /// it would be worth a look.
    #[must_use]
    pub fn weight(&self) -> Weight {
        self.sheet.severity.unwrap_or(Weight::Look)
    }

    /// # Errors
    /// Some limits were not taken: the sheet promises what the rule does not do.
    pub(super) fn finish(self) -> Result<(), Mismatch> {
        let names = self.sheet.values.iter().map(|value| &value.name);
        let limits: Vec<String> = names.filter(|name| !self.taken.contains(*name)).cloned().collect();
        if limits.is_empty() { Ok(()) } else { Err(Mismatch::LeftOver { rule: self.sheet.name.clone(), limits }) }
    }
}
