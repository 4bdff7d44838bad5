//! Numbers of a line: ranges, lists, times, and what one set is.

use super::facts::{Amount, Scan, Span};
use super::lex::{Kind, Token, number_word};
use crate::message::words::unit::unit_of;
use crate::message::words::variants::has;

pub(super) const REPS: &str = "rep reps repetition repetitions repeats";

pub(super) const SETS: &str = "set sets series lots goes bouts efforts";

pub(super) const ROUNDS: &str = "round rounds times circuits";

/// Words for what a number counts, beside times and loads.
const UNITS: &str =
    "% percent km m metres meters yards yd yds ft feet steps paces cm cal cals calories";

impl Scan<'_> {
    pub(super) fn at(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |token| token.text.as_str())
    }

    pub(super) fn any(&self, at: usize, words: &str) -> bool {
        has(words, self.at(at))
    }

    pub(super) fn sign(&self, at: usize) -> Option<char> {
        self.tokens.get(at).and_then(Token::sign)
    }

    pub(super) fn glued(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| token.glued)
    }

    pub(super) fn value(&self, at: usize) -> Option<f64> {
        let token = self.tokens.get(at)?;
        match token.kind {
            Kind::Number(value) => Some(value),
            Kind::Word => number_word(&token.text).map(f64::from),
            Kind::Sign(_) => None,
        }
    }

    /// A number or a range: `8`, `8-12`, `8 to 12`, `~3`.
    pub(super) fn range(&self, from: usize) -> Option<(Span, usize)> {
        let from = from + usize::from(matches!(self.sign(from), Some('~' | '≈')));
        let low = self.value(from)?;
        let to = from + 1;
        if self.at(to) == "to"
            && let Some(high) = self.value(to + 1)
        {
            return Some(((low, high), to + 2));
        }
        if self.sign(to) == Some('-')
            && let Some(high) = self.value(to + 1)
        {
            let tight = self.glued(to) && self.glued(to + 1);
            // Spaced out, it is as likely the dash between two parts of the line.
            let near = high > low && high <= 2.5 * low + 4.0 && self.unit_at(to + 2).is_none();
            let more = self.sign(to + 2) == Some('-') && self.glued(to + 2) && self.glued(to + 3);
            if (tight && !(more && self.value(to + 3).is_some())) || (!tight && near) {
                return Some(((low, high), to + 2));
            }
        }
        Some(((low, low), to))
    }

    /// At least `least` whole numbers in a row: `10/7/5/3`, `30,20,15`, `5, 4, 3`.
    pub(super) fn list(&self, from: usize, least: usize) -> Option<(Vec<u32>, usize)> {
        if let Some(list) = self.spaced_list(from) {
            return Some(list);
        }
        let between = self.sign(from + 1)?;
        if !matches!(between, ',' | '/' | '-') {
            return None;
        }
        let mut values = vec![self.whole(from)?];
        let mut to = from + 1;
        while self.sign(to) == Some(between)
            && (between == ',' || (self.glued(to) && self.glued(to + 1)))
            && let Some(next) = self.whole(to + 1)
        {
            values.push(next);
            to += 2;
        }
        let unit = self.unit_at(to).is_some() || self.any(to, "x") || self.effort(to - 1).is_some();
        (values.len() >= least && !unit && !self.any(to, SETS)).then_some((values, to))
    }

    /// `20 18 15 12 10 reps`: numbers with nothing between them, of which the last says what they count.
    pub(super) fn spaced_list(&self, from: usize) -> Option<(Vec<u32>, usize)> {
        let number = |at: &usize| {
            let token = self.tokens.get(*at);
            token.is_some_and(|token| matches!(token.kind, Kind::Number(_)))
        };
        let run = (from..).take_while(number);
        let values: Vec<u32> = run.map_while(|at| self.whole(at)).collect();
        let to = from + values.len();
        // `bench 8 8 6 6 4`: behind a name, where they only fall.
        let named = from > 0
            && self
                .tokens
                .get(from - 1)
                .is_some_and(|token| token.kind == Kind::Word);
        let falls =
            named && values.is_sorted_by(|one, next| one >= next) && self.unit_at(to).is_none();
        let falls = falls && values.iter().all(|reps| *reps <= 30) && self.at(to) != "x";
        (values.len() >= 3 && (self.any(to, REPS) || falls)).then_some((values, to))
    }

    pub(super) fn whole(&self, at: usize) -> Option<u32> {
        let value = self.value(at)?;
        whole(value)
    }

    /// What a number before this token counts: a time, a load, a distance, percent.
    pub(super) fn unit_at(&self, at: usize) -> Option<&str> {
        let word = self.at(at);
        // `15-20 feet on the box`: no distance.
        let of_body =
            matches!(word, "feet") && self.any(at + 1, "on up elevated flat together in wide");
        if of_body {
            return None;
        }
        let of_time = seconds_in(word).is_some() && (word != "m" || self.glued(at));
        let known = of_time || unit_of(word).is_some() || has(UNITS, word);
        known.then_some(word)
    }

    /// A time in seconds: `90s`, `2-3 min`, `2:30`, `:10`, `3'`.
    pub(super) fn duration(&self, from: usize) -> Option<(Span, usize)> {
        if self.sign(from) == Some(':') && self.glued(from + 1) {
            let seconds = self.whole(from + 1)?;
            return Some((pair(f64::from(seconds)), from + 2));
        }
        if let (Some(minutes), Some(':'), Some(seconds)) =
            (self.whole(from), self.sign(from + 1), self.whole(from + 2))
            && self.glued(from + 1)
            && self.glued(from + 2)
            && self.at(from + 2).len() == 2
        {
            let low = f64::from(60 * minutes + seconds);
            if self.sign(from + 3) == Some('-')
                && self.sign(from + 5) == Some(':')
                && let Some(((high, _), to)) = self.duration(from + 4)
            {
                return Some(((low, high), to));
            }
            return Some((pair(low), from + 3));
        }
        // `2'30`: minutes and seconds.
        if let (Some(minutes), "'", Some(seconds)) =
            (self.whole(from), self.at(from + 1), self.whole(from + 2))
            && self.glued(from + 1)
            && self.glued(from + 2)
            && self.at(from + 2).len() == 2
        {
            let to = from + 3;
            let strokes = usize::from(self.at(to) == "\"" && self.glued(to));
            return Some((pair(f64::from(60 * minutes + seconds)), to + strokes));
        }
        let ((low, high), to) = self.range(from)?;
        // Apart from its number the mark opens words to the lifter.
        let opens = self.at(to) == "\"" && !self.glued(to);
        let low_unit = seconds_in(self.at(to)).filter(|_| !opens)?;
        let to = to + 1;
        // `30s-60s`.
        if self.sign(to) == Some('-')
            && let Some(more) = self.value(to + 1)
            && let Some(unit) = seconds_in(self.at(to + 2))
        {
            return Some(((low * low_unit, more * unit), to + 3));
        }
        Some(((low * low_unit, high * low_unit), to))
    }

    /// What one set is, behind `x` or `of`.
    pub(super) fn amount(&self, from: usize, sets: Option<u32>) -> Option<(Amount, usize)> {
        if let Some((time, to)) = self.duration(from) {
            return Some((Amount::Time(time), to));
        }
        let short = sets == Some(2) && self.sign(from + 1) != Some('-');
        let least = if short { 2 } else { 3 };
        if let Some((list, to)) = self.list(from, least)
            && sets.is_none_or(|sets| usize::try_from(sets) == Ok(list.len()))
        {
            return Some((Amount::List(list), self.past(to, REPS)));
        }
        if let Some((span, to)) = self.range(from) {
            // A number of what is no repetition.
            if self.unit_at(to).is_some() || self.any(to, ROUNDS) {
                return None;
            }
            return Some((Amount::Reps(span), self.past(to, REPS)));
        }
        let rest = [self.at(from), self.at(from + 1), self.at(from + 2)];
        let can = |from: usize| (from..from + 6).find(|&at| self.any(at, "can possible"));
        if let ["as", "many", _] = rest
            && let Some(end) = can(from + 2)
        {
            return Some((Amount::Max, end + 1));
        }
        let used = match rest {
            ["max", "reps" | "rep", _] | ["to", "failure", _] => 2,
            ["max" | "amrap" | "failure" | "bodyweight" | "bw" | "f", ..] => 1,
            _ => return None,
        };
        Some((Amount::Max, from + used))
    }

    pub(super) fn past(&self, at: usize, words: &str) -> usize {
        at + usize::from(self.any(at, words))
    }
}

pub(super) const fn pair(value: f64) -> Span {
    (value, value)
}

/// A whole number of repetitions or sets.
pub(super) fn whole(value: f64) -> Option<u32> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded just before"
    )]
    let whole = (value.fract() == 0.0 && (0.0..1e6).contains(&value)).then_some(value as u32);
    whole
}

pub(super) fn seconds_in(unit: &str) -> Option<f64> {
    match unit {
        "s" | "sec" | "secs" | "second" | "seconds" | "\"" => Some(1.0),
        "min" | "mins" | "minute" | "minutes" | "'" => Some(60.0),
        _ => None,
    }
}
