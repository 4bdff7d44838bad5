//! Ten ways to behave.

use crate::harness::{Attempt, Behaviour, Dice, Situation, WarmUp, Written};

/// What a person is like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Like {
    /// Does as told and says what was felt.
    Steady,
    /// Posts the way up without a word on it.
    WarmsUpUnsaid,
    /// Tries the load with an easy first set on some days.
    Feels,
    /// Every fifth week is lighter.
    LightWeeks,
    /// Misses six weeks once.
    Away,
    /// Says nothing of effort.
    Silent,
    /// Stops two early and says what was asked.
    Sandbags,
    /// Rests half as long as told.
    Hurries,
    /// Slips on the keyboard now and then.
    Slips,
    /// Posts every other session afterwards in one go.
    Afterwards,
    /// Picks loads of their own, often lighter, and guesses four or more left.
    Wanders,
}

impl Like {
    pub const ALL: [Self; 11] = [
        Self::Steady,
        Self::WarmsUpUnsaid,
        Self::Feels,
        Self::LightWeeks,
        Self::Away,
        Self::Silent,
        Self::Sandbags,
        Self::Hurries,
        Self::Slips,
        Self::Afterwards,
        Self::Wanders,
    ];
}

impl Behaviour for Like {
    fn days_until(&mut self, session: usize, _dice: &mut Dice) -> u32 {
        match (self, session) {
            (Self::Away, 15) => 43,
            (_, session) if session % 3 == 2 => 3,
            _ => 2,
        }
    }

    fn warm_ups(&mut self, _at: &Situation, dice: &mut Dice) -> Vec<WarmUp> {
        let unsaid = |share, reps| WarmUp {
            share,
            reps,
            marked: false,
        };
        match self {
            Self::WarmsUpUnsaid => vec![unsaid(0.45, 10), unsaid(0.75, 5)],
            Self::Feels if dice.chance(0.4) => vec![unsaid(0.8, 6)],
            _ => Vec::new(),
        }
    }

    fn load(&mut self, at: &Situation, dice: &mut Dice) -> f64 {
        let advised = at.advised_kg.unwrap_or(at.own_kg);
        match self {
            Self::LightWeeks if at.day / 7 % 5 == 4 => 0.7 * advised,
            Self::Wanders if at.set == 0 && dice.chance(0.35) => 0.85 * advised,
            _ => advised,
        }
    }

    fn rest(&mut self, advised_s: f64, dice: &mut Dice) -> f64 {
        match self {
            Self::Hurries => advised_s * 0.5 * (0.8 + 0.4 * dice.uniform()),
            _ => advised_s * (0.92 + 0.16 * dice.uniform()),
        }
    }

    fn stop_at(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        match self {
            Self::Sandbags => at.asked + 2.0,
            Self::LightWeeks if at.day / 7 % 5 == 4 => 10.0,
            _ => at.asked,
        }
    }

    fn report(&mut self, set: &Attempt, dice: &mut Dice) -> Option<f64> {
        let felt = set.felt.round().max(0.0);
        match self {
            Self::Silent => None,
            Self::LightWeeks if set.left > 4.0 => None,
            Self::Sandbags => Some(1.0),
            Self::Wanders if felt >= 4.0 => Some((felt + 2.0 * dice.normal()).round().max(4.0)),
            _ => Some(felt),
        }
    }

    fn slip(&mut self, truth: &Written, dice: &mut Dice) -> Option<Written> {
        if *self != Self::Slips || !dice.chance(0.02) {
            return None;
        }
        let slipped = match dice.uniform() {
            x if x < 0.4 => Written {
                kg: truth.kg * 10.0,
                ..*truth
            },
            x if x < 0.7 => Written {
                reps: truth.reps + 20,
                ..*truth
            },
            _ => Written {
                kg: (truth.kg / 10.0).max(1.0).round(),
                ..*truth
            },
        };
        Some(slipped)
    }

    fn posts_afterwards(&mut self, session: usize) -> bool {
        *self == Self::Afterwards && session % 2 == 1
    }
}
