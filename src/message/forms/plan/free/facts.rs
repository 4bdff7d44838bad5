//! What stands in a line of a plan: names, sets, repetitions, time, effort, loads, rests, sides.
//!
//! Each is found at a token with the token behind its last; what fits nowhere stays a word.

use super::lex::{Kind, Token};
use super::numbers::{pair, whole};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::NameIndex;
use crate::message::words::variants::has;

/// A number or a range.
pub(super) type Span = (f64, f64);

/// What one set is, as written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Amount {
    Reps(Span),
    List(Vec<u32>),
    Time(Span),
    Max,
}

impl Amount {
    /// The fewest repetitions; `None` for a time and for as many as possible.
    pub(super) fn fewest(&self) -> Option<u32> {
        match self {
            Self::Reps((low, _)) => whole(*low),
            Self::List(list) => list.iter().min().copied(),
            Self::Time(_) | Self::Max => None,
        }
    }
}

/// A load as written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Load {
    /// An amount, the unit where it is written, and the basis where that is: added behind a plus sign, for each hand
    /// as `2x16 kg`.
    Mass {
        amount: f64,
        unit: Option<Unit>,
        basis: Option<Basis>,
    },
    /// Percent of what can be lifted so many times.
    Share(Span, u32),
    /// Percent of the top set.
    TopSet(f64),
    /// The body alone.
    Body,
    /// A number behind `@` without a unit, which may be percent, with its tokens.
    Open { amount: f64, at: (usize, usize) },
}

/// Something that a line says.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Fact {
    Name(ExerciseId),
    Sets(Span),
    Amount(Amount),
    SetsOf(Span, Amount),
    Rounds(Span),
    /// A time of which the place decides whether it is a set's or a rest.
    Time(Span),
    Rest(Span),
    /// Repetitions in reserve.
    Effort(Span),
    Load(Load),
    Side,
    /// Repetitions for each side, which hold in place of those before: `50 (25 per leg)`.
    SideReps(Span),
    Hand,
    /// How it is done; kept as words.
    Manner,
    /// Warm-up sets and the like: nothing to plan.
    Aside,
    /// Done in turn.
    InTurn,
    Or,
    With,
    Comma,
    Stop,
    Colon,
    Open,
    Close,
    Word,
    /// A number that counts nobody knows what, or a number of what a plan cannot hold.
    Loose,
    /// A number behind `@` that is neither effort nor load: `@4`.
    NoEffort,
}

/// A fact with its tokens.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub fact: Fact,
    pub from: usize,
    pub to: usize,
}

/// Tokens with the names they may hold.
pub(super) struct Scan<'a> {
    pub tokens: &'a [Token],
    pub names: &'a NameIndex,
    /// Whether the line says that `10 x 2` are two sets of ten.
    pub reps_first: bool,
}

/// Words that begin no name of one word, though a name may go on behind them.
const NO_NAME: &str = "\
    hold holds sets set rest max step steps jump walk run raise raises machine cable bar \
    bodyweight light heavy superset circuit abs core twist swing carry extension fly";

/// Longest name in tokens.
const LONGEST: usize = 9;

impl<'a> Scan<'a> {
    pub(super) const fn new(tokens: &'a [Token], names: &'a NameIndex) -> Self {
        Self {
            tokens,
            names,
            reps_first: false,
        }
    }
}

impl Scan<'_> {
    /// Every fact of the line, in order.
    pub(super) fn facts(&self) -> Vec<Found> {
        let mut out: Vec<Found> = Vec::new();
        let mut at = 0;
        while at < self.tokens.len() {
            let (fact, to) = self.fact(at, &out);
            let to = to.max(at + 1).min(self.tokens.len());
            out.push(Found { fact, from: at, to });
            at = to;
        }
        out
    }

    pub(super) fn fact(&self, at: usize, before: &[Found]) -> (Fact, usize) {
        let found = self
            .name(at)
            .or_else(|| self.effort(at))
            .or_else(|| self.tempo(at, before))
            .or_else(|| self.on_the_clock(at, before))
            .or_else(|| self.rest(at))
            .or_else(|| self.sides(at, before))
            .or_else(|| self.load(at, before))
            .or_else(|| self.sets(at))
            .or_else(|| self.rep_max(at, before))
            .or_else(|| self.words(at));
        let counted = before
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        match found {
            Some(found) => found,
            // `bench 3x8 + row 3x8`
            None if counted && self.at(at) == "+" && self.name(at + 1).is_some() => {
                (Fact::With, at + 1)
            }
            None => self.sign_or_word(at),
        }
    }

    /// The longest name that begins here.
    pub(super) fn name(&self, from: usize) -> Option<(Fact, usize)> {
        let first = self.tokens.get(from)?;
        let angle = matches!(first.kind, Kind::Number(_))
            && self.tokens.get(from + 1).is_some_and(|next| {
                next.kind == Kind::Word && !next.is("x") && self.unit_at(from + 1).is_none()
            });
        if first.kind != Kind::Word && !angle {
            return None;
        }
        if self.any(from, "x with then and or of to into at the for a") {
            return None;
        }
        let joins =
            |token: &Token| token.kind == Kind::Word || (token.sign() == Some('-') && token.glued);
        let mut end = from + 1;
        while end < from + LONGEST
            && let Some(token) = self.tokens.get(end)
            && joins(token)
            && !matches!(token.text.as_str(), "x" | "with" | "or" | "then")
            && (!token.is("to") || token.glued)
        {
            end += 1;
        }
        let named = |mended: bool| {
            (from + 1..=end).rev().find_map(|to| {
                let tokens = self.tokens.get(from..to)?;
                if tokens.last()?.sign().is_some() {
                    return None;
                }
                if to == from + 1 && has(NO_NAME, first.text.as_str()) {
                    return None;
                }
                let words = tokens.iter().filter(|token| token.sign().is_none());
                let words = words.map(|token| match mended {
                    true => self.names.mended(&token.text).unwrap_or(&token.text),
                    false => token.text.as_str(),
                });
                let id = self.names.named(&words.collect::<Vec<_>>().join(" "))?;
                Some((Fact::Name(id), to))
            })
        };
        // `sqaut`: a slip of the keyboard.
        let mut run = self.tokens.get(from..end)?.iter();
        let slip = run.any(|token| self.names.mended(&token.text).is_some());
        named(false).or_else(|| slip.then(|| named(true)).flatten())
    }

    /// `5x3 every 2 min`: on the clock, the set is within that time and no rest.
    fn on_the_clock(&self, at: usize, before: &[Found]) -> Option<(Fact, usize)> {
        let counted = before
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        if !counted || self.at(at) != "every" {
            return None;
        }
        let (_, to) = self.duration(at + 1)?;
        Some((Fact::Manner, to))
    }

    /// `squat 8RM`: a set of as many as go, behind the name.
    fn rep_max(&self, at: usize, before: &[Found]) -> Option<(Fact, usize)> {
        let named = matches!(before.last()?.fact, Fact::Name(_));
        let reps = self
            .whole(at)
            .filter(|_| named && self.at(at + 1) == "rm")?;
        Some((
            Fact::SetsOf(pair(1.0), Amount::Reps(pair(f64::from(reps)))),
            at + 2,
        ))
    }

    /// Words that stand for a number of sets, of repetitions, or for how things belong together.
    pub(super) fn words(&self, at: usize) -> Option<(Fact, usize)> {
        let three = [self.at(at), self.at(at + 1), self.at(at + 2)];
        let one = |reps: u32| {
            let reps = Amount::Reps(pair(f64::from(reps)));
            Fact::SetsOf(pair(1.0), reps)
        };
        let reps_of = |word: &str| match word {
            "single" => Some(1),
            "double" => Some(2),
            "triple" => Some(3),
            _ => None,
        };
        // `a heavy triple`, `one single new 5RM`, `up to a 5RM`, `top set of 5`.
        let limit = [at, at + 1, at + 2, at + 3];
        let adjective = |at: usize| self.any(at, "a an one heavy new top hard max");
        let noun = limit.into_iter().find(|&at| !adjective(at))?;
        if noun > at {
            let single = noun + usize::from(self.at(noun) == "single" && self.any(noun + 1, "new"));
            let single = single + usize::from(single > noun);
            if let (Some(reps), "rm") = (self.whole(single), self.at(single + 1)) {
                return Some((one(reps), single + 2));
            }
            if let Some(reps) = reps_of(self.at(noun)) {
                return Some((one(reps), noun + 1));
            }
            // `one set of 5`, `one back-off of 15`.
            let kind = match [self.at(noun), self.at(noun + 1), self.at(noun + 2)] {
                ["set" | "backoff", ..] => 1,
                ["back", "off", _] => 2,
                ["back", "-", "off"] => 3,
                _ => 0,
            };
            let noun = noun + kind.max(1) - 1;
            if kind > 0
                && self.at(noun + 1) == "of"
                && let Some((amount, to)) = self.amount(noun + 2, None)
            {
                return Some((Fact::SetsOf(pair(1.0), amount), to));
            }
        }
        match three {
            ["or", ..] => Some((Fact::Or, at + 1)),
            ["with", ..] => Some((Fact::With, at + 1)),
            ["w", "/", _] => Some((Fact::With, at + 2)),
            [
                "superset" | "supersets" | "supersetted" | "ss" | "circuit" | "giant" | "triset"
                | "emom" | "alternate" | "alternating" | "paired" | "pair",
                ..,
            ] => Some((Fact::InTurn, at + 1)),
            ["super", "set" | "sets", _] => Some((Fact::InTurn, at + 2)),
            _ => None,
        }
    }

    /// Words in quotation marks are words to the lifter.
    pub(super) fn quoted(&self, at: usize) -> (Fact, usize) {
        let end = (at + 1..self.tokens.len()).find(|&to| self.sign(to) == Some('"'));
        end.map_or((Fact::Word, at + 1), |end| (Fact::Manner, end + 1))
    }

    pub(super) fn sign_or_word(&self, at: usize) -> (Fact, usize) {
        let Some(token) = self.tokens.get(at) else {
            return (Fact::Word, at + 1);
        };
        let spaced = !self.glued(at) && !self.glued(at + 1);
        let fact = match token.kind {
            Kind::Number(_) => {
                let to = self.range(at).map_or(at + 1, |(_, to)| to);
                return (Fact::Loose, to);
            }
            Kind::Word if matches!(self.at(at), "then" | "and") => Fact::Comma,
            Kind::Word => Fact::Word,
            // `5+`: the last set as long as it goes.
            Kind::Sign('+') if self.glued(at) && self.value(at + 1).is_none() => Fact::Manner,
            Kind::Sign('(' | '[') => Fact::Open,
            Kind::Sign(')' | ']') => Fact::Close,
            Kind::Sign(',' | '+' | '|' | '&') => Fact::Comma,
            Kind::Sign(';') => Fact::Stop,
            Kind::Sign('.') if !self.glued(at + 1) => Fact::Stop,
            Kind::Sign('-') if spaced => Fact::Comma,
            Kind::Sign('/') => Fact::Or,
            Kind::Sign(':') => Fact::Colon,
            Kind::Sign('"') => return self.quoted(at),
            Kind::Sign(_) => Fact::Word,
        };
        (fact, at + 1)
    }
}
