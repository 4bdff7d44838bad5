//! Efforts that are told in words and not in numbers: `max effort`, `plenty left`, `nowhere near failure`.

use super::{EASY_LEAVES, HARD_LEAVES, is_counted, of_rpe, one};
use crate::message::grammar::item::{Effort, Item, Spanned};
use crate::message::grammar::scan::{Phrase, Scan};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// Words that say how much was left, the longer of two that begin alike first. Common practice, no source.
const TOLD: &[(&[&str], f64)] = &[
    (&["everything", "i", "had"], 0.0),
    (&["all", "i", "had"], 0.0),
    (&["max", "effort"], 0.0),
    (&["maximal", "effort"], 0.0),
    (&["not", "a", "rep", "more"], 0.0),
    (&["not", "one", "more"], 0.0),
    (&["couldnt", "do", "another"], 0.0),
    (&["couldnt", "have", "done", "another"], 0.0),
    (&["couldnt", "get", "another"], 0.0),
    (&["plenty", "left"], EASY_LEAVES),
    (&["loads", "left"], EASY_LEAVES),
    (&["lots", "left"], EASY_LEAVES),
    (&["miles", "left"], EASY_LEAVES),
    (&["heaps", "left"], EASY_LEAVES),
    (&["plenty", "in", "the", "tank"], EASY_LEAVES),
    (&["loads", "in", "the", "tank"], EASY_LEAVES),
    (&["lots", "in", "the", "tank"], EASY_LEAVES),
    (&["plenty", "in", "reserve"], EASY_LEAVES),
];

/// What stands right before a failure that did not come, with what it leaves where it says so; the longer of two
/// that end alike first.
const SHORT_OF: &[(&[&str], Option<f64>)] = &[
    (&["not", "even", "close", "to"], Some(EASY_LEAVES)),
    (&["not", "close", "to"], Some(EASY_LEAVES)),
    (&["nowhere", "close", "to"], Some(EASY_LEAVES)),
    (&["nowhere", "near"], Some(EASY_LEAVES)),
    (&["not", "near"], Some(EASY_LEAVES)),
    (&["far", "from"], Some(EASY_LEAVES)),
    (&["far", "off"], Some(EASY_LEAVES)),
    (&["well", "short", "of"], Some(EASY_LEAVES)),
    (&["close", "to"], Some(HARD_LEAVES)),
    (&["near", "to"], Some(HARD_LEAVES)),
    (&["short", "of"], Some(HARD_LEAVES)),
    (&["near"], Some(HARD_LEAVES)),
    (&["almost"], Some(HARD_LEAVES)),
    (&["nearly"], Some(HARD_LEAVES)),
    (&["almost", "to"], Some(HARD_LEAVES)),
    (&["nearly", "to"], Some(HARD_LEAVES)),
    (&["no"], None),
    (&["not"], None),
    (&["not", "to"], None),
    (&["without"], None),
    (&["before"], None),
    (&["didnt", "go", "to"], None),
    (&["didnt", "take", "it", "to"], None),
    (&["didnt", "hit"], None),
    (&["didnt", "reach"], None),
    (&["never", "to"], None),
];

/// Whether these words stand from `at` on.
fn stand(scan: &Scan<'_>, at: usize, words: &[&str]) -> bool {
    (at..)
        .zip(words)
        .all(|(at, word)| scan.text_at(at) == *word)
}

/// An effort in words that starts at `at`.
pub(crate) fn told(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let found = TOLD.iter().find(|(words, _)| stand(scan, at, words));
    if let Some((words, reserve)) = found {
        return Some((Item::Effort(one(*reserve)), at + words.len()));
    }
    another(scan, at).or_else(|| out_of_ten(scan, at, before))
}

/// `good for another 2`, `good for 2 more`.
fn another(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if !stand(scan, at, &["good", "for"]) {
        return None;
    }
    let leads = scan.w(at + 2) == W::Another;
    let (value, to) = scan.count(at + 2 + usize::from(leads))?;
    let more = scan.w(to) == W::More;
    let to = to + usize::from(more);
    let to = to + usize::from(scan.w(to) == W::Reps);
    (leads || more).then(|| (Item::Effort(one(value)), to))
}

/// `8 out of 10`, `8/10 effort`, `effort 8`, `effort 8/10`: the scale of the trade.
fn out_of_ten(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let is_effort = |at: usize| matches!(scan.text_at(at), "effort" | "difficulty");
    let is_ten = |at: usize| scan.digits(at).is_some_and(|ten| (ten - 10.0).abs() < 1e-9);
    let led = is_effort(at);
    let number = at + usize::from(led);
    let value = scan.digits(number)?;
    let to = number + 1;
    let worded = stand(scan, to, &["out", "of"]) && is_ten(to + 2);
    let slashed = scan.is(to, Mark::Slash) && is_ten(to + 1);
    let of_ten = to + 3 * usize::from(worded) + 2 * usize::from(slashed);
    let named = is_effort(of_ten);
    // `10 out of 10` by itself is praise.
    let behind_set = before.iter().any(|s| matches!(s.item, Item::Num(_)));
    let told = if worded || slashed {
        led || worded && behind_set || slashed && named
    } else {
        led && !is_counted(scan, to)
    };
    let effort = Item::Effort(of_rpe(&[value]));
    (told && is_on_scale(&effort)).then_some((effort, of_ten + usize::from(named && !led)))
}

fn is_on_scale(item: &Item) -> bool {
    matches!(item, Item::Effort(Effort::One(_)))
}

/// What the words before a failure at `at` make of it: it came (`None`), or it did not, with what was left where
/// they say so.
pub(super) fn short_of(scan: &Scan<'_>, at: usize) -> Option<Option<f64>> {
    let before = |words: &[&str]| {
        at.checked_sub(words.len())
            .is_some_and(|from| stand(scan, from, words))
    };
    let longest = SHORT_OF.iter().filter(|(words, _)| before(words));
    longest
        .max_by_key(|(words, _)| words.len())
        .map(|(_, reserve)| *reserve)
}

/// `2 sets left`, `two more sets to go`, `3 reps short`: what was not done, from the number on.
pub(crate) fn not_done(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let (_, to) = scan.count(at)?;
    if scan.w(to) == W::Reps && scan.text_at(to + 1) == "short" {
        return Some(to + 2);
    }
    let more = matches!(scan.text_at(to), "more" | "other");
    let to = to + usize::from(more);
    if scan.w(to) != W::Sets {
        return None;
    }
    let to = to + 1;
    let behind: &[&[&str]] = &[
        &["left", "to", "do"],
        &["left", "to", "go"],
        &["left"],
        &["to", "go"],
        &["to", "do"],
        &["to", "come"],
        &["remaining"],
        &["still", "to", "go"],
        &["still", "to", "do"],
        &["still", "to", "come"],
        &["after", "this"],
        &["after", "that"],
    ];
    let ends = behind.iter().find(|words| stand(scan, to, words));
    // `2 sets left arm`, `2 sets to go to failure` are something else.
    let end = to + ends?.len();
    let ends_here = scan
        .token(end)
        .is_none_or(|t| !matches!(t.kind, Kind::Word | Kind::Number));
    ends_here.then_some(end)
}
