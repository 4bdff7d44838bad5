//! Whose set is told, and when: what speaks against the writer having done it today.

use super::{AGAINST, Case, Span};
use crate::message::words::names::is_name_word;
use crate::message::words::token::Kind;
use crate::message::words::vocabulary::{Roles, W};

/// Words of praise that by themselves are said to somebody else.
const PRAISE: &[&str] = &[
    "nice",
    "wow",
    "great",
    "huge",
    "congrats",
    "congratulations",
    "awesome",
    "amazing",
    "impressive",
    "beast",
    "insane",
    "bravo",
    "respect",
];

/// Words that praise only with a noun behind them.
const PRAISE_BEFORE_NOUN: &[&str] = &[
    "good",
    "solid",
    "strong",
    "big",
    "massive",
    "brilliant",
    "lovely",
    "super",
    "mad",
    "sick",
    "monster",
    "fantastic",
    "superb",
];

/// What is praised of another: nobody calls his own set so.
const PRAISED: &[&str] = &[
    "lift",
    "lifts",
    "lifting",
    "pull",
    "pulling",
    "job",
    "work",
    "effort",
    "stuff",
    "going",
    "benching",
    "squatting",
];

impl Case<'_> {
    /// Words against a set in its clause, before it in the sentence, or in what is said right
    /// after it.
    pub(super) fn speaks_against(&self, span: &Span, strong: bool, name: usize) -> bool {
        let start = span.clause.0.min(name);
        let ignore = if self.is_spotted(span) {
            Roles::OTHER
        } else {
            Roles::default()
        };
        let roles_in = |from, to| self.roles_in(from, to).without(ignore);
        let clause = roles_in(start, span.to);
        if clause.any(AGAINST) {
            return true;
        }
        let tail_of_clause = roles_in(span.to, span.clause.1);
        let after = Roles::OTHER
            .with(Roles::PLAN)
            .with(Roles::TRADE)
            .with(Roles::WHO)
            .with(Roles::ROWING)
            .with(Roles::INTENT);
        let heavy = tail_of_clause.any(Roles::OTHER.with(Roles::PLAN));
        if tail_of_clause.any(after) && (heavy || !strong) {
            return true;
        }
        let lead = roles_in(span.sentence.0, start);
        let lead_kills = if strong {
            Roles::PLAN.with(Roles::HYPO)
        } else {
            AGAINST
        };
        let next = self.comes_next(span.sentence.0, span.from)
            || !strong && self.comes_next(span.to, span.clause.1);
        if next || self.is_habit_or_plan(span) || !strong && self.is_attempt(span) {
            return true;
        }
        if lead.any(lead_kills) || self.remembers(span.sentence.0, span.clause.1) {
            return true;
        }
        !strong && self.taken_back_after(span)
    }

    /// A spotter is named, but lifts nothing.
    fn is_spotted(&self, span: &Span) -> bool {
        (span.sentence.0..span.sentence.1)
            .any(|at| matches!(self.text(at), "spot" | "spotted" | "spotting" | "spotter"))
    }

    /// `I do 3x10`, `100 a day`, `for saturday: …`, `back then`, `almost did`: a habit, a plan or
    /// a memory.
    pub(super) fn is_habit_or_plan(&self, span: &Span) -> bool {
        let (from, to) = (span.sentence.0, span.clause.1);
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            match self.scan.w(at) {
                W::I => self.text(at + 1) == "do",
                W::A | W::Per | W::Each => {
                    matches!(next, W::Day | W::Week | W::Night) && self.scan.w(at + 2) != W::Ago
                        || self.scan.w(at) == W::Each && next == W::Morning
                }
                W::For => {
                    matches!(next, W::Weekday | W::Tomorrow)
                        || matches!(self.text(at + 1), "being" | "months" | "years")
                        || next == W::Week && self.text(at + 1).ends_with('s')
                }
                W::Weekday => next == W::Is,
                W::Be => self.text(at) == "been" && next == W::Doing,
                W::Back => next == W::Then,
                W::Went => next == W::For,
                W::Is | W::Was => {
                    at > from && matches!(self.text(at - 1), "pb" | "pr" | "record" | "1rm")
                }
                W::Nearly => self
                    .scan
                    .token(at + 1)
                    .is_some_and(|t| t.word.roles.any(Roles::DID)),
                _ => false,
            }
        })
    }

    /// `tried bench 90x5`: whether it was done is not said.
    pub(super) fn is_attempt(&self, span: &Span) -> bool {
        (span.sentence.0..span.from).any(|at| self.text(at) == "tried")
    }

    /// `nice 80x10`, `wow 120x5`: said to somebody else.
    pub(super) fn is_praise(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| PRAISE.contains(&self.text(at)))
    }

    /// `great lift, 100x5!`, `solid work bench 100x5`: praise with the noun that it is given to
    /// opens what is said to another. `good session` and `nice pump` speak of oneself.
    pub(super) fn praises_a_lift(&self, from: usize) -> bool {
        let words = PRAISE.iter().chain(PRAISE_BEFORE_NOUN);
        let skips = usize::from(matches!(self.text(from), "such" | "what" | "absolutely"));
        let first = from + skips + usize::from(self.scan.w(from + skips) == W::A);
        let noun = self.text(first + 1);
        words.clone().any(|word| *word == self.text(first)) && PRAISED.contains(&noun)
    }

    /// `next session: deadlift 140x5`, `up next bench 80x8`: to be done. `next set` is under way.
    pub(super) fn comes_next(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.scan.w(at) == W::Next
                && self.is_left(at)
                && !matches!(self.scan.w(at + 1), W::Sets | W::One | W::To)
        })
    }

    /// `last week`, `last year`, `when i was`: long ago, unless it is only compared with.
    pub(super) fn remembers(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            let last = self.scan.w(at) == W::Last
                && (self.scan.w(at + 1) == W::Week
                    || matches!(
                        self.text(at + 1),
                        "month"
                            | "time"
                            | "year"
                            | "season"
                            | "summer"
                            | "winter"
                            | "session"
                            | "workout"
                            | "cycle"
                            | "meet"
                    ))
                && self.is_left(at);
            let compared = (at.saturating_sub(4)..at).any(|i| {
                matches!(self.scan.w(i), W::Same | W::Like | W::From)
                    || matches!(
                        self.text(i),
                        "than" | "vs" | "as" | "beat" | "beats" | "matched" | "on"
                    )
            });
            let year = matches!(self.scan.w(at), W::In | W::From)
                && self
                    .scan
                    .digits(at + 1)
                    .is_some_and(|value| (1950.0..2100.0).contains(&value));
            year || last && !compared || self.scan.w(at) == W::Ago && self.is_left(at)
        })
    }

    /// `bench 90x8, tomorrow`, `squat 140x5, that's the goal`, `bench 100x5, he said`.
    pub(super) fn taken_back_after(&self, span: &Span) -> bool {
        let tail = (span.clause.1, span.sentence.1);
        let roles = self.roles_in(tail.0, tail.1);
        let spotted = self.is_spotted(span);
        let third = (tail.0..tail.1).any(|at| {
            self.is_left(at)
                && !spotted
                && !self.is_modest(at)
                && self.scan.w(at) != W::You
                && self
                    .scan
                    .token(at)
                    .is_some_and(|t| t.word.roles.any(Roles::OTHER))
        });
        let numbers = (tail.0..tail.1).any(|at| self.scan.digits(at).is_some());
        roles.any(Roles::PLAN)
            || third
            || self.calls_together(tail)
            || roles.any(Roles::INTENT)
                && !numbers
                && self.strangers(tail.0, tail.1) < 3
                && self.roles_in(tail.0, tail.1).any(Roles::INTENT)
                && self.says_it(tail)
    }

    /// `friday: deadlift 3x5, bring chalk`: an arrangement for all. `bring it on` is none.
    fn calls_together(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(self.text(at), "bring" | "meet" | "join")
                && self.is_left(at)
                && self.scan.w(at + 1) != W::It
        })
    }

    pub(super) fn says_it(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(
                self.scan.w(at),
                W::It | W::That | W::This | W::Tomorrow | W::Tonight
            )
        })
    }

    /// `Mara hit 100x5`, `coach pulled 200x3`: a verb of doing with somebody else before it.
    pub(super) fn is_told_of_another(&self, span: &Span, name: usize) -> bool {
        let owner = name != usize::MAX
            && name > span.sentence.0
            && self.scan.token(name - 1).is_some_and(|t| {
                t.possessive && self.is_left(name - 1) && !t.word.roles.any(Roles::FILL)
            });
        if owner || self.is_anothers_lift(span.sentence.0, name) {
            return true;
        }
        let end = span.to.max(if name == usize::MAX { 0 } else { name + 1 });
        (span.sentence.0..end).any(|at| {
            let Some(token) = self.scan.token(at) else {
                return false;
            };
            let verb = token.kind == Kind::Word
                && (token.word.roles.any(Roles::DID)
                    || matches!(token.word.w, W::Failed | W::Warm)
                    || matches!(self.text(at), "does" | "has" | "had" | "gets" | "makes"));
            let plural_name =
                token.word.roles.any(Roles::NAME) && self.text(at).ends_with('s') && at == name;
            (verb || plural_name) && self.has_subject(at, span.sentence.0, verb)
        })
    }

    /// `cleo's final squat`: a name in the genitive with a word or two between it and the lift.
    fn is_anothers_lift(&self, from: usize, name: usize) -> bool {
        if name == usize::MAX {
            return false;
        }
        (from.max(name.saturating_sub(3))..name).any(|at| {
            self.scan.token(at).is_some_and(|t| {
                t.possessive && !t.word.roles.any(Roles::KNOWN) && self.is_left(at)
            }) && (at..name).all(|i| self.scan.token(i).is_some_and(|t| t.kind == Kind::Word))
        })
    }

    /// Whether a noun that is not the writer stands before the verb at `at`.
    pub(super) fn has_subject(&self, at: usize, from: usize, verb: bool) -> bool {
        let mut before = at;
        while before > from
            && verb
            && matches!(
                self.text(before - 1),
                "just"
                    | "also"
                    | "only"
                    | "actually"
                    | "finally"
                    | "then"
                    | "really"
                    | "even"
                    | "still"
                    | "again"
                    | "once"
            )
        {
            before -= 1;
        }
        if before == from {
            return false;
        }
        let Some(token) = self.scan.token(before - 1) else {
            return false;
        };
        let stranger = token.kind == Kind::Word
            && self.is_stranger(before - 1)
            && !token.word.roles.any(Roles::VARIANT.with(Roles::MOVE));
        if verb {
            return stranger && (token.possessive || !is_name_word(token));
        }
        stranger && (token.capital && !token.word.roles.any(Roles::KNOWN) || token.possessive)
    }
}
