//! Phrases with numbers in them, as patterns with one matcher: `last|final ?set ?was # .`
//!
//! The parts of a pattern stand apart by spaces. `#` is a number, `#th` a place in a row (`2nd`, `third`, and
//! [`LAST`] for `last` and `final`), `,` a mark that parts, `*` a cross, `/` a slash, `+` a word or mark that
//! joins, `.` the end of a clause or the beginning of an effort, which the phrase leaves where it is. Anything
//! else is a word, or several with `|` between them. What begins with `?` may be missing.

use std::sync::OnceLock;

use super::effort;
use super::scan::Scan;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// The place that `last` and `final` stand for.
pub(super) const LAST: f64 = 0.0;

/// The patterns of one idea, read at their first use.
pub(super) struct Phrases {
    written: &'static [&'static str],
    read: OnceLock<Vec<Pattern>>,
}

/// A phrase that was found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    /// The token behind it.
    pub to: usize,
    /// Its numbers, in order.
    pub numbers: Vec<f64>,
}

struct Pattern {
    parts: Vec<Part>,
    /// The words that it may begin with; most tokens are none of them, so that nothing else is tried there.
    words: Vec<&'static str>,
    /// Whether it may also begin with a number or a mark.
    others: bool,
}

struct Part {
    may_be_missing: bool,
    means: Means,
}

enum Means {
    Number,
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
        let patterns = self.read.get_or_init(|| {
            self.written
                .iter()
                .map(|text| Pattern::read(text))
                .collect()
        });
        let text = scan.text_at(at);
        let begins = |pattern: &&Pattern| pattern.others || pattern.words.contains(&text);
        patterns.iter().filter(begins).find_map(|pattern| {
            let mut numbers = Vec::new();
            let to = from(scan, at, &pattern.parts, &mut numbers)?;
            Some(Found { to, numbers })
        })
    }

    /// Whether one of them stands at `at`.
    pub fn stand(&self, scan: &Scan<'_>, at: usize) -> bool {
        self.find(scan, at).is_some()
    }
}

impl Pattern {
    fn read(text: &'static str) -> Self {
        let parts: Vec<Part> = text.split(' ').map(Part::read).collect();
        let needed = parts.iter().position(|part| !part.may_be_missing);
        let mut words = Vec::new();
        let mut others = needed.is_none();
        for part in parts.iter().take(needed.map_or(0, |needed| needed + 1)) {
            match &part.means {
                Means::Words(some) => words.extend(some),
                _ => others = true,
            }
        }
        Self {
            parts,
            words,
            others,
        }
    }
}

impl Part {
    fn read(text: &'static str) -> Self {
        let needed = text.strip_prefix('?');
        let means = match needed.unwrap_or(text) {
            "#" => Means::Number,
            "#th" => Means::Place,
            "." => Means::End,
            "+" => Means::Join,
            "," => Means::Marks(&[
                Mark::Comma,
                Mark::Open,
                Mark::Minus,
                Mark::Colon,
                Mark::Stop,
            ]),
            "*" => Means::Marks(&[Mark::Times]),
            "/" => Means::Marks(&[Mark::Slash]),
            words => Means::Words(words.split('|').collect()),
        };
        Self {
            may_be_missing: needed.is_some(),
            means,
        }
    }

    /// The token behind it, where it stands at `at`.
    fn find(&self, scan: &Scan<'_>, at: usize, numbers: &mut Vec<f64>) -> Option<usize> {
        let mut counted = |(value, to): (f64, usize)| {
            numbers.push(value);
            to
        };
        match &self.means {
            Means::Number => scan.count(at).map(&mut counted),
            Means::Place => place(scan, at).map(&mut counted),
            Means::End => ends(scan, at).then_some(at),
            Means::Join => (scan.is(at, Mark::Plus)
                || scan.is(at, Mark::And)
                || matches!(scan.w(at), W::And | W::Then | W::Plus))
            .then_some(at + 1),
            Means::Marks(marks) => marks.iter().any(|m| scan.is(at, *m)).then_some(at + 1),
            Means::Words(words) => {
                let text = scan.text_at(at);
                (!text.is_empty() && words.contains(&text)).then_some(at + 1)
            }
        }
    }
}

fn from(scan: &Scan<'_>, at: usize, parts: &[Part], numbers: &mut Vec<f64>) -> Option<usize> {
    let Some((part, rest)) = parts.split_first() else {
        return Some(at);
    };
    let known = numbers.len();
    let with = part
        .find(scan, at, numbers)
        .and_then(|next| from(scan, next, rest, numbers));
    if with.is_some() {
        return with;
    }
    if !part.may_be_missing {
        return None;
    }
    numbers.truncate(known);
    from(scan, at, rest, numbers)
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
