//! Plan text with good, odd and broken lines.

use std::sync::OnceLock;

use super::*;
use crate::config;
use crate::domain::coaching::plan::PlannedLoad;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::mass::Mass;

fn with<T>(then: impl FnOnce(&Language<'_>) -> T) -> T {
    static NAMES: OnceLock<NameIndex> = OnceLock::new();
    let catalogue = config::built_in();
    then(&Language {
        catalogue: &catalogue,
        names: NAMES.get_or_init(|| NameIndex::new(&catalogue)),
        unit: Unit::Kg,
    })
}

/// The text as printed after reading.
fn printed(text: &str) -> String {
    with(|language| match read(text, language) {
        Ok(plan) => print(&plan, language.catalogue),
        Err(faults) => panic!("{text}: {faults:?}"),
    })
}

fn faults(text: &str) -> Vec<Fault> {
    with(|language| read(text, language).unwrap_err())
}

#[track_caller]
fn check(text: &str, expected: &str) {
    assert_eq!(printed(text), expected);
    assert_eq!(printed(expected), expected, "printed and read again");
}

#[test]
fn the_plan_of_the_design_is_read() {
    let text = "mon: back squat 4x6-10 2rir; lying leg curl 3x10-15 1rir; standing calf raise 4x10-20 1rir\n\
                thu: bench press 4x8-12 1rir; barbell row 4x8-12 1rir";
    check(text, text);
}

#[test]
fn ways_of_writing_an_exercise() {
    let cases = [
        ("squat 4x8", "back squat 4x8"),
        ("BENCH 3 x 8 - 12 2 RIR", "bench press 3x8-12 2rir"),
        ("bench 3×8–12 1-2 rir", "bench press 3x8-12 1.5rir"),
        ("4 sets of 6-10 bench", "bench press 4x6-10"),
        ("3x8-12 bench 2 left", "bench press 3x8-12 2rir"),
        ("bench 3x8 rir 2", "bench press 3x8 2rir"),
        ("bench 3x8 rir2", "bench press 3x8 2rir"),
        ("bench 3x8 @8", "bench press 3x8 2rir"),
        ("bench 3x8 @ 8.5", "bench press 3x8 1.5rir"),
        ("bench 3x8 rpe 7", "bench press 3x8 3rir"),
        ("bench 3x8 to failure", "bench press 3x8 0rir"),
        ("bench 3x8 1 in reserve", "bench press 3x8 1rir"),
        ("bench 3x8 @185", "bench press 3x8 185kg"),
        ("squat 5x5 @ 100", "back squat 5x5 100kg"),
        ("curl 3x12 @30", "barbell curl 3x12 30kg"),
        ("bench 3x8 @ 75%", "bench press 3x8 75%"),
        ("bench 3x8 75%, rest 90s", "bench press 3x8 75% rest 90s"),
        ("bench 3x8 slowly", "bench press 3x8 \"slowly\""),
        ("bench 3x8 @ 82,5 kg 2rir", "bench press 3x8 2rir 82.5kg"),
        ("bench 3x8, 2rir, 185 lbs", "bench press 3x8 2rir 185lb"),
        ("bench 3x8 @8 kg", "bench press 3x8 8kg"),
        ("hammer curl 3x10 14kg", "hammer curl 3x10 14kg"),
        ("hammer curl 3x10 28kg total", "hammer curl 3x10 28kg total"),
        ("lunge 3x10 16kg each hand", "lunge 3x10 16kg each hand"),
        ("pull-up 3x6-10 +10kg", "pull-up 3x6-10 +10kg"),
        ("pull-up 3x6-10 + 10kg", "pull-up 3x6-10 +10kg"),
        ("pull-up 3x6-10 10kg", "pull-up 3x6-10 +10kg"),
        ("pull-up 3x6-10 assisted 15", "pull-up 3x6-10 -15kg"),
        ("pull-up 3x6-10 15kg assisted", "pull-up 3x6-10 -15kg"),
        ("pull-up 3x6-10 bw", "pull-up 3x6-10 bw"),
        ("45 back extension 3x12", "back extension 3x12"),
        (
            "bench 3x8 with row 3x8",
            "bench press 3x8 with barbell row 3x8",
        ),
        (
            "bench 3x8 with row 3x8 with curl 3x8",
            "bench press 3x8 with barbell row 3x8 with barbell curl 3x8",
        ),
        (
            "bench 3x8 + row 3x8 1rir",
            "bench press 3x8 with barbell row 3x8 1rir",
        ),
        (
            "bench 3x8 2rir, row 3x8",
            "bench press 3x8 2rir; barbell row 3x8",
        ),
        ("bench press, 3x8, to failure", "bench press 3x8 0rir"),
    ];
    for (text, expected) in cases {
        let got = printed(&format!("mon: {text}"));
        assert_eq!(got, format!("mon: {expected}"), "{text}");
        assert_eq!(printed(&got), got, "{text}, again");
    }
}

#[test]
fn ways_of_writing_days() {
    check(
        "Monday:\n  squat 4x8\n  rdl 3x8\n\n# light\nthurs: bench 3x8",
        "mon: back squat 4x8; romanian deadlift 3x8\nthu: bench press 3x8",
    );
    check(
        "mon:\nsquat: 4x8\nbench: 3x8",
        "mon: back squat 4x8; bench press 3x8",
    );
    check("mon: squat: 4x8", "mon: back squat 4x8");
    check(
        "thu, mon: squat 4x8; tue and wed: bench 3x8; row 3x8",
        "mon: back squat 4x8\ntue: bench press 3x8; barbell row 3x8\n\
         wed: bench press 3x8; barbell row 3x8\nthu: back squat 4x8",
    );
}

#[test]
fn every_misfit_names_its_line_and_words() {
    let cases: &[(&str, usize, &str, FaultKind)] = &[
        (
            "squat 4x8\nmon: squat 4x8",
            1,
            "squat 4x8",
            FaultKind::NoDay,
        ),
        (
            "mon: squat 4x8\nthr: bench 3x8",
            2,
            "thr",
            FaultKind::UnknownDay(Some(Weekday::Thu)),
        ),
        (
            "mon: squat 4x8\nquux: bench 3x8",
            2,
            "quux",
            FaultKind::UnknownDay(None),
        ),
        ("mon: squat", 1, "squat", FaultKind::NoSets),
        ("mon: squat 4 2rir", 1, "4", FaultKind::BareNumber),
        (
            "mon: squat 4x8 2rri",
            1,
            "2rri",
            FaultKind::UnknownWord(Some("rir")),
        ),
        ("mon: squat 5x5 @75", 1, "@75", FaultKind::LoadOrShare),
        ("mon: squat 5x5 @ 82.5", 1, "@ 82.5", FaultKind::LoadOrShare),
        ("mon: squat 4x8 2", 1, "2", FaultKind::BareNumber),
        ("mon: squat 4x8 12rir", 1, "12rir", FaultKind::Effort),
        ("mon: squat 4x8 0.7rir", 1, "0.7rir", FaultKind::Effort),
        ("mon: squat 4x8 @4", 1, "@4", FaultKind::Effort),
        ("mon: squat 4x8 rpe 11", 1, "rpe 11", FaultKind::Effort),
        ("mon: squat 4x8 0kg", 1, "0kg", FaultKind::Load),
        ("mon: squat 4x8 1001kg", 1, "1001kg", FaultKind::Load),
        ("mon: squat 4x8 +20kg", 1, "+20kg", FaultKind::Load),
        ("mon: squat 4x8 bw", 1, "bw", FaultKind::Load),
        ("mon: squat 4x8 2rir 1rir", 1, "1rir", FaultKind::Twice),
        ("mon: squat 4x8 80kg 90kg", 1, "90kg", FaultKind::Twice),
        (
            "mon: squat 0x8",
            1,
            "squat 0x8",
            FaultKind::Numbers(PlanError::Sets(0)),
        ),
        (
            "mon: squat 4x10-6",
            1,
            "squat 4x10-6",
            FaultKind::Numbers(PlanError::Reps(10, 6)),
        ),
        (
            "mon:\ntue: squat 4x8",
            1,
            "mon",
            FaultKind::Numbers(PlanError::Empty(DayName::Weekday(Weekday::Mon))),
        ),
        ("", 1, "", FaultKind::Nothing),
        ("# only a remark", 1, "", FaultKind::Nothing),
    ];
    for (text, line, words, kind) in cases {
        let expected = Fault {
            line: *line,
            words: (*words).to_owned(),
            kind: kind.clone(),
        };
        assert_eq!(faults(text), [expected], "{text}");
    }
}

#[test]
fn an_unknown_exercise_comes_with_the_nearest() {
    for (text, words, near) in [
        ("mon: bech pres 4x8", "bech pres", "bench press"),
        ("mon: 4x8 bech pres 80kg", "bech pres", "bench press"),
        (
            "mon: rdl 3x8; romanian lift 3x8",
            "romanian lift",
            "romanian deadlift",
        ),
    ] {
        let faults = faults(text);
        let [fault] = faults.as_slice() else {
            panic!("{text}: {faults:?}");
        };
        assert_eq!(fault.words, words, "{text}");
        let FaultKind::UnknownExercise(nearest) = &fault.kind else {
            panic!("{text}: {fault:?}");
        };
        let catalogue = config::built_in();
        let named = |id: &ExerciseId| catalogue.exercise(*id).name == near;
        assert!(nearest.iter().any(named), "{text}: {nearest:?}");
    }
}

#[test]
fn all_faults_are_told_at_once_in_order() {
    let faults = faults("mon: squat 4x8 2rri; bench\ntue: row 3x8 2");
    let told: Vec<_> = faults.iter().map(|f| (f.line, f.words.as_str())).collect();
    assert_eq!(told, [(1, "2rri"), (1, "bench"), (2, "2")]);
}

#[test]
fn a_text_for_several_is_cut_by_names() {
    let text = "for Ines, Tomas:\nmon: squat 4x8\n\nfor Ana Lu: thu: bench 3x8\nfri: row 3x8";
    let sections = sections(text);
    let told: Vec<_> = sections
        .iter()
        .map(|s| (s.members.join("+"), s.line, s.text.trim()))
        .collect();
    let expected = [
        ("ines+tomas".to_owned(), 1, "mon: squat 4x8"),
        ("ana lu".to_owned(), 4, "thu: bench 3x8\nfri: row 3x8"),
    ];
    assert_eq!(told, expected);
    let alone = super::sections("mon: squat 4x8");
    assert_eq!(alone.len(), 1);
    assert!(alone.iter().all(|section| section.members.is_empty()));
}

#[test]
fn odd_loads_are_kept_as_they_are_shown() {
    let plan = with(|language| read("mon: bench 1x5 82.333kg 2rir", language)).unwrap();
    let item = plan.items().next().cloned().unwrap();
    let load = item.load.and_then(PlannedLoad::fixed).unwrap();
    assert_eq!(load.mass, Mass::from_kg(82.33).unwrap());
    assert_eq!(item.rir, Rir::new(2.0).ok());
}

/// Every line of the text as printed after reading, the days left out; then the words asked about.
fn lines(text: &str) -> (Vec<String>, Vec<String>) {
    with(|language| {
        let understood = understand(text, language);
        let slots = understood.days.iter().flat_map(|(_, _, slots)| slots);
        let slots = slots.map(|slot| {
            let items = slot.items();
            let items: Vec<_> = items
                .map(|item| print_item(item, language.catalogue))
                .collect();
            items.join(" with ")
        });
        let asked = understood.faults.iter();
        let asked = asked.filter(|fault| !matches!(fault.kind, FaultKind::NoDay));
        (
            slots.collect(),
            asked.map(|fault| fault.words.clone()).collect(),
        )
    })
}

#[test]
fn lines_as_coaches_write_them() {
    let cases: &[(&str, &[&str])] = &[
        (
            "Bench pull 4x6 @ 85% 1RM, 3' rest",
            &["bench pull 4x6 85% rest 3min"],
        ),
        (
            "Hack squat - 3 x 8-12 - 2 RIR - 2-3min",
            &["hack squat 3x8-12 2rir rest 2-3min"],
        ),
        (
            "squat top set of 5 @ RPE 8, then 10% drop for 3 sets",
            &["back squat 1x5 2rir", "back squat 3x5 90% of top set"],
        ),
        (
            "Squats 100kg 3x5, 110kg 2x3",
            &["back squat 3x5 100kg", "back squat 2x3 110kg"],
        ),
        (
            "Front squat: 5,4,3,2,1 building",
            &["front squat 5x5/4/3/2/1 \"building\""],
        ),
        ("Squat 5x5 @ 90% of 5RM", &["back squat 5x5 90% of 5rm"]),
        // Nobody does ten at 95 %, and nobody is asked for 24 %.
        (
            "3x10 squats @ 95, 2 min rest",
            &["back squat 3x10 95kg rest 2min"],
        ),
        ("DB press 3x10 @ 24s", &["dumbbell bench press 3x10 24kg"]),
        ("Sq 100 5x5", &["back squat 5x5 100kg"]),
        (
            "Sq 110 3x3, 95 3x6",
            &["back squat 3x3 110kg", "back squat 3x6 95kg"],
        ),
        ("bench 45 8,8,8", &["bench press 3x8/8/8 45kg"]),
        ("Dips BW+15 4x5", &["dip 4x5 +15kg"]),
        (
            "Split squat | 3 | 8/side | 2x16 kg | 1:30",
            &["split squat 3x8 each side 16kg each hand rest 90s"],
        ),
        (
            "Seated dumbbell press 3x10 à 22,5",
            &["seated dumbbell press 3x10 22.5kg"],
        ),
        (
            "☐ Push press 5x3 @ 60 kg ☐ Pull-ups 5x5",
            &["push press 5x3 60kg", "pull-up 5x5"],
        ),
        (
            "DL 5 @ 70%, 3 @ 80%, 1 @ 90%",
            &["deadlift 1x5 70%", "deadlift 1x3 80%", "deadlift 1x1 90%"],
        ),
        (
            "Pull-ups: 5 sets, as many as you can, 2 min rest",
            &["pull-up 5xmax rest 2min"],
        ),
        (
            "tonight it's squats, 4 sets of 6, rest 3 minutes",
            &["back squat 4x6 rest 3min"],
        ),
        (
            "after that leg press 3 sets of 12-15",
            &["leg press 3x12-15"],
        ),
        ("deadlfit 3x3", &["deadlift 3x3"]),
        ("press 3x5 40kg", &["overhead press 3x5 40kg"]),
        ("C Cable crunch 3x15", &["cable crunch 3x15"]),
        (
            "deadlift 3x5 (not to failure!)",
            &["deadlift 3x5 \"not to failure\""],
        ),
        ("squat 3x5 (PB 140kg)", &["back squat 3x5 \"PB 140kg\""]),
        (
            "bench 3x8, no more than 70 kg",
            &["bench press 3x8 \"no more than 70 kg\""],
        ),
        ("db press 3x10 w/ 24s", &["dumbbell bench press 3x10 24kg"]),
        ("plank 3x60", &["plank 3x60s"]),
        ("plank 3x60reps", &["plank 3x60reps"]),
        (
            "squat 3x8, bench 3x8, row 3x8 all 2rir",
            &[
                "back squat 3x8 2rir",
                "bench press 3x8 2rir",
                "barbell row 3x8 2rir",
            ],
        ),
        (
            "superset: curls + pushdowns 3x12 1rir, 60s",
            &["barbell curl 3x12 1rir rest 1min with triceps pushdown 3x12 1rir rest 1min"],
        ),
        (
            "bench 3x8 5% less than last week",
            &["bench press 3x8 \"5% less than, last week\""],
        ),
        ("back sqaut 4x8", &["back squat 4x8"]),
        (
            "Row 1 heavy set of 5, then 3 lighter sets of 8-10",
            &["barbell row 1x5", "barbell row 3x8-10"],
        ),
        ("reps x sets: squat 12x3", &["back squat 3x12"]),
        ("Leg press,4,12,90s", &["leg press 4x12 rest 90s"]),
        ("Bench 4 à 8, 60 kg", &["bench press 4x8 60kg"]),
        ("Squat S4 R6-8, rest 3 min", &["back squat 4x6-8 rest 3min"]),
        (
            "Squat: w/u 40x5, 60x3, then 3x5 at 90 kg",
            &["back squat 3x5 90kg \"w/u 40x5, 60x3\""],
        ),
        (
            "3 sets of 12-15 rear delt fly depending on the day",
            &["rear delt fly 3x12-15 \"depending on the day\""],
        ),
        (
            "Front squat 3x6, one rep more every Monday up to 9",
            &["front squat 3x6 \"one rep more every Monday up to 9\""],
        ),
        (
            "Step-ups: 3 lots of 10 each leg",
            &["step-up 3x10 each side"],
        ),
        ("Row 3 x 8→12", &["barbell row 3x8-12"]),
        (
            "curls 3x10 straight into pushdowns 3x15",
            &["barbell curl 3x10 \"straight\" with triceps pushdown 3x15"],
        ),
        (
            "squat 90x5x3, then 70x8x2",
            &["back squat 3x5 90kg", "back squat 2x8 70kg"],
        ),
        (
            "row 50x8, 60x6, 70x4",
            &[
                "barbell row 1x8 50kg",
                "barbell row 1x6 60kg",
                "barbell row 1x4 70kg",
            ],
        ),
        (
            "rows 4 sets 60kg 10 reps / shrugs 3 sets 90kg 15 reps",
            &["barbell row 4x10 60kg", "shrug 3x15 90kg"],
        ),
        (
            "squat, 5 series on 4 repeats, 80 percent from maximum, pause 2 minutes",
            &["back squat 5x4 80% rest 2min"],
        ),
        (
            "Leg press 3x12. No soreness on Friday? Then go to 3 sets of 15.",
            &["leg press 3x12 \"No soreness on Friday?, go to 3 sets of 15\""],
        ),
        (
            "Floor press 4x8, 2' rest. Arms must touch the bench.",
            &["floor press 4x8 rest 2min \"Arms must touch the bench\""],
        ),
        (
            "Push-up 3x10-15 feet on the step, rest 60 s",
            &["push-up 3x10-15 rest 1min \"feet on the step\""],
        ),
        (
            "deadlift 1x1 @8, back-offs 3x5 80%",
            &["deadlift 1x1 2rir", "deadlift 3x5 80% \"back-offs\""],
        ),
        (
            "back squat four sets of six at seventy five percent",
            &["back squat 4x6 75%"],
        ),
        (
            "leg ext 3x15 and leg curl (the seated one) 3x12",
            &["leg extension 3x15", "seated leg curl 3x12"],
        ),
        (
            "Sit-up 3x20 / back extension 3x10",
            &["sit-up 3x20", "back extension 3x10"],
        ),
        (
            "side plank 30 sec x 4, 20 sec break",
            &["side plank 4x30s rest 20s"],
        ),
        (
            "3 rounds: lunges 8/8, dips 10",
            &["lunge 3x8 each side with dip 3x10"],
        ),
        (
            "Dips 3x12, or for the strong ones: pull-up 3x6",
            &["dip 3x12 \"for the strong ones, or pull-up 3x6\""],
        ),
        (
            "Lateral raise;3;20,15,12;;rest 1:00",
            &["lateral raise 3x20/15/12 rest 1min"],
        ),
        (
            "rdl 3x10 40k r90",
            &["romanian deadlift 3x10 40kg rest 90s"],
        ),
        (
            "Lunges 2x6 each leg; once that is easy, 2x12",
            &["lunge 2x6 each side \"once that is easy, 2x12\""],
        ),
        (
            "Bench 10 8 8 6, slowly",
            &["bench press 4x10/8/8/6 \"slowly\""],
        ),
        (
            "Hip thrust 4x10 or, if the bench is taken, glute bridge 4x15",
            &["hip thrust 4x10 \"if the bench is taken, or glute bridge 4x15\""],
        ),
        (
            "bench 3x8; curls/pushdowns superset 3x12",
            &[
                "bench press 3x8",
                "barbell curl 3x12 with triceps pushdown 3x12",
            ],
        ),
        (
            "OHP 60%x8, 70%x4",
            &["overhead press 1x8 60%", "overhead press 1x4 70%"],
        ),
        ("Snatch 70% x 2 x 3", &["snatch 3x2 70%"]),
        (
            "2 rounds: 20 sit-ups, 15 push ups, 45s plank. 90s between rounds",
            &["sit-up 2x20 with push-up 2x15 with plank 2x45s rest 90s"],
        ),
        (
            "Every 2 min x 5: 3 front squats @ 80%",
            &["front squat 5x3 80% rest 2min"],
        ),
        (
            "Goblet squat 3x12 - knees out!",
            &["goblet squat 3x12 \"knees out!\""],
        ),
        (
            "squat 3x6-8, when all sets hit 8 add 2.5kg",
            &["back squat 3x6-8 \"when all sets hit 8 add 2.5kg\""],
        ),
        (
            "Power clean, 5 x 3 reps or power snatch, 6 x 2 reps",
            &["power clean 5x3 \"or power snatch 6 x 2 reps\""],
        ),
        ("Split squats 3x10 per leg", &["split squat 3x10 each side"]),
        (
            "Walking Lunge | 3 | 12/leg | 60 sec",
            &["lunge 3x12 each side rest 1min"],
        ),
        (
            "A1. bench 3x8\nA2. row 3x8\nB. curl 2x12",
            &["bench press 3x8 with barbell row 3x8", "barbell curl 2x12"],
        ),
        (
            "3 rounds of:\n10 push-ups\n30 s plank\n\nsquat 3x8",
            &["push-up 3x10 with plank 3x30s", "back squat 3x8"],
        ),
        (
            "Exercise | Sets | Reps | RPE\n--- | --- | --- | ---\nSquat | 4 | 6-8 | 8",
            &["back squat 4x6-8 2rir"],
        ),
        ("Pull ups - 3 sets to failure", &["pull-up 3xmax"]),
        ("Leg curl 12-15 x 3", &["lying leg curl 3x12-15"]),
        (
            "1A) Bench 4x8 1B) Row 4x8",
            &["bench press 4x8 with barbell row 4x8"],
        ),
        (
            "5 min bike, then squat 3x10",
            &["back squat 3x10 \"5 min bike\""],
        ),
        (
            "Mon - squat 3x8, bench 3x8",
            &["back squat 3x8", "bench press 3x8"],
        ),
        (
            "Bench 4x8, RIR 3/2/1/0",
            &["bench press 4x8 \"RIR 3/2/1/0\""],
        ),
    ];
    for (text, expected) in cases {
        let (read, asked) = lines(text);
        assert_eq!(
            (read.as_slice(), asked.as_slice()),
            (
                expected
                    .iter()
                    .map(|&s| s.to_owned())
                    .collect::<Vec<_>>()
                    .as_slice(),
                [].as_slice(),
            ),
            "{text}"
        );
        let again = lines(&read.join("\n"));
        assert_eq!(again, (read, Vec::new()), "{text}, printed and read again");
    }
}

#[test]
fn what_is_open_is_asked_about_in_the_coachs_words() {
    for (text, words) in [
        (
            "3 sets, 12 reps each: Lat pulldown, Chest Wobble",
            "Chest Wobble",
        ),
        (
            "Leg curl 3x10, then 10 more without bands",
            "10 more without bands",
        ),
        ("Oblique hyperextensions 4x10", "Oblique hyperextensions"),
        ("Squat x 10", "Squat x 10"),
        ("Squat 15 x 3", "15 x 3"),
        ("Squat/bench/deadlift 3x5", "Squat/bench/deadlift 3x5"),
        ("Farmer's walk 4 x 40 m", "4 x 40 m"),
    ] {
        let (read, asked) = lines(text);
        assert_eq!(
            (read.len(), asked.as_slice()),
            (0, [words.to_owned()].as_slice()),
            "{text}"
        );
    }
}

#[test]
fn what_is_whole_stands_beside_what_is_unclear_in_its_line() {
    for (text, stands, words) in [
        (
            "Squat 3x8, Flibbertigibbet 3x10, dips 3x12",
            &["back squat 3x8", "dip 3x12"][..],
            "Flibbertigibbet",
        ),
        (
            "Sit-ups 2x20. Back extension, see how we are for time.",
            &["sit-up 2x20"],
            "Sit-ups 2x20. Back extension, see how we are for time.",
        ),
        (
            "Squat 4x6 80%, 2x10 @ 60",
            &["back squat 4x6 80%", "back squat 2x10"],
            "@ 60",
        ),
        ("Squat 5x5 @75", &["back squat 5x5"], "@75"),
        (
            "bench 5/5/3 @ 80,85,90",
            &["bench press 3x5/5/3"],
            "@ 80,85,90",
        ),
        (
            "squat 4x6 (80, 82.5, 85, 87.5kg)",
            &["back squat 4x6"],
            "80, 82.5, 85, 87.5kg",
        ),
        (
            "bench 3x8, 40kg each side",
            &["bench press 3x8"],
            "40kg each side",
        ),
        ("bench 8x60", &[], "bench 8x60"),
        ("Curl 3x12 30", &["barbell curl 3x12"], "30"),
        (
            "Row | 3 | 8-12 | 2 | 2 min",
            &["barbell row 3x8-12 rest 2min"],
            "2",
        ),
        // Stations of a circuit stand together or not at all.
        (
            "3 rounds: squat 10, flibbertigibbet 12",
            &[],
            "flibbertigibbet 12",
        ),
    ] {
        let (read, asked) = lines(text);
        assert_eq!(read, stands, "{text}");
        assert_eq!(asked, [words], "{text}");
    }
}

#[test]
fn a_day_with_more_behind_it_is_that_day() {
    for text in [
        "Mon 18:00: squat 3x5\nThu 18:30: bench 3x8",
        "Mon 2 Nov: squat 3x5\nThu, Nov 5: bench 3x8",
        "MONDAY 2/11\nsquat 3x5\nTHURSDAY 5/11\nbench 3x8",
        "Mon, 60 min: squat 3x5\nThu at 6pm: bench 3x8",
        "Mon,Squat,3,5\nThu,Bench,3,8",
        "| Mon | Squat | 3 | 5 |\n| Thu | Bench | 3 | 8 |",
    ] {
        let text = text.replace("at 6pm", "6pm");
        let understood = with(|language| understand(&text, language));
        let printed = with(|language| print(&understood.plan().unwrap(), language.catalogue));
        assert_eq!(
            (printed.as_str(), understood.faults.len()),
            ("mon: back squat 3x5\nthu: bench press 3x8", 0),
            "{text}"
        );
    }
}

#[test]
fn good_lines_stand_beside_unclear_ones() {
    let text = "Monday - lower\nSquat 4x8\nBench 5x5 @75\nDay 2 (upper)\nRow 3x8\nstretch well";
    let understood = with(|language| understand(text, language));
    let plan = understood.plan().unwrap();
    let printed = with(|language| print(&plan, language.catalogue));
    let expected = "mon \"lower\": back squat 4x8; bench press 5x5\nday 2 \"upper\": barbell row 3x8 \"stretch well\"";
    assert_eq!(printed, expected);
    let titles: Vec<_> = understood
        .titles
        .iter()
        .map(|(_, title)| title.as_str())
        .collect();
    assert_eq!(titles, ["lower", "upper"]);
    let [fault] = understood.faults.as_slice() else {
        panic!("{:?}", understood.faults);
    };
    assert_eq!((fault.line, fault.words.as_str()), (3, "@75"));
}

#[test]
fn weeks_that_differ_are_told_apart() {
    let weeks = "week 1\nmon: back squat 3x10\nweek 3\nmon: back squat 4x8";
    for text in [
        "mon: squat 3x10 week 1-2, 4x8 week 3",
        "mon: squat 3x10 (wk 1-2), 4x8 (wk 3)",
        "mon: squat wk 1-2 3x10, wk 3-4 4x8",
        "mon: squat W5-6 3x10, W7 4x8",
        "Week 1-2\nMonday\nSquat 3x10\n\nWeek 3\nMonday\nSquat 4x8",
        weeks,
    ] {
        assert_eq!(printed(text), weeks, "{text}");
    }
    // What is said of no week holds in all.
    let text =
        "mon: squat wk 1 5x5 @70%, wk 2 4x4 @80%; rest 3 min\nmon: dip 3x8".replace("\nmon:", "\n");
    assert_eq!(
        printed(&text),
        "week 1\nmon: back squat 5x5 70% rest 3min; dip 3x8\n\
         week 2\nmon: back squat 4x4 80% rest 3min; dip 3x8"
    );
    // One week alone is a word on the line.
    assert_eq!(
        printed("mon: squat 3x8 week 1"),
        "mon: back squat 3x8 \"week 1\""
    );
}

#[test]
fn plans_and_days_have_names() {
    let text = "\"winter base\"\nmon \"push\": bench press 3x8\nday 1 \"arms\": barbell curl 3x12";
    assert_eq!(printed(text), text);
    assert_eq!(
        printed("“winter base”\nMonday - push\nBench 3x8\nDay 1 (arms)\nCurls 3x12"),
        text
    );
}

#[test]
fn tables_are_read_by_their_heads() {
    let plan = "mon: belt squat 4x8 90kg rest 120s; lying leg curl 3x12 35kg rest 90s";
    for text in [
        "mon:\nexercise;sets;reps;kg;rest_s\nbelt squat;4;8;90;120\nlying leg curl;3;12;35;90",
        "mon:\nExercise, Reps, Sets, Load (kg), Rest (s)\nBelt squat, 8, 4, 90, 120\nLying leg curl, 12, 3, 35, 90",
        "mon:\nLift\tSets\tReps\tkg\tRest\nBelt squat\t4\t8\t90\t120 s\nLying leg curl\t3\t12\t35\t90\"",
        "mon:\nbelt squat;4;8;90kg;120s\nlying leg curl;3;12;35kg;90s",
        "mon:\nbelt squat, sets=4, reps=8, kg=90, rest=120 s\nlying leg curl: reps 12, sets 3, 35 kg, r 90''",
    ] {
        assert_eq!(printed(text).replace("2min", "120s"), plan, "{text}");
    }
}

#[test]
fn lines_below_a_name_are_its_sets() {
    let plan = "mon: deadlift 1x3 2rir; deadlift 3x5 88% of top set; dip 3x5";
    for text in [
        "mon:\nDeadlift\nTop set: 1x3 @ RPE 8\nBack-off: 3x5, 12% off\nDips 3x5",
        "mon:\nDeadlift 1x3 @ RPE 8\nthen 3x5, 12% off\nsame for dips",
    ] {
        assert_eq!(printed(text), plan, "{text}");
    }
    // Of two names alone nobody knows whose sets these are.
    let understood = with(|language| understand("mon:\nDeadlift\nDips\n3x5 each", language));
    assert!(!understood.faults.is_empty());
    assert!(understood.plan().is_err());
}

#[test]
fn circuits_are_counted_in_rounds() {
    let plan = "mon: push-up 3x15 with barbell row 3x12";
    for text in [
        "mon:\nCircuit x3: push-ups 15, rows 12",
        "mon:\n3 rounds of: push-up 15, row 12",
        "mon:\nCircuit x3: 15 push-ups, 12 rows",
    ] {
        assert_eq!(printed(text), plan, "{text}");
    }
    let understood = with(|language| understand("Deadlift 4 x (1+1+1), 20 s between", language));
    assert!(understood.plan().is_err());
}

#[test]
fn a_choice_is_kept_as_one() {
    let plan = "mon: bench press or dumbbell bench press 3x8";
    for text in [
        "mon:\nBench press / dumbbell press 3x8",
        "mon:\nBench press or DB bench 3x8",
    ] {
        assert_eq!(printed(text), plan, "{text}");
    }
    assert_eq!(
        printed("mon:\nDips: bodyweight 3x10, or +10 kg 3x6"),
        "mon: dip 3x10 bw \"or +10 kg 3x6\""
    );
}

#[test]
fn what_says_two_things_is_asked_about() {
    for (text, kind) in [
        ("mon: hammer curls 3x10 30s", FaultKind::LoadOrRest),
        ("mon: bench 3x10, 4 sets", FaultKind::Twice),
    ] {
        let understood = with(|language| understand(text, language));
        let kinds: Vec<_> = understood.faults.into_iter().map(|one| one.kind).collect();
        assert_eq!(kinds, [kind], "{text}");
    }
    assert_eq!(
        printed("mon: hammer curls 3x10, 60s"),
        "mon: hammer curl 3x10 rest 1min"
    );
}

#[test]
fn words_to_the_lifter_that_look_like_weeks_are_none() {
    let text = "fri: bench press 1x1 \"w2A\"; bench press 1x1 \"w3a\"";
    assert_eq!(printed(text), text);
}

#[test]
fn days_and_sessions_are_named_as_coaches_name_them() {
    for (text, expected) in [
        ("squat 3x8", "day 1: back squat 3x8"),
        ("mon bench 3x8", "mon: bench press 3x8"),
        ("Monday (legs): squat 3x8", "mon \"legs\": back squat 3x8"),
        ("Push (Mon): bench 3x8", "mon \"Push\": bench press 3x8"),
        (
            "M: squat 3x8\nW: bench 3x8",
            "mon: back squat 3x8\nwed: bench press 3x8",
        ),
        (
            "mon: squat 3x8\nmon: bench 3x8",
            "mon: back squat 3x8; bench press 3x8",
        ),
        ("mon: squat 3x8\nTue: off", "mon: back squat 3x8"),
        (
            "Push\nbench 3x8\nPull\nrow 3x8",
            "day 1 \"Push\": bench press 3x8\nday 2 \"Pull\": barbell row 3x8",
        ),
        (
            "Day A: squat 3x8; Day B: bench 3x8",
            "day 1 \"Day A\": back squat 3x8\nday 2 \"Day B\": bench press 3x8",
        ),
    ] {
        assert_eq!(printed(text), expected, "{text}");
    }
}

#[test]
fn supersets_keep_both_and_each_is_each_side() {
    let both = "mon: barbell curl 3x12 with triceps pushdown 3x12";
    for (text, expected) in [
        ("mon: curls / pushdowns superset 3x12", both),
        ("mon: curls superset with pushdowns 3x12", both),
        ("mon: curl / pushdown ss 3x12", both),
        ("mon: curl 3x12 superset pushdown 3x12", both),
        ("mon: A1 curl 3x12 A2 pushdown 3x12", both),
        (
            "mon: curl or pushdown 3x12",
            "mon: barbell curl or triceps pushdown 3x12",
        ),
        (
            "mon: split squat 3x10 each",
            "mon: split squat 3x10 each side",
        ),
        ("mon: bench 3x8-10, leave 2", "mon: bench press 3x8-10 2rir"),
    ] {
        assert_eq!(printed(text), expected, "{text}");
    }
}

#[test]
fn what_is_for_all_reaches_every_exercise() {
    let plan = "Mon: squat 3x8; bench 3x8 1rir";
    let filled = |rest: &str| format!("mon: back squat 3x8 2rir{rest}; bench press 3x8 1rir{rest}");
    for (text, expected) in [
        (format!("2 rir for all\n{plan}"), filled("")),
        (format!("{plan}\nAll sets 2 rir"), filled("")),
        (
            format!("Leave 2 in the tank on everything.\n{plan}"),
            filled(""),
        ),
        (
            format!("Everything @ RPE 8, rest 2-3 min.\n{plan}"),
            filled(" rest 2-3min"),
        ),
        (
            format!("All exercises: 2 rir, 2 min rest\n{plan}"),
            filled(" rest 2min"),
        ),
        (
            format!(
                "{plan}\nRest 2 min between sets unless noted. Leave 2 in the tank on all. Shout if it hurts!"
            ),
            filled(" rest 2min"),
        ),
    ] {
        assert_eq!(printed(&text), expected, "{text}");
    }
}

#[test]
fn numbers_of_something_else_are_worked_out_or_words() {
    for (text, expected) in [
        ("squat 5x5 @ 80% of 140", "back squat 5x5 112kg"),
        ("bench 3x5 75% of her 110 kg max", "bench press 3x5 82.5kg"),
        (
            "row 4x5 instead of 3x8",
            "barbell row 4x5 \"instead of 3x8\"",
        ),
        ("bench 3x8 (not 3x10)", "bench press 3x8 \"not 3x10\""),
        (
            "squat 3x8 10% lighter than last time",
            "back squat 3x8 \"10% lighter than, last time\"",
        ),
        ("squat 5x3 every 2 min", "back squat 5x3 \"every 2 min\""),
        ("bench 3x8x60", "bench press 3x8 60kg"),
        ("squat 4 x 6 x 80", "back squat 4x6 80kg"),
        ("squat 3x8 r 120", "back squat 3x8 rest 2min"),
        ("bench 3 sets 8-12", "bench press 3x8-12"),
        ("bench 3x(8-10)", "bench press 3x8-10"),
        ("plank 30-60s x3", "plank 3x30-60s"),
        (
            "squat 3x8 bench 3x8 row 3x10",
            "back squat 3x8; bench press 3x8; barbell row 3x10",
        ),
        (
            "squat 8RM, then 2x8 -10%",
            "back squat 1x8; back squat 2x8 90% of top set",
        ),
        (
            "curls 3x12 / pushdowns 3x12 alternating",
            "barbell curl 3x12 with triceps pushdown 3x12",
        ),
    ] {
        assert_eq!(
            printed(&format!("mon: {text}")),
            format!("mon: {expected}"),
            "{text}"
        );
    }
    // Of many raises nobody knows which.
    assert_eq!(faults("mon: raises 3x15").len(), 1);
}
