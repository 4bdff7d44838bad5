//! A day's sets of one exercise, looked at together: loads, rests, and how repetitions fall.
//!
//! What a coach should make of them is told in [`super::attention`].

use chrono::NaiveDate;

use crate::domain::lifter::model::duration_s;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::catalogue::Exercise;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Mass;

/// Rests longer than this are pauses, not rests, seconds. Common practice, no source: five minutes
/// are long even for heavy squats.
const LONGEST_REST_S: u32 = 1200;

/// The sets of one exercise on one day, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct Run<'a> {
    /// The day.
    pub day: NaiveDate,
    /// The exercise.
    pub exercise: ExerciseId,
    /// Its sets of any kind; never empty.
    pub sets: Vec<&'a LoggedSet>,
}

/// The runs of some sets in order, by day, then as they were begun; the two of a pair are a run
/// each.
pub fn runs<'a>(sets: impl IntoIterator<Item = &'a LoggedSet>) -> Vec<Run<'a>> {
    let mut runs: Vec<Run<'a>> = Vec::new();
    for set in sets {
        let same = |run: &&mut Run<'_>| run.day == set.day && run.exercise == set.exercise;
        match runs.iter_mut().find(same) {
            Some(run) => run.sets.push(set),
            None => runs.push(Run {
                day: set.day,
                exercise: set.exercise,
                sets: vec![set],
            }),
        }
    }
    runs.sort_by_key(|run| run.day);
    runs
}

impl Run<'_> {
    /// Its straight work sets.
    pub fn straight(&self) -> impl Iterator<Item = &LoggedSet> {
        let sets = self.sets.iter().copied();
        sets.filter(|set| set.kind == SetKind::Straight)
    }

    /// Rests before its straight sets but the first, seconds, where they were stated or seen.
    pub fn rests_s(&self) -> Vec<u32> {
        let sets: Vec<&LoggedSet> = self.straight().collect();
        let rests = sets.windows(2).filter_map(|pair| match pair {
            [before, after] => rest_s(before, after),
            _ => None,
        });
        rests.filter(|rest| *rest <= LONGEST_REST_S).collect()
    }

    /// Share of the first set's repetitions that is gone in the last straight set at its load;
    /// below zero where there are more. `None` with a single set at that load.
    ///
    /// ```text
    /// 1 − reps(last) / reps(first)
    /// ```
    pub fn drop_off(&self) -> Option<f64> {
        let first = self.straight().next()?;
        let at_load = self.straight().skip(1).filter(|set| set.load == first.load);
        let last = at_load.last()?;
        Some(1.0 - f64::from(last.reps) / f64::from(first.reps))
    }

    /// Whether the load only goes up from one straight set to the next: the freshest set, which can
    /// be loaded heaviest, is the lightest.
    ///
    /// *Source*: trade practice.
    pub fn ascends(&self, exercise: &Exercise, body_mass: Option<Mass>) -> bool {
        let moved = self
            .straight()
            .map(|set| set.load.moved(exercise, body_mass));
        let moved: Vec<Mass> = moved.collect();
        let never_down = moved.windows(2).all(|pair| pair.first() <= pair.last());
        never_down && moved.first() < moved.last()
    }
}

fn rest_s(before: &LoggedSet, after: &LoggedSet) -> Option<u32> {
    if after.stated_rest_s.is_some() {
        return after.stated_rest_s;
    }
    if !(before.timed && after.timed) {
        return None;
    }
    let apart = (after.at - before.at).num_seconds();
    let work = i64::from(whole(duration_s(after)));
    u32::try_from(apart - work).ok()
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a hundred repetitions take some minutes"
)]
fn whole(seconds: f64) -> u32 {
    seconds.round() as u32
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, Duration};

    use super::*;
    use crate::config;

    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::Unit;

    /// A straight set of the bench press that ended so many seconds after the first.
    fn set(seconds: i64, kg: f64, reps: u32) -> LoggedSet {
        let at = DateTime::UNIX_EPOCH + Duration::seconds(seconds);
        LoggedSet::straight(
            config::built_in().named("bench press").unwrap(),
            Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg),
            reps,
            at,
        )
    }

    #[test]
    fn sets_fall_into_runs_by_day_and_exercise() {
        let squat = LoggedSet {
            exercise: config::built_in().named("back squat").unwrap(),
            ..set(120, 80.0, 8)
        };
        // In turn, then another day.
        let log = [
            set(0, 50.0, 8),
            squat,
            set(240, 50.0, 8),
            set(100_000, 50.0, 8),
        ];
        let runs = runs(&log);
        let sizes: Vec<_> = runs.iter().map(|run| run.sets.len()).collect();
        assert_eq!(sizes, [2, 1, 1]);
    }

    #[test]
    fn rests_are_those_stated_or_seen() {
        // Ten repetitions take 35 s.
        let mut log = vec![set(0, 50.0, 10), set(155, 50.0, 10), set(275, 50.0, 10)];
        let rests = |log: &[LoggedSet]| runs(log).iter().flat_map(Run::rests_s).collect::<Vec<_>>();
        assert_eq!(rests(&log), [120, 85]);
        log[2].stated_rest_s = Some(90);
        assert_eq!(rests(&log), [120, 90]);
        log[1].timed = false;
        assert_eq!(rests(&log), [90]);
        // Lunch is no rest.
        log.push(set(5000, 50.0, 10));
        assert_eq!(rests(&log), [90]);
    }

    #[test]
    fn drop_off_is_at_the_first_load() {
        let drop_off = |reps: &[(f64, u32)]| {
            let log: Vec<_> = reps.iter().map(|&(kg, reps)| set(0, kg, reps)).collect();
            runs(&log).first().and_then(Run::drop_off)
        };
        assert_eq!(
            drop_off(&[(50.0, 10), (50.0, 8), (50.0, 6), (40.0, 10)]),
            Some(0.4)
        );
        assert_eq!(drop_off(&[(50.0, 8), (50.0, 10)]), Some(-0.25));
        assert_eq!(drop_off(&[(50.0, 10), (40.0, 10)]), None);
    }

    #[test]
    fn only_loads_that_never_go_down_ascend() {
        let catalogue = config::built_in();
        let exercise = catalogue.exercise(catalogue.named("bench press").unwrap());
        let cases: [(&[f64], bool); 5] = [
            (&[50.0, 55.0, 60.0], true),
            (&[50.0, 50.0, 55.0], true),
            (&[50.0, 50.0], false),
            (&[50.0, 60.0, 55.0], false),
            (&[50.0], false),
        ];
        for (loads, expected) in cases {
            let log: Vec<_> = loads.iter().map(|&kg| set(0, kg, 8)).collect();
            let runs = runs(&log);
            let ascends = runs.iter().all(|run| run.ascends(exercise, None));
            assert_eq!(ascends, expected, "{loads:?}");
        }
    }
}
