//! How long the program takes from its start to its first answer, and the memory it then holds.

use std::io::{BufRead as _, BufReader, Write as _};
use std::process::{Command, Stdio};
use std::time::Instant;

const STARTS: usize = 9;
const LINE: &str = r#"{"type":"clock","at":"2026-01-12T06:00:00Z"}"#;

/// Starts the program on a database with evenings in it, again and again; prints the median time in
/// milliseconds and the most memory in megabytes.
pub fn measure(url: &str) {
    let (mut times, mut memory) = (Vec::new(), 0.0_f64);
    for _ in 0..STARTS {
        let begun = Instant::now();
        let mut child = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
            .args(["pipe", "--database", url])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        writeln!(input, "{LINE}").unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let done = output.lines().any(|line| line.unwrap().contains("done"));
        assert!(done, "it did not answer");
        times.push(begun.elapsed().as_secs_f64() * 1e3);
        memory = memory.max(resident(child.id()));
        drop(input);
        child.wait().unwrap();
    }
    times.sort_unstable_by(f64::total_cmp);
    let median = times[STARTS / 2];
    println!("start on that database to the first answer: {median:.0} ms, then {memory:.1} MB");
}

/// Resident memory of a process in megabytes; 0 where the system does not tell.
fn resident(process: u32) -> f64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmRSS"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}
