//! Turns of phrase that put a set elsewhere than here and now, all together; and those that put it
//! in somebody's mouth or on another's bar. Single words that do so have roles in the lexicon.

use super::{Case, Span};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

impl Case<'_> {
    /// Whether words around the set say that the writer did not do it now.
    pub(super) fn is_not_done_here(&self, span: &Span, name: usize) -> bool {
        let start = span.from.min(name);
        let lead = (span.sentence.0, start);
        let ends = span.to.max(if name == usize::MAX { 0 } else { name + 1 });
        let tail = (ends, span.sentence.1);
        self.lies_ahead(lead)
            || self.is_told_to_do(lead)
            || self.is_left_undone(lead)
            || self.is_left_undone((span.sentence.0, span.from))
            || self.holds_season(span.sentence)
            || self.is_in_thought(lead)
            || self.is_of_old(span.sentence)
            || self.is_in_jest(span.sentence)
            || self.asks_at_start(span)
            || self.is_quoted(span.sentence.0, start)
            || self.is_stated(tail)
            || self.is_denied_after(tail)
            || self.is_put_off((ends, span.clause.1))
            || self.is_congratulation(lead)
            || self.praises_a_lift(span.sentence.0)
            || self.is_admired(lead)
            || self.is_said_under_a_name(lead)
            || self.is_done_by_a_person(span.sentence.0, ends)
            || self.is_anybodys_record(span.sentence)
            || self.is_asked_of_others(span.sentence.0)
    }

    /// `that was a sick 140x3`, `what a 140x3`: said of a lift that one saw.
    fn is_admired(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let a = self.scan.w(at + 1) == W::A && at + 1 < to;
            self.scan.w(at) == W::What && a && to - at <= 5
                || self.scan.w(at) == W::Was
                    && a
                    && at > from
                    && self.scan.w(at - 1) == W::That
                    && to - at <= 4
        })
    }

    /// `did you see finn? 26s for 12`: what a question to the others is about.
    fn is_asked_of_others(&self, before: usize) -> bool {
        self.clauses.iter().any(|c| {
            c.to <= before
                && c.end == Some(Mark::Question)
                && (c.from..c.to).any(|at| {
                    matches!(
                        self.text(at),
                        "see" | "seen" | "saw" | "hear" | "heard" | "watch" | "watched"
                    )
                })
        })
    }

    /// `congrats on the 100x5 bench`, `well done on bench 100x5`.
    fn is_congratulation(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(
                self.text(at),
                "congrats" | "congratulations" | "grats" | "bravo" | "kudos" | "props" | "respect"
            ) || self.scan.w(at) == W::Done
                && at > from
                && self.text(at - 1) == "well"
                && matches!(self.scan.w(at + 1), W::On | W::For | W::With)
        })
    }

    /// `odette: bench 100x5`: a word of no meaning here, as a heading, is somebody's name.
    fn is_said_under_a_name(&self, (from, to): (usize, usize)) -> bool {
        let known = Roles::KNOWN.with(Roles::NAME).with(Roles::LOOKALIKE);
        from + 1 < to
            && self.scan.is(from + 1, Mark::Colon)
            && self.scan.token(from).is_some_and(|t| {
                t.kind == Kind::Word && !t.word.roles.any(known) && t.end - t.start >= 3
            })
    }

    /// `dude in the gym just squatted`, `my mate benched`: a person, then a deed, and no `I`.
    fn is_done_by_a_person(&self, from: usize, to: usize) -> bool {
        let person = |at: usize| {
            self.scan
                .token(at)
                .is_some_and(|t| t.word.roles.any(Roles::PERSON))
                && self.is_left(at)
        };
        let deed = |at: usize| {
            self.scan.token(at).is_some_and(|t| {
                let lifts = t.word.roles.any(Roles::NAME) && self.text(at).ends_with('s');
                t.word.roles.any(Roles::DID)
                    || matches!(t.word.w, W::Failed | W::Warm)
                    || lifts && at + 1 < to
                    || matches!(
                        self.text(at),
                        "gave" | "had" | "made" | "wants" | "has" | "programmed" | "does" | "gets"
                    )
            })
        };
        let mine = |at: usize| matches!(self.scan.w(at), W::I | W::Me | W::My | W::Myself);
        let Some(at) = (from..to).find(|&at| person(at)) else {
            return false;
        };
        let led = at.checked_sub(1).filter(|&before| before >= from);
        let one = led.is_some_and(|before| {
            matches!(
                self.scan.w(before),
                W::A | W::My | W::The | W::This | W::That | W::Some | W::One
            )
        });
        let beside = at
            .checked_sub(2)
            .filter(|&before| one && before >= from)
            .or(led);
        let with = beside.is_some_and(|before| {
            matches!(
                self.scan.w(before),
                W::With
                    | W::Wi
                    | W::At
                    | W::For
                    | W::From
                    | W::In
                    | W::To
                    | W::By
                    | W::On
                    | W::Of
                    | W::Like
                    | W::After
                    | W::Plus
            ) || matches!(self.text(before), "than" | "behind" | "beside")
        });
        let done = (at + 1..to).find(|&i| deed(i));
        let opens = at == from || one;
        !with
            && opens
            && done.is_some_and(|done| !(at + 1..done).any(mine))
            && (one || !self.scan.is(at + 1, Mark::Comma))
    }

    /// `world record bench 355x1`, `club record deadlift 250x3`: nobody's here, unless it is new.
    fn is_anybodys_record(&self, (from, to): (usize, usize)) -> bool {
        let fresh =
            (from..to).any(|at| matches!(self.text(at), "new" | "broke" | "broken" | "beat"));
        (from..to).any(|at| {
            let whose = at.checked_sub(1).map_or("", |at| self.text(at));
            matches!(self.text(at), "record" | "records")
                && (whose == "world"
                    || !fresh
                        && at < to
                        && matches!(
                            whose,
                            "club" | "gym" | "state" | "national" | "school" | "team"
                        )
                        && self.is_before_numbers(at, to))
        })
    }

    /// Whether numbers stand behind `at`.
    fn is_before_numbers(&self, at: usize, to: usize) -> bool {
        (at..to).any(|at| self.scan.digits(at).is_some())
    }
}
