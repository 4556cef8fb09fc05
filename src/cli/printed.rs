//! Completions and manual page, made from the arguments themselves.
//!
//! Both are made in memory first: their makers do not survive a closed pipe.

use std::io::{self, Write};

use clap::Command;
use clap_complete::Shell;
use clap_mangen::Man;

use super::exit::Trouble;
use super::files::plain;

pub fn completions(shell: Shell, mut command: Command) -> Vec<u8> {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut command, "rastrum", &mut bytes);
    bytes
}

/// The manual page: one for the whole program, a section for each command.
pub fn manual(mut command: Command) -> Result<Vec<u8>, Trouble> {
    command.build();
    let mut page = Vec::new();
    whole(&command, &mut page)
        .map_err(|error| Trouble::new(format!("the manual page cannot be made: {}", plain(&error))))?;
    Ok(page)
}

fn whole(command: &Command, page: &mut Vec<u8>) -> io::Result<()> {
    let man = Man::new(command.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    man.render_options_section(page)?;
    for part in command.get_subcommands().filter(|part| part.get_name() != "help") {
        writeln!(page, ".SH \"RASTRUM {}\"", part.get_name().to_uppercase())?;
        let man = Man::new(part.clone());
        let mut section = Vec::new();
        man.render_description_section(&mut section)?;
        man.render_synopsis_section(&mut section)?;
        man.render_options_section(&mut section)?;
        // Its own headings one level lower.
        page.write_all(String::from_utf8_lossy(&section).replace(".SH ", ".SS ").as_bytes())?;
    }
    man.render_extra_section(page)
}
