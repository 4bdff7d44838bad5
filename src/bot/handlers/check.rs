//! Whether what was learned of a member is what their log teaches.

use super::work::{LearnedLog, learn_all, learn_with};
use crate::bot::state::cuts::Checkpoint;
use crate::bot::state::view::View;
use crate::bot::state::{Change, LogEntry};

/// What must be stored so that what was learned is what the log teaches; `None` where it is.
/// `beliefs` are those stored, by exercise, `checkpoints` those stored in order of time, then exercise.
///
/// Training status grows with the calendar, and a log that goes on is learned as the member was from
/// set to set; so it may teach what it does by the status of its last set, or by that of now.
pub fn learned_anew(
    view: &View,
    log: &[LogEntry],
    beliefs: &[(String, Vec<u8>)],
    checkpoints: &[Checkpoint],
) -> Option<Vec<Change>> {
    let last = log.last().map_or(view.now, |filed| filed.set.at);
    let then = View {
        now: last.min(view.now),
        ..view.clone()
    };
    let cuts = &view.member.state.cuts;
    let is_so = |view: &View| {
        let learned = learn_with(cuts, log, view);
        holds(&learned, view, beliefs) && remembers(&learned, checkpoints)
    };
    if is_so(&then) || is_so(view) {
        return None;
    }
    let learned = learn_all(log, log, view);
    let mut member = view.member.clone();
    member.condition = learned.condition;
    member.state.cuts = learned.cuts;
    Some(vec![
        Change::Judge(learned.judged),
        Change::Beliefs(learned.beliefs),
        Change::Checkpoints(learned.checkpoints),
        Change::Member(Box::new(member)),
    ])
}

/// Whether what is stored of the days before is nothing, or what was believed then.
fn remembers(learned: &LearnedLog, stored: &[Checkpoint]) -> bool {
    let mut new = learned.checkpoints.new.clone();
    new.sort_by(|a, b| (a.at, &a.exercise).cmp(&(b.at, &b.exercise)));
    stored.is_empty() || new == stored
}

fn holds(learned: &LearnedLog, view: &View, beliefs: &[(String, Vec<u8>)]) -> bool {
    let stored = |name: &str| {
        beliefs
            .iter()
            .find(|(of, _)| of == name)
            .map(|(_, state)| state)
    };
    let same = |(name, state): &(String, Option<Vec<u8>>)| stored(name) == state.as_ref();
    learned.judged.is_empty()
        && learned.condition == view.member.condition
        && learned.beliefs.iter().all(same)
}
