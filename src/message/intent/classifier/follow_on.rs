//! What is said right behind a set: of its numbers, or that it was not done.

use super::{Case, Span};
use crate::message::words::vocabulary::{Roles, W};

impl Case<'_> {
    /// `bench 80x8 will try 82.5 next`: an intention with a number of its own speaks of another
    /// set, and the one before it was done. The span ends where it begins.
    pub(super) fn before_next_try(&self, span: Span) -> Span {
        let tail = span.to..span.clause.1;
        let said = |at: usize| matches!(self.scan.w(at), W::I | W::And | W::So);
        let Some(first) = tail.clone().find(|&at| !said(at)) else {
            return span;
        };
        let tries = match self.text(first) {
            "will" | "ll" | "gonna" | "gunna" | "might" | "wanna" | "tryna" => {
                self.goes_for(first + 1)
            }
            "going" => matches!(self.scan.w(first + 1), W::To | W::For | W::Up),
            "trying" => true,
            _ => false,
        };
        let next = (first..tail.end).find(|&at| self.scan.digits(at).is_some());
        let load = next.is_some_and(|at| self.is_next_load(at, (span.from, span.to)));
        if !(tries && load) {
            return span;
        }
        Span {
            clause: (span.clause.0, first),
            sentence: (span.sentence.0, first),
            ..span
        }
    }

    /// What one does with a load: `try`, `go for`, `add`.
    fn goes_for(&self, at: usize) -> bool {
        matches!(
            self.scan.w(at),
            W::Try | W::Go | W::Do | W::AddVerb | W::Take | W::Put | W::Load | W::Heavier
        ) || matches!(self.text(at), "hit" | "jump" | "attempt" | "aim" | "move")
            || self.scan.digits(at).is_some()
    }

    /// Whether the number may be a load beside those lifted, and no time or length.
    fn is_next_load(&self, at: usize, (from, to): (usize, usize)) -> bool {
        let lifted = (from..to).filter_map(|at| self.scan.digits(at));
        let most = lifted.fold(0.0, f64::max);
        let measured = self.scan.token(at + 1).is_some_and(|t| {
            t.word.roles.any(Roles::MEASURE)
                || matches!(t.word.w, W::Min | W::Sec | W::Day | W::Week | W::Hour)
        });
        let value = self.scan.digits(at).unwrap_or_default();
        !measured && value > 10.0 && most < 3.0 * value
    }

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
