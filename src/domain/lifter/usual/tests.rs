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
    let singles: &[Done] = &[(140.0, 1, Some(1.0)), (140.0, 1, Some(1.0))];
    assert_eq!(after(&[singles]).kg(), Some(140.0));
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
fn a_little_less_each_day_is_a_fall_once_nothing_is_left() {
    let day = |reps: u32, left: f64| [(150.0, reps, Some(left))];
    let left = |all: &[f64]| {
        let days: Vec<[Done; 1]> = all.iter().map(|left| day(5, *left)).collect();
        let days: Vec<&[Done]> = days.iter().map(|day| day.as_slice()).collect();
        after(&days)
    };
    assert!(left(&[3.0, 2.0, 1.0, 0.0]).fell_again());
    // Nearer to failure each week, as it may have been meant; and back again.
    assert!(!left(&[3.0, 2.0, 1.0, 1.0]).fell());
    assert!(!left(&[3.0, 2.0, 1.0, 2.0]).fell());
    let fewer = after(&[&day(8, 2.0), &day(7, 2.0), &day(6, 2.0), &day(5, 1.0)]);
    assert!(fewer.fell_again());
    let lost: Vec<[Done; 1]> = (0..4)
        .map(|n| day(8 - n, if n == 0 { 1.0 } else { 0.0 }))
        .collect();
    let lost: Vec<&[Done]> = lost.iter().map(|day| day.as_slice()).collect();
    assert!(after(&lost).fell_again());
}

#[test]
fn a_set_that_was_ended_early_is_no_easy_one() {
    let usual = after(&[EIGHTS, EIGHTS]);
    assert!(usual.is_cut_short(80.0, 4.0, 6.0));
    // Stronger, or as many with more left, or at another load.
    assert!(!usual.is_cut_short(80.0, 6.0, 6.0) && !usual.is_cut_short(80.0, 8.0, 3.0));
    assert!(!usual.is_cut_short(60.0, 4.0, 6.0));
    let short: &[Done] = &[(80.0, 5, Some(5.0))];
    assert_eq!(after(&[EIGHTS, short]).last_first_set(), None);
}

#[test]
fn the_same_number_of_sets_on_four_days_is_a_habit() {
    assert_eq!(after(&[EIGHTS; 3]).always(), None);
    assert_eq!(after(&[EIGHTS; 4]).always(), Some(2));
    let three: &[Done] = &[EIGHTS[0], EIGHTS[1], EIGHTS[1]];
    assert_eq!(
        after(&[EIGHTS, EIGHTS, three, EIGHTS, EIGHTS]).always(),
        None
    );
    // One set a day is no number of sets.
    assert_eq!(after(&[&EIGHTS[..1]; 5]).always(), None);
}

#[test]
fn few_repetitions_to_failure_at_the_usual_load_are_no_choice() {
    let failing: &[Done] = &[(80.0, 4, Some(0.0))];
    let once = after(&[EIGHTS, EIGHTS, failing]);
    assert_eq!(
        (once.kg(), once.few(), once.fell()),
        (Some(80.0), None, true)
    );
    assert!(after(&[EIGHTS, EIGHTS, failing, failing]).fell_again());
}

#[test]
fn after_a_step_that_was_too_much_the_load_before_it_goes_again() {
    let step: &[Done] = &[(84.0, 6, Some(0.0))];
    let after_step = after(&[EIGHTS, EIGHTS, step]);
    assert_eq!(
        (after_step.kg(), after_step.reps()),
        (Some(80.0), Some(10.0))
    );
    assert!(after_step.is_held(7.0));
    let twice: &[Done] = &[(82.5, 6, Some(0.0))];
    assert!(after(&[EIGHTS, EIGHTS, twice, twice]).fell_again());
}

#[test]
fn two_days_of_clearly_more_than_at_first_are_worth_a_step() {
    let more: &[Done] = &[(80.0, 10, Some(2.0))];
    assert!(after(&[EIGHTS, EIGHTS, more, more]).has_grown());
    assert!(!after(&[EIGHTS, EIGHTS, EIGHTS, more]).has_grown());
    let spent: &[Done] = &[(80.0, 12, Some(0.0))];
    assert!(!after(&[EIGHTS, EIGHTS, spent, spent]).has_grown());
    // Shown to failure, once is enough.
    let shown: &[Done] = &[(80.0, 13, Some(0.0))];
    assert!(after(&[EIGHTS, EIGHTS, shown]).has_grown());
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

#[test]
fn what_was_done_and_shown_at_the_load_of_the_last_day() {
    let usual = after(&[EIGHTS, &[(80.0, 8, Some(1.0)), (80.0, 12, Some(0.0))]]);
    assert_eq!((usual.least_done(), usual.most()), (Some(8.0), 12.0));
    let few: &[Done] = &[(130.0, 3, Some(4.0)), (130.0, 3, Some(3.0))];
    let usual = after(&[few, few]);
    assert_eq!((usual.least_done(), usual.most()), (Some(3.0), 7.0));
    assert_eq!(usual.last_first_set(), Some((3.0, 4.0)));
    let other = after(&[few, EIGHTS]);
    assert_eq!((usual.left_each_day(), other.left_each_day()), (4.0, 0.0));
}
