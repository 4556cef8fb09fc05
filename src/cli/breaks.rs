//! `--write-breaks`: copies of the score's files in which systems and pages begin elsewhere.

use std::path::{Path, PathBuf};

use rastrum::check::Checked;
use rastrum::limits::Limits;
use rastrum::read::Input;
use rastrum::write_breaks::{Packing, WriteError, write_breaks};

use super::exit::{Failure, Trouble};

/// Where the copies go, one a movement.
#[derive(Debug)]
pub struct Breaks {
    pub paths: Vec<PathBuf>,
    packing: Packing,
}

impl Breaks {
    /// `out` as it was asked for, for a score in so many files: OUT-1.mxl, OUT-2.mxl ... where there are several.
    pub fn of(out: &Path, files: usize) -> Result<Breaks, Trouble> {
        let ending = out.extension().unwrap_or_default().to_string_lossy().into_owned();
        let packing = Packing::of_ending(&ending).ok_or_else(|| {
            let hint = "name a file that ends in .musicxml or, for a compressed score, in .mxl";
            Trouble::new(format!("--write-breaks {}: this is no name of a score", out.display())).hint(hint)
        })?;
        if files == 1 {
            return Ok(Breaks { paths: vec![out.to_owned()], packing });
        }
        let stem = out.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let path = |number| out.with_file_name(format!("{stem}-{number}.{ending}"));
        Ok(Breaks { paths: (1..=files).map(path).collect(), packing })
    }

    /// A copy cannot be told from a score of the user's own, so nothing that stands there is replaced.
    pub fn ready(&self) -> Result<(), Failure> {
        let stands = self.paths.iter().filter(|path| path.exists()).map(|path| {
            let hint = "name another file; a score is never replaced";
            Trouble::new(format!("{}: stands there already", path.display())).hint(hint)
        });
        Failure::unless_empty(stands.collect())
    }

    /// The copies, in which systems and pages begin as proposed.
    pub fn copies(&self, inputs: &[Input<'_>], checked: &Checked) -> Result<Vec<Vec<u8>>, Failure> {
        let Some(proposal) = &checked.proposal else {
            let hint = "leave --write-breaks out, or choose larger --paper, narrower --margins or a smaller --staff";
            let what = "--write-breaks: there are no proposed pages, since there is no music or no room for it";
            return Err(Trouble::new(what).hint(hint).into());
        };
        let copies = write_breaks(inputs, &checked.score, &proposal.layout, self.packing, &Limits::default());
        copies.map_err(|errors| errors.iter().map(trouble).collect::<Vec<_>>().into())
    }
}

pub fn trouble(error: &WriteError) -> Trouble {
    let trouble = Trouble::new(error.to_string());
    match error.hint() {
        Some(hint) => trouble.hint(hint),
        None => trouble,
    }
}
