//! Slash words with good, odd and broken arguments.

use super::*;

fn mass(value: f64, unit: Option<Unit>) -> Command {
    Command::Bodyweight(Some(Amount { value, unit }))
}

#[test]
fn commands_are_read_with_their_arguments() {
    let next = |exercise: Option<&str>, why| Command::Next {
        exercise: exercise.map(str::to_owned),
        why,
    };
    let cases = [
        ("/next", next(None, false)),
        ("/next why", next(None, true)),
        ("/next Bench Press why", next(Some("bench press"), true)),
        ("/NEXT squat", next(Some("squat"), false)),
        ("/rest", Command::Rest(None)),
        ("/rest off", Command::Rest(Some(false))),
        ("/week", Command::Week(None)),
        ("/week Ines", Command::Week(Some("ines".to_owned()))),
        ("/units lbs", Command::Units(Some(Unit::Lb))),
        ("/bodyweight 82,5", mass(82.5, None)),
        ("/bodyweight 180 lb", mass(180.0, Some(Unit::Lb))),
        ("/bodyweight 82kg", mass(82.0, Some(Unit::Kg))),
        ("/experience 3 years", Command::Experience(Some(36))),
        ("/experience 18 months", Command::Experience(Some(18))),
        ("/experience 0.5 years", Command::Experience(Some(6))),
        (
            "/settings week-start sunday",
            Command::Settings(Some(Setting::WeekStart(Weekday::Sun))),
        ),
    ];
    for (text, expected) in cases {
        assert_eq!(read(text), Some(expected), "{text}");
    }
}

#[test]
fn a_rack_is_read_part_by_part() {
    let cases = [
        ("/rack", RackCommand::Show),
        ("/rack usual", RackCommand::Usual),
        (
            "/rack bar 15",
            RackCommand::Bar(Amount {
                value: 15.0,
                unit: None,
            }),
        ),
        ("/rack discs 20x2 10 1.25", {
            RackCommand::Discs(vec![(20.0, 2), (10.0, 1), (1.25, 1)], None)
        }),
        (
            "/rack discs 45x3 lb",
            RackCommand::Discs(vec![(45.0, 3)], Some(Unit::Lb)),
        ),
        (
            "/rack dumbbells 2-40 step 2",
            RackCommand::Dumbbells([2.0, 2.0, 40.0], None),
        ),
        (
            "/rack stack 5–100 step 5 kg",
            RackCommand::Stack([5.0, 5.0, 100.0], Some(Unit::Kg)),
        ),
    ];
    for (text, expected) in cases {
        assert_eq!(read(text), Some(Command::Rack(expected)), "{text}");
    }
}

#[test]
fn arguments_that_do_not_fit_show_how_it_goes() {
    for text in [
        "/units stone",
        "/rest maybe",
        "/bodyweight -80",
        "/bodyweight 80 stone",
        "/bodyweight nan",
        "/experience 3",
        "/experience 900 years",
        "/rack discs",
        "/rack discs 0x2",
        "/rack discs 20x0",
        "/rack dumbbells 2 40",
        "/clear",
        "/catalogue",
        "/catalogue add boatman pull",
        "/settings week-start someday",
    ] {
        let command = read(text);
        assert!(
            matches!(command, Some(Command::Misused(_))),
            "{text}: {command:?}"
        );
    }
}

#[test]
fn an_unknown_word_names_the_nearest() {
    let unknown = |word: &str, nearest| Some(Command::Unknown(word.to_owned(), nearest));
    assert_eq!(read("/nxt"), unknown("nxt", Some("next")));
    assert_eq!(read("/frobnicate"), unknown("frobnicate", None));
}

#[test]
fn a_slash_without_a_word_is_no_command() {
    for text in ["/", "/ next", "/8", "bench 80/8", ""] {
        assert_eq!(read(text), None, "{text}");
    }
}

#[test]
fn an_added_exercise_is_read_whole() {
    let text = "/catalogue add Boatman Pull like barbell row target back helpers biceps, forearms short bpull";
    let list = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect();
    let expected = CatalogueCommand::Add {
        name: "boatman pull".to_owned(),
        target: "back".to_owned(),
        helpers: list(&["biceps", "forearms"]),
        like: "barbell row".to_owned(),
        aliases: list(&["bpull"]),
    };
    assert_eq!(read(text), Some(Command::Catalogue(expected)));
}
