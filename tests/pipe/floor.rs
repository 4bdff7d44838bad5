//! What lifters post between sets, through the whole program: each row has the posts of one lifter three minutes
//! apart, and what is then logged; before it, for each post, `+` where it was logged, `?` where it was asked
//! about, and `-` where it was left alone.

use crate::support::club::Club;

/// What comes of the posts of a row by this lifter.
fn played(club: &mut Club, lifter: &str, posts: &str) -> String {
    let mut marks = String::new();
    for (place, post) in posts.split(" | ").enumerate() {
        let minutes = 3 * place;
        let (day, post) = match post.strip_prefix("next day: ") {
            Some(post) => (3, post),
            None => (2, post),
        };
        let time = format!("{}:{:02}", 17 + minutes / 60, minutes % 60);
        match post.strip_prefix("press ") {
            Some(label) => {
                club.press_of(lifter, day, &time, label);
            }
            None => {
                club.posts(
                    lifter,
                    day,
                    &time,
                    &post.replace('/', "\n").replace("\\n", "/"),
                );
            }
        }
        let marked = club.last.iter().filter_map(|line| line["as"].as_str());
        let mut mark = marked.map(|mark| if mark == "filed" { '+' } else { '?' });
        marks.push(mark.next_back().unwrap_or('-'));
    }
    club.posts(lifter, 4, "07:00", "/history");
    let log = club.last.iter().find_map(|line| line["text"].as_str());
    let log = log.unwrap_or_default().lines().skip(1);
    format!("{marks} {}", log.collect::<Vec<_>>().join(", "))
}

fn check(rows: &[(&str, &str)]) {
    let mut club = Club::begin();
    let wrong = rows
        .iter()
        .enumerate()
        .filter_map(|(place, (posts, expected))| {
            let found = played(&mut club, &format!("lifter{place}"), posts);
            (found.trim() != *expected)
                .then(|| format!("{posts}\n    {}\n    not {expected}", found.trim()))
        });
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn what_has_no_name_is_of_the_exercise_at_hand_and_never_of_an_older_one() {
    check(&[
        (
            "A1 bench 60x10 A2 row 50x12 | A1 9 A2 11",
            "++ bench press 60 kg × 10, barbell row 50 kg × 12, bench press 60 kg × 9, barbell row 50 kg × 11",
        ),
        (
            "bench 60x10 | inc db 22 10 | 8 f",
            "+?? bench press 60 kg × 10",
        ),
        (
            "bench 60x10 | inc db 22 10 | press 22 kg each hand × 10 | 8",
            "+?++ bench press 60 kg × 10, incline dumbbell press 22 kg each hand × 10 · 8",
        ),
        (
            "row 60x10 | leg press pin 10 x 12 | x10",
            "+++ barbell row 60 kg × 10, leg press pin 10 × 12 · 10",
        ),
        (
            "row 60x10 | hack squat 2 plates a side x 10 | x9",
            "+?? barbell row 60 kg × 10",
        ),
        (
            "bench 60x10 | farmers walk 40s 30m | x9",
            "+-? bench press 60 kg × 10",
        ),
        (
            "bench 60x10 | sled push 80 20m | x9",
            "+-? bench press 60 kg × 10",
        ),
        (
            "bench 60x10 | larsens 40x8 | 7",
            "+?? bench press 60 kg × 10",
        ),
        (
            "squat 100x5 | bench 600x5 | x5",
            "+?? back squat 100 kg × 5",
        ),
        (
            "bench 60x10 | bus 20 min | x9",
            "+-+ bench press 60 kg × 10 · 9",
        ),
        (
            "bench 60x10 | see you at 7 | x9",
            "+-+ bench press 60 kg × 10 · 9",
        ),
        (
            "bench 60x10 | leg press x 12 | press Not a set | x9",
            "+??+ bench press 60 kg × 10 · 9",
        ),
        (
            "bench 60 10 2rir | row 50 10 2 | 10 1 | press Yes",
            "+??+ bench press 60 kg × 10, 2 left, barbell row 50 kg × 10, 1 left",
        ),
    ]);
}

#[test]
fn what_is_told_in_part_is_told_by_what_was_done_before() {
    check(&[
        (
            "leg extension 50x12 | leg curl 40x12 | extension again 12",
            "+++ leg extension 50 kg × 12, lying leg curl 40 kg × 12, leg extension 50 kg × 12",
        ),
        (
            "leg ext 45x15 ss leg curl 35x12 | again",
            "++ leg extension 45 kg × 15, lying leg curl 35 kg × 12, leg extension 45 kg × 15, lying leg curl 35 kg × 12",
        ),
        (
            "gonna hit 100 on squat today | 80x3",
            "-+ back squat 80 kg × 3",
        ),
        (
            "plank 40 seconds | again 35",
            "++ plank body weight × 40 s · 35 s",
        ),
        (
            "bench 60x10 | 45x10, 3-4 left",
            "++ bench press 60 kg × 10; 45 kg × 10, 3–4 left",
        ),
        (
            "incline db 30x10 | glute bridges 15 no weight",
            "++ incline dumbbell press 30 kg each hand × 10, glute bridge body weight × 15",
        ),
        (
            "squat 60 5x5 | it was 4 sets not 5",
            "+? back squat 60 kg × 5 · 5 · 5 · 5",
        ),
        (
            "bench 50 3x8 | make that 4 sets",
            "++ bench press 50 kg × 8 · 8 · 8 · 8",
        ),
        (
            "row 40x10 | 42.5x10 | ignore the first one",
            "++? barbell row 42.5 kg × 10",
        ),
        ("row 40x10 | 42.5x10 | undo", "++? barbell row 40 kg × 10"),
        (
            "split squat 14s 10/leg | left leg only got 7",
            "+? split squat 14 kg each hand × 7",
        ),
    ]);
}

#[test]
fn a_small_number_for_a_machine_may_be_a_pin() {
    check(&[
        (
            "machine chest press 12 reps | 8 | press pin 8",
            "??+ machine chest press pin 8 × 12",
        ),
        (
            "machine chest press pin 8 x 12 | pin 9 x 10, 2 left",
            "++ machine chest press pin 8 × 12; pin 9 × 10, 2 left",
        ),
        ("row 12 reps | 60", "?+ barbell row 60 kg × 12"),
    ]);
}

#[test]
fn efforts_told_afterwards_are_of_the_sets_they_name() {
    check(&[
        (
            "row 40x10 x2 | they were all 2 left",
            "+? barbell row 40 kg × 10, 2 left · 10, 2 left",
        ),
        (
            "bench 40x10 x3 | first one 3 left, then 2, then 1",
            "+? bench press 40 kg × 10, 3 left · 10, 2 left · 10, 1 left",
        ),
        (
            "bench 40x10 x3 | the bench sets were about 2 in reserve, last one 1",
            "+? bench press 40 kg × 10, 2 left · 10, 2 left · 10, 1 left",
        ),
        (
            "bench 40x10 x2 | first one 3 left, then 2, then 1",
            "+- bench press 40 kg × 10 · 10",
        ),
        ("row 40x10 | 2 left", "+? barbell row 40 kg × 10, 2 left"),
        (
            "row 40x10 | failed the 11th",
            "+? barbell row 40 kg × 10, to failure",
        ),
        // Words of efforts in what is none.
        (
            "row 40x10 | nothing left in my bottle | could have slept 3 more hours",
            "+-- barbell row 40 kg × 10",
        ),
        (
            "row 40x10 | he had 2 left easy | supposed to be rpe 8",
            "+-- barbell row 40 kg × 10",
        ),
    ]);
}

#[test]
fn a_muscle_stands_for_the_exercise_that_is_done_for_it() {
    check(&[
        (
            "pushdown 25x12 | tris 25x11",
            "++ triceps pushdown 25 kg × 12 · 11",
        ),
        ("bench 60x10 | calves 60x15", "+? bench press 60 kg × 10"),
    ]);
}

#[test]
fn what_cannot_be_or_says_no_more_than_a_name_is_held_apart() {
    check(&[
        ("squat 100x50", "?"),
        ("hip abductor 40kg 15 15", "+ hip abduction 40 kg × 15 · 15"),
    ]);
}

#[test]
fn more_or_less_than_before_is_no_load_of_its_own() {
    check(&[
        (
            "bench 60x10 | +2.5 x8",
            "++ bench press 60 kg × 10; 62.5 kg × 8",
        ),
        (
            "bench 60x10 | -5 x10",
            "++ bench press 60 kg × 10; 55 kg × 10",
        ),
        (
            "bench 60x10 | 2.5 more, x6",
            "++ bench press 60 kg × 10; 62.5 kg × 6",
        ),
        (
            "bench 60x10 | +2.5, 8",
            "++ bench press 60 kg × 10; 62.5 kg × 8",
        ),
        (
            "bench 60x10 | +2.5 | x7",
            "+-+ bench press 60 kg × 10; 62.5 kg × 7",
        ),
        ("dips +5 x8 | +10 x6", "++ dip +5 kg × 8; +10 kg × 6"),
        ("bench 60x10 | +1", "+- bench press 60 kg × 10"),
    ]);
}

#[test]
fn numbers_by_themselves_go_on_where_they_are_near() {
    check(&[
        ("bench 60x10 | 9 | 8", "+++ bench press 60 kg × 10 · 9 · 8"),
        ("squat 100x5 | 5 | 5", "+++ back squat 100 kg × 5 · 5 · 5"),
        (
            "bench 60 10 2rir | 10 1 | 9 0",
            "+++ bench press 60 kg × 10, 2 left · 10, 1 left · 9, to failure",
        ),
        ("bench 60x10 | 2", "+? bench press 60 kg × 10"),
        ("bench 60x10 | 25", "+? bench press 60 kg × 10"),
    ]);
}

#[test]
fn short_names_are_asked_about_and_never_passed_over() {
    check(&[
        (
            "le 50 15 | press leg extension",
            "?+ leg extension 50 kg × 15",
        ),
        (
            "lr 8 15 15 14 | press lateral raise",
            "?+ lateral raise 8 kg each hand × 15 · 15 · 14",
        ),
        ("fp 15 20 | press face pull", "?+ face pull 15 kg × 20"),
        ("lc 30 12", "?"),
        ("cr 60 15", "?"),
        ("bench 60x10 | pu 8", "+? bench press 60 kg × 10"),
        ("tri 20 12", "?"),
        ("abs 3x15", "?"),
        ("bench 60x10 | pd 25 12 12 11", "+? bench press 60 kg × 10"),
        ("mon 20 15", "-"),
        ("ok 9 10", "-"),
    ]);
}

#[test]
fn a_bell_a_body_mass_and_the_end_are_told_in_words() {
    let mut club = Club::begin();
    club.says(2, "17:00", "bench 60x10");
    assert_eq!(
        club.says(2, "17:00:10", "ping me in 5 min"),
        "I ring in 5:00."
    );
    assert_eq!(club.passes(2, "17:04"), "");
    let rung = club.passes(2, "17:05:30");
    assert!(rung.contains("rest over"), "{rung}");
    let mass = club.says(2, "17:06", "weighed in at 62.4 this morning");
    assert_eq!(mass, "Your body mass is 62.4 kg.");
    assert_eq!(club.says(2, "17:07", "done"), "");
    club.says(2, "17:08", "x9");
    let over = club.says(2, "17:09", "done");
    assert!(over.starts_with("Session over: 2 sets"), "{over}");
}
