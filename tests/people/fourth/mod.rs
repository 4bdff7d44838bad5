//! Everyday conversations by a hand that knew nothing of the code.
//!
//! Every second one, from the second on, was never looked at while the model was worked on.

use crate::first::cases::{cases, play};
use crate::harness::Pipe;

/// So many of the seventy go right; wanted are 66.
const RIGHT: usize = 57;

#[test]
fn conversations_by_another_hand_go_as_a_good_coach_would_have_it() {
    let mut bot = Pipe::start();
    let cases = cases(include_str!("cases.txt"));
    let mut right = [0, 0];
    for (number, case) in cases.iter().enumerate() {
        let faults = play(&mut bot, case, number);
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
    assert!(right[0] + right[1] >= RIGHT, "{right:?}");
}
