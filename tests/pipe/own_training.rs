//! A member's own training through the whole program: the first minute, what was done and was best,
//! training without a plan, equipment as people say it.

use crate::support::club::Club;

#[test]
fn a_newcomer_is_told_once_what_this_is() {
    let mut wren = Club::begin();
    let first = wren.says(2, "17:00", "hi");
    assert!(first.starts_with("I am Chalkbell."), "{first}");
    assert_eq!(first.lines().count(), 3, "{first}");
    assert!(!wren.says(2, "17:01", "hello").contains("I am Chalkbell"));
    let card = wren.says(2, "17:02", "bench 40x10, 2 left");
    assert!(!card.contains("I am Chalkbell"), "{card}");
    assert!(card.contains("not medical advice"), "{card}");
    let next = wren.says(2, "17:05", "x9, 1 left");
    assert!(!next.contains("not medical advice"), "{next}");
}

#[test]
fn a_first_set_is_answered_with_what_this_is_and_the_caution() {
    let mut wren = Club::begin();
    let card = wren.says(2, "17:02", "bench 40x10, 2 left");
    assert!(
        card.contains("I am Chalkbell") && card.contains("not medical advice"),
        "{card}"
    );
    assert!(
        !wren
            .says(2, "17:05", "x9, 1 left")
            .contains("I am Chalkbell")
    );
}

#[test]
fn a_best_is_told_when_it_happens_and_once() {
    let mut wren = Club::begin();
    wren.says(2, "17:00", "bench 60x10, 2 left");
    wren.says(4, "17:00", "bench 60x10, 2 left");
    let heavier = wren.says(6, "17:00", "bench 62.5x8, 1 left");
    assert!(heavier.contains("62.5 kg, your heaviest yet"), "{heavier}");
    assert!(
        !wren
            .says(6, "17:04", "bench 62.5x8, 1 left")
            .contains("A best")
    );
    let more = wren.says(9, "17:00", "bench 60x12, 1 left");
    assert!(more.contains("12 reps at 60 kg, 10 before"), "{more}");
}

#[test]
fn what_was_taken_back_is_no_best_any_more() {
    let mut wren = Club::begin();
    wren.says(2, "17:00", "bench 60x10, 2 left");
    wren.says(4, "17:00", "bench 60x10, 2 left");
    assert!(
        wren.says(6, "17:00", "bench 70x8, 1 left")
            .contains("your heaviest yet")
    );
    wren.says(6, "17:01", "undo");
    let again = wren.says(6, "17:04", "bench 65x8, 1 left");
    assert!(again.contains("65 kg, your heaviest yet"), "{again}");
    let bests = wren.says(6, "17:05", "best bench?");
    assert!(bests.contains("Heaviest: 65 kg × 8"), "{bests}");
}

#[test]
fn past_days_are_shown_by_command_and_in_words() {
    let mut wren = Club::begin();
    wren.says(2, "17:00", "bench 60x10, 2 left");
    wren.says(2, "17:04", "squat 80x8, 2 left");
    wren.says(5, "17:00", "bench 62.5x9, 2 left");
    let asked = [
        ("/history bench press", "60 kg × 10"),
        ("/history 2026-11-02", "squat 80 kg × 8"),
        ("/history mon", "squat 80 kg × 8"),
        ("what did I do on monday", "squat 80 kg × 8"),
        ("what did I do yesterday", "62.5 kg × 9"),
        ("when did I last squat?", "80 kg × 8"),
        ("/history bench press mon", "60 kg × 10"),
    ];
    for (text, wanted) in asked {
        let told = wren.says(6, "09:00", text);
        assert!(told.contains(wanted), "{text}: {told}");
    }
    let missed = wren.says(6, "09:00", "/history sun");
    assert!(missed.contains("`/history 2026-11-05`"), "{missed}");
}

#[test]
fn last_time_stands_beside_the_load_to_open_with() {
    let mut wren = Club::begin();
    wren.says(2, "17:00", "bench 60x10, 2 left");
    wren.says(5, "17:00", "bench 62.5x9, 2 left");
    let told = wren.says(9, "17:00", "what do I load on bench?");
    assert!(
        told.contains("Last time (Thu 5 Nov): 62.5 kg × 9"),
        "{told}"
    );
}

#[test]
fn without_a_plan_what_is_due_is_told_and_a_session_is_made_of_what_is_usual() {
    let mut wren = Club::begin();
    for day in [2, 5] {
        wren.says(day, "17:00", "bench 60x10, 2 left");
        wren.says(day, "17:04", "x9, 1 left");
        wren.says(day, "17:10", "squat 80x8, 2 left");
        wren.says(day, "17:15", "x7, 1 left");
    }
    let due = wren.says(9, "17:00", "what should I train today?");
    assert!(
        due.contains("back squat") && due.contains("bench press"),
        "{due}"
    );
    let fit = wren.says(9, "17:01", "/fit 30");
    assert!(
        fit.contains("what you usually do") && fit.contains("bench press"),
        "{fit}"
    );
    assert!(fit.contains("kg"), "loads are known: {fit}");
    let in_words = wren.says(9, "17:02", "I only have 30 minutes");
    assert!(in_words.contains("what you usually do"), "{in_words}");
}

#[test]
fn equipment_is_understood_as_people_say_it() {
    let mut wren = Club::begin();
    wren.says(2, "17:00", "/units lb");
    let told = wren.says(
        2,
        "17:01",
        "/equipment bar 45, plates 45 25 10 5 2.5, dumbbells 10-35 by 5",
    );
    assert!(
        told.contains("bar 45") && told.contains("10-35 by 5"),
        "{told}"
    );
    let card = wren.says(2, "17:02", "db curl 20x15, 4 left");
    assert!(card.contains("25 lb"), "the next pair there is: {card}");
    let why = wren.says(2, "17:03", "/equipment dumbbells 10 to 35");
    assert!(why.contains("`/equipment dumbbells 10-35 by 5`"), "{why}");
}

#[test]
fn equipment_is_kept_by_place() {
    let mut wren = Club::begin();
    assert_eq!(
        wren.says(2, "17:00", "at the hotel"),
        "",
        "no such place yet"
    );
    let there = wren.says(2, "17:00", "/equipment at the hotel: dumbbells 2-20 by 2");
    assert!(there.contains("dumbbells 2-20 by 2"), "{there}");
    let back = wren.says(2, "17:01", "/equipment at home");
    assert!(
        back.contains("usual place") && !back.contains("2-20 by 2"),
        "{back}"
    );
    let again = wren.says(2, "17:02", "I'm at the hotel gym");
    assert!(
        again.contains("`hotel`") && again.contains("2-20 by 2"),
        "{again}"
    );
    assert!(wren.says(2, "17:03", "back home").contains("usual place"));
}

#[test]
fn words_and_commands_are_explained_on_asking() {
    let mut wren = Club::begin();
    for text in ["what is rir", "/help rir", "rir?"] {
        let told = wren.says(2, "17:00", text);
        assert!(told.contains("reps in reserve"), "{text}: {told}");
    }
    let fit = wren.says(2, "17:00", "/help fit");
    assert!(
        fit.contains("`/fit 45`") && fit.contains("`/fit 30 pairs`"),
        "{fit}"
    );
    assert!(wren.says(2, "17:00", "/help xyzzy").contains("`/help fit`"));
}

#[test]
fn lists_fit_a_terminal_of_eighty_columns() {
    let mut wren = Club::begin();
    let all = wren.says(2, "17:00", "/help");
    let list = all.split("all commands:").nth(1).expect("a list");
    let long: Vec<_> = list
        .lines()
        .filter(|line| line.chars().count() > 78)
        .collect();
    assert_eq!(long, [""; 0]);
    assert!(!all.contains("oaches"), "{all}");
}

#[test]
fn plates_and_minutes_are_answered_in_the_words_of_the_rack() {
    let mut wren = Club::begin();
    let yet = wren.says(2, "16:59", "what should I do today?");
    assert!(yet.contains("no sets yet"), "{yet}");
    wren.says(2, "17:00", "bench 60x10, 2 left");
    let plates = wren.says(2, "17:01", "what plates for 77.5?");
    assert_eq!(plates, "Each side for 77.5 kg: 25 + 2.5 + 1.25.");
    let odd = wren.says(2, "17:02", "which plates for 78?");
    assert!(odd.contains("do not make 78 kg"), "{odd}");
    let fit = wren.says(4, "17:00", "45 min today");
    assert!(fit.contains("45 minutes"), "{fit}");
}

#[test]
fn bells_stay_on_through_chat_and_go_off_when_told_to() {
    let mut wren = Club::begin();
    for chat in ["still on mute", "my alarm didn't go off", "timer's on"] {
        wren.says(2, "17:00", chat);
    }
    wren.says(2, "17:01", "bench 60x10, 1 left");
    let minutes = (2..8).map(|minute| wren.passes(2, &format!("17:0{minute}")));
    let rung: Vec<String> = minutes.filter(|text| text.contains("rest over")).collect();
    assert_eq!(rung.len(), 1, "{rung:?}");
    let off = wren.says(2, "17:08", "bells off please");
    assert!(off.contains("Bells are off"), "{off}");
}
