//! The measured processes: the program itself, and the bare parse that it is held against.

use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

use super::figure::Outcome;
use super::work_folder::WorkFolder;

/// What a check writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Writes {
    Json,
    ReportAndJson,
}

impl Writes {
    pub const BOTH: [Writes; 2] = [Writes::Json, Writes::ReportAndJson];

    pub fn words(self) -> &'static str {
        match self {
            Writes::Json => "JSON alone",
            Writes::ReportAndJson => "report and JSON",
        }
    }
}

/// `rastrum check` of the files as movements of one work, not yet started.
pub fn check(scores: &[&Path], writes: Writes, work: &WorkFolder) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
    command.arg("check").args(scores).arg("--timings").arg("--json").arg(json(work));
    if writes == Writes::ReportAndJson {
        command.arg("--report").arg(work.path().join("report.pdf"));
    }
    command.stdout(Stdio::null());
    command
}

/// CPU seconds of a check, from its own timings.
pub fn check_seconds(scores: &[&Path], writes: Writes, work: &WorkFolder) -> Outcome<f64> {
    let told = told(&mut check(scores, writes, work))?;
    seconds(&told, "total")
}

/// CPU seconds of some stages of a check with one option more.
pub fn stage_seconds(score: &Path, option: &str, stages: &[&str], work: &WorkFolder) -> Outcome<f64> {
    let told = told(check(&[score], Writes::Json, work).arg(option))?;
    stages.iter().map(|stage| seconds(&told, stage)).sum()
}

/// CPU seconds of some stages of laying out all parts of the files as movements of one work.
pub fn parts_seconds(scores: &[&Path], stages: &[&str], work: &WorkFolder) -> Outcome<f64> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
    command.arg("parts").args(scores).arg("--timings").arg("--json").arg(work.path().join("parts.json"));
    let told = told(command.stdout(Stdio::null()))?;
    stages.iter().map(|stage| seconds(&told, stage)).sum()
}

/// Writes the parts of a score into a folder that is not there yet.
pub fn write_parts(score: &Path, folder: &Path, work: &WorkFolder) -> Outcome<()> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
    command.arg("parts").arg(score).arg("--timings").arg("--json").arg(work.path().join("parts.json"));
    told(command.arg("--write-breaks").arg(folder).stdout(Stdio::null())).map(|_| ())
}

/// CPU seconds of holding the parts in a folder against their score.
pub fn proof_seconds(score: &Path, parts: &Path, work: &WorkFolder) -> Outcome<f64> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
    command.arg("proof").arg(score).arg(parts).arg("--timings").arg("--json").arg(work.path().join("proof.json"));
    seconds(&told(command.stdout(Stdio::null()))?, "proof")
}

/// `rastrum compare` of two drafts, not yet started.
pub fn drafts(old: &Path, new: &Path, work: &WorkFolder) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rastrum"));
    command.arg("compare").args([old, new]).arg("--timings").arg("--json").arg(work.path().join("drafts.json"));
    command.stdout(Stdio::null());
    command
}

/// CPU seconds of some stages of holding two drafts against each other, both sides together.
pub fn drafts_seconds(old: &Path, new: &Path, stages: &[&str], work: &WorkFolder) -> Outcome<f64> {
    let told = told(&mut drafts(old, new, work))?;
    stages.iter().map(|stage| seconds(&told, stage)).sum()
}

/// CPU seconds of unpacking a file and parsing its XML whole, in a process of its own.
pub fn bare_seconds(score: &Path) -> Outcome<f64> {
    let told = told(Command::new(std::env::current_exe()?).arg(score).arg(super::BARE))?;
    Ok(seconds(&told, "unpack_cpu_seconds")? + seconds(&told, "parse_cpu_seconds")?)
}

/// Bars of the work that was checked last.
pub fn bars(work: &WorkFolder) -> Outcome<f64> {
    let report: Value = serde_json::from_slice(&std::fs::read(json(work))?)?;
    report.pointer("/score/bar_count").and_then(Value::as_f64).ok_or_else(|| "the report counts no bars".into())
}

fn json(work: &WorkFolder) -> std::path::PathBuf {
    work.path().join("report.json")
}

/// The line of JSON that the process writes on standard error.
fn told(command: &mut Command) -> Outcome<Value> {
    let ended = command.output()?;
    let told = String::from_utf8_lossy(&ended.stderr);
    // Findings are exit code 1, and as good a run as any.
    if !matches!(ended.status.code(), Some(0 | 1)) {
        return Err(format!("{command:?} could not work: {told}").into());
    }
    let line = told.lines().rfind(|line| line.starts_with('{')).ok_or("no timings on standard error")?;
    Ok(serde_json::from_str(line)?)
}

fn seconds(told: &Value, name: &str) -> Outcome<f64> {
    told.get(name).and_then(Value::as_f64).ok_or_else(|| format!("no CPU seconds of {name:?}: {told}").into())
}
