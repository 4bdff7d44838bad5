//! Warm-up sets against the steps published for working up to a heavy attempt.

use chalkbell::config;
use chalkbell::domain::advice::warm_up::{discs, ladder};
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;

fn kg(kg: f64) -> Load {
    Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg)
}

/// Source: Haff GG, Triplett NT, eds. Essentials of Strength Training and Conditioning, 4th ed.
/// 2016, test of a one-repetition maximum: 5 to 10 easy repetitions, then 3 to 5, then 2 to 3, each heavier.
#[test]
fn three_steps_have_the_published_repetitions_in_rising_loads() {
    const PUBLISHED: [(u32, u32); 3] = [(5, 10), (3, 5), (2, 3)];
    let catalogue = config::built_in();
    let rack = Rack::usual(Unit::Kg);
    for name in ["back squat", "bench press", "deadlift", "barbell row"] {
        let exercise = catalogue.exercise(catalogue.named(name).unwrap());
        for work in [50.0, 80.0, 120.0, 200.0] {
            let steps = ladder(kg(work), exercise, &rack, None, false);
            let last = &steps[steps.len() - 3..];
            for (step, (low, high)) in last.iter().zip(PUBLISHED) {
                assert!(
                    (low..=high).contains(&step.reps),
                    "{name} {work}: {steps:?}"
                );
            }
            let loads = steps.iter().map(|step| step.load.mass);
            assert!(loads.is_sorted_by(|a, b| a < b), "{name} {work}: {steps:?}");
            assert!(last[2].load.mass < kg(work).mass, "{name} {work}");
        }
    }
}

/// Source: common gym practice: a 20 kg bar with one to five pairs of 20 kg discs is 60, 100, 140,
/// 180 and 220 kg. With 25 kg discs at hand, what stands on each side is half of what is not bar.
#[test]
fn discs_on_each_side_make_up_the_load_with_the_bar() {
    let catalogue = config::built_in();
    let squat = catalogue.exercise(catalogue.named("back squat").unwrap());
    let rack = Rack::usual(Unit::Kg);
    for total in [60.0, 100.0, 140.0, 180.0, 220.0] {
        let side: Mass = discs(kg(total), squat, &rack).unwrap().into_iter().sum();
        assert_eq!(side + side + rack.bar(), kg(total).mass, "{total}");
    }
}
