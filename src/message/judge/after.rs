//! What is said right behind a set: of its numbers, or that it was not done.

use super::super::vocabulary::W;
use super::Case;

impl Case<'_> {
    /// `bench 100x5 later`: to come; `3 min later` is a rest. `to go`, `left to do`.
    pub(super) fn is_put_off(&self, (from, to): (usize, usize)) -> bool {
        let later = to > from && self.scan.w(to - 1) == W::Later && self.is_left(to - 1);
        later
            || (from..to)
                .any(|at| self.scan.w(at) == W::To && matches!(self.scan.w(at + 1), W::Go | W::Do))
    }

    /// `squat 100x5 was the club record`, `bench 80x8 is a good weight`: said of the numbers, not
    /// of the set. `was a grind` and `is a new pb` tell of the set.
    pub(super) fn is_stated(&self, (from, to): (usize, usize)) -> bool {
        let Some(copula) = (from..to.min(from + 2)).find(|&at| {
            matches!(self.scan.w(at), W::Is | W::Was) && self.is_left(at) || self.text(at) == "are"
        }) else {
            return false;
        };
        let any = |words: &[&str]| (copula + 1..to).any(|at| words.contains(&self.text(at)));
        let best = any(&["pb", "pr", "pbs", "prs"]);
        if self.scan.w(copula) == W::Is {
            let done = matches!(self.scan.w(copula + 1), W::Done | W::In | W::Up);
            return !done && !best;
        }
        any(&["record", "records"]) && !any(&["new"])
            || any(&[
                "weight", "average", "standard", "normal", "norm", "minimum", "limit", "dream",
            ])
            || self.scan.w(copula + 1) == W::My && best
    }

    /// `bench 80x8 would be nice`, `row 60x10 skipped`, `bench 80x8 didn't happen`, `bench 80x8 vs
    /// 85x6`. `could have done 2 more` speaks of what was left.
    pub(super) fn is_denied_after(&self, (from, to): (usize, usize)) -> bool {
        if from >= to || !self.is_left(from) {
            return false;
        }
        let next = self.scan.w(from + 1);
        match self.text(from) {
            "would" | "could" | "should" | "might" | "may" | "must" => {
                !matches!(next, W::Have | W::Of)
            }
            "sounds" | "seems" | "looks" | "skipped" | "cancelled" | "nope" | "vs" | "versus" => {
                true
            }
            "what" | "whats" | "which" => true,
            "didnt" | "never" => matches!(self.text(from + 1), "happen" | "happened"),
            "not" => matches!(next, W::Done),
            _ => false,
        }
    }
}
