//! One use case inside a transaction: load, decide, store.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};

use super::bot::Bot;
use super::team::{self, Portions};
use crate::bot::handlers::digest;
use crate::bot::handlers::teammate::shown_to;
use crate::bot::intent::Intent;
use crate::bot::needs::TeamLoaded;
use crate::bot::needs::{Loaded, Needs, Source, TeamNeeds, Whose};
use crate::bot::needs_of;
use crate::bot::reply::Outgoing;
use crate::bot::state::cuts::Late;
use crate::bot::state::prescription::Version;
use crate::bot::state::view::{Called, RECENT, View};
use crate::bot::state::{Bell, Change, DigestJob, LogEntry, Member, Team, TeamSettings};
use crate::bot::{Outcome, decide};
use crate::domain::lifter::condition::Condition;
use crate::domain::quantities::id::MemberId;
use crate::message::Reader;
use crate::service::ServiceError;
use crate::store::{StoreError, Tx};

/// How far back the earlier sessions of an exercise are looked for: longer ago, a raise starts
/// from the belief alone. Common practice, no source.
const OPENINGS_BACK: TimeDelta = TimeDelta::days(60);

/// Who and when, before the log is loaded.
pub(super) struct UseCaseRun<'a> {
    pub(super) team: &'a Team,
    pub(super) member: &'a Member,
    pub(super) bot: &'a Bot,
    pub(super) reader: &'a Reader,
    pub(super) now: DateTime<Utc>,
    /// The moment that the event is about: now, or when the edited message was posted.
    pub(super) about: DateTime<Utc>,
    /// A large team's week, where that is worked out already.
    pub(super) of_team: Option<&'a Arc<TeamLoaded>>,
}

/// What came of an event.
enum Ran {
    /// What goes out.
    Done(Vec<Outgoing>),
    /// The settings become these first, and nothing else was stored.
    Anew(TeamSettings),
}

impl<'a> UseCaseRun<'a> {
    /// A run that is about this moment and nothing of a large team.
    pub(super) const fn new(
        bot: &'a Bot,
        (team, member): (&'a Team, &'a Member),
        reader: &'a Reader,
        now: DateTime<Utc>,
    ) -> Self {
        Self {
            team,
            member,
            bot,
            reader,
            now,
            about: now,
            of_team: None,
        }
    }

    /// Loads, decides, stores. Callers box it: it holds the most of all that an event goes through.
    pub(super) async fn run(
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
        // It is rare, and boxed so that what runs every time has its room on the stack once.
        let again = Box::pin(again.run_once(tx, source, &read, text, subject));
        match again.await? {
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
        let others = self.others(tx).await?;
        let view = self.view(&recent, bell.as_ref(), &others);
        let intent = read(&view);
        if let Intent::AsMember(author, asked) = &intent {
            return Box::pin(self.run_as(tx, source, author, asked)).await;
        }
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
            self.bot.files.forget(&self.team.key, &self.member.author);
        }
        self.bot.files.put(&self.member.author, &mut out)?;
        if changes
            .iter()
            .any(|change| matches!(change, Change::Settings(_)))
        {
            let team = tx.team(&self.team.key).await?;
            let before = tx.digest(&team).await?.unwrap_or_default();
            plan_digest(tx, &team, &before, self.now).await?;
        }
        Ok(Ran::Done(out))
    }

    /// Whether what was learned can be read: nothing was, in a new member or after the way of
    /// writing it down changed.
    fn is_learned(&self) -> bool {
        let condition = self.member.condition.as_deref();
        condition.and_then(Condition::decode).is_some()
    }

    /// What the others of the team are called, where that bears on the words of who writes.
    async fn others(&self, tx: &mut Tx) -> Result<Vec<Called>, StoreError> {
        if !self.member.coach {
            return Ok(Vec::new());
        }
        let mut others = tx.called(self.team).await?;
        others.retain(|one| one.author != self.member.author);
        Ok(others)
    }

    /// Answers a coach what a member would be answered. Nothing of it is stored: nobody but the coach asked.
    async fn run_as(
        &self,
        tx: &mut Tx,
        source: &Source,
        author: &str,
        intent: &Intent,
    ) -> Result<Ran, ServiceError> {
        let Some(member) = tx.member(self.team, author).await? else {
            return Ok(Ran::Done(Vec::new()));
        };
        let reader = &self.bot.reader_for(self.team, author);
        let (member, catalogue) = (&member, reader.catalogue());
        let of_member = UseCaseRun {
            member,
            reader,
            ..*self
        };
        let recent = tx
            .sets_since(member, self.about - RECENT, catalogue)
            .await?;
        let view = of_member.view(&recent, None, &[]);
        let mut needs = intent.needs(&view);
        needs.history |= !needs.beliefs.is_empty() && !of_member.is_learned();
        let loaded = of_member.load(tx, &view, &needs, None).await?;
        let outcome = decide(&view, source, intent, &loaded, "", None);
        let mut out = shown_to(&self.member.author, &member.name, outcome.out);
        self.bot.files.put(&self.member.author, &mut out)?;
        Ok(Ran::Done(out))
    }

    fn view<'b>(
        &'b self,
        recent: &'b [LogEntry],
        bell: Option<&'b Bell>,
        others: &'b [Called],
    ) -> View<'b> {
        View {
            team: self.team,
            member: self.member,
            reader: self.reader,
            calendar: self.team.settings.calendar(),
            recent,
            bell,
            now: self.now,
            others,
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
        let cuts = self.member.state.cuts.usable(view.status());
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

/// Sets the team's next digest.
pub(super) async fn plan_digest(
    tx: &mut Tx,
    team: &Team,
    before: &DigestJob,
    now: DateTime<Utc>,
) -> Result<(), StoreError> {
    let (next, due) = digest::plan(&team.settings, before, now);
    tx.put_digest(team, &next, due).await
}
