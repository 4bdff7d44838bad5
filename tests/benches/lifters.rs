//! Crowds of simulated lifters under the model and under simple rules, side by side. Run with
//! `cargo bench --bench lifters`.
//!
//! Five forms of body, none of them the model's own: error of the next set against the last set
//! repeated, nine tenths of it and Epley's equation; a calibration table; the share of advised sets
//! that count and the rest that each of them takes, against fixed rests and one who knows the body.

#![expect(
    clippy::print_stdout,
    reason = "a benchmark prints, and may fail on its own data"
)]

#[path = "../simulators/mod.rs"]
#[expect(dead_code, reason = "progress is asked for elsewhere")]
mod simulators;

use simulators::Form;
use simulators::crowd::{Adviser, Folk, Score, crowd};

/// Lifters of each form.
const CROWD: u64 = 60;

fn main() {
    errors();
    calibration();
    rests();
}

fn errors() {
    println!("Error of the next set at the load of the last, repetitions (weeks 3 to 6)");
    println!("form                     model  last again  0.9 of it  Epley  of the best rule");
    for form in Form::ALL {
        let s = crowd(form, Folk::Usual, Adviser::Model, CROWD);
        let [model, again, nine, epley] =
            [s.model, s.repeat, s.nine_tenths, s.classical].map(|sum| sum / s.same_load);
        let share = model / again.min(nine).min(epley);
        println!(
            "{:24} {model:5.2} {again:11.2} {nine:10.2} {epley:6.2} {share:17.2}",
            format!("{form:?}")
        );
    }
}

fn calibration() {
    println!("\nForecasts and counting sets (week 3 on; first two weeks in brackets)");
    println!("form, folk: error, own noise; share held by the 80 % interval, its width; counting");
    for form in Form::ALL {
        for folk in Folk::ALL {
            let s = crowd(form, folk, Adviser::Model, CROWD);
            let [error, noise, held, width] =
                [s.error, s.unavoidable, s.held, s.width].map(|sum| sum / s.sets);
            println!(
                "{:24} {:18} {error:5.2} {noise:5.2} {held:6.3} {width:4.1} {:6.3} ({:.3})",
                format!("{form:?}"),
                format!("{folk:?}"),
                s.counted / s.advised,
                s.early_counted / s.early
            );
        }
    }
}

fn rests() {
    println!("\nShare of planned sets that count, and rest for each of them");
    for form in Form::ALL {
        println!("{form:?}");
        let line = |who: &str, s: &Score| {
            println!(
                "    {who:12} {:.3} {:4.0} s",
                s.share(),
                s.rest_a_counting_set()
            );
        };
        line("model", &crowd(form, Folk::Usual, Adviser::Model, CROWD));
        let knowing = crowd(form, Folk::Usual, Adviser::AllKnowing, CROWD);
        line("all-knowing", &knowing);
        for fixed in [60.0, 90.0, 120.0, 180.0, 240.0, 300.0] {
            let s = crowd(form, Folk::Usual, Adviser::FixedRest(fixed), CROWD);
            line(&format!("{fixed:.0} s"), &s);
        }
    }
}
