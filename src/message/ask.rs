//! Questions to the bot: what to load, how long to rest, how much for a muscle, my week.
//!
//! A question is known by its key words, and counts only when every other word of its clause is
//! one that such questions are made of: `how long is the drive to the lake` is chatter.

use crate::domain::catalogue::{Basis, Catalogue};
use crate::domain::effort::Rir;
use crate::domain::id::{ExerciseId, MuscleId};
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};

use super::clause::{Bag, Clause, closed};
use super::file;
use super::item::{Effort, Item, Num, Spanned, item_at};
use super::reading::{About, Question, WhatIf};
use super::scan::Scan;
use super::token::Mark;
use super::vocabulary::{Roles, W};

/// What a question may name.
struct Named {
    exercise: Option<ExerciseId>,
    muscle: Option<MuscleId>,
    /// Tokens of names.
    spans: Vec<(usize, usize)>,
}

/// The first question of the message. `filed` says which tokens are already read as sets.
pub(super) fn question(
    scan: &Scan<'_>,
    items: &[Spanned],
    clauses: &[Clause],
    catalogue: &Catalogue,
    unit: Unit,
    filed: impl Fn(usize) -> bool,
) -> Option<(Question, Clause)> {
    for clause in clauses {
        if (clause.from..clause.to).all(&filed) {
            continue;
        }
        let named = names(scan, items, clause);
        let known = |at: usize| {
            filed(at) || named.spans.iter().any(|s| s.0 <= at && at < s.1) || is_number(items, at)
        };
        let span = (clause.from, clause.to);
        if !closed(scan, span, Roles::ASK, false, known) {
            continue;
        }
        let bag = Bag::of(scan, clause.from, clause.to, &filed);
        let clause_asks = clause.end == Some(Mark::Question);
        let what_if = what_if(items, clause, catalogue, named.exercise, unit, &filed);
        let number = items.iter().any(|s| {
            clause.from <= s.from
                && s.from < clause.to
                && matches!(s.item, Item::Num(num) if num.value > 10.0)
        });
        let about = about(&bag, clause_asks, &named, what_if.is_some(), number);
        if let Some(about) = about {
            let question = Question {
                about,
                exercise: named.exercise,
                muscle: named.muscle,
                what_if: what_if.filter(|_| about == About::Load),
            };
            return Some((question, *clause));
        }
    }
    None
}

fn is_number(items: &[Spanned], at: usize) -> bool {
    item_at(items, at).is_some_and(|s| {
        matches!(
            s.item,
            Item::Num(_) | Item::Rest(_) | Item::Duration(_) | Item::Effort(_) | Item::Label
        )
    })
}

fn names(scan: &Scan<'_>, items: &[Spanned], clause: &Clause) -> Named {
    let mut named = Named {
        exercise: None,
        muscle: None,
        spans: Vec::new(),
    };
    for item in items
        .iter()
        .filter(|s| clause.from <= s.from && s.from < clause.to)
    {
        if let Item::Name(id) = item.item {
            named.exercise.get_or_insert(id);
            named.spans.push((item.from, item.to));
        }
    }
    let mut at = clause.from;
    while at < clause.to {
        match scan.names.muscle_at(scan.tokens, at) {
            Some(found) => {
                // A word for both is the muscle in a question.
                if named.spans.contains(&(at, found.to)) {
                    named.exercise = None;
                }
                named.muscle.get_or_insert(found.id);
                named.spans.push((at, found.to));
                at = found.to;
            }
            None => at += 1,
        }
    }
    named
}

fn about(bag: &Bag, asks: bool, named: &Named, what_if: bool, number: bool) -> Option<About> {
    let opens =
        asks || bag.any(&[
            W::How,
            W::What,
            W::Which,
            W::When,
            W::Can,
            W::Should,
            W::Do,
            W::Am,
            W::Show,
        ]) || bag.all(&[W::Drop, W::Or])
            || bag.all(&[W::Stay, W::Or])
            || bag.all(&[W::My, W::Week])
            || bag.all(&[W::Have, W::I])
            || bag.all(&[W::Show, W::Week]);
    if !opens {
        return None;
    }
    let muscle = named.muscle.is_some() && named.exercise.is_none();
    if is_volume(bag, muscle) {
        return Some(About::Volume);
    }
    if is_week(bag) {
        return Some(About::Week);
    }
    if is_rest(bag, asks) {
        return Some(About::Rest);
    }
    let tries = number && bag.any(&[W::Should, W::Can]) && bag.has(W::I);
    (what_if && asks || tries || is_load(bag, asks, named.exercise.is_some()))
        .then_some(About::Load)
}

fn is_week(bag: &Bag) -> bool {
    let short = !bag.any(&[W::For, W::Of, W::In]);
    let show = bag.has(W::Show) && bag.has(W::Week) && (bag.any(&[W::My, W::Me]) || short);
    let did = bag.all(&[W::What, W::I, W::Week]) && bag.any(&[W::Did, W::Done, W::Got]);
    let how = bag.all(&[W::How, W::My, W::Week]);
    let mine = bag.all(&[W::My, W::Week]);
    show || did || how || mine
}

fn is_volume(bag: &Bag, muscle: bool) -> bool {
    let counts = bag.has(W::How) && bag.any(&[W::Many, W::Much]);
    let sets = bag.any(&[W::Sets, W::Volume]);
    let rest_words = bag.any(&[W::Rest, W::Long, W::Longer]);
    let many_sets = bag.all(&[W::How, W::Many, W::Sets]) && !bag.has(W::Rest);
    let much_muscle = counts && muscle && !rest_words;
    let done = muscle
        && bag.any(&[W::Done, W::Enough])
        && bag.any(&[W::Am, W::I, W::With, W::Week, W::Have]);
    let left = muscle && (sets || bag.has(W::Left) && bag.any(&[W::What, W::Week]));
    let how_am_i = muscle && bag.has(W::How) && bag.any(&[W::Am, W::Doing, W::My]);
    many_sets || much_muscle || done || left || how_am_i || bag.has(W::Volume) && bag.has(W::My)
}

fn is_rest(bag: &Bag, asks: bool) -> bool {
    let load_words = bag.any(&[
        W::Up,
        W::Down,
        W::Heavier,
        W::Lighter,
        W::Drop,
        W::Weight,
        W::Load,
        W::Heavy,
    ]);
    let long = bag.has(W::How) && bag.any(&[W::Long, W::Longer]);
    let much = bag.all(&[W::How, W::Much]) && bag.any(&[W::Rest, W::Time, W::Longer]);
    let what = bag.all(&[W::What, W::Rest]);
    let go = bag.has(W::Go)
        && bag.any(&[
            W::Can,
            W::Should,
            W::When,
            W::Am,
            W::Do,
            W::Good,
            W::Ready,
            W::Again,
            W::Is,
        ])
        && bag.any(&[W::I, W::Again, W::Now, W::Yet, W::Next])
        && !load_words
        || asks && bag.has(W::Go) && bag.any(&[W::Now, W::Yet]) && !load_words
        || bag.all(&[W::Can, W::I, W::Start]);
    let again =
        asks && bag.has(W::Again) && bag.any(&[W::Go, W::Ready, W::Yet, W::Now]) && !load_words;
    let rest = asks && bag.any(&[W::Rest, W::Resting]) && !bag.has(W::Drop);
    let ready = asks && bag.has(W::Ready) && bag.any(&[W::I, W::Am, W::Yet]);
    let time = asks && bag.has(W::Time) && bag.any(&[W::Yet, W::Is, W::Next]);
    let next_set = bag.all(&[W::When, W::Next]);
    let longer = asks && bag.has(W::Longer);
    let should_rest = bag.has(W::Should) && bag.has(W::Rest);
    long || much
        || what
        || go
        || again
        || rest
        || ready
        || time
        || next_set
        || longer
        || should_rest
}

fn is_load(bag: &Bag, asks: bool, exercise: bool) -> bool {
    let drop = bag.has(W::Drop) && (asks || bag.any(&[W::Should, W::Or, W::Do]));
    let stay = bag.has(W::Stay) && (asks || bag.any(&[W::Should, W::Or, W::Do]));
    let what_next =
        bag.any(&[W::What, W::Which]) && bag.any(&[W::Next, W::Now, W::Then]) && !bag.has(W::Week);
    let next = asks && bag.has(W::Next);
    let load = bag.any(&[W::Load, W::Weight, W::Put, W::Bar, W::Heavy, W::Kg, W::Lb]);
    let asks_of_thing = bag.all(&[W::Is, W::The, W::Heavy]) && !bag.any(&[W::I, W::Too]);
    let what_load = !asks_of_thing && bag.any(&[W::What, W::Which, W::How]) && (load || exercise);
    let change = bag.any(&[
        W::AddVerb,
        W::Heavier,
        W::Lighter,
        W::Up,
        W::Down,
        W::Take,
        W::Plus,
        W::More,
        W::Less,
        W::Same,
    ]);
    let should = bag.any(&[W::Should, W::Can, W::Do, W::Am])
        && (change
            && (load || bag.any(&[W::Go, W::Heavier, W::Lighter, W::AddVerb, W::Off, W::Same])));
    let bare_change = asks
        && (bag.any(&[W::Heavier, W::Lighter])
            || bag.any(&[W::Up, W::Down]) && bag.any(&[W::Go, W::Or])
            || bag.all(&[W::More, W::Weight])
            || bag.all(&[W::AddVerb, W::Weight])
            || bag.has(W::Same) && bag.any(&[W::Weight, W::Load, W::Or]));
    let take = asks && bag.all(&[W::Take, W::Off]);
    let too = asks && bag.has(W::Too) && bag.any(&[W::Heavy, W::Light]);
    drop || stay || what_next || next || what_load || should || bare_change || too || take
}

/// A load, a rest or an effort named in the clause.
fn what_if(
    items: &[Spanned],
    clause: &Clause,
    catalogue: &Catalogue,
    exercise: Option<ExerciseId>,
    unit: Unit,
    filed: &impl Fn(usize) -> bool,
) -> Option<WhatIf> {
    let mut out = WhatIf::default();
    let mut number: Option<Num> = None;
    let mut two = false;
    let mut foreign = false;
    for item in items
        .iter()
        .filter(|s| clause.from <= s.from && s.from < clause.to && !filed(s.from))
    {
        match &item.item {
            Item::Num(num) => {
                two |= number.is_some() && num.value > 10.0;
                number = number.or(Some(*num));
            }
            Item::Foreign => foreign = true,
            Item::Times => foreign |= exercise.is_none(),
            Item::Rest(seconds) | Item::Duration(seconds) => out.rest_s = Some(*seconds),
            Item::Effort(Effort::One(rir)) => out.rir = Rir::new(*rir).ok(),
            _ => {}
        }
    }
    if let Some(num) = number {
        let exercise = exercise.map(|id| catalogue.exercise(id));
        let basis = exercise.map_or_else(
            || file::written_basis(&num),
            |e| Some(file::basis(&num, e, &super::sets::Flags::default())),
        );
        let unit = num.unit.unwrap_or(unit);
        out.basis_named = basis.is_some();
        out.load = Mass::new(num.value, unit).ok().map(|mass| Load {
            mass,
            unit,
            basis: basis.unwrap_or(Basis::Total),
        });
    }
    let parts = usize::from(out.load.is_some())
        + usize::from(out.rest_s.is_some())
        + usize::from(out.rir.is_some())
        + usize::from(exercise.is_some())
        + usize::from(two);
    (parts >= 2 && !foreign).then_some(out)
}
