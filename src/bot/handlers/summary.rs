//! What a session came to, once it is over; and what a word on the last set tells of it.

use chrono::{Duration, NaiveDate};

use super::work::Work;
use crate::bot::reply::Sign;
use crate::bot::state::{LogEntry, is_work};
use crate::bot::text;
use crate::bot::text::summary as said;
use crate::domain::coaching::week::{Counts, judge};
use crate::domain::quantities::effort::Rir;
use crate::message::forms::command::SummaryCommand;
use crate::message::intent::feel::Feel;

/// A word on a set is about one that was posted so long before, at most. Common practice, no source.
const FEEL_WITHIN: Duration = Duration::minutes(15);

/// Days ahead that are looked through for the next planned session.
const DAYS_AHEAD: u64 = 7;

impl Work<'_> {
    /// Takes a word on the last set as how much it left, where that was not said.
    pub(crate) fn felt(&mut self, feel: Feel) {
        let last = self.session().last().filter(|last| is_work(last));
        let fresh = last.filter(|last| self.view.now - last.set.at <= FEEL_WITHIN);
        let Some(mut set) = fresh.filter(|last| last.set.rir.is_none()).cloned() else {
            return;
        };
        let Ok(rir) = Rir::new(feel.leaves()) else {
            return;
        };
        set.set.rir = Some(rir);
        self.rewrite(&[], std::slice::from_ref(&set), &[]);
        self.mark(&set.message, Sign::Corrected);
        let line = said::felt(feel == Feel::Easy).to_owned();
        self.after_change(&[set], line);
    }

    /// Shows what the session, or the last day with one, came to; or where summaries are to come.
    pub(crate) fn summary(&mut self, command: SummaryCommand) {
        match command {
            SummaryCommand::Show => match self.summary_text(&self.last_day()) {
                Some(text) => self.tell(text),
                None => self.tell(text::history::NOTHING_YET),
            },
            SummaryCommand::Send(place) => {
                self.member.profile.summary =
                    (place != SummaryCommand::PRIVATE).then(|| place.to_owned());
                self.tell(said::where_to(place));
            }
        }
    }

    /// The member says that the session is over.
    pub(crate) fn session_over(&mut self) {
        let today = self.view.today();
        let sets = self.on_day(today);
        if sets.iter().any(is_work) {
            self.cancel_bell();
            self.put_summary(&sets);
        }
    }

    /// Puts the summary of today's session where the member wants it, once a day, when the plan for
    /// today is done.
    pub(crate) fn end_of_plan(&mut self) {
        let today = self.view.today();
        if self.member.state.summed_up != Some(today) {
            let sets = self.on_day(today);
            self.put_summary(&sets);
        }
    }

    fn put_summary(&mut self, sets: &[LogEntry]) {
        let Some(text) = self.summary_text(sets) else {
            return;
        };
        self.member.state.summed_up = Some(self.view.today());
        match self.member.profile.summary.as_deref() {
            None => self.tell(text),
            Some("channel") => self.say(text),
            Some(_) => {}
        }
    }

    fn on_day(&self, day: NaiveDate) -> Vec<LogEntry> {
        let of_day = self.recent.iter().filter(|filed| filed.set.day == day);
        of_day.cloned().collect()
    }

    fn last_day(&self) -> Vec<LogEntry> {
        let log = &self.loaded.history;
        let last = log.iter().rev().find(|filed| is_work(filed));
        let day = last.map(|last| last.set.day);
        let of_day = log.iter().filter(|filed| Some(filed.set.day) == day);
        of_day.cloned().collect()
    }

    /// Sets, time, bests, and what comes next.
    fn summary_text(&self, sets: &[LogEntry]) -> Option<String> {
        let work: Vec<&LogEntry> = sets.iter().filter(|filed| is_work(filed)).collect();
        let first = work.first()?;
        let day = first.set.day;
        let catalogue = self.view.catalogue();
        let counts = |filed: &LogEntry| {
            let exercise = catalogue.exercise(filed.set.exercise);
            judge(&filed.set, filed.judged).of(exercise)
        };
        let counted = work
            .iter()
            .filter(|filed| matches!(counts(filed), Counts::Yes(_)))
            .count();
        let timed = work.iter().filter(|filed| filed.set.timed);
        let times: Vec<_> = timed.map(|filed| filed.set.at).collect();
        let minutes = match (times.iter().min(), times.iter().max()) {
            (Some(from), Some(to)) if times.len() > 1 => Some((*to - *from).num_minutes()),
            _ => None,
        };
        let mut exercises = Vec::new();
        for filed in &work {
            if !exercises.contains(&filed.set.exercise) {
                exercises.push(filed.set.exercise);
            }
        }
        let lines = exercises.into_iter().map(|exercise| {
            let run = work.iter().filter(|filed| filed.set.exercise == exercise);
            let run: Vec<_> = run.map(|filed| filed.set.clone()).collect();
            format!("{} {}", self.view.name_of(exercise), text::run(&run))
        });
        let bests = match &self.member.state.bests_of {
            Some((of, lines)) if *of == day => lines.as_slice(),
            _ => &[],
        };
        Some(said::summary(
            &said::Came {
                day: (day != self.view.today()).then_some(day),
                sets: work.len(),
                counted,
                minutes,
            },
            &lines.collect::<Vec<_>>(),
            bests,
            self.coming_session().as_deref(),
        ))
    }

    /// The next planned day with its exercises, without those that load what hurts.
    fn coming_session(&self) -> Option<String> {
        if let Some(withheld) = self.all_withheld() {
            return Some(withheld.to_owned());
        }
        let plan = self.held.plan()?;
        let today = self.view.today();
        let days = (1..=DAYS_AHEAD).filter_map(|ahead| {
            let day = today.checked_add_days(chrono::Days::new(ahead))?;
            let planned = plan.day(chrono::Datelike::weekday(&day))?;
            if self.member.state.is_away(day) {
                return None;
            }
            let names: Vec<&str> = planned
                .items()
                .filter(|item| !self.is_held(item.exercise))
                .map(|item| self.view.name_of(item.exercise))
                .collect();
            (!names.is_empty()).then(|| said::coming(day, &names))
        });
        days.into_iter().next()
    }
}
