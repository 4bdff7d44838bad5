//! The way back after pain: once a coach lifts the lock, loads begin well under those before it and
//! come back over some sessions.
//!
//! How much of the load is held back is [`crate::domain::advice::opening::way_back`]; what locks and what is
//! said then, [`super::hurt`].

use std::collections::BTreeSet;

use chrono::{DateTime, TimeDelta, Utc};

use super::work::Work;
use crate::bot::state::report::cleared_area;
use crate::domain::advice::next_set::{Advice, Decision, Reason, Trial, what_if};
use crate::domain::advice::opening::way_back;
use crate::domain::advice::warm_up::lighter;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;

/// After so long a lock that was lifted is of no account any more; as far back as sets are looked at.
const FORGOTTEN_AFTER: TimeDelta = TimeDelta::days(60);

impl Work<'_> {
    /// The advice, held to the way back where the exercise was locked for pain not long ago.
    pub(crate) fn eased(&self, advice: Advice) -> Advice {
        let Some(load) = advice.load else {
            return advice;
        };
        let Some(most) = self.most_after_pain(advice.exercise, load) else {
            return advice;
        };
        let exercise = self.view.catalogue().exercise(advice.exercise);
        let moved = |load: Load| load.moved(exercise, self.view.body_mass());
        let waits = advice.decision == Decision::Wait;
        // Neither the first set of a day nor one that waits gets another rest for it.
        let keeps = waits || self.run(advice.exercise).is_empty();
        let trial = Trial {
            load: Some(if moved(most) < moved(load) {
                most
            } else {
                load
            }),
            rest_s: keeps.then_some(advice.rest_s),
            rir: None,
        };
        let eased = self.ask(advice.exercise, |ask| what_if(ask, &trial));
        if waits {
            return Advice {
                load: eased.load,
                expect: eased.expect,
                ..advice
            };
        }
        Advice {
            reason: Reason::EasingBack(self.aim(advice.exercise).reps_high),
            ..eased
        }
    }

    /// The heaviest load to go back to today; `None` where nothing holds it. Of a lifter whose sets
    /// before the pain are long ago, `advised` stands for their load.
    fn most_after_pain(&self, exercise: ExerciseId, advised: Load) -> Option<Load> {
        let cleared = self.cleared_at(exercise)?;
        let share = self.share_back(exercise)?;
        let sets = self.straight_sets(exercise);
        let of = self.view.catalogue().exercise(exercise);
        let body_mass = self.view.body_mass();
        let before = sets.iter().filter(|set| set.at <= cleared);
        let last_day = before.clone().map(|set| set.day).max();
        let before = before
            .filter(|set| Some(set.day) == last_day)
            .map(|set| set.load)
            .max_by_key(|load| load.moved(of, body_mass));
        lighter(
            before.unwrap_or(advised),
            share,
            of,
            &self.view.rack(),
            body_mass,
        )
    }

    /// The share of the load before that the exercise is held to today; `None` where nothing holds it.
    pub(crate) fn share_back(&self, exercise: ExerciseId) -> Option<f64> {
        let cleared = self.cleared_at(exercise)?;
        let today = self.view.today();
        let sets = self.straight_sets(exercise);
        let since = sets
            .iter()
            .filter(|set| set.at > cleared && set.day < today);
        let days: BTreeSet<_> = since.map(|set| set.day).collect();
        way_back(days.len())
    }

    /// When the exercise, or all of them, was last cleared after pain.
    fn cleared_at(&self, exercise: ExerciseId) -> Option<DateTime<Utc>> {
        let cleared = &self.member.state.cleared;
        let of = self.view.catalogue().exercise(exercise);
        let areas = of.loads.iter().map(|&area| cleared_area(area));
        let keys = areas.chain([of.name.clone(), String::new()]);
        let at = keys.filter_map(|key| cleared.get(&key)).max()?;
        (self.view.now - *at < FORGOTTEN_AFTER).then_some(*at)
    }

    /// The straight sets of an exercise in the last weeks and today.
    fn straight_sets(&self, exercise: ExerciseId) -> Vec<LoggedSet> {
        let earlier = self.sessions_before(exercise).into_iter().flatten();
        earlier
            .chain(self.run(exercise))
            .filter(|set| set.kind == SetKind::Straight)
            .collect()
    }
}
