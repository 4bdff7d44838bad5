use chrono::{DateTime, Duration, NaiveTime, Weekday};
use chrono_tz::Tz;

use super::*;
use crate::config;
use crate::domain::coaching::adherence::{PlannedItem, PlannedSession, follow};
use crate::domain::coaching::progress::course;
use crate::domain::coaching::week::{AimFrom, Band, tally};
use crate::domain::lifter::model::Model;
use crate::domain::quantities::calendar::TeamCalendar;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::status::TrainingStatus;

/// The bench press: day of January 2026, minute, kilograms, repetitions. The 12th is a Monday.
type Done = (u32, u32, f64, u32);

fn sets(done: &[Done]) -> Vec<LoggedSet> {
    let exercise = config::built_in().named("bench press").unwrap();
    let set = |&(day, minute, kg, reps): &Done| {
        let day = NaiveDate::from_ymd_opt(2026, 1, day).unwrap();
        let time = NaiveTime::from_num_seconds_from_midnight_opt(61_200 + 60 * minute, 0);
        LoggedSet {
            rir: Rir::new(2.0).ok(),
            day,
            ..LoggedSet::straight(
                exercise,
                Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg),
                reps,
                DateTime::from_naive_utc_and_offset(day.and_time(time.unwrap()), chrono::Utc),
            )
        }
    };
    done.iter().map(set).collect()
}

/// What the coach wants of the chest: 10 to 20 sets.
const CHEST: Band = Band { low: 10, high: 20 };

fn date(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, day).unwrap()
}

/// Concerns on a day of January 2026, with the sets of its week, the days trained before, and the
/// days for which three sets of bench press are planned.
fn found(today: u32, done: &[Done], before: &[u32], planned: &[u32]) -> Vec<Concern> {
    found_with(today, &sets(done), before, planned, &[])
}

fn found_with(
    today: u32,
    log: &[LoggedSet],
    before: &[u32],
    planned: &[u32],
    courses: &[(ExerciseId, Course)],
) -> Vec<Concern> {
    let catalogue = config::built_in();
    let calendar = TeamCalendar {
        zone: Tz::UTC,
        week_start: Weekday::Mon,
    };
    let status = TrainingStatus::Intermediate;
    let mut tally = tally(log.iter().map(|set| (set, None)), &catalogue, status);
    let week = calendar.week_of(date(today.min(18)));
    let session = |day: &u32| PlannedSession {
        day: Some(date(*day)),
        number: None,
        items: vec![PlannedItem {
            exercise: catalogue.named("bench press").unwrap(),
            sets: 3,
            most_sets: 3,
            or: Vec::new(),
            counting: 3,
            is_heavy: false,
            rir: Rir::new(2.0).ok(),
        }],
        due: true,
    };
    let sessions: Vec<PlannedSession> = planned.iter().map(session).collect();
    if planned.is_empty() {
        let chest = catalogue.muscle_named("chest").unwrap();
        for line in tally.muscles.iter_mut().filter(|line| line.muscle == chest) {
            (line.band, line.aim) = (CHEST, AimFrom::Coach);
        }
    }
    let lifter = Lifter {
        catalogue: &catalogue,
        body_mass: None,
        status,
    };
    let mut trained: Vec<NaiveDate> = before.iter().map(|day| date(*day)).collect();
    trained.extend(log.iter().map(|set| set.day));
    trained.dedup();
    let facts = Facts {
        lifter: &lifter,
        week,
        today: date(today),
        sets: &log.iter().collect::<Vec<_>>(),
        tally: &tally,
        adherence: &follow(&sessions, log, &catalogue),
        lacking: &[],
        left_out: &[],
        lighter: false,
        rest_week: false,
        back: None,
        expected: true,
        heavy: &[],
        courses,
        trained: &trained,
        last_day: trained.last().copied(),
    };
    concerns(&facts)
}

/// So many sets at one load with full rests, on Monday.
fn plain(count: u32) -> Vec<Done> {
    (0..count).map(|n| (12, 4 * n, 50.0, 8)).collect()
}

#[test]
fn silence_is_longer_than_usual() {
    let silent = |today, before: &[u32]| match found(today, &[], before, &[]).as_slice() {
        [Concern::Silent(Some(last), usual)] => Some((*last, *usual)),
        [] => None,
        other => panic!("{other:?}"),
    };
    // Every second or third day: silent from the sixth day on.
    let often = [1, 3, 5, 8];
    assert_eq!(silent(13, &often), None);
    assert_eq!(silent(14, &often), Some((date(8), Some(3))));
    // Once a week: not after ten days.
    assert_eq!(silent(18, &[1, 2, 3, 4, 5, 6, 8]), Some((date(8), Some(2))));
    // Too little is known: as somebody who trains once in five days.
    assert_eq!(silent(15, &[7]), None);
    assert_eq!(silent(16, &[7]), Some((date(7), None)));
    // Who never posted is waited for until a session is missed, or the week is over.
    let planned = [12, 14, 16];
    assert_eq!(found(16, &[], &[], &planned), []);
    assert_eq!(found(17, &[], &[], &planned), [Concern::Silent(None, None)]);
    assert_eq!(found(17, &[], &[], &[]), []);
    assert_eq!(found(18, &[], &[], &[]), [Concern::Silent(None, None)]);
}

#[test]
fn a_session_is_missed_once_the_week_cannot_hold_it() {
    let planned = [12, 14, 16];
    let monday = three(12);
    let missed = |today| match found(today, &monday, &[], &planned).as_slice() {
        [] => 0,
        [
            Concern::Missed {
                sessions,
                of: 3,
                days,
            },
        ] => {
            // Those of the first days: the later ones could still be done.
            let first = [date(14), date(16)];
            assert_eq!(days[..], first[..days.len()]);
            *sessions
        }
        other => panic!("{other:?}"),
    };
    // Wednesday's and Friday's can be made up on Saturday and Sunday, and not on Sunday alone.
    assert_eq!([15, 16, 17, 18].map(missed), [0, 0, 1, 2]);
}

/// Three sets with two left.
fn three(day: u32) -> Vec<Done> {
    (0..3).map(|n| (day, 4 * n, 50.0, 8)).collect()
}

#[test]
fn sets_left_out_are_told_of_sessions_that_are_over() {
    let planned = [12, 14, 16];
    let two = |day| (0..2).map(move |n| (day, 4 * n, 50.0, 8));
    let all: Vec<Done> = [12, 14, 16].into_iter().flat_map(two).collect();
    // Of Friday's session nothing is said on Friday.
    assert_eq!(found(16, &all, &[], &planned), []);
    let short = Concern::ShortOfSets {
        done: 6,
        of: 9,
        left_out: Vec::new(),
    };
    assert_eq!(found(18, &all, &[], &planned), [short]);
    let whole: Vec<Done> = [12, 14, 16].into_iter().flat_map(three).collect();
    assert_eq!(found(18, &whole[..8], &[], &planned), []);
}

#[test]
fn effort_far_from_the_plan_is_told_in_either_direction() {
    let planned = [12, 14, 16];
    let left = |left: &[f64]| {
        let mut log = sets(&[12, 14, 16].into_iter().flat_map(three).collect::<Vec<_>>());
        for (set, left) in log.iter_mut().zip(left.iter().cycle()) {
            set.rir = Rir::new(*left).ok();
        }
        found_with(18, &log, &[], &planned, &[])
    };
    for near in [
        &[2.0][..],
        &[1.0, 2.0, 3.0],
        &[3.0, 2.0, 1.0, 0.0],
        &[3.0],
        &[1.0],
    ] {
        assert_eq!(left(near), [], "{near:?}");
    }
    assert!(matches!(left(&[0.0]).as_slice(), [Concern::TooHard(_)]));
    assert!(matches!(left(&[6.0]).as_slice(), [Concern::TooEasy(_)]));
}

#[test]
fn one_session_is_no_habit() {
    let planned = [12, 14, 16];
    let with = |days: &[u32], left: Option<f64>, today: u32| {
        let mut log = sets(&days.iter().copied().flat_map(six).collect::<Vec<_>>());
        for set in &mut log {
            set.rir = left.and_then(|left| Rir::new(left).ok());
        }
        found_with(today, &log, &[], &planned, &[])
    };
    for left in [Some(0.0), Some(6.0), None] {
        assert_eq!(with(&[12], left, 13), [], "{left:?}");
        assert_ne!(with(&[12, 14], left, 15), [], "{left:?}");
    }
}

/// Six sets with two left.
fn six(day: u32) -> Vec<Done> {
    (0..6).map(|n| (day, 4 * n, 50.0, 8)).collect()
}

#[test]
fn without_efforts_counting_is_guesswork() {
    let planned = [12, 14, 16];
    let log: Vec<Done> = [12, 14, 16].into_iter().flat_map(three).collect();
    let mut log = sets(&log);
    for set in &mut log {
        set.rir = None;
    }
    assert_eq!(
        found_with(18, &log, &[], &planned, &[]),
        [Concern::Unrated(9)]
    );
}

#[test]
fn few_sets_are_told_once_the_week_is_over() {
    let under = |today| match found(today, &plain(4), &[], &[]).as_slice() {
        [] => false,
        [Concern::FarUnder(lines)] => lines.len() == 1,
        other => panic!("{other:?}"),
    };
    assert!(!under(17));
    assert!(!under(18));
    assert!(under(19));
    assert_eq!(found(19, &plain(5), &[], &[]), []);
}

#[test]
fn many_sets_are_far_over_from_a_fifth_above_the_target() {
    assert_eq!(found(18, &plain(24), &[], &[]), []);
    let over = found(18, &plain(25), &[], &[]);
    assert!(matches!(over.as_slice(), [Concern::FarOver(_)]), "{over:?}");
}

#[test]
fn habits_are_three_times_and_half_of_all() {
    let up = |days: &[u32], minutes: u32| -> Vec<Done> {
        let run =
            |&day: &u32| (0..3).map(move |n| (day, minutes * n, 50.0 + 5.0 * f64::from(n), 8));
        days.iter().flat_map(run).collect()
    };
    let rising = found(12, &up(&[12, 13], 4), &[], &[]);
    assert_eq!(rising, []);
    let rising = found(14, &up(&[12, 13, 14], 4), &[], &[]);
    assert_eq!(rising, [Concern::Ascending { runs: 3, of: 3 }]);
    // A minute less 28 s of work is under half of two and a half minutes.
    let hasty = found(14, &up(&[12, 13, 14], 1), &[], &[]);
    let rests = Concern::ShortRests { short: 6, of: 6 };
    assert_eq!(hasty, [Concern::Ascending { runs: 3, of: 3 }, rests]);
    let heavy: Vec<Done> = (0..3).map(|n| (12, 5 * n, 90.0, 3)).collect();
    assert_eq!(found(12, &heavy, &[], &[]), [Concern::UnderFive(3)]);
}

/// How the bench press comes along in twelve weeks, two days each, with so many kilograms more
/// every week.
fn course_of(gain_kg: f64) -> (ExerciseId, Course) {
    let catalogue = config::built_in();
    let lifter = Lifter {
        catalogue: &catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    };
    let mut model = Model::default();
    for day in 0..24 {
        let kg = 60.0 + gain_kg * f64::from(day / 2);
        for mut set in sets(&[(12, 0, kg, 10), (12, 5, kg, 9), (12, 10, kg, 8)]) {
            set.rir = Rir::new(2.0).ok();
            set.day += Duration::days(3 * i64::from(day));
            set.at += Duration::days(3 * i64::from(day));
            model.learn(&set, &lifter);
        }
    }
    let bench = catalogue.named("bench press").unwrap();
    let population = lifter.population(catalogue.exercise(bench));
    let belief = model.beliefs.get(&bench).unwrap();
    (bench, course(belief, &model.condition, &population))
}

#[test]
fn lifts_that_fall_or_stand_still_are_told_of() {
    let (bench, falling) = course_of(-1.2);
    let seen = format!("{falling:?}");
    let log = sets(&plain(10));
    let told = |course| found_with(18, &log, &[], &[], &[(bench, course)]);
    let falls = told(falling);
    let named = matches!(
        falls.as_slice(),
        [Concern::Falling(lifts), ..] if lifts.first().is_some_and(|lift| lift.exercise == bench)
    );
    assert!(named, "{falls:?} {seen}");
    assert_eq!(told(course_of(0.8).1), []);
    // One that stands still by all that is known, and the same before six weeks.
    let still = |days| {
        let mut course = course_of(0.8).1;
        (course.stalled, course.falling) = (Some(0.9), Some(0.3));
        course.signs.clear();
        course.days = days;
        course
    };
    assert!(matches!(told(still(60)).as_slice(), [Concern::Stalled(_)]));
    assert_eq!(told(still(30)), []);
    // Of a dozen lifts one looks slow by chance; two do not.
    let likely = || {
        let mut course = still(60);
        course.stalled = Some(0.7);
        course
    };
    assert_eq!(told(likely()), []);
    let squat = config::built_in().named("back squat").unwrap();
    let both = [(bench, likely()), (squat, likely())];
    let two = found_with(18, &log, &[], &[], &both);
    assert!(matches!(two.as_slice(), [Concern::Stalled(lifts)] if lifts.len() == 2));
}

#[test]
fn every_kind_has_a_word_of_its_own() {
    for kind in Kind::ALL {
        assert_eq!(Kind::from_word(kind.word()), Some(kind));
    }
}
