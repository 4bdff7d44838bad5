//! How much one member may write: more than anybody can lift, less than would fill a log with noise.

use std::collections::HashMap;
use std::time::Duration;

use tokio::time::Instant;

use super::wire::Id;

/// Messages that may come at once. A session is some thirty sets.
pub const AT_ONCE: f64 = 60.0;
/// After that, one in this many seconds.
const THEN_EVERY_S: f64 = 1.0;
/// Members kept in mind before those who were still for a while are forgotten.
const KEPT: usize = 10_000;

/// Whether a message is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is.
    Fine,
    /// It is not, and the member is to be told.
    TellOnce,
    /// It is not, and the member knows.
    Silent,
}

#[derive(Clone, Copy, Debug)]
struct Budget {
    left: f64,
    at: Instant,
    told: bool,
}

/// What members have left.
#[derive(Debug, Default)]
pub struct Guard {
    budgets: HashMap<(Option<Id>, Id), Budget>,
}

impl Guard {
    /// One more message or command of this member.
    pub fn takes(&mut self, guild: Option<Id>, member: Id, now: Instant) -> Verdict {
        if self.budgets.len() >= KEPT {
            let full = Duration::from_secs_f64(AT_ONCE * THEN_EVERY_S);
            self.budgets
                .retain(|_, budget| now.duration_since(budget.at) < full);
        }
        let fresh = Budget {
            left: AT_ONCE,
            at: now,
            told: false,
        };
        let budget = self.budgets.entry((guild, member)).or_insert(fresh);
        let gained = now.duration_since(budget.at).as_secs_f64() / THEN_EVERY_S;
        budget.left = (budget.left + gained).min(AT_ONCE);
        budget.at = now;
        if budget.left >= 1.0 {
            budget.left -= 1.0;
            // Told again only after a rest, not at every gap in a flood.
            budget.told &= budget.left < AT_ONCE / 2.0;
            return Verdict::Fine;
        }
        if std::mem::replace(&mut budget.told, true) {
            Verdict::Silent
        } else {
            Verdict::TellOnce
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flood_is_told_once_and_others_are_not_touched() {
        let (mut guard, now) = (Guard::default(), Instant::now());
        let [one, other] = [1, 2].map(|n| Id::new(n).expect("above zero"));
        let verdicts: Vec<_> = (0..70).map(|_| guard.takes(None, one, now)).collect();
        assert!(verdicts[..60].iter().all(|v| *v == Verdict::Fine));
        assert_eq!(verdicts[60], Verdict::TellOnce);
        assert!(verdicts[61..].iter().all(|v| *v == Verdict::Silent));
        assert_eq!(guard.takes(None, other, now), Verdict::Fine);
        let later = now + Duration::from_secs(5);
        assert_eq!(guard.takes(None, one, later), Verdict::Fine);
    }
}
