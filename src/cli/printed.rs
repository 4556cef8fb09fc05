//! Completions and manual page, made from the arguments themselves.
//!
//! Both are made in memory first: their makers do not survive a closed pipe.

use clap::Command;
use clap_complete::Shell;

use super::exit::Trouble;
use super::files::plain;

pub fn completions(shell: Shell, mut command: Command) -> Vec<u8> {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut command, "rastrum", &mut bytes);
    bytes
}

/// The manual page, with a section for each command.
pub fn manual(mut command: Command) -> Result<Vec<u8>, Trouble> {
    command.build();
    let mut bytes = Vec::new();
    clap_mangen::Man::new(command)
        .render(&mut bytes)
        .map_err(|error| Trouble::new(format!("the manual page cannot be made: {}", plain(&error))))?;
    Ok(bytes)
}
