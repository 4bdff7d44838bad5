//! How hard and how: effort and tempo.

use super::facts::{Fact, Found, Scan, Span};
use super::lex::Kind;
use super::numbers::REPS;

/// Words before an effort that is not to be reached.
const DENIED: &str = "not never no don't dont without short avoid";

impl Scan<'_> {
    pub(super) fn effort(&self, at: usize) -> Option<(Fact, usize)> {
        let lead = |at: usize| {
            let mut at = at;
            while self.any(at, "@ at an a about around of : = ~") {
                at += 1;
            }
            at
        };
        // `leave 2`, `2 left` without a word more.
        if self.any(at, "leave leaving")
            && let Some((span, to)) = self.range(at + 1)
            && self.ends_at(to)
        {
            return Some((Fact::Effort(span), to));
        }
        // `not to failure`
        let failure = |at: &usize| self.at(*at) == "to" && self.any(at + 1, "failure fail");
        if self.any(at, DENIED)
            && let Some(to) = (at + 1..at + 4).find(failure)
        {
            return Some((Fact::Manner, to + 2));
        }
        // `~3 then 2 RIR`: each set its own, so the span of both.
        if let Some(((a, _), to)) = self.range(at)
            && self.at(to) == "then"
            && let Some(((b, _), to)) = self.range(to + 1)
            && self.at(to) == "rir"
        {
            return Some((Fact::Effort((a.min(b), a.max(b))), to + 1));
        }
        let from = lead(at);
        if self.any(from, "rpe rir") {
            let (span, to) = self.range(lead(from + 1))?;
            // `RIR 3/2/1/0`: each set its own, kept as words.
            if let Some(end) = self.slashed(to) {
                return Some((Fact::Manner, end));
            }
            return Some((Fact::Effort(reserve(self.at(from), span)), to));
        }
        if let Some((span, to)) = self.range(from) {
            if self.any(to, "rpe rir") {
                return Some((Fact::Effort(reserve(self.at(to), span)), to + 1));
            }
            let in_the = self.past(self.past(to, REPS), "left");
            let behind = [self.at(in_the), self.at(in_the + 1), self.at(in_the + 2)];
            match behind {
                ["in", "the", "tank"] => return Some((Fact::Effort(span), in_the + 3)),
                ["in", "reserve" | "tank", _] => return Some((Fact::Effort(span), in_the + 2)),
                _ if self.at(in_the.saturating_sub(1)) == "left" && in_the > to => {
                    return Some((Fact::Effort(span), in_the));
                }
                ["shy" | "short", "of", "failure"] => {
                    return Some((Fact::Effort(span), in_the + 3));
                }
                _ => {}
            }
            // `@8`, as in messages: five to ten in halves, with no unit behind it.
            let (low, high) = span;
            let halves = |value: f64| (value * 2.0).fract().abs() < 1e-9;
            let rated = self.at(at) == "@" && self.unit_at(to).is_none() && self.at(to) != "rm";
            if rated && low >= 5.0 && high <= 10.0 && halves(low) && halves(high) {
                return Some((Fact::Effort(reserve("rpe", span)), to));
            }
        }
        if self.at(at) == "to" && self.any(at + 1, "failure fail") {
            return Some((Fact::Effort((0.0, 0.0)), at + 2));
        }
        None
    }

    /// How a repetition is done: `3-1-0`, `tempo 3010`, `3 s down`, `2-second negatives`.
    /// Behind further numbers with slashes between them; `None` where there are none.
    fn slashed(&self, from: usize) -> Option<usize> {
        let mut to = from;
        while self.sign(to) == Some('/') && self.value(to + 1).is_some() {
            to += 2;
        }
        (to > from).then_some(to)
    }

    pub(super) fn tempo(&self, at: usize, before: &[Found]) -> Option<(Fact, usize)> {
        const DONE: &str = "\
            down up pause paused pauses negative negatives eccentric eccentrics lower lowering \
            squeeze way concentric descent stop";
        if self.at(at) == "tempo" {
            let mut to = at + 1;
            while self.tokens.get(to).is_some_and(|token| {
                (token.glued && to > at + 1)
                    || matches!(token.kind, Kind::Number(_)) && to == at + 1
                    || token.is(":")
            }) {
                to += 1;
            }
            return (to > at + 1).then_some((Fact::Manner, to));
        }
        // `@ 31X1`, `3011` behind the sets: a figure for each part of a repetition.
        let from = at + usize::from(self.any(at, "@ at"));
        let counted = before
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        if from > at || counted {
            let four = self.at(from).len() == 4 && self.whole(from).is_some();
            // Behind a comma, `60x5` is a load.
            let parted = matches!(before.last().map(|one| &one.fact), Some(Fact::Comma));
            let exploding = !(parted && from == at)
                && self.at(from).len() == 2
                && self.whole(from).is_some()
                && self.any(from + 1, "x")
                && self.glued(from + 1)
                && self.at(from + 2).len() == 1
                && self.whole(from + 2).is_some()
                && self.glued(from + 2);
            if four && self.unit_at(from + 1).is_none() {
                return Some((Fact::Manner, from + 1));
            }
            if exploding {
                return Some((Fact::Manner, from + 3));
            }
        }
        // `1 and 1/2 reps`: one and a half of each.
        let half = [
            self.at(at),
            self.at(at + 1),
            self.at(at + 2),
            self.at(at + 3),
            self.at(at + 4),
        ];
        if matches!(half, ["1" | "one", "and", "1", "/", "2"]) {
            return Some((Fact::Manner, self.past(at + 5, REPS)));
        }
        // Three or four figures in a row: `3-1-0`, `3-1-X-0`.
        let mut to = at;
        let mut figures = 0;
        let figure =
            |at: usize| self.whole(at).is_some_and(|value| value < 10) || self.any(at, "x");
        while figure(to) {
            figures += 1;
            let goes_on = matches!(self.sign(to + 1), Some('-' | '/')) && self.glued(to + 1);
            if !(goes_on && figure(to + 2) && self.glued(to + 2)) {
                break;
            }
            to += 2;
        }
        let dashes = self.sign(at + 1) == Some('-');
        // Without sets before it, `5-5-5` and `10-8-6` count repetitions.
        let counted = |found: &Found| {
            matches!(
                found.fact,
                Fact::SetsOf(..) | Fact::Sets(_) | Fact::Amount(_)
            )
        };
        let still = (at..=to)
            .step_by(2)
            .any(|at| self.whole(at) == Some(0) || self.at(at) == "x");
        let tempo = still || before.iter().any(counted);
        if self.whole(at).is_some() && dashes && (3..=4).contains(&figures) && tempo {
            return Some((Fact::Manner, to + 1));
        }
        let from = at + usize::from(self.any(at, "a"));
        let second = |at: usize| self.sign(at) == Some('-') && self.any(at + 1, "second sec s");
        let (time, to) = match self.range(from) {
            Some((span, to)) if second(to) => (span, to + 2),
            _ => self.duration(from)?,
        };
        let long = time.1 >= 10.0;
        let counted = before
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        let hold = self.any(to, "hold holds") && (!long || counted);
        let in_words =
            |to: usize| self.any(to, DONE) || (self.any(to, "each") && self.any(to + 1, "way"));
        let adjective = usize::from(self.any(to, "slow controlled each"));
        (hold || in_words(to) || in_words(to + adjective))
            .then_some((Fact::Manner, to + 1 + adjective))
    }
}

/// A rating on the scale of ten, or reps left, as reps left from fewest to most.
fn reserve(scale: &str, (low, high): Span) -> Span {
    match scale {
        "rpe" => (10.0 - high, 10.0 - low),
        _ => (low.min(high), low.max(high)),
    }
}
