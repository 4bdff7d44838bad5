//! The classical equations between repetitions and load, for comparison and tests.
//!
//! Advice does not come from here: one fixed equation for all lifters and lifts is what the
//! learned curve replaces. The handbook's table is in [`super::handbook`].

use super::mass::{Mass, MassError};

/// Most repetitions taken by any equation. Far past every published range; it only keeps nonsense
/// out of the open-ended ones.
const MOST_REPS: u32 = 100;
/// Repetitions by which the inverse may miss an end of the range through rounding alone: the
/// steepest inverse, Lombardi's at 100 repetitions, magnifies the last bit of a share to 2e-13.
const ROUNDING: f64 = 1e-9;

/// A published equation for the one-repetition maximum (1RM) from a load and the repetitions done
/// with it to failure.
///
/// In the formulas `w` is the load, `r` the repetitions to failure.
///
/// *Valid for*: up to about ten repetitions; above, all of them spread by tens of percent (Mayhew
/// JL et al. 2008, J Strength Cond Res 22(5):1570-1577; Reynolds JM et al. 2006, J Strength Cond
/// Res 20(3):584-592, doi 10.1519/R-15304.1). All underestimate the deadlift (LeSuer DA et al.
/// 1997, J Strength Cond Res 11(4):211-213).
///
/// ```
/// use chalkbell::domain::quantities::{equations::Equation, mass::Mass};
///
/// let one_rm = Equation::Brzycki.one_rm(Mass::from_kg(90.0)?, 10)?;
/// assert_eq!(one_rm, Mass::from_kg(120.0)?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Equation {
    /// Linear in repetitions.
    ///
    /// ```text
    /// 1RM = w · (1 + r/30)
    /// ```
    ///
    /// At one repetition it gives 1.033 w. The constant is also printed as 0.0333 and 0.033; the
    /// latter is [`Equation::Baechle`]. *Source*: Epley B. 1985, Poundage chart, Boyd Epley
    /// Workout, Lincoln NE, p. 86.
    Epley,
    /// Reciprocal-linear; pole at 37 repetitions.
    ///
    /// ```text
    /// 1RM = w · 36 / (37 − r)
    /// ```
    ///
    /// *Source*: Brzycki M. 1993, J Phys Educ Recreat Dance 64(1):88-90, doi
    /// 10.1080/07303084.1993.10606684.
    Brzycki,
    /// Reciprocal-linear; pole at 37.9 repetitions.
    ///
    /// ```text
    /// 1RM = 100 · w / (101.3 − 2.67123 · r)
    /// ```
    ///
    /// *Source*: Lander J. 1985, Natl Strength Cond Assoc J 6(6):60-61 (volume and pages from memory).
    Lander,
    /// Power law.
    ///
    /// ```text
    /// 1RM = w · r^0.10
    /// ```
    ///
    /// *Source*: Lombardi VP. 1989, Beginning Weight Training, Dubuque IA.
    Lombardi,
    /// Exponential; from bench presses in one minute at 55 to 95 % of the 1RM.
    ///
    /// ```text
    /// 1RM = 100 · w / (52.2 + 41.9 · e^(−0.055 · r))
    /// ```
    ///
    /// At one repetition it gives 1.089 w: not for singles. *Source*: Mayhew JL et al. 1992, J Appl
    /// Sport Sci Res 6(4):200-206.
    Mayhew,
    /// Linear in repetitions.
    ///
    /// ```text
    /// 1RM = w · (1 + 0.025 · r)
    /// ```
    ///
    /// *Source*: O'Conner B, Simmons J, O'Shea P. 1989, Weight Training Today, St Paul MN.
    OConner,
    /// Exponential.
    ///
    /// ```text
    /// 1RM = 100 · w / (48.8 + 53.8 · e^(−0.075 · r))
    /// ```
    ///
    /// *Source*: Wathen D. 1994, Load assignment, in Essentials of Strength Training and
    /// Conditioning, Champaign IL, pp. 435-446.
    Wathen,
    /// Linear in repetitions: [`Equation::Epley`] with its constant rounded to 0.033.
    ///
    /// ```text
    /// 1RM = w · (1 + 0.033 · r)
    /// ```
    ///
    /// *Source*: Baechle TR, Earle RW, Wathen D. 2000, Resistance training, in Essentials of
    /// Strength Training and Conditioning, 2nd ed.
    Baechle,
}

/// Why an equation gives no answer.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum EquationError {
    /// Repetitions under 1, at or past the equation's pole, over 100, or no number.
    #[error("{reps} repetitions are outside 1 to {most}")]
    RepsOutOfRange {
        /// The repetitions given.
        reps: f64,
        /// The most whole repetitions that the equation takes.
        most: u32,
    },
    /// A share of the 1RM that the equation reaches for no repetitions from 1 on.
    #[error("no repetitions from 1 on belong to {0} of the one-repetition maximum")]
    ShareOutOfRange(f64),
    /// The result is beyond every mass.
    #[error(transparent)]
    Mass(#[from] MassError),
}

impl Equation {
    /// Every equation.
    pub const ALL: [Self; 8] = [
        Self::Epley,
        Self::Brzycki,
        Self::Lander,
        Self::Lombardi,
        Self::Mayhew,
        Self::OConner,
        Self::Wathen,
        Self::Baechle,
    ];

    /// The load as a share of the 1RM at which `reps` repetitions are the most that can be done:
    /// `w / 1RM`, from 0 (not reached) to 1.
    ///
    /// `reps` is a real number of at least 1: curves are compared between whole repetitions too.
    ///
    /// # Errors
    /// [`EquationError::RepsOutOfRange`] outside 1 to [`Equation::most_reps`].
    ///
    /// ```
    /// use chalkbell::domain::quantities::equations::Equation;
    ///
    /// assert_eq!(Equation::Epley.share(10.0), Ok(0.75));
    /// assert!(Equation::Brzycki.share(37.0).is_err());
    /// ```
    pub fn share(self, reps: f64) -> Result<f64, EquationError> {
        let most = self.most_reps();
        if !(1.0..=f64::from(most)).contains(&reps) {
            return Err(EquationError::RepsOutOfRange { reps, most });
        }
        Ok(match self {
            Self::Epley => 1.0 / (1.0 + reps / 30.0),
            Self::Brzycki => (37.0 - reps) / 36.0,
            Self::Lander => (101.3 - 2.67123 * reps) / 100.0,
            Self::Lombardi => reps.powf(-0.10),
            Self::Mayhew => (52.2 + 41.9 * (-0.055 * reps).exp()) / 100.0,
            Self::OConner => 1.0 / (1.0 + 0.025 * reps),
            Self::Wathen => (48.8 + 53.8 * (-0.075 * reps).exp()) / 100.0,
            Self::Baechle => 1.0 / (1.0 + 0.033 * reps),
        })
    }

    /// The repetitions to failure at `share` of the 1RM: the inverse of [`Equation::share`], a real
    /// number from 1 to [`Equation::most_reps`].
    ///
    /// # Errors
    /// [`EquationError::ShareOutOfRange`] where the equation reaches that share for no repetitions
    /// in its range (shares above that of one repetition, or below its foot).
    ///
    /// ```
    /// use chalkbell::domain::quantities::equations::Equation;
    ///
    /// assert_eq!(Equation::Brzycki.reps(0.75), Ok(10.0));
    /// ```
    pub fn reps(self, share: f64) -> Result<f64, EquationError> {
        if share.is_nan() || share <= 0.0 {
            return Err(EquationError::ShareOutOfRange(share));
        }
        let reps = match self {
            Self::Epley => 30.0 * (1.0 / share - 1.0),
            Self::Brzycki => 37.0 - 36.0 * share,
            Self::Lander => (101.3 - 100.0 * share) / 2.67123,
            Self::Lombardi => share.powf(-10.0),
            Self::Mayhew => -((100.0 * share - 52.2) / 41.9).ln() / 0.055,
            Self::OConner => (1.0 / share - 1.0) / 0.025,
            Self::Wathen => -((100.0 * share - 48.8) / 53.8).ln() / 0.075,
            Self::Baechle => (1.0 / share - 1.0) / 0.033,
        };
        // The share of the first or the last repetition may come back a rounding outside.
        let within = reps.clamp(1.0, f64::from(self.most_reps()));
        if (reps - within).abs() < ROUNDING {
            Ok(within)
        } else {
            Err(EquationError::ShareOutOfRange(share))
        }
    }

    /// The one-repetition maximum of a lifter who did `reps` repetitions to failure with `load`.
    ///
    /// # Errors
    /// [`EquationError::RepsOutOfRange`] outside 1 to [`Equation::most_reps`];
    /// [`EquationError::Mass`] when the result is beyond 100 t.
    pub fn one_rm(self, load: Mass, reps: u32) -> Result<Mass, EquationError> {
        let share = self.share(f64::from(reps))?;
        Ok(Mass::from_kg(load.in_kg() / share)?)
    }

    /// The most whole repetitions that the equation takes: short of the pole for the two with one,
    /// else 100.
    pub const fn most_reps(self) -> u32 {
        match self {
            Self::Brzycki => 36,
            Self::Lander => 37,
            _ => MOST_REPS,
        }
    }
}
