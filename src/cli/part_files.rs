//! `--write-breaks FOLDER`: each player's part as a file of its own.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use rastrum::check::PartsChecked;
use rastrum::limits::Limits;
use rastrum::read::Input;
use rastrum::write_parts::{WantedPart, write_parts};

use super::breaks;
use super::exit::{Failure, Trouble};
use super::files::plain;

/// Where the parts go.
#[derive(Clone, Debug)]
pub struct PartFiles {
    pub folder: PathBuf,
}

/// One file to be written.
#[derive(Clone, Debug)]
pub struct PartFile {
    pub path: PathBuf,
    pub bytes: Vec<u8>,
}

impl PartFiles {
    pub fn of(folder: &Path) -> PartFiles {
        PartFiles { folder: folder.to_owned() }
    }

    /// Fails before any work is done when the folder cannot be one.
    pub fn ready(&self) -> Result<(), Failure> {
        let trouble = |what: &str, hint: &str| {
            Err(Trouble::new(format!("--write-breaks {}: {what}", self.folder.display())).hint(hint).into())
        };
        if self.folder.exists() && !self.folder.is_dir() {
            return trouble("this is a file", "name a folder; each part becomes a file in it");
        }
        let above = self.folder.parent().filter(|above| !above.as_os_str().is_empty());
        match above {
            Some(above) if !above.is_dir() => trouble("there is no folder to make it in", "look at its spelling"),
            _ => Ok(()),
        }
    }

    /// The parts of each movement; those without staves in a movement have no file there. Nothing that stands in the
    /// folder is replaced.
    pub fn parts(&self, inputs: &[Input<'_>], checked: &PartsChecked) -> Result<Vec<PartFile>, Failure> {
        let score: Vec<Input<'_>> = checked.score_at.iter().filter_map(|at| inputs.get(*at).copied()).collect();
        let wanted: Vec<WantedPart<'_>> = checked.parts.iter().map(WantedPart::of).collect();
        let written = write_parts(&score, &checked.score, &wanted, &Limits::default())
            .map_err(|errors| Failure::from(errors.iter().map(breaks::trouble).collect::<Vec<_>>()))?;
        let mut files = Vec::new();
        let mut taken = BTreeSet::new();
        for (part, written) in checked.parts.iter().zip(written) {
            for (number, bytes) in (1..).zip(written.files) {
                let name = free_name(&part.player.name, (score.len() > 1).then_some(number), &mut taken);
                files.extend(bytes.map(|bytes| PartFile { path: self.folder.join(name), bytes }));
            }
        }
        let stands = files.iter().filter(|file| file.path.exists()).map(|file| {
            let hint = "name another folder; a part that stands there is never replaced";
            Trouble::new(format!("{}: stands there already", file.path.display())).hint(hint)
        });
        Failure::unless_empty(stands.collect())?;
        Ok(files)
    }

    /// Makes the folder where it is not there yet, and takes it away again when nothing could be written into it.
    pub fn with_folder(&self, write: impl FnOnce() -> Result<(), Failure>) -> Result<(), Failure> {
        if self.folder.is_dir() {
            return write();
        }
        let trouble = |error| Trouble::new(format!("{}: cannot be made: {}", self.folder.display(), plain(&error)));
        fs::create_dir(&self.folder).map_err(trouble)?;
        write().inspect_err(|_| {
            // Only an empty folder goes; what else failed is told.
            let _ = fs::remove_dir(&self.folder);
        })
    }
}

/// A name that no other part has, whether large and small letters are told apart or not.
fn free_name(part: &str, movement: Option<u32>, taken: &mut BTreeSet<String>) -> String {
    let mut name = file_name(part, movement);
    let mut number = 2;
    while !taken.insert(name.to_lowercase()) {
        name = file_name(&format!("{part} ({number})"), movement);
        number += 1;
    }
    name
}

/// "Oboe 1.musicxml", "Oboe 1, movement 2.musicxml".
fn file_name(part: &str, movement: Option<u32>) -> String {
    // What one system or the other does not allow in names of files.
    let plain: String =
        part.chars().map(|c| if c.is_control() || r#"/\:*?"<>|"#.contains(c) { '-' } else { c }).collect();
    let plain = plain.trim_matches(['.', ' ']);
    match movement {
        None => format!("{plain}.musicxml"),
        Some(number) => format!("{plain}, movement {number}.musicxml"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_parts_become_names_of_files() {
        assert_eq!(file_name("Oboe 1", None), "Oboe 1.musicxml");
        assert_eq!(file_name("Flute/Piccolo", Some(2)), "Flute-Piccolo, movement 2.musicxml");
        assert_eq!(file_name("Hn. in F.", None), "Hn. in F.musicxml");
    }

    #[test]
    fn two_parts_never_have_one_file() {
        let mut taken = BTreeSet::new();
        let names = ["Flute/Piccolo", "flute-piccolo", "Oboe"].map(|part| free_name(part, None, &mut taken));
        assert_eq!(names, ["Flute-Piccolo.musicxml", "flute-piccolo (2).musicxml", "Oboe.musicxml"]);
    }
}
