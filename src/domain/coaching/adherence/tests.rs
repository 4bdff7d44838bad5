use chrono::{DateTime, NaiveTime, Weekday};
use chrono_tz::Tz;

use super::*;
use crate::config;
use crate::domain::quantities::calendar::TeamCalendar;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;

const BENCH: &str = "bench press";
const SQUAT: &str = "back squat";
const ROW: &str = "barbell row";

/// A day of January 2026; the 12th is a Monday.
fn date(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, day).unwrap()
}

fn week() -> Week {
    let calendar = TeamCalendar {
        zone: Tz::UTC,
        week_start: Weekday::Mon,
    };
    calendar.week_of(date(12))
}

fn item(name: &str, sets: u32) -> PlannedItem {
    PlannedItem {
        exercise: config::built_in().named(name).unwrap(),
        sets,
        most_sets: sets,
        or: Vec::new(),
        counting: sets,
        is_heavy: false,
        rir: Rir::new(2.0).ok(),
    }
}

fn session(day: u32, items: &[(&str, u32)]) -> PlannedSession {
    PlannedSession {
        day: Some(date(day)),
        number: None,
        items: items.iter().map(|(name, sets)| item(name, *sets)).collect(),
        due: true,
    }
}

/// So many sets of an exercise on a day, with so many left.
fn done(day: u32, name: &str, sets: usize, left: Option<f64>) -> Vec<LoggedSet> {
    let set = LoggedSet {
        rir: left.map(|left| Rir::new(left).unwrap()),
        day: date(day),
        ..LoggedSet::straight(
            config::built_in().named(name).unwrap(),
            Load::body(Unit::Kg),
            8,
            DateTime::from_naive_utc_and_offset(date(day).and_time(NaiveTime::MIN), chrono::Utc),
        )
    };
    vec![set; sets]
}

fn followed(plan: &[PlannedSession], log: &[Vec<LoggedSet>]) -> Adherence {
    follow(plan, log.iter().flatten(), &config::built_in())
}

#[test]
fn sessions_may_move_within_the_week() {
    let plan = [
        session(12, &[(BENCH, 3), (SQUAT, 3)]),
        session(15, &[(ROW, 4)]),
    ];
    let log = [
        done(13, SQUAT, 3, None),
        done(13, BENCH, 3, None),
        done(15, ROW, 4, None),
    ];
    let all = followed(&plan, &log);
    assert_eq!((all.sessions(), all.sets()), ((2, 2), (10, 10)));
    let moved: Vec<_> = all.sessions.iter().filter_map(SessionDone::moved).collect();
    assert_eq!(moved, [(date(12), date(13))]);
    assert!(all.is_kept());
}

#[test]
fn a_session_may_be_split_and_two_may_be_done_in_one() {
    let plan = [session(12, &[(BENCH, 3), (SQUAT, 3)])];
    let split = [done(12, BENCH, 3, None), done(14, SQUAT, 3, None)];
    assert_eq!(followed(&plan, &split).sets(), (6, 6));
    let plan = [session(12, &[(BENCH, 3)]), session(15, &[(SQUAT, 3)])];
    let one = [done(13, BENCH, 3, None), done(13, SQUAT, 3, None)];
    let one = followed(&plan, &one);
    assert_eq!((one.sessions(), one.sets()), ((2, 2), (6, 6)));
}

#[test]
fn the_same_session_on_three_days_is_ticked_day_by_day() {
    let plan = [12, 14, 16].map(|day| session(day, &[(BENCH, 3), (ROW, 3)]));
    let log = [
        done(12, BENCH, 3, None),
        done(12, ROW, 3, None),
        done(16, BENCH, 3, None),
        done(16, ROW, 3, None),
    ];
    let two = followed(&plan, &log);
    let done: Vec<bool> = two.sessions.iter().map(SessionDone::is_done).collect();
    assert_eq!(done, [true, false, true]);
    assert_eq!(two.sets(), (12, 18));
}

#[test]
fn an_exercise_for_the_same_muscle_stands_in_for_a_planned_one() {
    let plan = [session(12, &[(BENCH, 3), (SQUAT, 3)])];
    let log = [
        done(12, "dumbbell bench press", 3, None),
        done(12, SQUAT, 3, None),
        done(12, ROW, 2, None),
    ];
    let swapped = followed(&plan, &log);
    assert_eq!((swapped.sets(), swapped.extra_sets), ((6, 6), 2));
    let catalogue = config::built_in();
    let expected = Swap {
        planned: catalogue.named(BENCH).unwrap(),
        instead: catalogue.named("dumbbell bench press").unwrap(),
        sets: 3,
    };
    assert_eq!(swapped.swaps, [expected]);
}

#[test]
fn effort_is_held_against_the_effort_asked() {
    let plan = [session(12, &[(BENCH, 4)])];
    let log = [
        done(12, BENCH, 2, Some(0.0)),
        done(12, BENCH, 1, Some(3.0)),
        done(12, BENCH, 1, None),
    ];
    let efforts = followed(&plan, &log).efforts;
    assert_eq!((efforts.rated, efforts.unrated), (3, 1));
    assert_eq!((efforts.harder, efforts.easier), (2, 1));
    assert_eq!(efforts.means(), Some((2.0, 1.0)));
}

#[test]
fn a_week_holds_as_many_sessions_as_it_has_days_left() {
    let plan = [12, 14, 18].map(|day| session(day, &[(BENCH, 3)]));
    let none = followed(&plan, &[]);
    // Sunday's own session can still be done on Sunday.
    let missed = [12, 15, 16, 17, 18, 19].map(|day| none.missed(week(), date(day)));
    assert_eq!(missed, [0, 0, 1, 2, 2, 3]);
}

#[test]
fn what_was_over_before_the_plan_came_was_not_asked_for() {
    let mut plan = [session(12, &[(BENCH, 3)]), session(15, &[(SQUAT, 3)])];
    plan[0].due = false;
    let log = [done(15, SQUAT, 3, None)];
    assert_eq!(followed(&plan, &log).sessions(), (1, 1));
    let both = [done(13, BENCH, 3, None), done(15, SQUAT, 3, None)];
    assert_eq!(followed(&plan, &both).sessions(), (2, 2));
}

#[test]
fn what_is_still_to_come_is_what_the_plan_lacks() {
    let catalogue = config::built_in();
    let plan = [session(12, &[(BENCH, 3)]), session(15, &[(BENCH, 4)])];
    let chest = catalogue.muscle_named("chest").unwrap().index();
    let log = done(12, BENCH, 5, None);
    let week = week();
    // On the last day what was for a day before does not come any more.
    for (today, coming) in [(week.first_day(), 2.0), (week.last_day(), 0.0)] {
        let to_come = still_to_come(&plan, &done_by_exercise(&log), (week, today), &catalogue);
        assert!((to_come[chest] - coming).abs() < 1e-9, "{today}");
    }
    assert_eq!(planned_volume(&plan, &catalogue)[chest], (7.0, 7.0));
}
