//! What was said before decides: which exercise is meant, what answers a question, and the next set in small words.

use crate::support::club::Club;

/// A conversation, a message every two minutes, and what the log of the day then shows.
fn log_after(messages: &[&str]) -> String {
    let mut wren = Club::begin();
    for (place, text) in messages.iter().enumerate() {
        let time = format!("17:{:02}", place * 2);
        wren.says(10, &time, text);
    }
    wren.says(10, "17:50", "/history today")
}

fn last_reply(messages: &[&str]) -> String {
    let mut wren = Club::begin();
    let mut told = String::new();
    for (place, text) in messages.iter().enumerate() {
        told = wren.says(10, &format!("17:{:02}", place * 2), text);
    }
    told
}

#[test]
fn an_exercise_that_is_announced_is_that_of_the_sets_below() {
    for (words, sets, logged) in [
        ("moving on to ohp", "40x8", "overhead press 40 kg × 8"),
        ("lat pulldowns next", "55x10", "lat pulldown 55 kg × 10"),
        (
            "machine's broken, swapping to pullups",
            "bw x 8",
            "pull-up body weight × 8",
        ),
        ("done with bench, rows now", "60x8", "barbell row 60 kg × 8"),
        (
            "ok next exercise is lat pulldown",
            "55x10",
            "lat pulldown 55 kg × 10",
        ),
        ("what do i load on squat?", "100x5", "back squat 100 kg × 5"),
        (
            "rdl next. what should I use?",
            "80 for 10",
            "romanian deadlift 80 kg × 10",
        ),
        (
            "time for triceps pushdowns, what load?",
            "30x12",
            "triceps pushdown 30 kg × 12",
        ),
    ] {
        let log = log_after(&["bench 80x8", words, sets]);
        assert!(log.contains(logged), "{words}: {log}");
    }
    let log = log_after(&["squats today", "100x5"]);
    assert!(log.contains("back squat 100 kg × 5"), "{log}");
}

#[test]
fn other_remarks_on_exercises_leave_the_sets_with_theirs() {
    for words in [
        "squats tomorrow",
        "she's doing deadlifts over there",
        "no squats today",
        "the squat rack is taken again",
        "what did i do last time on squat",
    ] {
        let log = log_after(&["bench 80x8", words, "80x7"]);
        assert!(log.contains("bench press 80 kg × 8 · 7"), "{words}: {log}");
    }
}

#[test]
fn who_comes_back_to_an_exercise_goes_on_with_its_load() {
    for words in ["squat again 4", "another set of squats, 4", "back squat x4"] {
        let log = log_after(&["squat 100x5", "bench 80x8", words]);
        assert!(log.contains("back squat 100 kg × 4"), "{words}: {log}");
    }
    let log = log_after(&["squat 100x5", "bench 80x8", "back to squats", "x4"]);
    assert!(log.contains("back squat 100 kg × 4"), "{log}");
}

#[test]
fn several_sets_that_waited_for_a_name_get_it_at_once() {
    for name in ["squat", "all of those were squats"] {
        let log = log_after(&["100x5", "100x5", "100x4", name]);
        assert!(
            log.contains("back squat 100 kg × 5 · 5 · 4"),
            "{name}: {log}"
        );
    }
}

#[test]
fn repetitions_asked_for_are_told_in_many_ways() {
    for (answer, logged) in [
        ("15, 15, 12", "14 kg each hand × 15 · 15 · 12"),
        ("12 reps, 2 left", "14 kg each hand × 12, 2 left"),
        ("managed 12", "14 kg each hand × 12"),
    ] {
        let log = log_after(&["leg extension 50x12", "hammer curl 14", answer]);
        assert!(log.contains(logged), "{answer}: {log}");
        assert!(log.contains("leg extension 50 kg × 12"), "{answer}: {log}");
    }
}

#[test]
fn an_unlikely_number_is_put_right_by_a_number_alone() {
    for (slip, answer, logged) in [
        ("bench 800x8", "80", "80 kg × 8"),
        ("bench 800x8", "oops 80", "80 kg × 8"),
        ("bench 800x8", "i meant 80", "80 kg × 8"),
        ("bench 80x80", "x8", "80 kg × 8"),
        ("bench 80x80", "8 reps", "80 kg × 8"),
    ] {
        let log = log_after(&[slip, answer]);
        assert!(log.contains(logged), "{slip}, {answer}: {log}");
    }
}

#[test]
fn a_set_behind_one_of_an_unknown_name_is_of_the_same() {
    let told = last_reply(&["bench 60x8", "flys 35x12", "35x11"]);
    assert!(told.contains("flys"), "{told}");
}

#[test]
fn a_superset_goes_on_with_a_number_for_each() {
    for words in ["again 11 and 9", "11/9", "round 2: 11 and 9"] {
        let log = log_after(&["superset lat pulldown 55x12, bench 60x10", words]);
        let wanted = "lat pulldown 55 kg × 11\nbench press 60 kg × 9";
        assert!(log.contains(wanted), "{words}: {log}");
    }
}

#[test]
fn a_bare_number_behind_a_set_is_logged_where_it_is_near_and_else_asked() {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 80x8");
    wren.says(10, "17:03", "7");
    let asked = wren.says(10, "17:06", "2");
    assert!(asked.contains("Did you do 80 kg × 2?"), "{asked}");
    wren.presses(10, "17:07", "Yes");
    let log = wren.says(10, "17:08", "/history today");
    assert!(log.contains("bench press 80 kg × 8 · 7 · 2"), "{log}");
    // Half an hour later it is chat, and so is one before any set.
    assert_eq!(wren.says(10, "17:40", "7"), "");
    assert_eq!(Club::begin().says(10, "17:00", "7"), "");
}

#[test]
fn the_next_set_is_told_with_small_words() {
    for (words, logged) in [
        ("80 again, 7", "80 kg × 8 · 7"),
        ("squeezed out 7", "80 kg × 8 · 7"),
        ("next set 7, 1 left", "80 kg × 8 · 7, 1 left"),
        ("took 5 off and got 9", "80 kg × 8; 75 kg × 9"),
        ("did 2 more of those", "80 kg × 8 · 8 · 8"),
        ("next two were 8 and 7", "80 kg × 8 · 8 · 7"),
        ("second set was 7", "80 kg × 8 · 7"),
    ] {
        let log = log_after(&["bench 80x8", words]);
        assert!(log.contains(logged), "{words}: {log}");
    }
    for chat in [
        "only 6 of us here today",
        "and 6 beers after",
        "gate 9",
        "back in 5",
    ] {
        assert_eq!(last_reply(&["bench 80x8", chat]), "", "{chat}");
    }
}

#[test]
fn the_last_set_is_put_right_in_a_few_words() {
    for (words, logged) in [
        ("oops 9", "bench press 60 kg × 9"),
        ("oops, 62.5", "bench press 62.5 kg × 8"),
        ("call it 7", "bench press 60 kg × 7"),
        ("that was with 65", "bench press 65 kg × 8"),
        ("i mean incline", "incline bench press 60 kg × 8"),
        ("on the smith", "smith machine bench press 60 kg × 8"),
        ("that was about an 8", "bench press 60 kg × 8, 2 left"),
        ("that was in lbs", "bench press 60 lb × 8"),
    ] {
        let told = last_reply(&["bench 60x8", words]);
        assert!(
            told.contains(&format!("Corrected: {logged}")),
            "{words}: {told}"
        );
    }
    let told = last_reply(&["bench 60x8", "bench 60x11", "the 11 was 12"]);
    assert!(told.contains("Corrected: bench press 60 kg × 12"), "{told}");
    let told = last_reply(&[
        "squat 100x5",
        "leg press 150x10",
        "the squats were all 1 left",
    ]);
    assert!(
        told.contains("Corrected: back squat 100 kg × 5, 1 left"),
        "{told}"
    );
}

#[test]
fn questions_between_sets_are_answered_with_what_they_ask() {
    for (words, part) in [
        ("what about 85 next", "85 kg"),
        ("what would 75 give me", "75 kg"),
        ("why not 85", "85 kg"),
        ("how many reps could i do at 60", "60 kg"),
        ("how long have i rested", "Your last set was 2 minutes ago"),
        ("how many plates is 92.5", "each side"),
        ("done, how did i do?", "Session over: 1 set"),
        ("home time, thanks bot", "Session over: 1 set"),
        ("is that right?", "I count bench press 80 kg × 8"),
    ] {
        let told = last_reply(&["bench 80x8", words]);
        assert!(
            told.to_lowercase().contains(&part.to_lowercase()),
            "{words}: {told}"
        );
    }
    let told = last_reply(&["bench 80x8", "what does 1 left mean"]);
    assert!(told.contains("in reserve"), "{told}");
}
