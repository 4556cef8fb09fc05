//! The command line: the only place that touches files, streams, environment and clock.

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}
