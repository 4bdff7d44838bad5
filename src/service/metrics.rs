//! What the program did since it was started, as numbers: for operators. No name of anybody and no
//! text is among them.

use std::fmt::Write as _;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use super::ServiceError;
use crate::bot::reply::{Outgoing, Sign};

/// Upper ends of the classes of times, seconds.
const CLASSES_S: [f64; 10] = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1.0, 5.0];

/// Times, by class.
#[derive(Debug, Default)]
pub struct Times {
    classes: [AtomicU64; 11],
    micros: AtomicU64,
}

impl Times {
    /// Something took so long.
    pub fn took(&self, time: Duration) {
        let class = CLASSES_S.iter().position(|&end| time.as_secs_f64() <= end);
        if let Some(count) = self.classes.get(class.unwrap_or(CLASSES_S.len())) {
            count.fetch_add(1, Ordering::Relaxed);
        }
        let micros = u64::try_from(time.as_micros()).unwrap_or(u64::MAX);
        self.micros.fetch_add(micros, Ordering::Relaxed);
    }

    fn print(&self, out: &mut String, name: &str, help: &str) {
        let mut sum = 0;
        // Writing to a string cannot fail.
        let _ = writeln!(out, "# HELP {name} {help}\n# TYPE {name} histogram");
        for (place, count) in self.classes.iter().enumerate() {
            sum += count.load(Ordering::Relaxed);
            let end = CLASSES_S
                .get(place)
                .map_or("+Inf".to_owned(), f64::to_string);
            let _ = writeln!(out, "{name}_bucket{{le=\"{end}\"}} {sum}");
        }
        let seconds = Duration::from_micros(self.micros.load(Ordering::Relaxed)).as_secs_f64();
        let _ = writeln!(out, "{name}_sum {seconds}\n{name}_count {sum}");
    }
}

/// The numbers.
#[derive(Debug, Default)]
pub struct Metrics {
    /// Events answered.
    pub events: AtomicU64,
    /// Events that were not taken.
    pub refused: AtomicU64,
    /// Messages whose sets were filed.
    pub filings: AtomicU64,
    /// Pieces of advice given.
    pub advice: AtomicU64,
    /// Whether the database answered last time: 1, or 0.
    pub database_down: AtomicU64,
    /// Times an event was tried again because the database did not answer.
    pub waits: AtomicU64,
    /// Events that wait for their turn right now.
    pub queued: AtomicU64,
    /// From the beginning of an event, or of a group of them, to its commit.
    pub event_time: Times,
    /// Reading an event, learning from it and advising: calculation alone.
    pub advice_time: Times,
    /// Waiting for the database, for an event or a group of them, the commit included.
    pub database_time: Times,
    /// The commit alone.
    pub commit_time: Times,
    /// From when a job was due to its being done.
    pub job_lag: Times,
}

impl Metrics {
    /// Counts what events came to.
    pub(super) fn count(&self, answers: &[Result<Vec<Outgoing>, ServiceError>]) {
        let add = |count: &AtomicU64, of: usize| count.fetch_add(of as u64, Ordering::Relaxed);
        for answer in answers {
            let Ok(out) = answer else {
                add(&self.refused, 1);
                continue;
            };
            add(&self.events, 1);
            let filed =
                |one: &&Outgoing| matches!(one, Outgoing::Mark(mark) if mark.sign == Sign::Filed);
            add(&self.filings, out.iter().filter(filed).count());
            let advice = |one: &&Outgoing| match one {
                Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.advice.is_some(),
                Outgoing::Mark(_) => false,
            };
            add(&self.advice, out.iter().filter(advice).count());
        }
    }

    /// The numbers as Prometheus reads them: the text format 0.0.4
    /// (<https://prometheus.io/docs/instrumenting/exposition_formats/>).
    pub fn print(&self) -> String {
        let mut out = String::new();
        let counts = [
            ("chalkbell_events_total", "Events answered.", &self.events),
            (
                "chalkbell_events_refused_total",
                "Events that were not taken.",
                &self.refused,
            ),
            (
                "chalkbell_filings_total",
                "Messages whose sets were filed.",
                &self.filings,
            ),
            (
                "chalkbell_advice_total",
                "Pieces of advice given.",
                &self.advice,
            ),
            (
                "chalkbell_database_waits_total",
                "Times that an unreachable database was tried again.",
                &self.waits,
            ),
        ];
        for (name, help, count) in counts {
            let count = count.load(Ordering::Relaxed);
            let _ = writeln!(
                out,
                "# HELP {name} {help}\n# TYPE {name} counter\n{name} {count}"
            );
        }
        let gauges = [
            (
                "chalkbell_database_up",
                "Whether the database answered last time.",
                1 - self.database_down.load(Ordering::Relaxed).min(1),
            ),
            (
                "chalkbell_queued_events",
                "Events that wait for their turn.",
                self.queued.load(Ordering::Relaxed),
            ),
        ];
        for (name, help, value) in gauges {
            let _ = writeln!(
                out,
                "# HELP {name} {help}\n# TYPE {name} gauge\n{name} {value}"
            );
        }
        let event = "From the beginning of an event, or a group of them, to its commit.";
        self.event_time
            .print(&mut out, "chalkbell_event_seconds", event);
        let advice = "Calculation for an event: reading it, learning from it, advising.";
        self.advice_time
            .print(&mut out, "chalkbell_advice_seconds", advice);
        let database = "Waiting for the database, for an event or a group of them.";
        self.database_time
            .print(&mut out, "chalkbell_database_seconds", database);
        self.commit_time
            .print(&mut out, "chalkbell_commit_seconds", "Commits.");
        let lag = "From when a job was due to its being done.";
        self.job_lag
            .print(&mut out, "chalkbell_job_lag_seconds", lag);
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_fall_into_their_class_and_all_above_it() {
        let times = Times::default();
        for ms in [1, 3, 400, 60_000] {
            times.took(Duration::from_millis(ms));
        }
        let mut out = String::new();
        times.print(&mut out, "t", "Times.");
        for line in [
            "t_bucket{le=\"0.001\"} 1",
            "t_bucket{le=\"0.005\"} 2",
            "t_bucket{le=\"1\"} 3",
            "t_bucket{le=\"+Inf\"} 4",
            "t_sum 60.404",
            "t_count 4",
        ] {
            assert!(out.lines().any(|one| one == line), "{line} in {out}");
        }
    }
}
