use std::sync::LazyLock;

use super::*;
use crate::config;

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(config::built_in()));

/// A correction in one short line.
fn short(text: &str) -> String {
    let Some(Amend { pick, change }) = amend(text, &READER) else {
        return "-".to_owned();
    };
    let name_of = |id| READER.catalogue().exercise(id).name.clone();
    let mut out = String::new();
    if let Some(name) = &pick.name {
        out += &format!("{} | ", name_of(name.exercise));
    }
    if let Some(day) = pick.day {
        out += &format!("{day:?} | ");
    }
    if let Some(place) = pick.place {
        out += &format!("{place:?} | ");
    }
    if pick.several {
        out += "all | ";
    }
    out += &match change {
        Amended::Left(left) => format!("Left {left:?}"),
        Amended::Number {
            part,
            unit,
            now,
            was,
        } => {
            let part = part.map_or(String::new(), |part| format!("{part:?} "));
            let unit = unit.map_or(String::new(), |unit| format!(" {unit}"));
            let was = was.map_or(String::new(), |was| format!(" not {was}"));
            format!("{part}{now}{unit}{was}")
        }
        Amended::Exercise(id) => format!("= {}", name_of(id)),
        Amended::WarmUp(is) => format!("warm-up {is}"),
        Amended::Delete => "delete".to_owned(),
        Amended::Day(day) => format!("on {day:?}"),
        Amended::Unit(unit) => format!("in {unit}"),
        Amended::Note(note) => format!("note {note}"),
        Amended::Set(load, reps, _) => format!("{load:?} x {reps}"),
    };
    out
}

#[test]
fn corrections_say_which_set_and_what_becomes_of_it() {
    let cases = [
        (
            "yesterday's squats were 95",
            "back squat | Ago(1) | all | 95",
        ),
        ("make the first one 8", "Number(1) | 8"),
        ("that was a warm-up", "warm-up true"),
        ("that was incline bench", "= incline bench press"),
        ("delete the curls", "barbell curl | all | delete"),
        ("tuesday's second set was 7", "Weekday(Tue) | Number(2) | 7"),
        ("the second set was 82.5 not 80", "Number(2) | 82.5 not 80"),
        ("sorry, that wasn't a warm-up", "warm-up false"),
        ("that was a work set", "warm-up false"),
        (
            "the first two were warm-ups",
            "First(2) | all | warm-up true",
        ),
        ("those were incline bench", "all | = incline bench press"),
        (
            "change yesterday's bench to incline bench",
            "bench press | Ago(1) | = incline bench press",
        ),
        (
            "monday's bench should be 8 reps",
            "bench press | Weekday(Mon) | Reps 8",
        ),
        ("set 3 was 60kg", "Number(3) | Load 60 kg"),
        (
            "delete yesterday's second set of squats",
            "back squat | Ago(1) | Number(2) | delete",
        ),
        ("remove set 2", "Number(2) | delete"),
        ("the third set was 2 left", "Number(3) | Rir 2"),
        ("I meant incline bench", "= incline bench press"),
        ("make the deadlift 120 kg", "deadlift | Load 120 kg"),
        ("note: left knee in", "note left knee in"),
        (
            "the last two were incline bench",
            "LastOf(2) | = incline bench press",
        ),
    ];
    let wrong = cases.iter().filter(|(text, wanted)| short(text) != *wanted);
    let wrong: Vec<_> = wrong
        .map(|(text, wanted)| (text, short(text), wanted))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_is_no_correction_of_a_pointed_set_is_left_alone() {
    let other = [
        // Of the last set: the reader's.
        "undo",
        "delete that",
        "delete last set",
        "make it 8",
        "that was 9 not 8",
        // Chat.
        "that was squat day",
        "yesterday was rough",
        "the first one was better",
        "monday was leg day, never again",
        "that was incline bench?",
        "call it a day",
        "call this one a win",
        "call it off",
        "she was 95",
        "the second half was a joke",
        "bench 80x10, 2 left",
        "squats yesterday 95x8",
        "last week's squats were better than this",
        "delete the photo of the curls",
        "someone warm up the minibus",
        "the curls were fun",
        "first one to the bar buys",
    ];
    let taken: Vec<_> = other
        .iter()
        .map(|text| (text, short(text)))
        .filter(|(_, read)| read != "-")
        .collect();
    assert!(taken.is_empty(), "{taken:#?}");
}
