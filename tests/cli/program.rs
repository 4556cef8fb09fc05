//! Runs the built program in a folder of its own.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

static FOLDERS: AtomicU32 = AtomicU32::new(0);

/// An empty folder, gone when dropped.
pub struct Folder(PathBuf);

/// What a run left behind.
#[derive(Debug)]
pub struct Run {
    pub out: String,
    pub err: String,
    pub code: i32,
}

impl Folder {
    pub fn new() -> Folder {
        let name = format!("rastrum-{}-{}", std::process::id(), FOLDERS.fetch_add(1, Ordering::Relaxed));
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        fs::create_dir_all(&path).unwrap();
        Folder(path)
    }

    /// A folder that holds one file.
    pub fn with(name: &str, contents: impl AsRef<[u8]>) -> Folder {
        let folder = Folder::new();
        folder.write(name, contents);
        folder
    }

    pub fn path(&self) -> &Path {
        &self.0
    }

    pub fn write(&self, name: &str, contents: impl AsRef<[u8]>) {
        fs::write(self.0.join(name), contents).unwrap();
    }

    pub fn read(&self, name: &str) -> Vec<u8> {
        fs::read(self.0.join(name)).unwrap()
    }

    pub fn json(&self, name: &str) -> serde_json::Value {
        serde_json::from_slice(&self.read(name)).unwrap()
    }

    /// Names of all that stands in it, sorted.
    pub fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.0).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
        command.args(arguments).current_dir(&self.0).env_remove("USER").env_remove("USERNAME").stdin(Stdio::null());
        command
    }

    pub fn run(&self, arguments: &[&str]) -> Run {
        Run::of(self.command(arguments).output().unwrap())
    }

    pub fn run_with_input(&self, arguments: &[&str], input: &[u8]) -> Run {
        let mut command = self.command(arguments);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        child.stdin.take().unwrap().write_all(input).unwrap();
        Run::of(child.wait_with_output().unwrap())
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

impl Run {
    fn of(output: Output) -> Run {
        Run {
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
            code: output.status.code().expect("the program was not killed"),
        }
    }

    /// Could not work: says why and what to do, on standard error alone.
    #[track_caller]
    pub fn refuses(&self, what: &str) {
        assert_eq!(self.code, 2, "{self:?}");
        assert_eq!(self.out, "", "{self:?}");
        assert!(self.err.starts_with("error: ") && self.err.contains(what), "no \"{what}\" in {self:?}");
        assert!(self.err.contains("\nhint: "), "no hint in {self:?}");
    }
}
