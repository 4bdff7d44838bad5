//! Training without a plan: what is due, and a session of what the member usually does.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate};

use super::work::Work;
use crate::bot::state::is_work;
use crate::bot::text;
use crate::bot::text::usual::Due;
use crate::domain::coaching::plan::Plan;
use crate::domain::coaching::week::MuscleWeek;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::message::forms::plan::{self, Language};

/// What was done in so many days counts as usual.
const LATELY_DAYS: i64 = 28;
/// Muscles that are named as due, exercises that a session is chosen from.
const MOST_DUE: usize = 5;
const MOST_EXERCISES: usize = 8;
/// Sets of an exercise in a session: what is usual, within these. Common practice, no source.
const FEWEST_SETS: usize = 2;
const MOST_SETS: usize = 4;

impl Work<'_> {
    /// What there is to train for a member without a plan.
    pub(crate) fn due_text(&self) -> String {
        let due = self.due();
        if due.is_empty() {
            let text = match self.view.member.condition.is_some() {
                true => text::usual::NOTHING_KNOWN,
                false => text::usual::NO_SETS_YET,
            };
            return text.to_owned();
        }
        let rows: Vec<Due<'_>> = due
            .iter()
            .take(MOST_DUE)
            .map(|(line, last, exercise)| Due {
                muscle: &self.view.catalogue().muscle(line.muscle).name,
                counted: line.counted,
                band: line.band,
                last: *last,
                held: exercise.is_none() && self.is_trained_and_held(line.muscle),
                exercise: exercise.map(|exercise| self.view.name_of(exercise)),
                before: exercise.map_or_else(Vec::new, |exercise| self.last_sets(exercise)),
            })
            .collect();
        text::usual::due(&rows, self.view.today())
    }

    /// The work sets of the last weeks.
    fn lately(&self) -> impl Iterator<Item = &LoggedSet> {
        let today = self.view.today();
        let days = self.loaded.days.iter();
        let days =
            days.filter(move |f| (today - f.set.day).num_days() <= LATELY_DAYS && is_work(f));
        days.map(|filed| &filed.set)
    }

    /// Whether something usual is for this muscle, and loads what hurts.
    fn is_trained_and_held(&self, muscle: MuscleId) -> bool {
        let catalogue = self.view.catalogue();
        let mut usual = self.lately().map(|set| set.exercise);
        usual.any(|one| catalogue.exercise(one).target == Some(muscle) && self.is_held(one))
    }

    fn last_sets(&self, exercise: ExerciseId) -> Vec<LoggedSet> {
        let of_it = || self.lately().filter(|set| set.exercise == exercise);
        let last = of_it().map(|set| set.day).max();
        of_it()
            .filter(|set| Some(set.day) == last)
            .cloned()
            .collect()
    }

    /// The exercises of the last weeks with their days, those done on most days first.
    fn usual_exercises(&self) -> Vec<(ExerciseId, Vec<NaiveDate>)> {
        let mut days: BTreeMap<ExerciseId, Vec<NaiveDate>> = BTreeMap::new();
        for set in self.lately() {
            let of_it = days.entry(set.exercise).or_default();
            if of_it.last() != Some(&set.day) {
                of_it.push(set.day);
            }
        }
        let mut usual: Vec<_> = days.into_iter().collect();
        usual.sort_by_key(|(_, days)| Reverse((days.len(), days.last().copied())));
        usual
    }

    /// Muscles that were trained in the last weeks and lack sets this week, the one that lacks most
    /// first, with the last day and the exercise that is usual for them.
    fn due(&self) -> Vec<(MuscleWeek, NaiveDate, Option<ExerciseId>)> {
        let usual = self.usual_exercises();
        let catalogue = self.view.catalogue();
        let target_of = |exercise: ExerciseId| catalogue.exercise(exercise).target;
        let mut last: BTreeMap<MuscleId, NaiveDate> = BTreeMap::new();
        for set in self.lately() {
            let Some(target) = target_of(set.exercise) else {
                continue;
            };
            let day = last.entry(target).or_insert(set.day);
            *day = (*day).max(set.day);
        }
        let lacks = |line: &MuscleWeek| f64::from(line.band.low) - line.counted;
        let mut due: Vec<_> = self
            .tally(self.view)
            .muscles
            .into_iter()
            .filter_map(|line| {
                let last = *last.get(&line.muscle)?;
                let exercise = usual
                    .iter()
                    .find(|(one, _)| target_of(*one) == Some(line.muscle) && !self.is_held(*one));
                (lacks(&line) > 0.0).then_some((line, last, exercise.map(|(one, _)| *one)))
            })
            .collect();
        due.sort_by(|a, b| lacks(&b.0).total_cmp(&lacks(&a.0)).then(a.1.cmp(&b.1)));
        due
    }

    /// A session for today of what the member usually does, the muscles that are due first; `None` where
    /// nothing is known.
    pub(crate) fn usual_plan(&self) -> Option<Plan> {
        let due = self.due();
        let catalogue = self.view.catalogue();
        let need = |exercise: ExerciseId| {
            let target = catalogue.exercise(exercise).target;
            let place = due
                .iter()
                .position(|(line, ..)| Some(line.muscle) == target);
            place.unwrap_or(due.len())
        };
        let mut usual = self.usual_exercises();
        usual.sort_by_key(|(exercise, _)| need(*exercise));
        let items = usual.iter().take(MOST_EXERCISES).map(|(exercise, days)| {
            let sets = self
                .lately()
                .filter(|set| set.exercise == *exercise)
                .count();
            let a_day = sets.div_ceil(days.len().max(1));
            let count = a_day.clamp(FEWEST_SETS, MOST_SETS);
            format!("{} {count}x6-12", self.view.name_of(*exercise))
        });
        let items: Vec<_> = items.collect();
        let day = self.view.today().weekday();
        let text = format!("{}: {}", plan::day_word(day), items.join("; "));
        let language = Language {
            catalogue,
            names: self.view.reader.names(),
            unit: self.view.unit(),
        };
        plan::read(&text, &language)
            .ok()
            .filter(|plan| !plan.is_empty())
    }
}
