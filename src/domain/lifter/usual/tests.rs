use chrono::DateTime;

use super::*;

use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};

/// A load, repetitions, and what was said to be left.
type Done = (f64, u32, Option<f64>);

fn set((kg, reps, left): Done) -> LoggedSet {
    LoggedSet {
        rir: left.map(|left| Rir::new(left).unwrap()),
        ..LoggedSet::straight(
            ExerciseId(0),
            Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg),
            reps,
            DateTime::UNIX_EPOCH,
        )
    }
}

fn after(days: &[&[Done]]) -> Usual {
    let mut usual = Usual::default();
    for day in days {
        for &done in *day {
            usual.note(&set(done), done.0);
        }
        usual.next_day();
    }
    usual
}

const EIGHTS: &[Done] = &[(80.0, 8, Some(2.0)), (80.0, 7, Some(1.0))];

#[test]
fn few_repetitions_are_work_where_they_are_chosen_or_done_again() {
    let chosen = after(&[&[(130.0, 3, Some(2.0))]]);
    assert_eq!((chosen.kg(), chosen.few()), (Some(130.0), Some(5.0)));
    let failing: &[Done] = &[(130.0, 3, Some(0.0))];
    assert_eq!(after(&[failing]).kg(), None);
    assert_eq!(after(&[failing, failing]).kg(), Some(130.0));
    let single: &[Done] = &[(140.0, 1, Some(2.0))];
    assert_eq!(after(&[single, single]).kg(), None);
    assert_eq!(after(&[EIGHTS, EIGHTS]).few(), None);
}

#[test]
fn a_triple_beside_the_usual_work_changes_nothing() {
    let day: &[Done] = &[(95.0, 3, Some(2.0)), (80.0, 8, Some(1.0))];
    let usual = after(&[EIGHTS, EIGHTS, day]);
    assert_eq!((usual.kg(), usual.few()), (Some(80.0), None));
}

#[test]
fn one_bad_day_is_forgiven_and_two_are_not() {
    let bad: &[Done] = &[(80.0, 5, Some(0.0)), (70.0, 8, Some(1.0))];
    let worse: &[Done] = &[(75.0, 5, Some(0.0))];
    let once = after(&[EIGHTS, EIGHTS, bad]);
    assert_eq!((once.kg(), once.is_held(7.0)), (Some(80.0), true));
    let twice = after(&[EIGHTS, EIGHTS, bad, worse]);
    assert_eq!(twice.kg(), Some(75.0));
    let lighter = after(&[EIGHTS, EIGHTS, worse]);
    assert_eq!(lighter.kg(), Some(80.0));
    assert!(!lighter.was_last(80.0));
}

#[test]
fn a_far_heavier_load_that_was_left_at_once_is_no_raise() {
    let slip: &[Done] = &[(92.5, 8, Some(2.0)), (80.0, 8, Some(1.0))];
    assert_eq!(after(&[EIGHTS, EIGHTS, slip]).kg(), Some(80.0));
    let raise: &[Done] = &[(82.5, 7, Some(1.0)), (80.0, 8, Some(1.0))];
    assert_eq!(after(&[EIGHTS, EIGHTS, raise]).kg(), Some(82.5));
}

#[test]
fn light_days_leave_what_is_usual() {
    let light: &[Done] = &[(60.0, 8, Some(5.0)), (60.0, 8, Some(5.0))];
    let usual = after(&[EIGHTS, EIGHTS, light, light]);
    assert_eq!((usual.kg(), usual.reps()), (Some(80.0), Some(10.0)));
    assert!(usual.is_to_come() && usual.is_worked(82.5) && !usual.is_worked(60.0));
    assert_eq!(usual.reps_at(80.0), Some(10.0));
}

#[test]
fn a_step_more_on_each_day_is_a_climb_until_repetitions_are_lost() {
    let day = |kg: f64, reps: u32, left: f64| [(kg, reps, Some(left))];
    let climb = |last: &[Done]| {
        let days = [day(80.0, 5, 2.0), day(82.5, 5, 2.0)];
        after(&[&days[0], &days[1], last]).climbs()
    };
    assert!(climb(&day(85.0, 5, 2.0)));
    assert!(!climb(&day(85.0, 4, 2.0)) && !climb(&day(85.0, 6, 1.0)));
    assert!(!climb(&day(82.5, 5, 2.0)) && !climb(&day(100.0, 5, 2.0)));
}

#[test]
fn the_row_reads_back() {
    let mut usual = after(&[EIGHTS, &[(100.0, 3, Some(2.0))]]);
    usual.note(&set((90.0, 6, None)), 90.0);
    let mut row = Writer::new(1);
    usual.write(&mut row);
    let bytes = row.finish();
    let mut row = Reader::new(1, &bytes).unwrap();
    assert_eq!(Usual::read(&mut row), Some(usual));
    assert!(row.is_done());
}
