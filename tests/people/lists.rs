//! Lists of everyday conversations, each by another hand that knew nothing of the code. What went wrong in every second
//! one, from the first on, was read after the first count; of the lists up to the tenth the others were read later, of those
//! since never, and all of the eighteenth. The seventeenth alone was written while working on the code.

use crate::first::cases::{Case, cases, play};
use crate::harness::Pipe;

/// A list: its text, how many of it go right, and how many of those that were never looked at; `None` where all were.
type List = (&'static str, &'static str, usize, Option<usize>);

/// Wanted are 94 in 100. Right at the first count were 46 of the seventh, 51 of the eighth, 54 of the ninth, 47 of the
/// tenth, 55 of the eleventh, 51 of the twelfth, 46 of the thirteenth, 51 of the
/// fourteenth, 52 of the fifteenth, 55 of the sixteenth, 51 of the eighteenth and 52 of the nineteenth, of sixty. The eighth hand's words for what to do next are put in the program's own, no more.
const LISTS: &[List] = &[
    ("fourth", include_str!("lists/fourth.txt"), 66, None),
    ("fifth", include_str!("lists/fifth.txt"), 58, None),
    ("sixth", include_str!("lists/sixth.txt"), 58, None),
    ("seventh", include_str!("lists/seventh.txt"), 58, None),
    ("eighth", include_str!("lists/eighth.txt"), 59, None),
    ("ninth", include_str!("lists/ninth.txt"), 60, None),
    ("tenth", include_str!("lists/tenth.txt"), 59, None),
    ("eleventh", include_str!("lists/eleventh.txt"), 57, Some(28)),
    ("twelfth", include_str!("lists/twelfth.txt"), 57, Some(27)),
    (
        "thirteenth",
        include_str!("lists/thirteenth.txt"),
        58,
        Some(28),
    ),
    (
        "fourteenth",
        include_str!("lists/fourteenth.txt"),
        57,
        Some(28),
    ),
    (
        "fifteenth",
        include_str!("lists/fifteenth.txt"),
        58,
        Some(28),
    ),
    (
        "sixteenth",
        include_str!("lists/sixteenth.txt"),
        58,
        Some(28),
    ),
    (
        "seventeenth",
        include_str!("lists/seventeenth.txt"),
        20,
        None,
    ),
    ("eighteenth", include_str!("lists/eighteenth.txt"), 58, None),
    ("nineteenth", include_str!("lists/nineteenth.txt"), 56, None),
];

#[test]
fn conversations_by_many_hands_go_as_a_good_coach_would_have_it() {
    let mut worse = Vec::new();
    for (hand, text, least, least_unseen) in LISTS {
        println!("{hand}");
        let right = right(text, least_unseen.is_none(), true);
        if right[0] + right[1] < *least || least_unseen.is_some_and(|least| right[1] < least) {
            worse.push(format!("{hand}: {right:?}"));
        }
    }
    assert!(worse.is_empty(), "{worse:?}");
}

/// How many of a list go right: of those looked at, and of the others if they are played `too`. What goes wrong in those
/// looked at is printed.
fn right(text: &str, whole: bool, too: bool) -> [usize; 2] {
    let mut bot = Pipe::start();
    let cases = cases(text);
    let mut right = [0, 0];
    for (number, case) in cases.iter().enumerate() {
        let unseen = usize::from(!whole && number % 2 == 1);
        if unseen == 1 && !too {
            continue;
        }
        let help = case.lines.iter().any(|line| line.contains("assisted"));
        let lines = case.lines.iter();
        let lines: Vec<String> = lines.map(|line| with_help(line, help)).collect();
        let case = Case {
            name: case.name,
            lines: lines.iter().map(String::as_str).collect(),
        };
        let faults = play(&mut bot, &case, number);
        match faults.as_slice() {
            [] => right[unseen] += 1,
            faults if unseen == 0 => println!("{}: {}", case.name, faults.join("; ")),
            _ => {}
        }
    }
    println!(
        "looked at {}, not looked at {} of {}",
        right[0],
        right[1],
        cases.len()
    );
    right
}

/// These hands write the help of a machine as so many kilograms; the player holds it below nothing. `help` is whether the
/// case is of such a machine.
fn with_help(line: &str, help: bool) -> String {
    let asked = line
        .strip_prefix("open ")
        .and_then(|_| line.split_once(" -> "));
    let asked = asked.filter(|(question, _)| question.contains("assisted"));
    let next = line
        .strip_prefix("next: ")
        .and_then(|_| line.rsplit_once(' '));
    let (before, range, mark) = match (asked, next.filter(|_| help)) {
        (Some((before, range)), _) => (before, range, " -> "),
        (None, Some((before, range))) => (before, range, " "),
        (None, None) => return line.to_owned(),
    };
    match range.split_once("..") {
        Some((low, high)) => format!("{before}{mark}-{high}..-{low}"),
        None => line.to_owned(),
    }
}

/// What was looked at of the lists that `LISTS` names, and all of files that it names by their paths: `LISTS="tenth /tmp/new.txt"`.
#[test]
#[ignore = "for work on a list"]
#[expect(
    clippy::disallowed_methods,
    reason = "what is worked on is named outside"
)]
fn in_part() {
    let wanted = std::env::var("LISTS").unwrap_or_default();
    for name in wanted.split(' ') {
        println!("{name}");
        let list = LISTS.iter().find(|list| list.0 == name);
        let _ = match list {
            Some((_, text, _, unseen)) => right(text, unseen.is_none(), false),
            None => right(&std::fs::read_to_string(name).unwrap(), true, true),
        };
    }
}
