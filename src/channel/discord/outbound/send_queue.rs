//! Send queues: for each channel one line of replies and one of signs, so that a slow channel holds up
//! no other. What waits for the same reply is sent once, as it was last committed. A line is open,
//! pauses because the platform does not answer, or is closed because the channel forbids it; nothing
//! is ever left out of it because it waits long.

use std::collections::{HashMap, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::sync::Notify;
use tokio::time::Instant;

use super::outbox::Ticket;
use crate::backoff::Backoff;
use crate::bot::reply::{Reply, Sign};
use crate::channel::discord::wire::Id;

/// A forbidden channel is tried again after this, twice as long each time …
const FIRST_PROBE: Duration = Duration::from_secs(5);
/// … up to this. The platform bans whoever is refused 10,000 times in ten minutes
/// (*topics/rate-limits#invalid-request-limit-aka-cloudflare-bans*).
const LONGEST_PROBE: Duration = Duration::from_secs(300);
/// When somebody writes in a forbidden channel it is tried again, but not more often than this.
const PROBE_ON_NEWS: Duration = Duration::from_secs(30);
/// Without an answer from the platform: the first pause, and the longest.
const FIRST_PAUSE: Duration = Duration::from_millis(500);
const LONGEST_PAUSE: Duration = Duration::from_secs(30);
/// Something that failed this often while the platform answered lets others of its line go first.
const STUBBORN: u32 = 3;
/// More than this in one line is told to the operator.
const LONG: usize = 10_000;

/// Something that waits to be sent.
pub(crate) trait Waiting {
    /// Whether both are about the same message.
    fn is_same(&self, other: &Self) -> bool;
    /// Becomes what both come to, whichever was committed later.
    fn merge(&mut self, other: Self);
    /// What goes first: the lowest.
    fn rank(&self) -> u8;
    /// Not before this.
    fn not_before(&mut self) -> &mut Option<Instant>;
    /// How often it failed.
    fn failures(&mut self) -> &mut u32;
}

/// A reply that waits.
#[derive(Debug)]
pub(crate) struct Job {
    pub(crate) reply: Reply,
    /// It changes one that may stand already.
    pub(crate) update: bool,
    /// It may have been posted: by an earlier run, or by a request whose answer was lost.
    pub(crate) check: bool,
    /// The message that it was posted in answer to.
    pub(crate) behind: Option<Id>,
    /// As what it may have been posted, besides what it says now.
    pub(crate) earlier: Vec<Reply>,
    pub(crate) tickets: Vec<Arc<Ticket>>,
    pub(crate) not_before: Option<Instant>,
    pub(crate) failures: u32,
}

impl Job {
    /// The row of its text.
    pub(crate) fn latest(&self) -> Option<&Arc<Ticket>> {
        self.tickets.iter().max_by(|a, b| a.order(b))
    }

    /// The bell: somebody is called by it.
    fn is_bell(&self) -> bool {
        !self.reply.mentions.is_empty() && !self.update
    }

    /// The running card: with advice, and nobody called by it.
    fn is_card(&self) -> bool {
        self.reply.advice.is_some() && self.reply.mentions.is_empty()
    }

    fn is_later_than(&self, other: &Self) -> bool {
        match (self.latest(), other.latest()) {
            (Some(own), Some(other)) => own.order(other).is_ge(),
            _ => true,
        }
    }
}

impl Waiting for Job {
    fn is_same(&self, other: &Self) -> bool {
        self.reply.id == other.reply.id && self.reply.team == other.reply.team
    }

    fn merge(&mut self, mut other: Self) {
        // A reply as it was at first is older than any change of it, also where it is told again.
        let has_text = match (self.update, other.update) {
            (true, false) => true,
            (false, true) => false,
            _ => self.is_later_than(&other),
        };
        // What may stand is changed; what stands nowhere is posted as it is now.
        self.update |= other.update && self.check;
        let calls = |one: &Self| one.reply.mentions.clone();
        let mentions = [calls(self), calls(&other)].concat();
        if !has_text {
            std::mem::swap(&mut self.reply, &mut other.reply);
        }
        if self.reply.mentions.is_empty() && !self.update {
            self.reply.mentions = mentions;
        }
        self.earlier.append(&mut other.earlier);
        if other.reply.text != self.reply.text {
            self.earlier.push(other.reply);
        }
        self.tickets.append(&mut other.tickets);
        self.behind = self.behind.or(other.behind);
        self.check |= other.check;
        self.not_before = None;
    }

    fn rank(&self) -> u8 {
        match (self.is_bell(), self.is_card()) {
            (true, _) => 0,
            (_, false) => 1,
            (_, true) => 2,
        }
    }

    fn not_before(&mut self) -> &mut Option<Instant> {
        &mut self.not_before
    }

    fn failures(&mut self) -> &mut u32 {
        &mut self.failures
    }
}

/// A sign that waits.
#[derive(Debug)]
pub(crate) struct SignJob {
    pub(crate) message: Id,
    pub(crate) sign: Sign,
    pub(crate) tickets: Vec<Arc<Ticket>>,
    pub(crate) not_before: Option<Instant>,
    pub(crate) failures: u32,
}

impl SignJob {
    pub(crate) fn latest(&self) -> Option<&Arc<Ticket>> {
        self.tickets.iter().max_by(|a, b| a.order(b))
    }
}

impl Waiting for SignJob {
    fn is_same(&self, other: &Self) -> bool {
        self.message == other.message
    }

    fn merge(&mut self, other: Self) {
        let later = match (self.latest(), other.latest()) {
            (Some(own), Some(other)) => other.order(own).is_ge(),
            _ => true,
        };
        if later {
            self.sign = other.sign;
        }
        self.tickets.extend(other.tickets);
        self.not_before = None;
    }

    fn rank(&self) -> u8 {
        0
    }

    fn not_before(&mut self) -> &mut Option<Instant> {
        &mut self.not_before
    }

    fn failures(&mut self) -> &mut u32 {
        &mut self.failures
    }
}

/// Whether a line goes on.
#[derive(Debug, Default)]
enum State {
    /// It does.
    #[default]
    Open,
    /// The platform does not answer; it is tried again then.
    Pausing { until: Instant, pauses: Backoff },
    /// The channel forbids it; it is tried again then, and was last tried at the other time.
    Closed {
        until: Instant,
        tried: Instant,
        pauses: Backoff,
    },
}

/// What is to be done with a line.
#[derive(Debug)]
pub(crate) enum Next<T> {
    /// This is to be sent.
    Send(T),
    /// Nothing before this moment, or before it is told.
    Wait(Instant, Arc<Notify>),
    /// Nothing waits; whoever puts something in begins anew.
    End,
}

/// Why something was not sent now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hindrance {
    /// The platform does not answer at all.
    NoAnswer,
    /// It answers that it failed.
    Failed,
    /// The channel forbids it.
    Forbidden,
    /// This one has to wait for something else, others of its line have not.
    NotYet(Duration),
}

/// What waits in one order.
#[derive(Debug)]
pub(crate) struct Line<T> {
    waiting: VecDeque<T>,
    working: bool,
    state: State,
    news: Arc<Notify>,
    told_long: bool,
}

impl<T> Default for Line<T> {
    fn default() -> Self {
        Self {
            waiting: VecDeque::new(),
            working: false,
            state: State::Open,
            news: Arc::default(),
            told_long: false,
        }
    }
}

impl<T: Waiting> Line<T> {
    /// Puts something in; whether somebody must begin to work on the line.
    pub(crate) fn put(&mut self, one: T, now: Instant) -> bool {
        match self
            .waiting
            .iter_mut()
            .find(|waiting| waiting.is_same(&one))
        {
            Some(waiting) => waiting.merge(one),
            None => self.waiting.push_back(one),
        }
        if self.waiting.len() > LONG && !std::mem::replace(&mut self.told_long, true) {
            tracing::warn!(waiting = self.waiting.len(), "much waits to be sent");
        }
        if let State::Closed { until, tried, .. } = &mut self.state {
            *until = (*until).min((*tried + PROBE_ON_NEWS).max(now));
        }
        self.news.notify_one();
        !std::mem::replace(&mut self.working, true)
    }

    /// What is to be done now.
    pub(crate) fn next(&mut self, now: Instant) -> Next<T> {
        if self.waiting.is_empty() {
            self.working = false;
            return Next::End;
        }
        let (State::Pausing { until, .. } | State::Closed { until, .. }) = self.state else {
            return self.first(now);
        };
        if until > now {
            return Next::Wait(until, Arc::clone(&self.news));
        }
        self.first(now)
    }

    fn first(&mut self, now: Instant) -> Next<T> {
        let mut earliest: Option<Instant> = None;
        let mut best: Option<(usize, u8)> = None;
        for (place, one) in self.waiting.iter_mut().enumerate() {
            let (not_before, rank) = (*one.not_before(), one.rank());
            match not_before {
                Some(at) if at > now => earliest = Some(earliest.map_or(at, |e| e.min(at))),
                _ if best.is_none_or(|(_, other)| rank < other) => best = Some((place, rank)),
                _ => {}
            }
        }
        match best.and_then(|(place, _)| self.waiting.remove(place)) {
            Some(one) => Next::Send(one),
            None => Next::Wait(earliest.unwrap_or(now), Arc::clone(&self.news)),
        }
    }

    /// Something was sent, or will never be.
    pub(crate) fn went_well(&mut self) {
        self.state = State::Open;
    }

    /// Something was not sent: it waits again, before all that came after it. What came meanwhile for
    /// the same message goes with it.
    pub(crate) fn put_back(&mut self, mut one: T, why: Hindrance, now: Instant) {
        let same = self
            .waiting
            .iter()
            .position(|waiting| waiting.is_same(&one));
        if let Some(newer) = same.and_then(|place| self.waiting.remove(place)) {
            one.merge(newer);
        }
        match why {
            Hindrance::NotYet(wait) => *one.not_before() = Some(now + wait),
            Hindrance::NoAnswer => self.pause(now),
            Hindrance::Failed => {
                *one.failures() += 1;
                self.pause(now);
                if *one.failures() > STUBBORN {
                    let waits = Backoff::between(FIRST_PAUSE, LONGEST_PAUSE);
                    *one.not_before() = Some(now + waits.after(*one.failures()).least());
                }
            }
            Hindrance::Forbidden => self.close(now),
        }
        self.waiting.push_front(one);
    }

    fn pause(&mut self, now: Instant) {
        let mut pauses = match std::mem::take(&mut self.state) {
            State::Pausing { pauses, .. } => pauses,
            _ => Backoff::between(FIRST_PAUSE, LONGEST_PAUSE),
        };
        let until = now + pauses.next();
        self.state = State::Pausing { until, pauses };
    }

    fn close(&mut self, now: Instant) {
        let mut pauses = match std::mem::take(&mut self.state) {
            State::Closed { pauses, .. } => pauses,
            _ => Backoff::between(FIRST_PROBE, LONGEST_PROBE),
        };
        let (until, tried) = (now + pauses.next(), now);
        self.state = State::Closed {
            until,
            tried,
            pauses,
        };
    }

    /// What the channel forbids may have changed: a closed line is tried at once.
    fn reopen(&mut self, now: Instant) {
        if let State::Closed { until, pauses, .. } = &mut self.state {
            *until = now;
            pauses.reset();
            self.news.notify_one();
        }
    }

    /// Whether the channel forbids what is in this line.
    pub(crate) const fn is_closed(&self) -> bool {
        matches!(self.state, State::Closed { .. })
    }

    fn is_idle(&self) -> bool {
        self.waiting.is_empty() && !self.working && !self.is_closed()
    }
}

/// The lines of a channel.
#[derive(Debug, Default)]
pub(crate) struct Lines {
    pub(crate) replies: Line<Job>,
    pub(crate) signs: Line<SignJob>,
}

/// The lines of all channels.
#[derive(Debug, Default)]
pub struct SendQueues {
    channels: Mutex<HashMap<Id, Lines>>,
}

impl SendQueues {
    fn channels(&self) -> MutexGuard<'_, HashMap<Id, Lines>> {
        self.channels.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Does something with the lines of a channel.
    pub(crate) fn with<R>(&self, channel: Id, work: impl FnOnce(&mut Lines) -> R) -> R {
        let mut channels = self.channels();
        let lines = channels.entry(channel).or_default();
        let done = work(lines);
        if lines.replies.is_idle() && lines.signs.is_idle() {
            channels.remove(&channel);
        }
        done
    }

    /// What channels forbid may have changed: of one, or of all.
    pub fn reopen(&self, channel: Option<Id>) {
        let now = Instant::now();
        for (id, lines) in self.channels().iter_mut() {
            if channel.is_none_or(|channel| channel == *id) {
                lines.replies.reopen(now);
                lines.signs.reopen(now);
            }
        }
    }

    /// Whether replies are being sent into a channel, or wait to be.
    pub(crate) fn are_sending(&self, channel: Id) -> bool {
        let channels = self.channels();
        channels
            .get(&channel)
            .is_some_and(|lines| lines.replies.working)
    }

    /// Whether nothing waits or is being sent that could be sent now.
    pub fn are_empty(&self) -> bool {
        let channels = self.channels();
        channels
            .values()
            .all(|lines| !lines.replies.working && !lines.signs.working)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::channel::discord::outbound::outbox::Outbox;
    use chrono::DateTime;

    fn job(text: &str, update: bool, check: bool) -> Job {
        let reply = Reply {
            text: text.to_owned(),
            ..Reply::default()
        };
        Job {
            reply,
            update,
            check,
            behind: None,
            earlier: Vec::new(),
            tickets: Vec::new(),
            not_before: None,
            failures: 0,
        }
    }

    fn ticketed(outbox: &Outbox, key: &str, id: i64, job: Job) -> Job {
        let ticket = outbox.hold(key.to_owned(), DateTime::UNIX_EPOCH, 1, id);
        Job {
            tickets: vec![ticket],
            ..job
        }
    }

    #[tokio::test]
    async fn what_waits_is_sent_once_as_it_was_last_committed() {
        for (waiting, later, text, update) in [
            (job("a", false, false), job("b", true, false), "b", false),
            // The first may stand: what it is now must be put in its place.
            (job("a", false, true), job("b", true, false), "b", true),
            (job("b", true, false), job("c", true, false), "c", true),
            // The first once more, behind its change.
            (job("b", true, false), job("a", false, true), "b", true),
        ] {
            let outbox = Outbox::default();
            let mut one = ticketed(&outbox, "1", 0, waiting);
            one.merge(ticketed(&outbox, "2", 0, later));
            assert_eq!((one.reply.text.as_str(), one.update), (text, update));
            assert_eq!(one.tickets.len(), 2);
        }
    }

    #[tokio::test]
    async fn an_older_text_that_comes_later_changes_nothing() {
        let outbox = Outbox::default();
        let mut one = ticketed(&outbox, "m/9", 0, job("new", true, false));
        one.merge(ticketed(&outbox, "m/5", 5, job("old", true, true)));
        assert_eq!(one.reply.text, "new");
        assert!(one.earlier.iter().any(|reply| reply.text == "old"));
        let mut one = ticketed(&outbox, "m/7", 7, job("newer", true, true));
        one.merge(ticketed(&outbox, "m/6", 6, job("older", true, true)));
        assert_eq!(one.reply.text, "newer");
    }

    #[test]
    fn a_call_outlives_a_change_before_it_is_made() {
        let mut bell = job("rest over", false, false);
        bell.reply.mentions = vec!["1".to_owned()];
        bell.merge(job("rest over, 80 kg", true, false));
        assert_eq!(bell.reply.mentions, ["1"]);
    }

    fn numbered(n: u32) -> Job {
        let mut one = job("a", false, false);
        one.reply.id = n.to_string();
        one
    }

    fn send(line: &mut Line<Job>, now: Instant) -> Option<Job> {
        match line.next(now) {
            Next::Send(job) => Some(job),
            _ => None,
        }
    }

    #[tokio::test]
    async fn a_closed_line_is_tried_seldom_and_at_once_when_it_may_have_changed() {
        let (mut line, begun) = (Line::default(), Instant::now());
        for n in 0..100 {
            line.put(numbered(n), begun);
        }
        let (mut now, mut tries) = (begun, 0);
        while now < begun + Duration::from_secs(3600) {
            if let Some(job) = send(&mut line, now) {
                tries += 1;
                line.put_back(job, Hindrance::Forbidden, now);
            }
            now += Duration::from_secs(1);
        }
        assert!((10..=20).contains(&tries), "{tries} in an hour");
        line.reopen(now);
        let mut sent = Vec::new();
        while let Some(job) = send(&mut line, now) {
            line.went_well();
            sent.push(job.reply.id);
        }
        let all: Vec<String> = (0..100).map(|n| n.to_string()).collect();
        assert_eq!(sent, all, "in order, and all");
    }

    #[tokio::test]
    async fn a_stubborn_one_lets_others_go_first_and_an_outage_keeps_the_order() {
        let (mut line, mut now) = (Line::default(), Instant::now());
        // With what is added by chance.
        let longest = LONGEST_PAUSE + LONGEST_PAUSE / 4;
        line.put(numbered(1), now);
        line.put(numbered(2), now);
        for _ in 0..10 {
            let job = send(&mut line, now).expect("one");
            assert_eq!(job.reply.id, "1");
            line.put_back(job, Hindrance::NoAnswer, now);
            assert!(send(&mut line, now).is_none());
            now += longest;
        }
        for _ in 0..=STUBBORN {
            let job = send(&mut line, now).expect("one");
            line.put_back(job, Hindrance::Failed, now);
            now += longest;
        }
        line.went_well();
        line.put_back(numbered(1), Hindrance::NotYet(Duration::from_secs(5)), now);
        assert_eq!(send(&mut line, now).expect("one").reply.id, "2");
    }
}
