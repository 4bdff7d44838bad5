//! What gave out before the target muscle: `triceps gave out first`, `grip went`, `ran out of
//! breath`, `that was all triceps`.
//!
//! An event is told, by a verb, an order (`lungs before legs`) or an idiom (`lost my grip`); a state
//! (`grip's fried`) is a word on readiness and none of this. Breath is the exception: `squat 100x12,
//! out of breath` without an effort tells how the set ended. What is denied, feared, asked, usual, or
//! somebody else's is left alone, and where something hurts nothing is read here at all.

mod idiom;

use super::ready;
use crate::domain::log::LimitingFactor;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::message::grammar::clause::Clause;
use crate::message::grammar::item::{Item, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::words::grammar_words::ends::{
    BLOCKS, ENDS_THINGS, GOES_ON, GRIP, LASTS, LIMITS, SKIPPED, STOPPED,
};
use crate::message::words::token::Mark;
use crate::message::words::variants::has;
use crate::message::words::vocabulary::{Roles, W};

/// What is said to have ended a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Subject {
    Breath,
    Muscle(MuscleId),
    /// Hands, fingers, a bar that slips.
    Grip,
    Arms,
    Legs,
}

/// One such word.
#[derive(Clone, Debug)]
pub(crate) struct LimitingPhrase {
    subjects: Vec<Subject>,
    /// Its first token, and the one after its last.
    pub(crate) from: usize,
    pub(crate) to: usize,
    /// Of the last set of a list alone: `on the last one`.
    pub(crate) last_only: bool,
    /// How the lifter stood after the set; it ended the set where no effort was said.
    pub(crate) state: bool,
}

impl LimitingPhrase {
    /// What gave out in a set of `exercise`; `Some(None)` where the target itself did.
    pub(crate) fn of(&self, catalogue: &Catalogue, exercise: ExerciseId) -> Option<LimitingFactor> {
        let target = catalogue.exercise(exercise).target?;
        let is_target = |subject: &Subject| match subject {
            Subject::Breath => false,
            Subject::Muscle(muscle) => ready::same_words(catalogue, target, *muscle),
            Subject::Grip => catalogue.muscle(target).name == "forearms",
            Subject::Arms => is_one(catalogue, target, "biceps triceps forearms"),
            Subject::Legs => is_one(
                catalogue,
                target,
                "quads hamstrings glutes calves adductors abductors",
            ),
        };
        if self.subjects.iter().any(is_target) {
            return None;
        }
        Some(match self.subjects.contains(&Subject::Breath) {
            true => LimitingFactor::Breath,
            false => LimitingFactor::Helpers,
        })
    }
}

fn is_one(catalogue: &Catalogue, muscle: MuscleId, names: &str) -> bool {
    has(names, &catalogue.muscle(muscle).name)
}

/// Everything of the kind that a message tells, in order.
pub(crate) fn told(scan: &Scan<'_>, items: &[Spanned], clauses: &[Clause]) -> Vec<LimitingPhrase> {
    let of_clause = |clause: &Clause| {
        let telling = Telling {
            scan,
            items,
            clause: *clause,
        };
        telling.told()
    };
    let asked = |clause: &&Clause| clause.end != Some(Mark::Question);
    clauses.iter().filter(asked).filter_map(of_clause).collect()
}

/// Whether a message of its own says nothing else: every word is one that such messages are made
/// of, and none is of the past, of plans, or of others.
pub(crate) fn is_all(scan: &Scan<'_>, told: &[LimitingPhrase]) -> bool {
    let apart = Roles::OTHER
        .with(Roles::PLAN)
        .with(Roles::WHO)
        .with(Roles::MEASURE)
        .with(Roles::ROWING);
    let harmless = Roles::FILL
        .with(Roles::FIT)
        .with(Roles::FIX)
        .with(Roles::PERSON);
    scan.tokens.len() <= LONGEST
        && scan.tokens.iter().enumerate().all(|(at, token)| {
            let inside = told.iter().any(|one| one.from <= at && at < one.to);
            let roles = token.word.roles;
            let news = matches!(
                token.word.w,
                W::Yesterday | W::Weekday | W::Week | W::Ago | W::Night
            );
            inside
                || match token.kind {
                    crate::message::words::token::Kind::Word => {
                        !news
                            && !roles.any(apart)
                            && (roles.any(harmless) || roles.any(Roles::NAME))
                    }
                    crate::message::words::token::Kind::Mark(mark) => mark != Mark::Question,
                    _ => scan.digits(at).is_some_and(|count| count <= 30.0),
                }
        })
}

/// A message of more tokens than this tells a story.
const LONGEST: usize = 18;

struct Telling<'t> {
    scan: &'t Scan<'t>,
    items: &'t [Spanned],
    clause: Clause,
}

/// Words behind `went` that say when, or how far.
const BEHIND_WENT: &str = "first before early on again at way long well and too completely halfway";

impl Telling<'_> {
    fn told(&self) -> Option<LimitingPhrase> {
        let (from, to) = (self.clause.from, self.clause.to);
        let found = (from..to).find_map(|at| {
            let (subjects, end, state) = self.idiom(at).or_else(|| self.at_subject(at))?;
            (!self.is_blocked(at)).then_some((at, subjects, end, state))
        });
        let (at, subjects, end, state) = found?;
        let waits = state
            && (from..self.scan.tokens.len()).any(|i| {
                matches!(
                    self.scan.w(i),
                    W::Still | W::Yet | W::Now | W::Need | W::Rest | W::Min | W::Sec | W::Next
                ) || matches!(self.text(i), "gimme" | "wait" | "hang")
            });
        let begin = self.begin(at);
        let last =
            (end..to).find(|&i| self.scan.w(i) == W::Last && LASTS.contains(&self.text(i + 1)));
        let tail = (end..to).find(|&i| !self.goes_on(i)).unwrap_or(to);
        (!waits).then_some(LimitingPhrase {
            subjects,
            from: begin,
            to: tail,
            last_only: last.is_some(),
            state,
        })
    }

    fn text(&self, at: usize) -> &str {
        match at < self.clause.to {
            true => self.scan.text_at(at),
            false => "",
        }
    }

    fn w(&self, at: usize) -> W {
        match at < self.clause.to {
            true => self.scan.w(at),
            false => W::None,
        }
    }

    /// The words that lead to an event: `think my`, `but the`.
    fn begin(&self, at: usize) -> usize {
        let free = |i: &usize| {
            !self.is_taken(*i)
                && self
                    .scan
                    .token(*i)
                    .is_some_and(|t| t.word.roles.any(Roles::FILL))
        };
        let before = (self.clause.from..at).rev().take_while(free);
        before.last().unwrap_or(at)
    }

    /// Whether a token is a number, a name or a phrase of a set.
    fn is_taken(&self, at: usize) -> bool {
        item_at(self.items, at).is_some_and(|s| {
            matches!(
                s.item,
                Item::Name(_)
                    | Item::Num(_)
                    | Item::Times
                    | Item::Body
                    | Item::Effort(_)
                    | Item::Rest(_)
                    | Item::Reps
                    | Item::Sets
            )
        })
    }

    /// Whether a word still belongs to the event before it.
    fn goes_on(&self, at: usize) -> bool {
        GOES_ON.has(self.text(at))
            || self.w(at) == W::Ordinal
            || self.scan.digits(at).is_some_and(|count| count <= 30.0)
            || self.subject(at).is_some()
            || at
                .checked_sub(1)
                .and_then(|before| self.subject(before))
                .is_some_and(|(_, end)| end > at)
    }

    /// Denied, feared, usual, somebody else's, or told of a time before it happened.
    fn is_blocked(&self, at: usize) -> bool {
        let others = Roles::OTHER
            .with(Roles::WHO)
            .with(Roles::HYPO)
            .with(Roles::INTENT);
        (self.clause.from..at).any(|i| {
            let own = matches!(self.text(i), "could" | "couldnt" | "when");
            let roles = self.scan.token(i).map(|t| t.word.roles).unwrap_or_default();
            !own && !self.is_taken(i) && roles.any(others) || BLOCKS.has(self.text(i))
        }) || (at.saturating_sub(3)..at)
            .any(|i| i >= self.clause.from && matches!(self.w(i), W::Before | W::Till))
    }

    /// What is named at `at`, with the token after it.
    fn subject(&self, at: usize) -> Option<(Subject, usize)> {
        if at >= self.clause.to || self.is_named(at) {
            return None;
        }
        if let Some(found) = ready::muscle_at(self.scan, &self.clause, at) {
            let grip = self.text(at) == "grip";
            let subject = if grip {
                Subject::Grip
            } else {
                Subject::Muscle(found.0)
            };
            return Some((subject, found.1));
        }
        let one = |subject| Some((subject, at + 1));
        match (self.text(at), self.w(at)) {
            ("cardio" | "conditioning" | "engine" | "breathing" | "breath" | "air", _)
            | (_, W::Lung) => one(Subject::Breath),
            ("arm" | "arms", _) => one(Subject::Arms),
            ("leg" | "legs", _) => one(Subject::Legs),
            (text, _) if GRIP.contains(&text) => one(Subject::Grip),
            _ => None,
        }
    }

    /// Whether the message holds numbers that may be a set's.
    fn has_numbers(&self) -> bool {
        self.items.iter().any(|s| matches!(s.item, Item::Num(_)))
    }

    fn is_named(&self, at: usize) -> bool {
        item_at(self.items, at).is_some_and(|s| matches!(s.item, Item::Name(_)))
    }

    /// An event told of what is named at `at`.
    fn at_subject(&self, at: usize) -> Option<(Vec<Subject>, usize, bool)> {
        let (mut subjects, mut end) = self.subject(at).map(|(one, end)| (vec![one], end))?;
        while let Some((more, to)) = self.joined(end) {
            subjects.push(more);
            end = to;
        }
        let verb = match self.text(end) {
            "that" | "which" | "who" => self.skip(end + 1),
            _ => self.skip(end),
        };
        let done = self
            .gives_out(verb)
            .or_else(|| self.is_limit(verb))
            .or_else(|| self.comes_first(verb))
            .or_else(|| self.stands_before(end))?;
        Some((subjects, done, false))
    }

    /// `and grip` behind another.
    fn joined(&self, at: usize) -> Option<(Subject, usize)> {
        let joins = self.w(at) == W::And
            || self.scan.is(at, Mark::And)
            || self.scan.is(at, Mark::Slash)
            || self.scan.is(at, Mark::Plus);
        let next = if self.w(at + 1) == W::My {
            at + 2
        } else {
            at + 1
        };
        joins.then(|| self.subject(next)).flatten()
    }

    /// Behind words that say nothing here.
    fn skip(&self, mut at: usize) -> usize {
        while SKIPPED.has(self.text(at)) {
            at += 1;
        }
        at
    }

    /// `gave out`, `went`, `died`, `packed in`, `let go`, `ran out`; the token after it.
    fn gives_out(&self, at: usize) -> Option<usize> {
        let next = self.text(at + 1);
        let ends = at + 1 >= self.clause.to || self.is_taken(at + 1);
        match self.text(at) {
            "gave" => (ends
                || matches!(
                    next,
                    "out" | "up" | "in" | "way" | "first" | "before" | "on"
                ))
            .then_some(at + 2),
            "went" | "gone" => {
                let order = has(BEHIND_WENT, next);
                let went = self.text(at) == "went" && (ends || order);
                (went || matches!(next, "first" | "before")).then_some(at + 1)
            }
            "died" | "failed" | "quit" | "conked" | "folded" | "crapped" | "bailed" => Some(at + 1),
            "slipped" | "opened" | "slid" => Some(at + 1),
            "first" => (next == "to").then_some(at + 3),
            "took" => (next == "over").then_some(at + 2),
            "packed" => matches!(next, "in" | "up").then_some(at + 2),
            "tapped" | "burned" | "burnt" | "ran" | "checked" => (next == "out").then_some(at + 2),
            "let" => (next == "go").then_some(at + 2),
            "failing" | "giving" | "going" | "dying" | "cramped" | "cramping" => {
                (at + 1..at + 3).find(|&i| matches!(self.text(i), "first" | "before"))
            }
            verb if STOPPED.contains(&verb) => {
                let thing = (at + 1..at + 4).find(|&i| ENDS_THINGS.contains(&self.text(i)));
                thing.map(|thing| thing + 1)
            }
            "limited" => Some(at + 1),
            _ => None,
        }
    }

    /// `was the limit`, `were the weak link`, `was what stopped me`.
    fn is_limit(&self, at: usize) -> Option<usize> {
        let copula = matches!(self.w(at), W::Is | W::Was) || self.text(at) == "are";
        let limit = (at + 1..at + 4).find(|&i| LIMITS.has(self.text(i)));
        let words = limit.filter(|_| copula)?;
        Some(words + 1)
    }

    /// `were fried before chest`, `done first`.
    fn comes_first(&self, at: usize) -> Option<usize> {
        let at = match matches!(self.w(at), W::Is | W::Was) || self.text(at) == "are" {
            true => self.skip(at + 1),
            false => at,
        };
        let spent = self
            .scan
            .token(at)
            .is_some_and(|t| at < self.clause.to && t.word.roles.any(Roles::SPENT));
        let first = self.text(at + 1) == "first" || self.text(at + 1) == "before";
        let long =
            matches!(self.text(at + 1), "long" | "well" | "way") && self.text(at + 2) == "before";
        (spent && (first || long)).then_some(at + 2)
    }

    /// `lungs before legs`, with a set.
    fn stands_before(&self, at: usize) -> Option<usize> {
        let leads = at.checked_sub(2).is_some_and(|i| {
            i >= self.clause.from && matches!(self.text(i), "did" | "do" | "doing" | "train")
        });
        let other = self.subject(self.skip(at + 1));
        (self.w(at) == W::Before && !leads && other.is_some()).then_some(at + 1)
    }
}
