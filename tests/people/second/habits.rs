//! Habits as a coach meets them.

use crate::harness::{Attempt, Behaviour, Dice, Lift, Situation, WarmUp, Written};

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Habit {
    /// Does and writes as told.
    Tidy,
    /// Begins with a set to feel the bar, and does not say so.
    FeelsTheBar,
    /// Takes every third session easy.
    EasyThird,
    /// Five weeks of nothing after two months.
    Holiday,
    /// Thick fingers: a digit too many, a neighbour's key, a lost point.
    ThickFingers,
    /// Every set until nothing goes any more.
    Grinder,
    /// Hardly ever says what was left.
    Tightlipped,
    /// Goes again too soon.
    Impatient,
    /// Writes the evening down at home.
    Diarist,
    /// Keeps to a load of their own, and adds a step every other week.
    Stubborn,
}

impl Habit {
    pub const ALL: [Self; 10] = [
        Self::Tidy,
        Self::FeelsTheBar,
        Self::EasyThird,
        Self::Holiday,
        Self::ThickFingers,
        Self::Grinder,
        Self::Tightlipped,
        Self::Impatient,
        Self::Diarist,
        Self::Stubborn,
    ];
}

impl Behaviour for Habit {
    fn days_until(&mut self, session: usize, dice: &mut Dice) -> u32 {
        if *self == Self::Holiday && session == 21 {
            return 35;
        }
        let usual = if session % 3 == 2 { 3 } else { 2 };
        usual + u32::from(dice.chance(0.15))
    }

    fn sets(&mut self, session: usize) -> usize {
        3 + session % 2
    }

    fn warm_ups(&mut self, at: &Situation, dice: &mut Dice) -> Vec<WarmUp> {
        let warm_up = |share, reps, marked| WarmUp {
            share,
            reps,
            marked,
        };
        match self {
            Self::FeelsTheBar if at.session.is_multiple_of(2) => vec![warm_up(0.55, 8, false)],
            Self::FeelsTheBar => vec![warm_up(0.4, 12, false), warm_up(0.85, 3, false)],
            Self::Tidy if dice.chance(0.3) => vec![warm_up(0.6, 6, true)],
            _ => Vec::new(),
        }
    }

    fn load(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        let advised = at.advised_kg.unwrap_or(at.own_kg);
        match self {
            Self::EasyThird if at.session % 3 == 2 => 0.8 * advised,
            Self::Stubborn if at.set == 0 && at.session % 6 == 5 => at.own_kg * 1.03,
            Self::Stubborn => at.own_kg,
            _ => advised,
        }
    }

    fn rest(&mut self, advised_s: f64, dice: &mut Dice) -> f64 {
        match self {
            Self::Impatient => 0.62 * advised_s + 10.0 * dice.uniform(),
            _ => advised_s + 25.0 * (dice.uniform() - 0.3),
        }
    }

    fn stop_at(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        match self {
            Self::Grinder => 0.0,
            Self::EasyThird if at.session % 3 == 2 => at.asked + 4.0,
            _ => at.asked,
        }
    }

    fn report(&mut self, set: &Attempt, dice: &mut Dice) -> Option<f64> {
        match self {
            Self::Tightlipped if dice.chance(0.85) => None,
            Self::Grinder => Some(0.0),
            _ => Some((2.0 * set.felt).round() / 2.0).map(|left| left.min(8.0)),
        }
    }

    fn slip(&mut self, truth: &Written, dice: &mut Dice) -> Option<Written> {
        if *self != Self::ThickFingers || !dice.chance(0.03) {
            return None;
        }
        let kg = match dice.uniform() {
            x if x < 0.3 => truth.kg * 10.0,
            x if x < 0.5 => (truth.kg / 10.0).round().max(1.0),
            // The unit of the plates beside: pounds.
            x if x < 0.75 => (truth.kg * 2.2).round(),
            _ => {
                let reps = truth.reps + 30;
                return Some(Written { reps, ..*truth });
            }
        };
        Some(Written { kg, ..*truth })
    }

    fn posts_afterwards(&mut self, _session: usize) -> bool {
        *self == Self::Diarist
    }

    fn message(&self, lift: &Lift, set: &Written, warm_up: bool) -> String {
        let mark = if warm_up { "wu " } else { "" };
        let left = match (set.left, self) {
            (Some(left), Self::Grinder) if left < 0.5 => " f".to_owned(),
            (Some(left), _) => format!(" {left} rir"),
            (None, _) => String::new(),
        };
        format!("{} {mark}{} x {}{left}", lift.name, set.kg, set.reps)
    }
}
