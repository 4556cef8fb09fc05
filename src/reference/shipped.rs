//! Reference layouts that come with rastrum, measured on open scores and on engraved pages.

use super::{Reference, ReferenceError, parse};

const SHIPPED: &[(&str, &str)] = &[
    ("ballet-score", include_str!("../../reference-layouts/ballet-score.toml")),
    ("beach-op89", include_str!("../../reference-layouts/beach-op89.toml")),
    ("beach-op89-engraved", include_str!("../../reference-layouts/beach-op89-engraved.toml")),
    ("beach-op89-violin-1", include_str!("../../reference-layouts/beach-op89-violin-1.toml")),
    ("boulanger-matin", include_str!("../../reference-layouts/boulanger-matin.toml")),
    ("brahms-op68-1", include_str!("../../reference-layouts/brahms-op68-1.toml")),
    ("bwv232-11", include_str!("../../reference-layouts/bwv232-11.toml")),
    ("haydn-op1-6", include_str!("../../reference-layouts/haydn-op1-6.toml")),
];

/// Their names.
pub fn names() -> impl Iterator<Item = &'static str> {
    SHIPPED.iter().map(|(name, _)| *name)
}

/// The one of this name.
#[must_use]
pub fn named(name: &str) -> Option<Result<Reference, ReferenceError>> {
    let (name, text) = SHIPPED.iter().find(|(known, _)| *known == name)?;
    Some(parse(&format!("{name}.toml"), text))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::Path;

    use super::*;

    #[test]
    fn every_file_of_the_folder_is_built_in_and_reads() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference-layouts");
        let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let files: BTreeSet<String> =
            files.map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned()).collect();
        assert_eq!(names().map(str::to_owned).collect::<BTreeSet<_>>(), files);
        for name in names() {
            let reference = named(name).unwrap().unwrap();
            assert!(!reference.is_empty() && !reference.source.is_empty(), "{name}");
        }
    }
}
