//! Trend, stall and being run down, on simulated lifters of whom it is known.

use crate::simulators::Form;
use crate::simulators::crowd::{Folk, courses};
use chalkbell::domain::coaching::progress::{Course, Sign, run_down};

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

/// Share of the lifts of lifters of these forms whose interval of the change a week holds the rate,
/// and how many lifts.
fn held(forms: &[Form], rate: f64, sessions: usize) -> (f64, f64) {
    let folk = Folk::Worn { rate, off: 0.0 };
    let (mut held, mut of) = (0.0, 0.0);
    for &form in forms {
        for seed in 1..=3 {
            for course in courses(form, folk, seed, sessions) {
                let change = course.change;
                let holds = (change.low..=change.high).contains(&rate.exp_m1());
                held += f64::from(u8::from(holds));
                of += 1.0;
            }
        }
    }
    (held, of)
}

/// Six, eight and twelve weeks of three sessions.
const SPANS: [usize; 3] = [18, 24, 36];
/// Lifts that fall, stand still, gain and gain fast; log a week.
const RATES: [f64; 4] = [-0.005, 0.0, 0.005, 0.010];

#[test]
fn four_in_five_intervals_of_the_change_a_week_hold_the_true_rate() {
    let (mut sum, mut count) = (0.0, 0.0);
    let mut least: f64 = 1.0;
    for rate in RATES {
        let (mut of_rate, mut lifts) = (0.0, 0.0);
        for sessions in SPANS {
            for form in Form::ALL {
                let (held, of) = held(&[form], rate, sessions);
                println!("{rate} {sessions} {form:?}: {:.2} of {of}", held / of);
                of_rate += held;
                lifts += of;
            }
        }
        println!("{rate}: {:.3}", of_rate / lifts);
        least = least.min(of_rate / lifts);
        sum += of_rate;
        count += lifts;
    }
    let held = sum / count;
    println!("all: {held:.3}, worst rate {least:.3}");
    assert!((0.74..=0.86).contains(&held), "{held:.3}");
    // Falls are rarer than what the population does, so their intervals hold less often.
    assert!(least >= 0.65, "{least:.3}");
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
