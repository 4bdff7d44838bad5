//! Exercises done in turn, through the whole program: the rest counts from the end of a round, one bell
//! rings for it, and it names what comes next.

use crate::support::club::Club;

/// The texts of the cards that came of the last event.
fn card_of(club: &Club, exercise: &str) -> Option<String> {
    let begins = format!("Wren, {exercise}: ");
    let mut texts = club.last.iter().filter_map(|line| line["text"].as_str());
    let card = texts.rfind(|text| text.starts_with(&begins));
    card.map(str::to_owned)
}

/// The bell that rings next after this minute, as the clock goes on by ten seconds, with its time.
fn next_bell(club: &mut Club, hour: u32, from_minute: u32) -> Option<(String, String)> {
    (0..60).find_map(|step| {
        let seconds = from_minute * 60 + step * 10;
        let time = format!("{hour:02}:{:02}:{:02}", seconds / 60, seconds % 60);
        let rung = club.passes(16, &time);
        let text = rung.lines().find(|line| line.contains("rest over"))?;
        Some((time, text.to_owned()))
    })
}

fn with_a_planned_pair() -> Club {
    let mut club = Club::begin();
    let plan =
        "/plan wren mon: bench press 3x8-12 1rir + barbell row 3x8-12 1rir; leg curl 2x10-15 1rir";
    club.posts("marta*", 9, "09:00", plan);
    club
}

#[test]
fn a_planned_pair_has_one_bell_that_names_what_comes_next() {
    let mut club = with_a_planned_pair();
    club.says(16, "17:00", "bench 60x10, 1 left");
    assert!(
        card_of(&club, "bench press").is_some_and(|card| card.contains("after barbell row")),
        "{:?}",
        club.last
    );
    // Nothing rings within a round, however long it takes.
    assert!(!club.passes(16, "17:04").contains("rest over"));
    club.says(16, "17:05", "row 50x10, 1 left");
    let row = card_of(&club, "barbell row").expect("a card");
    assert!(row.contains("then bench press 60 kg, expect"), "{row}");
    let bench = card_of(&club, "bench press").expect("the card shown anew");
    assert!(
        bench.contains("60 kg again") && !bench.contains("barbell row"),
        "{bench}"
    );
    club.says(16, "17:06", "x10");
    club.says(16, "17:06", "undo");
    club.says(16, "17:09", "bench 60x9, 1 left");
    let bench = card_of(&club, "bench press").expect("a card");
    assert!(bench.contains("Now barbell row 50 kg, expect"), "{bench}");
    let row = card_of(&club, "barbell row").expect("the card shown anew");
    assert!(row.contains("50 kg again, go now"), "{row}");
    club.says(16, "17:10", "row 50x9, 1 left");
    let row = card_of(&club, "barbell row").expect("a card");
    let (time, bell) = next_bell(&mut club, 17, 10).expect("a bell");
    assert!(
        bell.contains("Wren, bench press: rest over: 60 kg, expect"),
        "{bell}"
    );
    // Not before the rest that the card named, counted from the end of the pair.
    let rest = row.split_once("\nRest ").expect("a rest").1;
    let rest = rest.split_once(',').expect("a rest").0;
    let (minutes, seconds) = rest.split_once(':').expect("minutes");
    let rest =
        minutes.parse::<u32>().expect("minutes") * 60 + seconds.parse::<u32>().expect("seconds");
    let rung: u32 = time[3..5].parse::<u32>().expect("minutes") * 60
        + time[6..].parse::<u32>().expect("seconds");
    let after = rung - 10 * 60;
    assert!(
        after >= rest && after < rest + 10,
        "{rest} s, rang after {after} s"
    );
    assert_eq!(next_bell(&mut club, 17, 20), None);
}

#[test]
fn a_posted_superset_is_a_round_and_another_one_begins_anew() {
    let mut club = Club::begin();
    club.says(
        16,
        "17:00",
        "superset bench 60x10, 1 left + row 50x10, 1 left",
    );
    let (_, bell) = next_bell(&mut club, 17, 0).expect("a bell");
    assert!(
        bell.contains("Wren, bench press: rest over: 60 kg"),
        "{bell}"
    );
    club.says(16, "17:10", "superset curl 30x10, 1 left");
    club.says(16, "17:11", "superset triceps pushdown 30x10, 1 left");
    let card = card_of(&club, "triceps pushdown").expect("a card");
    assert!(card.contains("then barbell curl 30 kg"), "{card}");
    assert!(card.contains("after barbell curl"), "{card}");
    let (_, bell) = next_bell(&mut club, 17, 11).expect("a bell");
    assert!(bell.contains("Wren, barbell curl: rest over"), "{bell}");
    // The second one's turn comes behind the first one's second set.
    club.says(16, "17:15", "superset curl 30x9, 1 left");
    let card = card_of(&club, "barbell curl").expect("a card");
    assert!(card.contains("Now triceps pushdown 30 kg"), "{card}");
    assert!(
        club.says(16, "17:15:30", "what next?")
            .starts_with("triceps pushdown")
    );
}

#[test]
fn readiness_is_said_of_the_one_whose_turn_it_is() {
    let mut club = with_a_planned_pair();
    club.says(16, "17:00", "bench 60x10, 1 left");
    club.says(16, "17:01", "row 50x10, 1 left");
    let waits = club.says(16, "17:01:30", "still out of breath");
    assert!(waits.starts_with("Wren, bench press: wait"), "{waits}");
    let goes = club.says(16, "17:04", "ready");
    assert!(
        goes.starts_with("Wren, bench press: 60 kg again, go when ready"),
        "{goes}"
    );
}

#[test]
fn who_does_one_of_a_pair_by_itself_gets_a_bell_for_it() {
    let mut club = with_a_planned_pair();
    club.says(16, "17:00", "bench 60x10, 1 left");
    club.says(16, "17:04", "bench 60x9, 1 left");
    let (_, bell) = next_bell(&mut club, 17, 4).expect("a bell");
    assert!(bell.contains("Wren, bench press: rest over"), "{bell}");
}

#[test]
fn the_last_set_of_a_pair_leaves_the_other_with_its_own_rest() {
    let mut club = with_a_planned_pair();
    for minute in [0, 4, 8] {
        club.says(16, &format!("17:{minute:02}"), "bench 60x8, 1 left");
        club.says(16, &format!("17:{:02}", minute + 1), "row 50x8, 1 left");
    }
    let card = card_of(&club, "barbell row").expect("a card");
    assert!(card.contains("leg curl"), "{card}");
    assert_eq!(next_bell(&mut club, 17, 10), None);
}
