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
        ("/rest off", Command::Rest(Some(Bells::Off))),
        ("/rest Private", Command::Rest(Some(Bells::Private))),
        ("/digest", Command::Digest(DigestCommand::Show)),
        (
            "/digest mine on",
            Command::Digest(DigestCommand::Mine(true)),
        ),
        (
            "/digest line off",
            Command::Digest(DigestCommand::Line(false)),
        ),
        ("/week", Command::Week(None, Which::This)),
        ("/week last week", Command::Week(None, Which::Last)),
        (
            "/week Ines",
            Command::Week(Some("ines".to_owned()), Which::This),
        ),
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
fn hours_of_quiet_and_of_the_digest_are_read_and_odd_ones_are_not() {
    let cases = [
        ("quiet 22:00-07:00", Setting::Quiet(Some((1320, 420)))),
        ("quiet 22-7", Setting::Quiet(Some((1320, 420)))),
        ("quiet 12.30 – 13.45", Setting::Quiet(Some((750, 825)))),
        ("quiet off", Setting::Quiet(None)),
        ("digest sun 18:00", Setting::DigestAt(Weekday::Sun, 1080)),
        ("digest Monday 7:30", Setting::DigestAt(Weekday::Mon, 450)),
        ("digest here", Setting::DigestHere),
        ("digest off", Setting::DigestOn(false)),
    ];
    for (text, expected) in cases {
        let command = read(&format!("/settings {text}"));
        assert_eq!(command, Some(Command::Settings(Some(expected))), "{text}");
    }
    for text in [
        "quiet",
        "quiet 22:00",
        "quiet 24:00-7:00",
        "quiet 7:00-7:00",
        "quiet 7:5-8:00",
        "digest",
        "digest sun",
        "digest noday 18:00",
        "digest sun 18:60",
        "digest sun +1:00",
    ] {
        let command = read(&format!("/settings {text}"));
        assert!(matches!(command, Some(Command::Misused(_))), "{text}");
    }
    assert!(matches!(read("/digest mine"), Some(Command::Misused(_))));
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

#[test]
fn orders_name_whom_which_week_and_what() {
    let member = |name: &str| Whom::Member(name.to_owned());
    let write = |text: &str| Action::Write(text.to_owned());
    let like = |name: &str| Action::Like(name.to_owned());
    let date = WeekSaid::Of("2026-12-07".parse().unwrap());
    let this = WeekSaid::This;
    let plans = [
        ("/plan", Whom::Own, this, Action::Show),
        ("/plan next week", Whom::Own, WeekSaid::Next, Action::Show),
        ("/plan Ines", member("ines"), this, Action::Show),
        (
            "/plan Ana Lu next week",
            member("ana lu"),
            WeekSaid::Next,
            Action::Show,
        ),
        (
            "/plan Ines\nmon: squat 4x8",
            member("ines"),
            this,
            write("mon: squat 4x8"),
        ),
        (
            "/plan Ines mon: squat 4x8",
            member("ines"),
            this,
            write("mon: squat 4x8\n"),
        ),
        (
            "/plan Ines mon, thu: squat 4x8",
            member("ines"),
            this,
            write("mon, thu: squat 4x8\n"),
        ),
        (
            "/plan Ines mon and thu: x 4x8",
            member("ines"),
            this,
            write("mon and thu: x 4x8\n"),
        ),
        (
            "/plan Ines thr: squat 4x8",
            member("ines"),
            this,
            write("thr: squat 4x8\n"),
        ),
        (
            "/plan Ana Lu:\nmon: x",
            member("ana lu"),
            this,
            write("mon: x"),
        ),
        (
            "/plan Ines from 2026-12-07\nmon: x",
            member("ines"),
            date,
            write("mon: x"),
        ),
        (
            "/plan team next week mon: x",
            Whom::Team,
            WeekSaid::Next,
            write("mon: x\n"),
        ),
        (
            "/plan\nfor Ines:\nmon: x",
            Whom::Named,
            this,
            write("for Ines:\nmon: x"),
        ),
        (
            "/plan for Ines: mon: x",
            Whom::Named,
            this,
            write("for Ines: mon: x\n"),
        ),
        ("/plan Tomas like Ines", member("tomas"), this, like("ines")),
        (
            "/plan Tomas next week like @Ines",
            member("tomas"),
            WeekSaid::Next,
            like("ines"),
        ),
        (
            "/plan Tomas like Ines next week",
            member("tomas"),
            WeekSaid::Next,
            like("ines"),
        ),
        ("/plan team none", Whom::Team, this, Action::Drop),
        ("/plan none", member("none"), this, Action::Show),
    ];
    for (text, whom, week, action) in plans {
        let expected = Command::Plan(Order { whom, week, action });
        assert_eq!(read(text), Some(expected), "{text}");
    }
    let blocks = [
        (
            "/block Ines 2rir; 1rir",
            member("ines"),
            this,
            write("2rir; 1rir\n"),
        ),
        (
            "/block Ines next week +1rir",
            member("ines"),
            WeekSaid::Next,
            write("+1rir\n"),
        ),
        (
            "/block team from 2026-12-07 1-2: 2rir",
            Whom::Team,
            date,
            write("1-2: 2rir\n"),
        ),
        (
            "/block Ines week 1: 2rir",
            member("ines"),
            this,
            write("week 1: 2rir\n"),
        ),
        (
            "/block Ines as planned; 60%",
            member("ines"),
            this,
            write("as planned; 60%\n"),
        ),
        ("/block Ines none", member("ines"), this, Action::Drop),
    ];
    for (text, whom, week, action) in blocks {
        let expected = Command::Block(Order { whom, week, action });
        assert_eq!(read(text), Some(expected), "{text}");
    }
    let targets = [
        ("/target", Whom::Own, this, Action::Show),
        ("/target Ines", member("ines"), this, Action::Show),
        (
            "/target Ines next week chest 10-14",
            member("ines"),
            WeekSaid::Next,
            write("chest 10-14\n"),
        ),
        (
            "/target Ines from 2026-12-07",
            member("ines"),
            date,
            Action::Show,
        ),
        (
            "/target Ines upper back 10-14",
            member("ines"),
            this,
            write("upper back 10-14\n"),
        ),
        (
            "/target Ana Lu: chest 10-14",
            member("ana lu"),
            this,
            write("chest 10-14\n"),
        ),
        ("/target team usual", Whom::Team, this, write("usual\n")),
        (
            "/target Ines\nchest 10-14",
            member("ines"),
            this,
            write("chest 10-14"),
        ),
    ];
    for (text, whom, week, action) in targets {
        let expected = Command::Target(Order { whom, week, action });
        assert_eq!(read(text), Some(expected), "{text}");
    }
}

#[test]
fn orders_that_do_not_go_together_are_misused() {
    for text in [
        "/plan like Ines",
        "/plan Tomas like",
        "/plan Tomas like Ines\nmon: squat 4x8",
        "/plan Tomas none\nmon: squat 4x8",
        "/today soon",
    ] {
        let command = read(text);
        assert!(
            matches!(command, Some(Command::Misused(_))),
            "{text}: {command:?}"
        );
    }
    assert_eq!(
        read("/today thurs"),
        Some(Command::Today(Some(Weekday::Thu)))
    );
    assert_eq!(
        read("/warmup squat"),
        Some(Command::WarmUp(Some("squat".to_owned())))
    );
}

#[test]
fn minutes_are_read_with_and_without_their_unit() {
    let fit = |minutes, pairs| Some(Command::Fit { minutes, pairs });
    let cases = [
        ("/fit 45", fit(45, None)),
        ("/fit 45min", fit(45, None)),
        ("/fit 45 minutes pairs", fit(45, Some(true))),
        ("/fit 1h straight", fit(60, Some(false))),
        ("/fit 2 hours", fit(120, None)),
        // Too few is for the answer to say.
        ("/fit 0", fit(0, None)),
    ];
    for (text, expected) in cases {
        assert_eq!(read(text), expected, "{text}");
    }
    for text in [
        "/fit",
        "/fit soon",
        "/fit -5",
        "/fit 45 sets",
        "/fit 99999999999",
    ] {
        let command = read(text);
        assert!(matches!(command, Some(Command::Misused(_))), "{text}");
    }
}

#[test]
fn notes_keep_their_letters_and_tables_take_no_words() {
    let ines = || "ines".to_owned();
    let kept = |shared, text: &str| NoteCommand::Keep {
        member: ines(),
        shared,
        text: text.to_owned(),
    };
    for (text, command) in [
        (
            "/note Ines Knee: box squats",
            kept(false, "Knee: box squats"),
        ),
        ("/note Ines private Knee", kept(false, "Knee")),
        ("/note Ines shared: Well done", kept(true, "Well done")),
        (
            "/note Ines delete the old box",
            kept(false, "delete the old box"),
        ),
        ("/note Ines delete 2", NoteCommand::Delete(ines(), 2)),
        ("/note Ines", NoteCommand::Show(ines())),
        ("/note", NoteCommand::Own),
    ] {
        assert_eq!(read(text), Some(Command::Note(command)), "{text}");
    }
    assert_eq!(read("/team"), Some(Command::Team(Which::This)));
    assert_eq!(
        read("/attention"),
        Some(Command::Attention(AttentionCommand::Show(Which::This)))
    );
    for text in ["/note Ines shared", "/team all", "/attention Ines"] {
        assert!(matches!(read(text), Some(Command::Misused(_))), "{text}");
    }
}

#[test]
fn a_week_may_be_named_by_a_day_of_it() {
    let day = NaiveDate::from_ymd_opt(2026, 11, 10).unwrap();
    let ines = Some("ines".to_owned());
    for (text, command) in [
        ("/week 2026-11-10", Command::Week(None, Which::Of(day))),
        ("/week Ines 2026-11-10", Command::Week(ines, Which::Of(day))),
        ("/team 2026-11-10", Command::Team(Which::Of(day))),
        (
            "/attention 2026-11-10",
            Command::Attention(AttentionCommand::Show(Which::Of(day))),
        ),
    ] {
        assert_eq!(read(text), Some(command), "{text}");
    }
}

#[test]
fn coaches_choose_what_they_hear_of_and_dismiss() {
    let kinds = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect();
    for (text, command) in [
        (
            "/attention off stall, form",
            AttentionCommand::Hear(kinds(&["stall", "form"]), false),
        ),
        (
            "/attention on Ramping",
            AttentionCommand::Hear(kinds(&["ramping"]), true),
        ),
        (
            "/attention dismiss Ines",
            AttentionCommand::Dismiss("ines".to_owned()),
        ),
    ] {
        assert_eq!(read(text), Some(Command::Attention(command)), "{text}");
    }
}

#[test]
fn a_review_is_of_six_weeks_unless_said_otherwise() {
    let review = |member: Option<&str>, weeks| {
        let member = member.map(str::to_owned);
        Some(Command::Review { member, weeks })
    };
    assert_eq!(read("/review Ines"), review(Some("ines"), 6));
    assert_eq!(read("/review Ines 8 weeks"), review(Some("ines"), 8));
    assert_eq!(read("/review 4 weeks"), review(None, 4));
    for text in ["/review Ines 0 weeks", "/review Ines many weeks"] {
        assert!(matches!(read(text), Some(Command::Misused(_))), "{text}");
    }
}
