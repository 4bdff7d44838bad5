//! What a simulated body must be able to do.

use super::Dice;

/// A lift that a person trains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Name as written in messages; the bot must know it.
    pub name: &'static str,
    /// Steps in which it can be loaded where this person trains, kilograms as written.
    pub step_kg: f64,
    /// Lightest load there is, kilograms as written.
    pub least_kg: f64,
    /// Fewest repetitions wanted of a set.
    pub fewest: u32,
}

/// A set as it came out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Attempt {
    /// Repetitions done; 0 is a failed attempt.
    pub reps: u32,
    /// Repetitions truly left, a real number, at least 0.
    pub left: f64,
    /// Repetitions that the person feels are left.
    pub felt: f64,
}

/// A body. Loads are kilograms as written (one dumbbell of two, what is added to the body).
pub trait Body {
    /// A session begins, `days` after the last one; less than one for a second session on the same
    /// day. Chance that belongs to the day is drawn here.
    fn new_day(&mut self, days: f64, dice: &mut Dice);

    /// What a set would come to that is begun `rest_s` after the last set of any lift and ended when
    /// `stop_at` repetitions feel left; chance of the set is drawn from `dice`. Changes nothing.
    fn attempt(&self, lift: &Lift, kg: f64, rest_s: f64, stop_at: f64, dice: &mut Dice) -> Attempt;

    /// The set was done: rest, then fatigue.
    fn take(&mut self, lift: &Lift, kg: f64, rest_s: f64, set: &Attempt);

    /// One-repetition maximum, kilograms as written, without the form of the day.
    fn one_rm(&self, lift: &Lift) -> f64;
}
