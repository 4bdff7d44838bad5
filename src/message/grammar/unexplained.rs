//! What sets leave over: nothing of a report is dropped in silence.

use crate::domain::catalogue::Catalogue;
use crate::domain::id::ExerciseId;

use super::super::item::{Item, Spanned};
use super::super::scan::Scan;
use super::super::sets::Parsed;
use super::super::token::Mark;

/// Whether a number or a name beside the sets is in none of them, and no words say what it is.
pub(in crate::message) fn is_left(
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
            Item::Num(_) if !in_group(at) => {
                let of_sets = parsed.groups.iter().any(|g| g.line == line);
                if of_sets && !is_told(scan, items, at) {
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
            Item::Comma | Item::And | Item::Slash | Item::Dash(_) => {}
            _ => listed = None,
        }
    }
    false
}

/// Whether the words of one exercise's name all stand in another's.
fn is_part_of(catalogue: &Catalogue, part: ExerciseId, whole: ExerciseId) -> bool {
    let words = |id| catalogue.exercise(id).name.split(' ');
    words(part).all(|word| words(whole).any(|other| other == word))
}

/// Whether words beside a number say that it is of something else: `felt like 100`, `3 sets of
/// bench`, `@8 squat 100x5`, `next set 82.5?`, `bench s1 80x10`.
fn is_told(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let item = |at: usize| items.get(at).map(|s| &s.item);
    let back = |steps: usize| at.checked_sub(steps).and_then(item);
    let next = item(at + 1);
    let is_load = matches!(item(at), Some(Item::Num(num)) if num.is_load());
    let joined = matches!(next, Some(Item::Slash | Item::Times | Item::Dash(true)));
    let led = match back(1) {
        Some(Item::Word) => true,
        Some(Item::At | Item::With) => matches!(back(2), None | Some(Item::Word)),
        _ => false,
    };
    // `failed twice at 190`
    let tried = (1..4).any(|steps| matches!(back(steps), Some(Item::Effort(_))));
    let asked = items
        .get(at + 1)
        .is_some_and(|s| scan.is(s.from, Mark::Question));
    let label = matches!(back(1), Some(Item::Name(_))) && matches!(next, Some(Item::Num(_)));
    led && !joined && !tried
        || asked
        || label
        || next == Some(&Item::Sets)
        || !is_load && next == Some(&Item::Word)
}
