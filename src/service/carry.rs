//! One event inside a transaction: load, decide, store. Jobs are carried out in [`jobs`].

mod jobs;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use crate::bot::case::{self, Intent, Loaded, Needs, Source, Whose};
use crate::bot::event::{Delete, Edit, Event, Message, Press};
use crate::bot::prescription::Version;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::scene::{RECENT, Scene, with_own};
use crate::bot::state::{
    Bell, Change, DigestJob, DueJob, FiledSet, Member, OwnExercise, Remembered, Team,
};
use crate::bot::words::NOT_YOURS;
use crate::bot::{Outcome, decide};
use crate::domain::catalogue::Catalogue;
use crate::domain::condition::Condition;
use crate::domain::id::MemberId;
use crate::message::Reader;
use crate::service::{ServiceError, UseCase};
use crate::store::{StoreError, Tx};

/// The use cases of [`crate::bot`], with a reader for what each team added to the catalogue: most
/// teams share the built-in one.
#[derive(Debug)]
pub struct Bot {
    built_in: Arc<Reader>,
    own: Mutex<HashMap<Vec<OwnExercise>, Arc<Reader>>>,
}

impl UseCase for Bot {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        Ok(carry_out(tx, self, event).await?)
    }

    async fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        Ok(jobs::carry_out(tx, self, job, now).await?)
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

/// Readers of teams with exercises of their own that are kept at hand.
const READERS_KEPT: usize = 64;

impl Bot {
    /// The bot over this built-in catalogue.
    #[must_use]
    pub fn new(catalogue: Arc<Catalogue>) -> Self {
        Self {
            built_in: Arc::new(Reader::new(catalogue)),
            own: Mutex::default(),
        }
    }

    /// The reader of a team without exercises of its own.
    #[must_use]
    pub fn reader(&self) -> &Reader {
        &self.built_in
    }

    /// The reader of a team, with its own exercises.
    #[must_use]
    pub fn reader_of(&self, team: &Team) -> Arc<Reader> {
        let exercises = &team.settings.exercises;
        if exercises.is_empty() {
            return Arc::clone(&self.built_in);
        }
        let mut own = self.own.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(reader) = own.get(exercises) {
            return Arc::clone(reader);
        }
        if own.len() >= READERS_KEPT {
            own.clear();
        }
        let reader = with_own(self.built_in.catalogue(), exercises).map_or_else(
            |fault| {
                // It was checked when it was added; a later built-in name can collide all the same.
                tracing::error!(%fault, "a team's own exercises no longer fit the catalogue");
                Arc::clone(&self.built_in)
            },
            |catalogue| Arc::new(Reader::new(Arc::new(catalogue))),
        );
        own.insert(exercises.clone(), Arc::clone(&reader));
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
        let members = tx.expect_members(&team, &authors).await?;
        tx.expect_events(&team, &posted.ids).await?;
        tx.expect_bells(&members).await?;
        if let Some(first) = posted.first {
            let reader = bot.reader_of(&team);
            let since = first - RECENT;
            tx.expect_sets(&members, since, reader.catalogue()).await?;
        }
    }
    Ok(())
}

async fn carry_out(tx: &mut Tx, bot: &Bot, event: &Event) -> Result<Vec<Outgoing>, StoreError> {
    if let Some(key) = event.team() {
        let team = tx.team(key).await?;
        if tx.is_new(&team) {
            jobs::plan_digest(tx, &team, &DigestJob::default(), event.at()).await?;
        }
    }
    match event {
        Event::Message(message) => carry_message(tx, bot, message).await,
        Event::Edit(edit) => carry_edit(tx, bot, edit).await,
        Event::Delete(delete) => carry_delete(tx, bot, delete).await,
        Event::Press(press) => carry_press(tx, bot, press).await,
        Event::Clock(_) => Ok(Vec::new()),
    }
}

async fn carry_message(
    tx: &mut Tx,
    bot: &Bot,
    message: &Message,
) -> Result<Vec<Outgoing>, StoreError> {
    let team = tx.team(&message.team).await?;
    if let Some((_, outcome)) = tx.remembered(&team, &message.id).await? {
        return Ok(outcome);
    }
    let member = tx
        .member_or_new(&team, &message.author, &message.name, message.coach)
        .await?;
    let source = Source {
        channel: message.channel.clone(),
        answers: Some(message.id.clone()),
        stem: message.id.clone(),
    };
    let stage = Stage {
        team: &team,
        member: &member,
        reader: &bot.reader_of(&team),
        now: message.at,
        about: message.at,
    };
    let read = |scene: &Scene| case::message(scene, &message.text);
    let out = stage.play(tx, &source, read, &message.text, None).await?;
    let kept = Remembered {
        author: message.author.clone(),
        channel: message.channel.clone(),
        at: message.at,
    };
    tx.remember(&team, &message.id, &kept, &out).await?;
    Ok(out)
}

async fn carry_edit(tx: &mut Tx, bot: &Bot, edit: &Edit) -> Result<Vec<Outgoing>, StoreError> {
    let team = tx.team(&edit.team).await?;
    let Some((posted, member)) = author_of(tx, &team, &edit.id).await? else {
        return Ok(Vec::new());
    };
    let source = about(&edit.id, &posted, edit.at.timestamp_millis());
    let stage = Stage {
        team: &team,
        member: &member,
        reader: &bot.reader_of(&team),
        now: edit.at,
        about: posted.at.min(edit.at),
    };
    let read = |scene: &Scene| case::edit(scene, &edit.id, posted.clone(), &edit.text);
    stage
        .play(tx, &source, read, &edit.text, Some(&edit.id))
        .await
}

async fn carry_delete(
    tx: &mut Tx,
    bot: &Bot,
    delete: &Delete,
) -> Result<Vec<Outgoing>, StoreError> {
    let team = tx.team(&delete.team).await?;
    let Some((posted, member)) = author_of(tx, &team, &delete.id).await? else {
        return Ok(Vec::new());
    };
    let source = about(&delete.id, &posted, delete.at.timestamp_millis());
    let stage = Stage {
        team: &team,
        member: &member,
        reader: &bot.reader_of(&team),
        now: delete.at,
        about: posted.at.min(delete.at),
    };
    let read = |_: &Scene| Intent::Withdrawn;
    let out = stage.play(tx, &source, read, "", Some(&delete.id)).await?;
    // An edit that was under way shall not bring it back.
    tx.disown(&team, &delete.id).await?;
    Ok(out)
}

/// Who posted an earlier message, and when.
async fn author_of(
    tx: &mut Tx,
    team: &Team,
    id: &str,
) -> Result<Option<(Remembered, Member)>, StoreError> {
    let Some((posted, _)) = tx.remembered(team, id).await? else {
        return Ok(None);
    };
    if posted.author.is_empty() {
        return Ok(None);
    }
    let member = tx.member(team, &posted.author).await?;
    Ok(member.map(|member| (posted, member)))
}

/// The source of an edit or a deletion: ids of its replies differ from those of the message.
fn about(id: &str, posted: &Remembered, at_ms: i64) -> Source {
    Source {
        channel: posted.channel.clone(),
        answers: Some(id.to_owned()),
        stem: format!("{id}.at{at_ms}"),
    }
}

async fn carry_press(tx: &mut Tx, bot: &Bot, press: &Press) -> Result<Vec<Outgoing>, StoreError> {
    let team = tx.team(&press.team).await?;
    let at_ms = press.at.timestamp_millis();
    let Some(member) = tx.member(&team, &press.author).await? else {
        return Ok(vec![refused(press)]);
    };
    let desk = &member.desk;
    let card = desk
        .cards
        .values()
        .find(|card| card.reply == press.reply)
        .map(|c| &c.channel);
    let asked = desk
        .pending
        .iter()
        .find(|open| open.reply == press.reply)
        .map(|p| &p.channel);
    let rung = desk
        .rung
        .iter()
        .find(|rung| rung.reply == press.reply)
        .map(|r| &r.channel);
    let asked_at = desk
        .pending
        .iter()
        .find(|open| open.reply == press.reply)
        .map(|open| open.at);
    let source = Source {
        channel: card.or(asked).or(rung).cloned().unwrap_or_default(),
        answers: None,
        stem: format!("{}.{}.at{at_ms}", press.reply, press.author),
    };
    let stage = Stage {
        team: &team,
        member: &member,
        reader: &bot.reader_of(&team),
        now: press.at,
        about: asked_at.unwrap_or(press.at).min(press.at),
    };
    let read = |scene: &Scene| case::press(scene, &press.reply, &press.button);
    stage.play(tx, &source, read, "", None).await
}

/// Somebody who never wrote here owns no button, and is told so like everybody else.
fn refused(press: &Press) -> Outgoing {
    Outgoing::Reply(Reply {
        id: format!(
            "{}.{}.at{}",
            press.reply,
            press.author,
            press.at.timestamp_millis()
        ),
        team: press.team.clone(),
        to: Some(press.author.clone()),
        private: true,
        text: NOT_YOURS.to_owned(),
        ..Reply::default()
    })
}

/// How far back the earlier sessions of an exercise are looked for: longer ago, a raise starts
/// from the belief alone. Common practice, no source.
const OPENINGS_BACK: TimeDelta = TimeDelta::days(60);

/// Who and when, before the log is loaded.
struct Stage<'a> {
    team: &'a Team,
    member: &'a Member,
    reader: &'a Reader,
    now: DateTime<Utc>,
    /// The moment that the event is about: now, or when the edited message was posted.
    about: DateTime<Utc>,
}

impl Stage<'_> {
    /// Loads, decides, stores.
    async fn play(
        &self,
        tx: &mut Tx,
        source: &Source,
        read: impl FnOnce(&Scene) -> Intent,
        text: &str,
        subject: Option<&str>,
    ) -> Result<Vec<Outgoing>, StoreError> {
        let catalogue = self.reader.catalogue();
        let recent = tx
            .sets_since(self.member, self.about - RECENT, catalogue)
            .await?;
        let bell = tx.bell(self.member).await?;
        let scene = self.scene(&recent, bell.as_ref());
        let intent = read(&scene);
        let mut needs = intent.needs(&scene);
        if needs.other.is_none() && !needs.beliefs.is_empty() && !self.is_learned() {
            needs.history = true;
        }
        let loaded = self.load(tx, &scene, &needs).await?;
        let Outcome { changes, out } = decide(&scene, source, &intent, &loaded, text, subject);
        tx.apply(self.team, self.member, &changes, catalogue)
            .await?;
        if changes
            .iter()
            .any(|change| matches!(change, Change::Settings(_)))
        {
            let team = tx.team(&self.team.key).await?;
            let before = tx.digest(&team).await?.unwrap_or_default();
            jobs::plan_digest(tx, &team, &before, self.now).await?;
        }
        Ok(out)
    }

    /// Whether what was learned can be read: nothing was, in a new member or after the way of
    /// writing it down changed.
    fn is_learned(&self) -> bool {
        let condition = self.member.condition.as_deref();
        condition.and_then(Condition::decode).is_some()
    }

    fn scene<'b>(&'b self, recent: &'b [FiledSet], bell: Option<&'b Bell>) -> Scene<'b> {
        Scene {
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
        scene: &Scene<'_>,
        needs: &Needs,
    ) -> Result<Loaded, StoreError> {
        let catalogue = self.reader.catalogue();
        let mut loaded = Loaded::default();
        if needs.members {
            loaded.members = tx.members(self.team).await?;
        }
        if let Some((whose, day)) = &needs.prescribed {
            loaded.prescriptions = self.prescriptions(tx, whose, *day, &loaded.members).await?;
            if needs.coming {
                let later = *day + Days::new(7);
                loaded.coming = self
                    .prescriptions(tx, whose, later, &loaded.members)
                    .await?;
            }
        }
        let mut exercises = needs.beliefs.clone();
        let mut openings = needs.openings.clone();
        let own = loaded.prescriptions.get(&self.member.id);
        if let (true, Some(own)) = (needs.session, own) {
            let next = match needs.whole_session {
                true => case::planned_today(scene, own),
                false => case::next_planned(scene, own, &needs.beliefs),
            };
            openings.extend(&next);
            exercises.extend(next);
            exercises.sort_unstable();
            exercises.dedup();
        }
        if !openings.is_empty() {
            let names: Vec<&str> = openings.iter().map(|&id| scene.name_of(id)).collect();
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
        if let Some(name) = &needs.other {
            let called = tx.members_called(self.team, name).await?;
            loaded.other = Member::meant(&called.iter().collect::<Vec<_>>(), name).cloned();
            if let (Some(other), true) = (&loaded.other, needs.days.is_some()) {
                let beliefs = tx.beliefs_all(other).await?;
                loaded.team_beliefs.insert(other.id, beliefs);
            }
            loaded.namesakes = called.into_iter().map(|member| member.author).collect();
        }
        if let Some(week) = needs.team_week {
            let of_team = tx.team_week(self.team, week, catalogue, scene.today());
            loaded.team_week = Some(of_team.await?);
        }
        if let Some((from, to)) = needs.team_days {
            loaded.team_days = tx.sets_of_team(self.team, from, to, catalogue).await?;
            loaded.team_beliefs = tx.beliefs_of_team(self.team).await?;
            loaded.last_days = tx.last_days(self.team).await?;
        }
        let whose = loaded.other.as_ref().unwrap_or(self.member);
        if needs.history {
            loaded.history = tx.sets_all(whose, catalogue).await?;
        }
        if let Some((from, to)) = needs.days {
            loaded.days = tx.sets_of_days(whose, from, to, catalogue).await?;
        }
        Ok(loaded)
    }

    /// What coaches set, by member, the member's own among it. `members` are the team's, where they
    /// are loaded.
    async fn prescriptions(
        &self,
        tx: &mut Tx,
        whose: &Whose,
        day: NaiveDate,
        members: &[Member],
    ) -> Result<BTreeMap<MemberId, Vec<Version>>, StoreError> {
        if *whose == Whose::Team {
            return tx.prescribed_of_team(self.team, day, true).await;
        }
        let own = tx.prescribed(self.member, day).await?;
        let mut found = BTreeMap::from([(self.member.id, own)]);
        let Whose::Named(name) = whose else {
            return Ok(found);
        };
        let members = match members {
            [] => &tx.members_called(self.team, name).await?,
            loaded => loaded,
        };
        for member in members.iter().filter(|member| member.is_called(name)) {
            let theirs = tx.prescribed(member, day).await?;
            found.insert(member.id, theirs);
        }
        Ok(found)
    }
}
