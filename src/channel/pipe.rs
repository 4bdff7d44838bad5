//! The channel for programs: JSON objects, one a line, in and out.
//!
//! Time comes only from the lines, so a run can be replayed exactly. For each line in that is not
//! blank, any number of replies, updates and marks go out and then one `done`, all of it after the
//! commit; a bad line gets an `error`, then its `done`, changes nothing, and the pipe goes on.
//!
//! Lines that are queued share a commit, up to [`GROUP`] of them; their answers go out together.
//! When the input pauses, everything read so far has been answered and flushed.
//!
//! A message can be sent again with its id when the program died before its `done`. A `clock` has
//! none: what it made happen is kept until it is flushed, and what a run left is put out with the
//! first `clock` of the next. Whoever reads both runs tells what was out already by the replies' ids.

mod lines;
mod read;

use std::io;
use std::sync::atomic::Ordering;
use std::time::Duration;

use chrono::{DateTime, Utc};
use serde::Serialize;
use tokio::io::{AsyncRead, AsyncReadExt as _, AsyncWrite, AsyncWriteExt as _};

use super::gallery::Gallery;
use crate::bot::LATEST_BELL;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::jobs::{self, Keep, Worker};
use crate::service::{Service, ServiceError, UseCase};
use crate::store::StoreError;
pub use lines::{LONGEST_IMPORT, LONGEST_LINE, Line, Lines};
use read::BadLine;

/// The most lines that share a commit. A disk takes some hundred commits a second, so more would
/// gain little and keep early answers waiting.
pub const GROUP: usize = 64;

/// How much is read at once, in bytes: what a pipe holds.
const CHUNK: usize = 64 * 1024;

/// What goes out beside the bot's own messages.
#[derive(Serialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum Note<'a> {
    Error {
        line: u64,
        message: &'a str,
    },
    Done {
        id: Option<&'a str>,
        at: Option<DateTime<Utc>>,
    },
}

/// Answers every line of `input` on `output`, until it ends.
///
/// # Errors
/// When reading or writing fails. What was answered is stored; of lines read but not answered, each
/// is stored whole or not at all, and can be sent again with the same id.
pub async fn run<U: UseCase>(
    service: &Service<U>,
    input: impl AsyncRead + Unpin,
    output: impl AsyncWrite + Unpin,
) -> io::Result<()> {
    run_with_pictures(service, &Gallery::default(), input, output).await
}

/// [`run`], with pictures put into a gallery: without one, replies go out without them.
///
/// # Errors
/// As [`run`].
pub async fn run_with_pictures<U: UseCase>(
    service: &Service<U>,
    gallery: &Gallery,
    mut input: impl AsyncRead + Unpin,
    mut output: impl AsyncWrite + Unpin,
) -> io::Result<()> {
    let mut lines = Lines::default();
    let mut chunk = Vec::with_capacity(CHUNK);
    let mut post = Post::new(service);
    loop {
        chunk.clear();
        let over = input.read_buf(&mut chunk).await? == 0;
        if over {
            lines.finish();
        } else {
            lines.push(&chunk);
        }
        loop {
            let group = lines.take(GROUP);
            if group.is_empty() {
                break;
            }
            let answers = answer(&mut post, &group, gallery, &mut output).await?;
            output.write_all(&answers).await?;
            output.flush().await?;
            post.flushed().await;
        }
        if over {
            return Ok(());
        }
    }
}

/// What jobs post, on its way out.
struct Post<'a, U> {
    worker: Worker<'a, U>,
    /// Put out with the next flush.
    kept: Vec<String>,
    /// Whether what an earlier run left was looked for.
    looked: bool,
}

impl<'a, U: UseCase> Post<'a, U> {
    const fn new(service: &'a Service<U>) -> Self {
        let keep = Keep {
            via: VIA,
            lease: LEASE,
        };
        Self {
            worker: Worker::new(service, VIA, Some(keep)),
            kept: Vec::new(),
            looked: false,
        }
    }

    async fn handle(&mut self, events: &[Event]) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
        let clock = events.iter().position(jobs::is_clock);
        let left = match clock.and_then(|place| events.get(place)) {
            Some(event) if !self.looked => self.left(event.at()).await,
            _ => Vec::new(),
        };
        let waits = &self.worker.service().tally().waits;
        let before = waits.load(Ordering::Relaxed);
        let mut answers = jobs::handle(&self.worker, events, &mut self.kept).await;
        // Where the database went away in the moment of a commit, it may hold more than was told.
        self.looked &= waits.load(Ordering::Relaxed) == before;
        if let Some(Ok(answer)) = clock.and_then(|place| answers.get_mut(place)) {
            answer.splice(0..0, left);
        }
        answers
    }

    /// What was committed and not flushed, by an earlier run or while the database went away.
    async fn left(&mut self, now: DateTime<Utc>) -> Vec<Outgoing> {
        let store = self.worker.service().store();
        let unsent = async {
            let mut tx = store.begin().await?;
            let unsent = tx.unsent(VIA).await?;
            tx.rollback().await?;
            Ok::<_, StoreError>(unsent)
        };
        let unsent = match unsent.await {
            Ok(unsent) => unsent,
            Err(error) => {
                tracing::warn!(%error, "it cannot be seen what an earlier run left");
                return Vec::new();
            }
        };
        self.looked = true;
        let mut left = Vec::new();
        for one in unsent {
            if self.kept.contains(&one.key) {
                continue;
            }
            let stale = now - one.at >= LATEST_BELL;
            let mut out = one.outgoing;
            out.retain(|one| !stale || !rings(one));
            left.extend(out);
            self.kept.push(one.key);
        }
        left
    }

    /// All that was handled is out.
    async fn flushed(&mut self) {
        if self.kept.is_empty() {
            return;
        }
        let store = self.worker.service().store();
        let dropped = async {
            let mut tx = store.begin().await?;
            tx.drop_unsent(&self.kept).await?;
            tx.commit().await
        };
        match dropped.await {
            Ok(()) => self.kept.clear(),
            Err(error) => tracing::warn!(%error, "what is out stays kept; it is tried again"),
        }
    }
}

/// What the outbox calls this channel.
const VIA: &str = "pipe";
/// Means nothing here: what a run left is put out by the next, whenever that is.
const LEASE: Duration = Duration::from_secs(60);

fn rings(one: &Outgoing) -> bool {
    matches!(one, Outgoing::Reply(reply) if !reply.mentions.is_empty())
}

/// The output for a group of lines, but for what has been put out already: lines do not wait for the
/// picture of a later one.
async fn answer<U: UseCase>(
    post: &mut Post<'_, U>,
    group: &[Line],
    gallery: &Gallery,
    out: &mut (impl AsyncWrite + Unpin),
) -> io::Result<Vec<u8>> {
    let mut events = Vec::with_capacity(group.len());
    let mut faults = Vec::new();
    for line in group {
        match read::event(line) {
            Ok(event) => {
                faults.push(None);
                events.push(event);
            }
            Err(fault) => faults.push(Some(fault)),
        }
    }
    let mut answered = events.iter().zip(post.handle(&events).await);
    let mut output = Vec::new();
    for (line, fault) in group.iter().zip(faults) {
        match fault {
            Some(fault) => put_fault(&mut output, line.number, &fault)?,
            // As many answers as events.
            None => {
                if let Some((event, mut answers)) = answered.next() {
                    if let Ok(answers) = &mut answers
                        && answers.iter().any(Outgoing::has_figures)
                    {
                        out.write_all(&output).await?;
                        out.flush().await?;
                        output.clear();
                        gallery.hang(answers).await;
                    }
                    put_answers(&mut output, line.number, event, answers)?;
                }
            }
        }
    }
    Ok(output)
}

fn put_fault(output: &mut Vec<u8>, line: u64, fault: &BadLine) -> io::Result<()> {
    let message = &fault.message;
    put(output, &Note::Error { line, message })?;
    let (id, at) = (fault.id.as_deref(), fault.at);
    put(output, &Note::Done { id, at })
}

fn put_answers(
    output: &mut Vec<u8>,
    line: u64,
    event: &Event,
    answers: Result<Vec<Outgoing>, ServiceError>,
) -> io::Result<()> {
    match answers {
        Ok(answers) => {
            for answer in &answers {
                put(output, answer)?;
            }
        }
        Err(error) => {
            let message = &error.to_string();
            put(output, &Note::Error { line, message })?;
        }
    }
    let (id, at) = (event.id(), Some(event.at()));
    put(output, &Note::Done { id, at })
}

fn put(output: &mut Vec<u8>, note: &impl Serialize) -> io::Result<()> {
    serde_json::to_writer(&mut *output, note)?;
    output.push(b'\n');
    Ok(())
}
