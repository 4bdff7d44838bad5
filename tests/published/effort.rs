//! The RPE scale anchored in repetitions in reserve.

use chalkbell::domain::quantities::effort::Rir;

use crate::assert_near;

/// RIR = 10 − RPE is exact in halves.
const EXACT: f64 = 0.0;

/// Sources: Zourdos MC et al. 2016, J Strength Cond Res 30(1):267-275, doi
/// 10.1519/JSC.0000000000001049; the whole numbers again in J Hum Kinet 2024;91(Spec
/// Issue):87-103, doi 10.5114/jhk/185637. Where the scale prints a span ("1 to 2"), its middle.
#[test]
fn pairs_of_both_sources() {
    let pairs = [
        (10.0, 0.0),
        (9.0, 1.0),
        (8.5, 1.5),
        (8.0, 2.0),
        (7.5, 2.5),
        (7.0, 3.0),
    ];
    for (rpe, rir) in pairs {
        let effort = Rir::from_rpe(rpe).unwrap();
        assert_near(effort.reps(), rir, EXACT, "reserve");
        assert_near(effort.rpe().unwrap(), rpe, EXACT, "RPE");
    }
}

/// Source: as above: RPE 9.5 is "no further repetition, a little more load possible". Between 0 and
/// 1 in reserve, ours is the half that the rule RIR = 10 − RPE gives: no whole repetition either.
#[test]
fn nine_and_a_half_leaves_no_whole_repetition() {
    let rir = Rir::from_rpe(9.5).unwrap().reps();
    assert!((0.0..1.0).contains(&rir));
}

/// Source: both: RPE 5 to 6 is 4 to 6 repetitions in reserve, a band: ours lies in it.
#[test]
fn five_to_six_lies_in_the_printed_band() {
    for rpe in [5.0, 5.5, 6.0] {
        assert!(
            (4.0..=6.0).contains(&Rir::from_rpe(rpe).unwrap().reps()),
            "{rpe}"
        );
    }
}

/// Source: Zourdos et al. 2016: below 5 no repetitions in reserve are printed.
#[test]
fn low_end_names_no_repetitions() {
    for rpe in [1.0, 2.0, 3.0, 4.0, 4.5] {
        assert!(Rir::from_rpe(rpe).is_err(), "{rpe}");
    }
    assert_eq!(Rir::new(6.0).unwrap().rpe(), None);
}
