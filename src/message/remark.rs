//! What is said of single sets at the end of the message that reports them, as it would be in a message of its own
//! behind them: `squat 60x10, 100x5, 110x5, first one warm up`.

use std::ops::RangeInclusive;

use super::Context;
use super::intent::carry_on::{Basis, Before, Changed, Told};
use super::reader::Reader;
use super::reading::{Kind, Need, Reading, SetReading};
use super::words::token::{self, Token, tokenize};
use super::words::vocabulary::W;
use crate::domain::quantities::rack::usual_bar;

/// As sure as this a remark is taken. Chosen on lessons of authors held out.
const SURE: f32 = 0.9;

/// Fewer words point at no set, and more make no remark.
const WORDS: RangeInclusive<usize> = 3..=10;

impl Reader {
    /// `read`, with what the last words of `text` tell of some of its sets.
    pub(super) fn with_remark(&self, text: &str, read: Reading, context: &Context<'_>) -> Reading {
        let sets = match (read.kind(), &read.unclear) {
            (Kind::Sets, _) => &read.sets,
            (Kind::Unclear, Some(unclear)) if unclear.needs == [Need::WhichReading] => {
                match unclear.readings.first() {
                    Some(sets) => sets,
                    None => return read,
                }
            }
            _ => return read,
        };
        let one_exercise = (sets.windows(2)).all(|two| two[0].exercise == two[1].exercise);
        if sets.len() < 2 || !one_exercise || !may_be_of_warm_ups(text) {
            return read;
        }
        let remarked = (text.match_indices([',', '.', ';', '(', '\n', '-', '–', '—']))
            .filter_map(|(at, mark)| Some((text.get(..at)?, text.get(at + mark.len()..)?)))
            .find_map(|(head, tail)| self.remarked(head, tail, sets, context));
        match remarked {
            Some(sets) => Reading {
                sets,
                unclear: None,
                ..read
            },
            None => read,
        }
    }

    /// The sets of `head` with what `tail` tells of some of them, where `head` alone tells `sets`.
    fn remarked(
        &self,
        head: &str,
        tail: &str,
        sets: &[SetReading],
        context: &Context<'_>,
    ) -> Option<Vec<SetReading>> {
        let words = tail.split_whitespace().count();
        let is_remark = tail.trim_start().starts_with(char::is_alphabetic);
        if !is_remark || !self.points(tail) || !WORDS.contains(&words) {
            return None;
        }
        let told = self
            .carry_on(tail.trim_end_matches(')'), &behind(sets))
            .filter(|told| told.sure >= SURE)?;
        // An effort behind the last number is the grammar's.
        let Told::Changed(which, Changed::WarmUp) = told.told else {
            return None;
        };
        let mut own = self.read_alone(head, context).sets;
        let done = |set: &SetReading| (set.exercise, set.load, set.reps, set.seconds);
        own.iter()
            .map(done)
            .eq(sets.iter().map(done))
            .then_some(())?;
        for at in which {
            own.get_mut(at)?.warm_up = true;
        }
        Some(own)
    }

    /// Whether words speak of single sets: by a place or a number.
    fn points(&self, text: &str) -> bool {
        let tokens = tokenize(text, self.names().vocabulary());
        let points = |token: &Token| {
            token.kind == token::Kind::Number
                || matches!(token.word.w, W::Ordinal | W::Last | W::Numeral)
        };
        tokens.list.iter().any(points)
    }
}

/// Whether a text may speak of warming up, the one thing that is taken from a remark: most do not, and need no second look.
fn may_be_of_warm_ups(text: &str) -> bool {
    let text = text.to_lowercase();
    text.contains("warm") || text.contains("wu")
}

/// What a remark on these sets goes on from.
fn behind(sets: &[SetReading]) -> Before {
    let last = sets.last();
    let amount = |set: &SetReading| set.load.mass.amount(set.load.unit);
    let done = |set: &SetReading| (amount(set), f64::from(set.seconds.unwrap_or(set.reps)));
    Before {
        load: last.map(amount).filter(|amount| *amount > 0.0),
        sets: sets.iter().map(done).collect(),
        held: last.is_some_and(|last| last.seconds.is_some()),
        rated: last.is_some_and(|last| last.rir.is_some()),
        basis: last.map_or(Basis::Total, |last| Basis::usual(last.load.basis)),
        bar: last.map_or(0.0, |last| usual_bar(last.load.unit)),
        ..Before::default()
    }
}
