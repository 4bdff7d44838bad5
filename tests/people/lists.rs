//! Lists of everyday conversations of which every second one, from the second on, was not looked at while
//! the model was worked on.

use crate::first::cases::{Case, cases, play};
use crate::harness::Pipe;

/// How many of a list go right: of those looked at, of the others, and how many cases there are. What goes
/// wrong in those looked at is printed.
pub fn right(text: &str) -> ([usize; 2], usize) {
    let mut bot = Pipe::start();
    let cases = cases(text);
    let mut right = [0, 0];
    for (number, case) in cases.iter().enumerate() {
        let lines: Vec<String> = case.lines.iter().map(|line| with_help(line)).collect();
        let case = Case {
            name: case.name,
            lines: lines.iter().map(String::as_str).collect(),
        };
        let faults = play(&mut bot, &case, number);
        let looked_at = number % 2 == 0;
        match faults.as_slice() {
            [] => right[number % 2] += 1,
            faults if looked_at => println!("{}: {}", case.name, faults.join("; ")),
            _ => {}
        }
    }
    println!(
        "looked at {}, not looked at {} of {}",
        right[0],
        right[1],
        cases.len()
    );
    (right, cases.len())
}

/// These hands write the help of a machine as so many kilograms; the player holds it below nothing.
fn with_help(line: &str) -> String {
    let ranges = line
        .strip_prefix("open ")
        .and_then(|_| line.split_once(" -> "));
    match ranges.and_then(|(question, range)| Some((question, range.split_once("..")?))) {
        Some((question, (low, high))) if question.contains("assisted") => {
            format!("{question} -> -{high}..-{low}")
        }
        _ => line.to_owned(),
    }
}
