//! One event being carried out: the member's model and log as they become, and what goes out.

use std::collections::BTreeMap;

use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde_json::Value;

use crate::bot::button::{ButtonId, CardButton};
use crate::bot::needs::{Loaded, Source};
use crate::bot::reply::{Button, File, Mark, Outgoing, Reply, Sign};
use crate::bot::state::bests::{self};
use crate::bot::state::checkpoint::{Notes, Start, note_new};
use crate::bot::state::cuts::AllBests;
use crate::bot::state::cuts::{CheckpointChange, Cuts};
use crate::bot::state::prescription::Prescription;
use crate::bot::state::view::{View, run_of, session_before};
use crate::bot::state::{Bell, Card, Change, LogEntry, Member, TeamSettings, parts, ramp};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Ask, Decision, Reason, next_set};
use crate::domain::coaching::best::Best;
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::condition::Condition;
use crate::domain::lifter::model::{Learned, Model};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, SetId};
use crate::message::intent::talk::Retimed;

/// What an event comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outcome {
    /// What to store, in order, in one transaction.
    pub changes: Vec<Change>,
    /// What to store of other members of the team, each as the first says they become.
    pub others: Vec<(Member, Vec<Change>)>,
    /// What to send once that is stored, in order.
    pub out: Vec<Outgoing>,
    /// More of the log is needed than was loaded: nothing of this is to be stored or sent, and it is to
    /// be decided anew with the whole log.
    pub short: bool,
    /// The team's settings become these, and the event is to be decided anew with them: nothing else of
    /// this is to be stored or sent.
    pub anew: Option<TeamSettings>,
}

/// An event being carried out.
pub(crate) struct Work<'a> {
    pub(crate) view: &'a View<'a>,
    pub(crate) loaded: &'a Loaded,
    pub(crate) source: &'a Source,
    /// The member as they become.
    pub(crate) member: Member,
    /// The recent log as it becomes, in order.
    pub(crate) recent: Vec<LogEntry>,
    /// The model as far as it is loaded, as it becomes.
    pub(crate) model: Model,
    /// What the member's coach set, as this week has it.
    pub(crate) held: Prescription,
    pub(crate) changes: Vec<Change>,
    pub(crate) others: Vec<(Member, Vec<Change>)>,
    pub(crate) out: Vec<Outgoing>,
    /// The report of pain that this event makes, by its number.
    pub(crate) fresh_report: Option<u32>,
    /// Whether this event tells what belongs to a licensed professional.
    pub(crate) fresh_caution: bool,
    /// See [`Outcome::anew`].
    pub(crate) anew: Option<TeamSettings>,
    /// Sets that this event logs and that are a best.
    pub(crate) noticed: Vec<(LoggedSet, Best)>,
    /// Sets that were a best when the log was learned again.
    relearned: Vec<(LoggedSet, Best)>,
    bell: Option<Option<Bell>>,
    replies: usize,
    /// See [`Outcome::short`].
    short: bool,
}

impl<'a> Work<'a> {
    pub(crate) fn new(view: &'a View<'a>, source: &'a Source, loaded: &'a Loaded) -> Self {
        let catalogue = view.catalogue();
        let condition = view.member.condition.as_deref().and_then(Condition::decode);
        let known = condition.is_some();
        let own = loaded.prescriptions.get(&view.member.id);
        let week = view.calendar.week_of(view.today());
        let held = own.map(|versions| Prescription::in_week(versions, week, catalogue));
        let mut work = Self {
            view,
            loaded,
            source,
            member: view.member.clone(),
            recent: view.recent.to_vec(),
            model: Model {
                condition: condition.unwrap_or_default(),
                beliefs: loaded.beliefs(catalogue),
            },
            held: held.unwrap_or_default(),
            changes: Vec::new(),
            others: Vec::new(),
            out: Vec::new(),
            fresh_report: None,
            fresh_caution: false,
            anew: None,
            noticed: Vec::new(),
            relearned: Vec::new(),
            bell: None,
            replies: 0,
            short: false,
        };
        if !known && loaded.other.is_none() && !loaded.history.is_empty() {
            work.relearn(&loaded.history);
        }
        work
    }

    /// Everything of the member goes: nothing else is stored of them.
    pub(crate) fn erase(&mut self) {
        self.member = self.view.member.clone();
        self.bell = None;
        self.changes.push(Change::Erase(self.view.now));
    }

    pub(crate) fn finish(mut self) -> Outcome {
        if self.member != *self.view.member {
            self.changes.push(Change::Member(Box::new(self.member)));
        }
        if let Some(bell) = self.bell
            && bell.as_ref() != self.view.bell
        {
            self.changes.push(Change::Bell(bell));
        }
        Outcome {
            changes: self.changes,
            others: self.others,
            out: self.out,
            short: self.short,
            anew: self.anew,
        }
    }

    // What goes out.

    /// An empty reply to this event's author, with an id of its own.
    pub(crate) fn blank(&mut self) -> Reply {
        self.replies += 1;
        let id = format!("{}.{}", self.source.stem, self.replies);
        Reply {
            id,
            ..self.unnumbered()
        }
    }

    /// A reply whose id is filled in by the caller: for what replaces an earlier one.
    pub(crate) fn unnumbered(&self) -> Reply {
        Reply {
            team: self.view.team.key.clone(),
            channel: self.source.channel.clone(),
            answers: self.source.answers.clone(),
            to: Some(self.member.author.clone()),
            ..Reply::default()
        }
    }

    /// Says something in the channel.
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        let reply = Reply {
            text: text.into(),
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// Says something for the author's eyes only.
    pub(crate) fn tell(&mut self, text: impl Into<String>) {
        let reply = Reply {
            text: text.into(),
            private: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// The same with data for programs and with files.
    pub(crate) fn tell_with(
        &mut self,
        text: String,
        data: Option<Value>,
        files: impl IntoIterator<Item = File>,
    ) {
        let reply = Reply {
            text,
            private: true,
            data,
            files: files.into_iter().collect(),
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// Puts a sign on a message of the author's.
    pub(crate) fn mark(&mut self, message: &str, sign: Sign) {
        let team = self.view.team.key.clone();
        self.out.push(Outgoing::Mark(Mark {
            answers: message.to_owned(),
            team,
            sign,
        }));
    }

    // The log and the model.

    /// Puts new sets into the log and learns from them. `in_order` says that none of them lies
    /// before a set already filed; else everything is learned again from the whole log.
    pub(crate) fn add(&mut self, sets: &[LogEntry], in_order: bool) {
        let touched = parts::touched(sets);
        let learned = if in_order {
            let mut log = merged(&self.recent, sets, &[]);
            parts::mark(&mut log, &touched);
            let new: Vec<LogEntry> = log.into_iter().filter(is_new).collect();
            self.learn(&new)
        } else {
            let mut log = merged(&self.loaded.history, sets, &[]);
            let mut moved = renumber(&mut log, sets);
            let marked = parts::mark(&mut log, &touched);
            moved.extend(marked.into_iter().filter_map(|at| log[at].set.id));
            let learned = self.learn_again(&log, sets);
            self.revise_moved(&learned, &moved);
            learned.into_iter().filter(is_new).collect()
        };
        self.recent.extend(learned);
        self.recent.sort_by_key(|filed| filed.set.at);
        let changed = ramp::judge(&mut self.recent, |key| touched.contains(key), self.view);
        let changed = changed.into_iter().map(|place| &self.recent[place]);
        let judged: Vec<_> = changed
            .filter_map(|filed| Some((filed.set.id?, filed.judged)))
            .collect();
        if !judged.is_empty() {
            self.changes.push(Change::Judge(judged));
        }
        let is_of = |new: &LogEntry, filed: &LogEntry| {
            new.message == filed.message && new.place == filed.place && is_new(filed)
        };
        let filed = self.recent.iter();
        let filed = filed.filter(|filed| sets.iter().any(|new| is_of(new, filed)));
        let filed = filed.cloned().collect();
        self.changes.push(Change::Log(filed));
    }

    /// Stores the stored sets that stand elsewhere in their day than they did.
    fn revise_moved(&mut self, learned: &[LogEntry], moved: &[SetId]) {
        let is_moved = |filed: &&LogEntry| filed.set.id.is_some_and(|id| moved.contains(&id));
        let moved: Vec<LogEntry> = learned.iter().filter(is_moved).cloned().collect();
        if moved.is_empty() {
            return;
        }
        for filed in &mut self.recent {
            if let Some(moved) = moved.iter().find(|moved| moved.set.id == filed.set.id) {
                filed.clone_from(moved);
            }
        }
        self.changes.push(Change::Revise(moved));
    }

    /// Learns new sets, the latest of the log; the same with how much was left by judgement.
    fn learn(&mut self, sets: &[LogEntry]) -> Vec<LogEntry> {
        let lifter = self.view.lifter();
        let state = &mut self.member.state;
        let (model, all) = (&mut self.model, &mut state.bests);
        let mut learned: Vec<LogEntry> = Vec::with_capacity(sets.len());
        for (place, filed) in sets.iter().enumerate() {
            let new = (filed, place == 0);
            let noted = note_new(&mut state.cuts, new, model, all, self.view);
            if !noted.is_empty() {
                self.changes.push(Change::Checkpoints(noted));
            }
            learned.push(judged(filed, &model.learn_again(&filed.set, &lifter)));
            if let Some(best) = bests::take(all, filed, model, self.view) {
                self.noticed.push((filed.set.clone(), best));
            }
        }
        let mut touched: Vec<_> = sets.iter().map(|filed| filed.set.exercise).collect();
        touched.sort_unstable();
        touched.dedup();
        let encode = |id: ExerciseId| {
            let state = self.model.beliefs.get(&id).map(Belief::encode);
            (self.view.name_of(id).to_owned(), state)
        };
        self.changes
            .push(Change::Beliefs(touched.into_iter().map(encode).collect()));
        self.member.condition = Some(self.model.condition.encode());
        learned
    }

    /// Takes sets out of the log, gives others new content, puts new ones in, and learns again.
    pub(crate) fn rewrite(&mut self, removed: &[SetId], revised: &[LogEntry], added: &[LogEntry]) {
        if !removed.is_empty() {
            self.changes.push(Change::Remove(removed.to_vec()));
        }
        let log = self.loaded.history.iter();
        let out = log.filter(|filed| filed.set.id.is_some_and(|id| removed.contains(&id)));
        let out: Vec<_> = out.cloned().collect();
        self.hold_anew(&out, revised);
        let mut again: Vec<_> = revised.iter().filter_map(|filed| filed.set.id).collect();
        let gone = [removed, &again].concat();
        let new: Vec<_> = revised.iter().chain(added).cloned().collect();
        let mut log = merged(&self.loaded.history, &new, &gone);
        let touched = self.loaded.history.iter().filter(|filed| {
            let id = filed.set.id;
            id.is_some_and(|id| gone.contains(&id))
        });
        let touched: Vec<_> = touched.chain(&new).cloned().collect();
        let marked = parts::mark(&mut log, &parts::touched(&touched));
        again.extend(marked.into_iter().filter_map(|at| log[at].set.id));
        let gone = [removed, &again].concat();
        let learned = self.learn_again(&log, &touched);
        let is_revised = |filed: &&LogEntry| filed.set.id.is_some_and(|id| again.contains(&id));
        let revised: Vec<_> = learned.iter().filter(is_revised).cloned().collect();
        let added: Vec<_> = learned.iter().filter(|f| is_new(f)).cloned().collect();
        let new: Vec<_> = revised.iter().chain(&added).cloned().collect();
        self.recent = merged(&self.recent, &new, &gone);
        if !revised.is_empty() {
            self.changes.push(Change::Revise(revised));
        }
        if !added.is_empty() {
            self.changes.push(Change::Log(added));
        }
    }

    /// Learns everything again from the whole log, with the profile as it now is; the log with how
    /// much was left by judgement, which is stored where a set's was another.
    pub(crate) fn relearn(&mut self, log: &[LogEntry]) -> Vec<LogEntry> {
        self.learn_from(Start::blank(), log)
    }

    /// Learns again what follows the earliest of the sets that were `touched`, in a log in which they are
    /// as they now are; the log with how much was left by judgement, as above.
    fn learn_again(&mut self, log: &[LogEntry], touched: &[LogEntry]) -> Vec<LogEntry> {
        let exercises: Vec<ExerciseId> = touched.iter().map(|filed| filed.set.exercise).collect();
        let log = self.learn_touched(log, touched);
        let noticed = std::mem::take(&mut self.relearned);
        self.notice_anew(&exercises, &noticed);
        log
    }

    fn learn_touched(&mut self, log: &[LogEntry], touched: &[LogEntry]) -> Vec<LogEntry> {
        let Some(late) = &self.loaded.late else {
            return self.relearn(log);
        };
        let earliest = touched.iter().map(|filed| filed.set.at).min();
        let is_behind = touched.iter().all(|filed| filed.set.day >= late.from.day);
        let now = Model {
            condition: Condition::default(),
            beliefs: self.loaded.beliefs(self.view.catalogue()),
        };
        let now = (now, self.view.member.state.bests.clone());
        let start = earliest
            .filter(|_| is_behind)
            .and_then(|earliest| Start::before(earliest, late, now, self.view));
        match start {
            Some(start) => self.learn_from(start, log),
            None => {
                self.short = true;
                log.to_vec()
            }
        }
    }

    fn learn_from(&mut self, start: Start, log: &[LogEntry]) -> Vec<LogEntry> {
        let view = View {
            member: &self.member,
            ..self.view.clone()
        };
        let again = learn_from(start, log, &self.loaded.history, &view);
        self.model = again.model;
        if !again.judged.is_empty() {
            self.changes.push(Change::Judge(again.judged));
        }
        self.changes.push(Change::Beliefs(again.beliefs));
        self.changes.push(Change::Checkpoints(again.checkpoints));
        self.member.condition = again.condition;
        self.member.state.bests = again.bests;
        self.member.state.cuts = again.cuts;
        self.relearned = again.noticed;
        again.log
    }

    /// More of the log is needed than was loaded.
    pub(crate) fn is_short(&mut self) {
        self.short = true;
    }

    /// The sets that this event files, in order.
    pub(crate) fn filed_now(&self) -> impl Iterator<Item = &LogEntry> {
        self.changes.iter().flat_map(|change| match change {
            Change::Log(sets) => sets.as_slice(),
            _ => &[],
        })
    }

    /// The sets of the session that is on, as it becomes.
    pub(crate) fn session(&self) -> &[LogEntry] {
        session_before(&self.recent, self.view.now)
    }

    /// The exercise that the session is at, as it becomes.
    pub(crate) fn at_hand(&self) -> Option<ExerciseId> {
        self.session().last().map(|filed| filed.set.exercise)
    }

    /// This session's sets of an exercise, as it becomes.
    pub(crate) fn run(&self, exercise: ExerciseId) -> Vec<LoggedSet> {
        run_of(self.session(), exercise)
    }

    /// Seconds since the last set of an exercise in this session; 0 where there is none.
    pub(crate) fn elapsed_s(&self, run: &[LoggedSet]) -> u32 {
        let since = run
            .last()
            .map_or(Duration::zero(), |set| self.view.now - set.at);
        u32::try_from(since.num_seconds().max(0)).unwrap_or(u32::MAX)
    }

    // Advice.

    /// Hands `then` the question "what next for this exercise?" with all that bears on it.
    pub(crate) fn ask<T>(&self, exercise: ExerciseId, then: impl FnOnce(&Ask) -> T) -> T {
        self.ask_with(exercise, self.aim(exercise), then)
    }

    fn ask_with<T>(&self, exercise: ExerciseId, aim: Aim, then: impl FnOnce(&Ask) -> T) -> T {
        let run = self.run(exercise);
        let failing = self.failing();
        then(&Ask {
            exercise,
            aim,
            run: &run,
            model: &self.model,
            rack: &self.view.rack(),
            unit: self.view.unit(),
            lifter: &self.view.lifter(),
            now: self.view.now,
            failing: &failing,
        })
    }

    /// What next for this exercise.
    pub(crate) fn advise(&self, exercise: ExerciseId) -> Advice {
        if self.is_held(exercise) {
            return self.stopped(exercise);
        }
        let advice = self.ask(exercise, next_set);
        self.eased(self.opened(advice))
    }

    /// What next for this exercise, for so many repetitions in place of those planned or usual.
    pub(crate) fn advise_for(&self, exercise: ExerciseId, reps: u32, rir: Option<Rir>) -> Advice {
        if self.is_held(exercise) {
            return self.stopped(exercise);
        }
        let usual = self.aim(exercise);
        let aim = Aim {
            reps_low: reps.saturating_sub(1).max(1),
            reps_high: reps + 1,
            rir: rir.unwrap_or(usual.rir),
            // Planned, so that the lifter's own repetitions do not count for more.
            sets: usual.sets.or(Some(NEVER_DONE)),
            ..usual
        };
        self.eased(self.ask_with(exercise, aim, next_set))
    }

    /// The checks that fail, as they become.
    pub(crate) fn failing(&self) -> Vec<Check> {
        let words = &self.member.state.failing;
        Check::ALL
            .into_iter()
            .filter(|check| words.iter().any(|w| w == check.word()))
            .collect()
    }

    /// Shows advice on the exercise's running card: in place where it stands, else as a new reply.
    /// `more` is said below it.
    pub(crate) fn show(&mut self, advice: &Advice, more: &[String]) {
        self.foretell(advice);
        let exercise = self.view.catalogue().exercise(advice.exercise);
        self.member.state.advised_up =
            (advice.decision == Decision::AddLoad).then(|| exercise.name.clone());
        let content = self.card_content(advice, more);
        let card = self
            .view
            .card(&exercise.name, &self.source.channel)
            .cloned();
        if let Some(card) = card {
            self.out.push(Outgoing::Update(Reply {
                id: card.reply,
                ..content
            }));
        } else {
            let id = self.blank().id;
            self.keep_card(&exercise.name, &id);
            self.out.push(Outgoing::Reply(Reply { id, ..content }));
        }
    }

    /// What a card says: the advice, the sets of today, and `more` below.
    pub(crate) fn card_content(&self, advice: &Advice, more: &[String]) -> Reply {
        let exercise = self.view.catalogue().exercise(advice.exercise);
        let run = self.run(advice.exercise);
        let elapsed = self.elapsed_s(&run);
        let mut text = format!(
            "{}, {}: {}",
            text::shown_name(&self.member.name),
            exercise.name,
            text::advice_when(
                advice,
                elapsed,
                self.when_in_turn(advice.exercise).as_deref()
            )
        );
        if !run.is_empty() {
            let of = self.planned_sets(advice.exercise);
            text.push_str(&text::today(&run, of));
        }
        let untailored = self.not_tailored().filter(|_| advice.load.is_some());
        for line in more.iter().chain(&untailored) {
            text.push('\n');
            text.push_str(line);
        }
        let data = text::advice_data(advice, exercise, self.view.unit());
        let buttons = self.card_buttons(advice);
        Reply {
            text,
            buttons,
            advice: Some(data),
            ..self.unnumbered()
        }
    }

    fn keep_card(&mut self, exercise: &str, reply: &str) {
        let day = self.view.today();
        let cards = &mut self.member.state.cards;
        cards.retain(|_, card| card.day == day);
        let channel = self.source.channel.clone();
        cards.insert(
            exercise.to_owned(),
            Card {
                reply: reply.to_owned(),
                channel,
                day,
            },
        );
    }

    /// The four go-checks, "ready" and "undo"; nothing to check once it is over.
    pub(crate) fn card_buttons(&self, advice: &Advice) -> Vec<Button> {
        let (name, day) = (self.view.name_of(advice.exercise), self.view.today());
        let button = |button, label: &str| ButtonId::of_card(button, name, day).labelled(label);
        let undo = button(CardButton::Undo, "Undo");
        if matches!(advice.decision, Decision::Finish | Decision::Stop) {
            return vec![undo];
        }
        let mut buttons = vec![button(CardButton::Ready, "Ready")];
        let checks = Check::ALL.map(|check| {
            let label = text::check_button(check);
            button(CardButton::Failing(check), label)
        });
        buttons.extend(checks);
        buttons.push(undo);
        buttons
    }

    // The bell.

    /// Rings when this advice's rest is over, if there is something to go back to; `moved` times
    /// the bell was moved before.
    pub(crate) fn set_bell(&mut self, advice: &Advice, moved: u8) {
        let goes_on = matches!(
            advice.decision,
            Decision::SameLoad | Decision::DropLoad | Decision::AddLoad | Decision::Wait
        );
        let since = self.run(advice.exercise).last().map(|set| set.at);
        let due = since.map(|at| at + Duration::seconds(i64::from(advice.rest_s)));
        let due = due.filter(|&due| goes_on && due > self.view.now);
        let silent = self.member.profile.silent;
        self.bell = Some(due.filter(|_| !silent).map(|due| Bell {
            exercise: self.view.name_of(advice.exercise).to_owned(),
            channel: self.source.channel.clone(),
            due,
            moved,
            set: Some(self.view.now),
            ahead_ms: 0,
        }));
    }

    /// Rings in so many seconds, whatever was advised.
    pub(crate) fn ring_in(&mut self, seconds: u32) {
        let Some(exercise) = self.at_hand() else {
            self.say(text::NO_SET_YET);
            return;
        };
        self.cancel_bell();
        self.bell = Some(Some(Bell {
            exercise: self.view.name_of(exercise).to_owned(),
            channel: self.source.channel.clone(),
            due: self.view.now + Duration::seconds(i64::from(seconds)),
            moved: 0,
            set: Some(self.view.now),
            ahead_ms: 0,
        }));
        self.member.state.timer = Some(self.view.now);
        self.tell(text::bells::rings_in(seconds));
    }

    /// Moves the bell that waits, or takes it back for this set. A rest is counted from the set, or from when its bell was
    /// asked for.
    pub(crate) fn retime(&mut self, retimed: Retimed) {
        let Some(bell) = self.view.bell.cloned() else {
            return;
        };
        let now = self.view.now;
        let set = self.view.last().map(|last| last.set.at);
        let since = self.member.state.timer.max(set).unwrap_or(now);
        let after = |from: DateTime<Utc>, seconds| from + Duration::seconds(i64::from(seconds));
        let due = match retimed {
            Retimed::To(seconds) => after(since, seconds),
            Retimed::By(seconds) => after(bell.due, seconds),
            Retimed::Off => {
                self.cancel_bell();
                self.tell(text::bells::NOT_THIS_TIME);
                return;
            }
        };
        if due <= now {
            self.cancel_bell();
            self.tell(text::bells::OVER);
            return;
        }
        self.member.state.timer = Some(since);
        self.bell = Some(Some(Bell { due, ..bell }));
        let left = u32::try_from((due - now).num_seconds()).unwrap_or_default();
        self.tell(text::bells::rings_in(left));
    }

    /// No bell any more; one that rang is taken back.
    pub(crate) fn cancel_bell(&mut self) {
        self.bell = Some(None);
        if let Some(rung) = self.member.state.rung.take() {
            let reply = Reply {
                id: rung.reply,
                channel: rung.channel,
                ..self.unnumbered()
            };
            self.out.push(Outgoing::Update(reply));
        }
    }
}

/// More sets than a session has.
const NEVER_DONE: u32 = 100;

/// A log that was learned.
pub(crate) struct LearnedLog {
    pub(crate) model: Model,
    /// The log with how much was left by judgement.
    pub(crate) log: Vec<LogEntry>,
    /// Stored sets whose estimated reps left changed, with the new estimate.
    pub(crate) judged: Vec<(SetId, Option<f64>)>,
    /// Beliefs by exercise; `None` for one of which the log holds nothing any more.
    pub(crate) beliefs: Vec<(String, Option<Vec<u8>>)>,
    pub(crate) condition: Option<Vec<u8>>,
    pub(crate) bests: AllBests,
    /// Where it can be learned again from.
    pub(crate) cuts: Cuts,
    pub(crate) checkpoints: CheckpointChange,
    /// Sets that were a best when they were learned.
    pub(crate) noticed: Vec<(LoggedSet, Best)>,
}

/// Learns a whole log as the member of the view is; `before` is the log as it is stored.
pub(crate) fn learn_all(log: &[LogEntry], before: &[LogEntry], view: &View) -> LearnedLog {
    learn_from(Start::blank(), log, before, view)
}

/// Learns a log from somewhere on as the member of the view is; `before` is the log as it is stored.
fn learn_from(start: Start, log: &[LogEntry], before: &[LogEntry], view: &View) -> LearnedLog {
    let (known, log) = log.split_at(start.place(log));
    let before = before.get(start.place(before)..).unwrap_or_default();
    let notes = start.noting(log, view);
    learn_noting(start, notes, (known, log, before), view)
}

/// Learns a whole log that is stored so, with the checkpoints of these cuts.
pub(crate) fn learn_with(cuts: &Cuts, log: &[LogEntry], view: &View) -> LearnedLog {
    learn_noting(Start::blank(), Notes::at(cuts, log), (&[], log, log), view)
}

fn learn_noting(
    start: Start,
    mut notes: Notes,
    (known, log, before): (&[LogEntry], &[LogEntry], &[LogEntry]),
    view: &View,
) -> LearnedLog {
    let lifter = view.lifter();
    let is_blank = start.is_blank();
    let Start {
        mut model,
        mut bests,
        ..
    } = start;
    let mut learned: Vec<LogEntry> = Vec::with_capacity(known.len() + log.len());
    learned.extend_from_slice(known);
    let mut noticed = Vec::new();
    for (place, filed) in log.iter().enumerate() {
        notes.before((place, filed), &model, &bests, view);
        learned.push(judged(filed, &model.learn_again(&filed.set, &lifter)));
        if let Some(best) = bests::take(&mut bests, filed, &model, view) {
            noticed.push((filed.set.clone(), best));
        }
    }
    ramp::judge(learned.split_at_mut(known.len()).1, |_| true, view);
    let (cuts, checkpoints) = notes.done(&model);
    let otherwise = log.iter().zip(learned.iter().skip(known.len()));
    let otherwise = otherwise.filter(|(old, new)| old != new);
    let otherwise = otherwise.filter_map(|(_, new)| Some((new.set.id?, new.judged)));
    let otherwise = otherwise.collect();
    let mut beliefs: BTreeMap<String, Option<Vec<u8>>> = BTreeMap::new();
    for filed in before.iter().chain(log) {
        let id = filed.set.exercise;
        beliefs
            .entry(view.name_of(id).to_owned())
            .or_insert_with(|| model.beliefs.get(&id).map(Belief::encode));
    }
    LearnedLog {
        condition: (!is_blank || !log.is_empty()).then(|| model.condition.encode()),
        model,
        log: learned,
        judged: otherwise,
        bests,
        beliefs: beliefs.into_iter().collect(),
        cuts,
        checkpoints,
        noticed,
    }
}

/// No load because of pain.
pub(crate) const fn stop(exercise: ExerciseId) -> Advice {
    Advice {
        exercise,
        decision: Decision::Stop,
        load: None,
        rest_s: 0,
        expect: None,
        limits: Vec::new(),
        reason: Reason::Hurt,
    }
}

/// A log without some sets and with others, in order of time, then of filing.
pub(crate) fn merged(log: &[LogEntry], new: &[LogEntry], gone: &[SetId]) -> Vec<LogEntry> {
    let stays = |filed: &&LogEntry| filed.set.id.is_none_or(|id| !gone.contains(&id));
    let mut all: Vec<_> = log.iter().filter(stays).chain(new).cloned().collect();
    all.sort_by_key(|filed| (filed.set.at, filed.set.id.map_or(i64::MAX, |id| id.0)));
    all
}

/// Numbers the sets of the days that new ones came to, in the order of time, so that the numbers do
/// not depend on what arrived first; the stored ones that have another number now.
fn renumber(log: &mut [LogEntry], new: &[LogEntry]) -> Vec<SetId> {
    let mut last: BTreeMap<NaiveDate, u32> = new.iter().map(|filed| (filed.set.day, 0)).collect();
    let mut moved = Vec::new();
    for filed in log {
        let Some(order) = last.get_mut(&filed.set.day) else {
            continue;
        };
        *order += 1;
        if filed.order != *order {
            filed.order = *order;
            moved.extend(filed.set.id);
        }
    }
    moved
}

/// A set with how much was left by judgement, where the lifter did not say.
fn judged(filed: &LogEntry, learned: &Learned) -> LogEntry {
    let reserve = learned.reserve.filter(|_| filed.set.rated().is_none());
    LogEntry {
        judged: reserve.map(|reserve| reserve.mean),
        ..filed.clone()
    }
}

/// Whether a set is not stored yet.
const fn is_new(filed: &LogEntry) -> bool {
    filed.set.id.is_none()
}
