//! Phrases with numbers in them, as patterns with one matcher: `last|final ?set ?was # .`
//!
//! The parts of a pattern stand apart by spaces. `#` is a number, `#th` a place in a row (`2nd`, `third`, and
//! [`LAST`] for `last` and `final`), `,` a mark that parts, `*` a cross, `/` a slash, `+` a word or mark that
//! joins, `.` the end of a clause or the beginning of an effort, which the phrase leaves where it is, `~` an exercise,
//! `#u` a number with its unit if it has one, `#uu` one that has, `_` any word. Anything else is a word, or
//! several with `|` between them, also with marks; with `=` before them it is kept. What begins with `?` may be missing.

use std::sync::OnceLock;

use super::effort;
use super::scan::Scan;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{ShortMap, W};

/// The place that `last` and `final` stand for.
pub(super) const LAST: f64 = 0.0;

/// The patterns of one idea, read at their first use.
pub(super) struct Phrases {
    written: &'static [&'static str],
    read: OnceLock<Patterns>,
}

/// The patterns by what they may begin with: at most tokens none does, so that nothing is tried there.
#[derive(Default)]
struct Patterns {
    all: Vec<Vec<Part>>,
    by_word: ShortMap<&'static str, Bits>,
    /// A bit for the [`look`] of each of those words: most words have none of these looks.
    looks: u64,
    /// By what else they may begin with, in the order of [`Begins`].
    by_kind: [Bits; 6],
}

/// Some of the patterns of an idea, a bit each.
type Bits = u128;

/// A phrase that was found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    /// The token behind it.
    pub to: usize,
    /// Its numbers, in order.
    pub numbers: Vec<f64>,
    /// The tokens of its numbers, names and words that are kept, in order.
    pub spans: Vec<(usize, usize)>,
}

/// What is taken of a phrase.
#[derive(Default)]
struct Taken {
    numbers: Vec<f64>,
    spans: Vec<(usize, usize)>,
}

struct Part {
    may_be_missing: bool,
    means: Means,
}

enum Means {
    Number,
    /// A number with its unit, and whether it must have one.
    Amount(bool),
    Name,
    Word,
    Kept(Vec<&'static str>),
    Any(Vec<Means>),
    Place,
    End,
    Join,
    Marks(&'static [Mark]),
    Words(Vec<&'static str>),
}

impl Phrases {
    pub const fn new(written: &'static [&'static str]) -> Self {
        Self {
            written,
            read: OnceLock::new(),
        }
    }

    /// What the first pattern that fits makes of the tokens from `at` on.
    pub fn find(&self, scan: &Scan<'_>, at: usize) -> Option<Found> {
        let patterns = self.read.get_or_init(|| Patterns::read(self.written));
        let mut left = patterns.beginning(scan, at);
        while left != 0 {
            let parts = &patterns.all[left.trailing_zeros() as usize];
            let mut taken = Taken::default();
            if let Some(to) = from(scan, at, parts, &mut taken) {
                let Taken { numbers, spans } = taken;
                return Some(Found { to, numbers, spans });
            }
            left &= left - 1;
        }
        None
    }

    /// Whether one of them stands at `at`.
    pub fn stand(&self, scan: &Scan<'_>, at: usize) -> bool {
        self.find(scan, at).is_some()
    }
}

impl Patterns {
    fn read(written: &[&'static str]) -> Self {
        let mut out = Self::default();
        assert!(
            written.len() <= Bits::BITS as usize,
            "too many patterns of one idea"
        );
        for (place, text) in written.iter().enumerate() {
            let parts: Vec<Part> = text.split(' ').map(Part::read).collect();
            let needed = parts.iter().position(|part| !part.may_be_missing);
            for part in parts
                .iter()
                .take(needed.map_or(parts.len(), |needed| needed + 1))
            {
                out.enter(&part.means, 1 << place);
            }
            if needed.is_none() {
                out.by_kind[Begins::Any as usize] |= 1 << place;
            }
            out.all.push(parts);
        }
        out
    }

    fn enter(&mut self, means: &Means, pattern: Bits) {
        let begins = match means {
            Means::Words(words) | Means::Kept(words) => {
                for word in words {
                    self.looks |= 1 << look(word);
                    *self.by_word.entry(word).or_default() |= pattern;
                }
                return;
            }
            Means::Any(several) => return several.iter().for_each(|one| self.enter(one, pattern)),
            Means::Number | Means::Amount(_) | Means::Place => Begins::Count,
            Means::Name => Begins::Name,
            Means::Word => Begins::Word,
            Means::Join => Begins::Join,
            Means::Marks(_) => Begins::Mark,
            Means::End => Begins::Any,
        };
        self.by_kind[begins as usize] |= pattern;
    }

    /// Those that may begin at `at`.
    fn beginning(&self, scan: &Scan<'_>, at: usize) -> Bits {
        let of = |begins: Begins| self.by_kind[begins as usize];
        let Some(token) = scan.token(at) else {
            return of(Begins::Any) | of(Begins::Mark);
        };
        let any = of(Begins::Any);
        if let Kind::Mark(_) = token.kind {
            return any | of(Begins::Mark) | of(Begins::Join);
        }
        let text = scan.text_at(at);
        let mut found = any;
        if token.kind == Kind::Number {
            found |= of(Begins::Count) | of(Begins::Name);
        } else if token.kind == Kind::Word {
            let counts = matches!(
                token.word.w,
                W::Numeral | W::Couple | W::One | W::A | W::Ordinal
            );
            if counts || matches!(text, "last" | "final" | "second") {
                found |= of(Begins::Count);
            }
            if token.word.symbol != 0 {
                found |= of(Begins::Name);
            }
            if matches!(token.word.w, W::And | W::Then | W::Plus) {
                found |= of(Begins::Join);
            }
            found |= of(Begins::Word);
        }
        if self.looks >> look(text) & 1 == 1 && !text.is_empty() {
            found |= self.by_word.get(text).copied().unwrap_or_default();
        }
        found
    }
}

/// What a pattern may begin with, if not with a word of its own.
#[derive(Clone, Copy)]
enum Begins {
    Word,
    Count,
    Name,
    Join,
    Mark,
    Any,
}

/// A number under 64 by the length and the ends of a word.
fn look(word: &str) -> usize {
    let bytes = word.as_bytes();
    let end = |byte: Option<&u8>| byte.copied().map_or(0, usize::from);
    (end(bytes.first()) * 5 + end(bytes.last()) * 3 + bytes.len() * 7) % 64
}

impl Part {
    fn read(text: &'static str) -> Self {
        let needed = text.strip_prefix('?');
        Self {
            may_be_missing: needed.is_some(),
            means: Means::read(needed.unwrap_or(text)),
        }
    }
}

impl Means {
    fn read(text: &'static str) -> Self {
        const MARKS: [&str; 4] = [",", "*", "/", "+"];
        if text.len() > 1 && text.split('|').any(|one| MARKS.contains(&one)) {
            return Self::Any(text.split('|').map(Self::read).collect());
        }
        match text {
            "#" => Self::Number,
            "#u" => Self::Amount(false),
            "#uu" => Self::Amount(true),
            "#th" => Self::Place,
            "~" => Self::Name,
            "_" => Self::Word,
            "." => Self::End,
            "+" => Self::Join,
            "," => Self::Marks(&[
                Mark::Comma,
                Mark::Open,
                Mark::Minus,
                Mark::Colon,
                Mark::Stop,
            ]),
            "*" => Self::Marks(&[Mark::Times]),
            "/" => Self::Marks(&[Mark::Slash]),
            words => match words.strip_prefix('=') {
                Some(words) => Self::Kept(words.split('|').collect()),
                None => Self::Words(words.split('|').collect()),
            },
        }
    }

    /// The token behind it, where it stands at `at`.
    fn find(&self, scan: &Scan<'_>, at: usize, taken: &mut Taken) -> Option<usize> {
        let is = |words: &[&str]| {
            let text = scan.text_at(at);
            (!text.is_empty() && words.contains(&text)).then_some(at + 1)
        };
        let mut counted = |(value, to): (f64, usize)| {
            taken.numbers.push(value);
            taken.spans.push((at, to));
            to
        };
        match self {
            Self::Number => scan.count(at).map(counted),
            Self::Amount(must) => {
                let (value, to) = scan.count(at)?;
                let has_unit = matches!(scan.w(to), W::Kg | W::Lb | W::K)
                    || scan.w(to) == W::S && scan.glued(to);
                (has_unit || !must).then(|| counted((value, to + usize::from(has_unit))))
            }
            Self::Place => place(scan, at).map(counted),
            Self::Name => {
                let found = scan.names.exercise_at(scan.tokens, at)?;
                taken.spans.push((at, found.to));
                Some(found.to)
            }
            Self::Word => scan
                .token(at)
                .filter(|token| token.kind == Kind::Word)
                .map(|_| at + 1),
            Self::End => ends(scan, at).then_some(at),
            Self::Join => (scan.is(at, Mark::Plus)
                || scan.is(at, Mark::And)
                || matches!(scan.w(at), W::And | W::Then | W::Plus))
            .then_some(at + 1),
            Self::Marks(marks) => marks.iter().any(|m| scan.is(at, *m)).then_some(at + 1),
            Self::Words(words) => is(words),
            Self::Kept(words) => {
                let to = is(words)?;
                taken.spans.push((at, to));
                Some(to)
            }
            Self::Any(several) => several.iter().find_map(|one| one.find(scan, at, taken)),
        }
    }
}

fn from(scan: &Scan<'_>, at: usize, parts: &[Part], taken: &mut Taken) -> Option<usize> {
    let Some((part, rest)) = parts.split_first() else {
        return Some(at);
    };
    let known = (taken.numbers.len(), taken.spans.len());
    let with = part
        .means
        .find(scan, at, taken)
        .and_then(|next| from(scan, next, rest, taken));
    if with.is_some() {
        return with;
    }
    taken.numbers.truncate(known.0);
    taken.spans.truncate(known.1);
    if !part.may_be_missing {
        return None;
    }
    from(scan, at, rest, taken)
}

/// A place in a row of sets.
fn place(scan: &Scan<'_>, at: usize) -> Option<(f64, usize)> {
    match scan.text_at(at) {
        "last" | "final" => return Some((LAST, at + 1)),
        "second" => return Some((2.0, at + 1)),
        _ => {}
    }
    effort::ordinal(scan, at)
}

/// Whether a clause ends before `at`, or an effort begins there.
fn ends(scan: &Scan<'_>, at: usize) -> bool {
    let ended = scan.token(at).is_none_or(|token| match token.kind {
        Kind::Mark(mark) => !matches!(
            mark,
            Mark::Times
                | Mark::Star
                | Mark::Plus
                | Mark::At
                | Mark::Slash
                | Mark::Question
                | Mark::Percent
                | Mark::Money
        ),
        Kind::Word => matches!(token.word.w, W::And | W::Then | W::But),
        _ => false,
    });
    ended || effort::at(scan, at, &[]).is_some()
}
