//! The handbook's table of loads and repetitions.

use chalkbell::domain::quantities::catalogue::{Basis, Equipment};
use chalkbell::domain::quantities::handbook;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;

use crate::assert_near;

/// Half a pound: the examples print whole pounds.
const WHOLE_POUNDS: f64 = 0.5;
/// Loads of the chart are printed to a tenth.
const TENTH: f64 = 0.05;

fn lb(lb: f64) -> Mass {
    Mass::from_lb(lb).unwrap()
}

/// Source: Haff GG, Triplett NT, eds. 2016, Essentials of Strength Training and Conditioning, 4th
/// ed., chapter 17 (row of 12 from memory; there are none for 13 and 14).
#[test]
fn rows_are_those_of_the_handbook() {
    let published = [
        (1, 1.00),
        (2, 0.95),
        (3, 0.93),
        (4, 0.90),
        (5, 0.87),
        (6, 0.85),
        (7, 0.83),
        (8, 0.80),
        (9, 0.77),
        (10, 0.75),
        (11, 0.70),
        (12, 0.67),
        (15, 0.65),
    ];
    for (reps, share) in published {
        assert_eq!(handbook::share(reps), Some(share), "{reps} reps");
    }
    for reps in [0, 13, 14, 16, 30] {
        assert_eq!(handbook::share(reps), None, "{reps} reps");
    }
}

/// Source: National Strength and Conditioning Association, training load chart: the row of a 1RM of
/// 190. The chart prints 133 (70 %) for 12, where the handbook has 67 %: a difference between the
/// two, kept out of the comparison.
#[test]
fn chart_row_of_190_agrees_up_to_ten_repetitions() {
    let printed = [
        190.0, 180.5, 176.7, 171.0, 165.3, 161.5, 157.7, 152.0, 146.3, 142.5,
    ];
    for (reps, printed) in (1..).zip(printed) {
        let share = handbook::share(reps).unwrap();
        assert_near(190.0 * share, printed, TENTH, &format!("{reps} reps"));
    }
    assert!((190.0 * handbook::share(12).unwrap() - 133.0).abs() > TENTH);
}

/// Source: CSCS practice question worked with the table: a 6RM of 285 lb is a 1RM of 335 lb (rounded
/// down to 5 lb), of which 65 % is a 15RM of 215 lb (rounded down to 5 lb).
#[test]
fn chain_from_six_to_fifteen_repetitions() {
    let rack = Rack::usual(Unit::Lb);
    let down = |mass| {
        rack.round_down(mass, Equipment::Barbell, Basis::Total)
            .unwrap()
    };
    let one_rm = down(handbook::one_rm(lb(285.0), 6).unwrap().unwrap());
    assert_eq!(one_rm, lb(335.0));
    let fifteen = lb(one_rm.in_lb() * handbook::share(15).unwrap());
    assert_eq!(down(fifteen), lb(215.0));
}

/// Source: trainee page that reproduces the table: 275 lb for 9 is 357 lb, 365 lb for 4 is 405.6 lb.
/// Haff and Triplett 2016, chapter 17 (from memory): a 10RM of 300 lb is a 1RM of 400 lb.
#[test]
fn worked_examples() {
    for (load, reps, published) in [(275.0, 9, 357.0), (365.0, 4, 405.6), (300.0, 10, 400.0)] {
        let one_rm = handbook::one_rm(lb(load), reps).unwrap().unwrap();
        assert_near(
            one_rm.in_lb(),
            published,
            WHOLE_POUNDS,
            "one-repetition maximum",
        );
    }
}
