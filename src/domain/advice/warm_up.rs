//! The way up to the first work load: warm-up sets, and the discs for each side.
//!
//! What the work load should be is [`super::next_set`]'s business.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};

use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::load::{ASSUMED_BODY_MASS, Load};
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::Rack;

/// One warm-up set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// With what.
    pub load: Load,
    /// Repetitions, all of them easy.
    pub reps: u32,
}

/// Shares of the work load with their repetitions, for lifts of several joints.
///
/// *Source* of the repetitions: Haff GG, Triplett NT, eds. Essentials of Strength Training and
/// Conditioning, 4th ed. 2016 (test of a one-repetition maximum: 5 to 10, then 3 to 5, then 2 to 3).
/// Shares: common practice, no source.
const STEPS: [(f64, u32); 3] = [(0.5, 8), (0.7, 4), (0.85, 2)];
/// The same for lifts of one joint, which need little. Common practice, no source.
const SMALL_STEPS: [(f64, u32); 1] = [(0.6, 8)];
/// The empty bar comes first where the first step is at least this many bars. Common practice, no
/// source.
const BARS: f64 = 1.5;
/// Repetitions with the empty bar, or with the body alone. Common practice, no source.
const EASY_REPS: u32 = 8;
/// A step less than this above the one before is left out. Common practice, no source.
const LEAST_STEP: f64 = 1.08;

/// Warm-up sets before work sets at `work`, in order; each is lighter than the next and than the
/// work load, and can be loaded. `warm` says that the target muscle did work sets today: then only
/// the last step of a large lift is left, to feel the load. None where nothing lighter can be
/// loaded, as for the body alone.
///
/// *Valid for*: work sets of some 5 to 30 repetitions; single attempts need more steps.
#[must_use]
pub fn ladder(
    work: Load,
    exercise: &Exercise,
    rack: &Rack,
    body_mass: Option<Mass>,
    warm: bool,
) -> Vec<Step> {
    let small = is_small(exercise.class);
    let shares: &[(f64, u32)] = if small { &SMALL_STEPS } else { &STEPS };
    let shares = match shares {
        _ if warm && small => &[],
        [.., last] if warm => std::slice::from_ref(last),
        shares => shares,
    };
    let moved = |load: Load| load.moved(exercise, body_mass).in_kg();
    let goal = moved(work);
    let mut steps: Vec<Step> = Vec::new();
    let first = empty_bar(work, exercise, rack).filter(|_| !warm && !small);
    let shared = shares.iter().filter_map(|&(share, reps)| {
        let load = lighter(work, share, exercise, rack, body_mass)?;
        Some(Step { load, reps })
    });
    for step in first.into_iter().chain(shared) {
        let before = steps.last().map_or(0.0, |step| moved(step.load));
        let lighter = moved(step.load) * LEAST_STEP <= goal;
        if lighter && moved(step.load) >= before * LEAST_STEP {
            steps.push(step);
        }
    }
    steps
}

const fn is_small(class: LiftClass) -> bool {
    matches!(
        class,
        LiftClass::SmallUpper | LiftClass::SmallLower | LiftClass::Calf | LiftClass::Trunk
    )
}

/// The empty bar, where it is well under the first step.
fn empty_bar(work: Load, exercise: &Exercise, rack: &Rack) -> Option<Step> {
    let [(share, _), ..] = STEPS;
    let barbell = exercise.equipment == Equipment::Barbell && work.basis == Basis::Total;
    let light = rack.bar().in_kg() * BARS <= work.mass.in_kg() * share;
    (barbell && light).then_some(Step {
        load: Load {
            mass: rack.bar(),
            ..work
        },
        reps: EASY_REPS,
    })
}

/// The load on the rack that moves at most this share, 0 to 1, of what the work load moves; `None` for
/// the body alone.
#[must_use]
pub fn lighter(
    work: Load,
    share: f64,
    exercise: &Exercise,
    rack: &Rack,
    body_mass: Option<Mass>,
) -> Option<Load> {
    let made = |mass: Mass| match work.unit {
        Unit::Pin => Mass::new(mass.amount(Unit::Pin).floor().max(1.0), Unit::Pin).ok(),
        _ => rack.round_down(mass, exercise.equipment, work.basis),
    };
    let with = |mass: Mass| Load { mass, ..work };
    match work.basis {
        Basis::Body => None,
        Basis::Total | Basis::PerHand => {
            let lightest = || rack.loads(exercise.equipment, work.basis).first().copied();
            let wanted = Mass::from_kg(work.mass.in_kg() * share).ok()?;
            made(wanted).or_else(lightest).map(with)
        }
        Basis::Added | Basis::Assisted => {
            let body = body_mass.unwrap_or(ASSUMED_BODY_MASS).in_kg() * exercise.body_share;
            let wanted = work.moved(exercise, body_mass).in_kg() * share;
            if work.basis == Basis::Assisted {
                let help = made(Mass::from_kg(body - wanted).ok()?)?;
                return (help.in_kg() < body).then(|| with(help));
            }
            let added = Mass::from_kg((wanted - body).max(0.0)).ok()?;
            Some(made(added).map_or(Load::body(work.unit), with))
        }
    }
}

/// The discs on each side for this load, heaviest first: none for the empty bar. `None` where the
/// exercise takes no discs in pairs, or the rack cannot make the load.
#[must_use]
pub fn discs(load: Load, exercise: &Exercise, rack: &Rack) -> Option<Vec<Mass>> {
    match (exercise.equipment, load.basis) {
        _ if load.unit == Unit::Pin => None,
        (Equipment::Barbell, Basis::Total) => rack.discs_per_side(load.mass),
        // A machine's own sledge is left out of the load, as the bar is of what it carries.
        (Equipment::PlateMachine, Basis::Total) => rack.discs_per_side(load.mass + rack.bar()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn load(kg: f64, basis: Basis) -> Load {
        Load {
            mass: Mass::from_kg(kg).unwrap(),
            unit: Unit::Kg,
            basis,
        }
    }

    /// `20x8 50x8`, the body alone as `0`.
    fn told(name: &str, work: Load, warm: bool) -> String {
        let catalogue = config::built_in();
        let exercise = catalogue.exercise(catalogue.named(name).unwrap());
        let rack = Rack::usual(Unit::Kg);
        let body = Some(Mass::from_grams(80_000));
        let steps = ladder(work, exercise, &rack, body, warm);
        let told = steps
            .iter()
            .map(|step| format!("{}x{}", step.load.mass.plain(Unit::Kg), step.reps));
        told.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn ladders_lead_up_in_loads_that_the_rack_makes() {
        use Basis::{Added, Assisted, Body, PerHand, Total};
        let cases = [
            ("back squat", load(140.0, Total), "20x8 70x8 97.5x4 117.5x2"),
            ("back squat", load(60.0, Total), "20x8 30x8 40x4 50x2"),
            ("bench press", load(50.0, Total), "25x8 35x4 42.5x2"),
            // Half of it is under the bar, which is then what there is.
            ("bench press", load(30.0, Total), "20x8 25x2"),
            ("bench press", load(20.0, Total), ""),
            ("leg press", load(100.0, Total), "50x8 70x4 85x2"),
            (
                "dumbbell bench press",
                load(30.0, PerHand),
                "14x8 20x4 24x2",
            ),
            ("lateral raise", load(10.0, PerHand), "6x8"),
            ("lateral raise", load(1.0, PerHand), ""),
            ("pull-up", load(20.0, Added), "0x8"),
            ("pull-up", load(45.0, Added), "0x8 7.5x4 26.25x2"),
            ("pull-up", load(0.0, Body), ""),
            ("pull-up", load(20.0, Assisted), "50x8 40x4 30x2"),
        ];
        for (name, work, expected) in cases {
            assert_eq!(told(name, work, false), expected, "{name} {work:?}");
        }
    }

    #[test]
    fn a_warm_muscle_needs_one_step_or_none() {
        let work = load(80.0, Basis::Total);
        assert_eq!(told("bench press", work, true), "67.5x2");
        assert_eq!(told("triceps pushdown", load(30.0, Basis::Total), true), "");
    }

    #[test]
    fn discs_are_told_for_bars_and_machines_that_take_them() {
        let catalogue = config::built_in();
        let rack = Rack::usual(Unit::Kg);
        let side = |name: &str, kg: f64| {
            let exercise = catalogue.exercise(catalogue.named(name).unwrap());
            let discs = discs(load(kg, Basis::Total), exercise, &rack)?;
            Some(discs.iter().map(|disc| disc.in_kg()).collect::<Vec<_>>())
        };
        assert_eq!(side("back squat", 82.5), Some(vec![25.0, 5.0, 1.25]));
        assert_eq!(side("back squat", 20.0), Some(Vec::new()));
        assert_eq!(side("back squat", 81.0), None);
        assert_eq!(side("leg press", 100.0), Some(vec![25.0, 25.0]));
        assert_eq!(side("lat pulldown", 60.0), None);
    }
}
