//! What a coach says and asks of members and of the team in words, on both engines.

use crate::support::club::Club;
use crate::support::engines;

/// Kim coaches Ana, Ben, Cleo, Dov, Eli and Fay.
fn club(url: &str) -> Club {
    let mut club = Club::at(url);
    club.posts("kim*", 2, "17:00", "/attention");
    for (minute, (who, set)) in (10..).zip([
        ("ana", "squat 60x8, 2 left"),
        ("ben", "bench 62.5x8, 2 left"),
        ("cleo", "squat 40x8, 2 left"),
        ("dov", "squat 30x8, 2 left"),
        ("eli", "squat 35x8, 2 left"),
        ("fay", "bench 32.5x8, 2 left"),
    ]) {
        club.posts(who, 2, &format!("17:{minute}"), set);
    }
    club
}

/// What a row must answer with; a `!` before what must not stand there. Without any, nothing is said.
fn check(club: &mut Club, rows: &[(&str, &[&str])]) {
    let rows: Vec<(&str, &str, &[&str])> = rows
        .iter()
        .map(|(text, expected)| ("kim*", *text, *expected))
        .collect();
    play(club, &rows);
}

/// The same of several writers.
fn play(club: &mut Club, rows: &[(&str, &str, &[&str])]) {
    for (minute, (who, text, expected)) in (10..).zip(rows) {
        let time = format!("{}:{:02}", 18 + minute / 60, minute % 60);
        let said = club.posts(who, 2, &time, text);
        assert!(expected.is_empty() == said.is_empty(), "{text}: {said}");
        for words in *expected {
            match words.strip_prefix('!') {
                Some(words) => assert!(!said.contains(words), "{text}: {said}"),
                None => assert!(said.contains(words), "{text}: {words} in {said}"),
            }
        }
    }
}

#[test]
fn sets_of_a_member_are_never_the_coachs() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        check(
            &mut club,
            &[
                (
                    "log for cleo: squat 60x8, 60x8",
                    &["Only Cleo can log", "`squat 60x8, 60x8`"],
                ),
                ("cleo's squats: 60x8, 60x8, 60x7", &["Only Cleo can log"]),
                ("squat for cleo 60x8 1 left", &["Only Cleo can log"]),
                (
                    "cleo forgot to log: squat 60x8, 60x7",
                    &["Only Cleo can log"],
                ),
                ("log for ana: bench 60x8, 60x7", &["Only Ana can log"]),
                ("ana's second set was 7 not 8", &["Only Ana can change"]),
                ("delete ben's last set", &["Only Ben can change"]),
                ("ben did 10 not 8", &["Only Ben can change"]),
                ("undo ben", &["Only Ben can change"]),
                ("ben hit 100x5 on bench, huge!", &[]),
                ("see you at 6, ana", &[]),
                ("/history", &["no set yet"]),
                ("bench 80x5, 2 left", &["80 kg"]),
            ],
        );
    });
}

#[test]
fn questions_are_answered_for_the_member_named_or_the_team() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        check(
            &mut club,
            &[
                (
                    "how many sets did fay do for legs?",
                    &["Fay, Monday", "32.5 kg"],
                ),
                (
                    "what did ben do last time?",
                    &["As Ben would read it", "62.5 kg"],
                ),
                ("ben's best bench?", &["As Ben would read it", "62.5 kg"]),
                (
                    "when did eli last train?",
                    &["As Eli would read it", "35 kg"],
                ),
                ("what does ana squat?", &["As Ana would read it", "60 kg"]),
                (
                    "what should ben load on bench?",
                    &["As Ben would read it", "62.5 kg"],
                ),
                ("show ana's plan", &["Ana"]),
                ("ana's week", &["Ana, Monday", "60 kg"]),
                ("did cleo train?", &["As Cleo would read it", "40 kg"]),
                ("how is ana doing?", &["Ana, 1 week"]),
                ("where's eli?", &["Eli, 1 week"]),
                ("is ben resting enough?", &["Ben, 1 week"]),
                ("who skipped legs?", &["Counted sets", "Fay"]),
                ("team status", &["Counted sets"]),
                ("show me the team", &["Counted sets"]),
                ("who hasn't trained this week?", &["need"]),
                ("anyone hurt?", &["need"]),
                ("is cleo still hurt?", &["need"]),
                ("/history ana squat", &["As Ana would read it", "60 kg"]),
                ("/best ana", &["As Ana would read it"]),
                ("/next ana squat", &["As Ana would read it"]),
                ("/today ana", &["As Ana would read it"]),
                ("ana, how many left on that last one?", &[]),
                ("my best bench?", &["!Ana", "!Ben"]),
            ],
        );
        // Nothing of it was stored with Ana: her next set is greeted as her second.
        let said = club.posts("ana", 2, "21:00", "/history squat");
        assert!(said.contains("the one day"), "{said}");
    });
}

#[test]
fn what_a_coach_tells_of_a_members_health_is_the_members() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        check(
            &mut club,
            &[
                ("/attention on ramping", &["ramping", "!inhaler"]),
                ("ben keeps ramping", &[]),
                ("remember: sharp pain = stop", &[]),
                ("ana fainted at work yesterday", &["Is Ana hurt?"]),
                ("dov broke his finger", &["Noted for Dov", "hand"]),
                ("eli is pregnant, 10 weeks", &["Noted for Eli: pregnant"]),
                ("fay had a hernia op", &["Noted for Fay: an operation"]),
                (
                    "fay won't make it tonight, chest infection",
                    &["Fay is away on Monday 2 November"],
                ),
                ("/hurt ben elbow", &["Noted for Ben", "elbow"]),
                ("cleo told me her wrist hurts", &["Noted for Cleo", "wrist"]),
                (
                    "/attention",
                    &["Ben", "Cleo", "Dov", "Eli", "Fay", "!Kim\n"],
                ),
            ],
        );
        let told = club.posts("kim*", 2, "21:00", "ben's knee hurts, too");
        assert!(told.contains("Noted for Ben"), "{told}");
        let replies = club.last.iter().filter(|line| line["type"] == "reply");
        let mut private = replies.map(|line| line["private"] == true);
        assert!(private.all(|private| private), "{:?}", club.last);
    });
}

#[test]
fn orders_change_what_they_name_and_make_no_members_of_slips() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        check(
            &mut club,
            &[
                ("/plan ana mon: squat 3x8; wed: bench 3x8", &["Plan of Ana"]),
                (
                    "/plan ana wed: bench 4x8",
                    &["back squat 3x8", "bench press 4x8", "the other days stay"],
                ),
                (
                    "/plan ana fri: + calf raise 3x15",
                    &["back squat 3x8", "bench press 4x8", "calf raise 3x15"],
                ),
                (
                    "/plan ana tue: row 3x8; thu: row 3x8",
                    &["To have that back, post it again:\n/plan Ana\nmon:\n  back squat 3x8"],
                ),
                (
                    "/plan ana and ben\nmon: squat 3x8",
                    &["Plan set for Ana and Ben"],
                ),
                (
                    "/plan cleo dov\nmon: squat 3x8",
                    &["Plan set for Cleo and Dov"],
                ),
                (
                    "/plan ana from 16 nov\nmon: squat 3x8",
                    &["from Monday 16 November"],
                ),
                (
                    "/plan ana from friday\nmon: squat 3x8",
                    &["from Monday 2 November"],
                ),
                (
                    "/plan ana week 3\nmon: squat 3x8",
                    &["Nobody here is called `ana week 3`"],
                ),
                (
                    "/target everyone back 12-16",
                    &["Ana, Ben, Cleo, Dov, Eli and Fay", "Back 12–16"],
                ),
                (
                    "/plan all mon: squat 3x8",
                    &["Ana, Ben, Cleo, Dov, Eli and Fay"],
                ),
                (
                    "/target bne quads 12",
                    &["Did you mean Ben?", "Nothing was changed"],
                ),
                (
                    "/plan anna new mon: squat 3x8",
                    &["Nobody called anna has posted yet"],
                ),
                ("/target anna quads 12", &["Quads 12"]),
                ("/plan anna none", &["taken away"]),
                (
                    "/target jule quads 12",
                    &["Nobody called jule has posted yet"],
                ),
                ("/target jule none", &["usual"]),
                ("/team", &["6 members", "!anna", "!jule"]),
                ("/target ana quads 12", &["Quads 12.", "quads 3 of 12"]),
                ("/target ana quads +2", &["Quads 14."]),
                ("/target ana chest +2", &["Name the whole number"]),
                (
                    "/target fay legs 12",
                    &["Quads, hamstrings, glutes and calves 12 each"],
                ),
            ],
        );
    });
}

#[test]
fn who_is_away_or_was_hurt_is_not_told_of_as_missing() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        club.posts(
            "kim*",
            2,
            "17:30",
            "/plan team mon: squat 3x8; wed: bench 3x8; fri: row 3x8",
        );
        let away = club.posts("eli", 2, "17:31", "sick this week, flu");
        assert!(
            away.contains("you are away from Monday 2 November to Sunday 8 November"),
            "{away}"
        );
        let away = club.posts("kim*", 2, "17:32", "fay's on holiday until the 20th");
        assert!(
            away.contains("Fay is away from Monday 2 November to Friday 20 November"),
            "{away}"
        );
        club.posts("cleo", 2, "17:33", "my shoulder hurts");
        club.posts("cleo", 2, "17:34", "my knee hurts");
        let lifted = club.posts("kim*", 2, "17:35", "/clear cleo all");
        assert!(
            lifted.contains("Lifted 2 reports: pain (shoulder), pain (knee)."),
            "{lifted}"
        );
        let week = club.posts("kim*", 2, "17:36", "/week cleo");
        assert!(
            week.contains("Pain (shoulder) on Monday 2 November, cleared the same day"),
            "{week}"
        );
        let list = club.posts("kim*", 8, "17:00", "/attention");
        assert!(
            list.contains("2 away") && list.contains(". Ana: Missed"),
            "{list}"
        );
        let away = "Away: Eli until Sunday 8 November; Fay until Friday 20 November.";
        assert!(list.contains(away), "{list}");
        assert!(
            list.contains("Cleo: 1 of 9 sets, pain (shoulder), cleared on Monday 2 November."),
            "{list}"
        );
        for name in [". Eli:", ". Fay:", ". Cleo:"] {
            assert!(!list.contains(name), "{list}");
        }
    });
}

#[test]
fn a_light_time_is_kept_as_it_is_said() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        for minute in ["17:30", "17:33", "17:36"] {
            club.posts("ana", 2, minute, "bench 80x8, 2 left");
        }
        let rows: &[(u32, &str, &str, &[&str])] = &[
            (4, "ana", "no deload this week", &["!Noted"]),
            (
                4,
                "ana",
                "deload until sunday",
                &["you train light until Sunday 8 November"],
            ),
            (
                4,
                "ana",
                "what do I load on bench",
                &["62.5 kg", "light on purpose"],
            ),
            (4, "ana", "bench 60x8", &["60 kg again"]),
            (6, "ana", "bench 60x8", &["60 kg again"]),
            (9, "ana", "what do I load on bench", &["80 kg", "!light"]),
            (
                9,
                "kim*",
                "fay is on a deload this week",
                &["Fay trains light until Sunday 15 November"],
            ),
        ];
        for (place, (day, who, text, wanted)) in rows.iter().enumerate() {
            let said = club.posts(who, *day, &format!("18:{:02}", 3 * place), text);
            for wanted in *wanted {
                match wanted.strip_prefix('!') {
                    Some(not) => assert!(!said.contains(not), "{text}: {said}"),
                    None => assert!(said.contains(wanted), "{text}: {said}"),
                }
            }
        }
    });
}

#[test]
fn absences_begin_and_end_as_they_are_said() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        let plan = "/plan team mon: squat 3x8; wed: bench 3x8; fri: row 3x8";
        club.posts("kim*", 2, "17:30", plan);
        let rows: &[(&str, &str, &[&str])] = &[
            (
                "ana",
                "away from wed to sunday, holiday",
                &["away from Wednesday 4 November to Sunday 8 November"],
            ),
            // A set before the start ends nothing.
            ("ana", "squat 60x8, 2 left", &["60 kg", "!You are back"]),
            (
                "ben",
                "I can't make it on friday",
                &["away on Friday 6 November"],
            ),
            (
                "dov",
                "sick today, flu. back on wednesday",
                &["away from Monday 2 November to Tuesday 3 November"],
            ),
            (
                "kim*",
                "who is away?",
                &["Away: Dov until Tuesday 3 November; Ana from Wednesday 4 November"],
            ),
            (
                "kim*",
                "is ben off?",
                &["Ben is away on Friday 6 November."],
            ),
            ("kim*", "is fay away?", &["Fay is not noted as away."]),
            (
                "kim*",
                "fay is off this week",
                &["Fay is away from Monday 2 November to Sunday 8 November"],
            ),
            ("kim*", "fay is back", &["Fay is back"]),
            (
                "kim*",
                "eli's away until friday",
                &["Eli is away from Monday 2 November to Friday 6 November"],
            ),
            // What is said without a start keeps the one that is known.
            (
                "kim*",
                "ana is away until the 20th",
                &["Ana is away from Wednesday 4 November to Friday 20 November"],
            ),
            ("cleo", "I'm back", &[]),
        ];
        play(&mut club, rows);
        // A set in that time ends it, and says so.
        let back = club.posts("ana", 5, "18:00", "bench 40x8, 2 left");
        assert!(
            back.contains("You are back: I had you as away until Friday 20 November"),
            "{back}"
        );
        // What fell into it is not missed.
        let list = club.posts("kim*", 8, "17:00", "/attention");
        assert!(
            list.contains("Ana: Missed 1 of 3 planned sessions (Friday)"),
            "{list}"
        );
        assert!(
            list.contains("Ben: Missed 1 of 2 planned sessions (Monday)"),
            "{list}"
        );
        assert!(list.contains("Dov: Missed"), "{list}");
    });
}

#[test]
fn pain_is_told_of_wherever_a_member_is_looked_at() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        let held = "is held back for now. I hold back what loads your knee";
        play(
            &mut club,
            &[
                ("ana", "my knee hurts", &["knee"]),
                ("ana", "can I squat?", &["Back squat", held]),
                ("ana", "should I do the leg press?", &["Leg press", held]),
                (
                    "ana",
                    "am I allowed to do leg extensions",
                    &["Leg extension", held],
                ),
                ("ana", "is it ok if I squat today?", &["Back squat", held]),
                (
                    "ana",
                    "can I bench?",
                    &["Bench press is not held back: it does not load your knee"],
                ),
                ("kim*", "can ana squat?", &["As Ana would read it", held]),
                // She does all the same, and coaches see it.
                ("ana", "squat 60x8, 2 left", &["You reported pain"]),
                (
                    "kim*",
                    "/attention",
                    &[
                        "pain (knee)",
                        "trained it all the same since: back squat, 1 set",
                    ],
                ),
                (
                    "kim*",
                    "is ana ok?",
                    &[
                        "Pain (knee), Monday 2 November, report 1",
                        "Trained it all the same",
                    ],
                ),
                (
                    "kim*",
                    "is ana alright?",
                    &["Pain (knee), Monday 2 November"],
                ),
                ("kim*", "/review ana", &["Pain (knee), Monday 2 November"]),
                // Good news is no report; a coach is asked whether to lift it.
                (
                    "kim*",
                    "ana's knee is fine again",
                    &["Lift the open report of Ana?"],
                ),
                ("ana", "knee is fine again", &["Your coach clears you: Kim"]),
                ("dov", "my chest feels tight", &["Stop now"]),
                (
                    "kim*",
                    "/clear dov doctor says fine",
                    &["Has a doctor cleared them"],
                ),
                (
                    "kim*",
                    "/clear all",
                    &[
                        "one member at a time",
                        "Ana: pain (knee); Dov: warning sign (chest)",
                    ],
                ),
                (
                    "kim*",
                    "/clear ana (physio cleared her)",
                    &["Lifted: pain (knee). Ana gets loads again"],
                ),
                (
                    "kim*",
                    "/review ana",
                    &["Pain (knee) on Monday 2 November, cleared the same day"],
                ),
                ("eli", "my shoulder hurts", &["shoulder"]),
                ("eli", "my elbow hurts too", &["elbow"]),
                (
                    "kim*",
                    "/clear eli",
                    &["Eli has 2 open reports. Which is lifted?"],
                ),
                (
                    "kim*",
                    "/clear eli elbow",
                    &["Lifted: pain (elbow)", "stays open: pain (shoulder)"],
                ),
            ],
        );
    });
}

#[test]
fn plans_are_changed_in_part_and_changes_taken_back() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        let plan = "/plan team mon: squat 3x8; bench 3x8; wed: row 3x8; fri: curls 3x12";
        club.posts("kim*", 2, "17:30", plan);
        let unknown: &[&str] = &["has no barbell row in that week"];
        check(
            &mut club,
            &[
                // What a day that is written anew has no more is named, and can be had back.
                (
                    "/plan ana Mon: squat 4x5 105kg",
                    &["Taken out of Ana's mon: bench press 3x8"],
                ),
                (
                    "undo",
                    &[
                        "Taken back: Ana as before",
                        "back squat 3x8",
                        "bench press 3x8",
                    ],
                ),
                (
                    "/plan ana add Mon: squat 4x8",
                    &["Instead of it, or as well?"],
                ),
                (
                    "/plan ana also Mon: squat 4x8",
                    &["back squat 3x8", "back squat 4x8"],
                ),
                (
                    "/plan ana instead Mon: bench 5x5",
                    &["bench press 5x5", "!bench press 3x8"],
                ),
                ("/plan ana add calf raise 3x15", &["On which of Ana's days"]),
                // In words and by command.
                (
                    "change ben's squat to 4x5",
                    &["mon: back squat 3x8 → back squat 4x5"],
                ),
                (
                    "put ben's squat at 105",
                    &["back squat 4x5 → back squat 4x5 105kg"],
                ),
                (
                    "ben should do 4 sets of rows",
                    &["barbell row 3x8 → barbell row 4x8"],
                ),
                (
                    "ben row 5x8 instead of 4x8",
                    &["barbell row 4x8 → barbell row 5x8"],
                ),
                (
                    "ben: leg press instead of squat",
                    &[
                        "back squat 4x5 105kg → leg press 4x5",
                        "!leg press 4x5 105kg",
                    ],
                ),
                (
                    "swap squat for leg press for cleo",
                    &["back squat 3x8 → leg press 3x8"],
                ),
                (
                    "take the row out of cleo's plan",
                    &["barbell row 3x8 → taken out"],
                ),
                ("no curls for cleo", &["barbell curl 3x12 → taken out"]),
                ("/plan cleo remove row", unknown),
                (
                    "/plan cleo swap bench for db bench",
                    &["bench press 3x8 → dumbbell bench press 3x8"],
                ),
                ("/undo", &["Taken back: Cleo as before", "bench press 3x8"]),
                ("/plan dov same as cleo", &["Plan of Dov", "leg press 3x8"]),
                ("ben did 10 instead of 8 on row", &["Only Ben can change"]),
                ("should ben swap squat for leg press?", &["!Changed"]),
                // A plan without the command is offered.
                (
                    "Ben's plan:\nMon: squat 3x5 90kg\nThu: bench 3x8 60kg",
                    &["Set it for Ben?"],
                ),
                (
                    "eli: mon squat 3x5 100kg, thu bench 3x8",
                    &["Set it for Eli?"],
                ),
            ],
        );
    });
}

#[test]
fn a_number_asked_for_is_a_line_and_nothing_is_held_against_members_that_nobody_asked_for() {
    engines::on_every_engine(async |place| {
        let mut club = club(&place.url);
        club.posts(
            "kim*",
            2,
            "17:30",
            "/plan team mon: squat 3x8; wed: bench 3x8",
        );
        check(
            &mut club,
            &[
                (
                    "how many sets has ana for quads?",
                    &["quads: 1 counted set", "!Mon 2 Nov"],
                ),
                (
                    "what is ana's target for quads?",
                    &["Your plan asks for 3", "!Mon 2 Nov"],
                ),
                (
                    "how many quad sets did cleo do?",
                    &["quads: 1 counted set", "!Mon 2 Nov"],
                ),
                ("did dov train?", &["back squat 30 kg", "!Plan:"]),
                ("/week ana", &["about 2 left, and the plan names no effort"]),
                (
                    "ana needs more quads, 14 a week",
                    &["Weekly sets set for Ana", "Quads 14."],
                ),
                (
                    "/target ana quads at least 12, chest 10-14",
                    &["Quads 12+, chest 10–14."],
                ),
            ],
        );
        // On Sunday evening nothing is left to come, and nothing done is not as asked.
        let week = club.posts("kim*", 8, "20:30", "/team");
        assert!(
            week.contains("Ben, 1 set. Under: ") && week.contains("quads 0 of 3"),
            "{week}"
        );
        assert!(!week.contains("To come"), "{week}");
    });
}
