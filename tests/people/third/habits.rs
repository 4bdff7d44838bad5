//! What people do and write. Shares and steps of habits: common practice, no source, where none is named.

use std::collections::HashMap;

use super::someone::is_elsewhere;
use crate::harness::{Attempt, Behaviour, Dice, Lift, Situation, WarmUp, Written};

/// A way of training, apart from the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Habit {
    /// Does and writes what is asked.
    Diligent,
    /// Posts the ramp without saying that it is one.
    UnmarkedRamp,
    /// Begins with a set that is light on purpose and says nothing of it.
    Feelers,
    /// Every sixth week is light (every 5.6 ± 2.3 weeks, 6.4 days: Rogerson 2024).
    LightWeeks,
    /// Three, eight and fifteen weeks off.
    Breaks,
    /// One message in fifteen holds a slip of the keyboard.
    Slips,
    /// Posts every third session when it is over, in one go.
    Afterwards,
    /// Never says what was left.
    Silent,
    /// What is said grows apart from the truth with the distance, and clusters at round numbers.
    RoundNumbers,
    /// Stops two sooner than asked and says what was asked for.
    Sandbags,
    /// Always goes to failure, whatever is asked.
    ToFailure,
    /// Rests a minute or less, as 95 % of those who watch their rest do (Silva 2018).
    ShortRests,
    /// Rests until it feels right, 3.7 ± 1.2 minutes (self-chosen rests at 10RM, 2022).
    LongRests,
    /// Takes other loads than advised, and raises them by a rule of the thumb.
    OwnLoads,
    /// Trains in two gyms whose plates and machines differ.
    TwoGyms,
    /// Swaps all exercises every four weeks.
    Rotation,
    /// Comes twice on two days a week.
    TwiceADay,
    /// A bit of most of it.
    RealLife,
}

pub const HABITS: [Habit; 18] = [
    Habit::Diligent,
    Habit::UnmarkedRamp,
    Habit::Feelers,
    Habit::LightWeeks,
    Habit::Breaks,
    Habit::Slips,
    Habit::Afterwards,
    Habit::Silent,
    Habit::RoundNumbers,
    Habit::Sandbags,
    Habit::ToFailure,
    Habit::ShortRests,
    Habit::LongRests,
    Habit::OwnLoads,
    Habit::TwoGyms,
    Habit::Rotation,
    Habit::TwiceADay,
    Habit::RealLife,
];

/// Warm-up sets as handbooks have them: shares of the work load and repetitions.
const RAMP: [(f64, u32); 3] = [(0.5, 8), (0.7, 5), (0.85, 2)];
/// A light week: share of the load, sets, and repetitions that stay left.
const LIGHT_SHARE: f64 = 0.8;
const LIGHT_LEFT: f64 = 5.0;
const LIGHT_EVERY_WEEKS: usize = 6;
/// A feeler: share of the load and repetitions that stay left.
const FEELER_SHARE: f64 = 0.8;
/// Sessions before which people are away, and days.
const AWAY: [(usize, u32); 3] = [(10, 21), (19, 56), (28, 105)];
const SLIPS: f64 = 1.0 / 15.0;
const ROUND: [f64; 8] = [0.0, 1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 15.0];

/// What a person with own loads does of a lift: the load to open with, sessions in a row whose last set left
/// two or more, and whether the last set did.
struct Own {
    kg: f64,
    easy: u32,
    much_left: bool,
}

/// A person with a habit.
pub struct Habits {
    of: Habit,
    /// Some call more left than they feel, some less.
    calls: f64,
    /// The load that this person keeps to today.
    today: f64,
    lift: Option<Lift>,
    is_real_light: bool,
    /// By lift, of those with own loads.
    own: HashMap<&'static str, Own>,
}

impl Habits {
    pub fn new(of: Habit, seed: u64) -> Self {
        Self {
            of,
            calls: if seed.is_multiple_of(2) { 0.65 } else { 1.4 },
            today: 0.0,
            lift: None,
            is_real_light: false,
            own: HashMap::new(),
        }
    }

    fn is_light(&self, session: usize) -> bool {
        let week = session / 3;
        match self.of {
            Habit::LightWeeks => week % LIGHT_EVERY_WEEKS == LIGHT_EVERY_WEEKS - 1,
            Habit::RealLife => week == 6,
            _ => false,
        }
    }

    fn is_feeler(&self, at: &Situation) -> bool {
        let feels = match self.of {
            Habit::Feelers => true,
            Habit::RealLife => at.session % 5 == 2,
            _ => false,
        };
        feels && at.set == 0
    }

    /// Own loads go up by 2.5 % when two sessions in a row ended with two or more left, after the
    /// two-for-two rule of the handbook, and are 15 % less after time off.
    fn judge_own_loads(&mut self, at: &Situation) {
        let Some(lift) = self.lift.filter(|_| self.of == Habit::OwnLoads) else {
            return;
        };
        let own = self.own.entry(lift.name).or_insert(Own {
            kg: at.own_kg,
            easy: 0,
            much_left: false,
        });
        own.easy = if own.much_left { own.easy + 1 } else { 0 };
        if own.easy >= 2 {
            own.kg += lift.step_kg.max(0.025 * own.kg);
            own.easy = 0;
        }
        self.today = own.kg * if at.days_off >= 21 { 0.85 } else { 1.0 };
    }

    fn down(&self, kg: f64) -> f64 {
        let Some(lift) = self.lift else { return kg };
        let steps = ((kg - lift.least_kg) / lift.step_kg + 1e-9)
            .floor()
            .max(0.0);
        lift.least_kg + steps * lift.step_kg
    }
}

impl Behaviour for Habits {
    fn days_until(&mut self, session: usize, dice: &mut Dice) -> u32 {
        let away = |weeks: &[(usize, u32)]| {
            let next = weeks.iter().find(|(before, _)| *before == session + 1);
            next.map(|(_, days)| *days)
        };
        let usual = if session % 3 == 2 { 3 } else { 2 };
        match self.of {
            Habit::Breaks => away(&AWAY).unwrap_or(usual),
            Habit::RealLife => away(&[(14, 35)]).unwrap_or(usual + u32::from(dice.chance(0.2))),
            Habit::TwiceADay => 3 + u32::from(session % 4 == 3),
            _ => usual,
        }
    }

    fn same_day(&mut self, session: usize) -> bool {
        self.of == Habit::TwiceADay && session % 2 == 1
    }

    fn lifts(&mut self, session: usize) -> Option<Vec<usize>> {
        let half = match self.of {
            Habit::Rotation => session / 12 % 2,
            _ => 0,
        };
        let first = 4 * half + 2 * (session % 2);
        Some(vec![first, first + 1])
    }

    fn equipment(&mut self, session: usize, lift: &Lift) -> Lift {
        let other = Lift {
            step_kg: 2.0 * lift.step_kg,
            ..*lift
        };
        let elsewhere = self.of == Habit::TwoGyms && is_elsewhere(session);
        let here = if elsewhere { other } else { *lift };
        self.lift = Some(here);
        here
    }

    fn sets(&mut self, session: usize) -> usize {
        if self.is_light(session) { 2 } else { 4 }
    }

    fn warm_ups(&mut self, at: &Situation, _dice: &mut Dice) -> Vec<WarmUp> {
        // The first set ever of a lift is at the own load, whatever the habit.
        self.today = at.own_kg;
        self.judge_own_loads(at);
        let ramps = match self.of {
            Habit::UnmarkedRamp => 3,
            Habit::RealLife if at.session.is_multiple_of(2) => 2,
            _ => 0,
        };
        // Nobody warms up with the work load: with coarse steps a ramp has fewer sets.
        let step = self.lift.map_or(0.0, |lift| lift.step_kg);
        let lighter = |set: &&(f64, u32)| set.0 * at.own_kg + 0.6 * step < at.own_kg;
        let ramp = RAMP.iter().take(ramps).filter(lighter);
        let ramp = ramp.map(|(share, reps)| WarmUp {
            share: *share,
            reps: *reps,
            marked: false,
        });
        ramp.collect()
    }

    fn load(&mut self, at: &Situation, dice: &mut Dice) -> f64 {
        let advised = at.advised_kg.unwrap_or(at.own_kg);
        if self.is_light(at.session) {
            if at.set == 0 {
                self.today = LIGHT_SHARE * advised;
            }
            return self.today;
        }
        if self.is_feeler(at) {
            return FEELER_SHARE * advised;
        }
        match self.of {
            Habit::TwoGyms => self.down(advised),
            Habit::OwnLoads => {
                if at.set >= 2 && dice.chance(0.3) {
                    self.today *= 0.9;
                }
                self.today
            }
            _ => advised,
        }
    }

    fn rest(&mut self, advised_s: f64, dice: &mut Dice) -> f64 {
        match self.of {
            Habit::ShortRests => 40.0 + 20.0 * dice.uniform(),
            Habit::LongRests => (222.0 + 72.0 * dice.normal()).clamp(90.0, 420.0),
            Habit::RealLife if dice.chance(0.4) => advised_s * dice.log_normal(1.0, 0.3),
            _ => advised_s,
        }
    }

    fn stop_at(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        self.is_real_light = self.is_light(at.session) || self.is_feeler(at);
        match self.of {
            _ if self.is_real_light => LIGHT_LEFT,
            Habit::Sandbags => at.asked + 2.0,
            Habit::ToFailure => 0.0,
            _ => at.asked,
        }
    }

    fn report(&mut self, set: &Attempt, dice: &mut Dice) -> Option<f64> {
        let felt = set.felt.round().max(0.0);
        let own = self.lift.and_then(|lift| self.own.get_mut(lift.name));
        if let Some(own) = own {
            own.much_left = felt >= 2.0;
        }
        match self.of {
            Habit::Silent => None,
            Habit::Feelers if self.is_real_light => None,
            Habit::RealLife if dice.chance(0.4) => None,
            Habit::Sandbags => Some((felt - 2.0).max(0.0)),
            Habit::RoundNumbers => {
                let called = self.calls * set.felt;
                let near = |of: &&f64| ((**of - called).abs() * 1e6) as u64;
                ROUND.iter().min_by_key(near).copied()
            }
            _ => Some(felt),
        }
    }

    fn slip(&mut self, truth: &Written, dice: &mut Dice) -> Option<Written> {
        let share = match self.of {
            Habit::Slips => SLIPS,
            Habit::RealLife => SLIPS / 4.0,
            _ => 0.0,
        };
        if !dice.chance(share) {
            return None;
        }
        let (kg, reps) = match (dice.uniform() * 4.0) as u32 {
            // A zero too many, a pound for a kilogram, a neighbour's digit, ten repetitions more.
            0 => (10.0 * truth.kg, truth.reps),
            1 => ((truth.kg / 0.453_592_37).round(), truth.reps),
            2 => (truth.kg + 30.0, truth.reps),
            _ => (truth.kg, truth.reps + 10),
        };
        Some(Written { kg, reps, ..*truth })
    }

    /// Loads as small as numbers of sets are written with their unit: `10x8` may be ten sets.
    fn message(&self, lift: &Lift, set: &Written, _warm_up: bool) -> String {
        let unit = if set.kg <= 10.0 { " kg " } else { "" };
        let left = set.left.map(|left| format!(", {left} left"));
        let left = left.unwrap_or_default();
        format!("{} {}{unit}x{}{left}", lift.name, set.kg, set.reps)
    }

    fn posts_afterwards(&mut self, session: usize) -> bool {
        match self.of {
            Habit::Afterwards => session % 3 == 1,
            Habit::RealLife => session % 9 == 4,
            _ => false,
        }
    }
}
