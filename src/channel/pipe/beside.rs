//! Lines that are much work, beside all others.
//!
//! A log of a hundred thousand sets takes seconds. Other lines are answered meanwhile, and what comes of the log
//! goes out when it is done, under its id like everything else. What the same person sends after it waits
//! behind it, and so does a change of that very message: the order of what one person says stays.

use std::collections::VecDeque;
use std::io;
use std::pin::pin;
use std::sync::{Mutex, MutexGuard, PoisonError};

use tokio::io::AsyncWrite;
use tokio::sync::{Notify, mpsc};

use super::output::{Output, put, put_answers};
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::channel::gallery::Gallery;
use crate::service::long::Progress;
use crate::service::{Service, ServiceError, UseCase};

/// The most lines that wait behind a log; then the pipe is read no further.
const WAITING: usize = 1024;

/// The lines that are worked on beside the others, in order.
#[derive(Debug, Default)]
pub(super) struct Beside {
    state: Mutex<State>,
    changed: Notify,
}

#[derive(Debug, Default)]
struct State {
    /// The first is being worked on.
    lines: VecDeque<(u64, Event)>,
    /// No more will come.
    over: bool,
}

impl Beside {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether an event is to be [put](Self::put) here: it is much work, or waits for one that is.
    pub(super) async fn takes<U: UseCase>(&self, service: &Service<U>, event: &Event) -> bool {
        let waits = {
            let lines = &self.state().lines;
            lines.iter().any(|(_, earlier)| is_behind(event, earlier))
        };
        waits || service.is_long(event).await
    }

    /// Takes over the event of a line.
    pub(super) fn put(&self, line: u64, event: Event) {
        self.state().lines.push_back((line, event));
        self.changed.notify_waiters();
    }

    /// Waits until there is room for more lines.
    pub(super) async fn has_room(&self) {
        self.until(|state| (state.lines.len() < WAITING).then_some(()))
            .await;
    }

    /// No more lines will come.
    pub(super) fn end(&self) {
        self.state().over = true;
        self.changed.notify_waiters();
    }

    async fn until<T>(&self, ready: impl Fn(&State) -> Option<T>) -> T {
        let mut changed = pin!(self.changed.notified());
        loop {
            changed.as_mut().enable();
            if let Some(found) = ready(&self.state()) {
                return found;
            }
            changed.as_mut().await;
            changed.set(self.changed.notified());
        }
    }

    /// Works on what comes, until no more will.
    pub(super) async fn work<U: UseCase>(
        &self,
        service: &Service<U>,
        gallery: &Gallery,
        out: &Output<impl AsyncWrite + Unpin>,
    ) -> io::Result<()> {
        let next = |state: &State| match state.lines.front() {
            Some(line) => Some(Some(line.clone())),
            None => state.over.then_some(None),
        };
        while let Some((line, event)) = self.until(next).await {
            let mut answers = answered(service, &event, out).await?;
            if let Ok(answers) = &mut answers {
                gallery.hang(answers).await;
            }
            let mut output = Vec::new();
            put_answers(&mut output, line, &event, answers)?;
            out.put_out(&output).await?;
            self.state().lines.pop_front();
            self.changed.notify_waiters();
        }
        Ok(())
    }
}

/// What an event comes to; how far it has come goes out meanwhile.
async fn answered<U: UseCase>(
    service: &Service<U>,
    event: &Event,
    out: &Output<impl AsyncWrite + Unpin>,
) -> io::Result<Result<Vec<Outgoing>, ServiceError>> {
    if !service.is_long(event).await {
        return Ok(service.one(event).await);
    }
    let (to, mut told) = mpsc::unbounded_channel();
    let progress = Progress::reporting_to(to);
    let mut working = pin!(service.long(event, &progress));
    loop {
        tokio::select! {
            biased;
            Some(one) = told.recv() => {
                let mut output = Vec::new();
                put(&mut output, &one)?;
                out.put_out(&output).await?;
            }
            answers = &mut working => return Ok(answers),
        }
    }
}

/// Whether an event is only understood once an earlier one was worked on: it is of the same person, or about
/// the same message.
fn is_behind(event: &Event, earlier: &Event) -> bool {
    let author = |event: &Event| match event {
        Event::Message(message) => Some(message.author.clone()),
        Event::Press(press) => Some(press.author.clone()),
        Event::Edit(_) | Event::Delete(_) | Event::Clock(_) => None,
    };
    let same_author = author(event).is_some_and(|one| author(earlier) == Some(one));
    let message = |event: &Event| match event {
        Event::Press(_) | Event::Clock(_) => None,
        event => event.id().map(str::to_owned),
    };
    let same_message = message(event).is_some_and(|one| message(earlier) == Some(one));
    event.team() == earlier.team() && (same_author || same_message)
}
