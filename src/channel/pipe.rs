//! The channel for programs: JSON objects, one a line, in and out.
//!
//! Time comes only from the lines, so a run can be replayed exactly. For each line in that is not
//! blank, any number of replies, updates and marks go out and then one `done`, all of it after the
//! commit; a bad line gets an `error`, then its `done`, changes nothing, and the pipe goes on.
//!
//! Lines that are queued share a commit, up to [`GROUP`] of them; their answers go out together.
//! When the input pauses, everything read so far has been answered and flushed, but for logs that are
//! being taken over (`beside`): other people's lines do not wait for these.
//!
//! A message can be sent again with its id when the program died before its `done`. A `clock` has
//! none: what it made happen is kept until it is flushed (`post`), and what a process left that is gone
//! is put out with a later `clock`, by the next run or by another process on the same database. Whoever
//! reads both runs tells what was out already by the replies' ids.

mod beside;
mod lines;
mod output;
mod post;
mod read;

use std::io;

use tokio::io::{AsyncRead, AsyncReadExt as _, AsyncWrite};
use tokio::sync::Mutex;

use super::gallery::Gallery;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::service::{Service, ServiceError, UseCase};
use beside::Beside;
pub use lines::{LONGEST_IMPORT, LONGEST_LINE, Line, Lines};
use output::{Output, put_answers, put_fault};
use post::Post;
use read::BadLine;

/// The most lines that share a commit. A disk takes some hundred commits a second, so more would
/// gain little and keep early answers waiting.
pub const GROUP: usize = 64;

/// How much is read at once, in bytes: what a pipe holds.
const CHUNK: usize = 64 * 1024;

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
    input: impl AsyncRead + Unpin,
    output: impl AsyncWrite + Unpin,
) -> io::Result<()> {
    let output = Output(Mutex::new(output));
    let beside = Beside::default();
    // Boxed: both hold all that an event may need on its way, and a test that awaits many of them would
    // not fit its stack.
    let reading = Box::pin(async {
        answer_all(service, gallery, &beside, input, &output).await?;
        beside.end();
        Ok(())
    });
    let working = Box::pin(beside.work(service, gallery, &output));
    tokio::try_join!(reading, working).map(drop)
}

/// Answers the lines one group after the other.
async fn answer_all<U: UseCase>(
    service: &Service<U>,
    gallery: &Gallery,
    beside: &Beside,
    mut input: impl AsyncRead + Unpin,
    output: &Output<impl AsyncWrite + Unpin>,
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
            beside.has_room().await;
            let mut read = Vec::with_capacity(group.len());
            for line in &group {
                match read::event(line) {
                    Ok(event) if beside.takes(service, &event).await => {
                        // It sees what stands before it.
                        answer(&mut post, std::mem::take(&mut read), gallery, output).await?;
                        beside.put(line.number, event);
                    }
                    event => read.push((line.number, event)),
                }
            }
            answer(&mut post, read, gallery, output).await?;
            post.flushed().await;
        }
        if over {
            return Ok(());
        }
    }
}

/// What a line comes to.
enum Entry {
    Fault(u64, BadLine),
    /// With the place of the event among those of its group.
    Answered(u64, usize, Event, Result<Vec<Outgoing>, ServiceError>),
}

/// Works on a group of lines and puts its output out. Lines do not wait for the picture of a later one.
async fn answer<U: UseCase>(
    post: &mut Post<'_, U>,
    read: Vec<(u64, Result<Event, BadLine>)>,
    gallery: &Gallery,
    out: &Output<impl AsyncWrite + Unpin>,
) -> io::Result<()> {
    let events = read.iter().filter_map(|(_, event)| event.as_ref().ok());
    let events: Vec<Event> = events.cloned().collect();
    let mut answers = post.handle(&events).await.into_iter().enumerate();
    let mut entries = Vec::with_capacity(read.len());
    for (number, event) in read {
        let event = match event {
            Ok(event) => event,
            Err(fault) => {
                entries.push(Entry::Fault(number, fault));
                continue;
            }
        };
        // As many answers as events.
        let Some((place, mut answer)) = answers.next() else {
            continue;
        };
        if let Ok(answer) = &mut answer
            && answer.iter().any(Outgoing::has_figures)
        {
            put_out(post, std::mem::take(&mut entries), out).await?;
            gallery.hang(answer).await;
        }
        entries.push(Entry::Answered(number, place, event, answer));
    }
    put_out(post, entries, out).await
}

/// Puts out what these lines came to. What jobs posted and another process has taken up meanwhile is left
/// to that one.
async fn put_out<U: UseCase>(
    post: &mut Post<'_, U>,
    mut entries: Vec<Entry>,
    out: &Output<impl AsyncWrite + Unpin>,
) -> io::Result<()> {
    let places = entries.iter().filter_map(|entry| match entry {
        Entry::Answered(_, place, ..) => Some(*place),
        Entry::Fault(..) => None,
    });
    let places: Vec<usize> = places.collect();
    let lost = post.begin(&places).await;
    for (at, gone) in lost {
        for entry in &mut entries {
            if let Entry::Answered(_, place, _, Ok(answers)) = entry
                && *place == at
            {
                answers.retain(|one| !is_one_of(one, &gone));
            }
        }
    }
    let mut output = Vec::new();
    for entry in entries {
        match entry {
            Entry::Fault(number, fault) => put_fault(&mut output, number, &fault)?,
            Entry::Answered(number, _, event, answers) => {
                put_answers(&mut output, number, &event, answers)?;
            }
        }
    }
    out.put_out(&output).await
}

/// Whether it is the same message, whose pictures may have been drawn since.
fn is_one_of(one: &Outgoing, others: &[Outgoing]) -> bool {
    let id = |one: &Outgoing| match one {
        Outgoing::Reply(reply) => (true, reply.id.clone()),
        Outgoing::Update(reply) => (false, reply.id.clone()),
        Outgoing::Mark(mark) => (false, mark.answers.clone()),
    };
    others.iter().any(|other| id(other) == id(one))
}
