//! Turns of phrase before a set that put it ahead, long ago, or only in thought.

use super::{Case, Span};
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::{Roles, W};

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
    /// `about to hit`, `time for squats`, `let's do`, `off to do`, `working up to`, `one day`,
    /// `scared of squat`, `I have bench`, `still to do`, `today is bench`.
    pub(super) fn lies_ahead(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            let last = at.checked_sub(1).map_or(W::None, |at| self.scan.w(at));
            let leads = at + 1 == to && self.is_name(to);
            match self.scan.w(at) {
                W::About => next == W::To,
                W::Time => {
                    matches!(next, W::For | W::To)
                        && !matches!(last, W::This | W::That | W::Last | W::Long | W::Ordinal)
                        && self.text(at.saturating_sub(1)) != "first"
                }
                W::Off => next == W::To && self.scan.w(at + 2) != W::A,
                W::One => next == W::Day && at == from,
                W::To => matches!(next, W::Do | W::Go) && last != W::Got,
                W::Have => next == W::To || leads && last == W::I,
                W::Got => leads && self.says_ive(at) && !self.is_off_the_list(to),
                W::Still => matches!(next, W::Have | W::Got) && self.scan.w(at + 2) != W::It,
                W::It => leads && (self.is_contracted(at) || self.text(at) == "its"),
                W::Is => {
                    let the = usize::from(matches!(next, W::A | W::The | W::My));
                    at + 1 + the == to
                        && self.is_name(to)
                        && !matches!(last, W::This | W::That)
                        && at > from
                        && self.text(at - 1) != "here"
                }
                _ => self.expects(at, next, last),
            }
        })
    }

    /// `I've` right before `at`, with its apostrophe or without.
    fn says_ive(&self, at: usize) -> bool {
        at.checked_sub(1)
            .is_some_and(|before| self.text(before) == "ive" || self.scan.short_have(before))
    }

    /// `I've got bench 80x8 done`, `in`, `in the bag`: the plan's line is crossed off.
    fn is_off_the_list(&self, from: usize) -> bool {
        (from..self.scan.tokens.len())
            .any(|at| matches!(self.scan.w(at), W::Done | W::In) || self.text(at) == "finished")
    }

    fn expects(&self, at: usize, next: W, last: W) -> bool {
        match self.text(at) {
            "lets" | "let" => !self.text(at + 1).starts_with("go"),
            "working" => next == W::Up && self.scan.w(at + 2) == W::To,
            "training" | "prepping" => next == W::For,
            "coming" => next == W::Up,
            "wanted" => true,
            "deck" | "menu" | "cards" => last == W::On || last == W::The,
            "todays" => self.text(at + 1) == "menu",
            "scared" | "afraid" | "nervous" | "excited" | "psyched" | "pumped" | "stoked"
            | "hyped" | "keen" | "ready" | "close" | "forward" | "shooting" | "up" | "on" => {
                let toward = matches!(next, W::For | W::About | W::Of)
                    || next == W::To && self.text(at) != "up" && self.text(at) != "on";
                toward && at + 2 <= self.scan.tokens.len()
            }
            _ => false,
        }
    }

    /// Whether the word was written with `'s` or the like.
    fn is_contracted(&self, at: usize) -> bool {
        self.scan.token(at).is_some_and(|t| t.possessive)
    }

    /// `try bench 85x5`, `just do bench 80x8`: said to somebody. `did`, `hit` and `put` tell.
    pub(super) fn is_told_to_do(&self, (from, to): (usize, usize)) -> bool {
        let first = (from..to)
            .find(|&at| {
                !matches!(
                    self.text(at),
                    "just" | "then" | "maybe" | "please" | "pls" | "and" | "ok" | "okay" | "now"
                )
            })
            .unwrap_or(to);
        first < to
            && self.is_left(first)
            && match self.text(first) {
                "do" | "try" | "begin" | "add" | "swap" | "replace" | "use" => true,
                "start" | "go" | "take" => {
                    matches!(
                        self.scan.w(first + 1),
                        W::With | W::At | W::For | W::To | W::On
                    )
                }
                _ => false,
            }
    }

    /// `did not do`, `haven't yet`, `no energy for`, `forgot row`, `failed bench 100x3`.
    pub(super) fn is_left_undone(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            let next = self.scan.w(at + 1);
            let last = at.checked_sub(1).map_or(W::None, |at| self.scan.w(at));
            let leads = at + 1 == to && self.is_name(to);
            match self.scan.w(at) {
                W::Not => {
                    last == W::Did || matches!(next, W::Doing | W::Done | W::Yet | W::Do | W::Going)
                }
                W::No => {
                    leads
                        || matches!(self.text(at + 1), "way" | "chance")
                            && matches!(self.scan.w(at + 2), W::I | W::You)
                        || matches!(self.text(at + 1), "energy" | "time" | "desire" | "mood")
                            && self.scan.w(at + 2) == W::For
                }
                W::Failed => leads && self.text(at) != "failing",
                W::Yet => next == W::To,
                W::From => at + 1 == to && self.scan.digits(to).is_some(),
                _ => match self.text(at) {
                    "forgot" => {
                        let tells = matches!(
                            self.text(at + 2),
                            "post"
                                | "log"
                                | "write"
                                | "enter"
                                | "say"
                                | "mention"
                                | "count"
                                | "add"
                        );
                        next == W::To && !tells
                            || leads
                            || at + 2 == to && next == W::My && self.is_name(to)
                    }
                    "broke" => !matches!(next, W::My | W::The | W::A | W::Out),
                    "stapled" | "pinned" => next == W::By,
                    _ => false,
                },
            }
        })
    }

    pub(super) fn is_name(&self, at: usize) -> bool {
        self.scan
            .token(at)
            .is_some_and(|t| t.word.roles.any(Roles::NAME))
            && self.text(at) != "belt"
    }

    /// `by christmas`, `before the summer`, `in june`, and `this friday`.
    pub(super) fn holds_season(&self, (from, to): (usize, usize)) -> bool {
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
    pub(super) fn is_in_thought(&self, (from, to): (usize, usize)) -> bool {
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
    pub(super) fn is_of_old(&self, (from, to): (usize, usize)) -> bool {
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
                _ => {
                    self.text(at) == "used" && next == W::To
                        || matches!(self.text(at), "remember" | "remembering" | "remembered")
                }
            }
        })
    }

    /// `just kidding`, `in my dreams`.
    pub(super) fn is_in_jest(&self, (from, to): (usize, usize)) -> bool {
        (from..to).any(|at| {
            matches!(
                self.text(at),
                "jk" | "kidding" | "joking" | "joke" | "dreams" | "pretend"
            )
        })
    }

    /// `is bench 80x8 good`, `does squat 5x5 work`, `how do I log bench 80x10`: a question without
    /// its mark. `what a day` and `could only do` are none.
    pub(super) fn asks_at_start(&self, span: &Span) -> bool {
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

    /// An opening quotation mark before it. Behind a number the mark is seconds or inches.
    pub(super) fn is_quoted(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.scan.is(at, Mark::DoublePrime) && (at == 0 || self.scan.digits(at - 1).is_none())
        })
    }
}
