//! Correcting sets of the last week that a message points at.

use chrono::{Days, NaiveDate};

use super::log_sets::{likelier_part, number_of, revised};
use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply, Sign};
use crate::bot::state::undone::Deed;
use crate::bot::state::{Amending, LogEntry, MOST_SET_NOTES, is_work};
use crate::bot::text;
use crate::domain::log::SetKind;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, SetId};
use crate::message::intent::amend::{Amend, Amended, Name, Pick, Position, amend_in};
use crate::message::reading::Part;
use text::amend as said;

/// So far back sets are corrected in passing, days. What is older is settled: common practice, no
/// source.
const DAYS_BACK: u64 = 7;

/// Most sets that one question offers.
const MOST_OFFERED: usize = 4;

/// A correction in words that takes sets out.
const DELETES: &str = "delete the first one";

/// Which sets are meant.
enum Picked {
    /// These.
    Sets(Vec<LogEntry>),
    /// One of these, or all.
    Ask(Vec<LogEntry>),
    /// None, with why.
    None(String),
}

impl Work<'_> {
    /// Carries out a correction that points at its sets; asks which where that is open.
    pub(crate) fn amend(&mut self, amend: &Amend, text: &str) {
        match self.picked(amend) {
            Picked::Sets(sets) => self.amend_sets(&amend.change, &sets),
            Picked::Ask(sets) => self.ask_which_sets(text, &sets),
            Picked::None(why) => self.tell(why),
        }
    }

    /// Corrects these sets.
    pub(crate) fn correct_sets(&mut self, sets: &[SetId], change: &Amended) {
        let log = self.loaded.history.iter();
        let meant = log.filter(|filed| filed.set.id.is_some_and(|id| sets.contains(&id)));
        let meant: Vec<LogEntry> = meant.cloned().collect();
        self.amend_sets(change, &meant);
    }

    /// The answer to the question which sets are meant.
    pub(crate) fn amend_picked(&mut self, place: usize) {
        let Some(asked) = self.member.state.amending.take() else {
            return;
        };
        let choice = asked.choices.get(place).cloned().unwrap_or_default();
        let meant = amend_in(&asked.text, self.view.reader);
        let log = self.loaded.history.iter();
        let sets = log.filter(|filed| filed.set.id.is_some_and(|id| choice.contains(&id.0)));
        let sets: Vec<LogEntry> = sets.cloned().collect();
        self.out.push(Outgoing::Update(Reply {
            id: asked.reply,
            channel: asked.channel,
            ..self.unnumbered()
        }));
        if choice.is_empty() && place < asked.choices.len() {
            return;
        }
        match meant.filter(|_| !sets.is_empty()) {
            Some(meant) => self.amend_sets(&meant.change, &sets),
            None => self.tell(text::NOTHING_TO_CORRECT),
        }
    }

    /// The sets of the last week, in order.
    fn of_last_week(&self) -> Vec<LogEntry> {
        let today = self.view.today();
        let from = today.checked_sub_days(Days::new(DAYS_BACK));
        let log = self.loaded.history.iter();
        let recent = log.filter(|filed| from.is_none_or(|from| filed.set.day >= from));
        recent.cloned().collect()
    }

    /// The sets of the last post that held some, or of the whole session.
    fn posted_last(&self, whole_session: bool) -> Vec<LogEntry> {
        let session = self.view.session();
        let message = session.last().map(|last| last.message.as_str());
        let of_it = |filed: &&LogEntry| whole_session || message == Some(filed.message.as_str());
        session.iter().filter(of_it).cloned().collect()
    }

    fn picked(&self, amend: &Amend) -> Picked {
        let pick = &amend.pick;
        if matches!(amend.change, Amended::Day(_)) {
            return Picked::Sets(self.posted_last(pick.several));
        }
        let log = self.of_last_week();
        if log.is_empty() {
            return Picked::None(text::NOTHING_TO_CORRECT.to_owned());
        }
        if *pick == Pick::default() {
            return Picked::Sets(last_post(&log));
        }
        let day = match self.day_of(pick) {
            Ok(day) => day,
            Err(why) => return Picked::None(why),
        };
        let of_day = |filed: &&LogEntry| day.is_none_or(|day| filed.set.day == day);
        let there: Vec<LogEntry> = log.iter().filter(of_day).cloned().collect();
        let Some(latest) = there.iter().max_by_key(|filed| filed.set.id) else {
            let day = day.map(text::day);
            return Picked::None(said::nothing_then(day.as_deref()));
        };
        let exercise = match &pick.name {
            Some(name) => match self.meant_by(name, &there) {
                Ok(exercise) => exercise,
                Err(why) => return Picked::None(why),
            },
            None => latest.set.exercise,
        };
        let day = there
            .iter()
            .rev()
            .find(|filed| filed.set.exercise == exercise)
            .map(|filed| filed.set.day);
        let is_meant =
            |filed: &&LogEntry| filed.set.exercise == exercise && Some(filed.set.day) == day;
        let run: Vec<LogEntry> = there.iter().filter(is_meant).cloned().collect();
        // `tuesday's second set`: of a day with several exercises it may be of any.
        let of_others = there
            .iter()
            .any(|filed| Some(filed.set.day) == day && filed.set.exercise != exercise);
        if pick.name.is_none()
            && pick.day.is_some()
            && of_others
            && let Some(place) = pick.place
        {
            return self.of_any_exercise(place, &there);
        }
        of_run(run, amend)
    }

    /// The sets at this place of each exercise of a day.
    fn of_any_exercise(&self, place: Position, there: &[LogEntry]) -> Picked {
        let mut exercises: Vec<ExerciseId> = Vec::new();
        for filed in there {
            if !exercises.contains(&filed.set.exercise) {
                exercises.push(filed.set.exercise);
            }
        }
        let placed = exercises.into_iter().filter_map(|exercise| {
            let work = there
                .iter()
                .filter(|filed| filed.set.exercise == exercise && is_work(filed));
            let work: Vec<LogEntry> = work.cloned().collect();
            at_place(&work, place)?.first().cloned()
        });
        let placed: Vec<LogEntry> = placed.collect();
        match placed.len() {
            0 => Picked::None(said::no_such_set(place, there.len())),
            1 => Picked::Sets(placed),
            _ => Picked::Ask(placed),
        }
    }

    fn day_of(&self, pick: &Pick) -> Result<Option<NaiveDate>, String> {
        let today = self.view.today();
        let Some(asked) = pick.day else {
            return Ok(None);
        };
        let Some(day) = asked.day(today) else {
            return Err(said::WHICH_DAY.to_owned());
        };
        let from = today.checked_sub_days(Days::new(DAYS_BACK));
        match from.is_none_or(|from| day >= from) && day <= today {
            true => Ok(Some(day)),
            false => Err(said::TOO_LONG_AGO.to_owned()),
        }
    }

    /// The exercise that a name means among those that were done.
    fn meant_by(&self, name: &Name, there: &[LogEntry]) -> Result<ExerciseId, String> {
        let done = |exercise: ExerciseId| there.iter().any(|f| f.set.exercise == exercise);
        if done(name.exercise) {
            return Ok(name.exercise);
        }
        let singular = name.words.strip_suffix('s').unwrap_or(&name.words);
        let mut alike: Vec<ExerciseId> = Vec::new();
        for filed in there.iter().rev() {
            let exercise = self.view.catalogue().exercise(filed.set.exercise);
            let names = std::iter::once(&exercise.name).chain(&exercise.aliases);
            let fits = names.into_iter().any(|known| {
                known
                    .split(' ')
                    .any(|word| word == singular || word == name.words)
                    || known.contains(singular) && singular.contains(' ')
            });
            if fits && !alike.contains(&filed.set.exercise) {
                alike.push(filed.set.exercise);
            }
        }
        match alike.as_slice() {
            [one] => Ok(*one),
            [] => Err(said::none_of(self.view.name_of(name.exercise))),
            [one, other, ..] => Err(said::which_of(
                &name.words,
                self.view.name_of(*one),
                self.view.name_of(*other),
            )),
        }
    }

    fn ask_which_sets(&mut self, text: &str, sets: &[LogEntry]) {
        let offered = &sets[..sets.len().min(MOST_OFFERED)];
        let id = |filed: &LogEntry| filed.set.id.map(|id| id.0);
        let mut choices: Vec<Vec<i64>> = offered
            .iter()
            .map(|filed| id(filed).into_iter().collect())
            .collect();
        let one_exercise = sets
            .windows(2)
            .all(|pair| pair[0].set.exercise == pair[1].set.exercise);
        let mut buttons = Vec::new();
        for (place, filed) in offered.iter().enumerate() {
            let set = text::set(&filed.set);
            let label = match one_exercise {
                true => format!("{}. {set}", place + 1),
                false => format!("{} {set}", self.view.name_of(filed.set.exercise)),
            };
            buttons.push(ButtonId::Pick(place).labelled(label));
        }
        if one_exercise {
            choices.push(sets.iter().filter_map(id).collect());
            let label = said::all_of_them(sets.len());
            buttons.push(ButtonId::Pick(offered.len()).labelled(label));
        }
        let first = sets.first();
        let name = first.map_or("", |filed| self.view.name_of(filed.set.exercise));
        let reply = Reply {
            text: said::which_set(one_exercise.then_some(name)),
            buttons,
            ..self.blank()
        };
        self.member.state.amending = Some(Amending {
            reply: reply.id.clone(),
            channel: reply.channel.clone(),
            at: self.view.now,
            text: text.to_owned(),
            choices,
        });
        self.out.push(Outgoing::Reply(reply));
    }

    /// Asks whether all sets of today are to be taken out.
    pub(crate) fn ask_to_wipe(&mut self) {
        let today = self.view.today();
        let log = self
            .loaded
            .history
            .iter()
            .filter(|filed| filed.set.day == today);
        let all: Vec<i64> = log
            .filter_map(|filed| filed.set.id.map(|id| id.0))
            .collect();
        let reply = Reply {
            text: said::wipe(all.len()),
            buttons: vec![
                ButtonId::Pick(0).labelled(said::WIPE),
                ButtonId::Pick(1).labelled(said::KEEP),
            ],
            ..self.blank()
        };
        self.member.state.amending = Some(Amending {
            reply: reply.id.clone(),
            channel: reply.channel.clone(),
            at: self.view.now,
            text: DELETES.to_owned(),
            choices: vec![all, Vec::new()],
        });
        self.out.push(Outgoing::Reply(reply));
    }

    fn amend_sets(&mut self, change: &Amended, sets: &[LogEntry]) {
        let Some(first) = sets.first() else {
            self.tell(text::NOTHING_TO_CORRECT);
            return;
        };
        match change {
            Amended::Delete => self.delete_sets(sets),
            Amended::Day(asked) => {
                let today = self.view.today();
                match asked.day(today).filter(|day| *day <= today) {
                    Some(day) => self.put_right(sets, self.moved(sets, day)),
                    None => self.tell(text::NO_SUCH_DAY),
                }
            }
            Amended::Note(note) => self.note_on(sets, note),
            Amended::WarmUp(is) => {
                let kind = |filed: &LogEntry| match (is, filed.technique) {
                    (true, _) => SetKind::WarmUp,
                    (false, _) => SetKind::Straight,
                };
                let new = sets.iter().map(|filed| {
                    let mut new = filed.clone();
                    new.set.kind = kind(filed);
                    new
                });
                self.put_right(sets, new.collect());
            }
            Amended::Set(load, reps, rir) => {
                let new = sets.iter().map(|filed| {
                    let mut new = filed.clone();
                    (new.set.load, new.set.reps) = (*load, *reps);
                    new.set.rir = rir.or(filed.set.rir);
                    new
                });
                self.put_right(sets, new.collect());
            }
            Amended::Left(left) if left.len() == sets.len() => {
                let rated = |(filed, rir): (&LogEntry, &Rir)| {
                    let mut new = filed.clone();
                    new.set.rir = Some(*rir);
                    new
                };
                self.put_right(sets, sets.iter().zip(left).map(rated).collect());
            }
            Amended::Left(_) => self.tell(text::NOTHING_TO_CORRECT),
            Amended::Unit(unit) => {
                let in_unit = |filed: &LogEntry| {
                    let amount = filed.set.load.mass.amount(filed.set.load.unit);
                    revised(filed, Part::Load, Some(*unit), amount)
                };
                match sets.iter().map(in_unit).collect::<Option<Vec<_>>>() {
                    Some(new) => self.put_right(sets, new),
                    None => self.tell(text::NOTHING_TO_CORRECT),
                }
            }
            Amended::Exercise(exercise) => {
                let new = sets.iter().map(|filed| self.of_exercise(filed, *exercise));
                match new.collect::<Option<Vec<_>>>() {
                    Some(new) => self.put_right(sets, new),
                    None => {
                        let text = said::needs_load(self.view.name_of(*exercise));
                        self.tell(text);
                    }
                }
            }
            Amended::Number {
                part,
                unit,
                now,
                was: _,
            } => {
                let part = part.unwrap_or_else(|| likelier_part(first, *unit, *now));
                let new = sets.iter().map(|filed| revised(filed, part, *unit, *now));
                match new.collect::<Option<Vec<_>>>() {
                    Some(new) => self.put_right(sets, new),
                    None => self.tell(text::unlikely_correction(*now)),
                }
            }
        }
    }

    /// Sets as those of another day, at the same time of the day.
    fn moved(&self, sets: &[LogEntry], day: NaiveDate) -> Vec<LogEntry> {
        let mut order = self.order_on(day);
        let moved = sets.iter().map(|filed| {
            let mut new = filed.clone();
            new.set.at += day - filed.set.day;
            (new.set.day, new.set.timed) = (day, false);
            order += 1;
            new.order = order;
            new
        });
        moved.collect()
    }

    /// A set as one of another exercise; `None` where its load means nothing there.
    pub(crate) fn of_exercise(&self, filed: &LogEntry, exercise: ExerciseId) -> Option<LogEntry> {
        let catalogue = self.view.catalogue();
        let usual = |exercise: ExerciseId| catalogue.exercise(exercise).basis;
        let mut new = filed.clone();
        new.set.exercise = exercise;
        let load = &mut new.set.load;
        let (was, is) = (usual(filed.set.exercise), usual(exercise));
        load.basis = match (load.basis, is) {
            (Basis::Body, Basis::Body) => Basis::Body,
            // The body alone is no load of a bar.
            (Basis::Body, _) => return None,
            (Basis::Added | Basis::Assisted, Basis::Body) => load.basis,
            (_, Basis::Body) => Basis::Added,
            (Basis::Added | Basis::Assisted, is) => is,
            (basis, is) if basis == was => is,
            (basis, _) => basis,
        };
        Some(new)
    }

    /// Puts new content in the place of sets, unless it cannot be meant, and says so.
    pub(crate) fn put_right(&mut self, old: &[LogEntry], new: Vec<LogEntry>) {
        if new.as_slice() == old {
            let text = said::as_it_stands(&text::sets(old, self.view.catalogue()));
            self.tell(text);
            return;
        }
        if let Some(doubt) = self.first_doubt(&new) {
            let odd = new.get(doubt.place).map(|filed| text::set(&filed.set));
            self.tell(said::does_not_look_right(&odd.unwrap_or_default()));
            return;
        }
        // An effort that is added corrects nothing.
        let added = |(old, new): (&LogEntry, &LogEntry)| {
            let mut rated = old.clone();
            rated.set.rir = new.set.rir;
            old.set.rir.is_none() && rated == *new
        };
        if !old.iter().zip(&new).all(added) {
            self.keep_undone(old, Deed::Corrected);
        }
        self.rewrite(&[], &new, &[]);
        self.mark_all(&new, Sign::Corrected);
        let line = said::corrected(&new, self.view);
        let moved = old.iter().zip(&new);
        let left = moved
            .filter(|(old, new)| {
                let of = |filed: &LogEntry| (filed.set.exercise, filed.set.day);
                of(old) != of(new)
            })
            .map(|(old, _)| old.clone());
        let left: Vec<LogEntry> = left.collect();
        self.renew_cards(&left);
        self.renew_old_cards(&new, true);
        self.after_change(&new, line);
    }

    fn delete_sets(&mut self, sets: &[LogEntry]) {
        self.keep_undone(sets, Deed::Removed);
        let ids: Vec<SetId> = sets.iter().filter_map(|filed| filed.set.id).collect();
        self.rewrite(&ids, &[], &[]);
        for id in &ids {
            self.member.state.set_notes.remove(&id.0);
        }
        let mut messages: Vec<String> = sets.iter().map(|filed| filed.message.clone()).collect();
        messages.dedup();
        for message in messages {
            let in_message = |filed: &&LogEntry| filed.message == message;
            let all = self.loaded.history.iter().filter(in_message).count();
            let gone = sets.iter().filter(in_message).count();
            let sign = match all == gone {
                true => Sign::Removed,
                false => Sign::Corrected,
            };
            self.mark(&message, sign);
        }
        self.renew_old_cards(sets, false);
        let line = said::deleted(sets, self.view);
        self.after_change(sets, line);
    }

    fn note_on(&mut self, sets: &[LogEntry], note: &str) {
        let Some(filed) = sets.last() else { return };
        let Some(id) = filed.set.id else { return };
        let notes = &mut self.member.state.set_notes;
        notes.insert(id.0, note.to_owned());
        while notes.len() > MOST_SET_NOTES {
            notes.pop_first();
        }
        let set = format!(
            "{} {}",
            self.view.name_of(filed.set.exercise),
            text::set(&filed.set)
        );
        self.tell(said::noted(&set));
    }

    /// Shows today's cards of exercises that sets were taken from, or takes back one that is empty.
    fn renew_cards(&mut self, left: &[LogEntry]) {
        let today = self.view.today();
        let mut exercises: Vec<ExerciseId> = left
            .iter()
            .filter(|filed| filed.set.day == today)
            .map(|filed| filed.set.exercise)
            .collect();
        exercises.dedup();
        for exercise in exercises {
            let name = self.view.name_of(exercise).to_owned();
            let Some(card) = self.view.card(&name, &self.source.channel).cloned() else {
                continue;
            };
            if self.run(exercise).is_empty() {
                self.member.state.cards.remove(&name);
                self.out.push(Outgoing::Update(Reply {
                    id: card.reply,
                    channel: card.channel,
                    ..self.unnumbered()
                }));
            } else {
                let advice = self.advise(exercise);
                self.show(&advice, &[]);
            }
        }
    }

    /// Cards of earlier days that still stand say what is logged of that day now: these sets stand
    /// as they are, or are gone.
    fn renew_old_cards(&mut self, changed: &[LogEntry], stay: bool) {
        let today = self.view.today();
        let mut shown: Vec<ExerciseId> = Vec::new();
        for filed in changed.iter().filter(|filed| filed.set.day != today) {
            let exercise = filed.set.exercise;
            let name = self.view.name_of(exercise);
            let card = self.member.state.cards.get(name);
            let card = card.filter(|card| card.day == filed.set.day).cloned();
            let Some(card) = card.filter(|_| !shown.contains(&exercise)) else {
                continue;
            };
            shown.push(exercise);
            let is_changed = |one: &LogEntry| changed.iter().any(|new| new.set.id == one.set.id);
            let log = self.loaded.history.iter().filter(|one| !is_changed(one));
            let new = changed.iter().filter(|_| stay);
            let of_card = |one: &&LogEntry| one.set.exercise == exercise && one.set.day == card.day;
            let mut sets: Vec<_> = log.chain(new).filter(of_card).cloned().collect();
            sets.sort_by_key(|filed| (filed.set.at, filed.set.id));
            let text = said::old_card(&self.member.name, name, card.day, &sets);
            self.out.push(Outgoing::Update(Reply {
                id: card.reply,
                channel: card.channel,
                text,
                ..self.unnumbered()
            }));
        }
    }
}

/// The sets of the message filed last.
fn last_post(log: &[LogEntry]) -> Vec<LogEntry> {
    let last = log.iter().max_by_key(|filed| filed.set.id);
    let message = last.map(|filed| filed.message.clone());
    let of_it = log
        .iter()
        .filter(|filed| Some(&filed.message) == message.as_ref());
    of_it.cloned().collect()
}

/// The sets at a place of a run.
fn at_place(work: &[LogEntry], place: Position) -> Option<Vec<LogEntry>> {
    let found = match place {
        Position::Number(number) => work.get(number.checked_sub(1)?..number)?,
        Position::Last => work.get(work.len().checked_sub(1)?..)?,
        Position::First(count) => work.get(..count)?,
        Position::LastOf(count) => work.get(work.len().checked_sub(count)?..)?,
    };
    Some(found.to_vec())
}

/// The sets of one exercise on one day that are meant.
fn of_run(run: Vec<LogEntry>, amend: &Amend) -> Picked {
    let pick = &amend.pick;
    let wants_all = matches!(amend.change, Amended::Delete) && pick.place.is_none();
    let work: Vec<LogEntry> = match amend.change {
        Amended::WarmUp(false) => run.clone(),
        _ => run.iter().filter(|filed| is_work(filed)).cloned().collect(),
    };
    if let Some(place) = pick.place {
        // `the first two were warm-ups` may be said when they are known as such already.
        let found = at_place(&work, place).or_else(|| at_place(&run, place));
        return match found {
            Some(sets) => Picked::Sets(sets),
            None => Picked::None(said::no_such_set(place, work.len())),
        };
    }
    if wants_all {
        return Picked::Sets(run);
    }
    let (part, unit, now, was) = match &amend.change {
        Amended::Number {
            part,
            unit,
            now,
            was,
        } => (*part, *unit, *now, *was),
        _ => return Picked::Sets(work),
    };
    if let Some(was) = was {
        let parts = part.map_or(vec![Part::Reps, Part::Load, Part::Rir], |part| vec![part]);
        let holds = |filed: &&LogEntry| {
            parts
                .iter()
                .any(|part| number_of(filed, *part, unit) == Some(was))
        };
        let found: Vec<LogEntry> = work.iter().filter(holds).cloned().collect();
        return match found.len() {
            0 => Picked::None(said::no_set_with(was)),
            1 => Picked::Sets(found),
            _ => Picked::Ask(found),
        };
    }
    let Some(first) = work.first() else {
        return Picked::None(text::NOTHING_TO_CORRECT.to_owned());
    };
    let part = part.unwrap_or_else(|| likelier_part(first, unit, now));
    match work.len() {
        1 => Picked::Sets(work),
        // `yesterday's squats were 95`, `all at rpe 8` say it of all of them.
        _ if pick.several && part != Part::Reps => Picked::Sets(work),
        _ => Picked::Ask(work),
    }
}
