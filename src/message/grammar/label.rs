//! Labels of sets, which are no numbers of theirs: `set 2:`, `1)`, `#1`, `A1`, `2nd set`.

use super::item::Item;
use super::scan::{Phrase, Scan, is_sets};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// `set 2:`, `set two`, `1)` and `#1` at the start of a line or after a slash.
pub(crate) fn label_at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let opens = at == 0
        || scan.tokens.get(at - 1).is_some_and(|token| {
            matches!(
                token.kind,
                Kind::Mark(
                    Mark::Line
                        | Mark::Slash
                        | Mark::Semicolon
                        | Mark::Comma
                        | Mark::Stop
                        | Mark::Minus
                )
            )
        });
    let sets = is_sets(scan.w(at)) || scan.w(at) == W::S && scan.glued(at + 1);
    let closed = |to: usize| scan.is(to, Mark::Colon) || scan.is(to, Mark::Close);
    if sets {
        let (value, to) = scan.count(at + 1)?;
        let after = scan.w(to);
        if value > 20.0 || after == W::Reps || scan.is(to, Mark::Times) {
            return None;
        }
        let dashed = scan.is(to, Mark::Minus) && !scan.glued(to + 1);
        if closed(to) || dashed {
            return Some((Item::Label, to + 1));
        }
        // `3 sets 8 8 7` counts the sets, `8 set 2 8` labels the next.
        let plural = scan.text.text_of(scan.token(at)?).ends_with("ts");
        let counted = plural && at > 0 && scan.digits(at - 1).is_some();
        let number_behind = !counted && scan.digits(to).is_some();
        return (opens || number_behind && !scan.is(to, Mark::Times)).then_some((Item::Label, to));
    }
    if let Some(label) = letter_label(scan, at).or_else(|| number_letter(scan, at)) {
        return Some(label);
    }
    if scan.is(at + 1, Mark::Close)
        && scan.digits(at).is_some_and(|value| value <= 20.0)
        && !in_brackets(scan, at)
    {
        return Some((Item::Label, at + 2));
    }
    if !opens {
        return None;
    }
    let (from, hash) = if scan.is(at, Mark::Hash) {
        (at + 1, true)
    } else {
        (at, false)
    };
    let value = scan.digits(from)?;
    let to = from + 1;
    let line_start = at == 0 || scan.is(at - 1, Mark::Line);
    let dotted = scan.is(to, Mark::Stop) && line_start;
    let good = value <= 20.0
        && (scan.is(to, Mark::Close) && !in_brackets(scan, from) || dotted || hash && closed(to));
    good.then_some((Item::Label, to + 1))
}

/// Whether a bracket was opened before `at` and not closed.
fn in_brackets(scan: &Scan<'_>, at: usize) -> bool {
    let last = scan.tokens.get(..at).unwrap_or_default().iter().rev();
    last.take(12)
        .find(|t| t.is(Mark::Open) || t.is(Mark::Close))
        .is_some_and(|t| t.is(Mark::Open))
}

/// `A1` and `B2` at the start of a line: the order of the plan.
pub(crate) fn letter_label(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let token = scan.token(at)?;
    let starts = at == 0 || scan.is(at - 1, Mark::Line);
    let letter =
        token.kind == Kind::Word && matches!(scan.text.text_of(token), "a" | "b" | "c" | "d");
    let number = scan.glued(at + 1) && scan.digits(at + 1).is_some_and(|value| value < 10.0);
    let more = scan.is(at + 2, Mark::Times);
    let colon = usize::from(scan.is(at + 2, Mark::Colon) || scan.is(at + 2, Mark::Close));
    (starts && letter && number && !more).then_some((Item::Label, at + 2 + colon))
}

/// `1A.` and `2b)` at the start of a line.
fn number_letter(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let starts = at == 0
        || scan.is(at - 1, Mark::Line)
        || at == 1 && (scan.is(0, Mark::Minus) || scan.is(0, Mark::Semicolon));
    let small = scan.digits(at).is_some_and(|value| value < 10.0);
    let letter = scan.glued(at + 1) && matches!(scan.text_at(at + 1), "a" | "b" | "c" | "d" | "e");
    let closed = [Mark::Stop, Mark::Close, Mark::Colon].map(|mark| scan.is(at + 2, mark));
    (starts && small && letter && closed.contains(&true)).then_some((Item::Label, at + 3))
}

/// `2nd set` is a label; another ordinal is no number of a set.
pub(crate) fn ordinal(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at + 1) != W::Th || !scan.glued(at + 1) {
        return None;
    }
    if is_sets(scan.w(at + 2)) {
        return Some((Item::Label, at + 3));
    }
    Some((Item::Foreign, at + 2))
}
