//! What whole lines come to, by the ideas that they share.

use crate::config;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::{Day, Need, Reading};
use crate::message::{Context, Reader};

fn read(text: &str) -> Reading {
    Reader::new(config::built_in()).read(text, &Context::alone(Unit::Kg))
}

/// `load×reps` of each set, in order; seconds with an `s`; `wu` before warm-ups.
fn sets(text: &str) -> Vec<String> {
    let of = |reading: Reading| {
        reading
            .sets
            .iter()
            .map(|set| {
                let load = set.load.mass.amount(set.load.unit);
                let warm = if set.warm_up { "wu " } else { "" };
                match set.seconds {
                    Some(seconds) => format!("{warm}{load}x{seconds}s"),
                    None => format!("{warm}{load}x{}", set.reps),
                }
            })
            .collect()
    };
    of(read(text))
}

#[test]
fn holds_are_read_in_seconds() {
    for (text, expected) in [
        ("plank 45s", vec!["0x45s"]),
        ("plank 3x60s", vec!["0x60s"; 3]),
        ("wall sit 1:15", vec!["0x75s"]),
        ("dead hang 40 sec, 35 sec", vec!["0x40s", "0x35s"]),
        ("hollow hold 20/20/15 sec", vec!["0x20s", "0x20s", "0x15s"]),
        ("Plank with 10kg plate 2 x 30s", vec!["10x30s"; 2]),
        ("farmers walk 40s with 32kg", vec!["32x40s"]),
    ] {
        assert_eq!(sets(text), expected, "{text}");
    }
    // Without the load that a carry takes, it is asked for; of other exercises no time is a set.
    let unclear = read("farmers walk 40s").unclear;
    assert_eq!(unclear.map(|unclear| unclear.needs), Some(vec![Need::Load]));
    for text in [
        "knees to chest 3x12, hollow hold 40",
        "squat 45s",
        "plank 2 min of rest",
    ] {
        assert!(
            read(text).sets.iter().all(|set| set.seconds.is_none()),
            "{text}"
        );
    }
}

#[test]
fn what_is_said_beside_holds_in_a_list_is_kept() {
    let plain = read("row 40x12\nplank 45s");
    assert_eq!(plain.sets.len(), 2);
    for text in [
        "row 40x12\nplank 45s, out of breath",
        "plank 45s\nrow 60x9 biceps gave out",
        "plank 45s\nrow 60x9 still blowing",
    ] {
        assert!(read(text).readiness.is_some(), "{text}");
    }
}

#[test]
fn an_effort_out_of_ten_is_that_and_no_set() {
    for (text, rir) in [
        ("bench 80x8, effort 8/10", Some(2.0)),
        ("bench 80x8 effort 9 out of 10", Some(1.0)),
        ("bench 80x8, effort 8", Some(2.0)),
        ("bench 80x8, 9/10 effort", Some(1.0)),
        ("bench 80x8, difficulty 7/10", Some(3.0)),
        ("bench 80x8, sleep 6/10", None),
    ] {
        let reading = read(text);
        assert_eq!(reading.sets.len(), 1, "{text}");
        let told = reading.sets[0].rir.map(|rir| rir.reps());
        assert_eq!(told, rir, "{text}");
    }
}

#[test]
fn rounds_are_of_all_that_follows() {
    let one = ["60x10", "50x8"];
    let text = "3 rounds of squat 60x10, bench 50x8";
    assert_eq!(sets(text), one.repeat(3));
    assert_eq!(
        sets("2 rounds: pull-ups 8, dips 10"),
        ["0x8", "0x10"].repeat(2)
    );
}

#[test]
fn the_same_load_with_other_repetitions_is_no_set_more() {
    assert_eq!(
        sets("bench 60x8\nsame x8\nsame x7"),
        ["60x8", "60x8", "60x7"]
    );
    assert_eq!(
        sets("pulldown 50x12, again x11, x10"),
        ["50x12", "50x11", "50x10"]
    );
    assert_eq!(sets("row 50x10, ditto, ditto"), ["50x10"; 3]);
}

#[test]
fn a_part_between_two_sets_ends_the_warm_ups() {
    let expected = ["wu 20x15", "wu 40x8", "60x8", "60x7"];
    assert_eq!(sets("Bench w/u 20x15, 40x8; 60x8, 60x7"), expected);
}

#[test]
fn arrows_part_a_list() {
    for text in [
        "squat 60→80→100 x5",
        "squat 60 > 80 > 100 x5",
        "squat 60->80->100 x5",
    ] {
        assert_eq!(sets(text), ["60x5", "80x5", "100x5"], "{text}");
    }
}

#[test]
fn as_many_as_could_be_done_are_counted_behind() {
    assert_eq!(sets("Dips - 3 x max: 9, 6, 5"), ["0x9", "0x6", "0x5"]);
    assert_eq!(
        sets("bench 3 x max reps @ 60: 9, 7, 6"),
        ["60x9", "60x7", "60x6"]
    );
}

#[test]
fn what_failed_and_what_was_left_is_told_from_repetitions() {
    assert_eq!(sets("bench failed at 120"), ["120x0"]);
    assert_eq!(sets("pull-ups 12 + 3 with help"), ["0x12"]);
    for (text, left) in [
        ("bench 80x10, 4+ left", 4.0),
        ("bench 80x8, 2 shy of failure", 2.0),
        ("bench 80x8, one short of failure", 1.0),
        ("bench 80x8, nowhere near failure", 4.0),
        ("bench 80x8, not even close to failure", 4.0),
        ("bench 80x8, almost to failure", 1.0),
        ("bench 80x8, good for another 2", 2.0),
        ("bench 80x8, 8 out of 10", 2.0),
        ("bench 80x8, last one @9", 1.0),
        ("bench 80x8, not a rep more", 0.0),
        ("bench 80x8, that was all I had", 0.0),
    ] {
        let reading = read(text);
        let all: Vec<_> = reading
            .sets
            .iter()
            .map(|set| set.rir.map(|rir| rir.reps()))
            .collect();
        assert_eq!(all, [Some(left)], "{text}");
    }
}

#[test]
fn a_failure_that_did_not_come_says_nothing_and_what_was_not_done_is_no_set() {
    for text in [
        "bench 80x8, no failure",
        "bench 80x8, didn't go to failure",
        "bench 80x8, not to failure",
        "bench 80x8, 2 sets left",
        "bench 80x8, two more sets to go",
        "bench 80x8, 3 reps short",
    ] {
        let reading = read(text);
        assert_eq!(reading.sets.len(), 1, "{text}");
        assert_eq!(reading.sets[0].rir, None, "{text}");
    }
}

#[test]
fn a_change_of_load_is_one_of_the_set_before() {
    let reader = Reader::new(config::built_in());
    let after = |first: &str, text: &str| {
        let alone = Context::alone(Unit::Kg);
        let last = reader.read(first, &alone).sets.pop();
        let context = Context {
            last: last.as_ref(),
            ..alone
        };
        let reading = reader.read(text, &context);
        let sets = reading.sets.iter();
        sets.map(|set| (set.load.mass.in_kg(), set.reps))
            .collect::<Vec<_>>()
    };
    for (first, text, expected) in [
        ("bench 80x8", "+5 for 8", (85.0, 8)),
        ("bench 80x8", "-10 x 12", (70.0, 12)),
        ("bench 80x8", "went up 5, 8 reps", (85.0, 8)),
        ("bench 80x8", "took 10 off, 12", (70.0, 12)),
        ("bench 80x8", "5kg more for 7", (85.0, 7)),
        ("bench 80x8", "5 lighter for 12", (75.0, 12)),
        ("bench 80x8", "went up 85 for 8", (85.0, 8)),
        ("dips +10 x 8", "up 5, 8", (15.0, 8)),
        ("dips +10 x 8", "+5 for 8", (5.0, 8)),
        ("dips +10 x 8", "took 10 off, 12", (0.0, 12)),
        ("bench 80x8", "8, failed the 9th", (80.0, 8)),
    ] {
        assert_eq!(after(first, text), [expected], "{first}, {text}");
    }
    // A step of the stack is asked for.
    assert!(after("lat pulldown 55x10", "went up a pin, 9").is_empty());
    // Nothing stands before it.
    assert!(sets("bench +5 x 8").is_empty());
}

#[test]
fn dumbbells_are_named_by_what_they_weigh() {
    assert_eq!(sets("dumbbell press thirty twos for nine"), ["32x9"]);
    assert_eq!(sets("db row twenties for ten"), ["20x10"]);
}

#[test]
fn a_load_for_one_side_of_the_bar_is_logged_with_the_bar() {
    let reading = read("Bench 20 a side x 8, 22.5 a side x 6");
    let all: Vec<_> = reading
        .sets
        .iter()
        .map(|set| {
            (
                set.load.mass.in_kg(),
                set.hung_a_side.map(|mass| mass.in_kg()),
            )
        })
        .collect();
    assert_eq!(all, [(60.0, Some(20.0)), (65.0, Some(22.5))]);
}

#[test]
fn dates_without_a_year_are_days() {
    let yearless = |day, month, either| Some(Day::Yearless { day, month, either });
    for (text, day) in [
        ("23/11 squats 100x5", yearless(23, 11, false)),
        ("on 11/23 I did squats 100x5", yearless(23, 11, false)),
        ("12/10: squats 100x5", yearless(12, 10, true)),
        ("24.11. squats 100x5", yearless(24, 11, false)),
        ("24 Nov squats 100x5", yearless(24, 11, false)),
        ("Nov 24: squats 100x5", yearless(24, 11, false)),
        ("squats 100x5", None),
        ("dec 30x8", None),
    ] {
        let reading = read(text);
        assert_eq!(reading.sets.len(), 1, "{text}");
        assert_eq!(reading.sets[0].day, day, "{text}");
    }
}

#[test]
fn loads_that_nothing_explains_are_asked_about() {
    for text in [
        "t-bar row: bar is 45 lbs and I put a 30 lb plate on it, 3 x 10",
        "2 plates squat x 5",
        "EMOM 10: 3 pull-ups",
        "t-bar row: 25kg x 15, 12 x 3",
    ] {
        let reading = read(text);
        assert!(reading.sets.is_empty(), "{text}: {:?}", reading.sets);
        assert!(reading.unclear.is_some(), "{text}");
    }
}
