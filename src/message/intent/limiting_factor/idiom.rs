//! Turns of phrase for what ended a set: `lost my grip`, `ran out of breath`, `that was all triceps`.

use super::{Subject, Telling};
use crate::message::words::grammar_words::ends::{ALONE, CARRIES, LIMITS, SENSES, STOPPED};
use crate::message::words::vocabulary::W;

impl Telling<'_> {
    /// A turn of phrase that begins at `at`.
    pub(super) fn idiom(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        self.loses_grip(at)
            .map(|end| (vec![Subject::Grip], end, false))
            .or_else(|| {
                self.runs_out(at)
                    .map(|(end, state)| (vec![Subject::Breath], end, state))
            })
            .or_else(|| self.ended_by(at))
            .or_else(|| self.limit_was(at))
            .or_else(|| self.all_of(at))
            .or_else(|| self.felt_in(at))
    }

    /// `lost my grip`, `couldn't hold the bar`, `bar slipped`.
    fn loses_grip(&self, at: usize) -> Option<usize> {
        let next = self.skip(at + 1);
        match self.text(at) {
            "lost" => matches!(self.text(next), "grip" | "hold").then_some(next + 1),
            "couldnt" | "cant" | "could" => {
                let hold = (at + 1..at + 4).find(|&i| matches!(self.text(i), "hold" | "grip"));
                let not = self.text(at) != "could" || matches!(self.text(at + 1), "not" | "barely");
                let bar = hold.filter(|_| not)?;
                let thing = self.skip(bar + 1);
                let held = matches!(
                    self.text(thing),
                    "" | "on" | "onto" | "bar" | "it" | "them" | "dumbbells" | "dbs" | "handle"
                );
                held.then_some(thing + 1)
            }
            "bar" | "handle" | "dumbbell" | "dumbbells" => {
                let slips = matches!(self.text(next), "slipped" | "rolled" | "slid" | "slipping");
                slips.then_some(next + 1)
            }
            _ => None,
        }
    }

    /// `ran out of breath`, `no breath left`; `out of breath` and `gassed` are states.
    fn runs_out(&self, at: usize) -> Option<(usize, bool)> {
        let air = |i: usize| matches!(self.text(i), "breath" | "wind" | "air" | "puff" | "oxygen");
        let of = |i: usize| self.text(i) == "of" && air(self.skip(i + 1));
        match self.text(at) {
            "ran" | "run" if self.text(at + 1) == "out" && of(at + 2) => {
                Some((self.skip(at + 3) + 1, false))
            }
            "no" if air(at + 1) && self.w(at + 2) == W::Left => Some((at + 3, true)),
            "out" if of(at + 1) => Some((self.skip(at + 2) + 1, true)),
            "gassed" | "winded" | "breathless" | "puffed" => Some((at + 1, true)),
            _ => None,
        }
    }

    /// `limited by grip`, `stopped because of my lungs`.
    fn ended_by(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        if !CARRIES.has(self.text(at)) {
            return None;
        }
        let by = (at + 1..at + 5).find(|&i| {
            self.w(i) == W::By
                || self.text(i) == "of"
                    && matches!(self.text(i - 1), "because" | "cos" | "cause" | "coz")
                || self.text(i) == "to" && self.text(i - 1) == "due"
        })?;
        let (subject, end) = self.subject(self.skip(by + 1))?;
        Some((vec![subject], end, false))
    }

    /// `limiter was grip`, `weak link was my biceps`.
    fn limit_was(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        let stops = self.text(at) == "what" && STOPPED.contains(&self.text(at + 1));
        let reach = if stops { at + 6 } else { at + 3 };
        let copula = (at + 1..reach).find(|&i| matches!(self.w(i), W::Is | W::Was))?;
        let limit = LIMITS.has(self.text(at)) && !matches!(self.text(at), "first" | "what");
        let limit = limit || stops;
        let (subject, end) = self.subject(self.skip(copula + 1)).filter(|_| limit)?;
        Some((vec![subject], end, false))
    }

    /// `that was all triceps`, `mostly grip`.
    fn all_of(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        if !ALONE.contains(&self.text(at)) {
            return None;
        }
        let led = match at.checked_sub(1).filter(|&i| i >= self.clause.from) {
            // By itself it may be what was trained, or what is left to train.
            None => self.has_numbers(),
            Some(before) => {
                matches!(self.w(before), W::Was | W::Is | W::Feel | W::Like)
                    || self.is_taken(before)
                    || ALONE.contains(&self.text(before))
                    || matches!(self.text(before), "pretty" | "almost")
            }
        };
        let (mut subjects, mut end) = self
            .subject(self.skip(at + 1))
            .map(|(one, end)| (vec![one], end))?;
        while let Some((more, to)) = self.joined(end) {
            subjects.push(more);
            end = to;
        }
        let ends = end >= self.clause.to
            || matches!(
                self.text(end),
                "that" | "this" | "there" | "again" | "not" | "on" | "rather"
            );
        let told_of_it = matches!(self.text(end), "that" | "this" | "there");
        let led = led || told_of_it && at == self.clause.from;
        (ends && led).then_some((subjects, end, false))
    }

    /// `only felt it in my triceps`, `felt it all in the forearms`.
    fn felt_in(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        if !SENSES.contains(&self.text(at)) {
            return None;
        }
        let within = (at + 1..at + 6).find(|&i| self.w(i) == W::In)?;
        let alone = (at.saturating_sub(2)..within)
            .any(|i| i >= self.clause.from && ALONE.contains(&self.text(i)));
        let (subject, end) = self.subject(self.skip(within + 1))?;
        let not = matches!(self.text(end), "not" | "rather");
        (alone || not).then_some((vec![subject], end, false))
    }
}
