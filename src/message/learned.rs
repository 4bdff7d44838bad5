//! Sets of one exercise in words that the grammar leaves open or knows nothing of, by the learned reading of what each
//! number is ([`CarryOn`]): `Bench. 80. 6.`, `dips 12 of them`, `deadlift 120 kilo, 3 times`.
//!
//! [`CarryOn`]: super::intent::carry_on::CarryOn

use super::Context;
use super::grammar::item::{Effort, Item, Spanned};
use super::grammar::scan::Scan;
use super::grammar::sets;
use super::grammar::{aside, phrases};
use super::intent::carry_on::{self, Before, Done, Step, Told};
use super::reader::Reader;
use super::reading::{Draft, DraftLoad, Kind, Need, Reading, SetReading, Unclear};
use super::words::token::{self, tokenize};
use super::words::vocabulary::Roles;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::rack::usual_bar;

/// Readings as sure as this are logged. Chosen on held-out authors.
const SURE: f32 = 0.75;

/// The same where the grammar offers two readings, and where it reads several sets.
const SURER: f32 = 0.9;
const SUREST: f32 = 0.95;

/// More repetitions with a load are rare. Common practice, no source.
const MOST_REPS: f64 = 30.0;

/// The message must be as likely a report of the writer's own sets.
const A_REPORT: f32 = 0.5;

impl Reader {
    /// The sets that `text` most likely tells of the one exercise that it names, where `read`, the grammar's reading,
    /// holds none, or makes several sets of what is most likely one.
    pub(super) fn read_learned(
        &self,
        text: &str,
        read: &Reading,
        context: &Context<'_>,
    ) -> Option<Reading> {
        let exercise = self.only_named(text)?;
        let last = context.last.map(|last| last.exercise);
        if text.contains(['\n', '"', '“']) || last == Some(exercise) || context.pending.is_some()
        {
            return None;
        }
        let least = match (read.kind(), &read.unclear) {
            (Kind::Chatter, _) if !text.contains('?') && read.ended_by.is_none() => SURE,
            (Kind::Sets, _) if may_be_otherwise(&read.sets, exercise) => SUREST,
            (Kind::Unclear, Some(unclear)) if is_of(unclear, exercise) => {
                match unclear.needs.contains(&Need::WhichReading) {
                    true => SURER,
                    false => SURE,
                }
            }
            _ => return None,
        };
        let tokens = tokenize(text, self.names().vocabulary());
        let scan = Scan::new(&tokens, self.names());
        let said = phrases::items(&scan);
        let items = aside::settle(&scan, &said).unwrap_or(said);
        let has = |is: fn(&Item) -> bool| items.iter().any(|one| is(&one.item));
        let counts_sets = has(|item| matches!(item, Item::Sets | Item::More));
        // Numbers that are all set aside are of another day, or still to come.
        let set_aside = read.kind() == Kind::Chatter && !has(|item| matches!(item, Item::Num(_)));
        if counts_sets || set_aside || self.may_change_name(&scan, &items) {
            return None;
        }
        let lift = self.catalogue().exercise(exercise);
        if lift.timed {
            return None;
        }
        let basis = lift.basis;
        let before = Before {
            named: true,
            basis: carry_on::Basis::usual(basis),
            bar: usual_bar(context.unit),
            ..Before::default()
        };
        let told = self
            .carry_on(text, &before)
            .filter(|told| told.sure >= least)?;
        let Told::Sets(sets) = told.told else {
            return None;
        };
        let Done::Counted(list) = sets.done else {
            return None;
        };
        let fits = match read.kind() {
            Kind::Sets => !is_bare(&items) && is_put_together_otherwise(&list, &read.sets, &items),
            _ => match (is_bare(&items), is_joined(&items)) {
                (true, joined) => tells_load(&list) && !joined,
                (false, joined) => tells_load(&list) || !joined,
            },
        };
        let fits = fits && is_explained(&list, sets.rir, &items) && keeps_effort(sets.rir, &items);
        if !fits || self.reports(&scan, &items) < A_REPORT {
            return None;
        }
        let draft = draft(exercise, &items);
        let mut done: Vec<SetReading> = (list.iter())
            .map(|(step, reps)| {
                let whole = Draft {
                    load: Some(load(*step, basis, context.unit, &items)?),
                    reps: Some(*reps),
                    ..draft
                };
                sets::complete_set(&whole, self.catalogue())
            })
            .collect::<Option<_>>()?;
        done.last_mut()?.rir = sets.rir.and_then(|rir| Rir::new(rir).ok());
        if let Some(unclear) = &read.unclear
            && unclear.needs.contains(&Need::WhichReading)
            && !unclear.readings.iter().any(|one| goes_on(one, &done))
        {
            return None;
        }
        Some(Reading {
            sets: done,
            unclear: None,
            sure: Some(f64::from(told.sure)),
            ..read.clone()
        })
    }

    /// Whether a word beside the name may make it another movement's: one of which nothing is known before it, and, where
    /// the grammar would know the numbers, any that says something or stands behind it.
    fn may_change_name(&self, scan: &Scan<'_>, items: &[Spanned]) -> bool {
        let joined = is_joined(items);
        let is_word = |at: &usize| {
            let token = scan.tokens.get(*at);
            token.is_some_and(|token| token.kind == token::Kind::Word)
        };
        let says = |at: usize| {
            let filling = scan.tokens[at].word.roles.any(Roles::FILL);
            !filling && (joined || !self.knows(scan.text_at(at)))
        };
        let name = items.iter().find(|one| matches!(one.item, Item::Name(_)));
        name.is_some_and(|name| {
            let before = name.from.checked_sub(1).filter(is_word);
            before.is_some_and(says) || joined && is_word(&name.to)
        })
    }
}

/// Whether sets of `exercise` are several unlike ones, or one with more repetitions than load: most are not, and need no
/// second look.
fn may_be_otherwise(sets: &[SetReading], exercise: ExerciseId) -> bool {
    let counted = |set: &SetReading| {
        set.exercise == exercise && set.seconds.is_none() && set.hung_a_side.is_none()
    };
    let unlike = match sets {
        [one] => one.load.mass.amount(one.load.unit) < f64::from(one.reps),
        several => are_unlike(several),
    };
    unlike && sets.iter().all(counted)
}

/// Whether some of these sets have another load or other repetitions than the first.
fn are_unlike(sets: &[SetReading]) -> bool {
    let first = sets.first().map(|set| (set.load, set.reps));
    sets.iter().any(|set| Some((set.load, set.reps)) != first)
}

/// Whether one set is most likely what the grammar reads as several, or with its load for its repetitions.
fn is_put_together_otherwise(list: &[(Step, u32)], read: &[SetReading], items: &[Spanned]) -> bool {
    match (list, read) {
        ([(Step::To(load, _), reps)], [one]) if !is_joined(items) => {
            let was = one.load.mass.amount(one.load.unit);
            near(was, f64::from(*reps)) && near(*load, f64::from(one.reps))
        }
        ([_], several) => are_unlike(several),
        _ => false,
    }
}

/// Whether `done` begins with the loads and repetitions that are offered.
fn goes_on(offered: &[SetReading], done: &[SetReading]) -> bool {
    let what = |set: &SetReading| (set.load, set.reps);
    let first = done.iter().take(offered.len());
    offered.iter().map(what).eq(first.map(what))
}

/// Whether no more is open than what the numbers of sets of `exercise` are.
fn is_of(unclear: &Unclear, exercise: ExerciseId) -> bool {
    let of_numbers = |need: &Need| matches!(need, Need::WhichReading | Need::Reps | Need::Load);
    let drafts = unclear.drafts.iter().filter_map(|draft| draft.exercise);
    let read = unclear.readings.iter().flatten().map(|set| set.exercise);
    unclear.needs.iter().all(of_numbers) && drafts.chain(read).all(|of| of == exercise)
}

/// Whether nothing is said but a name, numbers and what joins them.
fn is_bare(items: &[Spanned]) -> bool {
    let is_word = |one: &Spanned| {
        matches!(
            one.item,
            Item::Word
                | Item::Foreign
                | Item::Reps
                | Item::Side
                | Item::Warm
                | Item::With
                | Item::For
        )
    };
    !items.iter().any(is_word)
}

/// Whether numbers are joined by a mark of the trade: those the grammar knows how to read.
fn is_joined(items: &[Spanned]) -> bool {
    let is_mark = |one: &Spanned| matches!(one.item, Item::Times | Item::At | Item::Dash(_));
    items.iter().any(is_mark)
}

/// Whether two numbers are the same, but for rounding.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Whether there is no number more than sets and what was left at their end account for.
fn is_explained(list: &[(Step, u32)], rir: Option<f64>, items: &[Spanned]) -> bool {
    let is_number = |one: &&Spanned| matches!(one.item, Item::Num(_));
    let is_left = |one: &Spanned| match (&one.item, rir) {
        (Item::Num(num), Some(rir)) => near(num.value, rir) || near(num.value, 10.0 - rir),
        _ => false,
    };
    let is_range = items.iter().any(|one| matches!(one.item, Item::Dash(_)));
    let mut loads: Vec<Step> = Vec::new();
    for (step, _) in list {
        if !matches!(step, Step::Same | Step::Body) && !loads.contains(step) {
            loads.push(*step);
        }
    }
    let told = list.len() + loads.len() + usize::from(items.iter().any(is_left));
    !is_range && items.iter().filter(is_number).count() <= told
}

/// Whether a reserve that the grammar knows is none of the numbers of the sets: `bench 80, 2 left`.
fn keeps_effort(rir: Option<f64>, items: &[Spanned]) -> bool {
    items.iter().all(|one| match one.item {
        Item::Effort(Effort::One(left)) => rir.is_some_and(|rir| near(rir, left)),
        _ => true,
    })
}

/// Whether the numbers of a set by themselves tell which is its load: no repetitions are so many.
fn tells_load(list: &[(Step, u32)]) -> bool {
    matches!(list, [(Step::To(load, _), reps)] if *load > MOST_REPS && f64::from(*reps) < *load)
}

/// What is said beside the numbers.
fn draft(exercise: ExerciseId, items: &[Spanned]) -> Draft {
    let mut draft = Draft {
        exercise: Some(exercise),
        ..Draft::default()
    };
    for spanned in items {
        match spanned.item {
            Item::Side => draft.per_side = true,
            Item::Warm => draft.warm_up = true,
            Item::Rest(seconds) => draft.rest_s = Some(seconds),
            Item::Day(day) => draft.day = Some(day),
            Item::Technique(technique) => draft.technique = Some(technique),
            _ => {}
        }
    }
    draft
}

/// The load that a step names.
fn load(step: Step, usual: Basis, unit: Unit, items: &[Spanned]) -> Option<DraftLoad> {
    let (amount, named, basis) = match step {
        Step::To(amount, unit) => (amount, unit, None),
        Step::By(by, unit) if by < 0.0 => (-by, unit, Some(Basis::Assisted)),
        Step::By(by, unit) => (by, unit, Some(Basis::Added)),
        Step::Same | Step::Body if usual == Basis::Body => (0.0, None, Some(Basis::Body)),
        Step::Same | Step::Body | Step::Sides(..) | Step::Steps(_) | Step::Back => return None,
    };
    let is_hands = |item: &Item| match item {
        Item::PerHand => true,
        Item::Num(num) => num.per_hand && near(num.value, amount),
        _ => false,
    };
    let per_hand = items.iter().any(|one| is_hands(&one.item));
    Some(DraftLoad {
        amount,
        unit: named.unwrap_or(unit),
        basis: basis.or(per_hand.then_some(Basis::PerHand)),
    })
}
