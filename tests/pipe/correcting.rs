//! Correcting in words what was logged in the last week, words on the last set, techniques that
//! count, and the summary of a session, through the whole program.

use crate::support::club::Club;

/// Two sessions: Tuesday the 10th and Thursday the 12th.
fn two_sessions() -> Club {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 60x10, 2 left");
    wren.says(10, "17:04", "x9, 1 left");
    wren.says(10, "17:08", "x8, 1 left");
    wren.says(10, "17:12", "squat 90x6, 2 left");
    wren.says(10, "17:16", "x6, 1 left");
    wren.says(12, "17:00", "hammer curl 12x10, 2 left");
    wren.says(12, "17:03", "x9, 1 left");
    wren
}

#[test]
fn the_load_of_a_past_days_sets_is_put_right_in_words() {
    let mut wren = two_sessions();
    let told = wren.says(12, "18:00", "tuesday's squats were 95");
    assert!(
        told.contains("Corrected Tuesday 10 November: back squat 95 kg × 6, 2 left · 6, 1 left"),
        "{told}"
    );
    assert!(wren.last.iter().any(|line| line["as"] == "corrected"));
    let history = wren.history("squat");
    assert!(
        history.contains("95 kg × 6") && !history.contains("90 kg"),
        "{history}"
    );
}

#[test]
fn a_day_later_the_card_of_that_day_is_changed() {
    let mut wren = two_sessions();
    let told = wren.says(13, "17:00", "yesterday's hammer curls were 14");
    assert!(
        told.contains("Corrected Thursday 12 November: hammer curl 14 kg each hand × 10"),
        "{told}"
    );
    let card = wren.last.iter().find(|line| line["type"] == "update");
    let card = card.expect("the card")["text"]
        .as_str()
        .expect("a text")
        .to_owned();
    assert!(
        card.contains("hammer curl on Thursday 12 November, 2 sets: 14 kg"),
        "{card}"
    );
    let told = wren.says(13, "17:01", "/summary");
    assert!(
        told.starts_with("Thursday 12 November: 2 sets, all count"),
        "{told}"
    );
}

#[test]
fn one_set_of_a_run_is_put_right_by_its_place() {
    let mut wren = two_sessions();
    let told = wren.says(12, "17:05", "make the first one 8");
    assert!(
        told.contains("hammer curl 12 kg each hand × 8, 2 left"),
        "{told}"
    );
    // The card that stands is changed, too.
    assert!(wren.last.iter().any(|line| line["type"] == "update"));
    let told = wren.says(12, "17:06", "tuesday's second set of bench was 7");
    assert!(told.contains("bench press 60 kg × 7, 1 left"), "{told}");
    let history = wren.history("bench press");
    assert!(
        history.contains("60 kg × 10, 2 left · 7, 1 left · 8, 1 left"),
        "{history}"
    );
}

#[test]
fn what_is_open_is_asked_with_buttons() {
    let mut wren = two_sessions();
    let asked = wren.says(12, "17:10", "tuesday's second set was 7");
    assert!(asked.contains("Which set do you mean?"), "{asked}");
    let told = wren.presses(12, "17:11", "bench press");
    assert!(told.contains("bench press 60 kg × 7, 1 left"), "{told}");
    let asked = wren.says(12, "17:12", "tuesday's bench was 9 reps");
    assert!(asked.contains("Which set of bench press"), "{asked}");
    let told = wren.presses(12, "17:13", "3.");
    assert!(told.contains("bench press 60 kg × 9, 1 left"), "{told}");
}

#[test]
fn a_set_becomes_a_warm_up_or_another_exercise_and_goes_out() {
    let mut wren = two_sessions();
    wren.says(12, "17:10", "bench 40x10");
    let told = wren.says(12, "17:11", "that was a warm-up");
    assert!(told.contains("warm-up 40 kg × 10"), "{told}");
    let told = wren.says(12, "17:12", "that was incline bench");
    assert!(told.contains("incline bench press"), "{told}");
    let told = wren.says(12, "17:13", "that wasn't a warm-up");
    assert!(told.contains("incline bench press 40 kg × 10"), "{told}");
    // The curls that were done were hammer curls.
    let told = wren.says(12, "17:14", "delete the curls");
    assert!(told.contains("Taken out 2 sets: hammer curl"), "{told}");
    assert!(wren.last.iter().any(|line| line["as"] == "removed"));
    let history = wren.history("2026-11-12");
    assert!(!history.contains("hammer curl"), "{history}");
}

#[test]
fn what_cannot_be_meant_changes_nothing_and_says_what_can() {
    let mut wren = two_sessions();
    for (text, told) in [
        ("the ninth set was 7", "only 2 sets"),
        ("make the deadlift 120 kg", "no deadlift in the last 7 days"),
        ("bench on november 2 was 70 kg", "last 7 days"),
        ("tuesday's squats were 9500", "does not look right"),
    ] {
        let answer = wren.says(12, "17:20", text);
        assert!(answer.contains(told), "{text}: {answer}");
        assert!(answer.contains("Nothing was changed"), "{text}: {answer}");
    }
    let history = wren.history("squat");
    assert!(
        history.contains("90 kg × 6, 2 left · 6, 1 left"),
        "{history}"
    );
}

#[test]
fn parts_of_drop_sets_and_supersets_count_as_the_trade_counts_them() {
    let mut wren = Club::begin();
    // The first part and, together, one more.
    wren.says(10, "17:00", "bench 80x8, drop 60x6, drop 40x8");
    let week = wren.says(10, "17:01", "/volume chest");
    assert!(week.contains("2 counted"), "{week}");
    // 10 and 4 + 3: these come to seven.
    wren.says(11, "17:00", "bench 80x10+4+3 rest pause");
    let week = wren.says(11, "17:01", "/volume chest");
    assert!(week.contains("4 counted"), "{week}");
    // 2 more are no set.
    wren.says(11, "17:20", "bench 80x10+2 rest pause");
    let week = wren.says(11, "17:21", "/volume chest");
    assert!(week.contains("5 counted"), "{week}");
    // Each of a superset.
    wren.says(12, "17:00", "bench 80x8 superset row 60x12");
    let week = wren.says(12, "17:01", "/volume chest");
    assert!(week.contains("6 counted"), "{week}");
    let week = wren.says(12, "17:02", "/volume back");
    assert!(week.contains('1'), "{week}");
}

#[test]
fn a_word_on_the_last_set_is_taken_as_its_effort() {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 60x10");
    let told = wren.says(10, "17:01", "that was hard");
    assert!(told.contains("about 1 left"), "{told}");
    assert!(wren.history("bench").contains("60 kg × 10, 1 left"));
    // What was said is not overruled.
    wren.says(10, "17:05", "x9, 2 left");
    assert_eq!(wren.says(10, "17:06", "easy"), "");
}

#[test]
fn a_session_is_summed_up_where_the_member_wants_it() {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 60x10, 2 left");
    wren.says(10, "17:04", "x9, 1 left");
    wren.says(10, "17:30", "squat 90x3, 2 left");
    let told = wren.says(10, "17:31", "done for today");
    assert!(
        told.starts_with("Session over: 3 sets, 2 count, 30 minutes."),
        "{told}"
    );
    assert!(
        told.contains("bench press 60 kg × 10, 2 left · 9, 1 left"),
        "{told}"
    );
    assert!(wren.last.iter().any(|line| line["private"] == true));
    wren.says(10, "17:32", "/summary channel");
    wren.says(11, "17:00", "bench 60x10, 2 left");
    wren.says(11, "17:01", "that's it for today");
    assert!(wren.last.iter().any(|line| line["private"] == false));
    wren.says(11, "17:02", "/summary off");
    wren.says(11, "17:03", "done for today");
    assert!(
        wren.last
            .iter()
            .all(|line| line["text"].is_null() || line["text"] == "")
    );
    assert!(
        wren.says(11, "17:04", "/summary")
            .contains("1 set, it counts")
    );
}

#[test]
fn a_note_on_a_set_is_kept_and_shown() {
    let mut wren = two_sessions();
    let told = wren.says(12, "17:05", "note: narrower grip");
    assert!(told.contains("Noted beside hammer curl"), "{told}");
    let history = wren.history("2026-11-12");
    assert!(history.contains("narrower grip"), "{history}");
}

#[test]
fn an_effort_by_itself_is_that_of_the_set_before() {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 60x10");
    let told = wren.says(10, "17:01", "2 left");
    assert!(told.contains("60 kg × 10, 2 left"), "{told}");
    // A set that has one keeps it, and an old one is not meant.
    assert_eq!(wren.says(10, "17:02", "1 left"), "");
    wren.says(10, "17:04", "x9");
    assert_eq!(wren.says(10, "17:30", "rir 1"), "");
    let told = wren.says(10, "17:31", "x8, felt easy");
    assert!(told.contains("8, 4 left"), "{told}");
}

#[test]
fn an_effort_is_taken_as_behind_the_sets_that_its_words_mean() {
    for (said, expected) in [
        ("could have done 3 more", "bench press 60 kg × 9, 3 left"),
        ("@8", "bench press 60 kg × 9, 2 left"),
        ("last one was @9", "bench press 60 kg × 9, 1 left"),
        ("last set to failure", "bench press 60 kg × 9, to failure"),
        ("failed the 10th", "bench press 60 kg × 9, to failure"),
        ("nowhere near failure", "bench press 60 kg × 9, 4 left"),
        ("plenty left", "bench press 60 kg × 9, 4 left"),
        (
            "all at rpe 8",
            "bench press 60 kg × 10, 2 left · 10, 2 left · 9, 2 left",
        ),
    ] {
        let mut wren = Club::begin();
        wren.says(10, "17:00", "bench 60x10, 10, 9");
        let told = wren.says(10, "17:02", said);
        assert!(
            told.contains(&format!("Corrected: {expected}")),
            "{said}: {told}"
        );
    }
    let mut wren = Club::begin();
    wren.says(10, "17:00", "bench 60x10");
    let told = wren.says(10, "17:03", "x8 easy");
    assert!(told.contains("60 kg × 10 · 8, 4 left"), "{told}");
    // Neither an hour nor sets to come are efforts.
    for said in ["see you at 8", "2 sets left"] {
        let mut wren = Club::begin();
        wren.says(10, "17:00", "bench 60x10");
        let told = wren.says(10, "17:02", said);
        assert!(!told.contains("Corrected"), "{said}: {told}");
    }
}

#[test]
fn a_best_of_the_day_goes_with_the_number_that_made_it() {
    let mut wren = Club::begin();
    wren.says(9, "17:00", "bench 60x10, 2 left");
    wren.says(10, "17:00", "bench 62.5x10, 2 left");
    let best = wren.says(12, "17:00", "bench 70x9, 1 left");
    assert!(best.contains("A best on bench press: 70 kg"), "{best}");
    wren.says(12, "17:01", "that was 60");
    let summary = wren.says(12, "17:02", "done for today");
    assert!(!summary.contains("70 kg"), "{summary}");
    wren.says(12, "17:10", "bench 60x8, 1 left");
    wren.says(12, "17:11", "make it 72.5");
    let summary = wren.says(12, "17:12", "done here");
    assert!(
        summary.contains("A best on bench press: 72.5 kg"),
        "{summary}"
    );
}

#[test]
fn what_is_held_for_time_is_logged_and_counts_for_no_muscle() {
    let mut wren = Club::begin();
    wren.says(10, "17:00", "plank 45s");
    wren.says(10, "17:03", "plank 40s");
    let told = wren.says(10, "17:04", "make it 50");
    assert!(told.contains("50 s"), "{told}");
    let history = wren.history("plank");
    assert!(history.contains("body weight × 45 s · 50 s"), "{history}");
    let week = wren.says(10, "17:10", "/week");
    assert!(week.contains("0 sets count"), "{week}");
    assert!(week.contains("2 held or carried for time"), "{week}");
}

#[test]
fn a_date_without_a_year_is_the_most_recent_one() {
    let mut wren = Club::begin();
    let told = wren.says(10, "17:00", "8/11 squats 90x6");
    assert!(
        told.contains("Sunday 8 November: back squat 90 kg × 6"),
        "{told}"
    );
}

/// `100x6` after `squat 1000x5: is that right?` is a squat, and not one more hammer curl.
#[test]
fn a_set_in_place_of_an_answer_is_of_the_exercise_asked_about() {
    let mut wren = two_sessions();
    for (at, slip, asked) in [
        ("17:10", "squat 900x6", "is that right?"),
        ("17:20", "hammer curl 12x122", "?"),
        ("17:30", "squat 90x122", "?"),
    ] {
        let told = wren.says(12, at, slip);
        assert!(told.contains(asked), "{told}");
        let later = format!("{}5", &at[..4]);
        let (load, name) = match slip.starts_with("squat") {
            true => ("90x6, 2 left", "back squat"),
            false => ("12x9, 2 left", "hammer curl"),
        };
        let told = wren.says(12, &later, load);
        // What has the load asked about gives its repetitions.
        let answers = slip == "squat 90x122";
        let left_out = told.contains("Left out: nothing was logged.");
        assert_ne!(left_out, answers, "{told}");
        let last = wren.last.iter().rfind(|line| line["advice"].is_object());
        assert_eq!(last.expect("advice")["advice"]["exercise"], name);
    }
}

#[test]
fn the_last_set_is_another_where_the_lifter_meant_so() {
    for words in [
        "i meant 13x9",
        "sorry, I meant 13 x 9",
        "Should\'ve been 13x9",
        "make that 13x9",
        "typo: 13x9, 1 left",
    ] {
        let mut wren = two_sessions();
        let told = wren.says(12, "17:04", words);
        assert!(
            told.contains("Corrected: hammer curl 13 kg each hand × 9"),
            "{words}: {told}"
        );
        let history = wren.history("hammer curl");
        assert!(
            history.contains("12 kg each hand × 10"),
            "{words}: {history}"
        );
    }
    let mut wren = two_sessions();
    let told = wren.says(12, "17:04", "i meant x8");
    assert!(
        told.contains("Corrected: hammer curl 12 kg each hand × 8"),
        "{told}"
    );
    assert_eq!(wren.says(12, "17:04", "i mean 3 people came"), "");
    // After a question it is the set that was asked about, and the one before it stays.
    wren.says(12, "17:10", "squat 900x6");
    let told = wren.says(12, "17:11", "i meant 90x6");
    assert!(
        told.contains("back squat") && !told.contains("Corrected"),
        "{told}"
    );
}

#[test]
fn what_was_posted_afterwards_goes_to_its_day() {
    let mut wren = Club::begin();
    wren.says(12, "07:00", "squat 80x5");
    wren.says(12, "07:02", "bench 60x10, 9\nrow 50x8");
    let told = wren.says(12, "07:03", "oops that was yesterday");
    assert!(
        told.contains(
            "Corrected Wednesday 11 November: bench press 60 kg × 10 · 9; barbell row 50 kg × 8"
        ),
        "{told}"
    );
    let told = wren.says(12, "07:04", "that was all on tuesday");
    assert!(
        told.contains("Corrected Tuesday 10 November: back squat 80 kg × 5"),
        "{told}"
    );
    // Days that are no correction, and days to come.
    for chat in [
        "that was monday's dinner",
        "those were the days",
        "that was nice",
    ] {
        wren.says(12, "07:05", "squat 80x5");
        assert_eq!(wren.says(12, "07:06", chat), "", "{chat}");
    }
}
