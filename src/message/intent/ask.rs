//! Questions to the bot: what to load, how long to rest, how much for a muscle, my week.
//!
//! A question is known by its key words, and counts only when every other word of its clause is
//! one that such questions are made of: `how long is the drive to the lake` is chatter.

mod about;

use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};

use crate::message::grammar::clause::{Bag, Clause, closed};
use crate::message::grammar::item::{Effort, Item, Num, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::grammar::sets;
use crate::message::reading::{About, Question, WhatIf, whole_reps};
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::{Roles, W};

pub(crate) use about::may_ask;

/// What a question may name.
struct Named {
    exercise: Option<ExerciseId>,
    muscles: Vec<MuscleId>,
    /// Tokens of names.
    spans: Vec<(usize, usize)>,
}

/// The first question of the message. `filed` says which tokens are already read as sets.
pub(crate) fn question(
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
        let named = names(scan, items, clause, catalogue);
        let known = |at: usize| {
            filed(at)
                || named.spans.iter().any(|s| s.0 <= at && at < s.1)
                || is_number(items, at)
                || sounds_it_out(scan, at)
        };
        let span = (clause.from, clause.to);
        if !closed(scan, span, Roles::ASK, false, known) {
            continue;
        }
        let of_clause = |s: &&Spanned| {
            clause.from <= s.from && s.from < clause.to && !sounds_it_out(scan, s.from)
        };
        let of_clause: Vec<&Spanned> = items.iter().filter(of_clause).collect();
        let what_if = what_if(&of_clause, catalogue, named.exercise, unit, &filed);
        let asked = about::Asked {
            bag: Bag::of(scan, clause.from, clause.to, &filed),
            asks: clause.end == Some(Mark::Question),
            exercise: named.exercise.is_some(),
            muscle: !named.muscles.is_empty() && named.exercise.is_none(),
            what_if: what_if.is_some(),
            number: of_clause
                .iter()
                .any(|s| matches!(s.item, Item::Num(num) if num.value > 10.0)),
            change: of_clause.iter().any(|s| matches!(s.item, Item::Num(_))),
            time: of_clause
                .iter()
                .any(|s| matches!(s.item, Item::Rest(_) | Item::Duration(_))),
            states: about::states(scan, clause),
            converts: about::converts(scan, clause),
        };
        if let Some(about) = about::about(&asked) {
            let question = Question {
                about,
                exercise: named.exercise,
                muscles: named.muscles,
                what_if: what_if.filter(|_| about == About::Load),
            };
            return Some((question, *clause));
        }
    }
    None
}

/// `2day`, `b4`: a number that stands for its sound.
fn sounds_it_out(scan: &Scan<'_>, at: usize) -> bool {
    let two = |at: usize| {
        scan.digits(at) == Some(2.0)
            && scan.glued(at + 1)
            && (scan.w(at + 1) == W::Day || scan.text_at(at + 1) == "nite")
    };
    let four = |at: usize| {
        scan.text_at(at) == "b" && scan.digits(at + 1) == Some(4.0) && scan.glued(at + 1)
    };
    let before = at.checked_sub(1);
    two(at) || four(at) || before.is_some_and(two) || before.is_some_and(four)
}

fn is_number(items: &[Spanned], at: usize) -> bool {
    item_at(items, at).is_some_and(|s| {
        matches!(
            s.item,
            Item::Num(_) | Item::Rest(_) | Item::Duration(_) | Item::Effort(_) | Item::Label
        )
    })
}

fn names(scan: &Scan<'_>, items: &[Spanned], clause: &Clause, catalogue: &Catalogue) -> Named {
    let mut named = Named {
        exercise: None,
        muscles: Vec::new(),
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
                if named.muscles.is_empty() {
                    let words: Vec<_> = (at..found.to).map(|at| scan.text_at(at)).collect();
                    named
                        .muscles
                        .extend(catalogue.muscles_named(&words.join(" ")));
                    if named.muscles.is_empty() {
                        named.muscles.push(found.id);
                    }
                }
                named.spans.push((at, found.to));
                at = found.to;
            }
            None => at += 1,
        }
    }
    named
}

/// `for 15`, `sets of 12`, `12 reps`: whether a number of a question is the repetitions wanted.
fn counts(num: &Num, before: Option<&Item>, behind: Option<&Item>) -> bool {
    let wanted = matches!(before, Some(Item::For | Item::Of)) || num.reps;
    let few = (1.0..=MOST_WANTED).contains(&num.value) && num.value.fract() == 0.0;
    few && !num.is_load() && (wanted || behind == Some(&Item::Reps))
}

/// More repetitions than this are a load. Common practice, no source.
const MOST_WANTED: f64 = 30.0;

/// A load, a rest, an effort or repetitions named in the clause.
fn what_if(
    items: &[&Spanned],
    catalogue: &Catalogue,
    exercise: Option<ExerciseId>,
    unit: Unit,
    filed: &impl Fn(usize) -> bool,
) -> Option<WhatIf> {
    let mut out = WhatIf::default();
    let mut number: Option<Num> = None;
    let mut two = false;
    let mut foreign = false;
    let of_clause: Vec<&&Spanned> = items.iter().filter(|s| !filed(s.from)).collect();
    for (at, item) in of_clause.iter().enumerate() {
        let beside = |at: Option<usize>| at.and_then(|at| of_clause.get(at)).map(|s| &s.item);
        let (before, behind) = (beside(at.checked_sub(1)), beside(Some(at + 1)));
        match &item.item {
            Item::Num(num) if counts(num, before, behind) => {
                out.reps = out.reps.or(whole_reps(num.value));
            }
            Item::Num(num) => {
                two |= number.is_some() && num.value > 10.0;
                number = number.or(Some(*num));
            }
            Item::Foreign => foreign = true,
            // `3x8 or 3x10 for curls` has no load in it.
            Item::Times => {
                foreign |= exercise.is_none() || number.is_some_and(|n| n.value <= 10.0);
            }
            Item::Rest(seconds) | Item::Duration(seconds) => out.rest_s = Some(*seconds),
            Item::Effort(Effort::One(rir)) => out.rir = Rir::new(*rir).ok(),
            _ => {}
        }
    }
    if let Some(num) = number {
        let exercise = exercise.map(|id| catalogue.exercise(id));
        let basis = exercise.map_or_else(
            || sets::written_basis(&num),
            |e| {
                Some(sets::basis(
                    &num,
                    e,
                    &crate::message::grammar::groups::Flags::default(),
                ))
            },
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
        + usize::from(out.reps.is_some() && exercise.is_some())
        + usize::from(exercise.is_some())
        + usize::from(two);
    (parts >= 2 && !foreign).then_some(out)
}
