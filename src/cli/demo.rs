//! `rastrum demo`: an example score, invented for the purpose, and its check.

use std::fs;
use std::path::{Path, PathBuf};

use super::args::{CheckArgs, DemoArgs, PagesArgs};
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self, Output, Target, plain};
use super::{check, terminal};

/// The movements, by file name; the pages of the last one have not been set yet.
const MOVEMENTS: [(&str, &[u8]); 3] = [
    ("lantern-ferry-1.mxl", include_bytes!("../demo/lantern-ferry-1.mxl")),
    ("lantern-ferry-2.mxl", include_bytes!("../demo/lantern-ferry-2.mxl")),
    ("lantern-ferry-3.mxl", include_bytes!("../demo/lantern-ferry-3.mxl")),
];

/// Writes the score into the folder and checks it. What it finds is what the example is there to show: it is no
/// reason to end with an exit code of 1.
pub fn run(args: &DemoArgs) -> Result<Outcome, Failure> {
    fs::create_dir_all(&args.folder).map_err(|error| cannot_make(&args.folder, &error))?;
    let paths = MOVEMENTS.map(|(name, _)| args.folder.join(name));
    let may_replace = |bytes: &[u8]| MOVEMENTS.iter().any(|(_, own)| *own == bytes);
    files::ready(&paths.each_ref().map(|path| Target { path, may_replace }))?;
    for (path, (_, bytes)) in paths.iter().zip(MOVEMENTS) {
        files::write(&[Output { path, fill: &|out| out.write_all(bytes) }])?;
    }
    terminal::print(introduction(&paths).as_bytes())?;
    let pages = PagesArgs { what_if: true, ..PagesArgs::default() };
    let [first, second, _] = paths;
    check::run(&CheckArgs { scores: vec![first, second], pages, ..CheckArgs::default() })?;
    Ok(Outcome::Clean)
}

fn introduction(paths: &[PathBuf]) -> String {
    let names: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
    let all = names.join(" ");
    let set = names.get(..2).unwrap_or_default().join(" ");
    let last = names.last().map_or("", String::as_str);
    format!(
        "An invented score; two movements are set on pages and checked as one work:\n  rastrum {set}\n\
         The players' parts of the third, and of all:\n  rastrum parts {last}\n  rastrum parts {all}\n\n"
    )
}

fn cannot_make(folder: &Path, error: &std::io::Error) -> Trouble {
    let hint = "name another folder: rastrum demo FOLDER";
    Trouble::new(format!("{}: cannot be made: {}", folder.display(), plain(error))).hint(hint)
}
