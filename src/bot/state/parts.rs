//! Supersets, drop sets and rest-pause sets: which of their sets count.
//!
//! Of a superset each set counts. Of a drop set or rest-pause set the first part counts as one set,
//! and all parts that follow count together as one more at most: the part at which they come to five
//! repetitions stands for them, and the others are kept without counting. Common practice, no source.
//! How much such sets tell of the lifter is not changed by it.

use chrono::{Duration, NaiveDate};

use super::LogEntry;
use crate::domain::log::SetKind;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::FEWEST_REPS;
use crate::message::reading::Technique;

/// A part posted by itself follows what was done so long before it, at most. Common practice, no
/// source: parts of a drop set follow within seconds, and somebody has to type.
const FOLLOWS_WITHIN: Duration = Duration::minutes(3);

/// Gives each set of `log` (in order) with a technique the kind that it has among its neighbours, on
/// these days of these exercises; the places of those that changed.
pub(crate) fn mark(log: &mut [LogEntry], touched: &[(ExerciseId, NaiveDate)]) -> Vec<usize> {
    let mut changed = Vec::new();
    for (exercise, day) in touched {
        let of_run = |filed: &LogEntry| filed.set.exercise == *exercise && filed.set.day == *day;
        let places = (0..log.len()).filter(|&at| of_run(&log[at]));
        let places: Vec<usize> = places.collect();
        let mut before: Option<usize> = None;
        // Repetitions of the parts so far that follow the first; `None` outside of a chain.
        let mut further: Option<u32> = None;
        for at in places {
            let kind = match log[at].technique {
                _ if log[at].set.kind == SetKind::WarmUp => continue,
                Some(Technique::Superset) => {
                    further = None;
                    SetKind::Superset
                }
                Some(Technique::DropSet | Technique::RestPause) => {
                    let follows = before.is_some_and(|before| follows(&log[before], &log[at]));
                    match (follows, further) {
                        (false, _) => {
                            further = Some(0);
                            SetKind::FirstPart
                        }
                        (true, done) => {
                            let done = done.unwrap_or(0);
                            let now = done.saturating_add(log[at].set.reps);
                            further = Some(now);
                            match done < FEWEST_REPS && now >= FEWEST_REPS {
                                true => SetKind::FurtherParts,
                                false => SetKind::Other,
                            }
                        }
                    }
                }
                Some(Technique::Partials) => {
                    further = None;
                    SetKind::Other
                }
                _ => {
                    further = None;
                    before = Some(at);
                    continue;
                }
            };
            if log[at].set.kind != kind {
                log[at].set.kind = kind;
                changed.push(at);
            }
            before = Some(at);
        }
    }
    changed
}

/// Whether a part goes on from the set before it.
fn follows(before: &LogEntry, part: &LogEntry) -> bool {
    if before.technique == Some(Technique::Superset) {
        return false;
    }
    let (was, is) = (before.set.load.mass, part.set.load.mass);
    let load_goes_on = match part.technique {
        Some(Technique::DropSet) => is < was,
        _ => is <= was,
    };
    let together = before.message == part.message;
    let soon = part.set.at - before.set.at <= FOLLOWS_WITHIN;
    // Behind a whole rest-pause set the next one begins anew.
    let alone = part.place == 0;
    load_goes_on && (together || alone && soon)
}

/// The exercises and days of some sets.
pub(crate) fn touched(sets: &[LogEntry]) -> Vec<(ExerciseId, NaiveDate)> {
    let mut touched: Vec<_> = sets
        .iter()
        .map(|filed| (filed.set.exercise, filed.set.day))
        .collect();
    touched.sort_unstable();
    touched.dedup();
    touched
}
