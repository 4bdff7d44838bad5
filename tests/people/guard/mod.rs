//! What is asked about and what is not: slips of the hand and true changes, written before their writer had
//! read the guard.

use crate::first::cases::{cases, play};
use crate::harness::Pipe;

/// So many of the slips are asked about, so many of the true changes are not, in a hundred.
const RIGHT: usize = 95;

#[test]
fn slips_are_asked_about_and_true_changes_are_not() {
    let mut bot = Pipe::start();
    let cases = cases(include_str!("cases.txt"));
    let mut right = 0;
    for (number, case) in cases.iter().enumerate() {
        match play(&mut bot, case, number).as_slice() {
            [] => right += 1,
            faults => println!("{}: {}", case.name, faults.join("; ")),
        }
    }
    println!("{right} of {} right", cases.len());
    assert!(100 * right >= RIGHT * cases.len());
}
