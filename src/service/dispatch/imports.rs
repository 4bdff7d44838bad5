//! Taking a log over that is kept elsewhere, beside all other events.
//!
//! What takes long happens outside of any transaction or in a thread of its own: members are read one
//! after the other, their logs in pages, learned with the new sets in them, and the new sets staged
//! ([`crate::store::imports`]). One small transaction then looks whether all of it still stands, stores what was
//! learned, shows the sets and keeps the answer. Who posted meanwhile is read and learned anew; nobody
//! else is. So it is all or nothing, and nobody waits for more than some hundred rows.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use chrono::{DateTime, Utc};
use tokio::task::{JoinHandle, spawn_blocking};
use tokio::time::timeout;

use super::bot::Bot;
use super::message::{handle_message, is_erased};
use super::run::plan_digest;
use crate::bot::event::{Event, Message};
use crate::bot::handlers::import::{self, Learned, Log, Taken};
use crate::bot::needs::{Loaded, Source};
use crate::bot::reply::Outgoing;
use crate::bot::state::view::View;
use crate::bot::state::{Change, DigestJob, LogEntry, Member, Remembered, Team};
use crate::domain::quantities::id::MemberId;
use crate::message::Reader;
use crate::service::ServiceError;
use crate::service::prepared::{Import, Prepared, Progress, Ready};
use crate::store::imports::{ImportId, STAGED_AT_ONCE};
use crate::store::{Store, StoreError, Tx};

/// A log is read in pages of so many sets.
const PAGE: u32 = 2048;
/// So often the lease of an import is renewed while its sets are learned.
const RENEWED: Duration = Duration::from_secs(5);
/// From so many sets on it is told how far it has come.
const TOLD_FROM: usize = 2000;

/// Whether an event brings a log.
pub(super) fn is_import(event: &Event) -> bool {
    let Event::Message(message) = event else {
        return false;
    };
    let word = message.text.trim_start().as_bytes().get(..7);
    message.coach && word.is_some_and(|word| word.eq_ignore_ascii_case(b"/import"))
}

/// Who brings what, for threads of their own.
struct Ground {
    team: Team,
    coach: Member,
    reader: Arc<Reader>,
    source: Source,
    now: DateTime<Utc>,
}

impl Ground {
    fn view<'a>(&'a self, member: &'a Member) -> View<'a> {
        View {
            team: &self.team,
            member,
            reader: &self.reader,
            calendar: self.team.settings.calendar(),
            recent: &[],
            bell: None,
            now: self.now,
            others: &[],
        }
    }
}

/// Reads, learns and stages a log. `before` is what was prepared before and no longer stands.
pub(super) async fn prepare(
    bot: &Bot,
    store: &Store,
    message: &Message,
    before: Option<Prepared>,
    progress: &Progress,
) -> Result<Prepared, ServiceError> {
    let before = before.and_then(|before| before.import);
    let mut begun = before.as_ref().and_then(|before| before.staged);
    let prepared = stage_all(bot, store, message, (before, &mut begun), progress).await;
    if let (Err(_), Some(begun)) = (&prepared, begun) {
        // What failed matters more; it is cleared later where it cannot be now.
        drop(store.drop_import(begun).await);
    }
    prepared
}

/// `begun` tells, also where this fails, which import has anything staged.
async fn stage_all(
    bot: &Bot,
    store: &Store,
    message: &Message,
    (before, begun): (Option<Import>, &mut Option<ImportId>),
    progress: &Progress,
) -> Result<Prepared, ServiceError> {
    let log = match &before {
        Some(import) => Arc::clone(&import.log),
        None => {
            let text = message.text.clone();
            let Some(log) = done(spawn_blocking(move || Log::read(&text))).await? else {
                return Ok(Prepared::default());
            };
            store.drop_left_imports().await?;
            Arc::new(log)
        }
    };
    let Some((ground, members)) = begin(bot, store, message).await? else {
        if let Some(import) = before {
            let_go(store, import).await?;
        }
        return Ok(Prepared::default());
    };
    let (staged, mut before) = match before {
        Some(import) if import.settings == ground.team.settings => (import.staged, import.members),
        Some(import) => {
            let_go(store, import).await?;
            (None, BTreeMap::new())
        }
        None => (None, BTreeMap::new()),
    };
    let logs = read_logs(store, &ground, &log, &members, &mut before).await?;
    let taken = take(&ground, &log, &members, &logs).await?;
    let staged = match (taken.sets.is_empty(), staged) {
        (false, None) => Some(store.begin_import(&ground.team).await?),
        (_, staged) => staged,
    };
    *begun = staged;
    let mut import = Import {
        log,
        settings: ground.team.settings.clone(),
        staged,
        members: BTreeMap::new(),
        out: taken.out,
    };
    let of_all = taken.sets.values().map(Vec::len).sum();
    let mut of_done = 0;
    let mut tell = |new: usize| {
        of_done += new;
        if of_all >= TOLD_FROM {
            let (team, author) = (&message.team, &message.author);
            let reply = import::progress(team, &ground.source, author, (of_done, of_all));
            progress.tell(reply);
        }
    };
    tell(0);
    let mut taken = taken.sets;
    for (member, version) in members {
        let (sets, old) = (taken.remove(&member.id), before.remove(&member.id));
        let stands = old.as_ref().is_some_and(|old| {
            old.version == version && sets.as_ref().is_some_and(|sets| *sets == *old.sets)
        });
        if let (Some(import), Some(old)) = (staged, &old)
            && old.learned.is_some()
            && !stands
        {
            store.unstage(import, Some(&member)).await?;
        }
        let (Some(sets), Some(staged)) = (sets, staged) else {
            continue;
        };
        if let (true, Some(old)) = (stands, old) {
            tell(sets.len());
            import.members.insert(member.id, old);
            continue;
        }
        let before = logs.get(&member.id).cloned().unwrap_or_default();
        let mut ready = Ready {
            author: member.author.clone(),
            version,
            before,
            sets: Arc::new(sets),
            learned: None,
        };
        let member = Arc::new(member);
        let learned = learn(store, staged, &ground, &member, &ready).await?;
        let catalogue = ground.reader.catalogue();
        for some in learned.filed.chunks(STAGED_AT_ONCE) {
            let whose = (&ground.team, &*member);
            store.stage(staged, whose, some, catalogue).await?;
            tell(some.len());
        }
        ready.learned = Some(learned);
        import.members.insert(member.id, ready);
    }
    if progress.has_reported() {
        let (team, author) = (&message.team, &message.author);
        let over = import::progress_over(team, &ground.source, author);
        import.out.push(Outgoing::Update(over));
    }
    Ok(Prepared {
        import: Some(import),
        ..Prepared::default()
    })
}

/// What a thread of its own came to.
async fn done<T>(thread: JoinHandle<T>) -> Result<T, ServiceError> {
    // It panicked; its panic was printed.
    thread.await.map_err(|_| ServiceError::Fault)
}

/// Who brings the log, and the team's members with how often anything of them was written; `None` where
/// the message is not to be worked on as one that brings a log.
async fn begin(
    bot: &Bot,
    store: &Store,
    message: &Message,
) -> Result<Option<(Arc<Ground>, Vec<(Member, i64)>)>, ServiceError> {
    let mut tx = store.begin().await?;
    let team = tx.team(&message.team).await?;
    if tx.is_new(&team) {
        plan_digest(&mut tx, &team, &DigestJob::default(), message.at).await?;
    }
    if tx.remembered(&team, &message.id).await?.is_some()
        || is_erased(&mut tx, &team, message).await?
    {
        tx.rollback().await?;
        return Ok(None);
    }
    let coach = tx
        .member_or_new(&team, &message.author, &message.name, message.coach)
        .await?;
    let members = tx.members_counted(&team).await?;
    tx.commit().await?;
    let source = Source {
        channel: message.channel.clone(),
        answers: Some(message.id.clone()),
        stem: message.id.clone(),
    };
    let ground = Ground {
        reader: bot.reader_of(&team),
        team,
        coach,
        source,
        now: message.at,
    };
    Ok(Some((Arc::new(ground), members)))
}

type Logs = BTreeMap<MemberId, Arc<Vec<LogEntry>>>;

/// The logs of the members whom a log names. What was read of members before stands where nothing of
/// theirs was written since.
async fn read_logs(
    store: &Store,
    ground: &Arc<Ground>,
    log: &Arc<Log>,
    members: &[(Member, i64)],
    before: &mut BTreeMap<MemberId, Ready>,
) -> Result<Logs, ServiceError> {
    let of = Arc::clone(log);
    let names = done(spawn_blocking(move || of.names())).await?;
    let catalogue = ground.reader.catalogue();
    let mut logs = Logs::new();
    for (member, version) in members {
        if let Some(old) = before.get(&member.id)
            && old.version == *version
        {
            logs.insert(member.id, Arc::clone(&old.before));
            continue;
        }
        if !names.iter().any(|name| member.is_called(name)) {
            continue;
        }
        let mut sets: Vec<LogEntry> = Vec::new();
        loop {
            let last = sets.last();
            let last = last.and_then(|last| Some((last.set.at, last.set.id?)));
            let mut tx = store.begin().await?;
            let page = tx.sets_after(member, last, PAGE, catalogue).await?;
            tx.rollback().await?;
            let is_last = page.len() < PAGE as usize;
            sets.extend(page);
            if is_last {
                break;
            }
        }
        logs.insert(member.id, Arc::new(sets));
    }
    Ok(logs)
}

/// What is to be filed of the log, decided in a thread of its own.
async fn take(
    ground: &Arc<Ground>,
    log: &Arc<Log>,
    members: &[(Member, i64)],
    logs: &Logs,
) -> Result<Taken, ServiceError> {
    let (ground, log, logs) = (Arc::clone(ground), Arc::clone(log), logs.clone());
    let members = members.iter().map(|(member, _)| member.clone()).collect();
    done(spawn_blocking(move || {
        let logs = logs.into_iter();
        let loaded = Loaded {
            members,
            logs: logs.map(|(id, log)| (id, log.to_vec())).collect(),
            ..Loaded::default()
        };
        import::take(&ground.view(&ground.coach), &ground.source, &loaded, &log)
    }))
    .await
}

/// Learns a member's log with the new sets in it, in a thread of its own.
async fn learn(
    store: &Store,
    staged: ImportId,
    ground: &Arc<Ground>,
    member: &Arc<Member>,
    ready: &Ready,
) -> Result<Arc<Learned>, ServiceError> {
    let (ground, member) = (Arc::clone(ground), Arc::clone(member));
    let (before, sets) = (Arc::clone(&ready.before), Arc::clone(&ready.sets));
    let mut learning =
        spawn_blocking(move || import::learn(&ground.view(&member), &before, sets.to_vec()));
    loop {
        match timeout(RENEWED, &mut learning).await {
            Ok(learned) => return Ok(Arc::new(learned.map_err(|_| ServiceError::Fault)?)),
            Err(_) => store.renew_import(staged).await?,
        }
    }
}

/// Stores what was learned, shows what is staged, and keeps the answer; `None` where something was written
/// since it was prepared.
pub(super) async fn finish(
    tx: &mut Tx,
    bot: &Bot,
    message: &Message,
    import: &Import,
) -> Result<Option<Vec<Outgoing>>, ServiceError> {
    let team = tx.team(&message.team).await?;
    if tx.remembered(&team, &message.id).await?.is_some() || is_erased(tx, &team, message).await? {
        return handle_message(tx, bot, message, None).await.map(Some);
    }
    if team.settings != import.settings {
        return Ok(None);
    }
    let authors = import.members.values().map(|ready| ready.author.as_str());
    let authors: Vec<&str> = authors.chain([message.author.as_str()]).collect();
    tx.prefetch_members(&team, &authors).await?;
    for (id, ready) in &import.members {
        let member = tx.member(&team, &ready.author).await?;
        let version = member.as_ref().and_then(|member| tx.version_of(member));
        if version != Some(ready.version) || member.is_none_or(|member| member.id != *id) {
            return Ok(None);
        }
    }
    tx.member_or_new(&team, &message.author, &message.name, message.coach)
        .await?;
    if let Some(staged) = import.staged {
        tx.show_import(staged).await?;
    }
    let reader = bot.reader_of(&team);
    let catalogue = reader.catalogue();
    for ready in import.members.values() {
        let (Some(member), Some(learned)) =
            (tx.member(&team, &ready.author).await?, &ready.learned)
        else {
            return Ok(None);
        };
        tx.judge_all(&team, &member, &learned.judged, catalogue)
            .await?;
        let mut learned_of = Member {
            condition: learned.condition.clone(),
            ..member.clone()
        };
        learned_of.state.bests.clone_from(&learned.bests);
        learned_of.state.cuts.clone_from(&learned.cuts);
        let changes = [
            Change::Beliefs(learned.beliefs.clone()),
            Change::Checkpoints(learned.checkpoints.clone()),
            Change::Member(Box::new(learned_of)),
        ];
        tx.apply(&team, &member, &changes, catalogue).await?;
    }
    let mut out = import.out.clone();
    bot.files.put(&message.author, &mut out)?;
    let kept = Remembered {
        author: message.author.clone(),
        channel: message.channel.clone(),
        at: message.at,
    };
    tx.remember(&team, &message.id, &kept, &out).await?;
    Ok(Some(out))
}

/// Takes out what is staged and will not be shown. Where it was shown there is nothing to take out.
pub(super) async fn let_go(store: &Store, import: Import) -> Result<(), StoreError> {
    match import.staged {
        Some(staged) => store.drop_import(staged).await,
        None => Ok(()),
    }
}
