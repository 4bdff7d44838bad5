//! What is to happen later: bells, digests, members' own weeks.
//!
//! Jobs are rows ([`crate::store::jobs`]); what each does is a [`UseCase`]. Here they are claimed,
//! carried out and taken out again, all in one transaction with what they post, and waited for
//! ([`watch`]). Every process works on the jobs of all: what one holds the others pass over.
//!
//! A job that fails takes no other with it: it is rolled back, tried again after a pause that grows
//! ([`due`]), and in the end given up. *Absent:* what jobs do and say, and any clock: `now` is
//! handed in.

pub mod due;
pub mod set_back;
pub mod watch;
mod worker;

pub use worker::{Done, Keep, Worker};

use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::service::{Service, ServiceError, UseCase};

/// Works on the events in order, time that passes included; one answer or error for each. What jobs
/// post and the worker keeps is put to `kept`, each with the place of its event, for the channel to drop
/// once it is sent.
pub async fn handle<U: UseCase>(
    worker: &Worker<'_, U>,
    events: &[Event],
    kept: &mut Vec<(usize, Done)>,
) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
    let mut answers = Vec::with_capacity(events.len());
    for run in events.chunk_by(|a, b| is_clock(a) == is_clock(b)) {
        if !run.first().is_some_and(is_clock) {
            answers.extend(worker.service().handle(run).await);
            continue;
        }
        for event in run {
            let (store, team, now) = (worker.service().store(), event.team(), event.at());
            let scheduled = set_back::schedule_anew(store, team, now);
            if let Err(error) = worker.service().noticed(scheduled).await {
                // The tick meets the same fault, and waits for it or tells it.
                tracing::debug!(%error, "it cannot be seen what is to be scheduled anew");
            }
            let place = answers.len();
            let answer = worker.tick_to_the_end(team, now).await.map(|done| {
                let done = done.into_iter().filter(|done| !done.out.is_empty());
                let done: Vec<Done> = done.collect();
                kept.extend(done.iter().map(|done| (place, done.clone())));
                done.into_iter().flat_map(|done| done.out).collect()
            });
            answers.push(answer.map_err(ServiceError::from));
        }
    }
    answers
}

/// One event; see [`handle`]. For channels that show at once what comes of it and keep nothing.
///
/// # Errors
/// [`ServiceError`]; then nothing of it is stored.
pub async fn one<U: UseCase>(
    service: &Service<U>,
    event: &Event,
) -> Result<Vec<Outgoing>, ServiceError> {
    let worker = Worker::new(service, "here", None);
    let events = std::slice::from_ref(event);
    let mut answers = handle(&worker, events, &mut Vec::new()).await;
    // As many answers as events.
    answers.pop().unwrap_or(Err(ServiceError::Fault))
}

/// Whether it is time that passes.
pub const fn is_clock(event: &Event) -> bool {
    matches!(event, Event::Clock(_))
}
