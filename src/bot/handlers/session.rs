//! Today's planned session: what is aimed at, what is done, what is next, and the way up to it.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use chrono::{Datelike as _, NaiveDate, Weekday};

use super::work::Work;
use crate::bot::state::prescription::aim;
use crate::bot::state::{is_work, planned_load};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Decision, Reason, Trial, what_if};
use crate::domain::advice::opening::{Gate, gate, reference};
use crate::domain::advice::session::Session;
use crate::domain::advice::warm_up;
use crate::domain::coaching::plan::{Day, Item, PlannedLoad};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::status::TrainingStatus;

impl Work<'_> {
    /// The exercises of today's work sets, in order.
    pub(crate) fn done_today(&self) -> Vec<ExerciseId> {
        let today = self.view.today();
        let work = self
            .recent
            .iter()
            .filter(|filed| filed.set.day == today && is_work(filed));
        work.map(|filed| filed.set.exercise).collect()
    }

    /// The planned day that today's training follows.
    pub(crate) fn followed(&self) -> Option<&Day> {
        let done = self.done_today();
        self.held
            .session(self.view.today().weekday(), &done, self.sessions_done())
    }

    /// Days of this week before today on which the member trained, as far as they are loaded: they
    /// say which numbered day of a plan is due.
    pub(crate) fn sessions_done(&self) -> usize {
        let today = self.view.today();
        let week = self.view.calendar.week_of(today);
        let own = self.loaded.other.is_none();
        let days = self.loaded.days.iter().filter(|_| own);
        let days: BTreeSet<NaiveDate> = days
            .filter(|filed| is_work(filed))
            .map(|filed| filed.set.day)
            .filter(|day| *day < today && week.contains(*day))
            .collect();
        days.len()
    }

    /// Today's session as it stands.
    pub(crate) fn planned_session(&self) -> Option<Session> {
        let day = self.followed()?;
        Some(Session::new(day, self.held.week(), &self.done_today()))
    }

    /// Sets planned today of an exercise.
    pub(crate) fn planned_sets(&self, exercise: ExerciseId) -> Option<u32> {
        self.planned_session()?.planned(exercise)
    }

    /// What the plan has for an exercise: today's item, else that of the next day that has it.
    fn item_of(&self, exercise: ExerciseId, session: Option<&Session>) -> Option<Item> {
        let at_hand = session.and_then(|session| session.at_hand(exercise));
        let weekday = self.view.today().weekday();
        at_hand
            .map(|one| one.item.clone())
            .or_else(|| self.held.plan()?.item(exercise, weekday).cloned())
    }

    /// What an exercise's sets are meant to be today: the plan's range and effort over the trade's
    /// default, the effort and the number of sets as the block's week has them.
    pub(crate) fn aim(&self, exercise: ExerciseId) -> Aim {
        let default = Aim::default_for(self.view.catalogue().exercise(exercise).class);
        let session = self.planned_session();
        let item = self.item_of(exercise, session.as_ref());
        let at_hand = session
            .as_ref()
            .and_then(|session| session.at_hand(exercise));
        let done = at_hand.map_or(0, |one| one.done);
        let sets = session
            .as_ref()
            .and_then(|session| session.planned(exercise));
        let item = item.as_ref().map(|item| (item, done));
        let aim = aim(default, item, sets, self.held.week());
        match self.member.state.is_light(self.view.today()) {
            true => aim.lightened(),
            // What a break costs is in the forecast.
            false if self.is_ill() => aim.eased(),
            false => aim,
        }
    }

    /// Effort of an item this week.
    pub(crate) fn effort_of(&self, item: &Item) -> Rir {
        let default = Aim::default_for(self.view.catalogue().exercise(item.exercise).class);
        aim(default, Some((item, 0)), None, self.held.week()).rir
    }

    /// An item as it is shown: with its effort this week, and its load as it comes to today.
    fn shown(&self, item: &Item) -> text::session::Shown {
        text::session::Shown {
            rir: self.effort_of(item),
            load: self.planned_load(item, item.exercise),
        }
    }

    /// The load to open with: where the plan names one, that goes before what the belief holds.
    pub(crate) fn opened(&self, advice: Advice) -> Advice {
        let opens = matches!(
            advice.reason,
            Reason::Opening | Reason::FromRelated | Reason::FindFirstLoad
        );
        let session = self.planned_session();
        let item = self.item_of(advice.exercise, session.as_ref());
        // Behind a top set, or where the load is planned set by set, the next item begins with its own.
        let at_hand = session
            .as_ref()
            .and_then(|session| session.at_hand(advice.exercise));
        let goes_on = matches!(
            advice.decision,
            Decision::SameLoad | Decision::AddLoad | Decision::DropLoad
        );
        let begins = goes_on
            && !self.run(advice.exercise).is_empty()
            && at_hand.is_some_and(|one| one.done == 0 && one.left() > 0);
        let planned = item.and_then(|item| self.planned_load(&item, advice.exercise));
        match planned.filter(|_| opens || begins) {
            Some(load) => Advice {
                decision: self.way_to(advice.exercise, load),
                ..self.instead(&advice, load, Some(advice.rest_s), Reason::Planned)
            },
            None => self.gated(advice),
        }
    }

    /// Whether a load is up or down from that of the last set in this session.
    fn way_to(&self, exercise: ExerciseId, load: Load) -> Decision {
        let run = self.run(exercise);
        let last = run
            .last()
            .map(|set| set.load)
            .filter(|last| last.basis == load.basis);
        match last.map(|last| load.mass.cmp(&last.mass)) {
            Some(Ordering::Less) => Decision::DropLoad,
            Some(Ordering::Greater) => Decision::AddLoad,
            Some(Ordering::Equal) | None => Decision::SameLoad,
        }
    }

    /// The load that an item plans for an exercise, as this lifter can load it today; `None` where
    /// it plans none, or a share of what is not known yet. A load that is planned for one exercise
    /// is none for another that may be done in its place.
    pub(crate) fn planned_load(&self, item: &Item, exercise: ExerciseId) -> Option<Load> {
        match item.load? {
            PlannedLoad::Fixed(load) => (item.exercise == exercise).then_some(load),
            PlannedLoad::Share { low, high, of } => {
                let belief = self.model.beliefs.get(&exercise)?;
                planned_load::share(self.view, belief, exercise, (low, high), of)
            }
            PlannedLoad::OfTopSet(percent) => {
                let run = self.run(exercise);
                let work = run.iter().filter(|set| set.kind != SetKind::WarmUp);
                let heaviest = work.max_by_key(|set| set.load.mass)?;
                planned_load::part(self.view, exercise, heaviest.load, percent)
            }
        }
    }

    /// The same with this load, after this rest or the shortest that does, and what to expect then.
    fn instead(&self, advice: &Advice, load: Load, rest_s: Option<u32>, reason: Reason) -> Advice {
        let trial = Trial {
            load: Some(load),
            rest_s,
            rir: None,
        };
        Advice {
            decision: Decision::SameLoad,
            reason,
            ..self.ask(advice.exercise, |ask| what_if(ask, &trial))
        }
    }

    /// A raise over the last session that is large enough to be worth it, and for a beginner not too
    /// soon; else the load stays. In a session only a beginner's is held, and a set that was plainly
    /// too light goes up in any case.
    fn gated(&self, advice: Advice) -> Advice {
        let status = self.view.status();
        let beginner = status == TrainingStatus::Beginner;
        let judged =
            advice.reason == Reason::Opening || (beginner && advice.reason == Reason::OverTheRange);
        let Some(load) = advice.load.filter(|_| judged) else {
            return advice;
        };
        let exercise = self.view.catalogue().exercise(advice.exercise);
        let moved = |load: Load| load.moved(exercise, self.view.body_mass()).in_kg();
        let of_set = |set: &LoggedSet| moved(set.load);
        let sessions = self.sessions_before(advice.exercise);
        let aim = self.aim(advice.exercise);
        let gate = gate(moved(load), &sessions, &aim, status, of_set);
        let opening = advice.reason == Reason::Opening;
        let (stays, reason) = match (gate, opening) {
            (Gate::Open, _) | (Gate::TooSmall, false) => return advice,
            (Gate::TooSmall, true) => (reference(&sessions, &aim, of_set), Reason::Opening),
            (Gate::TooSoon, true) => (reference(&sessions, &aim, of_set), Reason::HeldBack),
            (Gate::TooSoon, false) => {
                let run = self.run(advice.exercise);
                return run.last().map_or(advice.clone(), |set| {
                    self.instead(&advice, set.load, None, Reason::NotYet)
                });
            }
        };
        let stays = stays.map(|set| set.load);
        stays.map_or(advice.clone(), |load| {
            self.instead(&advice, load, Some(advice.rest_s), reason)
        })
    }

    /// The days of the last weeks before today on which an exercise was done, with its sets.
    pub(crate) fn sessions_before(&self, exercise: ExerciseId) -> Vec<Vec<LoggedSet>> {
        let today = self.view.today();
        let sets = self.loaded.before.iter().map(|filed| &filed.set);
        let of_it = sets.filter(|set| set.exercise == exercise && set.day < today);
        let sets: Vec<LoggedSet> = of_it.cloned().collect();
        sets.chunk_by(|a, b| a.day == b.day)
            .map(<[_]>::to_vec)
            .collect()
    }

    /// What is said below the card of an exercise that is planned today: the other of a pair, the
    /// next exercise once this one is finished, or that all is done.
    pub(crate) fn what_follows(&self, advice: &Advice) -> Vec<String> {
        let Some(mut session) = self.planned_session() else {
            return Vec::new();
        };
        if session.planned(advice.exercise).is_none() {
            return Vec::new();
        }
        if matches!(advice.decision, Decision::Finish | Decision::Stop) {
            session.end(advice.exercise);
        }
        if session.is_done() {
            return vec![text::session::SESSION_DONE.to_owned()];
        }
        let turn = !matches!(advice.decision, Decision::Finish | Decision::Stop)
            && session
                .at_hand(advice.exercise)
                .is_some_and(|one| one.left() > 0);
        self.next_lines(&session, Some(advice.exercise), turn)
    }

    /// The next exercise after `current`, with what to open with and the way up to it; nothing
    /// where the current one goes on.
    fn next_lines(
        &self,
        session: &Session,
        current: Option<ExerciseId>,
        turn: bool,
    ) -> Vec<String> {
        if self.all_withheld().is_some() {
            return Vec::new();
        }
        // What hurts is passed over.
        let mut session = session.clone();
        while let Some(held) = session
            .next(current)
            .map(|next| next.item.exercise)
            .filter(|&next| self.is_held(next))
        {
            session.end(held);
        }
        let Some(next) = session.next(current) else {
            return Vec::new();
        };
        let exercise = next.item.exercise;
        if Some(exercise) == current {
            return Vec::new();
        }
        let mut lines = vec![text::session::next_up(
            next,
            self.effort_of(&next.item),
            turn,
            self.view.catalogue(),
        )];
        if next.done == 0 {
            let advice = self.advise(exercise);
            lines.push(text::capital(&text::advice(&advice, 0)));
            lines.extend(self.way_up(&advice));
        }
        lines
    }

    // Today.

    /// Answers `/today`.
    pub(crate) fn today(&mut self, weekday: Option<Weekday>) {
        let text = self.today_text(weekday);
        self.tell(text);
    }

    fn today_text(&self, weekday: Option<Weekday>) -> String {
        if let Some(withheld) = self.all_withheld() {
            return withheld.to_owned();
        }
        let Some(plan) = self.held.plan() else {
            return self.due_text();
        };
        let today = self.view.today();
        let followed = self.followed();
        let day = match weekday {
            Some(weekday) => plan.day(weekday),
            None => followed,
        };
        let Some(day) = day else {
            return self.rest_day(weekday.unwrap_or_else(|| today.weekday()));
        };
        let is_today = followed == Some(day);
        let done = if is_today {
            self.done_today()
        } else {
            Vec::new()
        };
        let session = Session::new(day, self.held.week(), &done);
        let at_hand = self.at_hand().filter(|_| is_today);
        let title = text::session::session_title(today, day.name(), &self.held);
        let next = session.next(at_hand);
        let shown = |item: &Item| self.shown(item);
        let mut lines = vec![text::session::session(
            &title,
            &session,
            next.filter(|next| is_today && !self.is_held(next.item.exercise)),
            shown,
            |exercise| self.is_held(exercise),
            self.view.catalogue(),
        )];
        if is_today && session.is_done() {
            lines.push(text::session::SESSION_DONE.to_owned());
        } else if is_today {
            lines.extend(self.next_lines(&session, None, false));
        }
        lines.extend(self.not_tailored());
        lines.join("\n")
    }

    pub(crate) fn rest_day(&self, weekday: Weekday) -> String {
        let plan = self.held.plan();
        let next = plan.and_then(|plan| {
            let due = plan.due(self.sessions_done());
            plan.day_after(weekday).or(due)
        });
        let names = next.map(|day| {
            let names = day.items().map(|item| self.view.name_of(item.exercise));
            (day.name(), names.collect::<Vec<_>>())
        });
        let next = names.as_ref().map(|(day, names)| (*day, names.as_slice()));
        text::session::rest_day(weekday, next)
    }

    // The way up.

    /// Whether the target muscle of an exercise did work sets in this session.
    fn is_warm(&self, exercise: ExerciseId) -> bool {
        let catalogue = self.view.catalogue();
        let target = catalogue.exercise(exercise).target;
        let work = self.session().iter().filter(|filed| is_work(filed));
        work.map(|filed| filed.set.exercise)
            .any(|done| done == exercise || catalogue.exercise(done).target == target)
    }

    fn ladder(&self, exercise: ExerciseId, work: Load, warm: bool) -> Vec<warm_up::Step> {
        warm_up::ladder(
            work,
            self.view.catalogue().exercise(exercise),
            &self.view.rack(),
            self.view.body_mass(),
            warm,
        )
    }

    /// The way up to an opening load in a line, with the discs for each side of it.
    pub(crate) fn way_up(&self, advice: &Advice) -> Option<String> {
        let work = advice.load.filter(|_| text::opens(advice.reason))?;
        let rack = self.view.rack();
        let exercise = self.view.catalogue().exercise(advice.exercise);
        let steps = self.ladder(advice.exercise, work, self.is_warm(advice.exercise));
        let discs = warm_up::discs(work, exercise, &rack);
        let lines = [
            text::session::ladder(&steps),
            discs
                .filter(|_| exercise.is_mapped())
                .map(|discs| text::session::each_side(work, &discs, rack.unit())),
        ];
        let lines: Vec<_> = lines.into_iter().flatten().collect();
        (!lines.is_empty()).then(|| lines.join(" "))
    }

    /// Answers `/warmup`: for the exercise named, the one at hand, or the next that is planned.
    pub(crate) fn warm_up(&mut self, name: Option<&str>) {
        let text = self.warm_up_text(name);
        let lines = std::iter::once(text).chain(self.not_tailored());
        let text = lines.collect::<Vec<_>>().join("\n");
        self.tell(text);
    }

    fn warm_up_text(&self, name: Option<&str>) -> String {
        let exercise = match name {
            Some(name) => match self.view.reader.names().named(name) {
                Some(exercise) => Some(exercise),
                None => return text::unknown_exercise(name),
            },
            None => {
                let planned = self.planned_session();
                let next = planned
                    .as_ref()
                    .and_then(|session| session.next(self.at_hand()));
                next.map(|one| one.item.exercise).or_else(|| self.at_hand())
            }
        };
        let Some(exercise) = exercise else {
            return text::session::WARM_UP_FOR_WHAT.to_owned();
        };
        if self.is_held(exercise) {
            let advice = self.stopped(exercise);
            let name = self.view.name_of(exercise);
            return format!("{name}: {}", text::advice(&advice, 0));
        }
        let first = self.run(exercise).into_iter();
        let first = first.map(|set| (set.kind, set.load));
        let first = first.filter(|(kind, _)| *kind != SetKind::WarmUp);
        let first = first.map(|(_, load)| load).next();
        let advice = self.advise(exercise);
        let name = self.view.name_of(exercise);
        match first.or(advice.load) {
            Some(work) => self.ladder_text(exercise, work, first.is_some()),
            None => format!("{name}: {}", text::advice(&advice, 0)),
        }
    }

    fn ladder_text(&self, exercise: ExerciseId, work: Load, again: bool) -> String {
        let name = self.view.name_of(exercise);
        let rack = self.view.rack();
        // Asked for once work has begun, the whole way is wanted.
        let steps = self.ladder(exercise, work, !again && self.is_warm(exercise));
        if steps.is_empty() {
            return text::session::no_ladder(name, work);
        }
        let kind = self.view.catalogue().exercise(exercise);
        let discs = |load: Load| warm_up::discs(load, kind, &rack);
        text::session::ladder_list(name, &steps, work, discs, rack.unit())
    }
}
