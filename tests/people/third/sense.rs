//! What people feel is left, and when they stop.

use crate::harness::Dice;

/// How one person feels the distance from failure.
#[derive(Clone, Copy, Debug)]
pub struct Sense {
    /// Share of the repetitions left that is felt.
    share: f64,
}

/// People call 0.95 repetitions too few on average (Halperin 2022, doi 10.1007/s40279-021-01559-x, over
/// all distances): about a seventh of what is left. How unlike people are: common practice, no source.
const FELT_SHARE: (f64, f64) = (0.86, 0.12);
/// Spread of one call at failure and its growth with each repetition left. With absolute errors of
/// about four fifths of a spread it gives 0.65 at one to three left (Refalo 2024), one at up to five
/// and about two at seven to ten (Hackett 2017, doi 10.1519/JSC.0000000000001683).
const CALL_AT_FAILURE: f64 = 0.4;
const CALL_PER_REP: f64 = 0.2;

impl Sense {
    pub fn draw(dice: &mut Dice) -> Self {
        let share = FELT_SHARE.0 + FELT_SHARE.1 * dice.normal();
        Self {
            share: share.clamp(0.55, 1.15),
        }
    }

    /// What feels left of `left`; `chance` is the standard normal of this set.
    pub fn felt(&self, left: f64, chance: f64) -> f64 {
        let left = left.max(0.0);
        let called = self.share * left + chance * (CALL_AT_FAILURE + CALL_PER_REP * left);
        called.max(0.0)
    }

    /// Repetitions after which one stops who could do `seen` as far as the body can tell: the first at
    /// which no more than `stop_at` feel left. Nobody stops short who goes to failure.
    pub fn stops_after(&self, seen: f64, stop_at: f64, chance: f64) -> f64 {
        if stop_at <= 0.0 {
            return f64::INFINITY;
        }
        let mut reps = 1.0;
        while reps < seen && self.felt(seen - reps, chance) > stop_at + 0.5 {
            reps += 1.0;
        }
        reps
    }
}
