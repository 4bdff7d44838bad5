//! What a simulated person does and writes. Every method has a well-behaved default.

use super::{Attempt, Dice, Lift};

/// Where a person stands when a set is chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Situation {
    /// Number of the session, from 0, and days since the first.
    pub session: usize,
    pub day: u32,
    /// Days since the session before.
    pub days_off: u32,
    /// Number of the work set of this lift today, from 0.
    pub set: usize,
    /// Load advised for it, kilograms as written; none where the bot knows nothing yet.
    pub advised_kg: Option<f64>,
    /// Load that this person would pick unadvised, kilograms as written.
    pub own_kg: f64,
    /// Repetitions in reserve asked for.
    pub asked: f64,
}

/// A set on the way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmUp {
    /// Share of the work load.
    pub share: f64,
    pub reps: u32,
    /// Whether the message says that it is one.
    pub marked: bool,
}

/// The numbers of a set as they are written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Written {
    pub kg: f64,
    pub reps: u32,
    pub left: Option<f64>,
}

/// A person's habits.
pub trait Behaviour {
    /// Days until the next session.
    fn days_until(&mut self, session: usize, _dice: &mut Dice) -> u32 {
        if session % 3 == 2 { 3 } else { 2 }
    }

    /// Whether the session comes six hours after the one before, on the same day.
    fn same_day(&mut self, _session: usize) -> bool {
        false
    }

    /// Places in the course's list of the lifts of a session; `None` for their turns.
    fn lifts(&mut self, _session: usize) -> Option<Vec<usize>> {
        None
    }

    /// The lift as the gym of this session can load it.
    fn equipment(&mut self, _session: usize, lift: &Lift) -> Lift {
        *lift
    }

    /// Work sets of each lift of a session.
    fn sets(&mut self, _session: usize) -> usize {
        4
    }

    /// Sets posted before the first work set.
    fn warm_ups(&mut self, _at: &Situation, _dice: &mut Dice) -> Vec<WarmUp> {
        Vec::new()
    }

    /// The load; rounded to what there is by the drive.
    fn load(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        at.advised_kg.unwrap_or(at.own_kg)
    }

    /// Seconds of rest before the set, where so many are advised.
    fn rest(&mut self, advised_s: f64, _dice: &mut Dice) -> f64 {
        advised_s
    }

    /// Repetitions that feel left when this person stops.
    fn stop_at(&mut self, at: &Situation, _dice: &mut Dice) -> f64 {
        at.asked
    }

    /// What is said of the repetitions left.
    fn report(&mut self, set: &Attempt, _dice: &mut Dice) -> Option<f64> {
        Some(set.felt.round().max(0.0))
    }

    /// A slip of the keyboard: what is written instead; `None` for what is true.
    fn slip(&mut self, _truth: &Written, _dice: &mut Dice) -> Option<Written> {
        None
    }

    /// Whether a session is posted in one go when it is over.
    fn posts_afterwards(&mut self, _session: usize) -> bool {
        false
    }

    /// Message for one set.
    fn message(&self, lift: &Lift, set: &Written, warm_up: bool) -> String {
        let mark = if warm_up { "warm-up " } else { "" };
        let left = match set.left {
            Some(left) => format!(", {left} left"),
            None => String::new(),
        };
        format!("{mark}{} {}x{}{left}", lift.name, set.kg, set.reps)
    }
}
