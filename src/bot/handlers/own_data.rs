//! What is kept of a member, handed out whole and erased whole.

use chrono::{DateTime, Duration, SecondsFormat, Utc};
use serde_json::{Value, json};

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{File, Outgoing, Reply};
use crate::bot::state::report::Report;
use crate::bot::state::{Change, ForgetAsked, LogEntry, Member};
use crate::bot::text;
use crate::bot::text::own_data as words;
use crate::domain::lifter::belief::Belief;
use crate::domain::log::LimitingFactor;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::mass::Mass;
use crate::message::forms::logbook::{self, Entry, When};

/// The question whether everything is to go stands for so long.
const FORGET_WITHIN: Duration = Duration::minutes(10);
/// Earlier answers that are taken back from a channel: one after the other, so more would hold up
/// everybody's.
const MOST_TAKEN_BACK: usize = 100;

impl Work<'_> {
    /// Hands out everything that is kept of the member, for their eyes only.
    pub(crate) fn export(&mut self) {
        let day = self.view.today();
        let history = &self.loaded.history;
        let entries: Vec<Entry> = history.iter().map(|filed| self.entry(filed)).collect();
        let file = |name: String, alt: String, content: Vec<u8>| File {
            name,
            alt,
            content: Some(content),
            ..File::default()
        };
        let whole = serde_json::to_string_pretty(&self.kept()).unwrap_or_default();
        let files = vec![
            file(
                format!("chalkbell-{day}.json"),
                words::WHOLE.to_owned(),
                whole.into_bytes(),
            ),
            file(
                format!("chalkbell-{day}.csv"),
                words::log_file(history.len()),
                logbook::print(&entries).into_bytes(),
            ),
        ];
        self.tell_with(words::exported(history.len()), None, files);
    }

    /// A set as a line of the log.
    fn entry(&self, filed: &LogEntry) -> Entry {
        let set = &filed.set;
        let zone = self.view.calendar.zone;
        Entry {
            line: 0,
            member: self.member.name.clone(),
            when: When::At(set.at.with_timezone(&zone).fixed_offset()),
            timed: set.timed,
            exercise: self.view.name_of(set.exercise).to_owned(),
            load: Some(set.load.mass.amount(set.load.unit)),
            unit: Some(set.load.unit),
            basis: Some(set.load.basis),
            reps: set.reps,
            per_side: set.per_side,
            left: set.rir,
            asked: set.asked,
            gave_out: set.gave_out,
            kind: set.kind,
            technique: filed.technique,
            rest_s: set.stated_rest_s,
        }
    }

    /// Everything, as one document.
    fn kept(&self) -> Value {
        let loaded = self.loaded;
        let sets: Vec<Value> = loaded.history.iter().map(|f| self.set_kept(f)).collect();
        let prescribed: Vec<Value> = loaded
            .ever
            .iter()
            .map(|version| json!({ "from": version.from, "what": version.content }))
            .collect();
        let messages: Vec<Value> = loaded
            .messages
            .iter()
            .map(|(id, posted)| {
                json!({ "id": id, "channel": posted.channel, "at": instant(posted.at) })
            })
            .collect();
        let learned: Vec<Value> = loaded
            .beliefs
            .iter()
            .map(|(name, state)| learned(name, state))
            .collect();
        let member = self.view.member;
        // What coaches keep for themselves is theirs; that there is something is said.
        let mut state = member.state.clone();
        state.notes.retain(|note| note.shared);
        let private_notes = member.state.notes.len() - state.notes.len();
        let own = self.view.team.settings.exercises.iter();
        let names: Vec<Value> = own
            .filter(|one| one.is_of(&member.author))
            .map(|one| json!({ "name": one.called, "exercise": one.is }))
            .collect();
        json!({
            "written_at": instant(self.view.now),
            "team": self.view.team.key,
            "author": member.author,
            "name": member.name,
            "coach": member.coach,
            "profile": member.profile,
            "open": state,
            "names_of_own": names,
            "notes_for_coaches_alone": private_notes,
            "bell": self.view.bell,
            "sets": sets,
            "prescribed": prescribed,
            "learned": learned,
            "condition": member.condition.as_deref().map(hexadecimal),
            "messages": messages,
        })
    }

    fn set_kept(&self, filed: &LogEntry) -> Value {
        let set = &filed.set;
        let said: Vec<Value> = set
            .said
            .iter()
            .map(|said| {
                json!({
                    "after_s": said.after_s,
                    "check": said.check.word(),
                    "ready": said.ready,
                })
            })
            .collect();
        json!({
            "at": instant(set.at),
            "timed": set.timed,
            "day": set.day,
            "order_in_day": filed.order,
            "exercise": self.view.name_of(set.exercise),
            "load": set.load.mass.amount(set.load.unit),
            "unit": set.load.unit.symbol(),
            "basis": set.load.basis.word(),
            "reps": set.reps,
            "per_side": set.per_side,
            "left": set.rir.map(Rir::reps),
            "asked_left": set.asked.map(Rir::reps),
            "judged_left": filed.judged,
            "gave_out": set.gave_out.map(LimitingFactor::word),
            "kind": set.kind.word(),
            "technique": filed.technique.map(crate::message::reading::Technique::word),
            "stated_rest_s": set.stated_rest_s,
            "said": said,
            "message": filed.message,
            "channel": filed.channel,
        })
    }

    /// Erases everything of the member; asks first.
    pub(crate) fn forget(&mut self, sure: bool) {
        let asked = self.member.state.forget.take();
        let fresh = |asked: &ForgetAsked| self.view.now - asked.at <= FORGET_WITHIN;
        match asked.filter(|asked| sure && fresh(asked)) {
            Some(asked) => {
                self.tell_of_open_reports(&asked.channel);
                self.forget_all();
            }
            None => self.ask_whether_to_forget(),
        }
    }

    /// Nobody shall take a warning sign for settled because it was erased.
    fn tell_of_open_reports(&mut self, channel: &str) {
        let open = self.member.state.hurt.iter().filter(|one| one.is_open());
        let open: Vec<bool> = open.map(Report::is_sign).collect();
        if open.is_empty() {
            return;
        }
        let text = text::hurt::erased_to_coach(&self.member.name, open.contains(&true));
        let before = self.out.len();
        self.tell_coaches(&text, &[]);
        for one in self.out.iter_mut().skip(before) {
            if let Outgoing::Reply(reply) = one {
                reply.channel = channel.to_owned();
                reply.unreached = None;
            }
        }
        self.tell(text::hurt::ERASED);
    }

    fn ask_whether_to_forget(&mut self) {
        let reply = Reply {
            text: words::FORGET.to_owned(),
            private: true,
            buttons: vec![
                ButtonId::ForgetAll.labelled(words::FORGET_BUTTON),
                ButtonId::Keep.labelled(words::KEEP_BUTTON),
            ],
            ..self.blank()
        };
        self.member.state.forget = Some(ForgetAsked {
            reply: reply.id.clone(),
            channel: reply.channel.clone(),
            at: self.view.now,
        });
        self.out.push(Outgoing::Reply(reply));
    }

    /// Nothing is erased after all.
    pub(crate) fn keep(&mut self) {
        self.member.state.forget = None;
        self.tell(words::NOT_FORGOTTEN);
    }

    fn forget_all(&mut self) {
        self.tell(words::FORGOTTEN);
        for (id, channel) in self.standing() {
            let reply = Reply {
                id,
                channel,
                answers: None,
                ..self.unnumbered()
            };
            self.out.push(Outgoing::Update(reply));
        }
        let author = &self.view.member.author;
        let others = self.loaded.members.iter();
        let others = others.filter(|member| member.id != self.view.member.id);
        let unsigned: Vec<Change> = others
            .filter_map(|member| without_signature(member, author))
            .map(|member| Change::Member(Box::new(member)))
            .collect();
        self.changes.extend(unsigned);
        if let Some(settings) = self.without_names() {
            self.changes.push(Change::Settings(settings));
        }
        self.erase();
    }

    /// What was said to the member for all to see and was not taken back since, the latest first.
    fn standing(&self) -> Vec<(String, String)> {
        let mut standing: Vec<(String, String)> = Vec::new();
        for answer in &self.loaded.answers {
            match answer {
                Outgoing::Update(reply) if reply.text.is_empty() => {
                    standing.retain(|(id, _)| *id != reply.id);
                }
                // Of a message that was edited or deleted, only the change is kept.
                Outgoing::Reply(reply) | Outgoing::Update(reply) if !reply.private => {
                    standing.retain(|(id, _)| *id != reply.id);
                    standing.push((reply.id.clone(), reply.channel.clone()));
                }
                _ => {}
            }
        }
        let rung = self.view.member.state.rung.iter();
        standing.extend(rung.map(|rung| (rung.reply.clone(), rung.channel.clone())));
        standing.reverse();
        standing.truncate(MOST_TAKEN_BACK);
        standing
    }
}

/// A member whose notes and reports no longer say that this one wrote them, and who holds nothing of their plans;
/// `None` where nothing is.
fn without_signature(member: &Member, author: &str) -> Option<Member> {
    let mut member = member.clone();
    let mut signed = false;
    for note in member
        .state
        .notes
        .iter_mut()
        .filter(|note| note.by == author)
    {
        note.by.clear();
        signed = true;
    }
    for report in &mut member.state.hurt {
        if report.by.as_ref().is_some_and(|by| by.author == author) {
            report.by = None;
            report.words.clear();
            signed = true;
        }
    }
    // What a coach may take back or press names whom it is of.
    let state = &mut member.state;
    if let Some(before) = &mut state.plans_before {
        let count = before.plans.len();
        before.plans.retain(|(of, _)| of != author);
        signed |= before.plans.len() < count;
    }
    let names = |command: &String| command.split_whitespace().any(|word| word == author);
    let count = state.offered.len();
    state
        .offered
        .retain(|offered| !offered.commands.iter().any(names));
    signed |= state.offered.len() < count;
    signed.then_some(member)
}

/// What the belief says of an exercise, and the belief as it is stored.
fn learned(exercise: &str, state: &[u8]) -> Value {
    let belief = Belief::decode(state);
    let strength = belief.as_ref().map(Belief::one_rm);
    json!({
        "exercise": exercise,
        "sets": belief.as_ref().map(Belief::sets),
        "one_rm_kg": strength.and_then(|(kg, _)| Mass::from_kg(kg).ok()).map(Mass::in_kg),
        "one_rm_spread": strength.map(|(_, spread)| spread),
        "stored": hexadecimal(state),
    })
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn instant(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Millis, true)
}
