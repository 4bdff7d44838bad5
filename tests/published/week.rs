//! Counting of direct and helper sets, and the bands.

use chalkbell::config;
use chalkbell::domain::coaching::week::{Band, WeeklyVolume, tally};
use chalkbell::domain::log::LoggedSet;
use chalkbell::domain::quantities::catalogue::Muscle;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::DateTime;

/// Halves are exact.
const EXACT: f64 = 0.0;

fn week_of(sets: &[(&str, usize)]) -> WeeklyVolume {
    let catalogue = config::built_in();
    let log: Vec<LoggedSet> = sets
        .iter()
        .flat_map(|&(name, count)| std::iter::repeat_n(hard_set(name), count))
        .collect();
    tally(
        log.iter().map(|set| (set, None)),
        &catalogue,
        TrainingStatus::Intermediate,
    )
}

fn hard_set(name: &str) -> LoggedSet {
    LoggedSet {
        rir: Some(Rir::FAILURE),
        ..LoggedSet::straight(
            config::built_in().named(name).unwrap(),
            Load::body(Unit::Kg),
            10,
            DateTime::UNIX_EPOCH,
        )
    }
}

#[track_caller]
fn check(tally: &WeeklyVolume, muscle: &str, counted: f64, direct: u32) {
    let id = config::built_in().muscle_named(muscle).unwrap();
    let line = tally.muscles.iter().find(|line| line.muscle == id).unwrap();
    crate::assert_near(line.counted, counted, EXACT, muscle);
    assert_eq!(line.direct, direct, "{muscle}");
}

/// Source: Pelland JC et al. 2026, Sports Med 56(2):481-505, doi 10.1007/s40279-025-02344-w: a
/// direct set counts 1, an indirect one ½. Four bench presses, three overhead presses and three
/// triceps extensions, worked out from it.
#[test]
fn fractional_counting_of_a_pressing_day() {
    let tally = week_of(&[
        ("bench press", 4),
        ("overhead press", 3),
        ("lying triceps extension", 3),
    ]);
    check(&tally, "chest", 4.0, 4);
    check(&tally, "front delts", 5.0, 3);
    check(&tally, "triceps", 6.5, 3);
}

/// Source: a summary of the same paper: four direct and two indirect sets are five.
#[test]
fn four_direct_and_two_indirect_sets_are_five() {
    let tally = week_of(&[("barbell curl", 4), ("lat pulldown", 2)]);
    check(&tally, "biceps", 5.0, 4);
}

/// Sources: Iversen et al. 2021, doi 10.1007/s40279-021-01490-1: 4 at least; Schoenfeld et al. 2021,
/// doi 10.47206/ijsc.v1i1.81: 10; Baz-Valle et al. 2022, doi 10.2478/hukin-2022-0017: 12 to 20.
#[test]
fn bands_are_made_of_published_numbers() {
    let catalogue = config::built_in();
    let quads = catalogue.muscle(catalogue.muscle_named("quads").unwrap());
    let bands = [
        (TrainingStatus::Beginner, 4, 12),
        (TrainingStatus::Intermediate, 10, 20),
        (TrainingStatus::Advanced, 12, 20),
    ];
    for (status, low, high) in bands {
        assert_eq!(
            Band::default_for(quads, status),
            Band { low, high },
            "{status:?}"
        );
        let unplanned = Muscle {
            planned: false,
            ..quads.clone()
        };
        assert_eq!(Band::default_for(&unplanned, status), Band { low: 0, high });
    }
}
