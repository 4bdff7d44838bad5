//! Trend, stall and being run down, on simulated lifters of whom it is known.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

#[path = "simulators/mod.rs"]
#[expect(dead_code, reason = "other tests ask other things of the crowds")]
mod simulators;

use chalkbell::domain::progress::{Course, Sign, run_down};
use simulators::Form;
use simulators::crowd::{Folk, courses};

const LIFTERS: u64 = 5;
/// Eight weeks of three sessions.
const SESSIONS: usize = 24;
const FORMS: [Form; 2] = [Form::WorkBalance, Form::ThreeCompartments];

fn all(rate: f64, off: f64) -> Vec<Vec<Course>> {
    let folk = Folk::Worn { rate, off };
    let lifters = FORMS
        .into_iter()
        .flat_map(|form| (1..=LIFTERS).map(move |seed| (form, seed)));
    lifters
        .map(|(form, seed)| courses(form, folk, seed, SESSIONS))
        .collect()
}

fn mean(numbers: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = numbers.fold((0.0, 0.0), |(sum, count), x| (sum + x, count + 1.0));
    sum / count
}

#[test]
fn the_interval_of_the_change_a_week_holds_the_true_rate() {
    let mut least: f64 = 1.0;
    for rate in [-0.005, 0.0, 0.005, 0.010_f64] {
        let lifters = all(rate, 0.0);
        let all: Vec<&Course> = lifters.iter().flatten().collect();
        let held = mean(all.iter().map(|course| {
            let change = course.change;
            f64::from(u8::from(
                (change.low..=change.high).contains(&rate.exp_m1()),
            ))
        }));
        let middle = mean(all.iter().map(|course| course.change.middle));
        println!("{rate}: {middle:.4} held {held:.2}");
        least = least.min(held);
    }
    assert!(least >= 0.65, "{least:.2}");
}

#[test]
fn lifts_that_stand_still_are_likelier_called_stalled_than_lifts_that_gain() {
    let chance = |rate: f64| {
        mean(
            all(rate, 0.0)
                .iter()
                .flatten()
                .filter_map(|course| course.stalled),
        )
    };
    let [falling, still, slow, fast] = [-0.01, 0.0, 0.005, 0.012].map(chance);
    println!("{falling:.2} {still:.2} {slow:.2} {fast:.2}");
    assert!(falling > still && still > slow && slow > fast);
    assert!(falling > 0.6 && fast < 0.25, "{falling:.2} {fast:.2}");
}

#[test]
fn a_lifter_off_form_on_all_lifts_is_found_run_down() {
    let chance = |off: f64| {
        let lifters = all(0.003, off);
        let named = lifters
            .iter()
            .flatten()
            .filter(|c| c.signs.contains(&Sign::LowForm))
            .count();
        (
            mean(lifters.iter().filter_map(|courses| run_down(courses))),
            named,
        )
    };
    let ((well, named_well), (off, named_off)) = (chance(0.0), chance(0.06));
    println!("{well:.2} {off:.2} {named_well} {named_off}");
    assert!(
        well < 0.1 && off > 4.0 * well && off > 0.35,
        "{well:.2} {off:.2}"
    );
    assert!(named_off > 4 * named_well, "{named_off} {named_well}");
}

#[test]
fn nothing_is_said_before_there_is_anything_to_say() {
    let folk = Folk::Worn {
        rate: 0.0,
        off: 0.0,
    };
    for course in courses(Form::OnePhase, folk, 1, 2) {
        assert_eq!((course.stalled, course.low_form), (None, None));
        assert!(course.signs.is_empty());
        assert!(run_down(&[course]).is_none());
    }
}
