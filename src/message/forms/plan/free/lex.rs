//! A line of a plan as tokens: numbers, words, signs, with where they stand in the text.

use crate::message::words::numeral::small_number;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    /// A number, decimals included.
    Number(f64),
    /// A word, or `x` between numbers.
    Word,
    /// Any other sign; dashes of all lengths are `-`.
    Sign(char),
}

/// A word, a number or a sign.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Token {
    pub kind: Kind,
    /// Lower case.
    pub text: String,
    /// Bytes of the line.
    pub start: usize,
    pub end: usize,
    /// Whether no space stands before it.
    pub glued: bool,
}

impl Token {
    pub(super) fn is(&self, word: &str) -> bool {
        self.text == word
    }

    pub(super) fn sign(&self) -> Option<char> {
        match self.kind {
            Kind::Sign(sign) => Some(sign),
            Kind::Number(_) | Kind::Word => None,
        }
    }
}

/// The tokens of a line.
pub(super) fn tokens(line: &str) -> Vec<Token> {
    let chars: Vec<(usize, char)> = line.char_indices().collect();
    let end_of = |at: usize| chars.get(at).map_or(line.len(), |(byte, _)| *byte);
    let char_at = |at: usize| chars.get(at).map(|(_, c)| plain(*c));
    let digit = |at: usize| char_at(at).is_some_and(|c| c.is_ascii_digit());
    let mut out: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(c) = char_at(at) {
        if c.is_whitespace() {
            at += 1;
            continue;
        }
        let from = at;
        let kind = if c.is_ascii_digit() {
            at = number_end(at, &digit, &char_at);
            let text: String = (from..at).filter_map(&char_at).collect();
            Kind::Number(text.replace(',', ".").parse().unwrap_or(f64::MAX))
        } else if c.is_alphabetic() {
            while let Some(next) = char_at(at) {
                let joins = matches!(next, '\'' | '&')
                    && char_at(at + 1).is_some_and(char::is_alphabetic)
                    && at > from;
                if !next.is_alphabetic() && !joins {
                    break;
                }
                at += 1;
                // `x10`, `3xmax`, `x max`: the sign of times stands by itself.
                let times = at == from + 1 && next.eq_ignore_ascii_case(&'x');
                let behind_number = from > 0 && digit(from - 1);
                if times && (behind_number || !char_at(at).is_some_and(char::is_alphabetic)) {
                    break;
                }
            }
            Kind::Word
        } else {
            at += 1;
            Kind::Sign(c)
        };
        // `90''`: seconds by two strokes.
        let strokes =
            kind == Kind::Sign('\'') && char_at(at) == Some('\'') && from > 0 && digit(from - 1);
        at += usize::from(strokes);
        let (start, end) = (end_of(from), end_of(at));
        let text = line.get(start..end).unwrap_or_default().to_lowercase();
        let glued = from > 0 && !char_at(from - 1).is_some_and(char::is_whitespace);
        let text = match text.as_str() {
            "×" | "✕" | "*" => "x".to_owned(),
            // `4 à 8` are four of eight, `4x8 à 60` is at 60.
            "à" => match out.as_slice() {
                [.., before, last] if !before.is("x") && matches!(last.kind, Kind::Number(_)) => {
                    "x"
                }
                _ => "@",
            }
            .to_owned(),
            _ if strokes => "\"".to_owned(),
            _ => text.replace(['’', '′'], "'"),
        };
        let kind = match text.as_str() {
            // A box to tick or a bullet in the middle of a line.
            "☐" | "☑" | "✓" | "•" | "▪" if !out.is_empty() => Kind::Sign(';'),
            "x" => Kind::Word,
            "@" => Kind::Sign('@'),
            "\"" => Kind::Sign('"'),
            _ => kind,
        };
        out.push(Token {
            kind,
            text,
            start,
            end,
            glued,
        });
    }
    joined_numbers(out)
}

/// Tens and ones that are spoken as two words, `seventy five`, made one number.
fn joined_numbers(tokens: Vec<Token>) -> Vec<Token> {
    let number = |token: &Token| {
        (token.kind == Kind::Word)
            .then(|| number_word(&token.text))
            .flatten()
    };
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    for token in tokens {
        if let Some(last) = out.last_mut()
            && let (Some(tens), Some(ones)) = (number(last), number(&token))
            && tens >= 20
            && (1..10).contains(&ones)
        {
            last.kind = Kind::Number(f64::from(tens + ones));
            last.end = token.end;
            continue;
        }
        out.push(token);
    }
    out
}

fn plain(c: char) -> char {
    match c {
        '–' | '—' | '−' | '‑' | '→' => '-',
        '’' | '′' => '\'',
        '″' | '“' | '”' => '"',
        c => c,
    }
}

/// Behind the digits from `at`, a point and decimals, or a comma and decimals where a unit follows:
/// `82,5 kg` is one number, `30,20,15` three.
fn number_end(
    from: usize,
    digit: &impl Fn(usize) -> bool,
    char_at: &impl Fn(usize) -> Option<char>,
) -> usize {
    let run = |mut at: usize| {
        while digit(at) {
            at += 1;
        }
        at
    };
    let whole = run(from);
    if char_at(whole) == Some('.') && digit(whole + 1) {
        return run(whole + 1);
    }
    if char_at(whole) == Some(',') && digit(whole + 1) {
        let end = run(whole + 1);
        let mut next = end;
        while char_at(next).is_some_and(char::is_whitespace) {
            next += 1;
        }
        let unit: String = (next..next + 2).filter_map(char_at).collect();
        let behind = unit.starts_with('%') || matches!(unit.to_lowercase().as_str(), "kg" | "lb");
        let before = (0..from)
            .rev()
            .filter_map(char_at)
            .find(|c| !c.is_whitespace());
        let decimals: String = (whole + 1..end).filter_map(char_at).collect();
        let quarter = matches!(decimals.as_str(), "5" | "25" | "75");
        let behind = behind || quarter && matches!(before, Some('@' | 'à'));
        let list = from > 0 && char_at(from - 1) == Some(',');
        if behind && !list && end - whole <= 3 {
            return end;
        }
    }
    whole
}

/// The number that a word stands for, up to twenty, and the tens that sets are written with.
pub(super) fn number_word(word: &str) -> Option<u32> {
    let tens = match word {
        "thirty" => Some(30),
        "forty" => Some(40),
        "fifty" => Some(50),
        "sixty" => Some(60),
        "seventy" => Some(70),
        "eighty" => Some(80),
        "ninety" => Some(90),
        _ => None,
    };
    tens.or_else(|| small_number(word))
}
