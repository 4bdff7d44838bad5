//! What is shown of a whole team, read and worked out in portions of members: so the sets of a portion alone are in
//! memory, and where each portion has a transaction of its own, others are served between them.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, Duration, TimeDelta, Utc};

use super::readers::Readers;
use crate::bot::event::{Event, Message};
use crate::bot::handlers::details::details;
use crate::bot::intent::{self};
use crate::bot::needs::TeamLoaded;
use crate::bot::needs::{Depth, Loaded, TeamNeeds};
use crate::bot::state::team_week::TeamWeek;
use crate::bot::state::view::View;
use crate::bot::state::{DueJob, Member, Team};
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::message::Reader;
use crate::message::forms::command::{self, AttentionCommand, Command, DigestCommand};
use crate::store::{Store, StoreError, Tx};

/// Members of a portion: with a hundred sets each in the week it takes a few milliseconds.
const PORTION: usize = 8;
/// A team with more members than this is worked on in transactions of its own. A few portions are shorter
/// than what it takes to begin again for each.
const LARGE: usize = 4 * PORTION;
/// What is usual between two sessions is seen over this long before a week.
const USUAL_BACK: TimeDelta = TimeDelta::days(56);

/// What is shown of a team, as far as it is worked out.
#[derive(Debug)]
pub(super) struct Portions {
    ids: Vec<MemberId>,
    next: usize,
    has_sets: bool,
    /// Members and sets of each channel.
    channels: BTreeMap<String, (i64, i64)>,
    loaded: TeamLoaded,
}

impl Portions {
    /// Nothing of it yet. `ids` are the members it is about.
    pub(super) async fn begin(
        tx: &mut Tx,
        team: &Team,
        ids: Vec<MemberId>,
        needs: TeamNeeds,
    ) -> Result<Self, StoreError> {
        let has_sets = needs.depth >= Depth::Concerns && tx.has_sets(team).await?;
        Ok(Self {
            ids,
            next: 0,
            has_sets,
            channels: BTreeMap::new(),
            loaded: TeamLoaded {
                needs,
                week: TeamWeek {
                    week: needs.week,
                    members: Vec::new(),
                },
                details: BTreeMap::new(),
                busiest: None,
            },
        })
    }

    pub(super) fn is_done(&self) -> bool {
        self.next >= self.ids.len()
    }

    /// Works the next portion out, as this view has it.
    pub(super) async fn step(&mut self, tx: &mut Tx, view: &View<'_>) -> Result<(), StoreError> {
        let end = self.ids.len().min(self.next + PORTION);
        let ids = &self.ids[self.next..end];
        let TeamNeeds { week, depth, .. } = self.loaded.needs;
        let catalogue = view.catalogue();
        let of_week = tx.week_of(view.team, ids, week, catalogue, view.today());
        let (members, of_week) = of_week.await?;
        if depth >= Depth::Concerns {
            let loaded = self.sets_and_plans(tx, view, ids).await?;
            let needs = &self.loaded.needs;
            let found = details(view, &loaded, &members, &of_week.members, needs);
            self.loaded.details.extend(found);
        }
        if depth >= Depth::Digest {
            let from = week.previous().first_day();
            for (channel, members, sets) in tx.channels_of(ids, from, week.last_day()).await? {
                let sum = self.channels.entry(channel).or_default();
                *sum = (sum.0 + members, sum.1 + sets);
            }
        }
        self.loaded.week.members.extend(of_week.members);
        self.next = end;
        Ok(())
    }

    /// What a portion's members did, and what coaches set for them.
    async fn sets_and_plans(
        &self,
        tx: &mut Tx,
        view: &View<'_>,
        ids: &[MemberId],
    ) -> Result<Loaded, StoreError> {
        let TeamNeeds { week, depth, .. } = self.loaded.needs;
        let catalogue = view.catalogue();
        let to = week.last_day();
        let from = match depth {
            // The week is told beside the one before it.
            Depth::Digest => week.previous().first_day(),
            _ => week.first_day(),
        };
        let later = to + Duration::weeks(1);
        let mut loaded = Loaded {
            has_sets: self.has_sets,
            team_days: tx.sets_of(ids, from, to, catalogue).await?,
            last_days: tx.last_days(ids).await?,
            trained: tx.trained_days(ids, from - USUAL_BACK, to).await?,
            past: tx.prescribed_of(ids, from, to).await?,
            coming: tx.prescribed_of(ids, later, later).await?,
            ..Loaded::default()
        };
        let sets = loaded.team_days.values().flatten();
        let mut trained: Vec<ExerciseId> = sets.map(|set| set.exercise).collect();
        trained.sort_unstable();
        trained.dedup();
        let trained: Vec<&str> = trained.into_iter().map(|id| view.name_of(id)).collect();
        loaded.team_beliefs = tx.beliefs_of(ids, &trained).await?;
        Ok(loaded)
    }

    /// All of it.
    pub(super) fn finish(mut self) -> Arc<TeamLoaded> {
        // The most members, and of several such channels the most sets.
        let busiest = self.channels.into_iter();
        let busiest = busiest.max_by_key(|(channel, counts)| (*counts, channel.clone()));
        self.loaded.busiest = busiest.map(|(channel, _)| channel);
        Arc::new(self.loaded)
    }
}

/// What was worked out before, without members who are gone by now: nothing is shown of them.
pub(super) async fn without_gone(
    tx: &mut Tx,
    team: &Team,
    loaded: &Arc<TeamLoaded>,
) -> Result<Arc<TeamLoaded>, StoreError> {
    let stay = tx.member_ids(team).await?;
    let stays = |id: &MemberId| stay.binary_search(id).is_ok();
    let mut loaded = Arc::clone(loaded);
    if !loaded.week.members.iter().all(|one| stays(&one.member.id)) {
        let loaded = Arc::make_mut(&mut loaded);
        loaded.week.members.retain(|one| stays(&one.member.id));
        loaded.details.retain(|id, _| stays(id));
    }
    Ok(loaded)
}

/// Whether an event shows a whole team that is large.
pub(super) async fn is_of_large_team(store: &Store, event: &Event) -> Result<bool, StoreError> {
    let Some(message) = whole_team(event) else {
        return Ok(false);
    };
    let mut tx = store.begin().await?;
    let team = tx.team(&message.team).await?;
    let ids = tx.member_ids(&team).await?;
    tx.rollback().await?;
    Ok(ids.len() > LARGE)
}

/// The message of a coach who asks for the whole team.
fn whole_team(event: &Event) -> Option<&Message> {
    let Event::Message(message) = event else {
        return None;
    };
    let shows = || {
        matches!(
            command::read(&message.text),
            Some(
                Command::Team(_)
                    | Command::Attention(AttentionCommand::Show(_))
                    | Command::Digest(DigestCommand::Show)
            )
        )
    };
    (message.coach && shows()).then_some(message)
}

/// Works out what a coach's message shows, in transactions of its own; `None` where it is answered otherwise.
pub(super) async fn prepare(
    readers: &Readers,
    store: &Store,
    message: &Message,
) -> Result<Option<Arc<TeamLoaded>>, StoreError> {
    let mut tx = store.begin().await?;
    let begun = begin(&mut tx, readers, message).await;
    tx.rollback().await?;
    let Some((ground, mut portions)) = begun? else {
        return Ok(None);
    };
    while !portions.is_done() {
        let mut tx = store.begin().await?;
        let stepped = portions.step(&mut tx, &ground.view()).await;
        tx.rollback().await?;
        stepped?;
        tokio::task::yield_now().await;
    }
    Ok(Some(portions.finish()))
}

/// Who asks, where and when.
struct Ground {
    team: Team,
    member: Member,
    reader: Arc<Reader>,
    now: DateTime<Utc>,
}

impl Ground {
    fn view(&self) -> View<'_> {
        view_of(&self.team, &self.member, &self.reader, self.now)
    }
}

/// How a list of a whole team is seen: nothing of the member who asks bears on it.
pub(super) fn view_of<'a>(
    team: &'a Team,
    member: &'a Member,
    reader: &'a Reader,
    now: DateTime<Utc>,
) -> View<'a> {
    View {
        team,
        member,
        reader,
        calendar: team.settings.calendar(),
        recent: &[],
        bell: None,
        now,
        others: &[],
    }
}

async fn begin(
    tx: &mut Tx,
    readers: &Readers,
    message: &Message,
) -> Result<Option<(Ground, Portions)>, StoreError> {
    let team = tx.team(&message.team).await?;
    let known = tx.member(&team, &message.author).await?;
    let answered = tx.remembered(&team, &message.id).await?.is_some();
    let Some(mut member) = known.filter(|_| !answered) else {
        return Ok(None);
    };
    member.coach = message.coach;
    let ground = Ground {
        reader: readers.reader_for(&team, &message.author),
        team,
        member,
        now: message.at,
    };
    let view = ground.view();
    let needs = intent::message(&view, &message.text).needs(&view);
    let Some(needs) = needs.team.filter(|needs| !needs.of_other) else {
        return Ok(None);
    };
    let ids = tx.member_ids(&ground.team).await?;
    let portions = Portions::begin(tx, &ground.team, ids, needs).await?;
    Ok(Some((ground, portions)))
}

/// Digests of large teams that are being worked out, by the job's key: a portion each time the job is taken up.
#[derive(Debug, Default)]
pub(super) struct Digests(Mutex<HashMap<String, (DateTime<Utc>, Portions)>>);

/// So many are worked out at once; of more, all begin again.
const AT_ONCE: usize = 64;

impl Digests {
    /// Works out one portion more of the digest that this job is for; all of it with the last, or at once where
    /// the team is small.
    pub(super) async fn step(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        needs: TeamNeeds,
        view: &View<'_>,
    ) -> Result<Option<Portions>, StoreError> {
        let begun = self.take(&job.key);
        let mut portions = match begun {
            Some((due, portions)) if due == job.due && portions.loaded.needs == needs => portions,
            _ => {
                let ids = tx.member_ids(view.team).await?;
                Portions::begin(tx, view.team, ids, needs).await?
            }
        };
        let is_large = portions.ids.len() > LARGE;
        if is_large && portions.is_done() {
            return Ok(Some(portions));
        }
        while !portions.is_done() {
            portions.step(tx, view).await?;
            if is_large {
                self.put(&job.key, job.due, portions);
                return Ok(None);
            }
        }
        Ok(Some(portions))
    }

    fn take(&self, key: &str) -> Option<(DateTime<Utc>, Portions)> {
        let mut digests = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        digests.remove(key)
    }

    fn put(&self, key: &str, due: DateTime<Utc>, portions: Portions) {
        let mut digests = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if digests.len() >= AT_ONCE {
            digests.clear();
        }
        digests.insert(key.to_owned(), (due, portions));
    }
}
