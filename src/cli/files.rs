//! Reading inputs and writing outputs: whole files or none.
//!
//! Outputs are first written beside their places and put there last, so that an older report stays whole
//! when anything fails. What rastrum did not write is never replaced.

use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Write};
use std::path::{Path, PathBuf};

use super::exit::{Failure, Trouble};

/// Something to be written to a place.
pub struct Output<'a> {
    pub path: &'a Path,
    pub fill: &'a dyn Fn(&mut dyn Write) -> io::Result<()>,
}

/// A place to be written to.
#[derive(Clone, Copy)]
pub struct Target<'a> {
    pub path: &'a Path,
    /// Tells from the bytes that stand there whether they may be replaced.
    pub may_replace: fn(&[u8]) -> bool,
}

/// Reads a file, or standard input for `-`. At most one byte over `limit` is read: whoever parses it says
/// that it is too large.
pub fn read(path: &Path, limit: u64) -> Result<Vec<u8>, Trouble> {
    let mut bytes = Vec::new();
    let result = if path.as_os_str() == "-" {
        io::stdin().lock().take(limit.saturating_add(1)).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(limit.saturating_add(1)).read_to_end(&mut bytes))
    };
    match result {
        Ok(_) => Ok(bytes),
        Err(error) => {
            let trouble = Trouble::new(format!("{}: cannot be read: {}", path.display(), plain(&error)));
            Err(match error.kind() {
                io::ErrorKind::NotFound => trouble.hint("look at its spelling, and at the folder you are in"),
                io::ErrorKind::IsADirectory => {
                    trouble.hint("name the score in it; several files are the movements of one work")
                }
                _ => trouble,
            })
        }
    }
}

/// The file's name without its folder; "standard input" for `-`.
#[must_use]
pub fn name(path: &Path) -> String {
    if path.as_os_str() == "-" {
        return "standard input".to_owned();
    }
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// `NAME-check.pdf` beside `NAME.mxl`; in the current folder for standard input.
#[must_use]
pub fn beside(score: &Path, what: &str) -> PathBuf {
    if score.as_os_str() == "-" {
        return PathBuf::from(format!("score-{what}.pdf"));
    }
    let mut name = score.file_stem().unwrap_or(score.as_os_str()).to_owned();
    name.push(format!("-{what}.pdf"));
    score.with_file_name(name)
}

/// Pages are no text for a terminal.
pub fn no_report_on_standard_output(report: Option<&Path>) -> Result<(), Failure> {
    if report.is_some_and(|path| path.as_os_str() == "-") {
        let hint = "name a file that ends in .pdf; --json - writes the JSON to standard output";
        return Err(Trouble::new("--report -: the report is not written to standard output").hint(hint).into());
    }
    Ok(())
}

/// Fails, before any work is done, when an output could not be put in its place: a folder, a file that
/// rastrum did not write, twice the same place.
pub fn ready(targets: &[Target<'_>]) -> Result<(), Failure> {
    let mut troubles: Vec<Trouble> = targets.iter().filter_map(|target| replaceable(target).err()).collect();
    for (at, target) in targets.iter().enumerate() {
        if targets.iter().take(at).any(|other| same_place(target.path, other.path)) {
            let hint = "give each output a name of its own";
            troubles.push(Trouble::new(format!("{}: named for two outputs", target.path.display())).hint(hint));
        }
    }
    Failure::unless_empty(troubles)
}

/// Puts all outputs in their places, or none: what can fail is done before the first is put there.
pub fn write(outputs: &[Output<'_>]) -> Result<(), Failure> {
    let mut staged = Vec::new();
    for output in outputs {
        match Staged::write(output) {
            Ok(ready) => staged.push(ready),
            Err(error) => {
                staged.into_iter().for_each(Staged::discard);
                return Err(cannot_write(output.path, &error).into());
            }
        }
    }
    let mut troubles = Vec::new();
    for (staged, output) in staged.into_iter().zip(outputs) {
        if let Err(error) = staged.put() {
            troubles.push(cannot_write(output.path, &error));
        }
    }
    Failure::unless_empty(troubles)
}

/// An output that stands complete beside its place.
enum Staged {
    Beside {
        temporary: PathBuf,
        place: PathBuf,
    },
    /// A pipe or a device: it has been written to, there is nothing to put.
    Streamed,
}

impl Staged {
    fn write(output: &Output<'_>) -> io::Result<Staged> {
        // A link stays a link; what it points to is replaced.
        let place = fs::canonicalize(output.path).unwrap_or_else(|_| output.path.to_owned());
        if fs::metadata(&place).is_ok_and(|there| !there.is_file()) {
            fill(File::options().write(true).open(&place)?, output)?;
            return Ok(Staged::Streamed);
        }
        let (temporary, file) = temporary_beside(&place)?;
        let staged = Staged::Beside { temporary, place };
        match fill(file, output).and_then(|file| file.sync_all()) {
            Ok(()) => Ok(staged),
            Err(error) => {
                staged.discard();
                Err(error)
            }
        }
    }

    fn put(self) -> io::Result<()> {
        let Staged::Beside { temporary, place } = self else { return Ok(()) };
        fs::rename(&temporary, &place).inspect_err(|_| remove(&temporary))
    }

    fn discard(self) {
        if let Staged::Beside { temporary, .. } = self {
            remove(&temporary);
        }
    }
}

fn fill(file: File, output: &Output<'_>) -> io::Result<File> {
    let mut file = BufWriter::new(file);
    (output.fill)(&mut file)?;
    file.into_inner().map_err(|failed| failed.into_error())
}

/// The temporary file is ours; when even removing it fails, the first error says more.
fn remove(temporary: &Path) {
    let _ = fs::remove_file(temporary);
}

/// A new file in the folder of `place`, so that renaming it never crosses a file system.
fn temporary_beside(place: &Path) -> io::Result<(PathBuf, File)> {
    let name = place.file_name().ok_or(io::ErrorKind::InvalidInput)?.to_string_lossy();
    let mut taken = None;
    for attempt in 0..100_u32 {
        let temporary = place.with_file_name(format!(".{name}.{}-{attempt}.part", std::process::id()));
        match File::options().write(true).create_new(true).open(&temporary) {
            Ok(file) => return Ok((temporary, file)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => taken = Some(error),
            Err(error) => return Err(error),
        }
    }
    Err(taken.unwrap_or_else(|| io::ErrorKind::AlreadyExists.into()))
}

fn replaceable(target: &Target<'_>) -> Result<(), Trouble> {
    let path = target.path;
    let Ok(there) = fs::metadata(path) else { return Ok(()) };
    if there.is_dir() {
        let hint = "name a file, not a folder";
        return Err(Trouble::new(format!("{}: is a folder", path.display())).hint(hint));
    }
    if !there.is_file() || there.len() == 0 {
        return Ok(());
    }
    let bytes = fs::read(path).map_err(|error| cannot_write(path, &error))?;
    if (target.may_replace)(&bytes) {
        return Ok(());
    }
    let hint = "move it away or name another file; rastrum replaces only what it wrote itself";
    Err(Trouble::new(format!("{}: stands there and was not written by rastrum", path.display())).hint(hint))
}

fn same_place(one: &Path, other: &Path) -> bool {
    one == other || real(one).is_some_and(|one| real(other) == Some(one))
}

/// Where a file stands or would stand; `None` when its folder does not exist.
fn real(path: &Path) -> Option<PathBuf> {
    fs::canonicalize(path).ok().or_else(|| {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        Some(fs::canonicalize(folder).ok()?.join(path.file_name()?))
    })
}

fn cannot_write(path: &Path, error: &io::Error) -> Trouble {
    let trouble = Trouble::new(format!("{}: cannot be written: {}", path.display(), plain(error)));
    match error.kind() {
        io::ErrorKind::NotFound => trouble.hint("the folder does not exist"),
        io::ErrorKind::PermissionDenied => trouble.hint("choose a place that you may write to with --report"),
        io::ErrorKind::StorageFull => trouble.hint("free some room and try again; nothing was changed"),
        _ => trouble,
    }
}

/// The system's words without its number: "No such file or directory".
pub fn plain(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_owned()
}
