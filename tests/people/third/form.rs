//! Good and bad days.

use crate::harness::Dice;

/// What the day does to a person.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Day {
    /// Logarithm by which strength is moved.
    pub strength: f64,
    /// Factor of the repetitions at a load share.
    pub stamina: f64,
}

/// How days follow each other.
pub trait Form {
    /// `days` pass; less than one for a second session on a day.
    fn pass(&mut self, days: f64, dice: &mut Dice) -> Day;
}

/// Every day is drawn anew.
pub struct Plain;

/// Spread of a day. A repeated one-repetition maximum varies by 4.2 % (Grgic 2020, median of 32 studies),
/// of which part is the test; with 3 % a repetition, 2.5 % and the noise of a set give the 0.7 to 1.1
/// repetitions of Mitter 2022 (doi 10.1371/journal.pone.0268074).
const DAY_SPREAD: f64 = 0.025;

impl Form for Plain {
    fn pass(&mut self, _days: f64, dice: &mut Dice) -> Day {
        Day {
            strength: DAY_SPREAD * dice.normal(),
            stamina: 1.0,
        }
    }
}

/// Weeks that hang together: moods and work, colds, short nights, a monthly rhythm.
pub struct Seasons {
    drift: f64,
    day: f64,
    /// Days since the last cold began.
    cold: f64,
    /// Nights' sleep that is owed.
    debt: f64,
    swing: f64,
    phase: f64,
}

/// What is left of a good or bad stretch after a day: a fortnight's memory. Common practice, no source.
const KEPT_A_DAY: f64 = 0.93;
/// Spread of such stretches, logarithms: as that of a plain day (see there).
const STRETCH: f64 = 0.025;
/// Adults have two to three colds a year (public health pages, from memory).
const COLDS_A_DAY: f64 = 2.5 / 365.0;
/// Strength fell by 5 to 15 % in feverish infections (Friman 1977, from memory); it is gone in ten days.
const COLD_LOSS: f64 = 0.10;
const COLD_DAYS: f64 = 10.0;
/// Share of nights that are short: common practice, no source. A short night costs 2.85 % of strength and
/// 9.85 % of the repetitions (Craven 2022, doi 10.1007/s40279-022-01706-y).
const SHORT_NIGHTS: f64 = 0.2;
const NIGHT_STRENGTH: f64 = 0.0285;
const NIGHT_STAMINA: f64 = 0.0985;
/// What of the debt is left after a good night: common practice, no source.
const DEBT_LEFT: f64 = 0.5;
/// The monthly rhythm is trivial on average, a standardised 0.06 (McNulty 2020, doi
/// 10.1007/s40279-020-01319-3) of a spread of 21 % between people is about 1.3 %; people differ as much.
const SWING: (f64, f64) = (0.013, 0.013);
const MONTH_DAYS: f64 = 28.0;

impl Seasons {
    pub fn draw(dice: &mut Dice) -> Self {
        Self {
            drift: STRETCH * dice.normal(),
            day: 0.0,
            cold: 100.0,
            debt: 0.0,
            swing: SWING.0 + SWING.1 * dice.normal(),
            phase: dice.uniform(),
        }
    }

    fn one_day(&mut self, dice: &mut Dice) {
        self.day += 1.0;
        let fresh = (1.0 - KEPT_A_DAY * KEPT_A_DAY).sqrt() * STRETCH;
        self.drift = KEPT_A_DAY * self.drift + fresh * dice.normal();
        self.cold += 1.0;
        if dice.chance(COLDS_A_DAY) {
            self.cold = 0.0;
        }
        self.debt *= DEBT_LEFT;
        if dice.chance(SHORT_NIGHTS) {
            self.debt += 1.0;
        }
    }
}

impl Form for Seasons {
    fn pass(&mut self, days: f64, dice: &mut Dice) -> Day {
        for _ in 0..days.round() as u32 {
            self.one_day(dice);
        }
        let month = (std::f64::consts::TAU * (self.day / MONTH_DAYS + self.phase)).cos();
        let ill = (1.0 - self.cold / COLD_DAYS).max(0.0);
        let lost = COLD_LOSS * ill + NIGHT_STRENGTH * self.debt;
        Day {
            strength: self.drift + self.swing * month - lost + 0.5 * DAY_SPREAD * dice.normal(),
            stamina: 1.0 - NIGHT_STAMINA * self.debt.min(2.0),
        }
    }
}
