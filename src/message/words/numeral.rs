//! Number words put together: `ninety five`, `two twenty five`, `a hundred and five`, `eighty two
//! point five` become one number token each.
//!
//! Only what could be a load is put together here: from twenty up, a number word is as good as
//! digits. `eight` alone is also chat, and is read by what stands around it, in `scan`.

use super::token::{Kind, Mark, Token, Tokens};
use super::vocabulary::{W, Word};

/// Puts the number words of a message together, in place.
pub(crate) fn join(tokens: &mut Tokens) {
    let mut out = Vec::with_capacity(tokens.list.len());
    let words = Words(tokens);
    let mut at = 0;
    while let Some(token) = tokens.list.get(at) {
        if let Some((value, to)) = words.dumbbells(at) {
            let last = tokens.list.get(to - 1).unwrap_or(token);
            out.extend(Words::in_each_hand(*token, *last, value));
            at = to;
            continue;
        }
        let Some((value, to)) = words.number(at) else {
            out.push(*token);
            at += 1;
            continue;
        };
        let last = tokens.list.get(to - 1).unwrap_or(token);
        out.push(Token {
            kind: Kind::Number,
            end: last.end,
            value,
            decimals: value.fract() > 0.0,
            word: Word::UNKNOWN,
            ..*token
        });
        at = to;
    }
    tokens.list = out;
}

/// Twenty to ninety in the plural, in order.
const TENS: [&str; 8] = [
    "twenties",
    "thirties",
    "forties",
    "fifties",
    "sixties",
    "seventies",
    "eighties",
    "nineties",
];

/// One to nine in the plural, in order.
const ONES: [&str; 9] = [
    "ones", "twos", "threes", "fours", "fives", "sixes", "sevens", "eights", "nines",
];

/// One to twenty, in order.
const SMALL: &str = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen \
    seventeen eighteen nineteen twenty";

/// The number up to twenty that a word spells.
pub(crate) fn small_number(word: &str) -> Option<u32> {
    let place = SMALL.split(' ').position(|spelt| spelt == word)?;
    u32::try_from(place + 1).ok()
}

/// Dumbbells are called so from here on: `with the fives` may be anything. Common practice, no source.
const LEAST_HELD: f64 = 10.0;

/// A place in these lists as a number.
fn small(place: usize) -> f64 {
    u8::try_from(place).map_or(0.0, f64::from)
}

/// A number and the token after its last.
type Found = (f64, usize);

struct Words<'t>(&'t Tokens);

impl Words<'_> {
    fn token(&self, at: usize) -> Option<&Token> {
        self.0.list.get(at)
    }

    fn w(&self, at: usize) -> W {
        self.token(at).map_or(W::None, |token| token.word.w)
    }

    fn text(&self, at: usize) -> &str {
        self.token(at).map_or("", |token| self.0.text_of(token))
    }

    /// The value of a number word within `range`.
    fn word(&self, at: usize, range: std::ops::Range<f64>) -> Option<f64> {
        let token = self.token(at)?;
        let numeral = matches!(token.word.w, W::Numeral | W::One);
        (numeral && range.contains(&token.value)).then_some(token.value)
    }

    /// `thirty twos`, `twenties for ten`, `with the fourteens`: dumbbells, named by what each weighs.
    fn dumbbells(&self, at: usize) -> Option<Found> {
        let place = |list: &[&str], at: usize| list.iter().position(|word| *word == self.text(at));
        if let Some(tens) = place(&TENS, at) {
            let counted = matches!(self.w(at + 1), W::For | W::By)
                || self.token(at + 1).is_some_and(|t| t.is(Mark::Times));
            return (counted || self.is_held(at)).then(|| (small(tens) * 10.0 + 20.0, at + 1));
        }
        let held = self
            .token(at)
            .filter(|t| t.word.w == W::RepNoun && t.value >= LEAST_HELD);
        if let Some(held) = held.filter(|_| self.is_held(at)) {
            return Some((held.value, at + 1));
        }
        let tens = self.word(at, 20.0..100.0)?;
        let dash = self.token(at + 1).is_some_and(|t| t.is(Mark::Minus));
        let from = at + 1 + usize::from(dash);
        let ones = place(&ONES, from)?;
        Some((tens + small(ones) + 1.0, from + 1))
    }

    /// Whether `with the` stands before.
    fn is_held(&self, at: usize) -> bool {
        let before = |back: usize| at.checked_sub(back);
        before(1).is_some_and(|at| matches!(self.w(at), W::The | W::My))
            && before(2)
                .is_some_and(|at| matches!(self.w(at), W::With | W::Wi) || self.text(at) == "using")
    }

    /// The tokens of such a load: the number, and the `s` that makes it one dumbbell's.
    fn in_each_hand(first: Token, last: Token, value: f64) -> [Token; 2] {
        let end = last.end.saturating_sub(1);
        let number = Token {
            kind: Kind::Number,
            end,
            value,
            decimals: false,
            word: Word::UNKNOWN,
            ..first
        };
        let plural = Token {
            kind: Kind::Word,
            start: end,
            glued: true,
            word: Word {
                w: W::S,
                ..Word::UNKNOWN
            },
            ..last
        };
        [number, plural]
    }

    /// The longest number that starts at `at`, its decimals included.
    fn number(&self, at: usize) -> Option<Found> {
        let (value, to) = self.hundreds(at).or_else(|| self.tens(at))?;
        Some(self.decimals(value, to))
    }

    /// `a hundred and five`, `two hundred`, `two twenty five`, `one fifteen`, `two oh five`.
    fn hundreds(&self, at: usize) -> Option<Found> {
        if self.w(at) == W::Hundred {
            let (value, to) = self.behind_hundred(1.0, at + 1);
            // By itself it is a load where a load's words follow: not `a hundred times`.
            let load = to > at + 1 || matches!(self.w(to), W::Kg | W::Lb | W::For | W::By);
            return load.then_some((value, to));
        }
        let count = self
            .word(at, 1.0..10.0)
            .or_else(|| (self.w(at) == W::A).then_some(1.0))?;
        if self.w(at + 1) == W::Hundred {
            return Some(self.behind_hundred(count, at + 2));
        }
        if self.w(at) == W::A {
            return None;
        }
        if matches!(self.text(at + 1), "oh" | "o") {
            let unit = self.word(at + 2, 1.0..10.0)?;
            return Some((count * 100.0 + unit, at + 3));
        }
        let (rest, to) = match self.tens(at + 1) {
            Some(tens) => tens,
            // Nobody loads `eight twelve`: that is two sets.
            None if count <= 6.0 => (self.word(at + 1, 10.0..20.0)?, at + 2),
            None => return None,
        };
        Some((count * 100.0 + rest, to))
    }

    fn behind_hundred(&self, count: f64, at: usize) -> Found {
        let from = at + usize::from(self.w(at) == W::And);
        match self
            .tens(from)
            .or_else(|| Some((self.word(from, 1.0..20.0)?, from + 1)))
        {
            Some((rest, to)) => (count * 100.0 + rest, to),
            None => (count * 100.0, at),
        }
    }

    /// `sixty`, `ninety five`, `ninety-five`.
    fn tens(&self, at: usize) -> Option<Found> {
        let tens = self.word(at, 20.0..100.0)?;
        let dash = self
            .token(at + 1)
            .is_some_and(|t| t.is(Mark::Minus) && t.glued);
        let from = at + 1 + usize::from(dash);
        match self.word(from, 1.0..10.0) {
            Some(unit) => Some((tens + unit, from + 1)),
            None => Some((tens, at + 1)),
        }
    }

    /// `point five`, `and a half`.
    fn decimals(&self, whole: f64, at: usize) -> Found {
        if self.text(at) == "point"
            && let Some(tenth) = self.word(at + 1, 0.0..10.0)
        {
            return (whole + tenth / 10.0, at + 2);
        }
        if self.w(at) == W::And && self.w(at + 1) == W::A && self.text(at + 2) == "half" {
            return (whole + 0.5, at + 3);
        }
        (whole, at)
    }
}

#[cfg(test)]
mod tests {
    use super::super::token::{Kind, tokenize};
    use super::super::vocabulary::Vocabulary;

    fn numbers(text: &str) -> Vec<f64> {
        tokenize(text, &Vocabulary::default())
            .list
            .iter()
            .filter(|token| token.kind == Kind::Number)
            .map(|token| token.value)
            .collect()
    }

    #[test]
    fn loads_in_words_are_one_number() {
        for (text, want) in [
            ("ninety five", 95.0),
            ("ninety-five", 95.0),
            ("sixty", 60.0),
            ("one eighty", 180.0),
            ("two twenty five", 225.0),
            ("three fifteen", 315.0),
            ("two oh five", 205.0),
            ("a hundred", 100.0),
            ("a hundred and five", 105.0),
            ("two hundred twenty five", 225.0),
            ("hundred kilos", 100.0),
            ("eighty two point five", 82.5),
            ("forty seven and a half", 47.5),
        ] {
            assert_eq!(numbers(text), [want], "{text}");
        }
    }

    #[test]
    fn small_number_words_stay_words() {
        for text in [
            "eight",
            "one",
            "eight eight seven",
            "a hundred times better",
        ] {
            let hundred: &[f64] = if text.starts_with("a h") {
                &[100.0]
            } else {
                &[]
            };
            assert_eq!(numbers(text), hundred, "{text}");
        }
        assert_eq!(numbers("ten two minutes"), [0.0; 0]);
        assert_eq!(numbers("ninety for ten"), [90.0]);
    }
}
