//! What a member did, and what was best.

use chrono::{Datelike as _, NaiveDate};

use super::work::Work;
use crate::bot::figure::{self, Figure};
use crate::bot::reply::File;
use crate::bot::state::{LogEntry, is_work};
use crate::bot::text;
use crate::bot::text::history::{Estimate, Heaviest};
use crate::domain::coaching::progress::course;
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::model::Model;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::id::ExerciseId;
use crate::message::intent::talk::{DayAsked, asked_for};

/// Days of an exercise that are shown at once.
const DAYS: usize = 5;
/// Loads that are shown with the most repetitions at them.
const LOADS: usize = 4;
/// Exercises that are shown at once.
const EXERCISES: usize = 12;

impl Work<'_> {
    /// Answers `/history`.
    pub(crate) fn history(&mut self, text: Option<&str>) {
        let Some(text) = text else {
            let newest = self.loaded.history.iter().map(|filed| filed.set.day).max();
            match newest {
                Some(day) => self.history_on(None, day),
                None => self.tell(text::history::NOTHING_YET),
            }
            return;
        };
        match asked_for(text, self.view.reader) {
            Some((exercise, day)) => self.show_history(exercise, day),
            None => self.tell(text::history::unknown("history", text)),
        }
    }

    /// Answers `/best`.
    pub(crate) fn best(&mut self, text: Option<&str>) {
        let exercise = match text {
            None => None,
            Some(text) => match asked_for(text, self.view.reader) {
                Some((Some(exercise), None)) => Some(exercise),
                _ => {
                    self.tell(text::history::unknown("best", text));
                    return;
                }
            },
        };
        self.show_best(exercise);
    }

    /// What was done of an exercise, or on a day; without either, in the last session.
    pub(crate) fn show_history(&mut self, exercise: Option<ExerciseId>, day: Option<DayAsked>) {
        let today = self.view.today();
        match (exercise, day) {
            (Some(exercise), None) => self.history_of(exercise),
            // `what did i do thursday`, on a Thursday with sets.
            (exercise, Some(DayAsked::Weekday(day)))
                if day == today.weekday() && self.did(exercise, today) =>
            {
                self.history_on(exercise, today);
            }
            (exercise, Some(asked)) => match (asked.day(today), asked.week(today)) {
                (Some(day), _) => self.history_on(exercise, day),
                (None, Some(day)) if exercise.is_none() => {
                    self.put_own_week(self.view.calendar.week_of(day));
                }
                (None, Some(day)) => self.history_in_week(exercise, day),
                (None, None) => self.tell(text::history::NO_SUCH_DATE),
            },
            (None, None) => {
                let days = || self.loaded.history.iter().map(|filed| filed.set.day);
                let before = days().filter(|day| *day < today).max();
                match before.or_else(|| days().max()) {
                    Some(day) => self.history_on(None, day),
                    None => self.tell(text::history::NOTHING_YET),
                }
            }
        }
    }

    fn history_of(&mut self, exercise: ExerciseId) {
        let name = self.view.name_of(exercise);
        let sets = self.work_of(exercise);
        let days: Vec<&[&LoggedSet]> = sets.chunk_by(|a, b| a.day == b.day).collect();
        let shown = days.iter().rev().take(DAYS);
        let lines: Vec<(NaiveDate, Vec<LoggedSet>)> = shown
            .filter_map(|sets| {
                let day = sets.first()?.day;
                Some((day, sets.iter().map(|set| (*set).clone()).collect()))
            })
            .collect();
        if lines.is_empty() {
            self.tell(text::history::nothing_of(name));
            return;
        }
        let estimate = self.estimate_of(self.model.beliefs.get(&exercise), exercise);
        let text = text::history::of_exercise(
            name,
            &lines,
            days.len(),
            estimate.as_ref(),
            self.view.unit(),
        );
        let notes = lines.iter().flat_map(|(_, sets)| sets);
        let text = self.with_notes(text, notes);
        let files = self.picture_of(exercise);
        self.tell_with(text, None, files);
    }

    fn history_on(&mut self, exercise: Option<ExerciseId>, day: NaiveDate) {
        let of_day = self.loaded.history.iter().filter(|filed| {
            filed.set.day == day && exercise.is_none_or(|one| filed.set.exercise == one)
        });
        let sets: Vec<LogEntry> = of_day.cloned().collect();
        let name = exercise.map(|exercise| self.view.name_of(exercise));
        let text = match sets.is_empty() {
            true => text::history::nothing_on(day, name, self.nearest_day(exercise, day)),
            false => text::history::on_day(day, &sets, self.view.catalogue()),
        };
        let text = self.with_notes(text, sets.iter().map(|filed| &filed.set));
        self.tell(text);
    }

    /// A text with what the member noted beside these sets below it.
    fn with_notes<'s>(&self, text: String, sets: impl Iterator<Item = &'s LoggedSet>) -> String {
        let notes = &self.member.state.set_notes;
        sets.fold(text, |text, set| {
            let note = set.id.and_then(|id| notes.get(&id.0));
            match note {
                Some(note) => format!("{text}\n{}", text::history::note(set, note)),
                None => text,
            }
        })
    }

    fn history_in_week(&mut self, exercise: Option<ExerciseId>, day: NaiveDate) {
        let week = self.view.calendar.week_of(day);
        let sets = self.loaded.history.iter().filter(|filed| {
            week.contains(filed.set.day) && exercise.is_none_or(|one| filed.set.exercise == one)
        });
        let sets: Vec<LogEntry> = sets.cloned().collect();
        let days = sets.chunk_by(|a, b| a.set.day == b.set.day);
        let days = days.filter_map(|sets| {
            let day = sets.first()?.set.day;
            Some(text::history::on_day(day, sets, self.view.catalogue()))
        });
        let text = days.collect::<Vec<_>>().join("\n");
        let name = exercise.map(|exercise| self.view.name_of(exercise));
        let text = match text.is_empty() {
            true => {
                let first = week.first_day();
                text::history::nothing_in_week(first, name, self.nearest_day(exercise, first))
            }
            false => text,
        };
        self.tell(text);
    }

    fn did(&self, exercise: Option<ExerciseId>, day: NaiveDate) -> bool {
        let mut sets = self.loaded.history.iter();
        sets.any(|f| f.set.day == day && exercise.is_none_or(|one| f.set.exercise == one))
    }

    /// The last day with a set, of an exercise where one is named, but for this one.
    fn nearest_day(&self, exercise: Option<ExerciseId>, but: NaiveDate) -> Option<NaiveDate> {
        let sets = self.loaded.history.iter();
        let sets = sets.filter(|f| exercise.is_none_or(|one| f.set.exercise == one));
        sets.map(|filed| filed.set.day)
            .filter(|day| *day != but)
            .max()
    }

    /// The bests of an exercise, or the best of each.
    pub(crate) fn show_best(&mut self, exercise: Option<ExerciseId>) {
        let Some(exercise) = exercise else {
            let text = self.all_bests();
            self.tell(text);
            return;
        };
        let name = self.view.name_of(exercise);
        let heaviest = self.heaviest(exercise);
        if heaviest.is_empty() {
            self.tell(text::history::nothing_of(name));
            return;
        }
        let estimate = self.estimate_of(self.model.beliefs.get(&exercise), exercise);
        let text = text::history::bests(name, &heaviest, estimate.as_ref(), self.view.unit());
        let files = self.picture_of(exercise);
        self.tell_with(text, None, files);
    }

    /// Whether an exercise gets better, or each of them.
    pub(crate) fn show_progress(&mut self, exercise: Option<ExerciseId>) {
        let Some(exercise) = exercise else {
            let text = self.all_progress();
            self.tell(text);
            return;
        };
        let name = self.view.name_of(exercise);
        match self.estimate_of(self.model.beliefs.get(&exercise), exercise) {
            None => self.tell(text::history::nothing_of(name)),
            Some(estimate) => {
                let text = text::history::progress(name, &estimate, self.view.unit());
                let files = self.picture_of(exercise);
                self.tell_with(text, None, files);
            }
        }
    }

    /// What the maximum was held to be, day by day.
    pub(crate) fn picture_of(&self, exercise: ExerciseId) -> Option<File> {
        let log = self.loaded.history.iter().map(|filed| &filed.set);
        let figure = figure::lift(exercise, log, &self.view.lifter(), self.view.unit());
        figure.map(Figure::into_file)
    }

    /// The work sets of an exercise, in order.
    fn work_of(&self, exercise: ExerciseId) -> Vec<&LoggedSet> {
        let of_it = self.loaded.history.iter().filter(|filed| is_work(filed));
        of_it
            .map(|filed| &filed.set)
            .filter(|set| set.exercise == exercise)
            .collect()
    }

    /// The heaviest straight sets with the most repetitions at each load, the heaviest first: none of
    /// them is beaten by another in both.
    fn heaviest(&self, exercise: ExerciseId) -> Vec<Heaviest> {
        let kind = self.view.catalogue().exercise(exercise);
        let moved = |set: &LoggedSet| set.load.moved(kind, self.view.body_mass());
        let mut sets: Vec<&LoggedSet> = self.work_of(exercise);
        sets.retain(|set| set.kind == SetKind::Straight && set.reps > 0);
        // The earliest of equals holds the best.
        sets.sort_by_key(|set| (std::cmp::Reverse((moved(set), set.reps)), set.at));
        let mut most = 0;
        let mut best: Vec<Heaviest> = Vec::new();
        for set in sets {
            if set.reps > most {
                most = set.reps;
                best.push(Heaviest {
                    load: set.load,
                    reps: set.reps,
                    day: set.day,
                });
            }
        }
        best.truncate(LOADS);
        best
    }

    /// The estimated one-rep max, and how it changes.
    fn estimate_of(&self, belief: Option<&Belief>, exercise: ExerciseId) -> Option<Estimate> {
        let belief = belief?;
        let lifter = self.view.lifter();
        let population = lifter.population(self.view.catalogue().exercise(exercise));
        Some(Estimate {
            one_rm: belief.one_rm(),
            sets: belief.sets(),
            change: course(belief, &self.model.condition, &population).change,
        })
    }

    /// The exercises of the log, the one done last first.
    fn exercises_done(&self) -> Vec<ExerciseId> {
        let mut done: Vec<ExerciseId> = Vec::new();
        for filed in self.loaded.history.iter().rev().filter(|f| is_work(f)) {
            if !done.contains(&filed.set.exercise) {
                done.push(filed.set.exercise);
            }
        }
        done
    }

    /// All beliefs: what is loaded are those at hand.
    pub(crate) fn learned(&self) -> Model {
        let mut model = Model::default();
        for filed in &self.loaded.history {
            model.learn(&filed.set, &self.view.lifter());
        }
        model
    }

    fn all_bests(&self) -> String {
        let done = self.exercises_done();
        let model = self.learned();
        let rows = done.iter().take(EXERCISES).filter_map(|&exercise| {
            let best = self.heaviest(exercise).into_iter().next()?;
            let estimate = self.estimate_of(model.beliefs.get(&exercise), exercise);
            Some((self.view.name_of(exercise), best, estimate))
        });
        let rows: Vec<_> = rows.collect();
        match rows.is_empty() {
            true => text::history::NOTHING_YET.to_owned(),
            false => text::history::all_bests(&rows, done.len(), self.view.unit()),
        }
    }

    fn all_progress(&self) -> String {
        let done = self.exercises_done();
        let model = self.learned();
        let rows = done.iter().take(EXERCISES).filter_map(|&exercise| {
            let estimate = self.estimate_of(model.beliefs.get(&exercise), exercise)?;
            Some((self.view.name_of(exercise), estimate))
        });
        let rows: Vec<_> = rows.collect();
        match rows.is_empty() {
            true => text::history::NOTHING_YET.to_owned(),
            false => text::history::all_progress(&rows, self.view.unit()),
        }
    }

    /// What was done of an exercise on the last day before today, in a line.
    pub(crate) fn last_time(&self, exercise: ExerciseId) -> Option<String> {
        let sessions = self.sessions_before(exercise);
        let sets = sessions.last()?;
        let work: Vec<LoggedSet> = sets
            .iter()
            .filter(|set| set.kind != SetKind::WarmUp)
            .cloned()
            .collect();
        let day = work.first()?.day;
        Some(text::history::last_time(day, &work))
    }
}
