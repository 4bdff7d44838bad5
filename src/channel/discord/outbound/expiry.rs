//! How long what was committed is worth sending.

use chrono::{DateTime, TimeDelta, Utc};

use crate::bot::LATEST_BELL;
use crate::bot::reply::{Outgoing, Reply};

/// So many days everything but bells waits for the platform to take it: signs, cards, answers, changes,
/// digests, and whatever is taken back.
const KEPT: TimeDelta = TimeDelta::days(7);

/// Whether a reply that was to be posted because of what happened at that time is not any more. A bell
/// is of use for two minutes; what answers a report of pain, always.
pub(crate) fn is_stale(reply: &Reply, at: DateTime<Utc>, now: DateTime<Utc>) -> bool {
    if reply.late {
        return false;
    }
    let worth = if reply.mentions.is_empty() {
        KEPT
    } else {
        LATEST_BELL
    };
    now - at >= worth
}

/// Whether something that an earlier run committed is not to be sent any more.
pub(crate) fn is_of_no_use(one: &Outgoing, at: DateTime<Utc>, now: DateTime<Utc>) -> bool {
    match one {
        Outgoing::Reply(reply) if reply.late => false,
        Outgoing::Reply(reply) => answers_command(reply) || is_stale(reply, at, now),
        Outgoing::Update(_) | Outgoing::Mark(_) => now - at >= KEPT,
    }
}

/// A private answer to a command: it was given within the platform's 15 minutes, or never can be.
/// Commands have ids that no message has.
fn answers_command(reply: &Reply) -> bool {
    let answers = reply.answers.as_deref().unwrap_or_default();
    reply.private && answers.starts_with('i')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bells_are_worth_two_minutes_and_all_else_days() {
        let at = DateTime::UNIX_EPOCH;
        let after = |minutes| at + TimeDelta::minutes(minutes);
        let reply = |mentions: &[&str], answers: &str, private| {
            Outgoing::Reply(Reply {
                mentions: mentions.iter().map(|&one| one.to_owned()).collect(),
                answers: Some(answers.to_owned()),
                private,
                ..Reply::default()
            })
        };
        let bell = reply(&["1"], "5", false);
        assert!(!is_of_no_use(&bell, at, after(1)));
        assert!(is_of_no_use(&bell, at, after(2)));
        let answer = reply(&[], "5", true);
        assert!(!is_of_no_use(&answer, at, after(60 * 24 * 6)));
        assert!(is_of_no_use(&answer, at, after(60 * 24 * 7)));
        assert!(is_of_no_use(&reply(&[], "i5", true), at, after(0)));
        let Outgoing::Reply(pain) = reply(&[], "i5", true) else {
            unreachable!("it is one")
        };
        let pain = Outgoing::Reply(Reply { late: true, ..pain });
        assert!(!is_of_no_use(&pain, at, after(60 * 24 * 30)));
        let taken_back = Outgoing::Update(Reply {
            mentions: vec!["1".to_owned()],
            ..Reply::default()
        });
        assert!(!is_of_no_use(&taken_back, at, after(60 * 24)));
    }
}
