//! Fatigue of one muscle between sets: a fast and a slow deficit, what a set adds, what a rest
//! takes away.
//!
//! Which muscles a set tires, and for whom, is the business of [`super::condition`].
//!
//! *Source* of the form and of its constants: `between_set_model` — a fit to the published rest
//! tables (see `tests/data/rest_intervals.json`) with kinetics of phosphocreatine (Harris 1976,
//! Bogdanis 1995) and of work above critical power (Ferguson 2010, Caen 2021, Chorley 2022).

/// Share of a new deficit that is fast. Chorley 2022: 0.48 ± 0.18.
pub const FAST_SHARE: f64 = 0.5;
/// Time constant of the fast deficit, seconds. Between W' (11–22 s) and phosphocreatine (32 s).
pub const FAST_S: f64 = 27.0;
/// Time constant of the slow deficit, seconds. Caen 2021: 256; Chorley 2022: 377 ± 100; fit: 344.
pub const SLOW_S: f64 = 300.0;
/// Repetitions after which a set has reached 63 % of its full depth. Fit.
pub const DEPTH_REPS: f64 = 2.25;
/// Power of the nearness to failure. Refalo 2023: speed lost 25 % at failure, 8 % at three left.
const NEARNESS_POWER: i32 = 4;
/// Capacity never falls under this share of fresh.
pub const LEAST_CAPACITY: f64 = 0.05;
/// A deficit smaller than this is nothing.
const NEGLIGIBLE: f64 = 1e-4;

/// A muscle's deficits as shares of fresh capacity, with their slopes by the two personal figures
/// that made them, so that learning about those also corrects the deficits.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deficit {
    /// Fast deficit, 0 to 1.
    pub fast: f64,
    /// Slow deficit, 0 to 1.
    pub slow: f64,
    /// Slope of `fast` by the log of the depth.
    pub fast_by_depth: f64,
    /// Slope of `slow` by the log of the depth.
    pub slow_by_depth: f64,
    /// Slope of `fast` by the log of the slowness.
    pub fast_by_pace: f64,
    /// Slope of `slow` by the log of the slowness.
    pub slow_by_pace: f64,
    /// Log of the slowness with which it recovers, 0 for the population.
    pub pace: f64,
}

/// Nearness of a set to failure, 0 to 1, to the fourth power.
///
/// ```text
/// q⁴, q = min(1, (n + ½) / (n + R + ½))
/// ```
///
/// - `reps`: n, done, 0 and more. `reserve`: R, left, 0 and more.
///
/// *Source*: fit and Refalo 2023, as above.
///
/// ```
/// use chalkbell::domain::recovery::nearness;
/// assert_eq!(nearness(10.0, 0.0), 1.0);
/// // Refalo 2023: at three in reserve 0.32 of the loss at failure.
/// assert!((nearness(10.0, 3.0) - 0.36).abs() < 0.06);
/// ```
#[must_use]
pub fn nearness(reps: f64, reserve: f64) -> f64 {
    ((reps + 0.5) / (reps + reserve.max(0.0) + 0.5))
        .min(1.0)
        .powi(NEARNESS_POWER)
}

impl Deficit {
    /// The whole deficit, share of fresh capacity.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.fast + self.slow
    }

    /// Slopes of the whole deficit: by log depth, by log slowness.
    #[must_use]
    pub fn slopes(&self) -> (f64, f64) {
        (
            self.fast_by_depth + self.slow_by_depth,
            self.fast_by_pace + self.slow_by_pace,
        )
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
    /// use chalkbell::domain::recovery::{Deficit, SLOW_S};
    /// let tired = Deficit { slow: 0.4, ..Deficit::default() };
    /// let rested = tired.rested(SLOW_S * 2.0_f64.ln());
    /// assert!((rested.slow - 0.2).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn rested(&self, seconds: f64) -> Self {
        let t = seconds.max(0.0) * (-self.pace).exp();
        let (fast, slow) = ((-t / FAST_S).exp(), (-t / SLOW_S).exp());
        Self {
            fast: self.fast * fast,
            slow: self.slow * slow,
            fast_by_depth: self.fast_by_depth * fast,
            slow_by_depth: self.slow_by_depth * slow,
            fast_by_pace: (self.fast_by_pace + self.fast * t / FAST_S) * fast,
            slow_by_pace: (self.slow_by_pace + self.slow * t / SLOW_S) * slow,
            pace: self.pace,
        }
    }

    /// The deficit with what was newly learned about depth and slowness, as changes of their
    /// logs, laid on.
    #[must_use]
    pub fn corrected(&self, depth: f64, pace: f64) -> Self {
        let within = |x: f64| x.clamp(0.0, 0.9);
        Self {
            fast: within(self.fast + self.fast_by_depth * depth + self.fast_by_pace * pace),
            slow: within(self.slow + self.slow_by_depth * depth + self.slow_by_pace * pace),
            ..*self
        }
    }

    /// The deficit after a set that took `dose` with these slopes (by log depth, by log slowness)
    /// out of the muscle, recovering with log slowness `pace` from here on.
    #[must_use]
    pub fn added(&self, dose: &Dose, part: f64, pace: f64) -> Self {
        let fast = FAST_SHARE * part;
        let slow = (1.0 - FAST_SHARE) * part;
        let ceiling = |x: f64| x.min(0.9);
        Self {
            fast: ceiling(self.fast + fast * dose.amount),
            slow: ceiling(self.slow + slow * dose.amount),
            fast_by_depth: self.fast_by_depth + fast * dose.by_depth,
            slow_by_depth: self.slow_by_depth + slow * dose.by_depth,
            fast_by_pace: self.fast_by_pace + fast * dose.by_pace,
            slow_by_pace: self.slow_by_pace + slow * dose.by_pace,
            pace,
        }
    }

    /// Whether nothing worth keeping is left.
    #[must_use]
    pub fn is_gone(&self) -> bool {
        self.total() < NEGLIGIBLE
    }
}

/// What one set takes out of its target muscle: a share of fresh capacity, and its slopes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// The new deficit, 0 to 1.
    pub amount: f64,
    /// Slope by the log of the depth.
    pub by_depth: f64,
    /// Slope by the log of the slowness.
    pub by_pace: f64,
}

/// What a set takes.
///
/// ```text
/// d = g q⁴ c (1 − e^(−n/n0))
/// ```
///
/// - `depth`: g, above 0. `nearness`: q⁴, 0 to 1, see [`nearness`]. `reps`: n.
/// - `before`: the whole deficit at the start of the set, 0 to 1, so that c = 1 − it;
///   `slopes`: its slopes by log depth and log slowness.
///
/// *Valid for*: sets of one repetition up; fitted on sets of 3 to 15. *Source*: as the module.
///
/// ```
/// use chalkbell::domain::recovery::dose;
/// // Ten repetitions to failure, fresh, population depth: nearly everything.
/// assert!((dose(1.0, 1.0, 10.0, 0.0, (0.0, 0.0)).amount - 0.988).abs() < 0.001);
/// ```
#[must_use]
pub fn dose(depth: f64, nearness: f64, reps: f64, before: f64, slopes: (f64, f64)) -> Dose {
    let per_capacity = depth * nearness * (1.0 - (-reps / DEPTH_REPS).exp());
    let capacity = (1.0 - before).max(LEAST_CAPACITY);
    let amount = (per_capacity * capacity).min(1.0 - LEAST_CAPACITY);
    Dose {
        amount,
        by_depth: amount - per_capacity * slopes.0,
        by_pace: -per_capacity * slopes.1,
    }
}
