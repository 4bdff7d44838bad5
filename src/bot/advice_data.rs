//! Advice in the form in which programs read it.

use serde::{Deserialize, Serialize};

/// Advice as programs read it; see [`crate::domain::advice::next_set::Advice`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AdviceData {
    /// Canonical name.
    pub exercise: String,
    /// `same_load`, `drop_load`, `add_load`, `wait`, `finish`, `stop`.
    pub decision: String,
    /// The number to load, in `unit`.
    pub load: Option<f64>,
    /// `kg` or `lb`.
    pub unit: String,
    /// `total`, `per_hand`, `added`, `assisted`, `body`.
    pub basis: String,
    /// Rest since the last set, seconds.
    pub rest_s: u32,
    /// Repetitions to expect.
    pub expect: Option<ExpectationData>,
    /// Failing checks: `muscle`, `helpers`, `breath`, `drive`.
    pub limits: Vec<String>,
    /// The one reason, in words.
    pub why: String,
}

/// Repetitions to expect.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ExpectationData {
    /// Median, a real number.
    pub reps: f64,
    /// Lower end of the central 80 %.
    pub low: u32,
    /// Upper end of the central 80 %.
    pub high: u32,
    /// The effort it holds for, repetitions in reserve.
    pub rir: f64,
}
