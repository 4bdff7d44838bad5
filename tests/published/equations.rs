//! The classical equations for the one-repetition maximum.

use chalkbell::domain::quantities::equations::{Equation, EquationError};
use chalkbell::domain::quantities::mass::Mass;

use crate::assert_near;

/// The worked-out figures have six decimals.
const SIX_DECIMALS: f64 = 5e-7;
/// Room for the last bits of an `f64`.
const ROUNDING: f64 = 1e-9;

const REPS: [u32; 8] = [1, 2, 3, 5, 8, 10, 12, 15];

/// What `equation` makes of 100 kg for each of [`REPS`], kilograms.
#[track_caller]
fn check(equation: Equation, published: [f64; 8]) {
    let load = Mass::from_kg(100.0).unwrap();
    for (reps, published) in REPS.into_iter().zip(published) {
        let found = equation.one_rm(load, reps).unwrap().in_kg();
        assert_near(found, published, SIX_DECIMALS, &format!("{reps} reps"));
    }
}

/// Source: Epley 1985, poundage chart, with the constant 1/30; figures worked out from it.
#[test]
fn epley() {
    check(
        Equation::Epley,
        [
            103.333_333,
            106.666_667,
            110.0,
            116.666_667,
            126.666_667,
            133.333_333,
            140.0,
            150.0,
        ],
    );
}

/// Source: Brzycki 1993, doi 10.1080/07303084.1993.10606684, as 36/(37 − r); figures worked out
/// from it.
#[test]
fn brzycki() {
    check(
        Equation::Brzycki,
        [
            100.0,
            102.857_143,
            105.882_353,
            112.5,
            124.137_931,
            133.333_333,
            144.0,
            163.636_364,
        ],
    );
}

/// Source: Lander 1985, Natl Strength Cond Assoc J 6(6):60-61; figures worked out from it.
#[test]
fn lander() {
    check(
        Equation::Lander,
        [
            101.390_294,
            104.212_759,
            107.196_865,
            113.708_918,
            125.109_22,
            134.070_363,
            144.414_259,
            163.314_5,
        ],
    );
}

/// Source: Lombardi 1989, Beginning Weight Training; figures worked out from it.
#[test]
fn lombardi() {
    check(
        Equation::Lombardi,
        [
            100.0,
            107.177_346,
            111.612_317,
            117.461_894,
            123.114_441,
            125.892_541,
            128.208_885,
            131.101_942,
        ],
    );
}

/// Source: Mayhew et al. 1992, J Appl Sport Sci Res 6(4):200-206; figures worked out from it.
#[test]
fn mayhew() {
    check(
        Equation::Mayhew,
        [
            108.864_004,
            111.438_679,
            113.990_321,
            119.010_68,
            126.286_343,
            130.934_273,
            135.398_484,
            141.719_246,
        ],
    );
}

/// Source: O'Conner, Simmons, O'Shea 1989, Weight Training Today; figures worked out from it.
#[test]
fn oconner() {
    check(
        Equation::OConner,
        [102.5, 105.0, 107.5, 112.5, 120.0, 125.0, 130.0, 137.5],
    );
}

/// Source: Wathen 1994, Essentials of Strength Training and Conditioning, pp. 435-446; figures
/// worked out from it.
#[test]
fn wathen() {
    check(
        Equation::Wathen,
        [
            101.304_191,
            105.145_739,
            108.979_743,
            116.582_505,
            127.671_419,
            134.746_699,
            141.495_856,
            150.906_261,
        ],
    );
}

/// Source: Baechle, Earle, Wathen 2000, Essentials of Strength Training and Conditioning, 2nd ed.,
/// the constant 0.033; figures worked out from it.
#[test]
fn baechle() {
    check(
        Equation::Baechle,
        [103.3, 106.6, 109.9, 116.5, 126.4, 133.0, 139.6, 149.5],
    );
}

/// Source: Peterson (ed.), A Christian Guide to Body Stewardship, Diet and Exercise, 3rd ed.,
/// appendix E, Cedarville University: 225 lb for 10 with the constant 0.033 is 299.25 lb.
#[test]
fn college_handbook_example() {
    let one_rm = Equation::Baechle
        .one_rm(Mass::from_lb(225.0).unwrap(), 10)
        .unwrap();
    assert_near(one_rm.in_lb(), 299.25, ROUNDING, "225 lb for 10");
}

/// Source: Brzycki 1993 and Epley 1985: 36/(37 − r) and 1 + r/30 meet at ten repetitions, at 4/3;
/// below ten Epley stands higher.
#[test]
fn epley_and_brzycki_meet_at_ten() {
    for equation in [Equation::Epley, Equation::Brzycki] {
        let ratio = 1.0 / equation.share(10.0).unwrap();
        assert_near(ratio, 4.0 / 3.0, ROUNDING, "10 reps");
    }
    for reps in 1..10 {
        let ratio = |equation: Equation| 1.0 / equation.share(f64::from(reps)).unwrap();
        assert!(
            ratio(Equation::Epley) > ratio(Equation::Brzycki),
            "{reps} reps"
        );
    }
}

/// Constants found on the web under these names that are not the published ones, each a reciprocal
/// line `w / (a − b·r)`. Some cross ours at few repetitions; at ten all are plainly elsewhere.
#[test]
fn false_variants_are_not_ours() {
    /// The least disagreement, as a share of the 1RM.
    const APART: f64 = 0.03;
    let false_variants = [
        (Equation::Lander, 1.0644, 0.0644),
        (Equation::OConner, 1.0703, 0.0231),
        (Equation::OConner, 1.0857, 0.0516),
        (Equation::OConner, 1.0827, 0.0465),
    ];
    for (equation, a, b) in false_variants {
        let off = equation.share(10.0).unwrap() - (a - b * 10.0);
        assert!(off.abs() > APART, "{equation:?} is the false {a}");
    }
}

/// Sources: the pole of Brzycki's equation lies at 37 repetitions, that of Lander's at 101.3 /
/// 2.67123 = 37.92.
#[test]
fn poles_and_nonsense_are_refused() {
    let refused = [
        (Equation::Brzycki, 37.0, 36),
        (Equation::Lander, 38.0, 37),
        (Equation::Epley, 0.0, 100),
        (Equation::Lombardi, 101.0, 100),
    ];
    for (equation, reps, most) in refused {
        let error = EquationError::RepsOutOfRange { reps, most };
        assert_eq!(equation.share(reps), Err(error), "{equation:?}");
    }
    assert!(Equation::Wathen.share(f64::NAN).is_err());
    assert_eq!(
        Equation::Mayhew.reps(0.5),
        Err(EquationError::ShareOutOfRange(0.5))
    );
    assert!(Equation::Lombardi.reps(-0.8).is_err());
    assert!(Equation::Epley.reps(f64::NAN).is_err());
    assert!(Equation::Epley.reps(0.0).is_err());
    let whole = |equation: Equation| equation.share(f64::from(equation.most_reps()));
    assert!(
        Equation::ALL
            .into_iter()
            .all(|equation| whole(equation).unwrap() > 0.0)
    );
}

/// Reynolds et al. 2006, doi 10.1519/R-15304.1: 1RM = 1.1307 · 5RM + 0.6999 kg in the chest press,
/// standard error 2.98 kg. The handbook equations were made for such lifts: at five repetitions all
/// but the lowest and highest lie within two standard errors.
#[test]
fn five_repetition_estimates_lie_near_the_measured_regression() {
    const TWO_STANDARD_ERRORS_KG: f64 = 2.0 * 2.98;
    let measured = 1.1307 * 80.0 + 0.6999;
    let load = Mass::from_kg(80.0).unwrap();
    for equation in Equation::ALL {
        let found = equation.one_rm(load, 5).unwrap().in_kg();
        assert_near(found, measured, TWO_STANDARD_ERRORS_KG, "5RM of 80 kg");
    }
}
