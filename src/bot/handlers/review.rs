//! `/review`: a member's last weeks in one look.

use super::team::loads_in;
use super::work::Work;
use crate::bot::figure::{self, Figure};
use crate::bot::state::prescription::Prescribed;
use crate::bot::state::prescription::Version;
use crate::bot::state::view::View;
use crate::bot::state::{LogEntry, Member};
use crate::bot::text;
use crate::bot::text::review::{Lift, ReviewView, ReviewedWeek};
use crate::domain::coaching::progress::course;
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::lifter::model::Model;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Mass;

/// Lifts that are told of, those with most sets first.
const LIFTS: usize = 8;

impl Work<'_> {
    /// Answers `/review`: one's own weeks, or, for a coach, a member's.
    pub(crate) fn review(&mut self, name: Option<&str>, weeks: u32) {
        let member = match name {
            None => self.member.clone(),
            Some(name) => {
                if !self.is_coach() {
                    return;
                }
                let Some(other) = self.named(name) else {
                    return;
                };
                other
            }
        };
        let view = self.seen_as(&member);
        let mut weeks = self.last_weeks(weeks);
        // Weeks before the first with a plan or a set have nothing to show.
        let begun = weeks.iter().position(|week| {
            let trained = self
                .loaded
                .days
                .iter()
                .any(|filed| week.contains(filed.set.day));
            trained || !self.sessions_of(&member, *week).is_empty()
        });
        weeks.drain(..begun.unwrap_or(weeks.len() - 1));
        let in_week = |week: Week| -> Vec<&LogEntry> {
            let days = self.loaded.days.iter();
            days.filter(|filed| week.contains(filed.set.day)).collect()
        };
        let tallies: Vec<WeeklyVolume> = weeks
            .iter()
            .map(|week| self.tally_of(&view, &in_week(*week), *week))
            .collect();
        let reviewed: Vec<ReviewedWeek> = weeks
            .iter()
            .map(|week| {
                let sets: Vec<&LoggedSet> = in_week(*week).iter().map(|f| &f.set).collect();
                ReviewedWeek {
                    week: *week,
                    adherence: self.adherence(&member, *week, &sets),
                    lighter: self.held_by(&member, *week).week().is_lighter(),
                    loads: loads_in(&member, *week),
                }
            })
            .collect();
        let (Some(first), Some(last)) = (weeks.first().copied(), weeks.last().copied()) else {
            return;
        };
        let shown = ReviewView {
            pain: &self.pain_of(&member, first),
            name: name.is_some().then_some(member.name.as_str()),
            weeks: &reviewed,
            tallies: &tallies,
            lifts: &self.lifts_over(&view, first),
            masses: &masses(&member, first, last),
            changes: &self.changed(&member, first, last),
            unit: view.unit(),
            today: self.view.today(),
            catalogue: self.view.catalogue(),
        };
        let text = text::review::review(&shown);
        let labels: Vec<String> = weeks
            .iter()
            .map(|week| text::review::label(*week))
            .collect();
        let rows: Vec<(&str, &WeeklyVolume)> =
            labels.iter().map(String::as_str).zip(&tallies).collect();
        let figure = figure::weeks(&member.name, (first, last), &rows, self.view.catalogue());
        let files = figure.map(Figure::into_file);
        let data = text::review::data(&shown);
        self.tell_with(text, Some(data), files);
    }

    /// What is open of a member's pain, and what was lifted since a week began.
    fn pain_of(&self, member: &Member, first: Week) -> Vec<String> {
        let open = self.reports_of(member);
        let open = open.iter().map(|report| {
            let line = text::hurt::line(report, self.view);
            text::capital(&line.replace("\n  ", ":"))
        });
        let sets = self.loaded.days.iter().map(|filed| &filed.set);
        let lifted = member.state.lifted.iter();
        let lifted = lifted.filter(|one| one.on >= first.first_day());
        let lifted = lifted.map(|one| text::capital(&text::hurt::was_lifted(one)));
        let anyway = self.trained_anyway(member, sets);
        open.chain(anyway.as_deref().map(text::capital))
            .chain(lifted)
            .collect()
    }

    /// So many weeks, the one that is on the last of them, the oldest first.
    fn last_weeks(&self, count: u32) -> Vec<Week> {
        let mut weeks = vec![self.this_week()];
        while weeks.len() < usize::try_from(count).unwrap_or(1) {
            if let Some(week) = weeks.last() {
                weeks.push(week.previous());
            }
        }
        weeks.reverse();
        weeks
    }

    /// What each lift of these weeks was held to be when they began and is now, learned from the
    /// whole log; those with most sets first.
    fn lifts_over(&self, view: &View, first: Week) -> Vec<Lift> {
        let lifter = view.lifter();
        let mut model = Model::default();
        let mut before = Vec::new();
        let mut begun = false;
        let log = self.loaded.history.iter().map(|filed| &filed.set);
        for set in log {
            if !begun && set.day >= first.first_day() {
                begun = true;
                before = one_rms(&model);
            }
            model.learn(set, &lifter);
        }
        let mut sets: Vec<(ExerciseId, usize)> = Vec::new();
        for filed in &self.loaded.days {
            match sets.iter_mut().find(|(id, _)| *id == filed.set.exercise) {
                Some((_, count)) => *count += 1,
                None => sets.push((filed.set.exercise, 1)),
            }
        }
        sets.sort_by_key(|(id, count)| (std::cmp::Reverse(*count), *id));
        let lift = |&(exercise, _): &(ExerciseId, usize)| {
            let belief = model.beliefs.get(&exercise)?;
            let population = lifter.population(self.view.catalogue().exercise(exercise));
            Some(Lift {
                exercise,
                before: before
                    .iter()
                    .find(|(id, _)| *id == exercise)
                    .map(|(_, one_rm)| *one_rm),
                now: belief.one_rm(),
                course: course(belief, &model.condition, &population),
            })
        };
        sets.iter().filter_map(lift).take(LIFTS).collect()
    }

    /// What coaches changed in these weeks: the word of it, and from when it holds.
    fn changed(
        &self,
        member: &Member,
        first: Week,
        last: Week,
    ) -> Vec<(&'static str, chrono::NaiveDate)> {
        let within = |one: &&Version| (first.first_day()..=last.last_day()).contains(&one.from);
        let versions = self.versions_of(member).iter().filter(within);
        let mut changes: Vec<_> = versions
            .map(|version| (what(&version.content), version.from))
            .collect();
        changes.sort_by_key(|(_, from)| *from);
        changes
    }
}

const fn what(content: &Prescribed) -> &'static str {
    match content {
        Prescribed::Plan(plan) if plan.days.is_empty() => "plan taken away",
        Prescribed::Plan(_) => "new plan",
        Prescribed::Block(block) if block.weeks.is_empty() => "block ended",
        Prescribed::Block(_) => "new block",
        Prescribed::Targets(_) => "new targets",
    }
}

/// Every lift's maximum, kilograms, and its spread, as [`crate::domain::lifter::belief::Belief::one_rm`] has
/// it.
fn one_rms(model: &Model) -> Vec<(ExerciseId, (f64, f64))> {
    let beliefs = model.beliefs.iter();
    beliefs
        .map(|(exercise, belief)| (*exercise, belief.one_rm()))
        .collect()
}

/// Body masses stated by the end of these weeks: the last before them, and those in them.
fn masses(member: &Member, first: Week, last: Week) -> Vec<(chrono::NaiveDate, Mass)> {
    let all = &member.profile.masses;
    let before = all.range(..first.first_day()).next_back();
    let within = all.range(first.first_day()..=last.last_day());
    let masses = before.into_iter().chain(within);
    masses
        .map(|(day, mass)| (*day, Mass::from_tenth_micrograms(*mass)))
        .collect()
}
