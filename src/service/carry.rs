//! One event inside a transaction: load, decide, store. What is asked about earlier messages and
//! replies is carried out in [`requests`], jobs in [`jobs`], logs from elsewhere in [`imports`].

mod imports;
mod jobs;
mod requests;
mod team;

pub(super) use imports::Import;
use team::{Digests, Portions};

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use crate::bot::event::{Event, Message};
use crate::bot::intent::{self, Intent};
use crate::bot::needs::TeamLoaded;
use crate::bot::needs::{Loaded, Needs, Source, TeamNeeds, Whose};
use crate::bot::needs_of;
use crate::bot::reply::Outgoing;
use crate::bot::state::cuts::Late;
use crate::bot::state::prescription::Version;
use crate::bot::state::view::{RECENT, View, names_of, with_own};
use crate::bot::state::{
    Bell, Change, DigestJob, DueJob, LogEntry, Member, OwnExercise, Remembered, Team, TeamSettings,
};
use crate::bot::{Outcome, decide};
use crate::domain::lifter::condition::Condition;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::MemberId;
use crate::message::Reader;
use crate::service::files::Files;
use crate::service::long::{Prepared, Progress};
use crate::service::{ServiceError, UseCase};
use crate::store::{Store, StoreError, Tx};

/// The use cases of [`crate::bot`], with a reader for what each team added to the catalogue: most
/// teams share the built-in one.
#[derive(Debug)]
pub struct Bot {
    built_in: Arc<Reader>,
    own: Mutex<HashMap<Vec<OwnExercise>, Readers>>,
    files: Files,
    digests: Digests,
}

impl UseCase for Bot {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        carry_out(tx, self, event, None).await
    }

    async fn is_long(&self, store: &Store, event: &Event) -> bool {
        if imports::is_import(event) {
            return true;
        }
        let large = team::is_of_large_team(store, event).await;
        // Where the store does not answer, that is told by what is asked of it next.
        large.unwrap_or(false)
    }

    async fn prepare(
        &self,
        store: &Store,
        event: &Event,
        before: Option<Prepared>,
        progress: &Progress,
    ) -> Result<Prepared, ServiceError> {
        match event {
            Event::Message(message) if imports::is_import(event) => {
                imports::prepare(self, store, message, before, progress).await
            }
            Event::Message(message) => Ok(Prepared {
                team: team::prepare(self, store, message).await?,
                ..Prepared::default()
            }),
            _ => Ok(Prepared::default()),
        }
    }

    async fn prepared(
        &self,
        tx: &mut Tx,
        event: &Event,
        prepared: &Prepared,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        let (Event::Message(message), Some(import)) = (event, &prepared.import) else {
            let of_team = prepared.team.as_ref();
            return carry_out(tx, self, event, of_team).await.map(Some);
        };
        imports::finish(tx, self, message, import).await
    }

    async fn let_go(&self, store: &Store, prepared: Prepared) -> Result<(), ServiceError> {
        match prepared.import {
            Some(import) => Ok(imports::let_go(store, import).await?),
            None => Ok(()),
        }
    }

    async fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        jobs::carry_out(tx, self, job, now).await
    }

    async fn given_up(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        Ok(jobs::give_up(tx, job, now).await?)
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        Ok(expect(tx, self, events).await?)
    }
}

/// The readers of a team with exercises of its own: under the empty name the one of everybody without
/// names of their own, under an author the one that knows theirs.
type Readers = BTreeMap<String, Arc<Reader>>;

/// Readers of teams with exercises of their own that are kept at hand.
const READERS_KEPT: usize = 64;

impl Bot {
    /// The bot over this built-in catalogue.
    #[must_use]
    pub fn new(catalogue: Arc<Catalogue>) -> Self {
        Self {
            built_in: Arc::new(Reader::new(catalogue)),
            own: Mutex::default(),
            files: Files::default(),
            digests: Digests::default(),
        }
    }

    /// The same, with the files of replies in this folder.
    #[must_use]
    pub fn with_files_in(mut self, folder: PathBuf) -> Self {
        self.files.own = folder;
        self
    }

    /// The same, where pictures are put into this folder: those of a member go when the member does.
    #[must_use]
    pub fn with_pictures_in(mut self, folder: Option<PathBuf>) -> Self {
        self.files.pictures = folder;
        self
    }

    /// The reader of a team without exercises of its own.
    #[must_use]
    pub fn reader(&self) -> &Reader {
        &self.built_in
    }

    /// The reader of a team, with its own exercises, and without the names of members' own.
    #[must_use]
    pub fn reader_of(&self, team: &Team) -> Arc<Reader> {
        self.reader_for(team, "")
    }

    /// The reader of one member of a team: it also knows the names of their own.
    #[must_use]
    pub fn reader_for(&self, team: &Team, author: &str) -> Arc<Reader> {
        let exercises = &team.settings.exercises;
        if exercises.is_empty() {
            return Arc::clone(&self.built_in);
        }
        let mut own = self.own.lock().unwrap_or_else(PoisonError::into_inner);
        let has_names = exercises.iter().any(|one| one.is_of(author));
        let whose = if has_names { author } else { "" };
        if let Some(reader) = own.get(exercises).and_then(|readers| readers.get(whose)) {
            return Arc::clone(reader);
        }
        if own.values().map(BTreeMap::len).sum::<usize>() >= READERS_KEPT {
            own.clear();
        }
        let reader = with_own(self.built_in.catalogue(), exercises).map_or_else(
            |fault| {
                // It was checked when it was added; a later built-in name can collide all the same.
                tracing::error!(%fault, "a team's own exercises no longer fit the catalogue");
                Arc::clone(&self.built_in)
            },
            |catalogue| {
                let names = names_of(whose, exercises, &catalogue);
                Arc::new(self.built_in.over(Arc::new(catalogue), &names))
            },
        );
        let readers = own.entry(exercises.clone()).or_default();
        readers.insert(whose.to_owned(), Arc::clone(&reader));
        reader
    }
}

/// A team's messages in a group: who wrote, what ids they have, and the time of the first.
#[derive(Default)]
struct Posted<'a> {
    authors: BTreeSet<&'a str>,
    ids: Vec<&'a str>,
    first: Option<DateTime<Utc>>,
}

/// Loads what the messages among these events begin with.
async fn expect(tx: &mut Tx, bot: &Bot, events: &[Event]) -> Result<(), StoreError> {
    let mut teams: BTreeMap<&str, Posted> = BTreeMap::new();
    let newest = events.iter().map(Event::at).max();
    for event in events {
        // A team is made when it is first heard of: in the order of the events.
        if let Some(team) = event.team() {
            tx.team(team).await?;
        }
        let Event::Message(message) = event else {
            continue;
        };
        let posted = teams.entry(&message.team).or_default();
        posted.authors.insert(&message.author);
        posted.ids.push(&message.id);
        // One that is dated long before the others shall not have the log of all read back to it.
        if newest.is_some_and(|newest| newest - message.at < RECENT) {
            posted.first = Some(posted.first.map_or(message.at, |at| at.min(message.at)));
        }
    }
    for (team, posted) in teams {
        let team = tx.team(team).await?;
        // Members first: where that locks them, what is read of them next stays as it is.
        let authors: Vec<&str> = posted.authors.into_iter().collect();
        let members = tx.prefetch_members(&team, &authors).await?;
        tx.prefetch_events(&team, &posted.ids).await?;
        tx.prefetch_bells(&members).await?;
        if let Some(first) = posted.first {
            let reader = bot.reader_of(&team);
            let since = first - RECENT;
            tx.prefetch_sets(&members, since, reader.catalogue())
                .await?;
        }
    }
    Ok(())
}

/// `of_team`: what the event shows of a large team, where that is worked out already.
async fn carry_out(
    tx: &mut Tx,
    bot: &Bot,
    event: &Event,
    of_team: Option<&Arc<TeamLoaded>>,
) -> Result<Vec<Outgoing>, ServiceError> {
    if let Event::Message(Message {
        team,
        id,
        author,
        name,
        ..
    }) = event
    {
        tx.prefetch_message(team, id, author, name).await?;
    }
    if let Some(key) = event.team() {
        let team = tx.team(key).await?;
        if tx.is_new(&team) {
            jobs::plan_digest(tx, &team, &DigestJob::default(), event.at()).await?;
        }
    }
    match event {
        Event::Message(message) => carry_message(tx, bot, message, of_team).await,
        Event::Edit(edit) => requests::edit(tx, bot, edit).await,
        Event::Delete(delete) => requests::delete(tx, bot, delete).await,
        Event::Press(press) => requests::press(tx, bot, press).await,
        Event::Clock(_) => Ok(Vec::new()),
    }
}

async fn carry_message(
    tx: &mut Tx,
    bot: &Bot,
    message: &Message,
    of_team: Option<&Arc<TeamLoaded>>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let team = tx.team(&message.team).await?;
    if let Some((_, outcome)) = tx.remembered(&team, &message.id).await? {
        tx.note_repeat();
        return Ok(outcome);
    }
    if is_erased(tx, &team, message).await? {
        tx.remember(&team, &message.id, &nobodys(), &[]).await?;
        return Ok(Vec::new());
    }
    let member = tx
        .member_or_new(&team, &message.author, &message.name, message.coach)
        .await?;
    let source = Source {
        channel: message.channel.clone(),
        answers: Some(message.id.clone()),
        stem: message.id.clone(),
    };
    let stage = UseCaseRun {
        team: &team,
        member: &member,
        bot,
        reader: &bot.reader_for(&team, &message.author),
        files: &bot.files,
        now: message.at,
        about: message.at,
        of_team,
    };
    let read = |view: &View| intent::message(view, &message.text);
    let out = Box::pin(stage.run(tx, &source, read, &message.text, None)).await?;
    if tx.member(&team, &message.author).await?.is_some() {
        let kept = Remembered {
            author: message.author.clone(),
            channel: message.channel.clone(),
            at: message.at,
        };
        tx.remember(&team, &message.id, &kept, &out).await?;
    } else {
        // It had everything of its author erased, and is no exception.
        tx.remember(&team, &message.id, &nobodys(), &[]).await?;
    }
    Ok(out)
}

/// Whether a message is from before everything of its author was erased.
async fn is_erased(tx: &mut Tx, team: &Team, message: &Message) -> Result<bool, StoreError> {
    let since = match tx.member(team, &message.author).await? {
        Some(member) => member.profile.since,
        None => tx.erased(team, &message.author).await?,
    };
    Ok(since.is_some_and(|since| message.at < since))
}

/// A message of which nothing is kept but that it was worked on.
const fn nobodys() -> Remembered {
    Remembered {
        author: String::new(),
        channel: String::new(),
        at: DateTime::UNIX_EPOCH,
    }
}

/// How far back the earlier sessions of an exercise are looked for: longer ago, a raise starts
/// from the belief alone. Common practice, no source.
const OPENINGS_BACK: TimeDelta = TimeDelta::days(60);

/// Who and when, before the log is loaded.
struct UseCaseRun<'a> {
    team: &'a Team,
    member: &'a Member,
    bot: &'a Bot,
    reader: &'a Reader,
    files: &'a Files,
    now: DateTime<Utc>,
    /// The moment that the event is about: now, or when the edited message was posted.
    about: DateTime<Utc>,
    /// A large team's week, where that is worked out already.
    of_team: Option<&'a Arc<TeamLoaded>>,
}

/// What came of an event.
enum Ran {
    /// What goes out.
    Done(Vec<Outgoing>),
    /// The settings become these first, and nothing else was stored.
    Anew(TeamSettings),
}

impl UseCaseRun<'_> {
    /// Loads, decides, stores. Callers box it: it holds the most of all that an event goes through.
    async fn run(
        &self,
        tx: &mut Tx,
        source: &Source,
        read: impl Fn(&View) -> Intent,
        text: &str,
        subject: Option<&str>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        let anew = match self.run_once(tx, source, &read, text, subject).await? {
            Ran::Done(out) => return Ok(out),
            Ran::Anew(settings) => settings,
        };
        // The same with what the settings now say: a name is kept, so the message reads by it.
        let change = [Change::Settings(anew)];
        let catalogue = self.reader.catalogue();
        tx.apply(self.team, self.member, &change, catalogue).await?;
        let team = tx.team(&self.team.key).await?;
        let again = UseCaseRun {
            team: &team,
            reader: &self.bot.reader_for(&team, &self.member.author),
            ..*self
        };
        match again.run_once(tx, source, &read, text, subject).await? {
            Ran::Done(out) => Ok(out),
            // Nothing asks twice; were it so, what was kept stands and nothing is said.
            Ran::Anew(_) => Ok(Vec::new()),
        }
    }

    async fn run_once(
        &self,
        tx: &mut Tx,
        source: &Source,
        read: &impl Fn(&View) -> Intent,
        text: &str,
        subject: Option<&str>,
    ) -> Result<Ran, ServiceError> {
        let catalogue = self.reader.catalogue();
        let calendar = self.team.settings.calendar();
        let day = calendar.week_of(calendar.day_of(self.now)).last_day();
        tx.prefetch_own(self.member, self.about - RECENT, day, catalogue)
            .await?;
        let recent = tx
            .sets_since(self.member, self.about - RECENT, catalogue)
            .await?;
        let bell = tx.bell(self.member).await?;
        let view = self.view(&recent, bell.as_ref());
        let intent = read(&view);
        let mut needs = intent.needs(&view);
        if needs.other.is_none() && !needs.beliefs.is_empty() && !self.is_learned() {
            needs.history = true;
        }
        let about = subject.or(intent.message(&view));
        let mut loaded = self.load(tx, &view, &needs, about).await?;
        let mut outcome = decide(&view, source, &intent, &loaded, text, subject);
        if outcome.short {
            needs.history = true;
            loaded = self.load(tx, &view, &needs, about).await?;
            outcome = decide(&view, source, &intent, &loaded, text, subject);
        }
        let Outcome {
            changes,
            others,
            mut out,
            short: _,
            anew,
        } = outcome;
        if let Some(settings) = anew {
            return Ok(Ran::Anew(settings));
        }
        for (other, changes) in &others {
            tx.apply(self.team, other, changes, catalogue).await?;
        }
        tx.apply(self.team, self.member, &changes, catalogue)
            .await?;
        if changes.iter().any(|one| matches!(one, Change::Erase(_))) {
            self.files.forget(&self.team.key, &self.member.author);
        }
        self.files.put(&self.member.author, &mut out)?;
        if changes
            .iter()
            .any(|change| matches!(change, Change::Settings(_)))
        {
            let team = tx.team(&self.team.key).await?;
            let before = tx.digest(&team).await?.unwrap_or_default();
            jobs::plan_digest(tx, &team, &before, self.now).await?;
        }
        Ok(Ran::Done(out))
    }

    /// Whether what was learned can be read: nothing was, in a new member or after the way of
    /// writing it down changed.
    fn is_learned(&self) -> bool {
        let condition = self.member.condition.as_deref();
        condition.and_then(Condition::decode).is_some()
    }

    fn view<'b>(&'b self, recent: &'b [LogEntry], bell: Option<&'b Bell>) -> View<'b> {
        View {
            team: self.team,
            member: self.member,
            reader: self.reader,
            calendar: self.team.settings.calendar(),
            recent,
            bell,
            now: self.now,
        }
    }

    async fn load(
        &self,
        tx: &mut Tx,
        view: &View<'_>,
        needs: &Needs,
        about: Option<&str>,
    ) -> Result<Loaded, StoreError> {
        let catalogue = self.reader.catalogue();
        let mut loaded = Loaded::default();
        if needs.changes_others {
            loaded.members = tx.members_locked(self.team).await?;
        } else if needs.members {
            loaded.members = tx.members(self.team).await?;
        }
        if let Some((whose, day)) = &needs.prescribed {
            let members = &loaded.members;
            loaded.prescriptions = self.prescriptions(tx, whose, (*day, *day), members).await?;
            if let Some(days) = needs.past {
                loaded.past = self.prescriptions(tx, whose, days, members).await?;
            }
            if needs.coming {
                let later = *day + Days::new(7);
                loaded.coming = self
                    .prescriptions(tx, whose, (later, later), members)
                    .await?;
            }
        }
        let mut exercises = needs.beliefs.clone();
        let mut openings = needs.openings.clone();
        let own = loaded.prescriptions.get(&self.member.id);
        if let (true, Some(own)) = (needs.session, own) {
            let next = match needs.whole_session {
                true => needs_of::planned_today(view, own),
                false => needs_of::next_planned(view, own, &needs.beliefs),
            };
            openings.extend(&next);
            exercises.extend(next);
            exercises.sort_unstable();
            exercises.dedup();
        }
        if !openings.is_empty() {
            let names: Vec<&str> = openings.iter().map(|&id| view.name_of(id)).collect();
            let since = self.now - OPENINGS_BACK;
            let before = tx.sets_of_exercises(self.member, &names, since, catalogue);
            loaded.before = before.await?;
        }
        let names: Vec<&str> = exercises
            .iter()
            .map(|&id| catalogue.exercise(id).name.as_str())
            .collect();
        if !names.is_empty() {
            loaded.beliefs = tx.beliefs(self.member, &names).await?;
        }
        if let Some(name) = &needs.beliefs_of {
            let called: Vec<&Member> = loaded
                .members
                .iter()
                .filter(|m| m.is_called(name))
                .collect();
            if let Some(member) = Member::meant(&called, name) {
                let beliefs = tx.beliefs_all(member).await?;
                loaded.team_beliefs.insert(member.id, beliefs);
            }
        }
        if let Some(name) = &needs.other {
            let called = match needs.changes_others {
                true => loaded.members.clone(),
                false => tx.members_called(self.team, name).await?,
            };
            let called: Vec<&Member> = called.iter().filter(|m| m.is_called(name)).collect();
            loaded.other = Member::meant(&called, name).cloned();
            if let (Some(other), true) = (&loaded.other, needs.days.is_some()) {
                let beliefs = tx.beliefs_all(other).await?;
                loaded.team_beliefs.insert(other.id, beliefs);
            }
            loaded.namesakes = called
                .into_iter()
                .map(|member| member.author.clone())
                .collect();
        }
        if needs.digest {
            loaded.digest = tx.digest(self.team).await?.unwrap_or_default();
        }
        if let Some(needs) = needs.team {
            let other = loaded.other.as_ref();
            loaded.team = Some(self.team_week(tx, view, needs, other).await?);
        }
        let is_late = needs.changes && !needs.history && needs.other.is_none();
        if is_late && self.load_late(tx, view, about, &mut loaded).await? {
            // The end of the log is all that is needed of it.
        } else if needs.history || needs.changes {
            let whose = loaded.other.as_ref().unwrap_or(self.member);
            loaded.history = tx.sets_all(whose, catalogue).await?;
        }
        let whose = loaded.other.as_ref().unwrap_or(self.member);
        if let Some((from, to)) = needs.days {
            loaded.days = tx.sets_of_days(whose, from, to, catalogue).await?;
        }
        self.load_kept(tx, needs, &mut loaded).await?;
        Ok(loaded)
    }

    /// What is shown of many members' weeks: worked out before, or a portion after the other.
    async fn team_week(
        &self,
        tx: &mut Tx,
        view: &View<'_>,
        needs: TeamNeeds,
        other: Option<&Member>,
    ) -> Result<Arc<TeamLoaded>, StoreError> {
        if let Some(of_team) = self.of_team.filter(|of_team| of_team.needs == needs) {
            return team::without_gone(tx, self.team, of_team).await;
        }
        let ids = match needs.of_other {
            true => other.map(|other| other.id).into_iter().collect(),
            false => tx.member_ids(self.team).await?,
        };
        let mut portions = Portions::begin(tx, self.team, ids, needs).await?;
        while !portions.is_done() {
            portions.step(tx, view).await?;
        }
        Ok(portions.finish())
    }

    /// The end of the member's log, with what was believed before it; whether there is one that nothing
    /// before it bears on. `about` is the message of which sets are changed.
    async fn load_late(
        &self,
        tx: &mut Tx,
        view: &View<'_>,
        about: Option<&str>,
        loaded: &mut Loaded,
    ) -> Result<bool, StoreError> {
        let cuts = self.member.desk.cuts.usable(view.status());
        let Some(&from) = cuts.first().filter(|_| self.is_learned()) else {
            return Ok(false);
        };
        let message = about.unwrap_or_default();
        if tx
            .reaches_before(self.team, self.member, from, message)
            .await?
        {
            return Ok(false);
        }
        let history = tx
            .sets_from(self.member, from.at, self.reader.catalogue())
            .await?;
        if history.is_empty() {
            return Ok(false);
        }
        loaded.history = history;
        loaded.beliefs = tx.beliefs_all(self.member).await?;
        let checkpoints = tx.checkpoints(self.member).await?;
        loaded.late = Some(Late { from, checkpoints });
        Ok(true)
    }

    /// What is kept of the member beside log and profile, where it is asked for.
    async fn load_kept(
        &self,
        tx: &mut Tx,
        needs: &Needs,
        loaded: &mut Loaded,
    ) -> Result<(), StoreError> {
        if needs.kept || needs.answers {
            let author = &self.member.author;
            let mut answers = tx.responses_to(self.team, author).await?;
            for (id, posted, outcome) in tx.answered_to(self.team, author).await? {
                answers.push((posted.at, outcome));
                loaded.messages.push((id, posted));
            }
            answers.sort_by_key(|(at, _)| *at);
            loaded.answers = answers.into_iter().flat_map(|(_, out)| out).collect();
        }
        if needs.kept {
            loaded.ever = tx.prescribed_ever(self.member).await?;
            let catalogue = self.reader.catalogue();
            let done = loaded.history.iter();
            let mut names: Vec<&str> = done
                .map(|filed| catalogue.exercise(filed.set.exercise).name.as_str())
                .collect();
            names.sort_unstable();
            names.dedup();
            loaded.beliefs = tx.beliefs(self.member, &names).await?;
        }
        Ok(())
    }

    /// What coaches set that bears on the days `from` to `to`, by member, the member's own among it.
    /// `members` are the team's, where they are loaded.
    async fn prescriptions(
        &self,
        tx: &mut Tx,
        whose: &Whose,
        (from, to): (NaiveDate, NaiveDate),
        members: &[Member],
    ) -> Result<BTreeMap<MemberId, Vec<Version>>, StoreError> {
        if *whose == Whose::Team {
            let ids = tx.member_ids(self.team).await?;
            return tx.prescribed_of(&ids, from, to).await;
        }
        let own = prescribed(tx, self.member, (from, to)).await?;
        let mut found = BTreeMap::from([(self.member.id, own)]);
        let Whose::Named(name) = whose else {
            return Ok(found);
        };
        let members = match members {
            [] => &tx.members_called(self.team, name).await?,
            loaded => loaded,
        };
        for member in members.iter().filter(|member| member.is_called(name)) {
            found.insert(member.id, prescribed(tx, member, (from, to)).await?);
        }
        Ok(found)
    }
}

/// What coaches set for a member that bears on the days `from` to `to`.
async fn prescribed(
    tx: &mut Tx,
    member: &Member,
    (from, to): (NaiveDate, NaiveDate),
) -> Result<Vec<Version>, StoreError> {
    match from == to {
        // It may have been fetched ahead, for many members at once.
        true => tx.prescribed(member, from).await,
        false => tx.prescribed_between(member, from, to).await,
    }
}
