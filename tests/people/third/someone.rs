//! A body of strength, form, a law of fatigue and a sense of effort.

use super::form::{Day, Form, Plain, Seasons};
use super::laws::{Force, Hazard, Law, Reserve, Tables};
use super::sense::Sense;
use super::strength::Strength;
use crate::harness::{Attempt, Body, Dice, Lift};

pub struct Someone {
    strength: Strength,
    form: Box<dyn Form>,
    law: Box<dyn Law>,
    sense: Sense,
    day: Day,
    /// How much more the machines of the other gym show for the same force; none trains in one gym.
    other_gym: Option<f64>,
    session: usize,
}

/// The kinds of bodies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A reserve drained by work and refilled by a hyperbola; trained for years.
    Reserve,
    /// Every repetition may be the one that fails; trained for years.
    Hazard,
    /// Colds, short nights, a monthly rhythm, good and bad fortnights; tables of a handbook.
    Seasons,
    /// A beginner who learns by stairs; force that is spent and comes back fast, then slowly.
    Learner,
}

pub const KINDS: [Kind; 4] = [Kind::Reserve, Kind::Hazard, Kind::Seasons, Kind::Learner];

/// Machines that show another number for the same force: common practice, no source (pulleys, friction).
const OTHER_MACHINES: f64 = 1.12;

/// Whether a session is in the other gym, for those who have two: every second pair of sessions.
pub fn is_elsewhere(session: usize) -> bool {
    (session / 2) % 2 == 1
}

impl Someone {
    pub fn draw(of: Kind, lifts: &[Lift], two_gyms: bool, seed: u64) -> Self {
        let mut dice = Dice::new(seed ^ 0x7468_6972_6400);
        let (beginner, stairs) = match of {
            Kind::Learner => (true, true),
            Kind::Seasons => (dice.chance(0.5), false),
            Kind::Reserve | Kind::Hazard => (false, false),
        };
        let strength = Strength::draw(lifts, beginner, stairs, &mut dice);
        let form: Box<dyn Form> = match of {
            Kind::Seasons => Box::new(Seasons::draw(&mut dice)),
            _ => Box::new(Plain),
        };
        let law: Box<dyn Law> = match of {
            Kind::Reserve => Box::new(Reserve::draw(&mut dice)),
            Kind::Hazard => Box::new(Hazard::draw(&mut dice)),
            Kind::Seasons => Box::new(Tables::draw(&mut dice)),
            Kind::Learner => Box::new(Force::draw(&mut dice)),
        };
        Self {
            strength,
            form,
            law,
            sense: Sense::draw(&mut dice),
            day: Day {
                strength: 0.0,
                stamina: 1.0,
            },
            other_gym: two_gyms.then_some(OTHER_MACHINES),
            session: 0,
        }
    }

    fn shown(&self, lift: &Lift) -> f64 {
        let elsewhere = self.session > 0 && is_elsewhere(self.session - 1);
        match (lift.name, self.other_gym) {
            ("leg press" | "lat pulldown", Some(more)) if elsewhere => more,
            _ => 1.0,
        }
    }

    fn share(&self, lift: &Lift, kg: f64) -> f64 {
        kg / (self.one_rm(lift) * self.day.strength.exp())
    }
}

impl Body for Someone {
    fn new_day(&mut self, days: f64, dice: &mut Dice) {
        self.session += 1;
        if self.session > 1 {
            self.strength.pass(days);
        }
        if days >= 1.0 || self.session == 1 {
            self.day = self.form.pass(days, dice);
        }
        self.law.fresh();
    }

    fn attempt(&self, lift: &Lift, kg: f64, rest_s: f64, stop_at: f64, dice: &mut Dice) -> Attempt {
        let expected = self.law.expected(lift, self.share(lift, kg), rest_s);
        let expected = expected * self.day.stamina * self.strength.stamina();
        let most = self.law.outcome(expected, dice).max(0.0);
        let seen = if self.law.feels_the_end() {
            most
        } else {
            expected
        };
        let chance = dice.normal();
        let wanted = self.sense.stops_after(seen, stop_at, chance);
        let reps = most.floor().min(wanted).min(100.0);
        let failed = reps >= most.floor() && wanted > reps;
        let left = most - reps;
        let felt = match failed {
            true => 0.0,
            false => self.sense.felt(seen - reps, chance),
        };
        Attempt {
            reps: reps as u32,
            left,
            felt,
        }
    }

    fn take(&mut self, lift: &Lift, kg: f64, rest_s: f64, set: &Attempt) {
        let share = self.share(lift, kg);
        let reps = f64::from(set.reps);
        self.law.spend(lift, share, rest_s, reps, set.left.floor());
    }

    fn one_rm(&self, lift: &Lift) -> f64 {
        self.strength.one_rm(lift) * self.shown(lift)
    }
}
