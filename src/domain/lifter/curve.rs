//! Repetitions to failure of a fresh lifter as a function of the load's share of one repetition
//! maximum.
//!
//! The steepness is a population figure by class of lift ([`crate::domain::quantities::priors`]) that
//! [`super::belief`] learns for each member and exercise. The classical equations, each with one
//! steepness for everybody, stand in `equations`.

/// Log shares outside this span are taken at its ends: ×0.007 to ×55 of 1RM, far past any set.
const SPAN: (f64, f64) = (-5.0, 4.0);
/// e to its ends.
const SPAN_OF_TIMES: (f64, f64) = (0.006_737_946_999_085_467, 54.598_150_033_144_236);

/// Fresh repetitions to failure, plus the half repetition that rounding to whole ones loses.
///
/// ```text
/// x = 1.5 + k (1/L − 1)          for x ≥ ½
/// x = ½ exp((x − ½)/½)           below: loads over 1RM keep a small, shrinking chance
/// ```
///
/// - `reserve`: log(1RM / load) = −log L, any finite number, taken within −5 to 4.
/// - `steepness`: k, repetitions gained from 1RM to half of it, above 0; population 30 to 48 by
///   class.
///
/// Returns repetitions + ½, a point, above 0. It never falls as `reserve` or (under 1RM)
/// `steepness` rises.
///
/// *Valid for*: L from 0.4 to 1; beyond, it is a smooth continuation, not a published figure.
/// *Source*: the form is that of the equations that are linear in 1/L (Epley 1985 has k = 30, and no repetition left at
/// L = 1, where this one has one); steepness by class: [`crate::domain::quantities::priors`].
///
/// ```
/// use chalkbell::domain::lifter::curve::repetitions_and_half;
/// // NSCA table: 8 repetitions at 80 %.
/// let r = repetitions_and_half((1.0_f64 / 0.80).ln(), 30.0) - 0.5;
/// assert!((r - 8.5).abs() < 1e-9);
/// ```
#[must_use]
pub fn repetitions_and_half(reserve: f64, steepness: f64) -> f64 {
    continued(1.5 + steepness * reserve.clamp(SPAN.0, SPAN.1).exp_m1())
}

/// The same for a load of which the 1RM is `times` as much, above 0: e to the reserve.
pub(crate) fn repetitions_and_half_of(times: f64, steepness: f64) -> f64 {
    let times = times.clamp(SPAN_OF_TIMES.0, SPAN_OF_TIMES.1);
    continued(1.5 + steepness * (times - 1.0))
}

/// x where it is at least ½, and below that its continuation.
fn continued(x: f64) -> f64 {
    if x >= 0.5 {
        x
    } else {
        0.5 * ((x - 0.5) / 0.5).exp().max(1e-3)
    }
}

/// Slopes of the log of [`repetitions_and_half`]: by `reserve`, and by the log of `steepness`.
/// Both are points, per unit of log.
///
/// *Source*: derivative of the formula above.
///
/// ```
/// use chalkbell::domain::lifter::curve::{repetitions_and_half, slopes};
/// let (by_reserve, _) = slopes(0.25, 30.0);
/// let step = (repetitions_and_half(0.2501, 30.0) / repetitions_and_half(0.2499, 30.0)).ln();
/// assert!((by_reserve - step / 0.0002).abs() < 1e-4);
/// ```
#[must_use]
pub fn slopes(reserve: f64, steepness: f64) -> (f64, f64) {
    let u = reserve.clamp(SPAN.0, SPAN.1);
    let x = 1.5 + steepness * u.exp_m1();
    // Below one half the continuation is exponential in x, so the log has slope 2 in x.
    let per_x = if x >= 0.5 { 1.0 / x } else { 2.0 };
    (steepness * u.exp() * per_x, steepness * u.exp_m1() * per_x)
}
