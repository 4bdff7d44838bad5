//! The bests of one exercise: the heaviest set, the most repetitions at a load, and the highest
//! estimate of the one-rep max.
//!
//! Kept beside the log so that a best is noticed when it happens without reading the log again; what
//! is kept is small, and can always be rebuilt from the log.

use chrono::NaiveDate;

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::mass::Mass;

/// Sets that are at most so much lighter, as a share, are held against a heavier set's repetitions:
/// with half the load more repetitions are no feat. Common practice, no source.
const NEAR: f64 = 0.9;
/// Fewest repetitions that a best in repetitions has: below, it is a best in load or nothing.
const FEWEST_REPS: u32 = 3;
/// Days with the exercise before anything is called a best: at first everything would be one.
const DAYS_BEFORE: u32 = 2;
/// The estimate has to rise by this share to be told again; smaller steps are noise. Its standard
/// deviation is some 3 to 5 % for a lift that is well known (from the model's own intervals).
const RISE: f64 = 0.025;
/// Loads that are remembered, heaviest first.
const MOST_LOADS: usize = 12;

/// What a set was the best in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Best {
    /// The heaviest load ever.
    Load,
    /// The most repetitions at its load or a heavier one; how many there were before.
    Reps(u32),
    /// The highest estimate of the one-rep max, kilograms; what was the highest when it was told last.
    OneRepMax(f64),
}

/// The bests of one exercise so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bests {
    /// Load moved in grams with the most repetitions at it: heaviest first, repetitions rising. No
    /// entry is beaten by another in both.
    pub front: Vec<(i64, u32)>,
    /// The highest estimate of the one-rep max that was told, or that stood when telling began, kg.
    pub told_kg: f64,
    /// Days with straight work sets.
    pub days: u32,
    /// The last of them.
    pub last: Option<NaiveDate>,
}

impl Bests {
    /// Takes a set in, with the mass that it moved and the estimate of the one-rep max after it, in
    /// kilograms; what it was the best in. Warm-ups, failed attempts and sets that are no straight
    /// ones are no bests.
    pub fn take(&mut self, set: &LoggedSet, moved: Mass, one_rm_kg: Option<f64>) -> Option<Best> {
        if set.kind != SetKind::Straight || set.reps == 0 {
            return None;
        }
        if self.last != Some(set.day) {
            self.days = self.days.saturating_add(1);
            self.last = Some(set.day);
        }
        let known = self.days > DAYS_BEFORE;
        let grams = in_grams(moved);
        let best = self.best_in(grams, set.reps).filter(|_| known);
        self.keep(grams, set.reps);
        let estimate = one_rm_kg.filter(|kg| kg.is_finite()).unwrap_or(0.0);
        if !known {
            self.told_kg = self.told_kg.max(estimate);
            return None;
        }
        let before = self.told_kg;
        let risen = before > 0.0 && estimate > before * (1.0 + RISE);
        if risen || best.is_some() {
            // One word a set: the estimate of a best in load or repetitions is told with it.
            self.told_kg = before.max(estimate);
        }
        best.or_else(|| risen.then_some(Best::OneRepMax(before)))
    }

    fn best_in(&self, grams: i64, reps: u32) -> Option<Best> {
        let (heaviest, _) = *self.front.first()?;
        if grams > heaviest {
            return Some(Best::Load);
        }
        let as_heavy = self.front.iter().take_while(|(load, _)| *load >= grams);
        let (load, most) = *as_heavy.last()?;
        #[expect(clippy::cast_precision_loss, reason = "grams of what people lift")]
        let near = grams as f64 >= NEAR * load as f64;
        (near && reps > most && reps >= FEWEST_REPS).then_some(Best::Reps(most))
    }

    fn keep(&mut self, grams: i64, reps: u32) {
        let beaten = |&(load, most): &(i64, u32)| load >= grams && most >= reps;
        if self.front.iter().any(beaten) {
            return;
        }
        self.front
            .retain(|(load, most)| *load > grams || *most > reps);
        let place = self.front.partition_point(|(load, _)| *load > grams);
        self.front.insert(place, (grams, reps));
        self.front.truncate(MOST_LOADS);
    }
}

fn in_grams(mass: Mass) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "below a tonne")]
    let grams = (mass.in_kg() * 1000.0).round() as i64;
    grams
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, Days};

    use super::*;
    use crate::config;
    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::Unit;

    fn set(day: u64, reps: u32) -> LoggedSet {
        let first = DateTime::UNIX_EPOCH.date_naive();
        LoggedSet {
            day: first + Days::new(day),
            ..LoggedSet::straight(
                config::built_in().named("bench press").unwrap(),
                Load::body(Unit::Kg),
                reps,
                DateTime::UNIX_EPOCH,
            )
        }
    }

    fn played(sets: &[(u64, f64, u32)]) -> Vec<Option<Best>> {
        let mut bests = Bests::default();
        let take = |&(day, kg, reps): &(u64, f64, u32)| {
            bests.take(&set(day, reps), Mass::from_kg(kg).unwrap(), None)
        };
        sets.iter().map(take).collect()
    }

    #[test]
    fn nothing_is_a_best_in_the_first_days() {
        let told = played(&[(0, 60.0, 10), (0, 62.5, 10), (2, 65.0, 10), (2, 70.0, 8)]);
        assert_eq!(told, [None; 4]);
    }

    #[test]
    fn most_load_and_most_repetitions_are_noticed_once() {
        let before = [(0, 60.0, 10), (2, 60.0, 9)];
        let after = [
            (4, 62.5, 6),
            (4, 62.5, 6),
            (4, 60.0, 10),
            (6, 60.0, 11),
            (6, 60.0, 11),
        ];
        let told = played(&[&before[..], &after[..]].concat());
        let wanted = [Some(Best::Load), None, None, Some(Best::Reps(10)), None];
        assert_eq!(told[2..], wanted);
    }

    #[test]
    fn many_repetitions_with_far_less_are_no_best() {
        let told = played(&[(0, 100.0, 5), (2, 100.0, 5), (4, 60.0, 15)]);
        assert_eq!(told[2], None);
    }

    #[test]
    fn a_rise_of_the_estimate_is_told_when_it_is_worth_a_word() {
        let mut bests = Bests::default();
        let kg = Mass::from_kg(60.0).unwrap();
        let mut take = |day, reps, estimate| bests.take(&set(day, reps), kg, Some(estimate));
        assert_eq!(take(0, 10, 80.0), None);
        assert_eq!(take(1, 10, 81.0), None);
        assert_eq!(take(2, 10, 82.0), None, "noise");
        assert_eq!(take(3, 9, 84.0), Some(Best::OneRepMax(81.0)));
        assert_eq!(take(4, 9, 84.5), None, "told already");
    }
}
