//! What is said beside sets, by idea; each row has what came before it, the message, and its sets.

use crate::config;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::{Day, Kind, Reading, SetReading};
use crate::message::{Context, Reader};

fn after(reader: &Reader, before: &str, text: &str) -> Reading {
    let alone = Context::alone(Unit::Kg);
    let last = reader.read(before, &alone).sets.pop();
    let context = Context {
        last: last.as_ref(),
        ..alone
    };
    reader.read(text, &context)
}

/// `80x8`, `80x8@2`, `+80x8` each side, of each set; the word for what it is where it has none.
fn told(reading: &Reading) -> String {
    let set = |set: &SetReading| {
        let load = match set.load.basis {
            Basis::Body => "bw".to_owned(),
            _ => match set.load.unit {
                Unit::Pin => set.load.unit.with(set.load.mass.amount(Unit::Pin)),
                unit => set.load.mass.amount(unit).to_string(),
            },
        };
        let side = if set.per_side { "/" } else { "" };
        let left = set
            .rir
            .map_or(String::new(), |rir| format!("@{}", rir.reps()));
        match set.seconds {
            Some(seconds) => format!("{load}x{seconds}s{side}{left}"),
            None => format!("{load}x{}{side}{left}", set.reps),
        }
    };
    match reading.kind() {
        Kind::Chatter => "chatter".to_owned(),
        Kind::Unclear => "asked".to_owned(),
        _ => reading.sets.iter().map(set).collect::<Vec<_>>().join(" "),
    }
}

fn check(rows: &[(&str, &str, &str)]) {
    let reader = Reader::new(config::built_in());
    let wrong = rows.iter().filter_map(|(before, text, expected)| {
        let found = told(&after(&reader, before, text));
        (found != *expected).then(|| format!("{before} · {text}: {found}, not {expected}"))
    });
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn which_set_it_was_is_no_number_of_it() {
    check(&[
        ("", "bench 80x8 set 1", "80x8"),
        ("", "bench 80x8 set 1 of 3", "80x8"),
        ("", "bench 80x8 1/3", "80x8"),
        ("", "bench 80x8, 1 of 4", "80x8"),
        ("", "bench 80x8 first of 3", "80x8"),
        ("", "bench 80x8 2nd of 4, 2 left", "80x8@2"),
        ("", "row 60x10 set 2/4", "60x10"),
        ("", "bench set 2 of 3 80x8", "80x8"),
        ("bench 80x8", "x7 set 2 of 3", "80x7"),
        ("", "bench 80x8 3 sets", "80x8 80x8 80x8"),
        ("", "bench 80x8 sets 3", "80x8 80x8 80x8"),
        ("", "bench 80 8/7/6", "80x8 80x7 80x6"),
        ("", "single-leg rdl 16kg, 6/6", "16x6/"),
    ]);
}

#[test]
fn a_number_of_sets_counts_those_that_follow() {
    check(&[
        ("", "3 sets of bench: 80x8, 80x7, 75x8", "80x8 80x7 75x8"),
        ("", "squat 3 sets: 100x5, 105x5, 110x3", "100x5 105x5 110x3"),
        (
            "",
            "bench 4 sets\n80x8\n80x7\n75x8\n75x7",
            "80x8 80x7 75x8 75x7",
        ),
        (
            "",
            "Bench 3 sets\n1st 80kg 8 reps\n2nd 80kg 7 reps\n3rd 75kg 9 reps",
            "80x8 80x7 75x9",
        ),
        ("", "2 sets bench, 80x8 then 75x8", "80x8 75x8"),
        ("", "3 sets of bench: 80x8", "80x8 80x8 80x8"),
        (
            "",
            "3 sets bench 80x8, 3 sets row 60x10",
            "80x8 80x8 80x8 60x10 60x10 60x10",
        ),
    ]);
}

#[test]
fn times_and_series_count_sets() {
    check(&[
        ("", "bench 60kg 4 times 8", "60x8 60x8 60x8 60x8"),
        ("", "bench 60 3 times 10 reps", "60x10 60x10 60x10"),
        (
            "",
            "4 times 10 squat with 70 kilo",
            "70x10 70x10 70x10 70x10",
        ),
        ("", "bench 60 kg, 10 reps, three times", "60x10 60x10 60x10"),
        (
            "",
            "4 series squat, 70 kilo, 10 reps",
            "70x10 70x10 70x10 70x10",
        ),
        ("", "squat 40 kg 12 times", "40x12"),
        ("", "i bench 3 times a week", "chatter"),
    ]);
}

#[test]
fn one_of_several_sets_is_told_apart() {
    check(&[
        ("", "bench 4x8 70, 6 on the last", "70x8 70x8 70x8 70x6"),
        ("", "row 3x12 50 last one was 10", "50x12 50x12 50x10"),
        (
            "",
            "bench 80 for 3 sets of 8 except last was 6",
            "80x8 80x8 80x6",
        ),
        ("", "squat 3x8 90, second set only 7", "90x8 90x7 90x8"),
        ("", "bench 3x8 80, got 6 on the last set", "80x8 80x8 80x6"),
        (
            "",
            "bench 5x5 at 75, missed last rep of the last set",
            "75x5 75x5 75x5 75x5 75x4@0",
        ),
        ("", "bench 3x8 80, 2 left on the last", "80x8 80x8 80x8@2"),
        ("", "bench 3x8 80, last one to failure", "80x8 80x8 80x8@0"),
    ]);
}

#[test]
fn what_was_done_takes_the_place_of_what_was_meant() {
    check(&[
        ("", "bench 90x3 attempt, got 2", "90x2"),
        ("", "bench 80x8 wanted 10 got 8", "80x8"),
        ("", "squat 120x5 planned, did 4", "120x4"),
        ("", "bench 90 went for 5 got 3", "90x3"),
        ("", "ohp 50x5 goal, hit 4", "50x4"),
        ("", "bench 80x8, got 6", "80x8 80x6"),
    ]);
}

#[test]
fn other_days_and_sets_to_come_are_not_filed() {
    check(&[
        ("", "bench 80x8, last week 80x7", "80x8"),
        ("", "deadlift 140 x 5 last week, today 142.5 x 5", "142.5x5"),
        ("", "bench 80x8 (80x7 last time)", "80x8"),
        ("", "bench 80x8 up from 77.5x8 last week", "80x8"),
        ("", "bench 80x8, 10 next time", "80x8"),
        ("", "bench 80x8, 82.5 next", "80x8"),
        ("", "bench 80x8 next", "chatter"),
        ("", "squat 100x5 coming up", "chatter"),
        ("", "leg press 160, 3x12 to go", "chatter"),
        ("", "row 60x10 after this", "chatter"),
        ("bench 80x7", "x7, moving up to 85", "80x7"),
        ("bench 80x7", "x7, down to 75 next", "80x7"),
        ("bench 80x7", "down to 75, 9", "75x9"),
        ("bench 80x7", "x7, then down to 70 for 10", "80x7 70x10"),
        ("", "bench 80x8, squats next", "80x8"),
    ]);
}

#[test]
fn each_day_is_of_its_own_sets() {
    let reader = Reader::new(config::built_in());
    let days = |text: &str| {
        let reading = reader.read(text, &Context::alone(Unit::Kg));
        reading.sets.iter().map(|set| set.day).collect::<Vec<_>>()
    };
    let (mon, wed) = (chrono::Weekday::Mon, chrono::Weekday::Wed);
    for (text, expected) in [
        (
            "bench 60x10 yesterday and the day before squats 100x5",
            vec![Some(Day::Ago(1)), Some(Day::Ago(2))],
        ),
        (
            "bench 80x5 on monday, squat 100x5 on wednesday",
            vec![Some(Day::Weekday(mon)), Some(Day::Weekday(wed))],
        ),
        (
            "mon - bench 80x5, weds - squat 100x5",
            vec![Some(Day::Weekday(mon)), Some(Day::Weekday(wed))],
        ),
        (
            "bench 80x8 yesterday, squat 100x5 today",
            vec![Some(Day::Ago(1)), None],
        ),
        (
            "bench 80x8, squat 100x5 yesterday",
            vec![Some(Day::Ago(1)); 2],
        ),
        ("bench 80x8, ohp on thursday", vec![None]),
    ] {
        assert_eq!(days(text), expected, "{text}");
    }
}

#[test]
fn two_sides_are_one_set_and_left_is_no_reserve() {
    check(&[
        ("db curl 14x10", "10 left, 9 right", "14x9/"),
        ("", "db curl 12s x 12 left 11 right", "12x11/"),
        ("", "one arm row 30, 10 right 9 left", "30x9/"),
        ("", "db row 30 left 10, right 9", "30x9/"),
        ("db curl 14x10", "60 10 left 10 right", "60x10/"),
        ("", "db curl 14x10, 2 left", "14x10@2"),
    ]);
}

#[test]
fn help_and_swings_are_no_sets() {
    check(&[
        ("", "bench 80x8 and 2 more with a spot", "80x8@0"),
        ("", "bench 82.5 x 6 + 1 cheat", "82.5x6"),
        ("", "preacher curl 70: 8, 7 + 1 forced", "70x8 70x7@0"),
        ("", "bench 80x8, 2 more", "asked"),
    ]);
}

#[test]
fn places_on_a_stack_and_units_in_words() {
    check(&[
        ("", "lat pulldown plate 10 for 12 reps", "asked"),
        ("", "lat pulldown pin 10 for 12 reps", "pin 10x12"),
        ("", "chest press seat 4: 40x12, 45x9", "40x12 45x9"),
        ("", "machine row, pad hole 3, 55x10", "55x10"),
        (
            "",
            "squat (target 5x5 at 100): 100x5, 5, 4",
            "100x5 100x5 100x4",
        ),
        ("", "bench 70x8, 70x7 (last wk 67.5x8, 67.5x8)", "70x8 70x7"),
        ("", "deadlift 100kg/220lb x 5", "100x5"),
        ("", "bench 90x4@8 x3", "90x4@2 90x4@2 90x4@2"),
        ("", "machine press level 7 x 12", "pin 7x12"),
    ]);
    let reader = Reader::new(config::built_in());
    for text in [
        "stack was in pounds: 150 x 10 pulldown",
        "pulldown 150x10 (in pounds)",
        "bench 185x5 that's pounds",
    ] {
        let reading = reader.read(text, &Context::alone(Unit::Kg));
        assert!(!reading.sets.is_empty(), "{text}");
        let pounds = reading.sets.iter().all(|set| set.load.unit == Unit::Lb);
        assert!(pounds, "{text}");
    }
    check(&[("", "bench 80x8, dropped 5 pounds this month", "asked")]);
}

#[test]
fn words_of_a_remark_name_no_exercise() {
    check(&[
        ("bench 80x8", "x8, chin over bar", "80x8"),
        ("squat 100x5", "another set of squats, 4", "100x4"),
        ("squat 100x5", "same squat weight, 4", "100x4"),
        ("bench 80x8", "x7, now ohp 40x8", "80x7 40x8"),
        ("bench 80x8", "x7. next ohp 40x8", "80x7"),
        ("squat 100x5", "2 more x5", "100x5 100x5"),
        ("squat 100x5", "1 more", "asked"),
        ("squat 100x5", "9 more", "100x9"),
        ("", "3. RDL 3x8 90\n4. calf 4x15 @ 70", "asked"),
    ]);
}

#[test]
fn a_hold_is_done_again() {
    check(&[
        ("", "plank 45s again", "bwx45s"),
        ("", "another plank 45s", "bwx45s"),
        ("", "plank 60s, again", "bwx60s bwx60s"),
    ]);
}

#[test]
fn how_a_set_felt_is_said_beside_it() {
    check(&[
        ("bench 80x8", "82.5x6 felt like a 9", "82.5x6@1"),
        ("", "bench 80x8, couldve got 9", "80x8@1"),
        ("", "bench 80x8, that's my limit", "80x8@0"),
        ("", "bench 3x8 80 easy", "80x8 80x8 80x8"),
        // What `easy` leaves is the bot's to judge.
        ("", "bench 80x10 easy", "80x10"),
        ("", "bench 80x10!!! EASY", "80x10"),
        ("", "bench 80x8, easy, 3 left", "80x8@3"),
        ("", "bench 80x8 hard to focus", "80x8"),
        ("", "bench 80x8 felt like 90", "80x8"),
        ("", "bench 80x8 felt like 9 reps", "80x8"),
    ]);
}

#[test]
fn a_remark_takes_no_set_away() {
    check(&[
        ("bench 80x8", "x7, that's it for bench", "80x7"),
        ("bench 80x8", "x7 music too loud", "80x7"),
        ("bench 80x8", "x7, could do more", "80x7"),
        ("bench 80x8", "x8, back rounded a bit", "80x8"),
        ("bench 80x8", "x8 with elbows tucked", "80x8"),
        ("", "bench 80x8, deadlifts tomorrow", "80x8"),
        ("bench 80x8", "tom did x7", "chatter"),
        ("bench 80x8", "x7 would be nice", "chatter"),
        ("bench 80x8", "x7 is the goal", "chatter"),
        ("bench 80x8", "my mate got 82.5x6", "chatter"),
        ("bench 80x8", "82.5x6 back in 2019", "chatter"),
        ("bench 80x8", "room 12x8 needs painting", "chatter"),
        ("bench 80x8", "the shelf is 80x30", "chatter"),
        ("bench 80x8", "4x6 photos ready", "chatter"),
        ("", "used to bench 80x8 back home", "chatter"),
        ("", "bench 90x5 by christmas", "chatter"),
        ("", "next session: deadlift 140x5, row 60x10", "chatter"),
    ]);
}

#[test]
fn what_was_not_done_is_no_set_and_names_none() {
    check(&[
        ("", "skipped squats, leg press 100x10", "100x10"),
        ("", "skipping rows today, lat pulldown 50x10", "50x10"),
        ("", "swapped bench for ohp, 40x8", "40x8"),
        ("", "leg press instead of squats 120x10", "120x10"),
        ("", "did incline instead of bench, 50x8", "50x8"),
        (
            "",
            "leg press since the squat rack was busy: 100kg 12 reps",
            "100x12",
        ),
        (
            "",
            "hack squat because all the racks were taken, 80x10",
            "80x10",
        ),
        ("", "planned 80x5 on bench but did 75x5", "75x5"),
        ("", "wanted 100x5 on squat, only got 95x4", "95x4"),
        ("bench 80x8", "was supposed to do 80x8 but got 6", "80x6"),
        ("bench 80x8", "planned 80x8 but managed 7", "80x7"),
    ]);
}

#[test]
fn a_load_and_what_was_done_with_it_may_be_told_in_a_sentence() {
    check(&[
        ("bench 60x10", "stayed at 60, 8", "60x8"),
        ("bench 60x10", "kept it at 60, 7", "60x7"),
        ("bench 60x10", "stuck with 60 and did 8", "60x8"),
        ("bench 60x10", "went for 70, got 8!! new pb!!!", "70x8"),
        ("bench 60x10", "bumped it to 75 and got 6", "75x6"),
        ("bench 60x10", "tried 80, managed 3", "80x3"),
        ("bench 60x10", "backing off to 60 for a set of 10", "60x10"),
        ("bench 60x10", "moved up to 70 and hit 5", "70x5"),
        (
            "",
            "leg press 100 kilos, got 12, could have done 15",
            "100x12@3",
        ),
        ("", "forgot: leg curls 3x12 at 30", "30x12 30x12 30x12"),
        ("", "forgot to log leg curls 30x12", "30x12"),
        ("", "bench 90 went for 5 got 3", "90x3"),
        ("bench 60x10", "went for a walk, got 8 steps", "chatter"),
    ]);
}

#[test]
fn bars_pauses_help_and_slips_are_read_as_they_are_meant() {
    check(&[
        ("", "bench empty bar x 12", "20x12"),
        ("", "doing squats with just the bar 10 reps", "20x10"),
        ("", "squat bar only 10 reps", "20x10"),
        (
            "squat 20x10",
            "put 10s on each side and did 10 more",
            "40x10",
        ),
        ("squat 20x10", "10s on each side for 10", "40x10"),
        ("", "bench 55x6 with 2s pause", "55x6"),
        ("", "paused bench 75x6 2s pause", "75x6"),
        ("", "bench 55x6, 3 sec down", "55x6"),
        ("", "bench 60x9 failed on 10", "60x9@0"),
        ("", "bench 60x8, eva helped with last 2", "60x6@0"),
        ("", "bench 60x9 spotter helped on the last one", "60x8@0"),
        ("", "bench 60x1o", "60x10"),
        ("", "bench 6ox10", "60x10"),
        ("", "squat 60x5 lol", "60x5"),
        (
            "",
            "bench 60x10 ohp 40x8 row 50x12 all 2 left",
            "60x10@2 40x8@2 50x12@2",
        ),
        ("", "full stack x 12 on lat pulldown", "asked"),
    ]);
}

#[test]
fn a_place_on_a_stack_is_a_load() {
    check(&[
        ("", "leg press pin 10 x 12", "pin 10x12"),
        ("leg press pin 10 x 12", "x10", "pin 10x10"),
        ("leg press pin 10 x 12", "pin 11, 9", "pin 11x9"),
        ("leg press pin 10 x 12", "60 x 10", "60x10"),
        ("", "leg ext 7 on the stack x 10", "pin 7x10"),
        ("", "Chest press pin 7 x 12, pin 8 x 8", "pin 7x12 pin 8x8"),
        ("", "bench pin 8 x 10", "asked"),
        ("", "incline machine press seat setting 4, 60x10", "60x10"),
    ]);
}

#[test]
fn what_others_did_is_none_of_it() {
    check(&[
        ("", "Bench 60x8, 8, 7, he got 45x10", "60x8 60x8 60x7"),
        ("", "Squat 90x5x3. Jonas did 130x5!", "90x5 90x5 90x5"),
        ("", "bench 60x8 and then got 65x5", "60x8 65x5"),
        ("", "bench 60x8, her 40x8", "60x8"),
        ("", "squat w/u 40x5, w/u 60x5, then 80x5", "40x5 60x5 80x5"),
        ("", "Bench 60x8x3, my brother got 80x8", "60x8 60x8 60x8"),
        ("", "bench 60x8 while Jonas benched 100x5", "60x8"),
        ("", "squat 100x5, should have been 105x5", "100x5"),
        ("", "squat 100x5, coach wanted 105x5", "100x5"),
        ("", "squat 100x5, pb was 110x3", "100x5"),
        ("", "squat 100x5, got 105x5", "100x5 105x5"),
        (
            "",
            "Tomorrow I will try squat 65 kg, 8 reps, 3 sets",
            "chatter",
        ),
    ]);
}

#[test]
fn sets_in_cells_and_columns_are_read() {
    check(&[
        (
            "",
            "Lift | Wt | Reps | RPE\nHip thrust | 80 | 10 | 7\nHip thrust | 90 | 8 | 8",
            "80x10@3 90x8@2",
        ),
        ("", "Bench | 85 | 6\nBench | 90 | 4", "85x6 90x4"),
        ("", "Leg extension | 3 | 10", "asked"),
        ("", "Squat 60 kg, reps 8, series 3", "60x8 60x8 60x8"),
        ("", "dips 12/bw, 8/+10, 6/+15", "bwx12 10x8 15x6"),
        ("", "Pull-ups 10-9-8-7", "bwx10 bwx9 bwx8 bwx7"),
        ("", "Squat two 20s a side, 5 reps", "100x5"),
        ("", "Bench 85 or 90 x 5", "asked"),
        ("", "squat 2pps x 5", "asked"),
        (
            "",
            "superset: press 40x8 + row 50x10, 2x",
            "40x8 50x10 40x8 50x10",
        ),
        ("", "bench 3x8 60: 8 8 7", "60x8 60x8 60x7"),
        ("", "squat 2x5 @100 -> 5 3", "100x5 100x3"),
        ("", "bench 60x8x3 (8, 8, 7)", "60x8 60x8 60x7"),
        ("", "pull ups 3x8, got 8 7 6", "bwx8 bwx7 bwx6"),
        ("", "bench 3x8: 60, 60, 62.5", "60x8 60x8 62.5x8"),
        ("", "bench 80 (5/5/4)", "80x5 80x5 80x4"),
        ("", "assisted dips, 40 kg off, 8 8", "40x8 40x8"),
        ("", "Gym AM: bench 70x5", "70x5"),
        (
            "",
            "hip replaced in november, cleared for leg press, 40x15",
            "chatter",
        ),
    ]);
}

#[test]
fn holds_in_a_list_are_seconds() {
    check(&[
        ("", "Row 40x12\nPlank 2x45s", "40x12 bwx45s bwx45s"),
        (
            "",
            "crunches 2x20, plank 2x45s",
            "bwx20 bwx20 bwx45s bwx45s",
        ),
        (
            "",
            "pull ups 8\nPush ups 15\nplank 1:00",
            "bwx8 bwx15 bwx60s",
        ),
        ("", "plank 60", "bwx60s"),
        ("", "plank 10", "bwx10"),
    ]);
}
