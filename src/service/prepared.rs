//! What is worked out for an event before the transaction that carries it out.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use tokio::sync::mpsc::UnboundedSender;
use tokio::time::Instant;

use crate::bot::handlers::import::{Learned, Log};
use crate::bot::needs::TeamLoaded;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::{LogEntry, TeamSettings};
use crate::domain::quantities::id::MemberId;
use crate::store::imports::ImportId;

/// How far an event has come is reported once in so long.
const REPORT_EVERY: Duration = Duration::from_secs(3);
/// What was prepared for an event, outside of the transaction that carries it out.
#[derive(Debug, Default)]
pub struct Prepared {
    pub(super) import: Option<Import>,
    /// A large team's week.
    pub(super) team: Option<Arc<TeamLoaded>>,
}

/// Tells how far an event has come, to whoever wants to know.
#[derive(Debug, Default)]
pub struct Progress {
    to: Option<UnboundedSender<Outgoing>>,
    last: Mutex<Option<Instant>>,
    /// What is reported is not to be taken back.
    fades: bool,
}

impl Progress {
    /// Reports here: first a reply, then changes of it.
    pub fn reporting_to(to: UnboundedSender<Outgoing>) -> Self {
        Self {
            to: Some(to),
            ..Self::default()
        }
    }

    /// The same where the answer itself takes the place of what is reported.
    pub fn shown_to(to: UnboundedSender<Outgoing>) -> Self {
        Self {
            fades: true,
            ..Self::reporting_to(to)
        }
    }

    /// Reports it, unless something was reported a moment ago.
    pub(super) fn tell(&self, reply: Reply) {
        let Some(to) = &self.to else { return };
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        let one = match *last {
            Some(at) if at.elapsed() < REPORT_EVERY => return,
            Some(_) => Outgoing::Update(reply),
            None => Outgoing::Reply(reply),
        };
        *last = Some(Instant::now());
        // Nobody listens any more where the program ends.
        drop(to.send(one));
    }

    /// Whether anything was reported that is to be taken back.
    pub(super) fn has_reported(&self) -> bool {
        let last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        last.is_some() && !self.fades
    }
}

/// A log that is read, learned and staged, and waits to be shown.
#[derive(Debug)]
pub(super) struct Import {
    pub(super) log: Arc<Log>,
    pub(super) settings: TeamSettings,
    /// `None` where there is nothing to file.
    pub(super) staged: Option<ImportId>,
    pub(super) members: BTreeMap<MemberId, Ready>,
    pub(super) out: Vec<Outgoing>,
}

/// What is to become of one member.
#[derive(Debug)]
pub(super) struct Ready {
    pub(super) author: String,
    /// How often anything of the member was written when that was read.
    pub(super) version: i64,
    pub(super) before: Arc<Vec<LogEntry>>,
    /// The sets as the log gives them.
    pub(super) sets: Arc<Vec<LogEntry>>,
    pub(super) learned: Option<Arc<Learned>>,
}
