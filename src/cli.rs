//! From the command line to an exit code.

use std::io::{self, Write};
use std::process::ExitCode;

use clap::{CommandFactory, Parser};

mod accept;
mod accepted_file;
mod annotated;
mod args;
mod breaks;
mod check;
mod check_outputs;
mod clock;
mod compare;
mod demo;
mod exit;
mod files;
mod house;
mod measure;
mod outputs;
mod part_files;
mod parts;
mod parts_outputs;
mod printed;
mod progress;
mod proof;
mod remarks;
mod rules;
mod terminal;
mod timings;

use args::{Cli, Command, SchemaOf};
use exit::{Failure, Outcome};

/// Runs what the command line asks for.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(usage) => {
            // Help and version come this way, too; a closed pipe is no trouble.
            let _ = usage.print();
            return ExitCode::from(if usage.use_stderr() { 2 } else { 0 });
        }
    };
    let result = dispatch(&cli);
    if let Err(failure) = &result {
        // Nobody is left to tell when standard error is closed.
        let _ = write!(io::stderr().lock(), "{failure}");
    }
    exit::code(&result)
}

fn dispatch(cli: &Cli) -> Result<Outcome, Failure> {
    match &cli.command {
        None => check::run(&cli.check),
        Some(Command::Check(args)) => check::run(args),
        Some(Command::Parts(args)) => parts::run(args),
        Some(Command::Proof(args)) => proof::run(args),
        Some(Command::Compare(args)) => compare::run(args),
        Some(Command::Demo(args)) => demo::run(args),
        Some(Command::Accept(args)) => accept::run(args),
        Some(Command::Measure(args)) => measure::run(args),
        Some(Command::Rules(args)) => rules::run(args),
        Some(Command::Schema(args)) => terminal::say(&match args.of {
            SchemaOf::Check => rastrum::report::schema(),
            SchemaOf::Parts => rastrum::report::parts::schema(),
            SchemaOf::Proof => rastrum::report::proof::schema(),
            SchemaOf::Compare => rastrum::report::drafts::schema(),
        }),
        Some(Command::Completions { shell }) => terminal::say_bytes(&printed::completions(*shell, Cli::command())),
        Some(Command::Man) => terminal::say_bytes(&printed::manual(Cli::command())?),
    }
}
