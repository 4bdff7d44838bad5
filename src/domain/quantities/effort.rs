//! Effort: repetitions in reserve, and the trade's RPE scale anchored in them.
//!
//! Source of the anchoring: Zourdos MC et al. 2016, J Strength Cond Res 30(1):267-275
//! (RPE 10 is nothing left, 9 one repetition left, 8 two, 7 three; halves lie between).

/// Why a number is no effort.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum EffortError {
    /// Repetitions in reserve outside 0 to 30.
    #[error("{0} repetitions in reserve is outside 0 to 30")]
    ReserveOutOfRange(f64),
    /// An RPE outside 5 to 10, or not in halves: below 5 the scale names no count of repetitions.
    #[error("RPE {0} is outside 5 to 10 in halves")]
    RpeOutOfRange(f64),
}

/// Repetitions in reserve: how many more the lifter could have done. 0 is failure or one short of
/// it. Between 0 and 30; halves come from spans ("1-2 left"). An unknown effort is
/// `Option::None`, never a number.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Rir(f64);

impl Rir {
    /// Nothing left.
    pub const FAILURE: Self = Self(0.0);

    /// What a set leaves that is light on purpose, and of which nothing else is said. Common practice, no source.
    pub(crate) const LIGHT: Self = Self(5.0);

    /// `reps` repetitions in reserve.
    ///
    /// # Errors
    /// [`EffortError::ReserveOutOfRange`] outside 0 to 30.
    pub fn new(reps: f64) -> Result<Self, EffortError> {
        if (0.0..=30.0).contains(&reps) {
            Ok(Self(reps))
        } else {
            Err(EffortError::ReserveOutOfRange(reps))
        }
    }

    /// From an RPE between 5 and 10 in halves: RIR = 10 − RPE.
    ///
    /// # Errors
    /// [`EffortError::RpeOutOfRange`] for anything else.
    pub fn from_rpe(rpe: f64) -> Result<Self, EffortError> {
        let halves = rpe * 2.0;
        if (5.0..=10.0).contains(&rpe) && (halves - halves.round()).abs() < 1e-9 {
            Ok(Self(10.0 - rpe))
        } else {
            Err(EffortError::RpeOutOfRange(rpe))
        }
    }

    /// Repetitions in reserve, 0 to 30.
    pub const fn reps(self) -> f64 {
        self.0
    }

    /// The RPE, where the scale reaches (5 reserve repetitions and fewer).
    pub fn rpe(self) -> Option<f64> {
        (self.0 <= 5.0).then_some(10.0 - self.0)
    }
}
