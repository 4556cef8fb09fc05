//! Reads files as the program does and says on stderr how many CPU seconds it took and how much memory at most.
//!
//! `cargo run --release --example reading -- FILE...`

use std::error::Error;
use std::time::Instant;

use rastrum::limits::Limits;
use rastrum::read::{Input, read};

mod cpu_time;

fn main() -> Result<(), Box<dyn Error>> {
    let names: Vec<String> = std::env::args().skip(1).collect();
    let files = names.iter().map(std::fs::read).collect::<Result<Vec<_>, _>>()?;
    let inputs: Vec<Input<'_>> = names.iter().zip(&files).map(|(name, bytes)| Input { name, bytes }).collect();
    let start = Instant::now();
    let before = cpu_time::cpu_seconds(start);
    let reading = match read(&inputs, &Limits::default()) {
        Ok(reading) => reading,
        Err(errors) => {
            for error in &errors {
                eprintln!("{error}");
            }
            return Err("not read".into());
        }
    };
    let cpu_seconds = cpu_time::cpu_seconds(start) - before;
    for remark in &reading.remarks {
        println!("{remark:?}");
    }
    let xml_bytes: u64 = reading.sources.iter().map(|source| source.xml_bytes).sum();
    let peak = peak_kilobytes().map_or("null".to_owned(), |peak| peak.to_string());
    eprintln!("{{\"cpu_seconds\": {cpu_seconds:.6}, \"xml_bytes\": {xml_bytes}, \"peak_kilobytes\": {peak}}}");
    Ok(())
}

/// The most memory that this process ever held.
fn peak_kilobytes() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse().ok()
}
