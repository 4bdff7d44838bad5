//! Properties of loads, racks and efforts, over arbitrary numbers.

use chalkbell::domain::quantities::catalogue::{Basis, Equipment};
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::equations::Equation;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::{Discs, Rack, Steps};
use proptest::prelude::*;

/// Repetitions by which an equation and its inverse may differ: the flattest end of the
/// exponential ones magnifies the last bits of a share.
const INVERSE: f64 = 1e-6;

fn units() -> impl Strategy<Value = Unit> {
    prop_oneof![Just(Unit::Kg), Just(Unit::Lb)]
}

/// A written load: up to two decimals, as lifters write them.
fn written() -> impl Strategy<Value = f64> {
    (0..100_000_u32).prop_map(|hundredths| f64::from(hundredths) / 100.0)
}

fn masses() -> impl Strategy<Value = Mass> {
    (-10_000_000_000_000..10_000_000_000_000_i64).prop_map(Mass::from_tenth_micrograms)
}

fn racks() -> impl Strategy<Value = Rack> {
    let steps = (1..20_i64, 1..40_i64, 0..60_i64);
    let discs = prop::collection::vec((1..100_i64, 1..5_u8), 1..6);
    (units(), 1..80_i64, discs, steps.clone(), steps).prop_filter_map(
        "too many loads",
        |(unit, bar, discs, dumbbells, stack)| {
            let quarter = Mass::new(0.25, unit).ok()?;
            let discs = discs.into_iter().map(|(quarters, pairs)| Discs {
                mass: quarter.times(quarters),
                pairs,
            });
            let steps = |(first, step, count): (i64, i64, i64)| {
                let last = quarter.times(first + step * count);
                Steps::new(quarter.times(first), quarter.times(step), last).ok()
            };
            let (dumbbells, stack) = (steps(dumbbells)?, steps(stack)?);
            Rack::new(unit, quarter.times(bar), discs.collect(), dumbbells, stack).ok()
        },
    )
}

fn supplies() -> impl Strategy<Value = (Equipment, Basis)> {
    let equipment = prop::sample::select(Equipment::ALL.to_vec());
    let bases = [Basis::Total, Basis::PerHand, Basis::Added, Basis::Assisted];
    (equipment, prop::sample::select(bases.to_vec()))
}

proptest! {
    #[test]
    fn a_written_load_comes_back_in_its_unit(amount in written(), unit in units()) {
        let mass = Mass::new(amount, unit).unwrap();
        prop_assert_eq!(mass.plain(unit), amount.to_string());
    }

    #[test]
    fn unit_changes_never_drift(amount in written(), unit in units(), times in 1..50) {
        let first = Mass::new(amount, unit).unwrap();
        let mut mass = first;
        for _ in 0..times {
            mass = Mass::from_lb(mass.in_lb()).unwrap();
            mass = Mass::from_kg(mass.in_kg()).unwrap();
        }
        prop_assert_eq!(mass, first);
    }

    #[test]
    fn sums_are_exact(a in masses(), b in masses(), count in 0..100_i64) {
        prop_assert_eq!(a + b - b, a);
        prop_assert_eq!(std::iter::repeat_n(a, 7).sum::<Mass>(), a.times(7));
        prop_assert_eq!(a.times(count) - a.times(count - 1), a);
        prop_assert_eq!(-(-a), a);
    }

    #[test]
    fn quarter_pounds_are_whole_counts(quarters in 0..100_000_i64) {
        let quarter = Mass::from_lb(0.25).unwrap();
        let amount = quarters as f64 / 4.0;
        prop_assert_eq!(Mass::from_lb(amount).unwrap(), quarter.times(quarters));
    }

    #[test]
    fn what_can_be_loaded_ascends_from_above_nothing(
        rack in racks(),
        (equipment, basis) in supplies(),
    ) {
        let loads = rack.loads(equipment, basis);
        prop_assert!(loads.iter().all(|&load| load > Mass::ZERO));
        prop_assert!(loads.is_sorted_by(|a, b| a < b));
    }

    #[test]
    fn rounding_never_makes_a_set_harder(
        rack in racks(),
        (equipment, basis) in supplies(),
        wanted in written(),
    ) {
        let wanted = Mass::new(wanted, rack.unit()).unwrap();
        let loads = rack.loads(equipment, basis);
        let rounded = rack.round_down(wanted, equipment, basis);
        let easier = |load: &&Mass| if basis == Basis::Assisted { **load >= wanted } else { **load <= wanted };
        let nearest = if basis == Basis::Assisted {
            loads.iter().find(easier)
        } else {
            loads.iter().rfind(easier)
        };
        prop_assert_eq!(rounded.as_ref(), nearest);
    }

    #[test]
    fn every_bar_load_has_its_discs(rack in racks(), picks in prop::collection::vec(any::<prop::sample::Index>(), 10)) {
        let loads = rack.loads(Equipment::Barbell, Basis::Total);
        for load in picks.iter().map(|pick| *pick.get(&loads)) {
            let side = rack.discs_per_side(load).unwrap();
            prop_assert!(side.is_sorted_by(|a, b| a >= b));
            let total = rack.bar() + side.iter().copied().sum::<Mass>().times(2);
            prop_assert_eq!(total, load);
            for disc in rack.discs() {
                let same = rack.discs().iter().filter(|other| other.mass == disc.mass);
                let pairs: usize = same.map(|other| usize::from(other.pairs)).sum();
                prop_assert!(side.iter().filter(|&&mass| mass == disc.mass).count() <= pairs);
            }
        }
    }

    #[test]
    fn reserve_and_rpe_are_inverse(halves in 10..=20_u32) {
        let rpe = f64::from(halves) / 2.0;
        let rir = Rir::from_rpe(rpe).unwrap();
        prop_assert_eq!(rir.rpe(), Some(rpe));
        prop_assert_eq!(Rir::new(10.0 - rpe), Ok(rir));
    }

    #[test]
    fn effort_outside_its_range_is_refused(number in prop::num::f64::ANY) {
        prop_assert_eq!(Rir::new(number).is_ok(), (0.0..=30.0).contains(&number));
        let halves = (10..=20).any(|n| (number - f64::from(n) / 2.0).abs() < 1e-9);
        prop_assert_eq!(Rir::from_rpe(number).is_ok(), halves);
    }

    #[test]
    fn mass_takes_any_number_or_refuses_it(number in prop::num::f64::ANY, unit in units()) {
        if let Ok(mass) = Mass::new(number, unit) {
            prop_assert!(mass.in_kg().abs() <= 100_000.0);
            prop_assert!(!mass.plain(unit).is_empty());
        }
    }

    #[test]
    fn equations_fall_with_repetitions_and_invert(
        equation in prop::sample::select(Equation::ALL.to_vec()),
        reps in 1.0..30.0_f64,
    ) {
        let share = equation.share(reps).unwrap();
        prop_assert!(share > 0.0 && share <= 1.0);
        prop_assert!(equation.share(reps + 0.5).unwrap() < share);
        prop_assert!((equation.reps(share).unwrap() - reps).abs() < INVERSE);
    }
}
