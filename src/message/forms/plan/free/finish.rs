//! The end of a line: what holds for all its exercises, and each as an item of a plan.

use super::Misfit;
use super::assemble::{Assembled, Build, Draft};
use super::facts::{Amount, Load, Span};
use super::lex::{Kind, Token};
use super::numbers::{pair, whole};
use super::words::FILLERS;
use crate::domain::coaching::plan::{
    Amount as Planned, Item, Note, Percent, PlanError, PlannedLoad, RepRange, Seconds, Sets, Slot,
};
use crate::domain::quantities::catalogue::{Basis, Exercise};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::load::HEAVIEST;
use crate::domain::quantities::mass::Mass;
use crate::message::forms::plan::{FaultKind, is_beyond, is_held, may_be_share};
use crate::message::words::variants::has;

impl Build<'_> {
    /// `curls / pushdowns superset 3x12`: what is done in turn is no alternative.
    fn part_superset(&mut self) {
        let [item] = self.items.as_mut_slice() else {
            return;
        };
        if !self.in_turn || item.or.is_empty() {
            return;
        }
        let others = std::mem::take(&mut item.or);
        let item = item.clone();
        let others = others.into_iter().map(|id| Draft {
            exercise: Some(id),
            notes: Vec::new(),
            ..item.clone()
        });
        self.items.extend(others);
    }

    pub(super) fn finish(mut self) -> Result<Assembled, Misfit> {
        if self.items.is_empty() {
            return match self.faults.first() {
                Some(fault) => Err(fault.clone()),
                None => self.without_name(),
            };
        }
        self.part_superset();
        let several = self.items.len() > 1;
        let alone = self.counted_rounds.filter(|_| !several);
        let sets = self.rounds.or(self.shared.sets).or(alone);
        // `leg press and hack squat, sets of 8`: said behind the last of a list.
        for at in (1..self.items.len()).rev() {
            let Some([item, next]) = self.items.get_mut(at - 1..=at) else {
                continue;
            };
            let bare = item.sets.is_none() && item.amount.is_none() && item.notes.is_empty();
            if bare && self.shared.amount.is_none() {
                item.amount.clone_from(&next.amount);
                item.sets = next.sets;
                item.effort = item.effort.or(next.effort);
                item.rest = item.rest.or(next.rest);
                let share = next.load.filter(|load| matches!(load, Load::Share(..)));
                item.load = item.load.or(share);
                self.in_turn |= item.sets.is_none();
            }
        }
        let unset = self
            .items
            .iter()
            .all(|item| item.sets.is_none() && item.amount.is_some());
        let one_round = several && sets.is_none() && unset;
        for item in &mut self.items {
            let shared = self.shared.clone();
            if item.sets.is_none() {
                let list = match &item.amount {
                    Some(Amount::List(list)) => u32::try_from(list.len()).ok(),
                    _ => None,
                };
                let last_of_many = self.singles && item.amount.is_some();
                let single = one_round || last_of_many;
                item.sets = list.map(|count| pair(f64::from(count))).or(sets);
                item.sets = item.sets.or_else(|| single.then_some(pair(1.0)));
            }
            // `every 5 minutes for 5 rounds, 1 x 5`.
            if let (Some(rounds), Some(sets)) = (self.rounds, item.sets)
                && !several
                && sets == pair(1.0)
            {
                item.sets = Some(rounds);
            }
            let to_failure = item.effort == Some((0.0, 0.0)) && item.sets.is_some();
            item.amount = item.amount.take().or(shared.amount);
            item.amount = item
                .amount
                .take()
                .or_else(|| to_failure.then_some(Amount::Max));
            item.effort = item.effort.or(shared.effort).or(self.for_all);
            item.load = item.load.or(shared.load);
            item.rest = item.rest.or(shared.rest);
            item.side |= shared.side;
        }
        let in_turn = several && (self.in_turn || self.rounds.is_some() || one_round);
        let mut groups: Vec<Vec<Item>> = Vec::new();
        let mut faults = std::mem::take(&mut self.faults);
        for draft in &self.items {
            let reps = draft.amount.as_ref().and_then(Amount::fewest);
            faults.extend(draft.load.and_then(|load| self.open(load, reps)));
            let item = match self.item(draft) {
                Ok(item) => item,
                // `sit-up 2x20; back extension a few`: the one stands without the other.
                Err(misfit) if several && !in_turn && !draft.joined => {
                    faults.push(misfit);
                    continue;
                }
                Err(misfit) => return Err(misfit),
            };
            match groups.last_mut() {
                Some(group) if in_turn || draft.joined => group.push(item),
                _ => groups.push(vec![item]),
            }
        }
        let slots = groups.into_iter().map(|group| {
            Slot::in_turn(group).map_err(|error| (self.line.to_owned(), FaultKind::Numbers(error)))
        });
        let slots: Vec<Slot> = slots.collect::<Result<_, _>>()?;
        if let (true, Some(fault)) = (slots.is_empty(), faults.first()) {
            return Err(fault.clone());
        }
        let notes = self.notes;
        Ok(Assembled {
            slots,
            notes,
            faults,
        })
    }

    /// A line without an exercise: words to keep, or an exercise that is not known.
    pub(super) fn without_name(&self) -> Result<Assembled, Misfit> {
        let planned = self.shared.sets.is_some() || self.shared.amount.is_some();
        if !planned {
            let note = self.line.trim().to_owned();
            return Ok(Assembled {
                notes: vec![note],
                ..Assembled::default()
            });
        }
        let is_word = |token: &&Token| {
            token.kind == Kind::Word && token.text.len() > 1 && !has(FILLERS, token.text.as_str())
        };
        let first = self.tokens.iter().position(|token| is_word(&token));
        let Some(first) = first else {
            return Err((self.line.trim().to_owned(), FaultKind::NoExercise));
        };
        let run = self.tokens.get(first..).unwrap_or_default();
        let count = run
            .iter()
            .take_while(|token| {
                (token.kind == Kind::Word && !token.is("x"))
                    || (token.sign() == Some('-') && token.glued)
            })
            .count();
        Err(self.unknown(self.text(first, first + count.max(1)).to_owned()))
    }

    pub(super) fn item(&self, draft: &Draft) -> Result<Item, Misfit> {
        let told = || self.line.trim().to_owned();
        let Some(id) = draft.exercise else {
            return Err((told(), FaultKind::NoExercise));
        };
        let exercise = self.language.catalogue.exercise(id);
        let (Some(sets), Some(amount)) = (draft.sets, &draft.amount) else {
            return Err((told(), FaultKind::NoSets));
        };
        let numbers = |error: PlanError| (told(), FaultKind::Numbers(error));
        let number = |value: f64| whole(value).ok_or_else(|| (told(), FaultKind::NoSets));
        let sets = Sets::range(number(sets.0)?, number(sets.1)?).map_err(numbers)?;
        let mut side = draft.side;
        let amount = match amount {
            // `plank 3x60`: held, so seconds.
            Amount::Reps((low, high)) if is_held(&exercise.name, *low) => {
                let time = Seconds::held(number(*low)?, number(*high)?);
                Planned::Time(time.map_err(numbers)?)
            }
            Amount::Reps((low, high)) => {
                let range = RepRange::new(number(*low)?, number(*high)?);
                Planned::Reps(range.map_err(numbers)?)
            }
            Amount::List(list) => Planned::by_set(list.clone()).map_err(numbers)?,
            Amount::Time((low, high)) => {
                let time = Seconds::held(number(low.round())?, number(high.round())?);
                Planned::Time(time.map_err(numbers)?)
            }
            Amount::Max => Planned::Max,
        };
        if matches!(&amount, Planned::BySet(list) if u32::try_from(list.len()) != Ok(sets.count()))
        {
            return Err((told(), FaultKind::Twice));
        }
        side &= exercise.basis != Basis::Assisted;
        let rest = draft.rest.map(|(low, high)| {
            Seconds::rest(number(low.round())?, number(high.round())?).map_err(numbers)
        });
        // `8x60` of a barbell is eight at 60 as likely as eight sets of sixty.
        if is_beyond(&amount, exercise) {
            return Err((told(), FaultKind::NoSets));
        }
        let reps = draft.amount.as_ref().and_then(Amount::fewest);
        let load = draft.load.filter(|load| self.open(*load, reps).is_none());
        let load = load.map(|load| self.load(load, draft.hand, exercise));
        Ok(Item {
            or: draft.or.clone(),
            rir: draft.effort.and_then(in_reserve),
            load: load.transpose()?,
            rest: rest.transpose()?,
            per_side: side,
            note: Note::new(&draft.notes.join(", ")),
            ..Item::new(id, sets, amount)
        })
    }

    /// What is asked about a load that may as well be percent; the exercise stands without it.
    fn open(&self, load: Load, reps: Option<u32>) -> Option<Misfit> {
        match load {
            Load::Open {
                amount,
                at: (from, to),
            } if may_be_share(amount, reps) => {
                Some((self.text(from, to).to_owned(), FaultKind::LoadOrShare))
            }
            _ => None,
        }
    }

    pub(super) fn load(
        &self,
        load: Load,
        hand: bool,
        exercise: &Exercise,
    ) -> Result<PlannedLoad, Misfit> {
        let wrong = || (self.line.trim().to_owned(), FaultKind::Load);
        let percent = |value: f64| Percent::new(value).map_err(|_| wrong());
        Ok(match load {
            Load::Open { amount, .. } => {
                let (unit, basis) = (None, None);
                let load = Load::Mass {
                    amount,
                    unit,
                    basis,
                };
                self.load(load, hand, exercise)?
            }
            Load::Body => {
                let body = crate::domain::quantities::load::Load::body(self.language.unit);
                PlannedLoad::Fixed(match exercise.basis {
                    Basis::Body => body,
                    _ => return Err(wrong()),
                })
            }
            Load::Share((low, high), of) => PlannedLoad::Share {
                low: percent(low)?,
                high: percent(high)?,
                of,
            },
            Load::TopSet(share) => PlannedLoad::OfTopSet(percent(share)?),
            Load::Mass {
                amount,
                unit,
                basis,
            } => {
                let basis = match (basis, exercise.basis) {
                    _ if hand => Basis::PerHand,
                    (Some(said @ (Basis::PerHand | Basis::Total)), _) => said,
                    (said, Basis::Body) => said.unwrap_or(Basis::Added),
                    (Some(_), _) => return Err(wrong()),
                    (None, own) => own,
                };
                let unit = unit.unwrap_or(self.language.unit);
                let mass =
                    Mass::new((amount * 100.0).round() / 100.0, unit).map_err(|_| wrong())?;
                if mass <= Mass::ZERO || mass > HEAVIEST {
                    return Err(wrong());
                }
                PlannedLoad::Fixed(crate::domain::quantities::load::Load { mass, unit, basis })
            }
        })
    }
}

/// The middle of a span of repetitions in reserve, where a plan can ask for it.
pub(super) fn in_reserve((low, high): Span) -> Option<Rir> {
    let halves = |value: f64| (value * 2.0).fract().abs() < 1e-9;
    let middle = (f64::midpoint(low, high) * 2.0).round() / 2.0;
    let sound = low >= 0.0 && high <= 10.0 && halves(low) && halves(high);
    Rir::new(middle).ok().filter(|_| sound)
}
