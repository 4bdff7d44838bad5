//! Plan text with good, odd and broken lines.

use std::sync::OnceLock;

use super::*;
use crate::config;
use crate::domain::effort::Rir;
use crate::domain::mass::Mass;
use crate::domain::plan::PlannedLoad;

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
        ("bench 3x8 @80", "bench press 3x8 80kg"),
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
        ("squat 4x8", 1, "squat 4x8", FaultKind::NoDay),
        (
            "mon: squat 4x8\nthr: bench 3x8",
            2,
            "thr",
            FaultKind::UnknownDay(Some(Weekday::Thu)),
        ),
        (
            "mon: squat 4x8\nlegs: bench 3x8",
            2,
            "legs",
            FaultKind::UnknownDay(None),
        ),
        ("mon: squat", 1, "squat", FaultKind::NoSets),
        ("mon: squat 4 2rir", 1, "squat 4 2rir", FaultKind::NoSets),
        (
            "mon: squat 4x8 2rri",
            1,
            "2rri",
            FaultKind::UnknownWord(Some("rir")),
        ),
        (
            "mon: squat 4x8 slowly",
            1,
            "slowly",
            FaultKind::UnknownWord(None),
        ),
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
        (
            "mon: squat 4x8\nMon: bench 3x8",
            2,
            "Mon",
            FaultKind::Numbers(PlanError::Twice(DayName::Weekday(Weekday::Mon))),
        ),
        (
            "mon: squat 3x8 with rdl 3x8 with curl 3x8",
            1,
            "squat 3x8 with rdl 3x8 with curl 3x8",
            FaultKind::Crowd,
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
        ("mon: benhc pres 4x8", "benhc pres", "bench press"),
        ("mon: 4x8 benhc pres 80kg", "benhc pres", "bench press"),
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
