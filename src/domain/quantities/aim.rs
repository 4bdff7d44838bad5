//! What the next set is meant to be: repetitions, effort, how many sets.

use super::effort::Rir;
use super::lift_class::LiftClass;

/// The aim of one exercise today: from the plan, else the trade's default for its class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Fewest repetitions wanted, at least 1.
    pub reps_low: u32,
    /// Most repetitions wanted, at least `reps_low`.
    pub reps_high: u32,
    /// Effort to end the set at.
    pub rir: Rir,
    /// Work sets planned, where a plan says so.
    pub sets: Option<u32>,
    /// Longest sensible rest, seconds.
    pub rest_limit_s: u32,
    /// Whether the day is light on purpose, by the lifter's word.
    pub light: bool,
}

impl Aim {
    /// The same on a day that is light on purpose.
    #[must_use]
    pub fn lightened(self) -> Self {
        Self {
            light: true,
            ..self.eased()
        }
    }

    /// The same far from failure, as after an illness.
    #[must_use]
    pub fn eased(self) -> Self {
        Self {
            rir: if self.rir < Rir::LIGHT {
                Rir::LIGHT
            } else {
                self.rir
            },
            ..self
        }
    }

    /// Common practice, no source, inside the range in which sets count (design: 5 to 30
    /// repetitions, three to zero in reserve): 6–10 for the big free leg lifts and hinges, 6–12
    /// for other lifts of several joints, 10–15 for one joint, 10–20 for calves and trunk;
    /// one in reserve, since lifters stop about a repetition earlier than they believe (Halperin I
    /// et al. 2022, Sports Med 52:377-390: 0.95 too few), so that two or three are really left; none
    /// or one on lifts of one joint, where a missed repetition costs nothing; five minutes at most, three between
    /// small lifts, where a step less costs less than the time.
    pub fn default_for(class: LiftClass) -> Self {
        let (reps_low, reps_high, left) = match class {
            LiftClass::Squat | LiftClass::Hinge => (6, 10, 1.0),
            LiftClass::LegPress | LiftClass::Press | LiftClass::Pull => (6, 12, 1.0),
            LiftClass::SmallUpper | LiftClass::SmallLower => (10, 15, 0.5),
            LiftClass::Calf | LiftClass::Trunk => (10, 20, 0.5),
        };
        let rest_limit_s = match class {
            LiftClass::SmallUpper | LiftClass::SmallLower | LiftClass::Calf | LiftClass::Trunk => {
                180
            }
            _ => 300,
        };
        let rir = Rir::new(left).unwrap_or(Rir::FAILURE);
        Self {
            reps_low,
            reps_high,
            rir,
            sets: None,
            rest_limit_s,
            light: false,
        }
    }
}
