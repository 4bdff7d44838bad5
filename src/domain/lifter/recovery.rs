//! Fatigue of one muscle between sets: a fast and a slow deficit, what a set adds, what a rest
//! takes away.
//!
//! Which muscles a set tires, and for whom, is the business of [`super::condition`].
//!
//! *Source* of the form and of its constants: a fit of our own to the published rest tables
//! (`tests/data/rest_intervals.json`), with kinetics of phosphocreatine (Harris 1976, from memory;
//! Bogdanis 1995, J Physiol 482:467-480) and of work above critical power (Ferguson 2010, J Appl
//! Physiol 108:866-874; Caen 2021; Chorley 2022), and the loss of speed after sets ended short of
//! failure (Refalo 2023, Sports Med Open 9:10).

use crate::domain::quantities::priors::SHAPES;

/// Time constant of the fast deficit, seconds. Between W' (11–22 s) and phosphocreatine (32 s).
pub const FAST_S: f64 = 27.0;
/// Time constant of the slow deficit, seconds. Harris 1976: over 245 (half time 170 s, from memory); Caen 2021: 256; Chorley 2022:
/// 377 ± 100; fit to the rest tables: 260 to 344.
pub const SLOW_S: f64 = 280.0;
/// Repetitions after which a set has reached 63 % of its full depth. Fit.
pub const DEPTH_REPS: f64 = 2.25;
/// Capacity never falls under this share of fresh.
pub const LEAST_CAPACITY: f64 = 0.05;
/// Neither phase ever holds more than this.
const MOST_DEFICIT: f64 = 0.9;
/// A deficit smaller than this is nothing.
const NEGLIGIBLE: f64 = 1e-4;

/// Log of the depth g.
pub const BY_DEPTH: usize = 0;
/// Log of the slowness p: factor on both time constants.
pub const BY_PACE: usize = 1;
/// Log odds of the fast share a.
pub const BY_SHARE: usize = 2;
/// Log of what the power m of the nearness to failure is over one: a set takes at most in proportion to its
/// share of the repetitions that were in the lifter.
pub const BY_POWER: usize = 3;

/// A lifter's figures on one lift, in the order of the slopes.
pub type Shape = [f64; SHAPES];

/// How tired a lift's muscles are: the share of fresh capacity that is missing, with its slopes by
/// the figures that shape fatigue.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Strain {
    /// Missing share, 0 to 1.
    pub total: f64,
    /// Its slopes.
    pub by: Shape,
}

/// A muscle's deficits as shares of fresh capacity, with their slopes by the personal figures
/// that made them, so that learning about those also corrects the deficits.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deficit {
    /// Fast deficit, 0 to 1.
    pub fast: f64,
    /// Slow deficit, 0 to 1.
    pub slow: f64,
    /// Slopes of `fast` by the figures.
    pub fast_by: Shape,
    /// Slopes of `slow` by the figures.
    pub slow_by: Shape,
    /// Log of the slowness with which it recovers, 0 for the population.
    pub pace: f64,
}

/// Nearness of a set to failure, 0 to 1.
///
/// ```text
/// q = min(1, (n + ½) / (n + R + ½))
/// ```
///
/// - `reps`: n, done, 0 and more. `reserve`: R, left, 0 and more (less counts as 0).
///
/// *Source*: as the module. Its fourth power fits Refalo 2023 alone: speed lost four minutes after six
/// sets, at three left, 0.32 of that at failure; with the rest tables the fifth fits best.
///
/// ```
/// use chalkbell::domain::lifter::recovery::nearness;
/// assert_eq!(nearness(10.0, 0.0), 1.0);
/// assert!((nearness(10.0, 3.0).powi(4) - 0.32).abs() < 0.06);
/// ```
#[must_use]
pub fn nearness(reps: f64, reserve: f64) -> f64 {
    ((reps + 0.5) / (reps + reserve.max(0.0) + 0.5)).min(1.0)
}

impl Deficit {
    /// The whole deficit, share of fresh capacity.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.fast + self.slow
    }

    /// Slopes of the whole deficit.
    #[must_use]
    pub fn slopes(&self) -> Shape {
        std::array::from_fn(|i| self.fast_by[i] + self.slow_by[i])
    }

    /// The deficit after a rest.
    ///
    /// ```text
    /// F ← F e^(−t/τf e^−p)      S ← S e^(−t/τs e^−p)
    /// ```
    ///
    /// - `seconds`: t, 0 and more (less counts as 0).
    ///
    /// *Valid for*: published tables reach from 60 to 480 s; outside, the form is extrapolated.
    /// *Source*: as the module.
    ///
    /// ```
    /// use chalkbell::domain::lifter::recovery::{Deficit, SLOW_S};
    /// let tired = Deficit { slow: 0.4, ..Deficit::default() };
    /// let rested = tired.rested(SLOW_S * 2.0_f64.ln());
    /// assert!((rested.slow - 0.2).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn rested(&self, seconds: f64) -> Self {
        let t = seconds.max(0.0) * (-self.pace).exp();
        let (fast, slow) = ((-t / FAST_S).exp(), (-t / SLOW_S).exp());
        let mut next = Self {
            fast: self.fast * fast,
            slow: self.slow * slow,
            fast_by: self.fast_by.map(|slope| slope * fast),
            slow_by: self.slow_by.map(|slope| slope * slow),
            pace: self.pace,
        };
        next.fast_by[BY_PACE] += next.fast * t / FAST_S;
        next.slow_by[BY_PACE] += next.slow * t / SLOW_S;
        next
    }

    /// The deficit with what was newly learned about the figures, as changes of them, laid on.
    #[must_use]
    pub fn corrected(&self, change: &Shape) -> Self {
        Self {
            fast: (self.fast + along(&self.fast_by, change)).clamp(0.0, MOST_DEFICIT),
            slow: (self.slow + along(&self.slow_by, change)).clamp(0.0, MOST_DEFICIT),
            ..*self
        }
    }

    /// The deficit after a set that took `dose` out of a lift's target, of which this muscle bears
    /// `part`, done with the figures `shape`.
    ///
    /// ```text
    /// F ← F + a d      S ← S + (1 − a) d
    /// ```
    #[must_use]
    pub fn added(&self, dose: &Dose, part: f64, shape: &Shape) -> Self {
        let share = odds_to_share(shape[BY_SHARE]);
        let (fast, slow) = (share * part, (1.0 - share) * part);
        let mut next = Self {
            fast: (self.fast + fast * dose.amount).min(MOST_DEFICIT),
            slow: (self.slow + slow * dose.amount).min(MOST_DEFICIT),
            fast_by: std::array::from_fn(|i| self.fast_by[i] + fast * dose.by[i]),
            slow_by: std::array::from_fn(|i| self.slow_by[i] + slow * dose.by[i]),
            pace: shape[BY_PACE],
        };
        let shifted = share * (1.0 - share) * part * dose.amount;
        next.fast_by[BY_SHARE] += shifted;
        next.slow_by[BY_SHARE] -= shifted;
        next
    }

    /// Whether nothing worth keeping is left.
    #[must_use]
    pub fn is_gone(&self) -> bool {
        self.total() < NEGLIGIBLE
    }
}

/// What one set takes out of its target muscle: a share of fresh capacity, and its slopes by the
/// personal figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// The new deficit, 0 to 1.
    pub amount: f64,
    /// Its slopes.
    pub by: Shape,
}

/// What a set takes.
///
/// ```text
/// f = g qᵐ (1 − e^(−n/n0));   d = c f / (1 + f⁸)^⅛
/// ```
///
/// The root keeps the deficits under the whole capacity, smoothly, so that however deep the sets
/// of a lifter go, what they show still moves the belief about them.
///
/// - `shape`: log g, –, –, log (m − 1) (population 0 and log 4; see [`crate::domain::quantities::priors`]).
/// - `nearness`: q, 0 to 1, see [`nearness`]. `reps`: n, 0 and more.
/// - `before`: the whole deficit at the start of the set, 0 to 1, so that c = 1 − it; `slopes`: its
///   slopes by the figures.
///
/// *Valid for*: fitted on sets of 3 to 15. *Source*: as the module.
///
/// ```
/// use chalkbell::domain::lifter::recovery::dose;
/// // Three repetitions to failure, fresh: of the 0.736 of depth 1 the root leaves 0.729.
/// let fresh = dose(&[0.0, 0.0, 0.0, 4.0_f64.ln()], 1.0, 3.0, 0.0, &[0.0; 4]);
/// assert!((fresh.amount - 0.729).abs() < 0.001);
/// ```
#[must_use]
pub fn dose(shape: &Shape, nearness: f64, reps: f64, before: f64, slopes: &Shape) -> Dose {
    let power = power(shape);
    let log_near = nearness.max(1e-9).ln();
    let free = (shape[BY_DEPTH] + power * log_near).clamp(-30.0, 5.0).exp()
        * (1.0 - (-reps / DEPTH_REPS).exp());
    let bent = 1.0 + free.powi(8);
    let per_capacity = free / bent.sqrt().sqrt().sqrt();
    let capacity = (1.0 - before).max(0.0);
    let amount = per_capacity * capacity;
    // Of the log of what is taken, the root leaves this share of each slope.
    let share = amount / bent;
    let mut by = slopes.map(|slope| -per_capacity * slope);
    by[BY_DEPTH] += share;
    by[BY_POWER] += share * (power - 1.0) * log_near;
    Dose { amount, by }
}

/// Power m of the nearness to failure by which a set takes, above 1.
///
/// ```
/// use chalkbell::domain::lifter::recovery::power;
/// assert_eq!(power(&[0.0, 0.0, 0.0, 4.0_f64.ln()]).round(), 5.0);
/// ```
#[must_use]
pub fn power(shape: &Shape) -> f64 {
    1.0 + shape[BY_POWER].clamp(-3.0, 4.0).exp()
}

/// The share with these log odds.
#[must_use]
pub fn odds_to_share(odds: f64) -> f64 {
    1.0 / (1.0 + (-odds.clamp(-30.0, 30.0)).exp())
}

/// A change along slopes.
#[must_use]
pub fn along(slopes: &Shape, change: &Shape) -> f64 {
    slopes.iter().zip(change).map(|(s, c)| s * c).sum()
}
