//! Exercises done in turn, as pairs and supersets: whose turn it is, and how long to rest.
//!
//! The rest counts from the end of a round, when each had its set: within a round nothing rings. The next
//! round begins when the exercise that comes next is back, and not before the others will be when their
//! turn comes.

use chrono::{DateTime, Duration, Utc};

use super::work::Work;
use crate::bot::state::{LogEntry, is_work};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Decision, Trial, what_if};
use crate::domain::quantities::id::ExerciseId;
use crate::message::reading::Technique;

/// Exercises done in turn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Round {
    /// Each that has sets left, in the order of the plan, or in which they were begun.
    pub(crate) members: Vec<ExerciseId>,
    /// Whose turn it is.
    pub(crate) next: ExerciseId,
    /// Each had its set, so there is a rest before the next.
    pub(crate) is_closed: bool,
    /// When the last set ended.
    ended: DateTime<Utc>,
}

impl Round {
    pub(crate) fn holds(&self, exercise: ExerciseId) -> bool {
        self.members.contains(&exercise)
    }

    /// The one that comes before another in the order of the round.
    fn before(&self, exercise: ExerciseId) -> Option<ExerciseId> {
        let place = self.members.iter().position(|one| *one == exercise)?;
        let before = (place + self.members.len()).checked_sub(1)?;
        self.members.get(before % self.members.len()).copied()
    }
}

/// How long a set of another takes before the turn comes round, seconds: ten repetitions and the way.
/// Common practice, no source.
const TURN_S: i64 = 60;

/// Sets of a superset follow each other within this time, else another one begins. Common practice, no
/// source.
const ROUND_WITHIN: Duration = Duration::minutes(4);

/// Sets of supersets, in order, as rounds in which no exercise stands twice.
fn rounds_of(sets: &[&LogEntry]) -> Vec<Vec<ExerciseId>> {
    let mut rounds: Vec<Vec<ExerciseId>> = Vec::new();
    let mut before: Option<&LogEntry> = None;
    for filed in sets {
        let exercise = filed.set.exercise;
        let late = before.is_some_and(|before| filed.set.at - before.set.at > ROUND_WITHIN);
        // What was posted in one message belongs together, and nothing behind it does.
        let other_post =
            before.is_some_and(|before| before.place > 0 && before.message != filed.message);
        let known = rounds
            .len()
            .checked_sub(2)
            .and_then(|at| rounds.get(at))
            .cloned();
        let goes_on = |round: &Vec<ExerciseId>| {
            let joins = known.as_ref().is_none_or(|known| {
                known.contains(&exercise) || !round.iter().all(|one| known.contains(one))
            });
            !round.contains(&exercise) && !late && !other_post && joins
        };
        match rounds.last_mut().filter(|round| goes_on(round)) {
            Some(round) => round.push(exercise),
            None => rounds.push(vec![exercise]),
        }
        before = Some(filed);
    }
    rounds
}

impl Work<'_> {
    /// What is done in turn with the set posted last; `None` where that is done by itself.
    pub(crate) fn round(&self) -> Option<Round> {
        let last = self.session().last().filter(|last| is_work(last))?;
        let (current, ended) = (last.set.exercise, last.set.at);
        let counts = self
            .planned_turns(current)
            .or_else(|| self.posted_turns())?;
        let goes_on = |exercise: ExerciseId| {
            !self.is_held(exercise)
                && (self.run(exercise).is_empty()
                    || self.advise(exercise).decision != Decision::Finish)
        };
        let counts: Vec<(ExerciseId, u32)> = counts
            .into_iter()
            .filter(|(one, _)| goes_on(*one))
            .collect();
        if counts.len() < 2 {
            return None;
        }
        let fewest = counts.iter().map(|(_, done)| *done).min()?;
        // Who does several sets of one in a row does them by themselves, whatever the plan has.
        let in_a_row = counts
            .iter()
            .any(|(one, done)| *one == current && *done > fewest + 1);
        if in_a_row {
            return None;
        }
        let even = counts.iter().all(|(_, done)| *done == fewest);
        let since = |exercise: ExerciseId| self.run(exercise).last().map(|set| set.at);
        let due = counts.iter().filter(|(_, done)| *done == fewest);
        // In a new round the one goes first whose last set is longest ago.
        let next = match even {
            true => due.min_by_key(|(one, _)| since(*one)),
            false => due.into_iter().next(),
        };
        let next = next?.0;
        Some(Round {
            members: counts.into_iter().map(|(one, _)| one).collect(),
            next,
            is_closed: even || next == current,
            ended,
        })
    }

    /// The items of the plan's place that an exercise stands in, where there are several, with the sets
    /// done of each; those with none left are out.
    fn planned_turns(&self, current: ExerciseId) -> Option<Vec<(ExerciseId, u32)>> {
        let session = self.planned_session()?;
        let slots = session.slots().iter();
        let mut slots = slots.filter(|slot| slot.iter().any(|one| one.item.is_of(current)));
        let slot = slots.find(|slot| slot.len() > 1)?;
        let done = |one: &crate::domain::advice::session::Progress| {
            let mut done = self.session().iter().rev().map(|filed| filed.set.exercise);
            done.find(|exercise| one.item.is_of(*exercise))
                .unwrap_or(one.item.exercise)
        };
        let open = slot.iter().filter(|one| one.left() > 0);
        Some(open.map(|one| (done(one), one.done)).collect())
    }

    /// The exercises of the superset posted last, with their sets in it.
    fn posted_turns(&self) -> Option<Vec<(ExerciseId, u32)>> {
        let posted = self.session().iter().rev().filter(|filed| is_work(filed));
        let posted = posted.take_while(|filed| filed.technique == Some(Technique::Superset));
        let mut of_superset: Vec<&LogEntry> = posted.collect();
        of_superset.reverse();
        let rounds = rounds_of(&of_superset);
        let (last, before) = rounds.split_last()?;
        let begun = |round: &&Vec<ExerciseId>| last.iter().all(|one| round.contains(one));
        // A round that is under way has the members of the one before.
        let members = before.last().filter(begun).unwrap_or(last);
        let same = |round: &&Vec<ExerciseId>| round.iter().all(|one| members.contains(one));
        let own: Vec<&Vec<ExerciseId>> = rounds.iter().rev().take_while(same).collect();
        let count = |one: &ExerciseId| {
            let done = own.iter().filter(|round| round.contains(one)).count();
            (*one, u32::try_from(done).unwrap_or(u32::MAX))
        };
        (members.len() > 1).then(|| members.iter().map(count).collect())
    }

    /// The advice for the exercise whose turn it is, with its rest up to the next round.
    pub(crate) fn advise_turn(&self, round: &Round) -> Advice {
        let advice = self.advise(round.next);
        let Some(last) = self.run(round.next).last().map(|set| set.at) else {
            return advice;
        };
        let due = |advice: &Advice, last: DateTime<Utc>| {
            last + Duration::seconds(i64::from(advice.rest_s))
        };
        let mut go = due(&advice, last);
        for (turn, &other) in (1..).zip(round.members.iter().filter(|one| **one != round.next)) {
            if let Some(last) = self.run(other).last().map(|set| set.at) {
                go = go.max(due(&self.advise(other), last) - Duration::seconds(TURN_S * turn));
            }
        }
        let rest_s = u32::try_from((go - last).num_seconds()).unwrap_or(0);
        if rest_s <= advice.rest_s || advice.decision == Decision::Wait {
            return Advice { rest_s, ..advice };
        }
        let trial = Trial {
            load: advice.load,
            rest_s: Some(rest_s),
            rir: None,
        };
        let longer = self.ask(round.next, |ask| what_if(ask, &trial));
        Advice {
            rest_s,
            expect: longer.expect.or(advice.expect),
            ..advice
        }
    }

    /// Advice for an exercise: as its turn comes where it is done in turn with others.
    pub(crate) fn advise_in_turn(&self, exercise: ExerciseId) -> Advice {
        match self.round().filter(|round| round.next == exercise) {
            Some(round) if round.is_closed => self.advise_turn(&round),
            _ => self.advise(exercise),
        }
    }

    /// The exercise that was announced, else the one whose turn it is, else the one at hand.
    pub(crate) fn next_up(&self) -> Option<ExerciseId> {
        let follow_on = self.view.follow_on(self.view.recent, self.view.now);
        follow_on
            .named
            .or_else(|| self.round().map(|round| round.next))
            .or_else(|| self.at_hand())
    }

    /// Rings when the rest after this advice's exercise is over: for what is done in turn once, for the
    /// one that comes next, when the round is closed.
    pub(crate) fn set_bell_in_turn(&mut self, advice: &Advice, moved: u8) {
        match self.round().filter(|round| round.holds(advice.exercise)) {
            Some(round) if round.is_closed => {
                let next = self.advise_turn(&round);
                self.set_bell(&next, moved);
            }
            Some(_) => {}
            None => self.set_bell(advice, moved),
        }
    }

    /// When an exercise done in turn goes on, as its card says; `None` for one that is done by itself.
    pub(crate) fn when_in_turn(&self, exercise: ExerciseId) -> Option<String> {
        let round = self.round().filter(|round| round.holds(exercise))?;
        if exercise != round.next {
            let before = self.view.name_of(round.before(exercise)?);
            return Some(text::in_turn::after(before));
        }
        if !round.is_closed {
            return Some(text::in_turn::NOW.to_owned());
        }
        let (rest_s, elapsed_s) = self.rest_of(&round)?;
        Some(text::when(rest_s, elapsed_s))
    }

    /// Seconds of rest from the end of a round, and how many of them are over.
    fn rest_of(&self, round: &Round) -> Option<(u32, u32)> {
        let last = self.run(round.next).last().map(|set| set.at)?;
        let go = last + Duration::seconds(i64::from(self.advise_turn(round).rest_s));
        let seconds = |time: Duration| u32::try_from(time.num_seconds()).unwrap_or(0);
        Some((
            seconds(go - round.ended),
            seconds(self.view.now - round.ended),
        ))
    }

    /// Below the card of a set done in turn: what comes now, or how long to rest and what comes then.
    pub(crate) fn turn_line(&self, exercise: ExerciseId) -> Option<String> {
        let round = self.round().filter(|round| round.holds(exercise))?;
        if self.run(round.next).is_empty() || round.next == exercise {
            return None;
        }
        let name = self.view.name_of(round.next);
        let advice = self.advise_in_turn(round.next);
        if !round.is_closed {
            return Some(text::in_turn::go_on(name, &advice));
        }
        let (rest_s, elapsed_s) = self.rest_of(&round)?;
        Some(text::in_turn::rest(
            name,
            &advice,
            &text::when(rest_s, elapsed_s),
        ))
    }

    /// Shows the cards of the others done in turn anew: their rest counts from the same moment.
    pub(crate) fn show_others_in_turn(&mut self, shown: &[ExerciseId]) {
        let Some(round) = self.round() else { return };
        if !shown.iter().any(|one| round.holds(*one)) {
            return;
        }
        for other in round.members.iter().copied() {
            let name = self.view.name_of(other);
            let stands = self.view.card(name, &self.source.channel).is_some();
            if stands && !shown.contains(&other) {
                let advice = self.advise_in_turn(other);
                self.show(&advice, &[]);
            }
        }
    }
}
