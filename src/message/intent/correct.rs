//! Corrections: `undo`, `scratch that`, `that was 9 not 8`, `make it 82.5`.
//!
//! Every word of a correction must be one that corrections are made of: `undo the collars` is
//! chatter.

use crate::message::grammar::clause::{Bag, Clause, closed, is_remark};
use crate::message::grammar::item::{Effort, Item, Num, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::reading::{Correction, Part};
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::{Roles, W};

/// A correction that is the whole message, or its first clause before a remark: `undo, fat
/// fingers`. `after_set` says that there is a set which a bare number may mend: `actually 9`.
pub(crate) fn correction(
    scan: &Scan<'_>,
    items: &[Spanned],
    clauses: &[Clause],
    after_set: bool,
) -> Option<Correction> {
    if scan.tokens.iter().any(|t| t.is(Mark::Question)) {
        return None;
    }
    let end = scan.tokens.len();
    // `no weight, 12` is a set.
    if (0..end).any(|at| scan.w(at) == W::No && scan.w(at + 1) == W::Weight) {
        return None;
    }
    if is_closed(scan, items, (0, end)) {
        return made_of(scan, items, end, after_set);
    }
    let (first, rest) = clauses.split_first()?;
    let span = (first.from, first.to);
    let points = Bag::of(scan, span.0, span.1, |_| false).any(&[
        W::Undo,
        W::Scratch,
        W::Remove,
        W::That,
        W::It,
        W::This,
        W::Last,
        W::Should,
    ]);
    (points && is_closed(scan, items, span) && is_remark(scan, rest))
        .then(|| made_of(scan, items, first.to, after_set))
        .flatten()
        .filter(|made| stands_before_a_remark(made, after_set))
}

/// The correction that the words up to `end` make.
fn made_of(scan: &Scan<'_>, items: &[Spanned], end: usize, after_set: bool) -> Option<Correction> {
    let bag = Bag::of(scan, 0, end, |_| false);
    change(scan, items, &bag, after_set).or_else(|| is_undo(scan, &bag).then_some(Correction::Undo))
}

/// `make it 8, the bus is late` sets an hour: without a set to mend, one bare whole number is not
/// taken for a part of one.
fn stands_before_a_remark(made: &Correction, after_set: bool) -> bool {
    match made {
        Correction::Undo | Correction::Set(..) => true,
        Correction::Change { part, now, was, .. } => {
            after_set || part.is_some() || was.is_some() || now.fract() != 0.0
        }
    }
}

/// A first clause that takes the last post back, before other words.
pub(crate) fn leading_undo(scan: &Scan<'_>, items: &[Spanned], clauses: &[Clause]) -> bool {
    let Some(first) = clauses.first() else {
        return false;
    };
    let bag = Bag::of(scan, first.from, first.to, |_| false);
    first.end != Some(Mark::Question)
        && is_closed(scan, items, (first.from, first.to))
        && is_undo(scan, &bag)
}

fn is_closed(scan: &Scan<'_>, items: &[Spanned], span: (usize, usize)) -> bool {
    closed(scan, span, Roles::FIX, true, |at| {
        item_at(items, at)
            .is_some_and(|s| matches!(s.item, Item::Name(_) | Item::Effort(_) | Item::Num(_)))
            || matches!(scan.w(at), W::Should | W::Be | W::K | W::F | W::R | W::Have)
    })
}

fn is_undo(scan: &Scan<'_>, bag: &Bag) -> bool {
    let digits = scan
        .tokens
        .iter()
        .any(|t| t.kind == crate::message::words::token::Kind::Number);
    // `scratch my back` is none; `delete my last` is.
    let object = bag.any(&[W::That, W::It, W::Last, W::This, W::One, W::Sets]);
    let forgets = (0..scan.tokens.len().min(3)).any(|at| scan.text_at(at) == "forget")
        && !bag.has(W::It)
        && bag.any(&[W::That, W::Last]);
    let bare = bag.has(W::Undo) || scan.tokens.len() == 1 && bag.has(W::Remove);
    bare && !digits
        || bag.any(&[W::Scratch, W::Remove]) && object
        || forgets && !digits
        || bag.has(W::Take) && bag.has(W::Back) && object && !digits
}

/// A number and what part of the set it is.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Said {
    value: f64,
    part: Option<Part>,
    num: Num,
    from: usize,
}

fn change(scan: &Scan<'_>, items: &[Spanned], bag: &Bag, after_set: bool) -> Option<Correction> {
    let said = numbers(scan, items);
    if items
        .iter()
        .any(|s| matches!(s.item, Item::Foreign | Item::Duration(_) | Item::Rest(_)))
    {
        return None;
    }
    let not = items
        .iter()
        .find(|s| matches!(scan.w(s.from), W::Not | W::Instead))
        .map(|s| s.from);
    match (said.as_slice(), not) {
        ([now, was], Some(not)) => {
            // `100x5 not bad` denies no number.
            if now.from < not && was.from < not {
                return None;
            }
            let (now, was) = if now.from > not {
                (was, now)
            } else {
                (now, was)
            };
            Some(made(now, Some(was)))
        }
        ([load, now, load_was, was], Some(_)) if has_times(items) => {
            let same = (load.value - load_was.value).abs() < 1e-9;
            let (now, was, part) = if same {
                (now, was, Part::Reps)
            } else {
                (load, load_was, Part::Load)
            };
            Some(made(
                &Said {
                    part: Some(part),
                    ..*now
                },
                Some(was),
            ))
        }
        ([now], None) if !has_times(items) && tells(bag, now, after_set) => Some(made(now, None)),
        ([now], None) if starred(scan) => Some(made(now, None)),
        _ => None,
    }
}

fn has_times(items: &[Spanned]) -> bool {
    items.iter().any(|s| s.item == Item::Times)
}

/// `*9`, `9*`.
fn starred(scan: &Scan<'_>) -> bool {
    let first = scan.is(0, Mark::Star);
    let last = scan.tokens.len().checked_sub(1).is_some_and(|at| {
        scan.is(at, Mark::Times) && scan.glued(at) && scan.text.text_of(&scan.tokens[at]).is_empty()
    });
    scan.tokens.len() <= 3 && (first || last)
}

/// Whether the words around one number make it a correction.
fn tells(bag: &Bag, now: &Said, after_set: bool) -> bool {
    let that = bag.any(&[W::That, W::It, W::This]);
    let part = now.part.is_some();
    let column = bag.any(&[W::Reps, W::Load, W::Weight]);
    let by_make = bag.any(&[W::Make, W::Change]) && (that || column || bag.has(W::Last));
    let by_should = bag.has(W::Should) && (that || bag.any(&[W::Be, W::Have, W::Was]));
    let by_meaning = bag.any(&[W::Meant, W::Correction, W::Wrong]);
    // `it was 9` by itself answers somebody.
    let said = bag.any(&[W::That, W::Last]) || column;
    let told = part || bag.any(&[W::Actually, W::Sorry]) || after_set;
    let by_was = bag.has(W::Was) && (said || that && told);
    let by_no = bag.any(&[W::Actually, W::No, W::Sorry]) && (part || after_set);
    by_make || by_should || by_meaning || by_was || by_no
}

fn numbers(scan: &Scan<'_>, items: &[Spanned]) -> Vec<Said> {
    let mut out: Vec<Said> = Vec::new();
    for (place, spanned) in items.iter().enumerate() {
        let next = items.get(place + 1).map(|s| &s.item);
        let said = match &spanned.item {
            Item::Num(num) => Said {
                value: num.value,
                part: part_of(num, next),
                num: *num,
                from: spanned.from,
            },
            Item::Effort(Effort::One(rir)) => Said {
                value: *rir,
                part: Some(Part::Rir),
                num: Num::default(),
                from: spanned.from,
            },
            Item::Word if scan.w(spanned.from) == W::Numeral => Said {
                value: scan.tokens[spanned.from].value,
                part: (next == Some(&Item::Reps)).then_some(Part::Reps),
                num: Num::default(),
                from: spanned.from,
            },
            _ => continue,
        };
        out.push(said);
    }
    out
}

fn part_of(num: &Num, next: Option<&Item>) -> Option<Part> {
    if next == Some(&Item::Reps) {
        return Some(Part::Reps);
    }
    num.is_load().then_some(Part::Load)
}

fn made(now: &Said, was: Option<&Said>) -> Correction {
    Correction::Change {
        part: now.part.or_else(|| was.and_then(|was| was.part)),
        unit: now.num.unit.or_else(|| was.and_then(|was| was.num.unit)),
        now: now.value,
        was: was.map(|was| was.value),
    }
}

/// What one begins with who says that the last set was another.
const MEANT: &[&[&str]] = &[
    &["i", "meant"],
    &["i", "mean"],
    &["meant"],
    &["should", "be"],
    &["should", "have", "been"],
    &["shouldve", "been"],
    &["that", "should", "be"],
    &["that", "should", "have", "been"],
    &["make", "that"],
    &["correction"],
    &["typo"],
    &["no", "wait"],
    &["wait", "no"],
];

/// What may stand before it.
const SORRY: &[&str] = &[
    "sorry", "oops", "ops", "whoops", "ah", "argh", "no", "my", "bad",
];

/// The set that the last one is said to be, in the words behind those that say so, and whether they say so
/// in full: `oops, I meant 100x6`; `sorry, 100x6` says it only where it is like the last one.
pub(crate) fn meant(text: &str) -> Option<(&str, bool)> {
    let numbers = |set: &str| {
        let set = set.trim_start_matches(['x', 'X', '×']);
        set.starts_with(|c: char| c.is_ascii_digit())
    };
    let mut rest = text.trim();
    let mut sorry = false;
    loop {
        let after = |lead: &&[&str]| behind(rest, lead);
        if let Some(set) = MEANT.iter().find_map(after) {
            return numbers(set).then_some((set, true));
        }
        let Some(next) = SORRY.iter().find_map(|word| behind(rest, &[word])) else {
            return (sorry && numbers(rest)).then_some((rest, false));
        };
        sorry = true;
        rest = next;
    }
}

/// What stands behind these words and the marks after each.
fn behind<'t>(text: &'t str, words: &[&str]) -> Option<&'t str> {
    let is_mark = |c: char| !c.is_alphanumeric();
    words.iter().try_fold(text, |rest, word| {
        let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '\''));
        let (first, rest) = rest.split_at(end.unwrap_or(rest.len()));
        let is_it = first.replace('\'', "").eq_ignore_ascii_case(word);
        is_it.then(|| rest.trim_start_matches(is_mark))
    })
}

#[cfg(test)]
mod tests {
    use super::meant;

    #[test]
    fn what_the_last_set_is_said_to_be_stands_behind_the_words_that_say_so() {
        for (text, set) in [
            ("I meant 100x6", Some(("100x6", true))),
            (
                "oops, i mean 100 x 6, 1 left",
                Some(("100 x 6, 1 left", true)),
            ),
            ("Should've been: 100x6", Some(("100x6", true))),
            ("sorry no wait - 100x6", Some(("100x6", true))),
            ("i meant x6", Some(("x6", true))),
            ("i meant what i said", None),
            ("sorry 100x6", Some(("100x6", false))),
            ("the typo, 100x6", None),
        ] {
            assert_eq!(meant(text), set, "{text}");
        }
    }
}
