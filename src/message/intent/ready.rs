//! Readiness: the four go-checks as lifters speak of them.
//!
//! As with questions, every word of the message outside its sets must be one that such messages
//! are made of. Tired or sore muscles told as news are chatter.

use crate::domain::quantities::catalogue::{Catalogue, MuscleRole};
use crate::domain::quantities::id::{ExerciseId, MuscleId};

use crate::message::grammar::clause::{Bag, Clause, closed, is_remark};
use crate::message::grammar::scan::Scan;
use crate::message::reading::Readiness;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// What the message says about being ready. `exercise` is the one it is about, where known;
/// `filed` says which tokens are already read as sets or as something else.
pub(crate) fn readiness(
    scan: &Scan<'_>,
    clauses: &[Clause],
    catalogue: &Catalogue,
    exercise: Option<ExerciseId>,
    alone: bool,
    filed: impl Fn(usize) -> bool,
) -> Option<Readiness> {
    let mut out = Readiness::default();
    let mut plain = false;
    for (place, clause) in clauses.iter().enumerate() {
        if (clause.from..clause.to).all(&filed) {
            continue;
        }
        let muscles = muscles(scan, clause);
        let known = |at: usize| filed(at) || muscles.iter().any(|m| m.from <= at && at < m.to);
        let to = before_simile(scan, clause);
        let fits = closed(scan, (clause.from, to), Roles::FIT, false, known);
        let harmless = closed(
            scan,
            (clause.from, to),
            Roles::FIT.with(Roles::FILL),
            false,
            known,
        );
        let asks = clause.end == Some(Mark::Question);
        if !fits || asks {
            if alone && (asks || !harmless) {
                let remark = is_plain_word(&out, plain)
                    && is_remark(scan, clauses.get(place..).unwrap_or_default());
                return remark.then(|| finish(out, plain)).flatten();
            }
            continue;
        }
        for part in parts(scan, clause.from, to) {
            plain |= read_part(scan, part, &muscles, catalogue, exercise, &filed, &mut out);
        }
    }
    finish(out, plain)
}

/// Words that nobody says as news: a remark may follow them. `quads fried, lovely evening` is news.
fn is_plain_word(said: &Readiness, plain: bool) -> bool {
    plain || said.muscle.is_none() && said.helpers.is_none() && *said != Readiness::default()
}

/// A plain `ready` sets all four, but for what else was said.
fn finish(said: Readiness, plain: bool) -> Option<Readiness> {
    if plain {
        return Some(Readiness {
            muscle: said.muscle.or(Some(true)),
            helpers: said.helpers.or(Some(true)),
            breath: said.breath.or(Some(true)),
            drive: said.drive.or(Some(true)),
        });
    }
    (said != Readiness::default()).then_some(said)
}

/// `puffing like a steam train`: a simile says nothing more.
fn before_simile(scan: &Scan<'_>, clause: &Clause) -> usize {
    (clause.from + 1..clause.to)
        .find(|&at| scan.w(at) == W::Like && scan.w(at + 1) == W::A)
        .unwrap_or(clause.to)
}

/// Parts of a clause around `and`.
fn parts(scan: &Scan<'_>, from: usize, to: usize) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut start = from;
    for at in from..to {
        if scan.w(at) == W::And || scan.is(at, Mark::And) || scan.is(at, Mark::Plus) {
            out.push((start, at));
            start = at + 1;
        }
    }
    out.push((start, to));
    out
}

struct Muscle {
    id: MuscleId,
    from: usize,
    to: usize,
}

fn muscles(scan: &Scan<'_>, clause: &Clause) -> Vec<Muscle> {
    let mut out = Vec::new();
    let mut at = clause.from;
    while at < clause.to {
        match muscle_at(scan, clause, at) {
            Some((id, to)) => {
                out.push(Muscle { id, from: at, to });
                at = to;
            }
            None => at += 1,
        }
    }
    out
}

/// The muscle named at `at`, with the token after it. `back` by itself is the adverb unless it is
/// spoken of as a muscle.
pub(crate) fn muscle_at(scan: &Scan<'_>, clause: &Clause, at: usize) -> Option<(MuscleId, usize)> {
    let found = scan.names.muscle_at(scan.tokens, at)?;
    let adverb = scan.w(at) == W::Back && found.to == at + 1 && !back_is_muscle(scan, clause, at);
    (!adverb).then_some((found.id, found.to))
}

fn back_is_muscle(scan: &Scan<'_>, clause: &Clause, at: usize) -> bool {
    let led = at > clause.from && matches!(scan.w(at - 1), W::My | W::The);
    let first = at == clause.from
        && at + 1 < clause.to
        && !matches!(scan.w(at + 1), W::At | W::In | W::To | W::On | W::Up);
    led || first
}

/// Reads one part into `out`; returns whether it is a plain `ready`.
fn read_part(
    scan: &Scan<'_>,
    (from, to): (usize, usize),
    muscles: &[Muscle],
    catalogue: &Catalogue,
    exercise: Option<ExerciseId>,
    filed: &impl Fn(usize) -> bool,
    out: &mut Readiness,
) -> bool {
    let bag = Bag::of(scan, from, to, |at| {
        filed(at) || muscles.iter().any(|m| m.from <= at && at < m.to)
    });
    let roles = |role: Roles| {
        (from..to).any(|at| {
            scan.token(at)
                .is_some_and(|t| t.word.roles.any(role) && !filed(at))
        })
    };
    let state = State {
        not: bag.any(&[W::Not, W::No, W::Nearly, W::Cant, W::Elsewhere]) || bag.any(&[W::Unkeen]),
        spent: roles(Roles::SPENT),
        well: roles(Roles::WELL) || bag.any(&[W::Back, W::There, W::Ready]),
        news: bag.any(&[W::From, W::Sore, W::Yesterday, W::Last, W::Weekday, W::Ago]),
    };
    if state.news {
        return false;
    }
    let named: Vec<_> = muscles
        .iter()
        .filter(|m| from <= m.from && m.from < to)
        .collect();
    let legs = (from..to).any(|at| scan.w(at) == W::Limb && !filed(at));
    if let Some(fit) = breath(scan, (from, to), &bag, &state) {
        out.breath = Some(fit);
        return false;
    }
    if !named.is_empty() || legs {
        // Dead legs are news; any other muscle that is spent is about the set to come.
        if legs && named.is_empty() && bag.has(W::Dead) {
            return false;
        }
        if let Some(fit) = muscle_state(&bag, &state) {
            for muscle in named {
                set_muscle(catalogue, exercise, muscle.id, fit, out);
            }
            if legs {
                out.muscle = Some(fit);
            }
        }
        return false;
    }
    if let Some(fit) = drive(&bag, &state) {
        out.drive = Some(fit);
        return false;
    }
    plain_ready(scan, (from, to), &bag, &state, out)
}

struct State {
    not: bool,
    spent: bool,
    well: bool,
    news: bool,
}

fn breath(scan: &Scan<'_>, (from, to): (usize, usize), bag: &Bag, state: &State) -> Option<bool> {
    let text = |word: &str| (from..to).any(|at| scan.text_at(at) == word);
    if bag.any(&[W::Blow, W::Breathless, W::Gassed]) {
        return Some(state.not && !bag.has(W::Still));
    }
    if bag.has(W::Breath) {
        if state.not && bag.all(&[W::Out, W::Of]) && !bag.has(W::Still) {
            return Some(true);
        }
        let bad = bag.all(&[W::Out, W::Of])
            || bag.any(&[
                W::Heavy,
                W::Hard,
                W::No,
                W::Not,
                W::Nearly,
                W::Short,
                W::Cant,
            ])
            || text("catching")
            || text("catch")
            || text("hard")
            || text("heavily");
        let good = state.well || bag.any(&[W::Catch, W::Got, W::Good]);
        return if bad {
            Some(false)
        } else {
            good.then_some(true)
        };
    }
    if bag.has(W::Lung) {
        let bad = state.spent
            || state.not
            || text("burning")
            || text("burn")
            || text("fire")
            || text("sucking");
        return if bad {
            Some(false)
        } else {
            state.well.then_some(true)
        };
    }
    if bag.has(W::Heart) {
        let bad = text("racing")
            || text("pounding")
            || text("hammering")
            || text("high")
            || text("thumping")
            || bag.all(&[W::Still, W::Up]);
        return if bad {
            Some(false)
        } else {
            (state.well || bag.has(W::Down)).then_some(!state.not)
        };
    }
    None
}

fn muscle_state(bag: &Bag, state: &State) -> Option<bool> {
    if state.not && (state.well || bag.any(&[W::There, W::Yet, W::Ready])) {
        return Some(false);
    }
    if state.spent
        || bag.any(&[W::Giving, W::Recovering, W::Fire])
        || bag.all(&[W::Gave, W::Out])
        || bag.any(&[W::Need, W::Still])
    {
        return Some(state.not && state.spent);
    }
    (state.well && !state.not).then_some(true)
}

fn set_muscle(
    catalogue: &Catalogue,
    exercise: Option<ExerciseId>,
    muscle: MuscleId,
    fit: bool,
    out: &mut Readiness,
) {
    let helper = match exercise.map(|id| catalogue.exercise(id)) {
        Some(exercise)
            if exercise
                .target
                .is_some_and(|target| same_words(catalogue, target, muscle)) =>
        {
            false
        }
        Some(exercise)
            if exercise
                .helpers
                .iter()
                .any(|h| same_words(catalogue, *h, muscle)) =>
        {
            true
        }
        _ => catalogue.muscle(muscle).role == MuscleRole::Helper,
    };
    let slot = if helper {
        &mut out.helpers
    } else {
        &mut out.muscle
    };
    // One that is not ready outweighs one that is.
    *slot = Some(slot.unwrap_or(true) && fit);
}

/// `shoulders` stands with all three heads: any of them may be meant.
pub(crate) fn same_words(catalogue: &Catalogue, of_exercise: MuscleId, said: MuscleId) -> bool {
    if of_exercise == said {
        return true;
    }
    let (a, b) = (catalogue.muscle(of_exercise), catalogue.muscle(said));
    a.name.ends_with("delts") && b.name.ends_with("delts")
}

fn drive(bag: &Bag, state: &State) -> Option<bool> {
    if bag.has(W::Unkeen) {
        return Some(false);
    }
    if bag.has(W::Keen) {
        return Some(!state.not);
    }
    if bag.has(W::Head) {
        if state.not || state.spent || bag.any(&[W::Gone]) {
            return Some(false);
        }
        return (state.well || bag.all(&[W::In, W::It])).then_some(true);
    }
    let feeling = bag.has(W::Feel) && bag.any(&[W::It, W::Strong]);
    let up_for = bag.all(&[W::Up, W::For, W::It]);
    ((feeling || up_for) && state.not)
        .then_some(false)
        .or_else(|| (up_for && !state.not).then_some(true))
}

/// `ready`, `good to go`, `recovered`; `not ready` alone is the drive.
fn plain_ready(
    scan: &Scan<'_>,
    (from, to): (usize, usize),
    bag: &Bag,
    state: &State,
    out: &mut Readiness,
) -> bool {
    // `im good lets roll`
    let lets = bag.all(&[W::I, W::Good]) && (from..to).any(|at| scan.text_at(at) == "lets");
    let go = (from..to)
        .any(|at| scan.w(at) == W::Good && scan.w(at + 1) == W::To && scan.w(at + 2) == W::Go);
    let set =
        (from..to).any(|at| scan.w(at) == W::All && scan.w(at + 1) == W::Sets) && to - from <= 3;
    let told = bag.has(W::Get) && !bag.has(W::I);
    if told || !(bag.has(W::Ready) || go || set || lets) {
        return false;
    }
    if (from..to).any(|at| scan.token(at).is_some_and(|t| t.kind == Kind::Number)) {
        return false;
    }
    if state.not {
        out.drive = Some(false);
        return false;
    }
    true
}
