//! Text to tokens: numbers, words and marks with their places.
//!
//! Unicode is folded first: case, full-width forms, typographic quotes, dashes and crosses become
//! their plain kin; zero-width and direction marks vanish; control characters are spaces; emoji
//! and other symbols become one [`Mark::Symbol`]. What words mean is looked up in the
//! [`Vocabulary`]; phrases of several tokens are read in `scan`.

use super::numeral;
use super::unseen::is_unseen;
use super::vocabulary::{Vocabulary, W, Word};

/// A punctuation mark or an operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    /// `x` between numbers, `×`, `*`.
    Times,
    /// `*` at the very start: a typist's sign for a correction.
    Star,
    /// `@`.
    At,
    /// `+`.
    Plus,
    /// `-` and longer dashes.
    Minus,
    /// `,`.
    Comma,
    /// `.` that ends a sentence.
    Stop,
    /// `:`.
    Colon,
    /// `;`, `|`, a bullet.
    Semicolon,
    /// `/`.
    Slash,
    /// End of a line.
    Line,
    /// `?`.
    Question,
    /// `!`.
    Bang,
    /// `#`.
    Hash,
    /// `(`, `[`.
    Open,
    /// `)`, `]`.
    Close,
    /// `'`: minutes.
    Prime,
    /// `"`: seconds, or a quotation.
    DoublePrime,
    /// `%`.
    Percent,
    /// A currency sign.
    Money,
    /// `&`.
    And,
    /// `=`, `->`, `~` and the like.
    Other,
    /// An emoji or another symbol.
    Symbol,
    /// A laughing face.
    Laugh,
}

impl Mark {
    /// Whether it ends a sentence.
    pub(crate) const fn ends_sentence(self) -> bool {
        matches!(
            self,
            Self::Stop
                | Self::Semicolon
                | Self::Bang
                | Self::Question
                | Self::Line
                | Self::Symbol
                | Self::Laugh
        )
    }

    /// As it is written.
    pub(crate) const fn written(self) -> &'static str {
        match self {
            Self::Times => "x",
            Self::Star => "*",
            Self::At => "@",
            Self::Plus => "+",
            Self::Minus => "-",
            Self::Comma => ",",
            Self::Stop => ".",
            Self::Colon => ":",
            Self::Semicolon => ";",
            Self::Slash => "/",
            Self::Line => "\n",
            Self::Question => "?",
            Self::Bang => "!",
            Self::Hash => "#",
            Self::Open => "(",
            Self::Close => ")",
            Self::Prime => "'",
            Self::DoublePrime => "\"",
            Self::Percent => "%",
            Self::Money => "$",
            Self::And => "&",
            Self::Other => "~",
            Self::Symbol | Self::Laugh => "",
        }
    }
}

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Letters.
    Word,
    /// A number; see [`Token::value`].
    Number,
    /// `18:30`, `2:30`: see [`Token::value`], in the smaller unit (`2:30` is 150).
    Clock,
    /// `2026-03-01`: see [`Token::value`], as 20260301.
    Date,
    /// A mark.
    Mark(Mark),
}

/// One token.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Token {
    /// What it is.
    pub kind: Kind,
    /// Where it starts in [`Tokens::text`].
    pub start: u32,
    /// Where it ends.
    pub end: u32,
    /// Nothing stands between it and the token before it.
    pub glued: bool,
    /// It starts with a capital, and is not all capitals.
    pub capital: bool,
    /// It ended in `'s`.
    pub possessive: bool,
    /// The number; for a number word its value; else zero.
    pub value: f64,
    /// The number had decimals.
    pub decimals: bool,
    /// What the vocabulary knows of the word.
    pub word: Word,
}

impl Token {
    /// Whether it is this mark.
    pub(crate) fn is(&self, mark: Mark) -> bool {
        self.kind == Kind::Mark(mark)
    }
}

/// A message as tokens.
#[derive(Debug, Default)]
pub(crate) struct Tokens {
    /// The folded text that the places point into.
    pub text: String,
    /// The tokens, in order.
    pub list: Vec<Token>,
}

impl Tokens {
    /// The folded text of one token.
    pub(crate) fn text_of(&self, token: &Token) -> &str {
        self.text
            .get(token.start as usize..token.end as usize)
            .unwrap_or_default()
    }
}

/// What a character is folded to.
enum Folded {
    Letter(char),
    Digit(u8),
    Space,
    Nothing,
    Apostrophe,
    Fraction(f64),
    Mark(Mark),
}

/// Reads `text` into tokens. Linear in the length of `text`.
pub(crate) fn tokenize(text: &str, vocabulary: &Vocabulary) -> Tokens {
    let mut cutter = Cutter::new(text, vocabulary);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        cutter.take(c, chars.peek().copied());
    }
    cutter.finish()
}

/// The state of cutting one text.
struct Cutter<'v> {
    vocabulary: &'v Vocabulary,
    out: Tokens,
    /// Start of the word being written, if one is open.
    word: Option<OpenWord>,
    number: Option<OpenNumber>,
    /// No space since the last token.
    glued: bool,
    /// A number word of ten or more was met, or an `oh`: words may have to be put together.
    spelled: bool,
}

struct OpenWord {
    start: usize,
    capital: bool,
    capitals: u16,
    letters: u16,
    /// Length when an apostrophe was met: what follows it may be cut off.
    apostrophe: Option<usize>,
}

struct OpenNumber {
    start: usize,
    value: f64,
    /// The place of the next decimal digit, 0.1 at first; 0 before the point.
    place: f64,
    points: u8,
    digits: u16,
}

impl<'v> Cutter<'v> {
    fn new(text: &str, vocabulary: &'v Vocabulary) -> Self {
        let list = Vec::with_capacity(text.len() / 2 + 4);
        let text = String::with_capacity(text.len() + 4);
        Self {
            vocabulary,
            out: Tokens { text, list },
            word: None,
            number: None,
            glued: false,
            spelled: false,
        }
    }

    fn take(&mut self, c: char, next: Option<char>) {
        match fold(c) {
            Folded::Letter(letter) => self.letter(c, letter),
            Folded::Digit(digit) => self.digit(digit),
            Folded::Nothing => {}
            Folded::Space => {
                self.close();
                self.glued = false;
            }
            Folded::Apostrophe => self.apostrophe(next),
            Folded::Fraction(part) => self.fraction(part),
            Folded::Mark(mark) => self.mark(mark, next),
        }
    }

    fn finish(mut self) -> Tokens {
        self.close();
        if self.spelled {
            numeral::join(&mut self.out);
        }
        self.out
    }

    fn letter(&mut self, raw: char, letter: char) {
        if self.number.is_some() {
            self.close();
        }
        let start = self.out.text.len();
        let open = self.word.get_or_insert(OpenWord {
            start,
            capital: raw.is_uppercase(),
            capitals: 0,
            letters: 0,
            apostrophe: None,
        });
        open.letters = open.letters.saturating_add(1);
        if raw.is_uppercase() {
            open.capitals = open.capitals.saturating_add(1);
        }
        self.out.text.push(letter);
    }

    fn digit(&mut self, digit: u8) {
        if self.word.is_some() {
            self.close();
        }
        let start = self.out.text.len();
        let number = self.number.get_or_insert(OpenNumber {
            start,
            value: 0.0,
            place: 0.0,
            points: 0,
            digits: 0,
        });
        number.digits = number.digits.saturating_add(1);
        if number.place > 0.0 {
            // Dividing once by the power keeps 0.1-steps as near as the format allows.
            number.value += f64::from(digit) * number.place;
            number.place /= 10.0;
        } else {
            number.value = number.value * 10.0 + f64::from(digit);
        }
        self.out.text.push(char::from(b'0' + digit));
    }

    fn fraction(&mut self, part: f64) {
        if self.number.is_none() {
            self.digit(0);
        }
        if let Some(number) = &mut self.number {
            number.value += part;
            number.place = 0.01;
        }
        self.close();
    }

    fn apostrophe(&mut self, next: Option<char>) {
        let letter_follows = next.is_some_and(char::is_alphabetic);
        match &mut self.word {
            Some(open) if letter_follows => {
                open.apostrophe = Some(self.out.text.len());
            }
            Some(_) => {
                self.close();
            }
            None if self.number.is_some() => {
                self.close();
                self.push_mark(Mark::Prime);
            }
            None => {}
        }
    }

    fn mark(&mut self, mark: Mark, next: Option<char>) {
        let digit_follows = next.is_some_and(|c| c.is_ascii_digit());
        if mark == Mark::Stop
            && digit_follows
            && let Some(number) = &mut self.number
            && number.points == 0
        {
            number.points = 1;
            number.place = 0.1;
            self.out.text.push('.');
            return;
        }
        self.close();
        let mark = match mark {
            // A star and a space at the start of a line are a bullet.
            Mark::Star
                if next == Some(' ') && self.out.list.last().is_some_and(|t| t.is(Mark::Line)) =>
            {
                Mark::Semicolon
            }
            Mark::Star if !self.out.list.is_empty() => Mark::Times,
            mark => mark,
        };
        // `->` is one arrow.
        if mark == Mark::Slash
            && self.glued
            && let Some(dash) = self.out.list.last_mut().filter(|t| t.is(Mark::Minus))
        {
            dash.kind = Kind::Mark(Mark::Slash);
            return;
        }
        let symbol = matches!(mark, Mark::Symbol | Mark::Laugh);
        if symbol && self.out.list.last().is_some_and(|t| t.is(mark)) {
            return;
        }
        self.push_mark(mark);
    }

    fn push_mark(&mut self, mark: Mark) {
        let at = self.out.text.len();
        self.push(Kind::Mark(mark), at, 0.0);
    }

    fn push(&mut self, kind: Kind, start: usize, value: f64) {
        let end = self.out.text.len();
        self.out.list.push(Token {
            kind,
            start: narrow(start),
            end: narrow(end),
            glued: self.glued,
            capital: false,
            possessive: false,
            value,
            decimals: false,
            word: Word::UNKNOWN,
        });
        self.glued = true;
    }

    fn close(&mut self) {
        if let Some(number) = self.number.take() {
            self.close_number(&number);
        }
        if let Some(word) = self.word.take() {
            self.close_word(&word);
        }
    }

    fn close_number(&mut self, number: &OpenNumber) {
        let value = if number.place > 0.0 {
            // Undo the drift of adding tenths: no load or effort is written finer than this.
            (number.value * 1e6).round() / 1e6
        } else {
            number.value
        };
        self.push(Kind::Number, number.start, value);
        if let Some(token) = self.out.list.last_mut() {
            token.decimals = number.place > 0.0;
        }
        self.join_clock_or_date();
    }

    fn close_word(&mut self, open: &OpenWord) {
        if self.split_unit_and_cross(open) {
            return;
        }
        let (end, possessive) = self.cut_apostrophe(open);
        let text = self.out.text.get(open.start..end).unwrap_or_default();
        let word = self.vocabulary.word(text);
        self.spelled |= matches!(word.w, W::Numeral | W::Hundred | W::RepNoun) && word.value >= 10
            || text == "oh";
        let kind = if text == "x" || text == "×" {
            Kind::Mark(Mark::Times)
        } else {
            Kind::Word
        };
        self.push(kind, open.start, f64::from(word.value));
        if let Some(token) = self.out.list.last_mut() {
            token.end = narrow(end);
            token.capital = open.capital && open.capitals < open.letters.max(2);
            token.possessive = possessive;
            token.word = word;
        }
        self.split_off_will(open, end);
    }

    /// `80kgx8`: the cross behind a unit is a token of its own. So is the one beside what stands in
    /// a number's place, `nanx8` and `80xnan`.
    fn split_unit_and_cross(&mut self, open: &OpenWord) -> bool {
        let text = self.out.text.get(open.start..).unwrap_or_default();
        if text == "xnan" || text == "xinf" {
            self.push(Kind::Mark(Mark::Times), open.start, 0.0);
            self.push(Kind::Word, open.start + 1, 0.0);
            return true;
        }
        let behind_number =
            self.glued && self.out.list.last().is_some_and(|t| t.kind == Kind::Number);
        let unit = match text.strip_suffix('x') {
            Some("bw") => "bw",
            Some("nan") => "nan",
            Some("inf") => "inf",
            Some(unit)
                if behind_number && matches!(unit, "kg" | "kgs" | "lb" | "lbs" | "k" | "s") =>
            {
                unit
            }
            _ => return false,
        };
        let word = self.vocabulary.word(unit);
        let end = open.start + unit.len();
        self.push(Kind::Word, open.start, 0.0);
        if let Some(token) = self.out.list.last_mut() {
            token.end = narrow(end);
            token.word = word;
        }
        self.push(Kind::Mark(Mark::Times), end, 0.0);
        true
    }

    /// Where the word ends without `'s`, `'m`, `'re`, `'ve`; `n't` stays joined.
    fn cut_apostrophe(&self, open: &OpenWord) -> (usize, bool) {
        let whole = self.out.text.len();
        let Some(at) = open.apostrophe else {
            return (whole, false);
        };
        let tail = self.out.text.get(at..).unwrap_or_default();
        match tail {
            "s" => (at, true),
            "m" | "re" | "ve" | "ll" | "d" => (at, false),
            _ => (whole, false),
        }
    }

    /// `I'll` is two words, `i` and `will`; `I'd` is `i` and `would`.
    fn split_off_will(&mut self, open: &OpenWord, end: usize) {
        let tail = self.out.text.get(end..).unwrap_or_default();
        if open.apostrophe.is_some() && (tail == "ll" || tail == "d") {
            let word = self
                .vocabulary
                .word(if tail == "d" { "would" } else { "will" });
            self.push(Kind::Word, end, 0.0);
            if let Some(token) = self.out.list.last_mut() {
                token.word = word;
            }
        }
    }

    /// Joins `2` `:` `30` and `2026` `-` `03` `-` `01` when the last part has just been pushed.
    fn join_clock_or_date(&mut self) {
        if let Some((from, token)) = joined(&self.out.list, &self.out.text) {
            self.out.list.truncate(from);
            self.out.list.push(token);
        }
    }
}

fn joined(list: &[Token], text: &str) -> Option<(usize, Token)> {
    let count = list.len();
    let last = list.last()?;
    let mark = list.get(count.checked_sub(2)?)?;
    let first = list.get(count.checked_sub(3)?)?;
    if !(last.glued && mark.glued && first.kind == Kind::Number && !first.decimals) {
        return None;
    }
    let digits = |token: &Token| token.end - token.start;
    let joined = |kind, head: &Token, value| Token {
        kind,
        end: last.end,
        value,
        ..*head
    };
    if mark.is(Mark::Colon) && digits(last) == 2 && first.value < 60.0 && last.value < 60.0 {
        let value = first.value * 60.0 + last.value;
        return Some((count - 3, joined(Kind::Clock, first, value)));
    }
    let dash = list.get(count.checked_sub(4)?)?;
    let year = list.get(count.checked_sub(5)?)?;
    let is_date = mark.is(Mark::Minus)
        && dash.is(Mark::Minus)
        && dash.glued
        && first.glued
        && year.kind == Kind::Number
        && digits(year) == 4
        && digits(first) == 2
        && digits(last) == 2
        && text.len() >= last.end as usize;
    is_date.then(|| {
        let value = year.value * 10_000.0 + first.value * 100.0 + last.value;
        (count - 5, joined(Kind::Date, year, value))
    })
}

/// Texts are cut to a few thousand bytes before they come here, so the cast never saturates.
fn narrow(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(u32::MAX)
}

fn fold(c: char) -> Folded {
    match c {
        'a'..='z' => Folded::Letter(c),
        'A'..='Z' => Folded::Letter(c.to_ascii_lowercase()),
        '0'..='9' => Folded::Digit(c as u8 - b'0'),
        '\n' => Folded::Mark(Mark::Line),
        _ if c.is_ascii() => fold_ascii(c),
        _ => fold_wide(c),
    }
}

fn fold_ascii(c: char) -> Folded {
    match c {
        '@' => Folded::Mark(Mark::At),
        '+' => Folded::Mark(Mark::Plus),
        '-' => Folded::Mark(Mark::Minus),
        ',' => Folded::Mark(Mark::Comma),
        '.' => Folded::Mark(Mark::Stop),
        ':' => Folded::Mark(Mark::Colon),
        ';' | '|' => Folded::Mark(Mark::Semicolon),
        '/' => Folded::Mark(Mark::Slash),
        '?' => Folded::Mark(Mark::Question),
        '!' => Folded::Mark(Mark::Bang),
        '#' => Folded::Mark(Mark::Hash),
        '(' | '[' | '{' => Folded::Mark(Mark::Open),
        ')' | ']' | '}' => Folded::Mark(Mark::Close),
        '"' => Folded::Mark(Mark::DoublePrime),
        '%' => Folded::Mark(Mark::Percent),
        '$' => Folded::Mark(Mark::Money),
        '&' => Folded::Mark(Mark::And),
        '*' => Folded::Mark(Mark::Star),
        // From one to the next, as in a list: `60 > 80 > 100`.
        '>' => Folded::Mark(Mark::Slash),
        '=' | '<' | '~' | '^' | '\\' => Folded::Mark(Mark::Other),
        '\'' | '`' => Folded::Apostrophe,
        _ => Folded::Space,
    }
}

fn fold_wide(c: char) -> Folded {
    match c {
        // A multiplication cross may be glued to digits on both sides, as `x` may.
        '×' | '✕' | '✖' | '⨯' | '╳' | 'х' | 'Х' => Folded::Mark(Mark::Times),
        '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => {
            Folded::Space
        }
        '\u{2028}' | '\u{2029}' | '\u{85}' => Folded::Mark(Mark::Line),
        '’' | '‘' | 'ʼ' | '´' | '′' | '＇' => Folded::Apostrophe,
        '“' | '”' | '„' | '″' | '«' | '»' => Folded::Mark(Mark::DoublePrime),
        '‐'..='―' | '−' => Folded::Mark(Mark::Minus),
        '·' | '•' | '‣' | '▪' | '◦' | '●' => Folded::Mark(Mark::Semicolon),
        '…' => Folded::Mark(Mark::Stop),
        // A word of its own: `45°`.
        '°' => Folded::Letter(c),
        '½' => Folded::Fraction(0.5),
        '¼' => Folded::Fraction(0.25),
        '¾' => Folded::Fraction(0.75),
        '€' | '£' | '¥' | '¢' => Folded::Mark(Mark::Money),
        '→' | '➔' | '➡' => Folded::Mark(Mark::Slash),
        '≈' | '≥' | '≤' => Folded::Mark(Mark::Other),
        '\u{ff01}'..='\u{ff5e}' => fold_full_width(c),
        '😂' | '🤣' | '😅' | '😆' | '😹' | '💀' => Folded::Mark(Mark::Laugh),
        _ if is_unseen(c) => Folded::Nothing,
        '\u{300}'..='\u{36f}' | '\u{20e3}' | '\u{fe00}'..='\u{fe0f}' => Folded::Nothing,
        _ if c.is_alphabetic() => Folded::Letter(c.to_lowercase().next().unwrap_or(c)),
        _ if c.is_control() || c.is_whitespace() => Folded::Space,
        _ => Folded::Mark(Mark::Symbol),
    }
}

fn fold_full_width(c: char) -> Folded {
    let plain = u8::try_from(u32::from(c) - 0xff01 + 0x21).unwrap_or(b' ');
    fold(char::from(plain))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<(Kind, f64)> {
        let vocabulary = Vocabulary::default();
        let tokens = tokenize(text, &vocabulary);
        tokens.list.iter().map(|t| (t.kind, t.value)).collect()
    }

    const TIMES: (Kind, f64) = (Kind::Mark(Mark::Times), 0.0);

    #[test]
    fn every_cross_is_times() {
        for text in ["80x10", "80X10", "80×10", "80*10", "80 x 10", "８０ｘ１０"] {
            let want = [(Kind::Number, 80.0), TIMES, (Kind::Number, 10.0)];
            assert_eq!(kinds(text), want, "{text}");
        }
    }

    #[test]
    fn decimals_keep_their_value() {
        assert_eq!(kinds("82.5"), [(Kind::Number, 82.5)]);
        assert_eq!(kinds("62½"), [(Kind::Number, 62.5)]);
        assert_eq!(kinds("1.15"), [(Kind::Number, 1.15)]);
    }

    #[test]
    fn clock_and_date_are_one_token() {
        assert_eq!(kinds("2:30"), [(Kind::Clock, 150.0)]);
        assert_eq!(kinds("2026-03-01"), [(Kind::Date, 20_260_301.0)]);
        assert_eq!(kinds("80: 10").len(), 3);
    }

    #[test]
    fn zero_width_and_direction_marks_vanish() {
        assert_eq!(kinds("8\u{200b}0\u{202e}"), [(Kind::Number, 80.0)]);
    }

    #[test]
    fn prime_after_a_number_is_minutes() {
        assert_eq!(
            kinds("3' rest")[..2],
            [(Kind::Number, 3.0), (Kind::Mark(Mark::Prime), 0.0)]
        );
    }

    #[test]
    fn possessive_is_cut_off_and_negation_is_kept() {
        let tokens = tokenize("Back's aren't I'll", &Vocabulary::default());
        let words: Vec<_> = tokens.list.iter().map(|t| tokens.text_of(t)).collect();
        assert_eq!(words, ["back", "arent", "i", "ll"]);
        assert!(tokens.list[0].possessive && tokens.list[0].capital);
    }
}
