//! What a person can lift, how it grows, is lost with time away and comes back.

use crate::harness::{Dice, Lift};

/// What a lift is like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kind {
    pub region: Region,
    /// One-repetition maximum over that of the bench press: common practice, no source.
    ratio: f64,
    /// Repetitions at a share of the maximum over those of the bench press: Hoeger 1990 (leg press 33.9
    /// against 19.7, curl 15.3 against 19.7 at 60 %), Zourdos 2021 (16 squats at 70 % against 12 of the
    /// handbook table); the others: common practice, no source.
    pub stamina: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    Push,
    Pull,
    Legs,
}

/// What is known of a lift by its name.
pub fn kind(lift: &Lift) -> Kind {
    let (region, ratio, stamina) = match lift.name {
        "bench press" => (Region::Push, 1.0, 1.0),
        "overhead press" => (Region::Push, 0.62, 0.95),
        "incline bench press" => (Region::Push, 0.82, 1.0),
        "barbell row" => (Region::Pull, 0.85, 1.0),
        "lat pulldown" => (Region::Pull, 0.85, 1.0),
        "barbell curl" => (Region::Pull, 0.45, 0.8),
        "squat" => (Region::Legs, 1.3, 1.3),
        "leg press" => (Region::Legs, 2.2, 1.6),
        other => panic!("no kind for {other}"),
    };
    Kind {
        region,
        ratio,
        stamina,
    }
}

/// Bench press maxima, kilograms, of trained men and women (Ratamess 2010: 104.8 ± 22.1, 42.0 ± 12.4).
const MEN: (f64, f64) = (104.8, 22.1);
const WOMEN: (f64, f64) = (42.0, 12.4);
/// What a beginner has of that, and how unlike lifts are within a person: common practice, no source.
const BEGINNERS: f64 = 0.72;
const BETWEEN_LIFTS: f64 = 0.12;
/// Gain per logarithm of weeks trained: 30 to 50 % over a first year (Steele 2022, doi
/// 10.1080/02701367.2022.2070592) is 0.066 to 0.102, 30 % in ten weeks of beginners (Chaves 2024) 0.109.
const PER_LOG_WEEK: (f64, f64) = (0.085, 0.25);
/// Strength lost to time away, in logarithms: nothing in two weeks (McMaster 2013, doi
/// 10.1007/s40279-013-0031-3: little within two to three), then rising by a hyperbola to about a tenth at
/// seven weeks and a fifth at half a year: standardised differences of 0.46 over all studies and rising with
/// time (Bosquet 2013, doi 10.1111/sms.12047; about 0.5 at seven weeks and 0.9 at half a year from memory)
/// of a spread between people of 21 % (Ratamess 2010).
const KEPT_WEEKS: f64 = 2.0;
const MOST_LOST: f64 = 0.26;
const HALF_LOST_WEEKS: f64 = 8.0;
/// How unlike people lose: common practice, no source.
const LOSS_SPREAD: f64 = 0.35;
/// Weeks in which it comes back (Halonen 2024: the old level within five weeks after ten away).
const BACK_WEEKS: f64 = 5.0;
/// Endurance falls more than strength: submaximal 0.62 against maximal 0.46 (Bosquet 2013).
const STAMINA_LOST: f64 = 0.62 / 0.46 - 1.0;

/// How growth is spread over the weeks.
#[derive(Clone, Debug)]
pub enum Growth {
    /// By the logarithm of weeks trained.
    Smooth,
    /// The same on average, but standing still at times: ends of stretches, in weeks, that turn by
    /// turn move at double speed and stand. Length of stretches: common practice, no source.
    Stairs(Vec<f64>),
}

/// A person's strength.
#[derive(Clone, Debug)]
pub struct Strength {
    bench: f64,
    own: Vec<(&'static str, f64)>,
    /// Weeks trained before the first day, and since.
    age: f64,
    trained: f64,
    rate: f64,
    dose: f64,
    lost: f64,
    /// Loss that comes back, per week.
    back: f64,
    growth: Growth,
}

impl Strength {
    pub fn draw(lifts: &[Lift], beginner: bool, stairs: bool, dice: &mut Dice) -> Self {
        let (mean, spread) = if dice.chance(0.5) { MEN } else { WOMEN };
        let bench = (mean + spread * dice.normal()).max(0.5 * mean);
        let age = match beginner {
            true => 1.0 + 7.0 * dice.uniform(),
            false => 50.0 + 150.0 * dice.uniform(),
        };
        let own = lifts.iter();
        let own = own.map(|lift| (lift.name, dice.log_normal(kind(lift).ratio, BETWEEN_LIFTS)));
        let own = own.collect();
        let growth = match stairs {
            false => Growth::Smooth,
            true => {
                let mut end = 0.0;
                let ends = (0..40).map(|_| {
                    end += 2.0 + 3.0 * dice.uniform();
                    end
                });
                Growth::Stairs(ends.collect())
            }
        };
        Self {
            bench: bench * if beginner { BEGINNERS } else { 1.0 },
            own,
            age,
            trained: 0.0,
            rate: dice.log_normal(PER_LOG_WEEK.0, PER_LOG_WEEK.1),
            dose: dice.log_normal(1.0, LOSS_SPREAD),
            lost: 0.0,
            back: 0.0,
            growth,
        }
    }

    /// Days pass; a week at most of them counts as trained.
    pub fn pass(&mut self, days: f64) {
        let weeks = days / 7.0;
        let counted = weeks.min(1.0);
        self.trained += counted;
        self.lost = (self.lost - self.back * counted).max(0.0);
        let away = weeks - KEPT_WEEKS;
        if away > 0.0 {
            self.lost += self.dose * MOST_LOST * away / (away + HALF_LOST_WEEKS);
            self.back = self.lost / BACK_WEEKS;
        }
    }

    /// Share of the repetitions at a load share that time away has left.
    pub fn stamina(&self) -> f64 {
        (-STAMINA_LOST * self.lost).exp()
    }

    /// One-repetition maximum, kilograms as written.
    pub fn one_rm(&self, lift: &Lift) -> f64 {
        let own = self.own.iter().find(|(name, _)| *name == lift.name);
        let ratio = own.map_or(kind(lift).ratio, |(_, ratio)| *ratio);
        let moved = match &self.growth {
            Growth::Smooth => self.trained,
            Growth::Stairs(ends) => stairs(ends, self.trained),
        };
        let gain = self.rate * ((self.age + 1.0 + moved) / (self.age + 1.0)).ln();
        self.bench * ratio * (gain - self.lost).exp()
    }
}

/// Weeks of growth after `weeks`: every other stretch moves at double speed, the others stand.
fn stairs(ends: &[f64], weeks: f64) -> f64 {
    let mut moved = 0.0;
    let mut begin = 0.0;
    for (place, end) in ends.iter().enumerate() {
        if place % 2 == 0 {
            moved += 2.0 * (weeks.min(*end) - begin).max(0.0);
        }
        begin = *end;
    }
    moved
}
