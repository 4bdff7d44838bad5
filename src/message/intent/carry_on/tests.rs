use std::sync::Arc;

use super::compose::{Changed, Done, Sets, Step, Told};
use super::{Basis, Before};
use crate::config;
use crate::message::Reader;

fn after_two_sets() -> Before {
    Before {
        load: Some(60.0),
        sets: vec![(60.0, 10.0), (60.0, 9.0)],
        basis: Basis::Total,
        bar: 20.0,
        ..Before::default()
    }
}

fn counted(step: Step, reps: u32, rir: Option<f64>) -> Option<Told> {
    let done = Done::Counted(vec![(step, reps)]);
    Some(Told::Sets(Sets { done, rir }))
}

#[test]
fn what_is_plain_from_the_sets_before_is_left_out() {
    let reader = Reader::new(Arc::clone(&config::built_in()));
    for (text, told) in [
        ("got 8 that time", counted(Step::Same, 8, None)),
        ("8 this time, 1 left", counted(Step::Same, 8, Some(1.0))),
        (
            "went up to 65 and got 7",
            counted(Step::To(65.0, None), 7, None),
        ),
        ("gonna try 65", Some(Told::Load(Step::To(65.0, None)))),
        (
            "took 5 off each side",
            Some(Told::Load(Step::By(-10.0, None))),
        ),
        (
            "both of those were 2 left",
            Some(Told::Changed(vec![0, 1], Changed::Left(vec![2.0, 2.0]))),
        ),
        ("the guy next to me is doing 140", None),
        ("my train goes at 9", None),
    ] {
        let read = reader.carry_on(text, &after_two_sets());
        let sure = read.filter(|read| read.sure >= 0.6);
        assert_eq!(sure.map(|read| read.told), told, "{text}");
    }
}

#[test]
fn a_step_is_taken_from_the_load_at_hand() {
    let before = after_two_sets();
    assert_eq!(Step::By(-10.0, None).amount(&before), Some(50.0));
    assert_eq!(Step::Sides(15.0, None).amount(&before), Some(50.0));
    // How far the next dumbbell is, the equipment knows.
    assert_eq!(Step::Steps(1).amount(&before), None);
    let pins = Before {
        load: Some(6.0),
        basis: Basis::Pin,
        ..before
    };
    assert_eq!(Step::Steps(-1).amount(&pins), Some(5.0));
    assert_eq!(Step::Back.amount(&after_two_sets()), None);
}
