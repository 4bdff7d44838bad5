//! What sets leave over: nothing of a report is dropped in silence.

use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::ExerciseId;

use super::super::grammar::groups::Parsed;
use super::super::grammar::item::{Item, Spanned};
use super::super::grammar::scan::Scan;
use super::super::words::token::{Kind, Mark};
use super::super::words::vocabulary::{Roles, W};

/// Whether a number or a name beside the sets is in none of them, and no words say what it is.
pub(crate) fn is_left(
    scan: &Scan<'_>,
    items: &[Spanned],
    parsed: &Parsed,
    catalogue: &Catalogue,
) -> bool {
    let in_group = |at: usize| parsed.groups.iter().any(|g| g.from <= at && at < g.to);
    let mut line = 0;
    // Names stand in a row: `bench, row 60x8`.
    let mut listed: Option<ExerciseId> = None;
    for (at, spanned) in items.iter().enumerate() {
        match spanned.item {
            Item::Break(true) => {
                line += 1;
                listed = None;
            }
            // `40m x 3`: carried so far, so often.
            Item::Foreign if items.get(at + 1).is_some_and(|s| s.item == Item::Times) => {
                return true;
            }
            // `with the green band`, `squat hold`: not the plain movement.
            Item::Word if is_another_way(scan, items, at) => return true,
            Item::OpenLoad if !in_group(at) && parsed.groups.iter().any(|g| g.line == line) => {
                return true;
            }
            Item::Num(_) if !in_group(at) => {
                let of_sets = parsed.groups.iter().any(|g| g.line == line);
                let behind = parsed.groups.iter().any(|g| g.line == line && g.to <= at);
                if of_sets && !is_told(scan, items, at, behind) {
                    return true;
                }
            }
            Item::Name(id) => {
                // `bench press, incline` says the same again, more exactly.
                let other = |before| !is_part_of(catalogue, before, id);
                if listed.is_some_and(other) {
                    return true;
                }
                listed = Some(id);
            }
            Item::And
                if in_group(at + 1)
                    && is_one_more(scan, items, at)
                    && !items.iter().any(|s| matches!(s.item, Item::Technique(_))) =>
            {
                return true;
            }
            // `4 sets, 8 - 12 reps`: not known exactly.
            Item::Dash(false) if in_group(at + 1) && is_span(items, at) => return true,
            Item::Comma if scan.is(spanned.from, Mark::Open) && is_breakdown(items, scan, at) => {
                return true;
            }
            Item::Comma | Item::And | Item::Slash | Item::Dash(_) => {}
            // `lat pulldown 50x10, fp 20x15`: a word in the place of a name.
            Item::Word
                if opens(items, at)
                    && in_group(at + 1)
                    && matches!(items.get(at + 1).map(|s| &s.item), Some(Item::Num(_)))
                    && is_stranger(scan, spanned) =>
            {
                return true;
            }
            _ => listed = None,
        }
    }
    false
}

/// A word that says a set was helped or held, where no name took it.
fn is_another_way(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let text = items.get(at).map_or("", |s| scan.text_at(s.from));
    let names = |s: &Spanned| matches!(s.item, Item::Name(_));
    let before = items.get(..at).unwrap_or_default();
    let next = items.get(at + 1).map(|s| &s.item);
    match text {
        // `a few of 25`: how many is not said.
        "few" | "several" => next == Some(&Item::Of),
        // `60 reps in 3:30`, `50 in 5 sets`: how many were in a set is not said.
        "in" => {
            let sets = matches!(next, Some(Item::Num(_)))
                && items.get(at + 2).is_some_and(|s| s.item == Item::Sets);
            (sets || matches!(next, Some(Item::Foreign | Item::Duration(_))))
                && matches!(
                    before.last().map(|s| &s.item),
                    Some(Item::Reps | Item::Num(_) | Item::Name(_))
                )
        }
        "negative" | "negatives" => before.iter().any(|s| matches!(s.item, Item::Num(_))),
        "band" | "bands" => before.iter().any(names),
        "hold" => before.last().is_some_and(names),
        // So many minutes of rounds: how many sets there were is not said.
        "emom" | "tabata" => true,
        "amrap" => items
            .get(at + 1)
            .is_some_and(|s| matches!(s.item, Item::Duration(_)) || s.item == Item::Foreign),
        _ => false,
    }
}

/// `5 at 125 kg (4, 1)`: numbers in brackets that one before them is made up of.
fn is_breakdown(items: &[Spanned], scan: &Scan<'_>, at: usize) -> bool {
    let bare = |s: &Spanned| match s.item {
        Item::Num(num) if !num.is_load() => Some(num.value),
        _ => None,
    };
    let behind = items.get(at + 1..).unwrap_or_default();
    let Some(close) = behind.iter().position(|s| scan.is(s.from, Mark::Close)) else {
        return false;
    };
    let inside = &behind[..close];
    let parts: Vec<f64> = inside.iter().filter_map(bare).collect();
    let joined = |s: &Spanned| bare(s).is_some() || matches!(s.item, Item::Comma | Item::And);
    let sum: f64 = parts.iter().sum();
    let before = items.iter().take(at).rev().take(4).filter_map(bare);
    parts.len() > 1
        && inside.iter().all(joined)
        && before.into_iter().any(|value| (value - sum).abs() < 0.1)
}

/// `8, 8, 7+1`: after a breath or with help.
fn is_one_more(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let bare = |at: usize| match items.get(at).map(|s| &s.item) {
        Some(Item::Num(num)) if !num.is_load() => Some(num.value),
        _ => None,
    };
    let plus = |at: usize| items.get(at).is_some_and(|s| scan.is(s.from, Mark::Plus));
    let glued = |at: usize| items.get(at).is_some_and(|s| scan.glued(s.from));
    let summed = at.checked_sub(2).is_some_and(plus) || plus(at + 2);
    let crossed = items.get(at + 2).is_some_and(|s| s.item == Item::Times);
    let few = at.checked_sub(1).and_then(bare).zip(bare(at + 1));
    plus(at)
        && glued(at)
        && glued(at + 1)
        && !summed
        && !crossed
        && few.is_some_and(|(reps, more)| more <= 3.0 && 2.0 * more <= reps)
}

/// `8 - 12 reps`.
fn is_span(items: &[Spanned], at: usize) -> bool {
    let count = |at: usize| match items.get(at).map(|s| &s.item) {
        Some(Item::Num(num)) if !num.is_load() && num.value <= 30.0 => Some(num.value),
        _ => None,
    };
    let low = at.checked_sub(1).and_then(count);
    let counted = items.get(at + 2).is_some_and(|s| s.item == Item::Reps);
    counted && low.zip(count(at + 1)).is_some_and(|(low, high)| low < high)
}

/// Whether a phrase begins at `at` behind numbers: after a comma or a line's end.
fn opens(items: &[Spanned], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| items.get(at));
    let parts = |s: &Spanned| matches!(s.item, Item::Comma | Item::Break(_) | Item::Label);
    let numbers = |s: &Spanned| matches!(s.item, Item::Num(_));
    before.is_some_and(parts) && items.iter().take(at).any(numbers)
}

fn is_stranger(scan: &Scan<'_>, word: &Spanned) -> bool {
    scan.token(word.from).is_some_and(|token| {
        token.kind == Kind::Word && token.word.w == W::None && !token.word.roles.any(Roles::FILL)
    })
}

/// Whether the words of one exercise's name all stand in another's.
fn is_part_of(catalogue: &Catalogue, part: ExerciseId, whole: ExerciseId) -> bool {
    let words = |id| catalogue.exercise(id).name.split(' ');
    words(part).all(|word| words(whole).any(|other| other == word))
}

/// Whether words beside a number say that it is of something else: `felt like 100`, `3 sets of
/// bench`, `@8 squat 100x5`, `next set 82.5?`, `bench s1 80x10`. `behind` says that sets stand before it
/// in its line: there `and a groaning 10` may be one more.
fn is_told(scan: &Scan<'_>, items: &[Spanned], at: usize, behind: bool) -> bool {
    let item = |at: usize| items.get(at).map(|s| &s.item);
    let back = |steps: usize| at.checked_sub(steps).and_then(item);
    let before = |steps: usize| {
        let place = at.checked_sub(steps).and_then(|at| items.get(at));
        place.map_or("", |s| scan.text_at(s.from))
    };
    let next = item(at + 1);
    let is_load = matches!(item(at), Some(Item::Num(num)) if num.is_load());
    // `the bar is 45 lb and a 30 lb plate on it, 3 x 10`
    let with_unit = matches!(item(at), Some(Item::Num(num)) if num.unit.is_some());
    // `the last was 7`, `third was 6`: one of the sets.
    let of_a_set = before(1) == "was"
        && (matches!(before(2), "last" | "one")
            || items
                .get(at.wrapping_sub(2))
                .is_some_and(|s| scan.w(s.from) == W::Ordinal));
    let said = |steps: &usize| !matches!(back(*steps), None | Some(Item::Break(_)));
    let remark = !of_a_set
        && ((1..4).any(|steps| {
            // `upped to 55 for last 8` is no `last week 75`.
            let last =
                steps == 1 && before(1) == "last" && matches!(before(2), "for" | "then" | "and");
            REMARKS.contains(&before(steps)) && !last
        }) || (1..8)
            .take_while(said)
            .any(|steps| matches!(before(steps), "next" | "target" | "goal" | "wanted")));
    let joined = matches!(next, Some(Item::Slash | Item::Times | Item::Dash(true)));
    // `third set stopped at 3`
    let labelled = (2..5)
        .take_while(|steps| !matches!(back(*steps), Some(Item::Comma | Item::Break(_))))
        .any(|steps| back(steps) == Some(&Item::Label));
    // `A2`, `#2`, `W3D1`: a label.
    let from = items.get(at).map_or(0, |s| s.from);
    let glued = from > 0 && scan.glued(from) && (back(1) == Some(&Item::Word));
    let bracketed = is_in_bracket(scan, items, at);
    let led = match back(1) {
        _ if glued || bracketed => true,
        Some(Item::For | Item::And) => remark,
        Some(Item::Body) => true,
        _ if labelled && !is_load => false,
        Some(Item::Word) if with_unit && !remark => false,
        Some(Item::Word) => remark || !behind || PLACES.contains(&before(1)),
        Some(Item::At | Item::With) => matches!(back(2), None | Some(Item::Word)),
        _ => false,
    };
    // `failed twice at 190`, `gave up on 100`
    let tried = (1..4).any(|steps| {
        matches!(back(steps), Some(Item::Effort(_))) || ATTEMPTS.contains(&before(steps))
    });
    // `forgot 2 post`: a word.
    let text = scan.token(from).map(|t| scan.text.text_of(t));
    let word = matches!(text, Some("2" | "4"))
        && matches!((back(1), next), (Some(Item::Word), Some(Item::Word)));
    let asked = items
        .get(at + 1)
        .is_some_and(|s| scan.is(s.from, Mark::Question));
    let label = matches!(back(1), Some(Item::Name(_))) && matches!(next, Some(Item::Num(_)));
    // `87.5, 5 5 3 stop` goes on.
    let counted = next == Some(&Item::Word)
        && !matches!(back(1), Some(Item::Num(num)) if !num.is_load())
        && items.get(at + 1).is_some_and(|s| {
            is_stranger(scan, s) || !behind || is_verb(scan, s.from) || scan.w(s.from) == W::K
        });
    led && !joined && !tried
        || asked
        || word
        || label
        || next == Some(&Item::Sets)
        || counted && (!is_load || items.get(at + 1).is_some_and(|s| is_verb(scan, s.from)))
}

/// A remark in brackets has no more items before its number, and no more behind it.
const LONGEST_REMARK: usize = 8;

/// `(letzte Woche 70)`: the one number of a bracket that begins with a word.
fn is_in_bracket(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let is = |at: usize, mark| items.get(at).is_some_and(|s| scan.is(s.from, mark));
    let open = (at.saturating_sub(LONGEST_REMARK)..at).rfind(|at| is(*at, Mark::Open));
    let close = (at..at + LONGEST_REMARK).find(|at| is(*at, Mark::Close));
    let (Some(open), Some(close)) = (open, close) else {
        return false;
    };
    let inside = items.get(open + 1..close).unwrap_or_default();
    let words = |s: &Spanned| matches!(s.item, Item::Word | Item::Day(_) | Item::Num(_));
    let numbers = inside.iter().filter(|s| matches!(s.item, Item::Num(_)));
    inside.first().is_some_and(|s| s.item == Item::Word)
        && inside.iter().all(words)
        && numbers.count() == 1
}

/// Words shortly before a number that is a wish, a feeling, a weight of the body or of another day.
const REMARKS: [&str; 25] = [
    "felt", "feels", "like", "than", "was", "be", "been", "should", "last", "next", "target",
    "goal", "did", "try", "trying", "bw", "weigh", "weighing", "want", "wanted", "needed", "going",
    "go", "not", "beat",
];

/// Words shortly before a load that was tried and not lifted.
const ATTEMPTS: [&str; 6] = ["gave", "missed", "miss", "stuck", "stapled", "couldnt"];

/// Words before a number that is a time or a place.
const PLACES: [&str; 14] = [
    "on", "by", "past", "until", "till", "from", "in", "about", "around", "over", "under", "every",
    "as", "because",
];

/// Words behind a number that something is told of: `the 30s were taken`.
fn is_verb(scan: &Scan<'_>, at: usize) -> bool {
    matches!(scan.w(at), W::Is | W::Are | W::Was | W::Next)
        || matches!(
            scan.text_at(at),
            "were" | "looked" | "felt" | "it" | "he" | "she" | "they"
        )
}
