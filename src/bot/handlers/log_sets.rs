//! Filing, correcting and taking back sets.

use chrono::{DateTime, Duration, NaiveDate, Utc};

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Button, Outgoing, Reply, Sign};
use crate::bot::state::report::TAKEN_BACK_WITHIN;
use crate::bot::state::undone::{Deed, MOST, Posted, SetData, Undone};
use crate::bot::state::{LogEntry, Named, NamedLoad, Pending, Remembered, is_work};
use crate::bot::text;
use crate::domain::lifter::guard::{self, Verdict};
use crate::domain::log::{LoggedSet, Said, SetKind};
use crate::domain::quantities::calendar;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, SetId};
use crate::domain::quantities::load::{HEAVIEST, Load};
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::intent::amend::Amend;
use crate::message::intent::light::light_time_beside;
use crate::message::reading::{
    About, Correction, Day, EndedBy, Part, Question, Reading, SetReading, Technique, WhatIf,
};

/// Where sets were posted.
pub(crate) struct Post<'a> {
    pub(crate) message: &'a str,
    pub(crate) channel: &'a str,
    pub(crate) at: DateTime<Utc>,
    pub(crate) text: &'a str,
    /// Answers given about it so far.
    pub(crate) answers: &'a [String],
}

/// What came of trying to file.
pub(crate) enum Filed {
    /// They are in the log; these exercises, in order, had work sets in this session.
    Yes(Vec<ExerciseId>),
    /// They were set on a day that is no past day; nothing was filed.
    NoSuchDay,
    /// One is unlikely; nothing was filed and the member was asked.
    Asked,
}

/// Seconds that a repetition takes, for counting back when earlier sets of a post ended.
/// Common practice, no source: two seconds down, one and a half up.
const SECONDS_PER_REP: i64 = 4;

/// Rest assumed between the sets of one post, seconds. Common practice, no source.
const ASSUMED_REST_S: i64 = 150;

impl Work<'_> {
    /// Files the sets of posts, in order, at once, or asks when a number is unlikely and `meant` does not vouch for it.
    /// What is asked about of one holds up no other.
    pub(crate) fn file_all(&mut self, posts: &[(&Post, &[SetReading])], meant: bool) -> Filed {
        let mut new: Vec<LogEntry> = Vec::new();
        let mut filed: Vec<&str> = Vec::new();
        let mut asked = false;
        for (post, sets) in posts {
            self.hear_light(post, sets);
            let Some(mut placed) = self.placed(post, sets) else {
                continue;
            };
            if !meant && let Some(doubt) = self.first_doubt(&placed) {
                self.ask_whether_meant(post, &placed[doubt.place], doubt);
                asked = true;
                continue;
            }
            self.take_what_was_said(post, &mut placed);
            for entry in &mut placed {
                entry.order += count_on(&new, entry.set.day);
            }
            new.extend(placed);
            filed.push(post.message);
        }
        if new.is_empty() {
            return if asked {
                Filed::Asked
            } else {
                Filed::NoSuchDay
            };
        }
        let latest = self.recent.last().map(|filed| filed.set.at);
        let in_order = self.loaded.history.is_empty()
            && new
                .first()
                .is_some_and(|first| latest.is_none_or(|at| at <= first.set.at));
        self.hold_against_foretold(&new);
        self.add(&new, in_order);
        for message in filed {
            self.mark(message, Sign::Filed);
        }
        Filed::Yes(self.live_exercises(&new))
    }

    /// Keeps the name of the exercise at hand: sets without a name that follow will be of it.
    pub(crate) fn note_name(&mut self, exercise: String) {
        self.member.state.named = Some(Named {
            exercise,
            at: self.view.now,
            load: None,
        });
    }

    /// Keeps the load announced for the next set, and says what to expect of it.
    pub(crate) fn load_to_come(&mut self, exercise: ExerciseId, load: Load) {
        self.note_name(self.view.name_of(exercise).to_owned());
        if let Some(named) = &mut self.member.state.named {
            named.load = Some(NamedLoad::of(load));
        }
        self.answer_question(&Question {
            about: About::Load,
            exercise: Some(exercise),
            muscles: Vec::new(),
            what_if: Some(WhatIf {
                load: Some(load),
                basis_named: true,
                ..WhatIf::default()
            }),
        });
    }

    /// Puts what was said of being ready since the last set beside the first set that follows.
    fn take_what_was_said(&mut self, post: &Post, new: &mut [LogEntry]) {
        let today = self.view.calendar.day_of(post.at);
        let Some(first) = new.first_mut().filter(|filed| filed.set.day == today) else {
            return;
        };
        let before = self.view.last().map(|last| last.set.at);
        let said = std::mem::take(&mut self.member.state.said);
        let (earlier, now): (Vec<_>, Vec<_>) = said.into_iter().partition(|s| s.at < post.at);
        self.member.state.said = now;
        let Some(before) = before else { return };
        let kept = earlier.iter().filter(|said| said.at >= before);
        first.set.said = kept
            .filter_map(|said| {
                Some(Said {
                    after_s: u32::try_from((said.at - before).num_seconds()).ok()?,
                    check: Check::ALL.into_iter().find(|c| c.word() == said.check)?,
                    ready: said.ready,
                })
            })
            .collect();
    }

    /// The exercises, in order, that have work sets in the session that is on.
    fn live_exercises(&self, sets: &[LogEntry]) -> Vec<ExerciseId> {
        let today = self.view.today();
        let mut exercises = Vec::new();
        for filed in sets
            .iter()
            .filter(|filed| is_work(filed) && filed.set.day == today)
            .filter(|filed| filed.set.kind != SetKind::Held)
        {
            if !exercises.contains(&filed.set.exercise) {
                exercises.push(filed.set.exercise);
            }
        }
        exercises
    }

    /// The sets with day, time and order; `None` when a day is not past.
    fn placed(&self, post: &Post, sets: &[SetReading]) -> Option<Vec<LogEntry>> {
        let today = self.view.calendar.day_of(post.at);
        let mut days = Vec::with_capacity(sets.len());
        for set in sets {
            days.push(day_of(set.day, today).filter(|day| *day <= today)?);
        }
        let times = self.times(post, sets, &days, today);
        let alone = sets.len() == 1;
        let mut placed: Vec<LogEntry> = Vec::with_capacity(sets.len());
        for (place, ((set, day), at)) in sets.iter().zip(days).zip(times).enumerate() {
            let filed = LogEntry {
                set: LoggedSet {
                    // Of one who comes back after pain easy sets are asked.
                    asked: self
                        .share_back(set.exercise)
                        .is_none()
                        .then(|| self.asked_of(set)),
                    ..logged(set, day, at, alone && day == today)
                },
                message: post.message.to_owned(),
                channel: post.channel.to_owned(),
                place: u32::try_from(place).unwrap_or(u32::MAX),
                order: self.order_on(day) + count_on(&placed, day) + 1,
                technique: set.technique,
                judged: None,
            };
            placed.push(filed);
        }
        Some(placed)
    }

    /// Keeps that the time is light, where a message says so beside sets of today.
    fn hear_light(&mut self, post: &Post, sets: &[SetReading]) {
        let today = self.view.today();
        if self.view.calendar.day_of(post.at) == today && sets.iter().all(|set| set.day.is_none()) {
            let start = self.view.calendar.week_start;
            if let Some((span, named)) = light_time_beside(post.text, today, start) {
                self.member.state.keep_light(span, named);
            }
        }
    }

    /// The effort that a set is to end at: as planned, or, where the day is light by the lifter's word, as easy as it
    /// is said to have been.
    fn asked_of(&self, set: &SetReading) -> Rir {
        let aim = self.aim(set.exercise);
        let said = set
            .rir
            .filter(|said| aim.light && *said > aim.rir && set.day.is_none());
        said.unwrap_or(aim.rir)
    }

    /// When each set ended: today's are counted back from the post, never before the last filed
    /// set; those of other days follow each other from noon.
    fn times(
        &self,
        post: &Post,
        sets: &[SetReading],
        days: &[NaiveDate],
        today: NaiveDate,
    ) -> Vec<DateTime<Utc>> {
        let floor = self
            .recent
            .iter()
            .filter(|filed| filed.message != post.message && filed.set.at <= post.at)
            .map(|filed| filed.set.at)
            .next_back();
        let mut times = vec![post.at; sets.len()];
        let mut at = post.at;
        for (place, set) in sets.iter().enumerate().rev() {
            if days[place] != today {
                let later =
                    i64::try_from(place).unwrap_or(0) + i64::from(self.order_on(days[place]));
                times[place] =
                    self.view.calendar.noon_of(days[place]) + Duration::minutes(4 * later);
                continue;
            }
            times[place] = floor.map_or(at, |floor| at.max(floor));
            let rest = set.rest_s.map_or(ASSUMED_REST_S, i64::from);
            at -= Duration::seconds(rest + SECONDS_PER_REP * i64::from(set.reps));
        }
        times
    }

    /// How many sets are filed on a day.
    pub(crate) fn order_on(&self, day: NaiveDate) -> u32 {
        let log = if self.loaded.history.is_empty() {
            &self.recent
        } else {
            &self.loaded.history
        };
        log.iter()
            .filter(|filed| filed.set.day == day)
            .map(|filed| filed.order)
            .max()
            .unwrap_or(0)
    }

    pub(crate) fn first_doubt(&self, sets: &[LogEntry]) -> Option<Doubt> {
        let counted = |(_, filed): &(usize, &LogEntry)| filed.set.kind != SetKind::Held;
        sets.iter()
            .enumerate()
            .filter(counted)
            .find_map(|(place, filed)| {
                let exercise = self.view.catalogue().exercise(filed.set.exercise);
                match guard::judge(
                    &filed.set,
                    exercise,
                    self.view.body_mass(),
                    self.model.known(&filed.set, &self.view.lifter()),
                ) {
                    Verdict::Plausible => None,
                    Verdict::AskLoad { likely } => Some(Doubt { place, likely }),
                    Verdict::AskReps => Some(Doubt {
                        place,
                        likely: None,
                    }),
                }
            })
    }

    fn ask_whether_meant(&mut self, post: &Post, filed: &LogEntry, doubt: Doubt) {
        let name = self.view.name_of(filed.set.exercise);
        let yes = format!("Yes, {}", text::set(&filed.set));
        let mut buttons = vec![ButtonId::Meant.labelled(yes)];
        if let Some(likely) = doubt.likely {
            let no = format!("No, {}", text::load(likely));
            buttons.push(ButtonId::Instead(doubt.place, likely.mass, likely.unit).labelled(no));
        }
        buttons.push(ButtonId::Drop.labelled("Leave it out"));
        let text = format!("{name} {}: is that right?", text::set(&filed.set));
        self.question(post, text, buttons, true);
    }

    /// Asks a question about a post, and keeps it open.
    pub(crate) fn question(
        &mut self,
        post: &Post,
        text: String,
        buttons: Vec<Button>,
        confirm: bool,
    ) {
        let reply = Reply {
            text,
            buttons,
            ..self.blank()
        };
        self.mark(post.message, Sign::Question);
        let pending = Pending {
            message: post.message.to_owned(),
            reply: reply.id.clone(),
            channel: post.channel.to_owned(),
            at: post.at,
            text: post.text.to_owned(),
            answers: post.answers.to_vec(),
            confirm,
        };
        self.out.push(Outgoing::Reply(reply));
        let open = &mut self.member.state.pending;
        open.push(pending);
        // A lifter who leaves more than this open will not come back to the oldest.
        while open.len() > 8 {
            open.remove(0);
        }
    }
}

pub(crate) struct Doubt {
    pub(crate) place: usize,
    likely: Option<Load>,
}

/// The past day that is meant; the future is sorted out by the caller.
fn day_of(day: Option<Day>, today: NaiveDate) -> Option<NaiveDate> {
    match day {
        None => Some(today),
        Some(Day::Ago(days)) => today.checked_sub_days(chrono::Days::new(u64::from(days))),
        Some(Day::Weekday(weekday)) => Some(calendar::most_recent(weekday, today)),
        Some(Day::Date(date)) => Some(date),
        Some(Day::Yearless { day, month, either }) => {
            let turned = calendar::most_recent_date(month, day, today).filter(|_| either);
            calendar::most_recent_date(day, month, today).max(turned)
        }
    }
}

fn logged(set: &SetReading, day: NaiveDate, at: DateTime<Utc>, timed: bool) -> LoggedSet {
    let kind = match (set.warm_up, set.straight) {
        _ if set.seconds.is_some() => SetKind::Held,
        (true, _) => SetKind::WarmUp,
        (false, true) => SetKind::Straight,
        (false, false) => SetKind::Other,
    };
    LoggedSet {
        id: None,
        exercise: set.exercise,
        load: set.load,
        reps: set.seconds.unwrap_or(set.reps),
        rir: set.rir,
        gave_out: set.gave_out,
        kind,
        slowed: set.technique.is_some_and(Technique::is_straight),
        per_side: set.per_side,
        at,
        timed,
        asked: None,
        said: Vec::new(),
        stated_rest_s: set.rest_s,
        day,
    }
}

fn count_on(sets: &[LogEntry], day: NaiveDate) -> u32 {
    u32::try_from(sets.iter().filter(|filed| filed.set.day == day).count()).unwrap_or(u32::MAX)
}

// Correcting.

impl Work<'_> {
    /// Carries out a spoken correction.
    pub(crate) fn correct(&mut self, correction: &Correction) {
        match correction {
            Correction::Undo => self.undo(),
            Correction::Change {
                part,
                unit,
                now,
                was,
            } => {
                self.change(*part, *unit, *now, *was);
            }
            Correction::Set(load, reps, rir) => {
                self.amend(&Amend::of_last(*load, *reps, *rir), "");
            }
        }
    }

    /// Takes the last post back: the sets of the message filed last, or the question last asked.
    pub(crate) fn undo(&mut self) {
        let last = self
            .loaded
            .history
            .iter()
            .max_by_key(|filed| filed.set.id)
            .cloned();
        let asked = self.member.state.pending.last().cloned();
        // A report told last is what is taken back, not the set it was told beside.
        let told = self.report_to_take_back();
        let told = told.map(|report| (report.number, report.at));
        if let Some((number, at)) = told
            && last.as_ref().is_none_or(|last| last.set.at <= at)
            && asked.as_ref().is_none_or(|asked| asked.at <= at)
        {
            match self.fresh_report {
                // Who tells of more pain in the same breath does not say that there was none.
                Some(_) => self.tell(text::hurt::NOT_UNDONE),
                None => self.take_back_report(number),
            }
            return;
        }
        // A correction made since the last set is what is taken back.
        let undone = self.member.state.undone.as_ref();
        if undone.is_some_and(|undone| {
            undone.deed == Deed::Corrected
                && self.view.now - undone.at <= TAKEN_BACK_WITHIN
                && last.as_ref().is_none_or(|last| last.set.at <= undone.at)
                && asked.as_ref().is_none_or(|asked| asked.at <= undone.at)
        }) {
            self.put_back();
            return;
        }
        match (last, asked) {
            (last, Some(asked)) if last.as_ref().is_none_or(|last| last.set.at < asked.at) => {
                self.member.state.pending.pop();
                self.mark(&asked.message, Sign::Removed);
                self.say(text::LEFT_OUT);
            }
            (Some(last), _) => self.take_back(&last.message),
            (None, _) => self.tell(text::NOTHING_TO_UNDO),
        }
    }

    /// Takes back what was posted last of the sets on a card: those of its exercise and day, and of
    /// no other, also where the message held others.
    pub(crate) fn undo_on_card(&mut self, exercise: ExerciseId, day: NaiveDate) {
        let log = self.loaded.history.iter();
        let on_card = log.filter(|filed| filed.set.exercise == exercise && filed.set.day == day);
        let on_card: Vec<LogEntry> = on_card.cloned().collect();
        if self
            .loaded
            .late
            .as_ref()
            .is_some_and(|late| day < late.from.day)
        {
            self.is_short();
        }
        let Some(last) = on_card.iter().max_by_key(|filed| filed.set.id) else {
            self.tell(text::nothing_left(self.view.name_of(exercise)));
            return;
        };
        let message = last.message.clone();
        let gone = on_card.into_iter().filter(|filed| filed.message == message);
        self.take_out(&message, &gone.collect::<Vec<_>>());
    }

    /// The sets that a message holds in the log, in order.
    fn filed_of(&self, message: &str) -> Vec<LogEntry> {
        let log = self.loaded.history.iter();
        log.filter(|filed| filed.message == message)
            .cloned()
            .collect()
    }

    /// Takes all sets of a message out and says so.
    pub(crate) fn take_back(&mut self, message: &str) {
        let gone = self.filed_of(message);
        if !gone.is_empty() {
            self.take_out(message, &gone);
        }
    }

    /// Takes these sets of a message out and says so.
    fn take_out(&mut self, message: &str, gone: &[LogEntry]) {
        self.keep_undone(gone, Deed::Removed);
        let ids: Vec<SetId> = gone.iter().filter_map(|filed| filed.set.id).collect();
        let whole = ids.len() == self.filed_of(message).len();
        self.rewrite(&ids, &[], &[]);
        let sign = match whole {
            true => Sign::Removed,
            false => Sign::Corrected,
        };
        self.mark(message, sign);
        let line = format!("Taken out: {}", text::sets(gone, self.view.catalogue()));
        self.after_change(gone, line);
    }

    /// Keeps sets as they are before something is done to them.
    pub(crate) fn keep_undone(&mut self, sets: &[LogEntry], deed: Deed) {
        let data = |filed: &LogEntry| {
            let posted = Posted {
                message: filed.message.clone(),
                channel: filed.channel.clone(),
                place: filed.place,
                order: filed.order,
                technique: filed.technique.map(|one| one.word().to_owned()),
            };
            SetData::of(&filed.set, posted, self.view.catalogue())
        };
        let kept = (1..=MOST).contains(&sets.len()).then(|| Undone {
            at: self.view.now,
            deed,
            sets: sets.iter().map(data).collect(),
        });
        self.member.state.undone = kept;
    }

    /// Takes back what the last correction, or undo, did.
    pub(crate) fn put_back(&mut self) {
        let undone = self.member.state.undone.take();
        let catalogue = self.view.catalogue();
        let entry = |data: &SetData| {
            let technique = data.posted.technique.as_deref();
            Some(LogEntry {
                set: data.set(catalogue)?,
                message: data.posted.message.clone(),
                channel: data.posted.channel.clone(),
                place: data.posted.place,
                order: data.posted.order,
                technique: technique.and_then(Technique::from_word),
                judged: None,
            })
        };
        let sets = undone.as_ref();
        let sets: Option<Vec<LogEntry>> =
            sets.and_then(|undone| undone.sets.iter().map(entry).collect());
        let (Some(Undone { deed, .. }), Some(mut sets)) = (undone, sets) else {
            self.tell(text::NOTHING_TO_CORRECT);
            return;
        };
        let line =
            |sets: &[LogEntry]| format!("Put back: {}", text::sets(sets, self.view.catalogue()));
        if deed == Deed::Removed {
            let line = line(&sets);
            self.rewrite(&[], &[], &sets);
            self.mark_all(&sets, Sign::Filed);
            self.after_change(&sets, line);
            return;
        }
        // Where it was posted tells a set: rows are numbered otherwise after a restart.
        let is_it = |old: &LogEntry, filed: &LogEntry| {
            (old.message.as_str(), old.place) == (filed.message.as_str(), filed.place)
        };
        let is_of = |filed: &LogEntry| sets.iter().any(|old| is_it(old, filed));
        let now: Vec<LogEntry> = self
            .loaded
            .history
            .iter()
            .filter(|filed| is_of(filed))
            .cloned()
            .collect();
        if now.len() != sets.len() {
            self.tell(text::NOTHING_TO_CORRECT);
            return;
        }
        for old in &mut sets {
            let row = now.iter().find(|filed| is_it(old, filed));
            old.set.id = row.and_then(|filed| filed.set.id);
        }
        let back = match deed {
            Deed::Corrected => Deed::Reverted,
            _ => Deed::Corrected,
        };
        let line = line(&sets);
        self.keep_undone(&now, back);
        self.rewrite(&[], &sets, &[]);
        self.mark_all(&sets, Sign::Corrected);
        self.after_change(&sets, line);
    }

    pub(crate) fn mark_all(&mut self, sets: &[LogEntry], sign: Sign) {
        let mut messages: Vec<&str> = sets.iter().map(|filed| filed.message.as_str()).collect();
        messages.dedup();
        for message in messages {
            self.mark(message, sign);
        }
    }

    /// Changes one number of a set posted before.
    fn change(&mut self, part: Option<Part>, unit: Option<Unit>, now: f64, was: Option<f64>) {
        let Some((filed, part)) = self.meant_set(part, unit, now, was) else {
            self.tell(text::NOTHING_TO_CORRECT);
            return;
        };
        let revised = revised(&filed, part, unit, now);
        let Some(revised) = revised.filter(|r| self.first_doubt(std::slice::from_ref(r)).is_none())
        else {
            self.tell(text::unlikely_correction(now));
            return;
        };
        self.keep_undone(std::slice::from_ref(&filed), Deed::Corrected);
        self.rewrite(&[], std::slice::from_ref(&revised), &[]);
        self.mark(&revised.message, Sign::Corrected);
        let line = format!(
            "Corrected: {}",
            text::sets(std::slice::from_ref(&revised), self.view.catalogue())
        );
        self.after_change(&[revised], line);
    }

    /// Notes what ended the session's last set, with a line on it; nothing where that is known, or
    /// there is no such set.
    pub(crate) fn end_last(&mut self, ended: EndedBy) -> Option<(LogEntry, String)> {
        let mut set = self.session().last().filter(|last| is_work(last))?.clone();
        let gave_out = match ended {
            EndedBy::Target => None,
            EndedBy::Other(what) => Some(what),
        };
        if set.set.gave_out == gave_out {
            return None;
        }
        set.set.gave_out = gave_out;
        self.rewrite(&[], std::slice::from_ref(&set), &[]);
        self.mark(&set.message, Sign::Corrected);
        let line = text::ended_by(gave_out, self.view.target_of(set.set.exercise));
        Some((set, line))
    }

    /// The set that a correction means, and the part: the latest set of the last session that has
    /// the old number, else the latest set.
    fn meant_set(
        &self,
        part: Option<Part>,
        unit: Option<Unit>,
        now: f64,
        was: Option<f64>,
    ) -> Option<(LogEntry, Part)> {
        let latest = self
            .loaded
            .history
            .iter()
            .max_by_key(|filed| filed.set.id)?;
        let parts = part.map_or_else(
            || vec![Part::Reps, Part::Load, Part::Rir],
            |part| vec![part],
        );
        let with_old_number = |was: f64| {
            let near = self
                .loaded
                .history
                .iter()
                .rev()
                .take_while(|f| f.set.day == latest.set.day);
            near.clone().find_map(|filed| {
                let holds = |part: &&Part| number_of(filed, **part, unit) == Some(was);
                parts.iter().find(holds).map(|&part| (filed.clone(), part))
            })
        };
        was.and_then(with_old_number).or_else(|| {
            let part = part.unwrap_or_else(|| likelier_part(latest, unit, now));
            Some((latest.clone(), part))
        })
    }

    /// An earlier message is gone: so is what it said.
    pub(crate) fn withdraw(&mut self, message: &str) {
        self.close_questions(message);
        self.take_back(message);
    }

    /// Takes back what was asked about a message.
    fn close_questions(&mut self, message: &str) {
        let open = std::mem::take(&mut self.member.state.pending);
        let (about, others) = open.into_iter().partition(|p| p.message == message);
        self.member.state.pending = others;
        let about: Vec<Pending> = about;
        for pending in &about {
            self.close_question(pending, "");
        }
    }

    /// What was asked about is no set; others of the same message may be logged.
    pub(crate) fn leave_out(&mut self, pending: &Pending) {
        if !self
            .view
            .recent
            .iter()
            .any(|filed| filed.message == pending.message)
        {
            self.mark(&pending.message, Sign::Removed);
            self.close_question(pending, text::LEFT_OUT);
        } else {
            self.close_question(pending, text::LEFT_OUT_OF_LIST);
        }
    }

    /// Puts `text` where a question stood, or takes the question back when it is empty.
    pub(crate) fn close_question(&mut self, pending: &Pending, text: &str) {
        let reply = Reply {
            id: pending.reply.clone(),
            channel: pending.channel.clone(),
            answers: Some(pending.message.clone()),
            text: text.to_owned(),
            ..self.unnumbered()
        };
        self.out.push(Outgoing::Update(reply));
    }

    /// Shows the card of the exercise anew after its log changed, with a line on the change.
    pub(crate) fn after_change(&mut self, changed: &[LogEntry], line: String) {
        self.cancel_bell();
        let today = self.view.today();
        // What is held for time has no card.
        let counted = |filed: &&LogEntry| filed.set.kind != SetKind::Held;
        let exercise = changed.last().filter(|filed| filed.set.day == today);
        let exercise = exercise.filter(counted);
        let exercise = exercise.map(|filed| filed.set.exercise);
        let still = exercise.filter(|&exercise| !self.run(exercise).is_empty());
        match still.or(exercise.filter(|&e| {
            self.view
                .card(self.view.name_of(e), &self.source.channel)
                .is_some()
        })) {
            Some(exercise) => {
                let advice = self.advise_in_turn(exercise);
                if still.is_some() {
                    self.set_bell_in_turn(&advice, 0);
                }
                self.show(&advice, &[line]);
            }
            None => self.say(line),
        }
    }

    /// An earlier message now reads differently.
    pub(crate) fn reread(
        &mut self,
        message: &str,
        posted: &Remembered,
        text: &str,
        reading: &Reading,
    ) {
        let old = self.filed_of(message);
        self.close_questions(message);
        let post = Post {
            message,
            channel: &posted.channel,
            at: posted.at,
            text,
            answers: &[],
        };
        if reading.sets.is_empty() {
            self.take_back(message);
            if let Some(unclear) = &reading.unclear {
                self.ask_about(&post, unclear);
            }
            return;
        }
        if let Some(unclear) = &reading.unclear {
            self.ask_about(&post, unclear);
        }
        if old.is_empty() {
            self.file_and_answer(&post, reading, false);
            return;
        }
        let Some(new) = self.placed(&post, &reading.sets) else {
            self.say(text::NO_SUCH_DAY);
            return;
        };
        if say_the_same(&old, &new) {
            return;
        }
        if let Some(doubt) = self.first_doubt(&new) {
            // What stood there is not what the member means any more, the new is not sure yet.
            self.take_back(message);
            self.ask_whether_meant(&post, &new[doubt.place], doubt);
            return;
        }
        self.replace(message, &old, new);
    }

    /// Puts the new sets of a message in the place of the old, ids and times kept where they match.
    fn replace(&mut self, message: &str, old: &[LogEntry], mut new: Vec<LogEntry>) {
        for (new, old) in new.iter_mut().zip(old) {
            new.set.id = old.set.id;
            new.order = old.order;
            new.set.asked = old.set.asked;
            new.set.said.clone_from(&old.set.said);
            if new.set.day == old.set.day && old.set.timed {
                new.set.at = old.set.at;
                new.set.timed = true;
            }
        }
        let kept = old.len().min(new.len());
        let removed: Vec<SetId> = old[kept..]
            .iter()
            .filter_map(|filed| filed.set.id)
            .collect();
        let (revised, added) = new.split_at(kept);
        let (revised, added) = (revised.to_vec(), added.to_vec());
        self.rewrite(&removed, &revised, &added);
        self.mark(message, Sign::Corrected);
        let line = format!("Corrected: {}", text::sets(&new, self.view.catalogue()));
        self.after_change(&new, line);
    }
}

/// Whether a message comes to what is filed of it already: the words around the sets were changed,
/// or a picture of the channel's own was put below.
fn say_the_same(old: &[LogEntry], new: &[LogEntry]) -> bool {
    let alike = |(old, new): (&LogEntry, &LogEntry)| {
        let (was, is) = (&old.set, &new.set);
        was.exercise == is.exercise
            && was.load == is.load
            && was.reps == is.reps
            && was.rir == is.rir
            && was.gave_out == is.gave_out
            && was.kind == is.kind
            && was.per_side == is.per_side
            && was.stated_rest_s == is.stated_rest_s
            && was.day == is.day
            && old.technique == new.technique
    };
    old.len() == new.len() && old.iter().zip(new).all(alike)
}

/// The number that a part of a set holds, in the unit named or the set's own.
pub(crate) fn number_of(filed: &LogEntry, part: Part, unit: Option<Unit>) -> Option<f64> {
    let set = &filed.set;
    match part {
        Part::Reps => Some(f64::from(set.reps)),
        // As shown: what the lifter sees is what the lifter corrects.
        Part::Load => set
            .load
            .mass
            .plain(unit.unwrap_or(set.load.unit))
            .parse()
            .ok(),
        Part::Rir => set.rir.map(|rir| rir.reps()),
    }
}

/// Which number of a set a new one most likely replaces: halves and units are loads, and else the
/// one that is nearer in proportion.
pub(crate) fn likelier_part(filed: &LogEntry, unit: Option<Unit>, now: f64) -> Part {
    let whole = (now - now.round()).abs() < 1e-9;
    if unit.is_some() || !whole {
        return Part::Load;
    }
    let off = |part: Part| {
        let old = number_of(filed, part, None).unwrap_or(0.0).max(1.0);
        (now.max(1.0) / old).ln().abs()
    };
    if off(Part::Reps) <= off(Part::Load) {
        Part::Reps
    } else {
        Part::Load
    }
}

/// A set with one number changed; `None` when the number cannot be one.
pub(crate) fn revised(
    filed: &LogEntry,
    part: Part,
    unit: Option<Unit>,
    now: f64,
) -> Option<LogEntry> {
    let mut revised = filed.clone();
    let set = &mut revised.set;
    match part {
        Part::Reps => {
            let whole = (1.0..=100.0).contains(&now) && (now - now.round()).abs() < 1e-9;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "1 to 100"
            )]
            let reps = whole.then_some(now as u32)?;
            set.reps = reps;
        }
        Part::Load => {
            let unit = unit.unwrap_or(set.load.unit);
            set.load.mass = Mass::new(now, unit)
                .ok()
                .filter(|&m| m > Mass::ZERO && m <= HEAVIEST)?;
            set.load.unit = unit;
            if set.load.basis == Basis::Body {
                set.load.basis = Basis::Added;
            }
        }
        Part::Rir => set.rir = Some(Rir::new(now).ok()?),
    }
    Some(revised)
}
