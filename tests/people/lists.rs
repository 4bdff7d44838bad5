//! Lists of everyday conversations, each by another hand that knew nothing of the code. What went wrong in every second
//! one, from the first on, was read after the first count; the others were never looked at.

use crate::first::cases::{Case, cases, play};
use crate::harness::Pipe;

/// A list: its text, how many of it go right, and how many of those that were never looked at.
type List = (&'static str, &'static str, usize, usize);

/// Wanted are 94 in 100. Right at the first count were 46 of the seventh, 51 of the eighth, 54 of the ninth, 47 of the
/// tenth, 55 of the eleventh, 51 of the twelfth, 46 of the thirteenth and 51 of the
/// fourteenth, of sixty. The eighth hand's words for what to do next are put in the program's own, no more.
const LISTS: &[List] = &[
    ("fourth", include_str!("lists/fourth.txt"), 66, 31),
    ("fifth", include_str!("lists/fifth.txt"), 57, 27),
    ("sixth", include_str!("lists/sixth.txt"), 57, 28),
    ("seventh", include_str!("lists/seventh.txt"), 57, 27),
    ("eighth", include_str!("lists/eighth.txt"), 57, 27),
    ("ninth", include_str!("lists/ninth.txt"), 58, 28),
    ("tenth", include_str!("lists/tenth.txt"), 52, 24),
    ("eleventh", include_str!("lists/eleventh.txt"), 56, 27),
    ("twelfth", include_str!("lists/twelfth.txt"), 56, 26),
    ("thirteenth", include_str!("lists/thirteenth.txt"), 54, 26),
    ("fourteenth", include_str!("lists/fourteenth.txt"), 56, 27),
];

#[test]
fn conversations_by_many_hands_go_as_a_good_coach_would_have_it() {
    let mut worse = Vec::new();
    for (hand, text, least, least_unseen) in LISTS {
        println!("{hand}");
        let (right, _) = right(text);
        if right[0] + right[1] < *least || right[1] < *least_unseen {
            worse.push(format!("{hand}: {right:?}"));
        }
    }
    assert!(worse.is_empty(), "{worse:?}");
}

/// How many of a list go right: of those looked at, of the others, and how many cases there are. What goes
/// wrong in those looked at is printed.
fn right(text: &str) -> ([usize; 2], usize) {
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
