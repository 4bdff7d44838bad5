//! Turns of phrase that put a set elsewhere than here and now: ahead, long ago, in thought, in
//! somebody's mouth, or on another's bar. Single words that do so have roles in the lexicon.

use super::super::token::{Kind, Mark};
use super::super::vocabulary::{Roles, W};
use super::{Case, Span};

/// Times that are named from afar: nobody posts a set of them.
const SEASONS: &[&str] = &[
    "christmas",
    "xmas",
    "easter",
    "halloween",
    "summer",
    "winter",
    "autumn",
    "spring",
    "january",
    "jan",
    "february",
    "feb",
    "april",
    "june",
    "july",
    "august",
    "september",
    "sept",
    "october",
    "november",
    "december",
    "thirty",
    "forty",
    "fifty",
];

impl Case<'_> {
    /// Whether words around the set say that the writer did not do it now.
    pub(super) fn is_not_done_here(&self, span: &Span, name: usize) -> bool {
        let start = span.from.min(name);
        let lead = (span.sentence.0, start);
        let ends = span.to.max(if name == usize::MAX { 0 } else { name + 1 });
        self.lies_ahead(lead)
            || self.holds_season(span.sentence)
            || self.is_in_thought(lead)
            || self.is_of_old(span.sentence)
            || self.is_in_jest(span.sentence)
            || self.asks_at_start(span)
            || self.is_congratulation(lead)
            || self.is_put_off((span.to, span.clause.1))
            || self.is_quoted(span.sentence.0, start)
            || self.is_stated(ends, span.sentence.1)
            || self.is_said_under_a_name(lead)
            || self.is_done_by_a_person(span.sentence.0, ends)
            || self.is_anybodys_record(span.sentence)
    }

    /// `about to hit`, `time for squats`, `let's do`, `off to do`, `working up to`, `one day`.
    fn lies_ahead(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            let last = at.checked_sub(1).map_or(W::None, |at| self.scan.w(at));
            match self.scan.w(at) {
                W::About => next == W::To,
                W::Time => {
                    matches!(next, W::For | W::To)
                        && !matches!(last, W::This | W::That | W::Last | W::Long | W::Ordinal)
                        && self.text(at.saturating_sub(1)) != "first"
                }
                W::Off => next == W::To && self.scan.w(at + 2) != W::A,
                W::One => next == W::Day && at == from,
                W::Not => next == W::Doing,
                W::No => {
                    at + 1 == to && self.is_name(to)
                        || self.text(at + 1) == "way" && {
                            matches!(self.scan.w(at + 2), W::I | W::You)
                        }
                }
                _ => match self.text(at) {
                    "lets" | "let" => !self.text(at + 1).starts_with("go"),
                    "working" => next == W::Up && self.scan.w(at + 2) == W::To,
                    "training" | "prepping" => next == W::For,
                    "coming" => next == W::Up,
                    "missed" => at + 1 == to && self.is_name(to),
                    "deck" | "menu" | "cards" => last == W::On || last == W::The,
                    "todays" => self.text(at + 1) == "menu",
                    _ => false,
                },
            }
        })
    }

    fn is_name(&self, at: usize) -> bool {
        self.scan
            .token(at)
            .is_some_and(|t| t.word.roles.any(Roles::NAME))
            && self.text(at) != "belt"
    }

    /// `by christmas`, `before the summer`, `in june`, and `this friday`.
    fn holds_season(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| match self.scan.w(at) {
            W::By | W::Before | W::Till | W::In => {
                let the = usize::from(matches!(self.scan.w(at + 1), W::The | W::My | W::This));
                let named = self.text(at + 1 + the);
                SEASONS.contains(&named)
                    || self.text(at + 1 + the) == "new" && self.text(at + 2 + the) == "year"
                    || self.text(at + 1 + the) == "end" && self.scan.w(at + 2 + the) == W::Of
            }
            W::This => self.scan.w(at + 1) == W::Weekday,
            _ => false,
        })
    }

    /// `i can bench`, `can do`: what could be done; a question is judged apart.
    fn is_in_thought(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let first = at == from;
            match self.scan.w(at) {
                W::Can => self.is_left(at),
                W::Like => at + 1 == to && (first || self.scan.w(at - 1) != W::Feel),
                _ => {
                    matches!(self.text(at), "say" | "type" | "write" | "enter") && self.is_left(at)
                }
            }
        })
    }

    /// `back in the day`, `back when i was young`, `in '98`, `in my prime`.
    fn is_of_old(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            match self.scan.w(at) {
                W::Back => {
                    next == W::When
                        || next == W::In
                            && matches!(self.scan.w(at + 2), W::The | W::My)
                            && matches!(self.text(at + 3), "day" | "days" | "prime" | "twenties")
                        || next == W::At && self.text(at + 2) == "school"
                }
                W::In => {
                    self.text(at + 2) == "prime"
                        || self.scan.is(at + 1, Mark::Prime) && self.scan.digits(at + 2).is_some()
                }
                _ => self.text(at) == "used" && next == W::To,
            }
        })
    }

    /// `just kidding`, `in my dreams`.
    fn is_in_jest(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(
                self.text(at),
                "jk" | "kidding" | "joking" | "joke" | "dreams" | "pretend"
            )
        })
    }

    /// `is bench 80x8 good`, `does squat 5x5 work`, `how do I log bench 80x10`: a question without
    /// its mark. `what a day` and `could only do` are none.
    fn asks_at_start(&self, span: &Span) -> bool {
        let first = span.sentence.0;
        let next = self.scan.w(first + 1);
        self.is_left(first)
            && match self.scan.w(first) {
                W::How | W::What | W::Which => next != W::A,
                _ => {
                    matches!(
                        self.text(first),
                        "is" | "are"
                            | "does"
                            | "would"
                            | "will"
                            | "could"
                            | "can"
                            | "has"
                            | "isnt"
                            | "arent"
                    ) && self.text(first + 1) != "only"
                }
            }
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

    /// `bench 100x5 later`: to come. `3 min later` is a rest.
    fn is_put_off(&self, (from, to): (usize, usize)) -> bool {
        to > from && self.scan.w(to - 1) == W::Later && self.is_left(to - 1)
    }

    /// An opening quotation mark before it. Behind a number the mark is seconds or inches.
    fn is_quoted(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.scan.is(at, Mark::DoublePrime) && (at == 0 || self.scan.digits(at - 1).is_none())
        })
    }

    /// `squat 100x5 was the club record`, `bench 80x8 is a good weight`: said of the numbers, not
    /// of the set. `was a grind` and `is a new pb` tell of the set.
    fn is_stated(&self, from: usize, to: usize) -> bool {
        let Some(copula) = (from..to.min(from + 2)).find(|&at| {
            matches!(self.scan.w(at), W::Is | W::Was) && self.is_left(at) || self.text(at) == "are"
        }) else {
            return false;
        };
        let tail = || (copula + 1..to).map(|at| self.text(at));
        let best = tail().any(|word| matches!(word, "pb" | "pr" | "pbs" | "prs"));
        let record = tail().any(|word| matches!(word, "record" | "records"));
        let measure = tail().any(|word| {
            matches!(
                word,
                "weight" | "average" | "standard" | "normal" | "norm" | "minimum" | "limit"
            )
        });
        let new = tail().any(|word| word == "new");
        let judged = self.scan.w(copula) == W::Is && self.scan.w(copula + 1) == W::Good;
        let ours = self.scan.w(copula) == W::Was && self.scan.w(copula + 1) == W::My && best;
        record && !new || measure || judged || ours
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
                t.word.roles.any(Roles::DID)
                    || matches!(
                        self.text(at),
                        "gave" | "had" | "made" | "wants" | "has" | "programmed"
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
