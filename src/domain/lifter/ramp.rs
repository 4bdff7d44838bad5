//! Sets that turn out to have been on the way up: warm-ups without the word, known by what came after them.

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::MOST_RESERVE;

use super::codec::{Reader, Writer};

/// Loads nearer than this, as a share, are the same.
const SAME_LOAD: f64 = 0.02;
/// So many repetitions left, in whole ones, are too many for work.
const TOO_MANY: f64 = MOST_RESERVE + 0.5;

/// Of a day's sets of one exercise, in order, with the kilograms that each moved: the repetitions left in those that
/// were on the way up by what was done after them at more load; `None` for the others.
///
/// ```text
/// left = 30 ((1 + R/30) K/k − 1) − r      R repetitions done plus left at K, r done at k
/// ```
///
/// Only sets of which nothing was said, more than three from failure, and heavier than none before them.
///
/// *Source*: Epley's equation ([`crate::domain::quantities::equations`]); that lifters build up without saying so: common
/// practice.
#[must_use]
pub fn on_the_way_up<'a>(sets: impl IntoIterator<Item = (&'a LoggedSet, f64)>) -> Vec<Option<f64>> {
    let sets: Vec<(&LoggedSet, f64)> = sets.into_iter().collect();
    let work = |(set, _): &&(&LoggedSet, f64)| set.kind != SetKind::WarmUp && set.reps > 0;
    let left = |(place, &(set, kg)): (usize, &(&LoggedSet, f64))| {
        let (before, after) = sets.split_at(place);
        let is_top = before
            .iter()
            .filter(work)
            .all(|(_, other)| *other <= kg * (1.0 + SAME_LOAD));
        let can_be = is_unsaid(set) && set.reps > 0 && is_top;
        let after = after
            .iter()
            .filter(work)
            .filter(|(_, other)| can_be && *other > kg * (1.0 + SAME_LOAD));
        let shown = after
            .map(|(other, heavier)| one_rm(other, *heavier))
            .reduce(f64::max)?;
        left_of((kg, f64::from(set.reps)), shown)
    };
    sets.iter().enumerate().map(left).collect()
}

/// The same of one set, its kilograms and repetitions done, by one after it at more load, repetitions done plus left.
pub(crate) fn left_before((kg, done): (f64, f64), (heavier, reps): (f64, f64)) -> Option<f64> {
    let is_heavier = heavier > kg * (1.0 + SAME_LOAD);
    is_heavier.then(|| left_of((kg, done), heavier * (1.0 + reps / 30.0)))?
}

/// Repetitions left in a set where so much was shown to be the maximum; `None` where they are few enough for work.
fn left_of((kg, done): (f64, f64), shown: f64) -> Option<f64> {
    let left = 30.0 * (shown / kg - 1.0) - done;
    (left >= TOO_MANY).then_some(left)
}

/// The sets of a day's run of one exercise that are neither warm-ups nor turned out to be on the way up, and of drop sets
/// and their like the first parts alone, unless there is nothing else.
pub(crate) fn work(run: &[LoggedSet], moved_kg: impl Fn(&LoggedSet) -> f64) -> Vec<&LoggedSet> {
    let ways = on_the_way_up(run.iter().map(|set| (set, moved_kg(set))));
    let sets = run.iter().zip(ways);
    let work = sets.filter(|(set, way)| set.kind != SetKind::WarmUp && way.is_none());
    let work: Vec<&LoggedSet> = work.map(|(set, _)| set).collect();
    match work.iter().any(|set| is_whole(set)) {
        true => work.into_iter().filter(|set| is_whole(set)).collect(),
        false => work,
    }
}

/// Whether a set is none of the parts that follow the first.
pub(crate) const fn is_whole(set: &LoggedSet) -> bool {
    !matches!(set.kind, SetKind::FurtherParts | SetKind::Other)
}

/// The sets of today as far as they may have been on the way up to one that is still to come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Ramp {
    /// Heaviest load so far, kilograms moved; 0 before the first set.
    kg: f64,
    /// Maximum that a later set is to show so that all were too easy, kilograms moved.
    needed: f64,
    /// Whether one of them was no such set.
    is_over: bool,
}

impl Ramp {
    /// Whether all sets so far were on the way up to this one.
    pub(crate) fn leads_to(&self, set: &LoggedSet, kg: f64) -> bool {
        !self.is_over
            && self.kg > 0.0
            && set.reps > 0
            && kg > self.kg * (1.0 + SAME_LOAD)
            && one_rm(set, kg) >= self.needed
    }

    /// With another set.
    pub(crate) fn note(&mut self, set: &LoggedSet, kg: f64) {
        self.is_over |= !is_unsaid(set) || set.reps == 0 || kg < self.kg * (1.0 - SAME_LOAD);
        self.kg = self.kg.max(kg);
        let reps = f64::from(set.reps) + TOO_MANY;
        self.needed = self.needed.max(kg * (1.0 + reps / 30.0));
    }

    pub(crate) fn write(&self, row: &mut Writer) {
        row.reals(&[self.kg, self.needed]);
        row.byte(u8::from(self.is_over));
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        Some(Self {
            kg: row.real()?,
            needed: row.real()?,
            is_over: row.byte()? == 1,
        })
    }
}

/// Whether nothing was said of how hard it was.
pub(crate) fn is_unsaid(set: &LoggedSet) -> bool {
    set.rir.is_none() && set.gave_out.is_none() && !set.slowed
}

/// What a set shows at least, by Epley's equation, kilograms moved.
fn one_rm(set: &LoggedSet, kg: f64) -> f64 {
    kg * (1.0 + (f64::from(set.reps) + set.rated().map_or(0.0, Rir::reps)) / 30.0)
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;

    use super::*;
    use crate::domain::quantities::id::ExerciseId;
    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::Unit;

    /// Which of some sets, each with load, repetitions and what was said to be left, were on the way up.
    fn ways(sets: &[(f64, u32, Option<f64>)]) -> Vec<bool> {
        let logged: Vec<LoggedSet> = sets
            .iter()
            .map(|&(_, reps, left)| LoggedSet {
                rir: left.map(|left| Rir::new(left).unwrap()),
                ..LoggedSet::straight(
                    ExerciseId(0),
                    Load::body(Unit::Kg),
                    reps,
                    DateTime::UNIX_EPOCH,
                )
            })
            .collect();
        let moved = logged.iter().zip(sets.iter().map(|(kg, ..)| *kg));
        on_the_way_up(moved).iter().map(Option::is_some).collect()
    }

    #[test]
    fn lighter_sets_before_the_top_were_on_the_way_up() {
        let unsaid = |sets: &[(f64, u32)]| {
            let sets: Vec<_> = sets.iter().map(|&(kg, reps)| (kg, reps, None)).collect();
            ways(&sets)
        };
        let up = [true, true, true, false];
        assert_eq!(unsaid(&[(60.0, 5), (80.0, 5), (100.0, 3), (120.0, 5)]), up);
        // Two on each step; and straight sets at the top, a lighter one behind them.
        let steps = [(60.0, 5), (60.0, 5), (100.0, 5), (100.0, 5), (70.0, 8)];
        assert_eq!(unsaid(&steps), [true, true, false, false, false]);
        // Hard sets that go up by small steps are work: the first left no four.
        assert_eq!(unsaid(&[(60.0, 12), (65.0, 10), (70.0, 8)]), [false; 3]);
        // The lifter's word stands, and a failed attempt shows nothing.
        assert_eq!(ways(&[(60.0, 5, Some(2.0)), (100.0, 5, None)]), [false; 2]);
        assert_eq!(unsaid(&[(100.0, 5), (140.0, 0)]), [false; 2]);
    }
}
