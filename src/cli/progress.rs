//! One line on standard error that says what is going on, while a person watches.

use std::io::{self, IsTerminal};

use rastrum::check::Stage;

use super::terminal::tell;

/// Shown only where standard error is a terminal; wiped out when dropped.
#[derive(Debug)]
pub struct Progress {
    watched: bool,
}

const WIPE: &str = "\r\x1b[K";

impl Progress {
    #[must_use]
    pub fn start() -> Progress {
        Progress { watched: io::stderr().is_terminal() && std::env::var_os("TERM").is_none_or(|term| term != "dumb") }
    }

    pub fn show(&self, stage: Stage) {
        if self.watched {
            tell(&format!("{WIPE}{} ...", words(stage)));
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.watched {
            tell(WIPE);
        }
    }
}

fn words(stage: Stage) -> &'static str {
    match stage {
        Stage::Reading => "reading the score",
        Stage::CastingOff => "finding its pages",
        Stage::Surveying => "measuring",
        Stage::Proposing => "looking for better pages",
        Stage::Comparing => "trying other papers",
        Stage::Proofing => "proofing the parts",
        Stage::Aligning => "comparing the drafts",
        Stage::Judging => "looking it over",
        Stage::Reporting => "writing the report",
    }
}
