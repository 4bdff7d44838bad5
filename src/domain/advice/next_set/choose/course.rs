//! The next set of a lifter without a plan who goes through the loads of a day in the same way each time.

use super::super::loads::Choice;
use super::super::{Decision, Reason};
use super::{NEAREST, OWN_REACH, Plan, Scene, rested_s};
use crate::domain::lifter::course::{Place, Step};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::limits::{MOST_RESERVE, SAME_LOAD};

/// So many repetitions fewer than on the last day, done plus left, and a set went no better nor worse. Common practice, no
/// source.
const AS_THEN: f64 = 1.5;

impl Scene<'_> {
    /// The step that followed such sets on each of the last two days: up where the last set went as it did then, down in
    /// any case, and further where by what is held fewer repetitions than then are to be expected. `None` without such a
    /// step, and with a plan, which says what is next.
    pub(super) fn by_course(&self, last: &LoggedSet, from: &Choice) -> Option<Plan> {
        if self.aim.sets.is_some() || self.away_days > 0.0 {
            return None;
        }
        let today: Vec<Place> = self.work.iter().map(|set| self.place(set)).collect();
        let step = self.belief.course().next(&today)?;
        let went = today.last()?.reps - step.from.reps;
        match step.ratio > 1.0 {
            true if went < -AS_THEN => None,
            true => self.step_up(from, &step),
            // What came off after a failure need not after a set that went better.
            false if step.from.failed && went > AS_THEN => None,
            // A set far from failure at less than the load of the top set is none.
            false
                if from.kg < NEAREST * step.from.kg
                    && last.rated().is_some_and(|left| left.reps() > MOST_RESERVE) =>
            {
                None
            }
            false => self.step_down(from, &step, went),
        }
    }

    /// Whether the last set has clearly fewer repetitions than the one in its place on both of the last days, after the same
    /// loads: more than going on costs.
    pub(super) fn fell_by_course(&self) -> bool {
        let today: Vec<Place> = self.work.iter().map(|set| self.place(set)).collect();
        let then = self.belief.course().least_at(&today);
        let less = |now: &Place| then.is_some_and(|then| now.reps <= then - OWN_REACH);
        today.last().is_some_and(less)
    }

    /// The top set with which the day begins by the course of the last ones, where it is over what `chosen` would be, and what
    /// is held does not speak plainly against it.
    pub(super) fn top_set(&self, chosen: &Choice, allowed: &[Choice]) -> Option<Choice> {
        if self.aim.sets.is_some() || self.last.is_some() {
            return None;
        }
        let Place { kg: top, reps, .. } = self.belief.course().top()?;
        let place = allowed.partition_point(|choice| choice.kg <= top * (1.0 + SAME_LOAD));
        let choice = allowed.get(place.checked_sub(1)?)?;
        let forecast = self.forecast(choice, rested_s(self.ask), self.aim.rir);
        let goes = forecast.median() >= reps / 2.0 - self.aim.rir.reps();
        (choice.kg > chosen.kg && goes).then_some(*choice)
    }

    fn place(&self, set: &LoggedSet) -> Place {
        Place::of(set, self.choice(set).kg)
    }

    fn step_up(&self, from: &Choice, step: &Step) -> Option<Plan> {
        let all = self.choices(false);
        let place =
            all.partition_point(|choice| choice.kg <= step.ratio * from.kg * (1.0 + SAME_LOAD));
        let choice = *all.get(place.checked_sub(1)?)?;
        let forecast = self.forecast(&choice, self.usual_rest(), self.aim.rir);
        let goes = forecast.median() >= self.own_at(step) - OWN_REACH;
        (choice.kg > from.kg && goes).then(|| Plan {
            decision: Decision::AddLoad,
            choice: Some(choice),
            rest_s: self
                .shortest_rest(&choice, &self.in_range())
                .unwrap_or(self.usual_rest()),
            reason: Reason::OwnCourse,
        })
    }

    fn step_down(&self, from: &Choice, step: &Step, went: f64) -> Option<Plan> {
        let all = self.choices(false);
        let place =
            all.partition_point(|choice| choice.kg <= step.ratio * from.kg * (1.0 + SAME_LOAD));
        let mut place = place.checked_sub(1)?;
        let rest = self.long_usual_rest();
        // What went as it did then is followed by what followed then.
        let wanted = match went < 0.0 {
            true => self.own_at(step) - OWN_REACH / 2.0,
            false => self.own_at(step) - OWN_REACH,
        };
        let is_too_much =
            |choice: &Choice| self.forecast(choice, rest, self.aim.rir).median() < wanted;
        while place > 0 && is_too_much(all.get(place)?) {
            place -= 1;
        }
        let choice = *all.get(place)?;
        (choice.kg < from.kg).then(|| Plan {
            decision: Decision::DropLoad,
            choice: Some(choice),
            rest_s: self
                .shortest_rest(&choice, &self.in_range())
                .unwrap_or(rest)
                .clamp(self.usual_rest(), rest),
            reason: Reason::OwnCourse,
        })
    }

    /// Repetitions of the set that is next by the course, at the effort aimed at.
    fn own_at(&self, step: &Step) -> f64 {
        step.to.reps - self.aim.rir.reps()
    }
}
