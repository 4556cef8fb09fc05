//! Standard output and standard error: who watches, and what a closed pipe means.

use std::io::{self, BufWriter, IsTerminal, Write};

use rastrum::report::terminal::Look;

use super::exit::{Failure, Outcome, Trouble};
use super::files::plain;

/// Writes to standard output and ends well.
pub fn say(text: &str) -> Result<Outcome, Failure> {
    say_bytes(text.as_bytes())
}

/// Writes to standard output and ends well.
pub fn say_bytes(bytes: &[u8]) -> Result<Outcome, Failure> {
    print(bytes)?;
    Ok(Outcome::Clean)
}

/// Writes to standard output. Whoever reads may stop reading: that is no trouble.
pub fn print(bytes: &[u8]) -> Result<(), Trouble> {
    print_with(|out| out.write_all(bytes))
}

/// The same, piece by piece.
pub fn print_with(fill: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Trouble> {
    let mut out = BufWriter::new(io::stdout().lock());
    match fill(&mut out).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Trouble::new(format!("standard output: cannot be written: {}", plain(&error))))
        }
        _ => Ok(()),
    }
}

/// Writes to standard error; when that is closed, nobody is left to tell.
pub fn tell(text: &str) {
    let _ = io::stderr().lock().write_all(text.as_bytes());
}

/// Styled for a person at a terminal who did not ask for plain text (no-color.org; TERM=dumb).
pub fn look(stream: &impl IsTerminal) -> Look {
    let asked_plain = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
    if stream.is_terminal() && !asked_plain && !dumb { Look::Styled } else { Look::Plain }
}
